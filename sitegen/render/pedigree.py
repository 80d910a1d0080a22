"""The pedigree as inline SVG: outlines, fills, lines and legend marks. All geometry is in whole numbers.

Symbols: see :mod:`sitegen.site.pedigree_chart`. Hatching is drawn line by line and ends at the outline, so the drawing
needs no pattern and no clipping, has no ids, and stays sharp in print.
"""

from collections.abc import Iterator
from functools import cache
from math import isqrt

from markupsafe import Markup

from sitegen.render.drawings import escaped, ready
from sitegen.site.pedigree_chart import Fill, Key, Outline, PedigreeChart, Symbol

SIZE = {Outline.SQUARE: 90, Outline.CIRCLE: 100, Outline.DIAMOND: 122}
"""Half a square's side, a circle's radius, half a diamond's diagonal: about the same area."""
_STEP = {Fill.CARRIES: 44, Fill.MAY_CARRY: 56}
_MARK = 140

Region = tuple[int, int]
"""Which side of the middle a region is on: -1 left or upper, 1 right or lower, 0 both."""
REGIONS: dict[int, tuple[Region, ...]] = {
    1: ((0, 0),),
    2: ((-1, 0), (1, 0)),
    3: ((-1, -1), (1, -1), (-1, 1), (1, 1)),
    4: ((-1, -1), (1, -1), (-1, 1), (1, 1)),
}
"""Number of genes to the region of each: the whole, halves, quarters."""


def draw_pedigree(chart: PedigreeChart) -> Markup:
    """The whole chart without its legend (see :func:`draw_pedigree_mark`)."""
    parts = [
        f'<svg class="pedigree-chart" viewBox="0 0 {chart.wide} {chart.high}" width="{chart.wide // 10}" '
        f'height="{chart.high // 10}" role="img" xmlns="http://www.w3.org/2000/svg">'
        f"<title>{escaped(chart.title)}</title><desc>{escaped(chart.description)}</desc>"
    ]
    parts += [
        f'<text class="pedigree-generation" x="20" y="{y + 40}">{escaped(text)}</text>' for text, y in chart.generations
    ]
    for pair in chart.mates:
        parts.append(_mates_line(pair.left, pair.right, pair.y, related=pair.related))
        parts.append(f'<path class="pedigree-line" d="M{pair.middle} {pair.y}V{pair.young_y}"/>')
    parts += [_placed(symbol) for symbol in chart.symbols]
    parts.append("</svg>")
    return ready("".join(parts))


def draw_pedigree_mark(key: Key) -> Markup:
    """The mark of one line of the legend; empty where the legend only says something."""
    inner = ""
    if key.symbol is not None:
        inner = _symbol(key.symbol)
    elif key.double_line:
        inner = _mates_line(-_MARK + 20, _MARK - 20, 0, related=True)
    if not inner:
        return Markup("")
    edge = _MARK + 95 if key.symbol is not None and key.symbol.asked else _MARK
    box = f"{-edge} {-edge} {2 * edge} {2 * edge}"
    head = f'<svg class="pedigree-mark" viewBox="{box}" width="24" height="24" aria-hidden="true">'
    return ready(f"{head}{inner}</svg>")


def _mates_line(left: int, right: int, y: int, *, related: bool) -> str:
    """One line between mates; two when they are related."""
    heights = (y - 19, y + 19) if related else (y,)
    path = "".join(f"M{left} {height}H{right}" for height in heights)
    return f'<path class="pedigree-line" d="{path}"/>'


def _placed(symbol: Symbol) -> str:
    """A symbol in its place with its number and name below."""
    size = SIZE[symbol.shape]
    lines = (symbol.number, *symbol.lines)
    texts = "".join(
        f'<text class="{"pedigree-name" if rank else "pedigree-number"}" y="{size + 95 + rank * 108}" '
        f'text-anchor="middle">{escaped(text)}</text>'
        for rank, text in enumerate(lines)
    )
    mark = _symbol(symbol)
    return f'<g transform="translate({symbol.x} {symbol.y})">{mark}{texts}</g>'


def _symbol(symbol: Symbol) -> str:
    return _figure(symbol.shape, symbol.regions, died=symbol.died, asked=symbol.asked)


