"""Small inline drawings: the odds as a picture of 100, a line of weights, a project's road and chances, an address.

Each says in words what it shows. Marks differ in shape and size, so that colour is never needed to tell them apart.
"""

from functools import cache

import segno
from markupsafe import Markup, escape

from sitegen.site.paper import Code
from sitegen.site.parts import IconArray, Staircase, WeightLine
from sitegen.site.road import RoadLane, RoadTimeline
from sitegen.site.roads import ChanceChart

_STEP = 10
_WIDE, _HIGH, _EDGE = 600, 140, 10
_FLAT = 3
"""The part of the breeding weight, one in so many, that an animal weighs at least where it is drawn."""
_ROAD_WIDE, _LABELS, _ROAD_EDGE = 330, 60, 8
_TOP, _LANE, _FOOT = 26, 36, 24
_SMALLEST_YEAR, _LABEL_WIDTH, _SMALLEST_STEP = 14, 36, 30
_CHART_HIGH, _CHART_LEFT, _CHART_TOP, _CHART_FOOT = 150, 30, 22, 24
QUIET = 4
"""Light modules around a QR code. Source: ISO/IEC 18004."""


def ready(html: str) -> Markup:
    """HTML that is printed as it is; every text in it was escaped when it was put together."""
    return Markup(html)  # noqa: S704 - see above


def escaped(text: str) -> str:
    """A text as it stands in HTML, between tags and within quotes.

    Most texts have nothing to escape; to see that takes a quarter of the time that ``markupsafe.escape`` takes.
    """
    if "&" in text or "<" in text or ">" in text or '"' in text or "'" in text:
        return str(escape(text))
    return text


def _svg(kind: str, title: str, description: str, wide: int, high: int, body: str) -> Markup:
    return ready(
        f'<svg class="{kind}" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" role="img" '
        f'xmlns="http://www.w3.org/2000/svg"><title>{escaped(title)}</title><desc>{escaped(description)}</desc>'
        f"{body}</svg>"
    )


def draw_icon_array(array: IconArray) -> Markup:
    """Ten rows of ten marks, ``array.filled`` of them filled discs, the others small open rings."""
    return _svg("odds-array", array.title, array.description, 100, 100, _marks(array.filled))


@cache
def _marks(filled: int) -> str:
    """A hundred marks; put together once for each number."""
    marks = []
    for place in range(100):
        x, y = place % 10 * _STEP + 5, place // 10 * _STEP + 5
        kind, radius = ("filled", "3.7") if place < filled else ("open", "2.5")
        marks.append(f'<circle class="mark-{kind}" cx="{x}" cy="{y}" r="{radius}"/>')
    return "".join(marks)


@cache
def draw_dots(array: IconArray) -> Markup:
    """The same picture small, for lists whose words stand beside it: two paths of round dashes, not a hundred marks."""

    def rows(start: int, end: int) -> str:
        found = []
        for row in range(10):
            first, last = max(start, row * 10), min(end, row * 10 + 10)
            if first < last:
                found.append(f"M{first % 10 * _STEP + 5} {row * _STEP + 5}h{(last - first - 1) * _STEP}.1")
        return "".join(found)

    paths = (("filled", rows(0, array.filled)), ("open", rows(array.filled, 100)))
    body = "".join(f'<path class="dots-{kind}" d="{path}"/>' for kind, path in paths if path)
    return ready(
        '<svg class="dots" viewBox="0 0 100 100" width="40" height="40" aria-hidden="true" focusable="false">'
        f"{body}</svg>"
    )


def _places(line: WeightLine) -> list[tuple[int, int]]:
    """The points in the drawing's own units, whole numbers; heaviest at the top, nought at the bottom."""
    days = max(1, line.points[-1].day - line.points[0].day)
    return [
        (
            _EDGE + (point.day - line.points[0].day) * (_WIDE - 2 * _EDGE) // days,
            _height_of(point.grams, line),
        )
        for point in line.points
    ]


def _heaviest(line: WeightLine) -> int:
    """The weight at the top: the breeding weight only where the line of a lighter animal would not lie flat by it."""
    grams = max(1, *(point.grams for point in line.points))
    return max(grams, line.breeding) if grams * _FLAT >= line.breeding else grams


def _height_of(grams: int, line: WeightLine) -> int:
    return _HIGH - _EDGE - grams * (_HIGH - 2 * _EDGE) // _heaviest(line)


