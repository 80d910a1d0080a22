"""``sitegen start``: a new collection of one's own."""

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from sitegen.app.commands.changing import show_refused, system_told
from sitegen.app.console import Console
from sitegen.content.prices import currencies
from sitegen.content.site import is_email
from sitegen.content.writing import write
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.new_collection import check_empty, new_collection
from sitegen.keeper.new_records import carried_species, offered
from sitegen.keeper.records import unified_diff


@click.command(
    name="start", epilog='Example:  sitegen start my-snakes --name "My Snakes" --species corn-snake --currency EUR'
)
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
@click.option("--name", default="", help="What your collection is called.")
@click.option(
    "--species",
    multiple=True,
    help="A species file to begin with, such as corn-snake; may be repeated.",
)
@click.option("--currency", default="", help="The currency of your prices: EUR, GBP, USD.")
@click.option("--email", default="", help="Where buyers may write to you; published.")
@click.option("--place", default="", help="Your town or region; published.")
@click.option("--language", default="en", show_default=True, help="The language of the site: en, en-GB, de.")
@click.option(
    "--units", type=click.Choice(["metric", "imperial"]), default="metric", show_default=True, help="Weights."
)
@click.option("--dry-run", is_flag=True, help="Show what would be written, and write nothing.")
@click.option("--json", "as_json", is_flag=True, help="Machine output on standard output, nothing else there.")
def command(folder: Path, dry_run: bool, as_json: bool, **said: Any) -> int:
    """Begin a new collection in DIR: settings, a species file, and one example animal to write over.

    On a terminal, the name, species and currency are asked if you do not say them. DIR must be empty, or not exist yet.
    """
    console = Console()
    where = Path(os.path.abspath(folder))  # "new/../.." would else be looked at before "new" is there
    with system_told():
        check_empty(where)
    questions: dict[str, tuple[str, Callable[[str], Any]]] = {
        "name": ("What is your collection called?", str.strip),
        "species": (f"Which species do you keep ({offered()})?", _species),
        "currency": ("In which currency are your prices (EUR, GBP, USD ...)?", _currency),
    }
    missing = [key for key in questions if not said[key]]
    if missing and not sys.stdin.isatty():
        raise click.UsageError("say --name, --species and --currency, or run this on a terminal to be asked")
    for key in missing:
        question, read = questions[key]
        said[key] = click.prompt(question, value_proc=read, prompt_suffix=" ", err=True)
    if said["email"].strip() and not is_email(said["email"].strip()):
        wrong = f'"{said["email"]}" is no e-mail address'
        raise click.UsageError(f"{wrong}; write an address such as you@example.org, or leave --email out")
    try:
        proposal = new_collection(folder, said["species"], said)
    except ContentError as error:
        show_refused(console, error, "Nothing was written.", as_json)
        return 1
    if not dry_run:
        write(where, proposal.files)
    if as_json:
        console.show_json({"written": [] if dry_run else [(folder / file.path).as_posix() for file in proposal.files]})
    elif dry_run:
        console.show_result(unified_diff(proposal))
        console.show_message("Only shown; nothing was written.")
    else:
        console.show_result(
            f"{proposal.told}\nNow:  cd {folder}\n      sitegen build\n      and open output/index.html"
        )
    return 0


def _species(answer: str) -> tuple[str, ...]:
    try:
        carried_species(answer)
    except WrongUse as error:
        raise click.BadParameter(str(error)) from None
    return (answer,)


def _currency(answer: str) -> str:
    if answer.strip().upper() not in currencies():
        raise click.BadParameter("three letters of ISO 4217 are needed, such as EUR, GBP or USD")
    return answer.strip()
