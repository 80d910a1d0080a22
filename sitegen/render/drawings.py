"""Small inline drawings: the odds as a picture of 100, a line of weights, how a chance came about, an address.

Each says in words what it shows. Marks differ in shape and size, so that colour is never needed to tell them apart.
"""

from functools import cache

import segno
from markupsafe import Markup, escape

from sitegen.site.paper import Code
from sitegen.site.parts import IconArray, Staircase, WeightLine

_STEP = 10
_WIDE, _HIGH, _EDGE = 600, 140, 10
_FLAT = 3
"""The part of the breeding weight, one in so many, that an animal weighs at least where it is drawn."""
_CHART_WIDE, _CHART_LEFT, _CHART_TOP, _CHART_FOOT, _SMALLEST_STEP = 330, 30, 22, 24, 30
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


def draw_staircase(stairs: Staircase) -> Markup:
    """A tread a step, as high as its chance, numbered as the sentences beside it, which are its text alternative."""
    step = max(_SMALLEST_STEP, min(64, (_CHART_WIDE - _CHART_LEFT - 4) // len(stairs.steps)))
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


def matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """Rows of modules, True for dark, without the light ones around; error correction is at least of level M.

    To try all eight masks takes 15 times as long as the rest (0.3 s and 4.7 s for 300 animals). Mask 2 is the best one
    of most addresses, and on average within 3 in 100 of the best by the standard's own measure; readers know each.
    """
    made = segno.make(text, error="m", micro=False, mask=2)
    return tuple(tuple(bool(module) for module in row) for row in made.matrix)


def half_blocks(rows: tuple[tuple[bool, ...], ...]) -> list[str]:
    """The light modules in blocks, two rows in a line of text, with the light ones around."""
    width = len(rows) + 2 * QUIET
    light = [[True] * width for _ in range(width + width % 2)]
    for y, row in enumerate(rows, QUIET):
        light[y][QUIET : width - QUIET] = [not dark for dark in row]
    signs = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}
    pairs = zip(light[::2], light[1::2], strict=True)
    return ["".join(signs[each] for each in zip(upper, lower, strict=True)) for upper, lower in pairs]


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
