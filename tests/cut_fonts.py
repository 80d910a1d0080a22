"""Cuts the fonts of the themes to the letters of Latin text. The cut files are committed; this makes them again.

    npm pack @fontsource-variable/alegreya@5.3.0 @fontsource/alegreya-sans@5.3.0     (then unpack both)
    python tests/cut_fonts.py FOLDER-WITH-THEIR-FILES

Every face becomes three files, of which a browser fetches the ones whose letters stand on a page (``unicode-range``):
``text`` for English and German and the common accents, ``more`` for the rest of Latin-1, ``ext`` for Latin Extended-A
and its like. The licence (SIL Open Font License 1.1, without a reserved name) allows that; it stands beside the files.
"""

import io
import sys
from dataclasses import dataclass
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

THEMES = Path(__file__).parents[1] / "themes"

LATIN_1 = frozenset(range(0x20, 0x7F)) | frozenset(range(0xA0, 0x100)) - {0xAD}
SIGNS = frozenset(map(ord, "ıŒœ–—‘’‚“”„•…′″‹›⁄€™−"))
SELDOM = frozenset(map(ord, "\\^`{|}~´µ¶÷¡¢¤¥¦¨ª¬\xad¯²³¹¸º¿ÀÁÂÃÅÆÇÈÊËÌÍÎÏÐÑÒÓÔÕØÙÚÛÝÞâãåæêëìîïðòôõøùûýþÿıŒœ′″‹›™"))
TEXT = (LATIN_1 | SIGNS) - SELDOM
"""What a page in English or German needs, and the accents that a name brings along most often."""

MORE = (LATIN_1 | SIGNS) - TEXT
EXT = (
    frozenset((*range(0x100, 0x149), *range(0x14A, 0x17F), *range(0x218, 0x21C), *range(0x1E80, 0x1E86), 0x1E9E))
    - TEXT
    - MORE
)
"""Latin Extended-A but for two letters that the fonts have not (``ŉ``, deprecated, and the long s), the commas of
Romanian, the accents of Welsh, and the large ``ß``."""

DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
ALTERNATES = (
    "f.f", "f.l", "fi", "fl", "f.t", "f_f",
    *(f"{digit}.{kind}" for digit in DIGITS for kind in ("lf", "tf", "tosf")),
)  # fmt: skip
"""Glyphs that no letter has, but that the style sheets reach: ligatures of f; lining and tabular figures."""

FEATURES = ["kern", "liga", "lnum", "locl", "pnum", "rvrn", "tnum"]


@dataclass(frozen=True, slots=True)
class Face:
    """One face: its file in the theme, its file in the package (``%s`` for ``latin`` or ``latin-ext``), its weights."""

    into: str
    source: str
    weights: tuple[int, int] | int | None


SERIF, SANS = "specimen-sheet/assets/fonts/alegreya", "picture-room/assets/fonts/alegreya-sans"
FACES = (
    Face(f"{SERIF}-roman", "alegreya-%s-wght-normal", (400, 700)),
    Face(f"{SERIF}-italic", "alegreya-%s-wght-italic", 400),
    Face(f"{SANS}-roman", "alegreya-sans-%s-400-normal", None),
    Face(f"{SANS}-italic", "alegreya-sans-%s-400-italic", None),
    Face(f"{SANS}-bold", "alegreya-sans-%s-700-normal", None),
)
PARTS = {"text": ("latin", TEXT), "more": ("latin", MORE), "ext": ("latin-ext", EXT)}


def cut(source: Path, letters: frozenset[int], weights: tuple[int, int] | int | None) -> bytes:
    """The font with these letters alone, as WOFF2, without hints for screens of few dots."""
    font = TTFont(source)
    if weights is not None:
        font = instantiateVariableFont(font, {"wght": weights})
        whole = io.BytesIO()
        font.flavor = None
        font.save(whole)
        font = TTFont(io.BytesIO(whole.getvalue()))
    options = Options(
        layout_features=FEATURES, layout_closure=False, hinting=False, notdef_outline=True, name_IDs=[0, 1, 2, 13, 14]
    )
    cutter = Subsetter(options)
    reached = ALTERNATES if ord("f") in letters else ()
    cutter.populate(unicodes=letters, glyphs=[glyph for glyph in reached if glyph in font.getGlyphOrder()])
    cutter.subset(font)
    font.flavor = "woff2"
    font["head"].modified = font["head"].created
    font.recalcTimestamp = False
    written = io.BytesIO()
    font.save(written)
    return written.getvalue()


def unicode_range(letters: frozenset[int]) -> str:
    """The letters as a ``unicode-range`` descriptor."""
    runs: list[list[int]] = []
    for letter in sorted(letters):
        if runs and letter == runs[-1][1] + 1:
            runs[-1][1] = letter
        else:
            runs.append([letter, letter])
    return ", ".join(f"U+{a:04X}" if a == b else f"U+{a:04X}-{b:04X}" for a, b in runs)


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    for face in FACES:
        for part, (script, letters) in PARTS.items():
            source = next(folder.rglob(f"{face.source % script}.woff2"))
            made = cut(source, letters, face.weights)
            (THEMES / f"{face.into}-{part}.woff2").write_bytes(made)
            print(f"{face.into}-{part}.woff2", len(made))
    for part, (_, letters) in PARTS.items():
        print(part, unicode_range(letters))
