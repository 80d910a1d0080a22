"""Drawings of roads: marks where their years are, bars as high as their chances, all of it told in words too."""

import itertools
from xml.etree import ElementTree

import pytest

from sitegen.render.road_drawings import draw_chances, draw_road, draw_road_mark
from sitegen.site.road import RoadLane, RoadMark, RoadTimeline
from sitegen.site.roads import ChanceBar, ChanceChart

SVG = "{http://www.w3.org/2000/svg}"
PHONE = 330
"""Units of width that are drawn one to one on a phone of 360 pixels."""


def timeline(first: int = 2024, last: int = 2033, *lanes: RoadLane, today: int = 2900) -> RoadTimeline:
    return RoadTimeline("t <b>", "d & e", first, last, today, "today", lanes, ())


def drawn(road: RoadTimeline) -> ElementTree.Element:
    return ElementTree.fromstring(draw_road(road))


def chart(*bars: tuple[int, int]) -> ElementTree.Element:
    made = tuple(ChanceBar(str(2027 + i), by, before, str(by // 10)) for i, (by, before) in enumerate(bars))
    return ElementTree.fromstring(draw_chances(ChanceChart("t", "d", made)))


def test_a_mark_stands_under_its_year() -> None:
    lane = RoadLane("Stage 1", (RoadMark(2024, "born"), RoadMark(2026, "open")), since=2026)
    read = drawn(timeline(2024, 2033, lane))
    years = {t.text: t.get("x") for t in read.findall(f"{SVG}text") if t.get("class") == "road-year"}
    born, opened = read.findall(f"{SVG}circle")
    assert (born.get("class"), born.get("cx")) == ("road-born", years["2024"])
    assert (opened.get("class"), opened.get("cx")) == ("road-open", years["2026"])
    since = next(line for line in read.findall(f"{SVG}line") if line.get("class") == "road-since")
    assert since.get("x1") == years["2026"]


def test_today_stands_between_the_years_and_is_left_out_beyond_them() -> None:
    lines = drawn(timeline(today=2500)).findall(f"{SVG}line")
    today = next(line for line in lines if line.get("class") == "road-today")
    grid = [int(line.get("x1") or 0) for line in lines if line.get("class") == "road-grid"]
    assert grid[0] < int(today.get("x1") or 0) < grid[-1]
    for outside in (-1, 10_001):
        assert "road-today" not in draw_road(timeline(today=outside))


@pytest.mark.parametrize("years", [1, 5, 12, 18])
def test_a_road_of_up_to_eighteen_years_is_drawn_one_to_one_on_a_phone(years: int) -> None:
    read = drawn(timeline(2024, 2024 + years - 1))
    assert int(read.get("width") or 0) == PHONE


@pytest.mark.parametrize("years", [1, 5, 12, 30])
def test_the_years_that_are_written_do_not_touch(years: int) -> None:
    texts = [t for t in drawn(timeline(2024, 2024 + years - 1)).findall(f"{SVG}text") if t.get("class") == "road-year"]
    places = [int(t.get("x") or 0) for t in texts]
    assert all(later - earlier >= 36 for earlier, later in itertools.pairwise(places))


def test_every_kind_of_mark_has_a_shape_of_its_own() -> None:
    shapes = {kind: draw_road_mark(kind) for kind in ("born", "open", "planned", "median", "reached")}
    assert len(set(shapes.values())) == 5
    assert all('aria-hidden="true"' in shape for shape in shapes.values())


def test_words_stay_words() -> None:
    read = drawn(timeline(2024, 2026, RoadLane("<i>", ())))
    assert read.findtext(f"{SVG}title") == "t <b>"
    assert read.findtext(f"{SVG}desc") == "d & e"
    assert "<i>" in [t.text for t in read.findall(f"{SVG}text")]


def heights(read: ElementTree.Element) -> list[tuple[str, int]]:
    return [(str(r.get("class")), int(r.get("height") or 0)) for r in read.findall(f"{SVG}rect")]


def test_a_bar_is_as_high_as_its_chance_and_parted_at_the_season_before() -> None:
    assert heights(chart((0, 0), (500, 0), (800, 500), (800, 800))) == [
        ("chance-new", 75), ("chance-before", 75), ("chance-new", 45), ("chance-before", 120),
    ]  # fmt: skip


def test_none_is_no_bar_all_is_the_whole_height_and_nothing_else_is_either() -> None:
    assert heights(chart((0, 0))) == []
    assert heights(chart((1000, 0))) == [("chance-new", 150)]
    assert heights(chart((1, 0))) == [("chance-new", 2)]
    assert heights(chart((999, 0))) == [("chance-new", 148)]
    assert heights(chart((999, 0), (1000, 999))) == [("chance-new", 148), ("chance-before", 148), ("chance-new", 2)]


@pytest.mark.parametrize("seasons", [1, 7, 12, 25])
def test_the_seasons_that_are_written_do_not_touch_and_the_last_is_always_there(seasons: int) -> None:
    read = chart(*((500, 400) for _ in range(seasons)))
    texts = [t for t in read.findall(f"{SVG}text") if t.get("class") == "chance-season"]
    places = [int(t.get("x") or 0) for t in texts]
    assert all(later - earlier >= 36 for earlier, later in itertools.pairwise(places))
    assert texts[-1].text == str(2026 + seasons)
