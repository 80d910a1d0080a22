"""``sitegen guide``: what there is to read, a page of it, or where a word stands in it."""

from collections.abc import Iterator
from pathlib import Path

import click

from sitegen.app.console import Console
from sitegen.keeper.species_list import species_page

_FOLDER = Path(__file__).parents[2] / "guide"


@click.command(name="guide", epilog="Example:  sitegen guide recipes")
@click.argument("words", nargs=-1, metavar="[TOPIC or WORDS]")
@click.option("--json", "as_json", is_flag=True, help="Machine output on standard output, nothing else there.")
def command(words: tuple[str, ...], as_json: bool) -> int:
    """Read the guide: a TOPIC whole, or every line in which the WORDS stand. Without either, the topics are listed.

    On a terminal a page is shown a screen at a time. All but species are plain files in the program's folder guide.
    """
    console, pages = Console(), {path.stem: path.read_text(encoding="utf-8") for path in sorted(_FOLDER.glob("*.md"))}
    topic = "-".join(words).lower()
    if topic not in pages:
        pages["species"] = species_page()
    if topic in pages:
        if as_json:
            console.show_json({"topic": topic, "text": pages[topic]})
        else:
            console.show_page(pages[topic])
        return 0
    if words:
        return _show_found(console, list(_lines_with(words, pages)), words, as_json)
    topics = {name: text.partition("\n")[0].lstrip("# ") for name, text in pages.items()}
    if as_json:
        console.show_json({"topics": topics})
        return 0
    console.show_table("", ["topic", "about"], list(topics.items()))
    console.show_message("Read one with: sitegen guide first-steps. Look for a word with: sitegen guide weights.")
    return 0


def _lines_with(words: tuple[str, ...], pages: dict[str, str]) -> Iterator[tuple[str, str, str]]:
    """(topic, heading, line) of every line in which all words stand, whatever their capitals."""
    wanted = [word.casefold() for word in words]
    for topic, text in pages.items():
        heading, in_box = "", False
        for line in text.splitlines():
            if line.startswith("```"):
                in_box = not in_box
            elif line.startswith("#") and not in_box:
                heading = line.lstrip("# ")
            if all(word in line.casefold() for word in wanted):
                yield topic, heading, line.strip("#| ")


def _show_found(console: Console, found: list[tuple[str, str, str]], words: tuple[str, ...], as_json: bool) -> int:
    if as_json:
        console.show_json({"found": [dict(zip(("topic", "heading", "line"), each, strict=True)) for each in found]})
    elif found:
        console.show_table("", ["topic", "under", "line"], found)
    else:
        console.show_message(f"Nothing in the guide has {' and '.join(words)}. sitegen guide alone lists the topics.")
    return 0 if found else 1
