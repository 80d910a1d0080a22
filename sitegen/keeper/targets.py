"""Which record is meant by the name of an animal, and where in that record it stands."""

from dataclasses import dataclass

from sitegen.content.references import same
from sitegen.findings import ContentError, WrongUse, nearest
from sitegen.keeper.desk import Desk


@dataclass(frozen=True, slots=True)
class Target:
    """An animal's place in the records.

    Attributes:
        shown: How it is called in messages: its folder, or ``LITTER/NUMBER``.
        file: Path of the record.
        keys: The names that lead to it within the record; none for a record of its own.
    """

    shown: str
    file: str
    keys: tuple[str, ...] = ()

    @property
    def folder(self) -> str:
        """Where its photographs stand."""
        return self.file.rpartition("/")[0]


def find_target(desk: Desk, named: str) -> Target:
    """The animal meant by its folder, ``LITTER/NUMBER``, or its name where only one has it.

    A young that has a record of its own is meant by that record.

    Raises:
        WrongUse: There is no such animal; the nearest is offered.
        ContentError: Its record cannot be read.
    """
    wanted = same(named).removesuffix("/").removeprefix("animals/").removeprefix("litters/")
    if wanted in desk.forms.animals:
        return own_record(desk, wanted)
    if "/" in wanted:
        return _young(desk, wanted)
    named_so = [
        i for i, form in desk.forms.animals.items() if form and form.name and form.name.value.lower() == wanted.lower()
    ]
    if len(named_so) == 1:
        return own_record(desk, named_so[0])
    if len(named_so) > 1:
        raise WrongUse(
            f'several animals are called "{named}"; write the folder of the one you mean: {", ".join(named_so)}'
        )
    names = [form.name.value for form in desk.forms.animals.values() if form and form.name]
    close = nearest(wanted, [*desk.forms.animals, *names, *(name.lower() for name in names)])
    raise WrongUse(f'there is no animal "{named}" in the records' + _offered(close, desk))


def _offered(close: str, desk: Desk) -> str:
    if close:
        return f"; nearest: {close}"
    few = list(desk.forms.animals)[:8]
    return f"; there are {', '.join(few)}{' ...' if len(desk.forms.animals) > 8 else ''}" if few else ""


def own_record(desk: Desk, animal: str) -> Target:
    """The record of an animal with a folder of its own."""
    return Target(animal, f"{desk.forms.folders['animals', animal]}/animal.yaml")


def find_litter(desk: Desk, named: str) -> str:
    """The id of the litter meant.

    Raises:
        WrongUse: There is no such litter; the nearest is offered.
    """
    wanted = same(named).removesuffix("/").removeprefix("litters/")
    if wanted in desk.forms.litters:
        return wanted
    by_name = [
        i for i, form in desk.forms.litters.items() if form and form.name and form.name.value.lower() == wanted.lower()
    ]
    if len(by_name) == 1:
        return by_name[0]
    close = nearest(wanted, desk.forms.litters) or ", ".join(list(desk.forms.litters)[:6])
    raise WrongUse(f'there is no litter "{named}" in the records' + (f"; nearest: {close}" if close else ""))


def litter_file(desk: Desk, litter: str) -> str:
    """Path of a litter's record."""
    return f"{desk.forms.folders['litters', litter]}/litter.yaml"


def find_number(desk: Desk, litter: str, wanted: str) -> str:
    """The number of a listed young as it is written in the record; empty when it is not listed."""
    form = desk.forms.litters[litter]
    numbers = tuple(form.young or ()) if form else ()
    if wanted in numbers:
        return wanted
    alike = [n for n in numbers if n.isdigit() and wanted.isdigit() and int(n) == int(wanted)]
    return alike[0] if len(alike) == 1 else ""


def _young(desk: Desk, wanted: str) -> Target:
    litter_named, _, number_named = wanted.partition("/")
    litter = find_litter(desk, litter_named)
    form = desk.forms.litters[litter]
    if form is None:
        desk.text(litter_file(desk, litter))
        raise ContentError(desk.reading)
    number = find_number(desk, litter, number_named)
    if not number:
        known = ", ".join(form.young or ()) or "none"
        raise WrongUse(f'litter {litter} lists no young "{number_named}"; there are {known}')
    for animal, own in desk.forms.animals.items():
        if own and own.from_litter and same(own.from_litter.value) == f"{litter}/{number}":
            return own_record(desk, animal)
    return Target(f"{litter}/{number}", litter_file(desk, litter), ("young", number))
