"""New records of animals and of young in a litter's record."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from sitegen.content.gene_names import SAW_NONE
from sitegen.content.references import same
from sitegen.findings import WrongUse, nearest
from sitegen.keeper import editing
from sitegen.keeper.desk import Change, Desk, new_file
from sitegen.keeper.measures import weight_text
from sitegen.keeper.modelines import modeline
from sitegen.keeper.naming import free_id
from sitegen.keeper.spelling import Value, lines
from sitegen.keeper.targets import find_litter, find_number, litter_file
from sitegen.keeper.usual import ANIMAL, LITTER, orders

NOTHING = frozenset({"[]", *SAW_NONE, *(word.replace("-", " ") for word in SAW_NONE)})
"""How it is said that an animal was looked at and shows none of the genes."""


@dataclass(frozen=True, slots=True)
class Noted:
    """What a breeder says of an animal; what is empty is left out of the record.

    Attributes:
        shows: The looks; ``("nothing",)`` for looked at and saw none.
        stated: Entries ``GENE=WHAT``.
        weights: Day to weight.
        more: Further lines of one text each, by name: sex, born, line, locality, dam, from_litter.
        acquired: (day, from whom), either may be empty.
    """

    shows: Sequence[str] = ()
    unsure: Sequence[str] = ()
    stated: Sequence[str] = ()
    sire: Sequence[str] = ()
    weights: Mapping[str, str] = field(default_factory=dict)
    acquired: tuple[str, str] = ("", "")
    offer: Mapping[str, str] = field(default_factory=dict)
    kept: bool = False
    more: Mapping[str, str] = field(default_factory=dict)

    def entries(self) -> dict[str, Value]:
        """The lines of the record, in the usual order.

        Raises:
            WrongUse: An entry of ``stated`` has no ``=``.
        """
        found: dict[str, Value] = {key: value.strip() for key, value in self.more.items() if value.strip()}
        if shows := split(self.shows):
            found["shows"] = [] if all(look.lower() in NOTHING for look in shows) else shows
        if unsure := split(self.unsure):
            found["unsure"] = unsure
        if stated := _stated(split(self.stated)):
            found["stated"] = stated
        if sire := split(self.sire):
            found["sire"] = sire[0] if len(sire) == 1 else sire
        if any(self.acquired):
            found["acquired"] = {k: v for k, v in zip(("date", "from"), self.acquired, strict=True) if v}
        if self.weights:
            found["weights"] = {day: weight_text(weight) for day, weight in self.weights.items()}
        if self.offer:
            found["offer"] = dict(self.offer)
        if self.kept:
            found["kept"] = True
        return {key: found[key] for key in sorted(found, key=ANIMAL.index)}


def split(said: Sequence[str]) -> list[str]:
    """Several entries, each perhaps a list with commas.

    >>> split(["amel, motley", "tessera"])
    ['amel', 'motley', 'tessera']
    """
    return [part.strip() for each in said for part in each.split(",") if part.strip()]


def _stated(said: Sequence[str]) -> dict[str, Value]:
    found: dict[str, Value] = {}
    for each in said:
        gene, sign, what = each.partition("=")
        if not sign or not gene.strip() or not what.strip():
            raise WrongUse(f'"{each}" does not say what was stated; write GENE=certain, GENE=66% or GENE=1/2')
        found[gene.strip()] = what.strip()
    return found


def species_meant(desk: Desk, said: str) -> str:
    """The id of the species meant; without a word, the only one there is.

    Raises:
        WrongUse: There is none, or several and none was named, or no such one.
    """
    known = desk.forms.species
    if not known:
        raise WrongUse("there is no species file yet; sitegen start puts one into a new collection")
    if not said:
        if len(known) == 1:
            return next(iter(known))
        raise WrongUse(f"several species are kept here; name one with --species: {', '.join(known)}")
    wanted = same(said)
    by_name = {form.name.value.lower(): i for i, form in known.items() if form and form.name}
    found = next((i for i in known if i.lower() == wanted.lower()), "") or by_name.get(wanted.lower(), "")
    if not found:
        close = nearest(wanted, (*known, *by_name)) or ", ".join(known)
        raise WrongUse(f'there is no species "{said}" in the folder species; nearest: {close}')
    return found


def _species_of_origin(desk: Desk, noted: Noted) -> str:
    """The species that the litter's record, or its dam's, names; empty when neither does."""
    litter = desk.forms.litters.get(same(noted.more.get("from_litter", "")).partition("/")[0])
    if litter is None or litter.species is not None:
        return litter.species.value if litter and litter.species else ""
    dam = desk.forms.animals.get(same(litter.dam.value)) if litter.dam else None
    return dam.species.value if dam else ""


def add_animal(desk: Desk, name: str, species: str, noted: Noted, said_id: str = "") -> Change:
    """An animal with a folder of its own; a young of a litter is of its litter's species.

    Raises:
        WrongUse: Its id is taken, or no such species.
    """
    species = species or _species_of_origin(desk, noted)
    return new_animal(desk, name, species_meant(desk, species), noted.entries(), said_id)


def new_animal(
    desk: Desk, name: str, species: str, entries: Mapping[str, Value], said_id: str = "", comments: Sequence[str] = ()
) -> Change:
    """An animal with a folder of its own.

    Args:
        desk: The records as they stand.
        name: What it is called.
        species: The id of its species.
        entries: The other lines of the record, in the usual order.
        said_id: Its folder; made of the name if empty.
        comments: Lines above the record, each on one line.

    Raises:
        WrongUse: Its id is taken.
    """
    animal = free_id(desk, "animals", name, said_id)
    path = f"animals/{animal}/animal.yaml"
    own = {"name": name.strip(), "species": species} | dict(entries)
    above = [*modeline(desk.root, path, "animal"), *(f"# {line}".rstrip() for line in comments)]
    text = "\n".join([*above, *lines(own.items())]) + "\n"
    return Change((new_file(path, text),), f"{name.strip()} stands in animals/{animal} now.")


def add_young(desk: Desk, litter_named: str, number: str, noted: Noted) -> Change:
    """A young in its litter's record; an entry that stands there is added to, never changed.

    Args:
        desk: The records as they stand.
        litter_named: Which litter.
        number: Its number there; the next one if empty.
        noted: What is said of it.

    Raises:
        WrongUse: No such litter, or something said stands there already with another value.
        ContentError, CannotEdit: The record cannot be changed.
    """
    litter = find_litter(desk, litter_named)
    path = litter_file(desk, litter)
    text = before = desk.text(path)
    there = find_number(desk, litter, number) if number else ""
    chosen = there or _next_number(desk, litter, number.strip())
    held = editing.standing(editing.plain(text), ("young", chosen))
    entries = noted.entries()
    if not there:
        text = editing.put(text, ("young", chosen), entries, orders_of_young())
    for key, value in entries.items() if there else ():
        old = held.get(key) if isinstance(held, dict) else None
        if old is not None and old != editing.plain_value(value):
            raise WrongUse(f"{litter}/{chosen} has another {key} already; correct it in {path}")
        if old is None:
            text = editing.put(text, ("young", chosen, key), value, orders(("young", chosen)))
    if text == before:
        return Change((), f"{litter}/{chosen}: all that stands there already.")
    return Change((desk.changed(path, text),), f"{litter}/{chosen} {'is filled in' if there else 'is listed'} now.")


def orders_of_young() -> tuple[editing.Order, ...]:
    """The orders on the way to the number of a young."""
    return (editing.like(LITTER), editing.last)


def _next_number(desk: Desk, litter: str, said: str) -> str:
    """The number that was said, or the next one, with as many digits as its littermates have."""
    form = desk.forms.litters[litter]
    numbers = [n for n in (form.young or ()) if n.isdigit()] if form else []
    width = max((len(n) for n in numbers), default=2)
    return (said or str(max(map(int, numbers), default=0) + 1)).zfill(width if said.isdigit() or not said else 0)
