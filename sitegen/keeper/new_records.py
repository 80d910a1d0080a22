"""New records of animals, litters and species files, and what is added to the records of litters."""

import re
from collections.abc import Iterable, Mapping, Sequence
from importlib import resources

from sitegen.content.binding import bind_content
from sitegen.content.breeding_years import breeding_year
from sitegen.content.gene_names import SAW_NONE
from sitegen.content.litters import Litter
from sitegen.content.projects import ProjectState
from sitegen.content.references import same
from sitegen.content.values import parse_date
from sitegen.findings import Place, WrongUse, nearest
from sitegen.keeper.lookup import find_animal, find_litter, find_number, find_species, free_id, id_of, numbered
from sitegen.keeper.record_text import Value, in_usual_order, new_record
from sitegen.keeper.records import Proposal, RecordPlace, Records, changed, new_file
from sitegen.keeper.splicing import plain_value

SEES_NOTHING = frozenset({"[]", *SAW_NONE, *(word.replace("-", " ") for word in SAW_NONE)})
"""How it is said that an animal was looked at and shows none of the genes."""

_MOST_YOUNG = 200
_LIZARDS = frozenset({"bearded-dragon", "crested-gecko", "fat-tailed-gecko", "leopard-gecko"})
_NAMES = re.compile(r"^(?:name|scientific): (.+)$", re.MULTILINE)


def animal_values(
    *,
    shows: Iterable[str] = (),
    unsure: Iterable[str] = (),
    stated: Iterable[str] = (),
    sire: Iterable[str] = (),
    **others: Value,
) -> dict[str, Value]:
    """What a breeder says of an animal, as values of its record; what is empty is left out.

    The first four may hold lists with commas. ``shows`` is ``("nothing",)`` for looked at and saw none, ``stated`` has
    entries ``GENE=WHAT``; the others stand as they are.

    Raises:
        WrongUse: An entry of ``stated`` has no ``=``.
    """
    sires, looks = split(sire), split(shows)
    found = {key: value.strip() if isinstance(value, str) else value for key, value in others.items()}
    found |= {"unsure": split(unsure), "stated": _stated(split(stated)), "sire": sires[0] if len(sires) == 1 else sires}
    found = {key: value for key, value in found.items() if value}
    if looks:
        found["shows"] = [] if all(look.lower() in SEES_NOTHING for look in looks) else looks
    return found


def split(said: Iterable[str]) -> list[str]:
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


def add_animal(records: Records, name: str, species: str, values: Mapping[str, Value], said_id: str = "") -> Proposal:
    """An animal with a folder of its own; a young of a litter is of its litter's species.

    Raises:
        WrongUse: Its id is taken, or no such species.
    """
    species = species or species_of_origin(records, str(values.get("from_litter", "")))
    return new_animal(records, name, find_species(records, species), values, said_id)


def species_of_origin(records: Records, young: str) -> str:
    """The species that the record of a young's litter, or of its dam, names; empty when neither does."""
    litter = records.forms.litters.get(same(young).partition("/")[0])
    if litter is None or litter.species is not None:
        return litter.species.value if litter and litter.species else ""
    dam = records.forms.animals.get(same(litter.dam.value)) if litter.dam else None
    return dam.species.value if dam else ""


def new_animal(
    records: Records, name: str, species: str, entries: Mapping[str, Value], said_id: str, comments: Sequence[str] = ()
) -> Proposal:
    """An animal with a folder of its own, called ``said_id``, or after its name if that is empty.

    ``species`` is an id; ``comments`` stand above the record, each on one line.

    Raises:
        WrongUse: Its id is taken.
    """
    animal = free_id(records, "animals", name, said_id)
    path = f"animals/{animal}/animal.yaml"
    own = in_usual_order("animal", {"name": name.strip(), "species": species, **entries})
    text = new_record(records.root, path, "animal", own, comments)
    return Proposal((new_file(path, text),), f"{name.strip()} stands in animals/{animal} now.")


