"""What every command that changes records does: think the change through, show it, write it whole or not at all."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

import click

from sitegen.app.commands.options import content_option, today
from sitegen.app.console import Console, finding_facts
from sitegen.content.writing import NotWritten, write
from sitegen.findings import ContentError, Finding
from sitegen.keeper.records import Proposal, Records, check_proposal, open_records, unified_diff

_Command = TypeVar("_Command", bound=Callable[..., Any])


def changing(function: _Command) -> _Command:
    """``--content``, ``--dry-run`` and ``--json``, the same for every command that changes records."""
    for option in (
        click.option("--json", "as_json", is_flag=True, help="Machine output on standard output, nothing else there."),
        click.option("--dry-run", is_flag=True, help="Show what would be written, and write nothing."),
        content_option,
    ):
        function = option(function)
    return function


@contextmanager
def system_told() -> Iterator[None]:
    """What the system refuses (a name too long, no permission) is told as the breeder's to mend, without a trace.

    Raises:
        NotWritten: The system refused; nothing was changed.
    """
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as error:
        raise NotWritten(f"{error.strerror or error}: {error.filename or 'the folder'}; nothing was changed") from error


def carry_out(plan: Callable[[Records], Proposal], content: Path, dry_run: bool, as_json: bool) -> int:
    """Plan a change, check it, and write it unless it is only to be shown; the exit status."""
    console = Console()
    try:
        with system_told():
            records = open_records(content, today(None))
            change = plan(records)
            found = check_proposal(records, change)
    except ContentError as error:
        if as_json:
            console.show_json({"written": [], "findings": [finding_facts(finding) for finding in error.findings]})
        else:
            console.show_findings(error.findings, None)
            console.show_message("Nothing was changed.")
        return 1
    if change.files and found.known is None:
        told = "Other records are in error, so that nobody can tell whether they contradict this; see sitegen check."
        change = replace(change, told=f"{change.told} {told}")
    if not dry_run and change.files:
        write(content, change.files)
    _tell(console, change, found.findings, dry_run, as_json)
    return 0


def _tell(console: Console, change: Proposal, notices: tuple[Finding, ...], dry_run: bool, as_json: bool) -> None:
    if as_json:
        console.show_json(
            {
                "told": change.told,
                "written": [] if dry_run else [file.path for file in change.files],
                "diff": unified_diff(change),
                "findings": [finding_facts(finding) for finding in notices],
            }
        )
        return
    console.show_findings(notices, None)
    if dry_run and change.files:
        console.show_result(unified_diff(change))
        console.show_message(f"{change.told} Only shown; nothing was written.")
    else:
        console.show_result("\n".join([change.told, *(f"  {_verb(f.before)} {f.path}" for f in change.files)]))


def _verb(before: bytes | None) -> str:
    return "new:    " if before is None else "changed:"
