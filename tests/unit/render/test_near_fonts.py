"""The fallback faces of the themes have the measures of the themes' own fonts."""

import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from near_fonts import at_weight, faces, mean_width

THEMES = Path(__file__).parents[3] / "themes"
DEJAVU = Path("/usr/share/fonts/truetype/dejavu")
FACE = re.compile(r'@font-face \{ font-family: "Near [^}]*\}')
SERIF = "specimen-sheet/assets/fonts/alegreya-roman-text.woff2"
SANS = "picture-room/assets/fonts/alegreya-sans-roman-text.woff2"


@pytest.mark.parametrize(
    ("sheet", "font"), [("specimen-sheet/assets/style.css", SERIF), ("picture-room/assets/more.css", SANS)]
)
def test_every_fallback_face_stands_on_the_lines_of_the_own_font(sheet: str, font: str) -> None:
    line, em = TTFont(THEMES / font)["hhea"], TTFont(THEMES / font)["head"].unitsPerEm
    found = FACE.findall((THEMES / sheet).read_text("utf-8"))
    assert len(found) >= 9
    for face in found:
        scale, ascent, descent = (float(figure) for figure in re.findall(r"([\d.]+)%", face)[:3])
        assert scale * ascent / 100 == pytest.approx(100 * line.ascent / em, abs=0.02)
        assert scale * descent / 100 == pytest.approx(-100 * line.descent / em, abs=0.02)


@pytest.mark.skipif(not DEJAVU.is_dir(), reason="the font to be measured is not on this machine")
def test_the_figures_in_the_style_sheets_are_those_of_the_fonts() -> None:
    plain, bold = DEJAVU / "DejaVuSerif.ttf", DEJAVU / "DejaVuSerif-Bold.ttf"
    made = faces(THEMES / SERIF, "normal", plain, bold, "Near DejaVu", ("DejaVu Serif",))
    sheet = (THEMES / "specimen-sheet/assets/style.css").read_text("utf-8")
    assert all(face in sheet for face in made)
    made = faces(THEMES / SANS, "normal", DEJAVU / "DejaVuSans.ttf", None, "Near DejaVu Sans", ("DejaVu Sans",))
    assert made[0] in (THEMES / "picture-room/assets/more.css").read_text("utf-8")


def test_a_heavier_weight_is_wider() -> None:
    assert mean_width(at_weight(THEMES / SERIF, 700)) > mean_width(at_weight(THEMES / SERIF, 400))
