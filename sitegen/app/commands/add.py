"""``sitegen add``: new records, weights, meals, events and photographs."""

import contextlib
import datetime as dt
import functools
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import click

from sitegen.app.commands import NearestGroup
from sitegen.app.commands.changing import changing
from sitegen.app.commands.options import DAY, today
from sitegen.content.folder import MAX_TEXT_BYTES
from sitegen.content.litters import FailedAs
from sitegen.findings import WrongUse
from sitegen.keeper.entries import add_decision, add_photos, add_update, quantity_text
from sitegen.keeper.from_paper import add_from_paper
from sitegen.keeper.lookup import find_species
from sitegen.keeper.new_records import (
    add_animal,
    add_litter,
    add_outcome,
    add_project,
    add_species,
    add_young,
    animal_values,
    split,
)
from sitegen.keeper.noted import (
    LINES,
    Noted,
    add_events,
    add_meals,
    add_measured,
    noted_lines,
    noted_words,
)
from sitegen.keeper.papers import MAX_BYTES, read_paper
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Proposal, Records
from sitegen.keeper.waiting import add_person

FAILED = click.Choice([each.value for each in FailedAs])
SEXES = click.Choice(["female", "male", "unknown"])
_OF_ANIMAL = ("sire", "dam", "from_litter", "line", "locality")
"""Options of an animal that a young does not have, called as in a record."""


@click.group(name="add", cls=NearestGroup)
def command() -> None:
    """Add to the records: an animal, a litter and what came of it, a young, a weight, an event, a photo or news.

    Nothing that stands there is overwritten. sitegen desk asks for the same in forms, in a browser.
    """


def _need(**said: object) -> None:
    """What a new record cannot do without.

    Raises:
        click.UsageError: It was not said.
    """
    if missing := [name for name, value in said.items() if not value]:
        they, them = ("is", "it") if len(missing) == 1 else ("are", "them")
        raise click.UsageError(f"{' and '.join(missing)} {they} missing; sitegen desk asks for {them} in a form")


def _together(*options: Callable[..., Any]) -> Callable[..., Any]:
    """Several options as one, in this order."""
    return lambda function: functools.reduce(lambda inner, option: option(inner), reversed(options), function)


_ON = click.option("--on", type=DAY, help="The day; today if left out.")
_FILE = click.option(
    "--file",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Read lines from this file, one animal a line; - in place of words reads lines that are typed or pasted.",
)
_looks = _together(
    click.option("--sex", type=SEXES, help="Its sex."),
    click.option("--born", default="", metavar="DATE", help="2021-07-14, 2021-07 or 2021."),
    click.option("--shows", multiple=True, metavar="LOOK", help="A look that is seen; nothing: looked, and saw none."),
    click.option("--unsure", multiple=True, metavar="GENE", help="A gene that was not judged, or all."),
    click.option(
        "--stated", multiple=True, metavar="GENE=WHAT", help="As stated by its seller: anery=certain, hypo=66%."
    ),
    click.option("--weight", default="", help="What it weighs: 12 g."),
    click.option("--on", type=DAY, help="The day of the weight; today if left out."),
    click.option("--price", default="", help="What is asked for it, 140 or 140 EUR; begins an offer."),
    click.option("--ready", type=DAY, help="The earliest day on which it may leave; begins an offer."),
    click.option("--kept", is_flag=True, help="It stays with you."),
)
"""The options that an animal and a young share."""
_course = _together(
    click.option("--laid", default="", metavar="DATE", help="When the eggs were laid."),
    click.option("--expected", default="", metavar="DATE", help="When the young are expected."),
    click.option("--born", default="", metavar="DATE", help="When the young were born or hatched."),
    click.option("--eggs", default="", metavar="N", help="Eggs laid."),
    click.option("--infertile", default="", metavar="N", help="Eggs that were not fertile."),
    click.option("--stillborn", default="", metavar="N", help="Young that were not alive."),
    click.option(
        "--young",
        "n_young",
        type=click.IntRange(0, 200),
        default=0,
        help="List this many young, to be filled in later.",
    ),
)
"""The options of what becomes of a pairing."""


def _values(said: Mapping[str, Any], *more: str) -> dict[str, Value]:
    """What was said of an animal by the options of ``_looks``, and by others that are called as in a record."""
    on, ready, price = today(said["on"]).isoformat(), said["ready"], said["price"].strip()
    offer = {"price": price} if price else {}
    if offer or ready:
        offer |= {"state": "available", "since": on} | ({"ready": ready.date().isoformat()} if ready else {})
    acquired = {"date": said.get("acquired"), "from": said.get("source")}
    keys = ("shows", "unsure", "stated", "kept", "sex", "born", *more)
    return animal_values(
        acquired={key: value for key, value in acquired.items() if value},
        weights={on: quantity_text(said["weight"])} if said["weight"].strip() else {},
        offer=offer,
        **{key: said[key] for key in keys},
    )


