"""Drawings: as many marks as the number says, told in words as well."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
import segno

from sitegen.render.drawings import (
    QUIET,
    dark_path,
    draw_dots,
    draw_icon_array,
    draw_qr,
    draw_staircase,
    draw_weight_line,
    matrix,
)
from sitegen.site.paper import Code
from sitegen.site.parts import IconArray, Point, Staircase, StairView, WeightLine

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("filled", [0, 1, 33, 67, 99, 100])
def test_filled_and_open_marks_add_up_to_a_hundred(filled: int) -> None:
    drawn = ElementTree.fromstring(draw_icon_array(IconArray(filled, "t", "d")))
    marks = drawn.findall(f"{SVG}circle")
    assert [mark.get("class") for mark in marks] == ["mark-filled"] * filled + ["mark-open"] * (100 - filled)
    assert len({(mark.get("cx"), mark.get("cy")) for mark in marks}) == 100


@pytest.mark.parametrize("filled", [0, 1, 9, 10, 11, 67, 99, 100])
def test_the_small_picture_has_as_many_marks_as_the_large_one(filled: int) -> None:
    """Each dash of no length, ten apart and with round ends, is a mark: one more than the tens in a line's length."""
    drawn = str(draw_dots(IconArray(filled, "t", "d")))
    assert "stroke-dasharray" not in drawn  # the style sheets say so, for both themes
    marks = {}
    for kind, path in re.findall(r'class="dots-(\w+)" d="([^"]+)"', drawn):
        lines = [(int(x), int(y), float(long)) for x, y, long in re.findall(r"M(\d+) (\d+)h([\d.]+)", path)]
        marks[kind] = {(x + 10 * n, y) for x, y, long in lines for n in range(int(long // 10) + 1)}
    assert len(marks.get("filled", ())) == filled
    assert marks.get("filled", set()) | marks.get("open", set()) == {
        (x, y) for x in range(5, 100, 10) for y in range(5, 100, 10)
    }
    assert sum(len(places) for places in marks.values()) == 100


def test_marks_differ_in_size_and_not_only_in_colour() -> None:
    drawn = ElementTree.fromstring(draw_icon_array(IconArray(50, "t", "d")))
    sizes = {mark.get("class"): mark.get("r") for mark in drawn.findall(f"{SVG}circle")}
    assert sizes["mark-filled"] != sizes["mark-open"]


def test_a_drawing_says_in_words_what_it_shows_and_words_stay_words() -> None:
    drawn = draw_icon_array(IconArray(67, "about 67 <b>", 'carry "x" & more'))
    read = ElementTree.fromstring(drawn)
    assert read.get("role") == "img"
    assert read.findtext(f"{SVG}title") == "about 67 <b>"
    assert read.findtext(f"{SVG}desc") == 'carry "x" & more'


def weights(*points: tuple[int, int]) -> WeightLine:
    return WeightLine(tuple(Point(day, grams, str(day), f"{grams} g") for day, grams in points), "t", "d")


def test_a_weight_line_starts_at_nought_and_rises_with_the_weight() -> None:
    drawn = ElementTree.fromstring(draw_weight_line(weights((0, 100), (100, 200), (200, 400))))
    dots = [(int(d.get("cx") or 0), int(d.get("cy") or 0)) for d in drawn.findall(f"{SVG}circle")]
    floor = int(drawn.find(f"{SVG}line").get("y1") or 0)  # type: ignore[union-attr]
    heights = [floor - y for _x, y in dots]
    assert heights == [heights[2] // 4, heights[2] // 2, heights[2]]
    assert dots[1][0] - dots[0][0] == dots[2][0] - dots[1][0]


@pytest.mark.parametrize(("grams", "height"), [(400, 3 / 4), (200, 1), (100, 1), (90, None)])
def test_the_breeding_weight_is_a_broken_line_where_the_animal_comes_near_it(grams: int, height: float | None) -> None:
    line = replace(weights((0, 50), (100, grams)), breeding=300)
    drawn = ElementTree.fromstring(draw_weight_line(line))
    lines = {each.get("class"): int(each.get("y1") or 0) for each in drawn.findall(f"{SVG}line")}
    top = min(int(dot.get("cy") or 0) for dot in drawn.findall(f"{SVG}circle"))
    if height is None:
        assert "line-breeding" not in lines
        return
    whole = 120  # of 140 units, less 10 at either edge
    assert lines["line-floor"] - lines["line-breeding"] == int(whole * height)
    assert lines["line-floor"] - top == whole * grams // max(300, grams)


def test_one_weighing_is_no_line_and_two_on_a_day_are_drawn() -> None:
    assert draw_weight_line(weights((0, 100))) == ""
    assert "polyline" in draw_weight_line(weights((0, 100), (0, 90)))


PHONE = 330
"""Units of width that are drawn one to one on a phone of 360 pixels."""


ADDRESS = "https://quillmoor.example/litters/2026-x/03.html"


def read_back(path: str, size: int) -> tuple[tuple[bool, ...], ...]:
    """The modules that a path of rectangles covers, without the light ones around."""
    dark = set()
    for x, y, wide, back in re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", path):
        assert wide == back
        dark |= {(int(x) + step, int(y)) for step in range(int(wide))}
    return tuple(tuple((x + QUIET, y + QUIET) in dark for x in range(size)) for y in range(size))


def test_the_path_holds_exactly_the_modules_of_the_code() -> None:
    made = segno.make(ADDRESS, error="m", micro=False, mask=2)
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


def stairs(*steps: tuple[int, str]) -> ElementTree.Element:
    made = tuple(StairView((), (), height, count) for height, count in steps)
    return ElementTree.fromstring(draw_staircase(Staircase("t", made, "n")))


def test_a_tread_stands_as_high_as_its_chance_and_bears_the_number_of_its_sentence() -> None:
    drawn = stairs((50, "50"), (1, "<1"), (100, "100"))
    assert drawn.get("aria-hidden") == "true"  # the sentences beside it are its text
    heights = [int(each) for each in re.findall(r"(\d+)H", drawn[-1].get("d") or "")]
    texts = [each for each in drawn if each.tag == "text"]
    scale = {each.text: int(each.get("y") or 0) for each in texts if each.get("class") == "chance-scale"}
    floor = scale["0"] - 4
    assert [floor - each for each in heights] == [50, 1, 100]
    assert scale["0"] - scale["100"] == 100
    words = [each.text for each in texts if each.get("class") == "chance-season"]
    assert words == ["1.", "2.", "3."]


@pytest.mark.parametrize("number", [2, 7, 9])
def test_a_staircase_fits_a_phone(number: int) -> None:
    assert int(stairs(*[(50, "50")] * number).get("width") or 0) <= PHONE
