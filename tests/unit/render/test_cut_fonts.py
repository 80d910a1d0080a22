"""The committed fonts have the letters that the pages use, name their letters truly, and are light."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.pofile import read_po
from cut_fonts import FACES, LATIN_1, PARTS, TEXT, unicode_range
from fontTools.ttLib import TTFont

REPOSITORY = Path(__file__).parents[3]
THEMES = REPOSITORY / "themes"
PLACEHOLDER = re.compile(r"\{[^{}]*\}|%\(\w+\)[sd]|&\w+;")


def letters_of(path: Path) -> frozenset[int]:
    return frozenset(TTFont(path).getBestCmap())


def said() -> Iterator[str]:
    """Every sentence of the program and of its themes, in English and German."""
    for path in (*REPOSITORY.glob("sitegen/words/locale/*.po"), *THEMES.glob("*/locale/*.po")):
        with path.open("rb") as file:
            for message in read_po(file):
                for text in (message.id, message.string):
                    yield from (text,) if isinstance(text, str) else text


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.into)
def test_every_letter_of_what_the_program_says_is_in_the_first_file(face) -> None:
    had = letters_of(THEMES / f"{face.into}-text.woff2")
    used = {ord(sign) for text in said() for sign in PLACEHOLDER.sub("", text)} - {ord("\n")}
    assert len(used) > 70
    assert {chr(sign) for sign in used - had} == set()
    assert {ord(sign) for sign in "ÄÖÜäöüß„“”‚‘’–—½¼¾×·°€£éèç"} <= had


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.into)
def test_names_of_latin_europe_are_in_the_three_files_together(face) -> None:
    """Latin-1 and Latin Extended-A whole, but for two letters of which the reader's own fonts are used."""
    had = frozenset().union(*(letters_of(THEMES / f"{face.into}-{part}.woff2") for part in PARTS))
    left_out = {0x149, 0x17F}  # deprecated in the Unicode Standard; the long s, which nobody writes now
    assert (LATIN_1 | frozenset(range(0x100, 0x180))) - had == left_out


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.into)
@pytest.mark.parametrize("part", PARTS)
def test_the_style_sheet_promises_the_letters_that_a_file_was_cut_to(face, part: str) -> None:
    name = f"fonts/{Path(face.into).name}-{part}.woff2"
    sheet = next(sheet for sheet in THEMES.glob("*/assets/*.css") if name in sheet.read_text("utf-8"))
    promised = re.search(rf'url\("{name}"\)[^;]*;\s*unicode-range:([^;]*);', sheet.read_text("utf-8"))
    assert promised is not None
    assert " ".join(promised[1].split()) == unicode_range(PARTS[part][1])
    assert letters_of(THEMES / f"{face.into}-{part}.woff2") == PARTS[part][1]


@pytest.mark.parametrize("theme", ["specimen-sheet", "picture-room"])
def test_the_first_files_of_a_theme_are_under_40_kb_together(theme: str) -> None:
    files = list((THEMES / theme / "assets" / "fonts").glob("*-text.woff2"))
    assert len(files) >= 2
    assert sum(file.stat().st_size for file in files) < 40_000


def test_nothing_is_cut_away_twice() -> None:
    assert TEXT.isdisjoint(PARTS["more"][1] | PARTS["ext"][1])
    assert PARTS["more"][1].isdisjoint(PARTS["ext"][1])