@command.command(epilog="Example:  sitegen add animal Juniper --sex female --born 2021-07-14 --shows amel,motley")
@click.argument("name", required=False, default="")
@click.option("--species", default="", help="Its species; needed when you keep several.")
@_looks
@click.option("--dam", default="", help="Its mother, when there is no litter record.")
@click.option("--sire", multiple=True, help="Its father, when there is no litter record.")
@click.option("--from-litter", default="", metavar="LITTER/NUMBER", help="The young it was in a litter's record.")
@click.option("--acquired", default="", metavar="DATE", help="When it came to you.")
@click.option("--from", "source", default="", help="From whom, in general words; this is published, so no name.")
@click.option("--line", default="", help="The selectively bred line it belongs to.")
@click.option("--locality", default="", help="Where its ancestors come from.")
@click.option("--id", "said_id", default="", help="Its folder; made of the name if left out.")
@click.option(
    "--from-paper",
    "paper",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    metavar="FILE",
    help="Take over the file beside a buyer's paper; other options override it, and --on is the day it came.",
)
@changing
def animal(records: Records, paper: Path | None, **said: Any) -> Proposal:
    """Add an animal called NAME, with a folder of its own."""
    if paper:
        return _from_paper(records, paper, said)
    _need(NAME=said["name"])
    return add_animal(records, said["name"], said["species"], _values(said, *_OF_ANIMAL), said["said_id"])


def _from_paper(records: Records, file: Path, said: Mapping[str, Any]) -> Proposal:
    """The change that takes a buyer's paper over."""
    if not file.is_file():  # a pipe would be waited for, and never end
        raise WrongUse(f"{file} is no file; name the file beside a buyer's paper, such as 03-paper.json")
    with file.open("rb") as stream:
        paper = read_paper(stream.read(MAX_BYTES + 1), file.as_posix())
    came = said["acquired"] or (said["on"].date().isoformat() if said["on"] else "")
    values = _values({**said, "acquired": came}, *_OF_ANIMAL)
    return add_from_paper(records, paper, values, said["name"], said["species"], said["said_id"])


@command.command(epilog="Example:  sitegen add young 2026-juniper-flint --sex male --shows amel --price 140")
@click.argument("litter", required=False, default="")
@click.argument("number", required=False, default="")
@click.option("--name", default="", help="What it is called.")
@_looks
@changing
def young(records: Records, **said: Any) -> Proposal:
    """Fill in the young that stands in LITTER as NUMBER, or add it.

    Without NUMBER it is the first of which nothing is said yet, or else a new one.
    """
    _need(LITTER=said["litter"])
    return add_young(records, said["litter"], said["number"], _values(said, "name"))


@command.command(epilog="Example:  sitegen add litter --dam juniper --sire flint --laid 2026-05-20 --eggs 18")
@click.option("--dam", default="", help="The mother: an animal's folder or name, or LITTER/NUMBER.")
@click.option("--sire", multiple=True, help="The father; several when it may have been any of them.")
@click.option("--paired", default="", metavar="DATE", help="When the parents were put together.")
@_course
@click.option("--name", default="", help="What the litter is called.")
@click.option("--species", default="", help="Its species, when the parents do not say it.")
@click.option("--id", "said_id", default="", help="Its folder; made of the year and the parents if left out.")
@changing
def litter(records: Records, **said: Any) -> Proposal:
    """Add a litter or clutch, with a folder of its own."""
    parent = said["dam"] or said["sire"]
    _need(**{"--dam": parent, "--sire": parent})
    lines = ("name", "species", "paired", "laid", "expected", "born", "eggs", "infertile", "stillborn")
    noted = {key: said[key] for key in lines}
    return add_litter(records, said["dam"], said["sire"], noted, said["n_young"], said["said_id"])


