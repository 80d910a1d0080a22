"""``sitegen import FILE``: rows of a spreadsheet become records."""

import textwrap
from pathlib import Path
from typing import Any

import click

from sitegen.app.commands.options import Call, now, shared
from sitegen.app.console import finding_facts, summary
from sitegen.findings import ContentError, has_errors
from sitegen.keeper.importing import Import, plan_import
from sitegen.keeper.records import Proposal, new_file
from sitegen.keeper.undo_record import put_in_place

_FILE = click.Path(path_type=Path)


@click.command(name="import", epilog="To begin with:  sitegen import my-snakes.csv --dry-run")
@click.argument("file", type=_FILE)
@click.option("--columns", type=_FILE, help="A file that says what your own headings and words mean.")
@click.option("--species", default="", help="The species of rows that name none.")
@click.option("--sheet", default="", help="The sheet of a workbook; else the one called animals, else the first.")
@click.option("--partly", is_flag=True, help="Take the rows that were understood whole, although others were not.")
@click.option("--with-parents", is_flag=True, help="Make bare records for parents without a record or row.")
@click.option("--dry-run", is_flag=True, help="Show every record that would be written; write nothing.")
@shared
def command(call: Call, file: Path, dry_run: bool, **wishes: Any) -> int:
    """Make records from the rows of FILE, a .csv or .xlsx sheet with one animal a row.

    Nothing is guessed: what is not understood is told with its row, and no record that exists is changed.
    """
    console = call.console
    try:
        found = plan_import(file, call.content, today=call.today, **wishes)
    except ContentError as error:
        if call.as_json:
            console.show_json({"findings": [finding_facts(finding) for finding in error.findings]})
        else:
            console.show_findings(error.findings, call.content)
        return 1
    new = [new_file(path, text) for path, text in found.records.items()]
    if not dry_run:
        told = f"{len(new)} record{'' if len(new) == 1 else 's'} from {file.name}."
        if notice := put_in_place(call.content, Proposal(tuple(new), told), now()).notice:
            console.show_message(notice)
    if call.as_json:
        console.show_json(_facts(found, 0 if dry_run else len(new)))
    else:
        console.show_findings(found.findings, None)
        for path, text in found.records.items() if dry_run else ():
            console.show_result(f"{path}\n{textwrap.indent(text, '    ', lambda line: True)}")
        for line in _told(found, dry_run=dry_run):
            console.show_result(line)
    return 1 if has_errors(found.findings) else 0


def _told(found: Import, *, dry_run: bool) -> list[str]:
    """What became of the rows."""
    parts = [
        f"{found.new} understood as new",
        f"{found.known} have a record already" + (f" ({found.differing} differ from it)" if found.differing else ""),
        f"{found.left} not taken" + (f" ({found.waiting} of them wait for a parent's row)" if found.waiting else ""),
    ]
    count = len(found.records)
    records = f"{count} record{'' if count == 1 else 's'}"
    lines = [f"{found.rows} row{'' if found.rows == 1 else 's'}: {', '.join(parts)}."]
    if dry_run:
        lines.append(f"Nothing was written; without --dry-run it would be {records}.")
    else:
        lines.append(f"{records} written." if count else "Nothing was written.")
    if not count and found.left and found.new:
        lines.append(f"Mend the rows above, or add --partly to take the {found.new} rows that were understood whole.")
    return lines


def _facts(found: Import, written: int) -> dict[str, object]:
    counts = {key: getattr(found, key) for key in ("rows", "new", "known", "differing", "left", "waiting")}
    findings = [finding_facts(finding) for finding in found.findings]
    more = {"records": found.records, "summary": summary(found.findings), "findings": findings}
    return {**counts, "written": written, **more}