def draw_weight_line(line: WeightLine) -> Markup:
    """A line through the weighings over time, starting at nought grams; empty for fewer than two weighings.

    A broken line marks the breeding weight where it lies within the picture.
    """
    if len(line.points) < 2:
        return Markup("")
    places = _places(line)
    path = " ".join(f"{x},{y}" for x, y in places)
    dots = "".join(f'<circle class="line-dot" cx="{x}" cy="{y}" r="3.5"/>' for x, y in places)
    floor = _HIGH - _EDGE
    body = (
        f'<line class="line-floor" x1="0" y1="{floor}" x2="{_WIDE}" y2="{floor}"/>'
        f'<polyline class="line-path" points="{path}" fill="none"/>{dots}'
    )
    if 0 < line.breeding <= _heaviest(line):
        y = _height_of(line.breeding, line)
        body += _line("line-breeding", 0, y, _WIDE, y)
    return _svg("weight-line", line.title, line.description, _WIDE, _HIGH, body)


def _text(x: int, y: int, words: str, kind: str, anchor: str = "middle") -> str:
    return f'<text class="{kind}" x="{x}" y="{y}" text-anchor="{anchor}">{escaped(words)}</text>'


def _line(kind: str, x1: int, y1: int, x2: int, y2: int) -> str:
    return f'<line class="{kind}" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'


def _mark(kind: str, x: int, y: int) -> str:
    """A disc for what was born, a ring for what can be, a bar for what was planned, a lozenge for the goal."""
    if kind == "born":
        return f'<circle class="road-born" cx="{x}" cy="{y}" r="6"/>'
    if kind == "open":
        return f'<circle class="road-open" cx="{x}" cy="{y}" r="5.5"/>'
    if kind == "planned":
        return _line("road-planned", x, y - 8, x, y + 8)
    shape = f"M{x} {y - 8}L{x + 7} {y}L{x} {y + 8}L{x - 7} {y}Z"
    return f'<path class="road-{"reached" if kind == "reached" else "median"}" d="{shape}"/>'


def draw_road_mark(kind: str) -> Markup:
    """One mark of the picture, for its legend."""
    body = _mark(kind, 10, 10)
    return ready(
        f'<svg class="road-mark" viewBox="0 0 20 20" width="20" height="20" aria-hidden="true" focusable="false">{body}'
        "</svg>"
    )