@command.command(epilog="Example:  sitegen add outcome 2026-juniper-flint --born 2026-07-18 --infertile 3 --young 11")
@click.argument("litter", required=False, default="")
@_course
@click.option("--failed", type=FAILED, help="No living young came: what became of it.")
@click.option("--on", type=DAY, help="The day on which that was clear; today if left out.")
@changing
def outcome(records: Records, **said: Any) -> Proposal:
    """Add what came of LITTER since it was recorded: eggs laid, young born, or that it failed."""
    _need(LITTER=said["litter"])
    if said["on"] and not said["failed"]:
        raise WrongUse("--on is the day of --failed; the others are dated by --laid and --born")
    noted = {key: said[key] for key in ("laid", "expected", "born", "eggs", "infertile", "stillborn")}
    failed = {"date": today(said["on"]).isoformat(), "what": said["failed"]} if said["failed"] else None
    return add_outcome(records, said["litter"], noted, said["n_young"], failed)


def _lines(records: Records, key: str, file: Path | None, on: dt.date) -> list[Noted]:
    """What stands in the lines of a file, or in those that are typed or pasted."""
    if not file and sys.stdin.isatty():
        click.echo(f"One animal a line, such as: {LINES[key]}. Ctrl-D on a line of its own ends it.", err=True)
    source = file.as_posix() if file else "pasted lines"
    with file.open("rb") if file else contextlib.nullcontext(sys.stdin.buffer) as stream:
        read = stream.read(MAX_TEXT_BYTES + 1)
    try:
        noted = noted_lines(records, key, read.decode("utf-8-sig"), source, on)
    except UnicodeDecodeError:
        raise WrongUse(f"{source}: this is no text; save it as text in UTF-8") from None
    if not noted or len(read) > MAX_TEXT_BYTES:
        raise WrongUse(f"{source}: {'too many lines' if noted else 'no line names an animal'}")
    return noted


def _measured(name: str, key: str, such: str) -> None:
    """Add the command for what is measured: a weight and a length differ in words alone."""

    @click.argument("words", nargs=-1, metavar=f"[ANIMAL {name.upper()}]...")
    @_ON
    @_FILE
    @changing
    def measured(records: Records, words: tuple[str, ...], on: dt.datetime | None, file: Path | None) -> Proposal:
        if file or words == ("-",):
            noted = _lines(records, key, file, today(on))
        elif len(words) > 2:
            noted = noted_words(key, words, today(on))
        else:
            _need(**{"ANIMAL": words, name.upper(): words[1:]})
            noted = [Noted(words[0], words[1], today(on))]
        return add_measured(records, key, noted)

    one, other = such.split(", ")[:2]
    lines = f"With - lines are read, one animal a line, all of them or none: juniper {one}."
    command.command(
        name,
        help=f"Add a {name.upper()} of ANIMAL: {such}; of several animals one after the other.\n\n{lines}",
        epilog=f'Example:  sitegen add {name} juniper "{one}" flint "{other}" --on 2025-05-03',
    )(measured)


_measured("weight", "weights", "402 g, 0.38 kg, 14 oz")
_measured("length", "lengths", "102 cm, 1.02 m, 40 in")


@command.command(epilog='Example:  sitegen add meal juniper flint "adult mouse" --on 2026-10-31 --refused')
@click.argument("words", nargs=-1, metavar="[ANIMAL... WHAT]")
@_ON
@click.option("--refused", is_flag=True, help="It was offered and not taken.")
@_FILE
@changing
def meal(records: Records, words: tuple[str, ...], file: Path | None, **said: Any) -> Proposal:
    """Add a meal of each ANIMAL: WHAT was offered.

    With - lines are read, one animal a line, all of them or none: juniper adult mouse, or flint refused adult mouse.
    """
    on, how = today(said["on"]), "refused " if said["refused"] else ""
    if file or words == ("-",):
        return add_meals(records, _lines(records, "meals", file, on))
    _need(ANIMAL=words, WHAT=words[1:])
    return add_meals(records, [Noted(animal, f"{how}{words[-1]}", on) for animal in words[:-1]])


@command.command(epilog="Example:  sitegen add event juniper introduced --with flint --on 2026-03-02")
@click.argument("animals", nargs=-1, metavar="ANIMAL...")
@click.argument("what", required=False, default="")
@_ON
@click.option("--with", "partner", default="", help="The other animal, for what two did.")
@click.option("--note", default="", help="A line of your own; it is never published.")
@_FILE
@changing
def event(records: Records, animals: tuple[str, ...], what: str, file: Path | None, **said: Any) -> Proposal:
    """Add to the diary of each ANIMAL, which may also be a litter, WHAT happened.

    Between two animals: introduced, copulation, separated. On the way to young: cooled, warmed, ovulated, prelay-shed,
    postovulation-shed. On any day: shed, vet, quarantined, moved, note.

    With - lines are read, one animal a line, all of them or none: juniper shed, or juniper introduced with flint.
    """
    on, partner = today(said["on"]), said["partner"]
    if file or (what == "-" and not animals):
        return add_events(records, _lines(records, "events", file, on), said["note"])
    if not (animals and what):
        raise click.UsageError("say which animals, and then what happened: sitegen add event juniper shed")
    return add_events(records, [Noted(animal, what, on, partner) for animal in animals], said["note"])


