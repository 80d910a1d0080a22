"""New records of litters and clutches, and what came of those that are recorded."""

from collections.abc import Mapping, Sequence

from sitegen.findings import WrongUse
from sitegen.keeper import editing
from sitegen.keeper.animals import orders_of_young, split
from sitegen.keeper.desk import Change, Desk, new_file
from sitegen.keeper.modelines import modeline
from sitegen.keeper.naming import free_id, id_of, numbered
from sitegen.keeper.spelling import Value, lines
from sitegen.keeper.targets import Target, find_litter, find_target, litter_file
from sitegen.keeper.usual import LITTER

_MOST_YOUNG = 200


def add_litter(
    desk: Desk, dam: str, sires: Sequence[str], noted: Mapping[str, str], n_young: int = 0, said_id: str = ""
) -> Change:
    """A litter or clutch, with numbered young that are still to be described.

    Args:
        desk: The records as they stand.
        dam: Its mother; may be empty when a sire is named.
        sires: Its father, or the possible ones.
        noted: Further lines by name: name, species, paired, laid, expected, born, eggs, infertile, stillborn.
        n_young: How many young are listed, with nothing said of them yet.
        said_id: Its folder; made of the year and the parents if empty.

    Raises:
        WrongUse: No such parent, or the folder stands there.
    """
    parents = [find_target(desk, each) for each in split(sires)]
    mother = find_target(desk, dam) if dam.strip() else None
    if mother is None and not parents:
        raise WrongUse("a litter needs a dam or a sire: sitegen add litter --dam juniper --sire flint")
    _check_number(n_young)
    entries: dict[str, Value] = {key: value.strip() for key, value in noted.items() if value.strip()}
    if mother:
        entries["dam"] = mother.shown
    if parents:
        entries["sire"] = parents[0].shown if len(parents) == 1 else [sire.shown for sire in parents]
    litter = free_id(desk, "litters", _usual_id(desk, noted, mother, parents), said_id)
    path = f"litters/{litter}/litter.yaml"
    written = lines((key, entries[key]) for key in sorted(entries, key=LITTER.index))
    if n_young:
        written += ["young:", *(f'  "{number:02d}":' for number in range(1, n_young + 1))]
    text = "\n".join([*modeline(desk.root, path, "litter"), *written]) + "\n"
    return Change((new_file(path, text),), f"The litter stands in litters/{litter} now.")


def add_outcome(desk: Desk, litter_named: str, noted: Mapping[str, str], n_young: int = 0) -> Change:
    """What came of a pairing since it was recorded: eggs laid, young born. Nothing that stands there is changed.

    Args:
        desk: The records as they stand.
        litter_named: Which litter.
        noted: Lines by name: laid, expected, born, eggs, infertile, stillborn; empty ones are passed over.
        n_young: How many young there are: so many are listed afterwards, the new ones with nothing said of them yet.

    Raises:
        WrongUse: No such litter, something said stands there already with another value, or more young are listed.
        ContentError, CannotEdit: The record cannot be changed.
    """
    litter = find_litter(desk, litter_named)
    path = litter_file(desk, litter)
    text = before = desk.text(path)
    held = editing.plain(text) or {}
    for key, value in noted.items():
        said = value.strip()
        if said and held.get(key) not in (None, said):
            raise WrongUse(f"{litter} has {key}: {held[key]} already; correct it in {path}")
        if said:
            text = editing.put(text, (key,), said, (editing.like(LITTER),))
    for number in _unlisted(litter, list(held.get("young") or ()), n_young):
        text = editing.put(text, ("young", number), None, orders_of_young())
    if text == before:
        return Change((), f"{litter}: all that stands there already.")
    return Change((desk.changed(path, text),), f"What came of {litter} is noted now.")


def _unlisted(litter: str, listed: Sequence[str], n_young: int) -> list[str]:
    """The numbers that are to be listed beside those that are, so that there are so many."""
    _check_number(n_young)
    if n_young and len(listed) > n_young:
        raise WrongUse(f"{litter} lists {len(listed)} young already; {n_young} are fewer")
    width = max((len(number) for number in listed if number.isdigit()), default=2)
    taken = {int(number) for number in listed if number.isdigit()}
    free = (number for number in range(1, 2 * _MOST_YOUNG) if number not in taken)
    return [str(number).zfill(width) for number, _ in zip(free, range(n_young - len(listed)), strict=False)]


def _check_number(n_young: int) -> None:
    if n_young > _MOST_YOUNG:
        raise WrongUse(f"{n_young} young are more than any litter has; at most {_MOST_YOUNG}")


def _usual_id(desk: Desk, noted: Mapping[str, str], dam: Target | None, sires: Sequence[Target]) -> str:
    """The year and the parents: ``2026-juniper-flint``, numbered when there is such a litter."""
    days = (noted.get(key, "") for key in ("born", "laid", "expected", "paired"))
    year = next((day[:4] for day in days if day.strip()), "")
    shown = [id_of(dam.shown)] if dam else []
    if sires:
        shown.append("-or-".join(id_of(sire.shown) for sire in sires))
    base = "-".join([*([year] if year else []), *shown])
    return id_of(numbered(base, (_with_blank(name, base) for name in desk.forms.litters)))


def _with_blank(name: str, base: str) -> str:
    """A litter's id as ``numbered`` would write it: ``base-2`` as ``base 2``."""
    rest = name.removeprefix(f"{base}-")
    return f"{base} {rest}" if rest != name and rest.isdigit() else name
