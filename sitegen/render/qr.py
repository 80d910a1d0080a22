"""An address as a QR code: inline SVG of one path, dark on light in every theme, as a reader of codes expects.

Source:
    ISO/IEC 18004, by way of segno, which makes the matrix; four light modules all around.
"""

import segno
from markupsafe import Markup

from sitegen.site.paper import Code

QUIET = 4
"""Light modules around the code. Source: ISO/IEC 18004."""


def matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """Rows of modules, True for dark, without the light ones around; error correction is at least of level M."""
    return tuple(tuple(bool(module) for module in row) for row in segno.make(text, error="m", micro=False).matrix)


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
    """The code of an address with its text alternative."""
    rows = matrix(code.address)
    size = len(rows) + 2 * QUIET
    return Markup(
        '<svg class="qr" viewBox="0 0 {size} {size}" width="{px}" height="{px}" role="img" '
        'xmlns="http://www.w3.org/2000/svg" shape-rendering="crispEdges"><title>{title}</title>'
        '<path fill="#fff" d="M0 0h{size}v{size}H0z"/><path fill="#000" d="{path}"/></svg>'
    ).format(size=size, px=size * 4, title=code.title, path=dark_path(rows))