@command.command(epilog='Example:  sitegen add photo juniper holiday/IMG_0412.jpg --caption "After a shed"')
@click.argument("record", required=False, default="")
@click.argument("files", nargs=-1, type=click.Path())
@click.option("--date", type=DAY, help="The day they were taken, if they do not say so themselves.")
@click.option("--caption", default="", help="A line of text below them.")
@changing
def photo(records: Records, **said: Any) -> Proposal:
    """Copy photos FILES beside RECORD: an animal, LITTER/NUMBER, a litter or a project."""
    taken = said["date"].date() if said["date"] else None
    _need(RECORD=said["record"], FILES=said["files"])
    return add_photos(records, said["record"], [Path(file) for file in said["files"]], taken, said["caption"])


@command.command(epilog='Example:  sitegen add project "Grey ladder" --goal amel,motley --species corn-snake')
@click.argument("name", required=False, default="")
@click.option("--goal", multiple=True, metavar="LOOK", help="A look that the animal it is after shows.")
@click.option("--species", default="", help="Its species; needed when you keep several.")
@click.option("--id", "said_id", default="", help="Its folder; made of the name if left out.")
@changing
def project(records: Records, **said: Any) -> Proposal:
    """Add a project called NAME, planned, with a folder of its own."""
    _need(NAME=said["name"], **{"--goal": said["goal"]})
    return add_project(records, said["name"], said["goal"], said["species"], said["said_id"])


@command.command(epilog='Example:  sitegen add update copper-lace "First pips" --text "Two of ten are out."')
@click.argument("project", required=False, default="")
@click.argument("title", required=False, default="")
@click.option("--text", default="", help="What there is to tell, Markdown; - reads it from standard input.")
@click.option("--date", type=DAY, help="The day it is about; today if left out.")
@changing
def update(records: Records, **said: Any) -> Proposal:
    """Add a dated note with a TITLE to PROJECT."""
    _need(PROJECT=said["project"], TITLE=said["title"])
    told = sys.stdin.read() if said["text"] == "-" else said["text"]
    return add_update(records, said["project"], said["title"], told, today(said["date"]))


@command.command(epilog='Example:  sitegen add decision river-mist "Two daughters are to stay." --stage first')
@click.argument("project", required=False, default="")
@click.argument("text", required=False, default="")
@click.option("--stage", default="", help="The stage it is about.")
@click.option("--date", type=DAY, help="The day; today if left out.")
@changing
def decision(records: Records, **said: Any) -> Proposal:
    """Add what was decided for PROJECT and why, in a line or two of TEXT."""
    _need(PROJECT=said["project"], TEXT=said["text"])
    return add_decision(records, said["project"], said["text"], said["stage"], today(said["date"]))


@command.command(epilog='Example:  sitegen add waiting "Bea from the fair" --species corn-snake --shows amel')
@click.argument("name")
@click.option("--contact", default="", help="How you reach them.")
@click.option("--since", type=DAY, help="Since when they wait; today if left out.")
@click.option("--wants", default="", help="What they look for, in their words.")
@click.option("--species", default="", help="The species; needed beside looks and genes when you keep several.")
@click.option("--sex", type=click.Choice(["female", "male"]), help="Its sex.")
@click.option("--shows", multiple=True, metavar="LOOK", help="A look that it must show.")
@click.option("--carries", multiple=True, metavar="GENE", help="A gene that it must carry.")
@click.option("--up-to", default="", help="The most that they would pay, 140 or 140 EUR.")
@changing
def waiting(records: Records, name: str, **said: Any) -> Proposal:
    """Add NAME to the list of those who wait for an animal; it is never published."""
    shows, carries, species = split(said["shows"]), split(said["carries"]), said["species"]
    if species or shows or carries:
        species = find_species(records, species)
    wish = {"species": species, "shows": shows, "carries": carries, "since": today(said["since"]).isoformat()}
    return add_person(records, name, {**said, **wish})


@command.command(epilog="Example:  sitegen add species kenyan-sand-boa")
@click.argument("name")
@changing
def species(records: Records, name: str) -> Proposal:
    """Add the file of a further species NAME that the program carries."""
    return add_species(records, name)