def add_young(records: Records, litter_named: str, number: str, values: Mapping[str, Value]) -> Proposal:
    """A young in its litter's record: without a number the first that nothing is said of, else the next one.

    An entry that stands there is added to, never changed.

    Raises:
        WrongUse: No such litter, or something said stands there already with another value.
        ContentError, CannotEdit: The record cannot be changed.
    """
    litter = find_litter(records, litter_named)
    there = find_number(records, litter.shown, number) if number else undescribed(records, litter.shown)
    there = there if number or values else ""
    chosen = there or _next_number(records, litter.shown, number.strip())
    young = RecordPlace(f"{litter.shown}/{chosen}", litter.file, ("young", chosen))
    entries = in_usual_order("animal", values)
    held = records.held(young)
    for key in entries if there else ():
        old = held.get(key) if isinstance(held, dict) else None
        if old is not None and old != plain_value(entries[key]):
            raise WrongUse(f"{young.shown} has another {key} already; correct it in {young.file}")
    files = changed(records, young, {(key,): value for key, value in entries.items()} if there else {(): entries})
    if not files:
        return Proposal((), f"{young.shown}: all that stands there already.")
    return Proposal(files, f"{young.shown} {'is filled in' if there else 'is listed'} now.")


def undescribed(records: Records, litter: str) -> str:
    """The first listed young of a litter of which nothing is said, here or in a record of its own; empty for none."""
    form = records.forms.litters[litter]
    own = {same(each.from_litter.value) for each in records.forms.animals.values() if each and each.from_litter}
    young = ((form.young if form else None) or {}).items()
    return next((number for number, said in young if said is None and f"{litter}/{number}" not in own), "")


def _next_number(records: Records, litter: str, said: str) -> str:
    """The number that was said, or the next one, with as many digits as its littermates have."""
    form = records.forms.litters[litter]
    numbers = [n for n in (form.young or ()) if n.isdigit()] if form else []
    width = max((len(n) for n in numbers), default=2)
    return (said or str(max(map(int, numbers), default=0) + 1)).zfill(width if said.isdigit() or not said else 0)


def add_litter(
    records: Records, dam: str, sires: Sequence[str], facts: Mapping[str, str], n_young: int = 0, said_id: str = ""
) -> Proposal:
    """A litter or clutch, with ``n_young`` numbered young that are still to be described.

    Its dam may be empty when a sire is named. ``facts`` are further lines by name: name, species, paired, laid,
    expected, born, eggs, infertile, stillborn. Its folder is made of the year and the parents if none is said.

    Raises:
        WrongUse: No such parent, or the folder stands there.
    """
    parents = [find_animal(records, each).shown for each in split(sires)]
    mother = [find_animal(records, dam).shown] if dam.strip() else []
    if not mother and not parents:
        raise WrongUse("a litter needs a dam or a sire: sitegen add litter --dam juniper --sire flint")
    _check_number(n_young)
    entries: dict[str, Value] = {key: value.strip() for key, value in facts.items() if value.strip()}
    if mother:
        entries["dam"] = mother[0]
    if parents:
        entries["sire"] = parents[0] if len(parents) == 1 else parents
    if n_young:
        entries["young"] = {f"{number:02d}": None for number in range(1, n_young + 1)}
    litter = free_id(records, "litters", _usual_id(records, facts, mother, parents), said_id)
    path = f"litters/{litter}/litter.yaml"
    text = new_record(records.root, path, "litter", in_usual_order("litter", entries))
    return Proposal((new_file(path, text),), f"The litter stands in litters/{litter} now.")


def add_project(records: Records, name: str, goal: Iterable[str], species: str, said_id: str = "") -> Proposal:
    """A planned project with a folder of its own; ``goal`` are the looks of the animal it is after.

    Raises:
        WrongUse: No such species, its folder stands there, or no goal is said.
    """
    shows = split(goal)
    if not (name.strip() and shows):
        raise WrongUse('say what it is called and what the goal animal shows: sitegen add project "Snow" --goal amel')
    own = {"name": name.strip(), "species": find_species(records, species), "state": ProjectState.PLANNED.value}
    path = f"projects/{free_id(records, 'projects', name, said_id)}/project.yaml"
    text = new_record(records.root, path, "project", own | {"goal": {"shows": shows}})
    return Proposal((new_file(path, text),), f"{name.strip()} stands in {path} now.")


def _usual_id(records: Records, facts: Mapping[str, str], dam: Sequence[str], sires: Sequence[str]) -> str:
    """The season and the parents: ``2026-juniper-flint``, numbered when there is such a litter."""
    base = "-".join(
        part
        for part in (_season(records, facts, [*dam, *sires]), *map(id_of, dam), "-or-".join(map(id_of, sires)))
        if part
    )
    return id_of(numbered(base, (_with_blank(name, base) for name in records.forms.litters)))


