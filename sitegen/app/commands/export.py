"""``sitegen export``: the collection as a spreadsheet."""

from pathlib import Path

import click

from sitegen.app.commands.options import Call, known_or_told, shared
from sitegen.findings import WrongUse, nearest
from sitegen.keeper.exporting import Table, csv_text, tables_of, write_tables

_ENDINGS = (".csv", ".xlsx")


@click.command(name="export", epilog="Example:  sitegen export --to collection.xlsx")
@click.option("--to", "target", type=click.Path(path_type=Path), help="A file that ends in .csv or .xlsx.")
@click.option("--with-private", is_flag=True, help="With what stands under private, in columns of its own.")
@click.option("--replace", is_flag=True, help="Take the place of a file that is there.")
@shared
def command(call: Call, target: Path | None, with_private: bool, replace: bool) -> int:
    """Give the collection as a spreadsheet: one row an animal, and the litters beside it.

    Without --to the animals go to standard output as CSV.
    """
    console = call.console
    if target is not None and target.suffix.lower() not in _ENDINGS:
        close = nearest(target.suffix.lower(), _ENDINGS)
        raise WrongUse(f"--to takes a file that ends in .csv or .xlsx{f'; nearest: {close}' if close else ''}")
    known, status = known_or_told(call)
    if known is None:
        return status
    tables = tables_of(known, with_private=with_private)
    if target is not None:
        files = write_tables(tables, target, replace=replace)
        console.show_message(f"{len(tables.animals) - 1} animals, {len(tables.litters) - 1} litters written to")
        for file in files:
            console.show_message(f"    {file}")
    if call.as_json:
        console.show_json({"animals": _facts(tables.animals), "litters": _facts(tables.litters)})
    elif target is None:
        console.show_result(csv_text(tables.animals).replace("\r\n", "\n").rstrip("\n"))
    return status


def _facts(table: Table) -> list[dict[str, str]]:
    """The rows of a table by heading."""
    head, *rows = table
    return [{str(key): str(value) for key, value in zip(head, row, strict=True)} for row in rows]
