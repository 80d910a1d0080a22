"""Drawings: as many marks as the number says, told in words as well."""

from xml.etree import ElementTree

import pytest

from sitegen.render.drawings import draw_icon_array, draw_weight_line
from sitegen.site.parts import IconArray, Point, WeightLine

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("filled", [0, 1, 33, 67, 99, 100])
def test_filled_and_open_marks_add_up_to_a_hundred(filled: int) -> None:
    drawn = ElementTree.fromstring(draw_icon_array(IconArray(filled, "t", "d")))
    marks = drawn.findall(f"{SVG}circle")
    assert [mark.get("class") for mark in marks] == ["mark-filled"] * filled + ["mark-open"] * (100 - filled)
    assert len({(mark.get("cx"), mark.get("cy")) for mark in marks}) == 100


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


def test_one_weighing_is_no_line_and_two_on_a_day_are_drawn() -> None:
    assert draw_weight_line(weights((0, 100))) == ""
    assert "polyline" in draw_weight_line(weights((0, 100), (0, 90)))
