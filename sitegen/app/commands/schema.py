"""``sitegen schema``: JSON Schemas of the records, for editors."""

import os
from pathlib import Path

import click

from sitegen.app.commands.changing import system_told
from sitegen.app.commands.options import content_option
from sitegen.app.console import Console
from sitegen.content.writing import write
from sitegen.keeper.records import open_records
from sitegen.keeper.schemas import schema_change, schemas_for


@click.command(name="schema", epilog="Example:  sitegen schema --to .schemas")
@click.argument("kind", required=False, type=click.Choice(["site", "species", "animal", "litter", "project", "paper"]))
@click.option("--to", type=click.Path(path_type=Path), help="Write them into this folder, one file a kind.")
@content_option
@click.option("--json", "as_json", is_flag=True, help="Tell what was written as machine output.")
def command(kind: str | None, to: Path | None, content: Path, as_json: bool) -> int:
    """Print the JSON Schema of KIND, or of all, or write them to a folder for your editor.

    In the folder .schemas beside your content folder, sitegen add finds them and binds new records to them.
    """
    console = Console()
    records = open_records(content)
    if to is None:
        schemas = schemas_for(records.forms)
        console.show_json(schemas[kind] if kind else schemas)
        return 0
    if kind is not None:
        raise click.UsageError("KIND is for printing one schema; --to always writes all of them")
    place = Path(os.path.abspath(to))
    with system_told():
        change = schema_change(records, place)
    if change.files:
        write(place, change.files)
    if as_json:
        console.show_json({"written": [(to / file.path).as_posix() for file in change.files]})
    else:
        console.show_result(change.told)
    return 0