def draw_road(road: RoadTimeline) -> Markup:
    """The years from left to right, one line a stage and one for the goal; today as a broken line."""
    years = road.last - road.first + 1
    step = max(_SMALLEST_YEAR, (_ROAD_WIDE - _LABELS - _ROAD_EDGE) // years)
    right = _LABELS + years * step
    floor = _TOP + len(road.lanes) * _LANE
    every = -(-_LABEL_WIDTH // step)
    parts = []
    for rank in range(years):
        x = _LABELS + rank * step + step // 2
        if rank % every == 0:
            parts.append(_text(x, 15, str(road.first + rank), "road-year"))
            parts.append(_line("road-grid", x, _TOP - 4, x, floor))
    if 0 <= road.today <= years * 1000:
        x = _LABELS + road.today * step // 1000
        parts.append(_line("road-today", x, _TOP - 4, x, floor + 4))
        anchor = "middle" if _LABELS + 24 < x < right - 24 else ("start" if x < right - 24 else "end")
        parts.append(_text(x, floor + 18, road.today_label, "road-today-word", anchor))
    for rank, lane in enumerate(road.lanes):
        parts.append(_lane(lane, road, _TOP + rank * _LANE + _LANE // 2, step, right))
    wide = max(_ROAD_WIDE, right + _ROAD_EDGE)
    return _svg("road-picture", road.title, road.description, wide, floor + _FOOT, "".join(parts))


def _lane(lane: RoadLane, road: RoadTimeline, y: int, step: int, right: int) -> str:
    def place(year: int) -> int:
        return _LABELS + (min(year, road.last) - road.first) * step + step // 2

    parts = [_text(0, y + 5, lane.label, "road-label", "start"), _line("road-floor", _LABELS, y, right, y)]
    if lane.since:
        parts.append(_line("road-since", place(lane.since), y, right, y))
    parts += [_mark(mark.kind, place(mark.year), y) for mark in lane.marks]
    return "".join(parts)


def draw_chances(chart: ChanceChart) -> Markup:
    """A bar a season, as high as its chance; what came before the season is filled, what the season adds is open."""
    seasons = len(chart.bars)
    step = max(_SMALLEST_YEAR, (_ROAD_WIDE - _CHART_LEFT - _ROAD_EDGE) // max(1, seasons))
    step = min(step, 56)
    right = _CHART_LEFT + seasons * step
    floor = _CHART_TOP + _CHART_HIGH
    parts = [
        _line("chance-floor", _CHART_LEFT, floor, right, floor),
        _line("chance-half", _CHART_LEFT, floor - _CHART_HIGH // 2, right, floor - _CHART_HIGH // 2),
        _text(_CHART_LEFT - 5, floor - _CHART_HIGH // 2 + 4, "50", "chance-scale", "end"),
        _text(_CHART_LEFT - 5, floor - _CHART_HIGH + 4, "100", "chance-scale", "end"),
        _text(_CHART_LEFT - 5, floor + 4, "0", "chance-scale", "end"),
    ]
    every = -(-_LABEL_WIDTH // step)
    counted = -(-26 // step)
    for rank, bar in enumerate(chart.bars):
        x, width = _CHART_LEFT + rank * step + 2, step - 4
        top, before = _height(bar.by), _height(bar.before)
        if before:
            parts.append(_bar("chance-before", x, floor - before, width, before))
        if top > before:
            parts.append(_bar("chance-new", x, floor - top, width, top - before))
        middle = x + width // 2
        last = seasons - 1
        if bar.by and (last - rank) % counted == 0:
            parts.append(_text(middle, floor - top - 5, bar.count, "chance-count"))
        if (last - rank) % every == 0:
            parts.append(_text(middle, floor + 17, bar.season, "chance-season"))
    wide, high = max(right + _ROAD_EDGE, 180), floor + _CHART_FOOT
    return _svg("chance-chart", chart.title, chart.description, wide, high, "".join(parts))


def draw_staircase(stairs: Staircase) -> Markup:
    """A tread a step, as high as its chance, numbered as the sentences beside it, which are its text alternative."""
    step = max(_SMALLEST_STEP, min(64, (_ROAD_WIDE - _CHART_LEFT - 4) // len(stairs.steps)))
    right, floor, half = _CHART_LEFT + len(stairs.steps) * step, _CHART_TOP + 100, _CHART_TOP + 50
    parts = [_text(_CHART_LEFT - 5, floor + 4 - each, str(each), "chance-scale", "end") for each in (0, 50, 100)]
    parts += [
        _line("chance-floor", _CHART_LEFT, floor, right, floor),
        _line("chance-half", _CHART_LEFT, half, right, half),
    ]
    path = []
    for rank, stair in enumerate(stairs.steps):
        x, y = _CHART_LEFT + rank * step, floor - stair.height
        path.append(f"{'V' if rank else f'M{x} '}{y}H{x + step}")
        parts.append(_text(x + step // 2, y - 6, stair.count, "chance-count"))
        parts.append(_text(x + step // 2, floor + 17, f"{rank + 1}.", "chance-season"))
    return ready(
        f'<svg class="chance-chart staircase" viewBox="0 0 {right + 4} {floor + _CHART_FOOT}" width="{right + 4}" '
        f'height="{floor + _CHART_FOOT}" aria-hidden="true" focusable="false">{"".join(parts)}'
        f'<path class="staircase-path" d="{"".join(path)}"/></svg>'
    )


def _bar(kind: str, x: int, y: int, width: int, height: int) -> str:
    return f'<rect class="{kind}" x="{x}" y="{y}" width="{width}" height="{height}"/>'


def _height(thousandths: int) -> int:
    """Units of height: none and all only for exactly none and all."""
    if thousandths in (0, 1000):
        return thousandths * _CHART_HIGH // 1000
    return min(_CHART_HIGH - 2, max(2, thousandths * _CHART_HIGH // 1000))


def matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """Rows of modules, True for dark, without the light ones around; error correction is at least of level M.

    To try all eight masks takes 15 times as long as the rest (0.3 s and 4.7 s for 300 animals). Mask 2 is the best one
    of most addresses, and on average within 3 in 100 of the best by the standard's own measure; readers know each.
    """
    made = segno.make(text, error="m", micro=False, mask=2)
    return tuple(tuple(bool(module) for module in row) for row in made.matrix)


def dark_path(rows: tuple[tuple[bool, ...], ...]) -> str:
    """Every run of dark modules of a row as one rectangle, shifted by the light modules around."""
    parts = []
    for y, row in enumerate(rows, QUIET):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                parts.append(f"M{x + QUIET} {y}h{end - x}v1h-{end - x}z")
            x = end + 1
    return "".join(parts)


def draw_qr(code: Code) -> Markup:
    """An address as a QR code with its text alternative: one path, dark on light in every theme, as readers expect."""
    rows = matrix(code.address)
    size = len(rows) + 2 * QUIET
    return ready(
        f'<svg class="qr" viewBox="0 0 {size} {size}" width="{size * 4}" height="{size * 4}" role="img" '
        'xmlns="http://www.w3.org/2000/svg" shape-rendering="crispEdges">'
        f'<title>{escaped(code.title)}</title><path fill="#fff" d="M0 0h{size}v{size}H0z"/>'
        f'<path fill="#000" d="{dark_path(rows)}"/></svg>'
    )