def _season(records: Records, facts: Mapping[str, str], parents: Sequence[str]) -> str:
    """The year in which a new litter is born, or should be by the months of its species; empty without a date."""
    born, expected, laid, paired = (
        parse_date(facts.get(key, "").strip()) for key in ("born", "expected", "laid", "paired")
    )
    known, _ = bind_content(records.content)
    species = [known.animals[parent].species for parent in parents if parent in known.animals] if known else []
    if known and species:
        months = breeding_year(known, known.species[species[0]])
        dated = Litter(id="", place=Place(""), sires=(), born=born, expected=expected, laid=laid, paired=paired)
        return str(months.season_of(dated) or "")
    return next((str(date.year) for date in (born, expected, laid, paired) if date), "")


def _with_blank(name: str, base: str) -> str:
    """A litter's id as ``numbered`` would write it: ``base-2`` as ``base 2``."""
    rest = name.removeprefix(f"{base}-")
    return f"{base} {rest}" if rest != name and rest.isdigit() else name


def add_outcome(
    records: Records,
    litter_named: str,
    facts: Mapping[str, str],
    n_young: int = 0,
    failed: Mapping[str, str] | None = None,
) -> Proposal:
    """What came of a pairing since it was recorded: eggs, young, or none. Nothing that stands there is changed.

    ``facts`` are lines by name, empty ones are passed over. ``n_young`` young are listed afterwards, the new ones with
    nothing said of them yet. ``failed`` is the group of that name.

    Raises:
        WrongUse: No such litter, something said stands there already with another value, or more young are listed.
        ContentError, CannotEdit: The record cannot be changed.
    """
    litter = find_litter(records, litter_named)
    held = records.held(litter)
    before = held if isinstance(held, dict) else {}
    values: dict[tuple[str, ...], Value] = {}
    for key, value in facts.items():
        said = value.strip()
        if said and before.get(key) not in (None, said):
            raise WrongUse(f"{litter.shown} has {key}: {before[key]} already; correct it in {litter.file}")
        if said:
            values[key,] = said
    if failed:
        if before.get("failed") not in (None, failed):
            raise WrongUse(f"{litter.shown} has another failed already; correct it in {litter.file}")
        values["failed",] = failed
    values |= {("young", n): None for n in _unlisted(litter.shown, list(before.get("young") or ()), n_young)}
    if files := changed(records, litter, values):
        return Proposal(files, f"What came of {litter.shown} is noted now.")
    return Proposal((), f"{litter.shown}: all that stands there already.")


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


def carried() -> dict[str, str]:
    """The species files that the program carries, to start from: id to text, sorted."""
    folder = resources.files("sitegen") / "keeper" / "species"
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".yaml")), key=lambda file: file.name)
    return {file.name.removesuffix(".yaml"): file.read_text(encoding="utf-8") for file in files}


def by_group() -> dict[str, list[str]]:
    """The ids of these files by kind of animal, as they are offered."""
    lizards = [name for name in carried() if name in _LIZARDS]
    return {"snakes": [name for name in carried() if name not in _LIZARDS], "lizards": lizards}


def offered() -> str:
    """These files in one line, by group."""
    return "; ".join(f"{group}: {', '.join(names)}" for group, names in by_group().items())


def carried_species(named: str) -> tuple[str, str]:
    """Id and text of the species meant, by its id, its name or its scientific name.

    Raises:
        WrongUse: None of that name is carried; the nearest is offered.
    """
    known = carried()
    wanted = same(named).lower().replace(" ", "-").replace("_", "-")
    for own, text in known.items():
        if wanted in (own, *(name.lower().replace(" ", "-") for name in _NAMES.findall(text))):
            return own, text
    begun = [own for own in known if own.startswith(wanted)]
    close = begun[0] if len(begun) == 1 else nearest(wanted, known)
    near = f"; nearest: {close}" if close else ""
    others = f"there are {offered()}; a file of your own goes into content/species"
    raise WrongUse(f'no species file for "{named}" is carried{near}; {others}')


def add_species(records: Records, named: str) -> Proposal:
    """A species file that the program carries, for a collection that has none of that name.

    Raises:
        WrongUse: No such species is carried, or its file stands there.
    """
    species, text = carried_species(named)
    path = f"species/{species}.yaml"
    if records.exists(path):
        raise WrongUse(f"{path} stands there already and was not changed")
    return Proposal((new_file(path, text),), f"{species} stands in {path} now.")
