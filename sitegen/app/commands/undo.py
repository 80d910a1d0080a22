"""``sitegen undo``: takes a change back."""

import sys
from pathlib import Path

import click

from sitegen.app.commands.changing import carry_out, change_options
from sitegen.app.console import Console
from sitegen.findings import WrongUse
from sitegen.keeper.undo import undo_proposal, with_undone
from sitegen.keeper.undo_record import Change, changes_of, forget


@click.command(name="undo", epilog="To see what can be taken back:  sitegen undo --list")
@click.argument("number", required=False, type=click.IntRange(min=1))
@click.option(
    "--list", "listed", is_flag=True, help="Show the changes that are kept: number, day, hour, what was told."
)
@click.option("--forget", "forgets", is_flag=True, help="Empty the undo record for good, when a person's data must go.")
@click.option("--yes", is_flag=True, help="With --forget: do not ask.")
@change_options
def command(
    content: Path, number: int | None, listed: bool, forgets: bool, yes: bool, dry_run: bool, as_json: bool
) -> int:
    """Take back the last change that a command made, or the one with this NUMBER.

    Only its own lines are turned back. Where later changes, or you by hand, touched them too, nothing is done and you
    are told what stands in the way. An undo can be undone by its own number.
    """
    if listed + forgets + (number is not None) > 1 or (yes and not forgets):
        raise WrongUse("NUMBER, --list and --forget are three different things; --yes belongs to --forget")
    if listed:
        return _list(content, as_json)
    if forgets:
        return _forget(content, yes, dry_run, as_json)
    return carry_out(content, lambda records: undo_proposal(records, number or 0), dry_run, as_json)


def _list(content: Path, as_json: bool) -> int:
    console, found = Console(), list(with_undone(changes_of(content)))[::-1]
    if as_json:
        console.show_json({"changes": [_facts(change, by) for change, by in found]})
    elif found:
        rows = [
            [str(change.number), f"{change.at:%Y-%m-%d %H:%M}", change.told + (f" (taken back by {by})" if by else "")]
            for change, by in found
        ]
        console.show_table("", ["number", "when", "change"], rows)
    else:
        console.show_result("No change of this collection is in the undo record.")
    return 0


def _facts(change: Change, undone: int) -> dict[str, object]:
    files = [
        {"path": file.path, "was": "new" if file.before is None else "changed" if file.after else "removed"}
        for file in change.files
    ]
    more = {"undoes": change.undoes or None, "taken_back_by": undone or None, "files": files}
    return {"number": change.number, "at": change.at.isoformat(), "told": change.told, **more}


def _forget(content: Path, yes: bool, dry_run: bool, as_json: bool) -> int:
    console = Console()
    number, since = forget(content, dry_run=True)
    what = f"{number} change{'' if number == 1 else 's'}" + (f", the first of {since}" if since else "")
    told = f"The undo record of this collection holds {what}, with what each replaced"
    if number and not dry_run and not yes:
        if not sys.stdin.isatty():
            raise WrongUse(f"{told}; write --yes as well to forget them for good")
        click.confirm(f"{told}. Forget them for good?", abort=True, err=True)
    forget(content, dry_run)
    if as_json:
        console.show_json({"forgotten": 0 if dry_run else number})
    elif dry_run:
        console.show_result(f"{told}. Only shown; nothing was forgotten.")
    else:
        console.show_result(
            f"Forgotten: {what}, with what each replaced; none of it can be taken back. Your records stay as they are. "
            "Backups of this computer may still hold what was forgotten."
        )
    return 0
