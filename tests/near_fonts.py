"""Makes the fallback faces of the themes: local fonts, scaled so that the theme's own font moves little when it comes.

    python tests/near_fonts.py themes/specimen-sheet/assets/fonts/alegreya-roman-text.woff2 NEAR STYLE FILE...

For every weight a ``@font-face`` with ``size-adjust`` (own mean width over the local font's) and with the own font's
ascent, descent and line gap over it, so that lines break where they would and stand where they would.

Source:
    CSS Fonts Level 5, ``size-adjust`` (scales all metrics of a face) and ``ascent-override`` (a share of the em, scaled
    with it). Of fonts that only stand on other systems the widths are those of free fonts that were drawn to have
    them: Gelasio for Georgia, Liberation Serif for Times New Roman, Liberation Sans for Arial (their makers' word).
"""

import sys
from collections import Counter
from pathlib import Path

from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

SAMPLE = (
    "May carry hypo: about 67 in 100 such young do, 33 do not (2/3; the trade writes “66% het”). Both parents carry it "
    "for certain and it does not show it. Not proven. Shows amelanism: two copies, so every young gets one. Carries "
    "anery (one copy) for certain: its sire shows anery. Juniper and Flint 2026, female, born 18 July 2026, available, "
    "can go from 1 October. Nothing else is known or claimed. “Not known to carry” does not mean “does not carry”. "
    "Every genetic statement on these pages is computed from recorded evidence: parents, young, tests and what earlier "
    "keepers stated. None is typed by hand. We keep two rooms of snakes in Saltby-on-Quill, write down what we see, "
    "and tell you how sure we are. Healthy reptiles can carry Salmonella; wash your hands after touching an animal, "
    "its water or anything in its enclosure. Check your national, state and local rules before you buy or ship. "
)
"""Words as they stand on the pages; letters count as often as they stand here."""


CLOSER = 0.99
"""Of the ratio of the mean widths: over fifteen kinds of page at 360 and 1280 px the arrival of the font moved least
with it (0.0049 at most; 0.073 with 1, where two more lines of one page broke elsewhere)."""


def mean_width(font: TTFont) -> float:
    """Mean advance of the sample's letters, in ems."""
    letters, widths = font.getBestCmap(), font["hmtx"]
    known = {letter: count for letter, count in Counter(SAMPLE).items() if ord(letter) in letters}
    total = sum(count * widths[letters[ord(letter)]][0] for letter, count in known.items())
    return total / sum(known.values()) / font["head"].unitsPerEm


def at_weight(path: Path, weight: int) -> TTFont:
    """A variable font at one weight; any other font as it is."""
    font = TTFont(path)
    if "fvar" not in font:
        return font
    return instantiateVariableFont(font, {"wght": weight})


def face(own: TTFont, near: TTFont, name: str, style: str, weight: int, local: tuple[str, ...]) -> str:
    """One ``@font-face`` with the figures of the two fonts."""
    scale = CLOSER * mean_width(own) / mean_width(near)
    em, line = own["head"].unitsPerEm, own["hhea"]
    sources = ", ".join(f'local("{font}")' for font in local)
    return (
        f'@font-face {{ font-family: "{name}"; font-style: {style}; font-weight: {weight}; src: {sources};\n'
        f"  size-adjust: {100 * scale:.2f}%; ascent-override: {100 * line.ascent / em / scale:.2f}%; "
        f"descent-override: {-100 * line.descent / em / scale:.2f}%; "
        f"line-gap-override: {100 * line.lineGap / em / scale:.0f}%; }}"
    )


def faces(own: Path, style: str, near: Path, bold: Path | None, name: str, local: tuple[str, ...]) -> tuple[str, ...]:
    """The faces of one style: the local font at its plain weight for 400 and 500, and its bold one for 700."""
    found = [face(at_weight(own, weight), at_weight(near, 400), name, style, weight, local) for weight in (400, 500)]
    if bold is not None:
        ending = " Bold" if style == "normal" else " Bold Italic"
        names = tuple(font.removesuffix(" Italic") + ending for font in local)
        found.append(face(at_weight(own, 700), at_weight(bold, 700), name, style, 700, names))
    return tuple(found)


if __name__ == "__main__":
    own, style, near, bold, name, *local = sys.argv[1:]
    print("\n".join(faces(Path(own), style, Path(near), Path(bold) if bold else None, name, tuple(local))))
