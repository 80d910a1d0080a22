"""Every word of the program and of the carried themes in German, whole and with its places."""

import re
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po
from helpers.words_of_the_product import Message, messages_of_program, messages_of_themes

LOCALE = Path(__file__).parents[3] / "sitegen" / "words" / "locale"
PLACE = re.compile(r"\{\w+\}")


@pytest.fixture(scope="module")
def german() -> Catalog:
    with (LOCALE / "de.po").open("rb") as file:
        return read_po(file, locale="de", abort_invalid=True)


def entries(catalogue: Catalog) -> dict[Message, tuple[str, ...]]:
    """Message to its translations, one or one for each plural form."""
    found: dict[Message, tuple[str, ...]] = {}
    for message in catalogue:
        if message.id:
            key = message.id if isinstance(message.id, str) else (message.id[0], message.id[1])
            found[key] = (message.string,) if isinstance(message.string, str) else tuple(message.string)
    return found


def test_every_message_is_translated_and_none_is_left_over(german: Catalog) -> None:
    wanted = messages_of_program() | messages_of_themes()
    assert len(wanted) > 900
    assert wanted - set(entries(german)) == set(), "translate these in sitegen/words/locale/de.po"
    assert set(entries(german)) - wanted == set(), "no sentence says these any more"
    assert all(all(form.strip() or not form for form in forms) and all(forms) for forms in entries(german).values())


PRONOUNS = {"{he}", "{his}", "{him}"}
"""Places that a translation may leave out or add: German bends otherwise."""


def test_every_place_is_filled_in_german_too(german: Catalog) -> None:
    for message, forms in entries(german).items():
        ours = message if isinstance(message, tuple) else (message,)
        wanted = {place for text in ours for place in PLACE.findall(text)}
        told = {place for text in forms for place in PLACE.findall(text)}
        assert told - PRONOUNS == wanted - PRONOUNS, message
        assert not told & PRONOUNS or wanted & PRONOUNS, message
        assert set(PLACE.findall(forms[-1])) - PRONOUNS == set(PLACE.findall(ours[-1])) - PRONOUNS, message


def test_blanks_at_the_ends_are_kept(german: Catalog) -> None:
    for message, forms in entries(german).items():
        if isinstance(message, str):
            ends = re.match(r"\s*", message)[0], re.search(r"\s*$", message)[0]  # type: ignore[index]
            assert (re.match(r"\s*", forms[0])[0], re.search(r"\s*$", forms[0])[0]) == ends, message  # type: ignore[index]
