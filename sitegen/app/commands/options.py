"""The options that every command shares, the collection that is meant, and the day it is."""

import contextlib
import datetime as dt
import functools
import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from sitegen.app.console import Console
from sitegen.findings import Finding, Level, WrongUse, nearest

if TYPE_CHECKING:
    from sitegen.build import Order
    from sitegen.content.collection import Collection
    from sitegen.evidence.answers import Known
    from sitegen.genetics.questions import AnimalId

_Command = TypeVar("_Command", bound=Callable[..., Any])

_FOLDER = click.Path(path_type=Path)
_HERE = Path()
YEARS = range(1900, 2200)
"""Years that a day may have, as in records."""


class DayType(click.ParamType[dt.datetime]):
    """A whole day, year first; another way of writing it is told with the right one."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> dt.datetime:
        """The day at midnight."""
        if isinstance(value, dt.datetime):
            return value
        text = str(value).strip()
        with contextlib.suppress(ValueError):
            day = dt.datetime.strptime(text, "%Y-%m-%d")  # noqa: DTZ007 - a day has no zone
            if day.year in YEARS:
                return day
        from sitegen.content.report import Report
        from sitegen.content.values import read_date
        from sitegen.content.yaml_tree import Scalar
        from sitegen.findings import Place

        report = Report()
        read_date(Scalar(text, Place("")), report)
        near = report.findings[0].nearest if report.findings else ""
        self.fail(
            f'"{text}" is no day; write year, month and day: 2026-10-03' + (f"; nearest: {near}" if near else ""),
            param, ctx,
        )  # fmt: skip


DAY = DayType()


@dataclass(frozen=True, slots=True)
class Call:
    """What the shared options say, the same for every command that reads the collection."""

    content: Path
    output: Path
    themes: Path
    as_json: bool
    date: dt.date | None
    console: Console = field(default_factory=Console)

    @property
    def today(self) -> dt.date:
        """The day that was said, or this day by the clock of this computer."""
        return self.date or clock()

    def order(self, workers: int = 0) -> "Order":
        """What is to be built."""
        from sitegen.build import Order

        return Order(self.content, self.output, self.themes, self.date, self.today, workers)

    def show_errors(self, findings: Iterable[Finding]) -> int:
        """Tell the errors among findings on standard error; the exit status by then."""
        errors = [finding for finding in findings if finding.level is Level.ERROR]
        self.console.show_findings(errors, self.content)
        return 1 if errors else 0


def shared(function: Callable[..., int]) -> Callable[..., int]:
    """``--content``, ``--output``, ``--themes``, ``--date`` and ``--json``, given to the command as a :class:`Call`."""

    @functools.wraps(function)
    def called(content: Path, output: Path, themes: Path, as_json: bool, date: dt.datetime | None, **own: Any) -> int:
        return function(Call(content, output, themes, as_json, date.date() if date else None), **own)

    command = called
    for option in (
        click.option("--json", "as_json", is_flag=True, help="Machine output on standard output, nothing else there."),
        click.option(
            "--date",
            type=DAY,
            help="The day it is, such as 2026-11-25. Else ages are counted on the latest date in the records, and "
            "this computer's clock says what lies ahead.",
        ),
        click.option("--themes", type=_FOLDER, show_default="themes", help="Folder with themes of your own."),
        click.option("--output", type=_FOLDER, show_default="output", help="Folder the site is put into."),
        content_option,
    ):
        command = option(command)
    return command


def content_option(function: _Command) -> _Command:
    """``--content``; where it is not said, the collection that holds the current folder."""

    @functools.wraps(function)
    def within(**said: Any) -> Any:
        home = _HERE if said["content"] else collection_here()
        if home != _HERE:
            Console().show_message(f"The collection in {home} is meant.")
        for name in ("content", "output", "themes"):
            if name in said or name == "content":
                said[name] = said[name] or _found(home, name)
        return function(**said)

    named: Any = click.option("--content", type=_FOLDER, show_default="content", help="Folder with your records.")
    return named(within)  # type: ignore[no-any-return]


def _found(home: Path, name: str) -> Path:
    """A folder that the user did not name.

    Raises:
        WrongUse: It is a link, which may have come with somebody else's collection.
    """
    folder = home / name
    if folder.is_symlink():
        raise WrongUse(f"{folder} is a link; if you trust where it leads, name that folder with --{name}")
    return folder


def collection_here() -> Path:
    """The nearest folder, this one or one above, that holds ``content/site.yaml``; this one where there is none.

    A folder with a content folder of its own is never passed over, and neither is one that belongs to somebody else:
    what stands above that was not put there for this user.
    """
    here = Path(os.path.abspath(_HERE))
    if os.path.isdir("content"):
        return _HERE
    for folder in (here, *here.parents):
        if folder.stat().st_uid != os.getuid():
            break
        if (folder / "content" / "site.yaml").is_file():
            return folder
    return _HERE


def today(said: dt.datetime | None) -> dt.date:
    """The day that was said, or this day by the clock of this computer."""
    return said.date() if said else clock()


def clock() -> dt.date:
    """This day where this computer stands."""
    return dt.datetime.now(tz=dt.UTC).astimezone().date()


def now() -> dt.datetime:
    """This hour of this day where this computer stands, with its zone."""
    return dt.datetime.combine(clock(), dt.datetime.now(tz=dt.UTC).astimezone().timetz())


def known_or_told(call: Call) -> tuple["Known | None", int]:
    """The sound records with their answers, and the exit status so far; errors are told on standard error."""
    from sitegen.evidence.answers import read_known

    known, findings = read_known(call.content, call.today)
    return known, call.show_errors(findings)


def nearest_animal(collection: "Collection", named: str) -> "AnimalId":
    """The id of the animal that is meant: its folder, LITTER/YOUNG, or its name where only one has it.

    Raises:
        WrongUse: There is no such animal; the nearest is offered.
    """
    wanted = named.strip().removesuffix("/")
    if wanted in collection.animals:
        return wanted
    by_name = [animal.id for animal in collection.animals.values() if animal.name.lower() == wanted.lower()]
    if len(by_name) == 1:
        return by_name[0]
    promoted = [a.id for a in collection.animals.values() if a.litter and f"{a.litter}/{a.number}" == wanted]
    if promoted:
        return promoted[0]
    known = [*collection.animals, *(animal.name for animal in collection.animals.values())]
    close = nearest(wanted, known)
    raise WrongUse(f'there is no animal "{named}" in the records' + (f"; nearest: {close}" if close else ""))
