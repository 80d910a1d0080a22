"""The QR code: the modules are segno's, and a plain reader of our path finds them again."""

import re

import segno

from sitegen.render.qr import QUIET, dark_path, draw_qr, matrix
from sitegen.site.paper import Code

ADDRESS = "https://quillmoor.example/litters/2026-x/03.html"


def read_back(path: str, size: int) -> tuple[tuple[bool, ...], ...]:
    """The modules that a path of rectangles covers, without the light ones around."""
    dark = set()
    for x, y, wide, back in re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", path):
        assert wide == back
        dark |= {(int(x) + step, int(y)) for step in range(int(wide))}
    return tuple(tuple((x + QUIET, y + QUIET) in dark for x in range(size)) for y in range(size))


def test_the_path_holds_exactly_the_modules_of_the_code() -> None:
    made = segno.make(ADDRESS, error="m", micro=False)
    wanted = tuple(tuple(bool(module) for module in row) for row in made.matrix)
    assert read_back(dark_path(matrix(ADDRESS)), len(wanted)) == wanted
    assert made.error in ("M", "Q", "H")
    assert not made.is_micro


def test_nothing_dark_lies_in_the_quiet_zone() -> None:
    size = len(matrix(ADDRESS))
    for x, y, wide in re.findall(r"M(\d+) (\d+)h(\d+)", dark_path(matrix(ADDRESS))):
        assert QUIET <= int(x)
        assert int(x) + int(wide) <= size + QUIET
        assert QUIET <= int(y) < size + QUIET


def test_another_address_gives_another_code() -> None:
    assert matrix(ADDRESS) != matrix(ADDRESS.replace("03", "04"))


def test_the_drawing_is_dark_on_light_with_words_and_without_a_style() -> None:
    svg = str(draw_qr(Code(ADDRESS, "QR code of <No. 03>")))
    assert "<title>QR code of &lt;No. 03&gt;</title>" in svg
    assert "style" not in svg
    assert svg.index('fill="#fff"') < svg.index('fill="#000"')
