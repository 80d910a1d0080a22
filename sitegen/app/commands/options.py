"""The options that every command shares, the collection that is meant, and the day it is."""

import datetime as dt
import functools
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from sitegen.app.console import Console
from sitegen.findings import WrongUse

_Command = TypeVar("_Command", bound=Callable[..., Any])

_FOLDER = click.Path(path_type=Path)
_HERE = Path()


class _Day(click.ParamType[dt.datetime]):
    """A whole day, year first; another way of writing it is told with the right one."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> dt.datetime:
        """The day at midnight."""
        if isinstance(value, dt.datetime):
            return value
        text = str(value).strip()
        try:
            return dt.datetime.strptime(text, "%Y-%m-%d")  # noqa: DTZ007 - a day has no zone
        except ValueError:
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


DAY = _Day()


def shared(function: _Command) -> _Command:
    """``--content``, ``--output``, ``--themes``, ``--date`` and ``--json``, the same for every command that reads."""
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
        function = option(function)
    return function


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
