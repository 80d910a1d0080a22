"""What every command that changes records does: think the change through, show it, write it whole or not at all."""

import functools
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from sitegen.app.commands.options import content_option, now, today
from sitegen.app.console import Console, finding_facts
from sitegen.content.writing import FileChange, NotWritten
from sitegen.findings import ContentError, Finding
from sitegen.keeper.records import Proposal, Records, check_proposal, open_records, unified_diff
from sitegen.keeper.undo_record import put_in_place


def changing(propose: Callable[..., Proposal]) -> Callable[..., int]:
    """The command of a function that is given the records and what was said, and proposes a change of them.

    It has ``--content``, ``--dry-run`` and ``--json``; what is proposed is checked and written.
    """

    @change_options
    @functools.wraps(propose)
    def command(content: Path, dry_run: bool, as_json: bool, **said: Any) -> int:
        return carry_out(content, lambda records: propose(records, **said), dry_run, as_json)

    return command


def change_options(function: Callable[..., int]) -> Callable[..., int]:
    """``--content``, ``--dry-run`` and ``--json`` of a command that changes records."""
    found: Any = content_option(function)
    found = click.option("--dry-run", is_flag=True, help="Show what would be written, and write nothing.")(found)
    json_help = "Machine output on standard output, nothing else there."
    wrapped: Callable[..., int] = click.option("--json", "as_json", is_flag=True, help=json_help)(found)
    return wrapped


def carry_out(content: Path, propose: Callable[[Records], Proposal], dry_run: bool, as_json: bool) -> int:
    """Check what is proposed, write it and tell it; the exit status."""
    console = Console()
    try:
        with system_told():
            records = open_records(content, today(None))
            proposal = propose(records)
            found = check_proposal(records, proposal)
    except ContentError as error:
        show_refused(console, error, "Nothing was changed.", as_json)
        return 1
    if proposal.files and found.known is None:
        told = "Other records are in error, so that nobody can tell whether they contradict this; see sitegen check."
        proposal = replace(proposal, told=f"{proposal.told} {told}")
    notice = "" if dry_run else put_in_place(content, proposal, now()).notice
    tell(console, proposal, found.findings, dry_run, as_json)
    if not proposal.undoes and any(file.after is None for file in proposal.files) and not dry_run:
        console.show_message("sitegen undo brings it back.")
    if notice:
        console.show_message(notice)
    return 0


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


def show_refused(console: Console, error: ContentError, told: str, as_json: bool) -> None:
    """Show why nothing was written."""
    if as_json:
        console.show_json({"written": [], "findings": [finding_facts(finding) for finding in error.findings]})
    else:
        console.show_findings(error.findings, None)
        console.show_message(told)


def tell(console: Console, proposal: Proposal, notices: tuple[Finding, ...], dry_run: bool, as_json: bool) -> None:
    """Show what was written, or would be."""
    if as_json:
        console.show_json(
            {
                "told": proposal.told,
                "written": [] if dry_run else [file.path for file in proposal.files],
                "diff": unified_diff(proposal),
                "findings": [finding_facts(finding) for finding in notices],
            }
        )
        return
    console.show_findings(notices, None)
    if dry_run and proposal.files:
        console.show_result(unified_diff(proposal))
        console.show_message(f"{proposal.told} Only shown; nothing was written.")
    else:
        console.show_result("\n".join([proposal.told, *(f"  {_verb(file)} {file.path}" for file in proposal.files)]))


def _verb(file: FileChange) -> str:
    return "new:    " if file.before is None else "removed:" if file.after is None else "changed:"
