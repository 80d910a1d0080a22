"""Small inline drawings: the odds as a picture of 100, and a line of weights. Each says in words what it shows."""

from functools import cache, lru_cache

from markupsafe import Markup

from sitegen.render.html import escaped, ready
from sitegen.site.parts import IconArray, WeightLine

_STEP = 10
_WIDE, _HIGH, _EDGE = 600, 140, 10


def draw_icon_array(array: IconArray) -> Markup:
    """Ten rows of ten marks, ``array.filled`` of them filled discs, the others small open rings.

    Filled and open marks differ in shape and size, so that colour is never needed to tell them apart.
    """
    return _icon_array(array.filled, array.title, array.description)


@lru_cache(maxsize=256)
def _icon_array(filled: int, title: str, description: str) -> Markup:
    return ready(
        '<svg class="odds-array" viewBox="0 0 100 100" width="100" height="100" role="img" '
        f'xmlns="http://www.w3.org/2000/svg"><title>{escaped(title)}</title>'
        f"<desc>{escaped(description)}</desc>{_marks(filled)}</svg>"
    )


@cache
def _marks(filled: int) -> str:
    """A hundred marks; put together once for each number."""
    marks = []
    for place in range(100):
        x, y = place % 10 * _STEP + 5, place // 10 * _STEP + 5
        if place < filled:
            marks.append(f'<circle class="mark-filled" cx="{x}" cy="{y}" r="3.7"/>')
        else:
            marks.append(f'<circle class="mark-open" cx="{x}" cy="{y}" r="2.5"/>')
    return "".join(marks)


def _places(line: WeightLine) -> list[tuple[int, int]]:
    """The points in the drawing's own units, whole numbers; heaviest at the top, nought at the bottom."""
    days = max(1, line.points[-1].day - line.points[0].day)
    heaviest = max(1, *(point.grams for point in line.points))
    return [
        (
            _EDGE + (point.day - line.points[0].day) * (_WIDE - 2 * _EDGE) // days,
            _HIGH - _EDGE - point.grams * (_HIGH - 2 * _EDGE) // heaviest,
        )
        for point in line.points
    ]


def draw_weight_line(line: WeightLine) -> Markup:
    """A line through the weighings over time, starting at nought grams; empty for fewer than two weighings."""
    if len(line.points) < 2:
        return Markup("")
    places = _places(line)
    path = " ".join(f"{x},{y}" for x, y in places)
    dots = "".join(f'<circle class="line-dot" cx="{x}" cy="{y}" r="3.5"/>' for x, y in places)
    floor = _HIGH - _EDGE
    return ready(
        f'<svg class="weight-line" viewBox="0 0 {_WIDE} {_HIGH}" width="{_WIDE}" height="{_HIGH}" role="img" '
        f'xmlns="http://www.w3.org/2000/svg"><title>{escaped(line.title)}</title>'
        f"<desc>{escaped(line.description)}</desc>"
        f'<line class="line-floor" x1="0" y1="{floor}" x2="{_WIDE}" y2="{floor}"/>'
        f'<polyline class="line-path" points="{path}" fill="none"/>{dots}</svg>'
    )