@cache  # a pure figure; the papers of a collection show the same few again and again
def _figure(shape: Outline, regions: tuple[Fill, ...], *, died: bool, asked: bool) -> str:
    """Outline, fills, divisions and marks around the point 0 0."""
    parts = [f'<path class="pedigree-paper" d="{region_path(shape, (0, 0))}"/>']
    unknown = bool(regions) and all(fill is Fill.UNKNOWN for fill in regions)
    if not unknown:
        for region, fill in zip(REGIONS[len(regions) or 1], regions, strict=False):
            parts += _filled(shape, region, fill)
        if len(regions) > 1 and any(fill is not Fill.OPEN for fill in regions):
            parts.append(f'<path class="pedigree-division" d="{_divisions(SIZE[shape], len(regions))}"/>')
    parts.append(f'<path class="pedigree-outline" d="{region_path(shape, (0, 0))}"/>')
    if unknown:
        parts.append('<text class="pedigree-unknown" y="48" text-anchor="middle">?</text>')
    if died:
        parts.append('<path class="pedigree-line" d="M-140 140L140 -140"/>')
    if asked:
        parts.append('<path class="pedigree-arrow" d="M-230 210L-118 112"/>')
        parts.append('<path class="pedigree-arrowhead" d="M-100 96L-134 150L-160 120Z"/>')
    return "".join(parts)


def _filled(shape: Outline, region: Region, fill: Fill) -> Iterator[str]:
    """What is drawn in one region."""
    if fill is Fill.SHOWS:
        yield f'<path class="pedigree-filled" d="{region_path(shape, region)}"/>'
    elif fill in _STEP:
        path = hatching(shape, region, _STEP[fill], crossed=fill is Fill.CARRIES)
        yield f'<path class="pedigree-hatching" d="{path}"/>'
    elif fill is Fill.UNKNOWN:
        x, y = region[0] * 45, region[1] * 42 + 36
        yield f'<text class="pedigree-unknown-part" x="{x}" y="{y}" text-anchor="middle">?</text>'


def _divisions(size: int, n_regions: int) -> str:
    upright = f"M0 {-size}V{size}"
    return upright if n_regions == 2 else f"{upright}M{-size} 0H{size}"


def region_path(shape: Outline, region: Region) -> str:
    """The outline of a region: the whole symbol, a half or a quarter."""
    size, (side, height) = SIZE[shape], region
    if shape is Outline.CIRCLE:
        return _round_path(size, side, height)
    left, right = (-size if side <= 0 else 0), (size if side >= 0 else 0)
    top, bottom = (-size if height <= 0 else 0), (size if height >= 0 else 0)
    if shape is Outline.SQUARE:
        return f"M{left} {top}H{right}V{bottom}H{left}Z"
    corners = [(left, 0), (0, top), (right, 0), (0, bottom)]
    return "M" + "L".join(f"{x} {y}" for x, y in dict.fromkeys(corners)) + "Z"


def _round_path(radius: int, side: int, height: int) -> str:
    """A circle, a half of it on one side, or a quarter."""
    if not side:
        return f"M{-radius} 0A{radius} {radius} 0 1 1 {radius} 0A{radius} {radius} 0 1 1 {-radius} 0Z"
    turn = 1 if side * (height or -1) < 0 else 0
    if not height:
        return f"M0 {-radius}A{radius} {radius} 0 0 {1 if side > 0 else 0} 0 {radius}Z"
    return f"M0 0L0 {height * radius}A{radius} {radius} 0 0 {turn} {side * radius} 0Z"


def hatching(shape: Outline, region: Region, step: int, *, crossed: bool) -> str:
    """Slanting lines that fill a region from outline to outline; ``crossed`` adds those that slant the other way."""
    return "".join(_slanting(shape, region, step, slant=slant) for slant in ((1, -1) if crossed else (1,)))


def _slanting(shape: Outline, region: Region, step: int, *, slant: int) -> str:
    """The lines ``slant * x + y = c`` within a region, for c in steps.

    With u = slant * x and v = y a line is u + v = c, and d = u - v runs along it. The outline bounds the absolute
    value of d, and each side of the middle bounds d once more (u >= 0 is d >= -c, v >= 0 is d <= c).
    """
    side, height = region[0] * slant, region[1]
    limit = 2 * SIZE[shape]
    parts = []
    for c in range(-limit + step // 2, limit, step):
        low, high = -_reach(shape, c), _reach(shape, c)
        low, high = max([low, -c] if side > 0 else [low]), min([high, -c] if side < 0 else [high])
        low, high = max([low, c] if height < 0 else [low]), min([high, c] if height > 0 else [high])
        if high - low >= 12:
            ends = [(slant * ((c + d) // 2), (c - d) // 2) for d in (low, high)]
            parts.append(f"M{ends[0][0]} {ends[0][1]}L{ends[1][0]} {ends[1][1]}")
    return "".join(parts)


def _reach(shape: Outline, c: int) -> int:
    """How far a slanting line reaches from its middle to the outline; below 0 when it misses the symbol."""
    size = SIZE[shape]
    if shape is Outline.CIRCLE:
        return isqrt(2 * size * size - c * c) if c * c <= 2 * size * size else -1
    if shape is Outline.SQUARE:
        return 2 * size - abs(c)
    return size if abs(c) <= size else -1
