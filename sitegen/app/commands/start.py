"""``sitegen start``: a new collection of one's own."""

import os
import sys
from pathlib import Path

import click

from sitegen.app.commands.asking import ask, one_of
from sitegen.app.commands.changing import system_told
from sitegen.app.commands.completing import carried_files
from sitegen.app.console import Console, finding_facts
from sitegen.content.bind_offers import currencies
from sitegen.content.bind_site import is_email
from sitegen.content.writing import write
from sitegen.findings import ContentError
from sitegen.keeper.new_records import carried, carried_species
from sitegen.keeper.records import unified_diff
from sitegen.keeper.start import Wanted, check_empty, new_collection


@click.command(
    name="start", epilog='Example:  sitegen start my-snakes --name "My Snakes" --species corn-snake --currency EUR'
)
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
@click.option("--name", default="", help="What your collection is called.")
@click.option(
    "--species",
    multiple=True,
    shell_complete=carried_files,
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
def command(
    folder: Path,
    name: str,
    species: tuple[str, ...],
    currency: str,
    email: str,
    place: str,
    language: str,
    units: str,
    dry_run: bool,
    as_json: bool,
) -> int:
    """Begin a new collection in DIR: settings, a species file, and one example animal to write over.

    On a terminal, what is not said is asked. DIR must be empty, or not exist yet.
    """
    console = Console()
    where = Path(os.path.abspath(folder))  # "new/../.." would else be looked at before "new" is there
    with system_told():
        check_empty(where)
    if not (name and species and currency):
        if not sys.stdin.isatty():
            raise click.UsageError("say --name, --species and --currency, or run this on a terminal to be asked")
        name, species, currency, email, place = _asked(name, species, currency, email, place)
    if email.strip() and (wrong := _address(email.strip())):
        raise click.UsageError(f'"{email}" is no e-mail address; write {wrong}, or leave --email out')
    try:
        change = new_collection(folder, Wanted(name, species, currency, language, units, email, place))
    except ContentError as error:
        if as_json:
            console.show_json({"written": [], "findings": [finding_facts(finding) for finding in error.findings]})
        else:
            console.show_findings(error.findings, None)
            console.show_message("Nothing was written.")
        return 1
    if not dry_run:
        write(where, change.files)
    if as_json:
        console.show_json({"written": [] if dry_run else [(folder / file.path).as_posix() for file in change.files]})
    elif dry_run:
        console.show_result(unified_diff(change))
        console.show_message("Only shown; nothing was written.")
    else:
        console.show_result(f"{change.told}\nNow:  cd {folder}\n      sitegen build\n      and open output/index.html")
    return 0


def _asked(
    name: str, species: tuple[str, ...], currency: str, email: str, place: str
) -> tuple[str, tuple[str, ...], str, str, str]:
    name = name or ask("What is your collection called?", needed=True)
    if not species:
        known = list(carried())
        species = (ask(f"Which species do you keep ({', '.join(known)})?", one_of(known), needed=True),)
    for each in species:
        carried_species(each)
    currency = currency or ask("In which currency are your prices (EUR, GBP, USD ...)?", _currency, needed=True)
    email = email or ask("An e-mail address for buyers, published (Enter: none):", _address)
    place = place or ask("Your town or region, published (Enter: none):")
    return name, species, currency, email, place


def _address(answer: str) -> str:
    return "" if is_email(answer.strip()) else "an address such as you@example.org"


def _currency(answer: str) -> str:
    return "" if answer.upper() in currencies() else "three letters of ISO 4217, such as EUR, GBP or USD"
