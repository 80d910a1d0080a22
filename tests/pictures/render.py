"""Puts a body on a ground: scales, light, shadow, head and eyes."""

from dataclasses import dataclass, field

import numpy as np
from body import Patch, Spine, patches
from coats import DARK_TONGUE, Skin, paint
from noise import Array, colour, mix, step
from scipy.ndimage import gaussian_filter

LIGHT = np.array([-0.46, -0.58, 0.67], dtype=np.float32)
ROWS = 23
SCALE_LENGTH = 0.36


@dataclass
class Canvas:
    """The picture so far: colours, shadow still to be laid, and which part of which body is on top."""

    image: Array
    shadow: Array = field(init=False)
    owner: Array = field(init=False)

    def __post_init__(self) -> None:
        self.shadow = np.zeros(self.image.shape[:2], dtype=np.float32)
        self.owner = np.full(self.image.shape[:2], -1e6, dtype=np.float32)

    def finished(self) -> Array:
        """The picture with its shadows laid, cool where the light does not reach."""
        depth = self.shadow[..., None] * np.array([0.80, 0.76, 0.68], dtype=np.float32)
        return np.clip(self.image * (1 - depth), 0, 1)


def draw_snake(canvas: Canvas, body: Spine, skin: Skin, seed: float, rank: int = 0) -> None:
    """One snake, tail first, so that later parts lie over earlier ones."""
    height, width = canvas.shadow.shape
    _ground_shadow(canvas, body, width, height)
    base = rank * 1e5
    for patch in patches(body, width, height):
        _contact_shadow(canvas, patch, body, base)
        _lay(canvas, patch, _coloured(patch, body, skin, seed), base)
    _face(canvas, body, skin)


def _ground_shadow(canvas: Canvas, body: Spine, width: int, height: int) -> None:
    """A wide soft shadow on the ground, drawn at a quarter of the size."""
    small = np.zeros((height // 4 + 1, width // 4 + 1), dtype=np.float32)
    reach = body.thickness * 0.55
    for point, half in zip(body.points[::4], body.half_width[::4], strict=True):
        x, y = (point + reach * np.array([0.5, 0.8])) / 4
        r = max(half / 4, 0.6)
        rows = slice(max(int(y - r), 0), max(int(y + r) + 1, 0))
        columns = slice(max(int(x - r), 0), max(int(x + r) + 1, 0))
        yy, xx = np.mgrid[rows.start : rows.stop, columns.start : columns.stop]
        part = small[rows, columns]
        yy, xx = yy[: part.shape[0], : part.shape[1]], xx[: part.shape[0], : part.shape[1]]
        np.maximum(part, (np.hypot(xx - x, yy - y) < r).astype(np.float32), out=part)
    soft = gaussian_filter(small, reach / 4 * 0.8)
    soft = np.repeat(np.repeat(soft, 4, axis=0), 4, axis=1)[:height, :width]
    soft = gaussian_filter(soft, 3)
    canvas.shadow = np.maximum(canvas.shadow, soft * 0.62)


def _contact_shadow(canvas: Canvas, patch: Patch, body: Spine, base: float) -> None:
    """Darkens what lies under this piece: the ground, other coils, other snakes."""
    spread = body.thickness * 0.30
    pad = int(spread * 3) + 2
    top, left = patch.rows.start - pad, patch.columns.start - pad
    down, right = int(spread * 0.7), int(spread * 0.45)
    shape = (patch.cover.shape[0] + 2 * pad, patch.cover.shape[1] + 2 * pad)
    mask = np.zeros(shape, dtype=np.float32)
    mask[pad : pad + patch.cover.shape[0], pad : pad + patch.cover.shape[1]] = patch.cover
    mask = gaussian_filter(np.roll(mask, (down, right), axis=(0, 1)), spread, truncate=2.2)
    height, width = canvas.shadow.shape
    y0, x0, y1, x1 = max(top, 0), max(left, 0), min(top + shape[0], height), min(left + shape[1], width)
    if y0 >= y1 or x0 >= x1:
        return
    part = np.clip(mask[y0 - top : y1 - top, x0 - left : x1 - left] * 1.25, 0, 0.95)
    below = canvas.owner[y0:y1, x0:x1] < base + patch.first - 3.2 * body.thickness
    area = canvas.shadow[y0:y1, x0:x1]
    np.maximum(area, np.where(below, part, 0), out=area)


def _lay(canvas: Canvas, patch: Patch, painted: Array, base: float) -> None:
    cover = patch.cover[..., None]
    canvas.image[patch.rows, patch.columns] = mix(canvas.image[patch.rows, patch.columns], painted, cover)
    canvas.shadow[patch.rows, patch.columns] *= 1 - patch.cover
    owner = canvas.owner[patch.rows, patch.columns]
    np.copyto(owner, base + patch.along, where=patch.cover > 0.5)


def _coloured(patch: Patch, body: Spine, skin: Skin, seed: float) -> Array:
    """Pattern seen through scales, then lit as a round body."""
    unit = body.thickness
    around = np.arcsin(np.clip(patch.across, -1, 1)) / (np.pi / 2)
    along = patch.along / unit
    to_snout = (body.length - patch.along) / body.head_length
    on_head = step(0.0, 0.25, 1.08 - to_snout)
    row, column, edge, hill, chance = _scales(along, around, seed)
    seen_along = along * 0.45 + column * 0.55
    seen_around = around * 0.45 + row * 0.55
    neck = step(0.55, 0.95, patch.along / body.length)
    back = paint(skin, seen_along, seen_around, neck)
    head = _head_colours(skin, to_snout, patch.across)
    painted = mix(back, head, on_head)
    strength = 1 - 0.75 * on_head
    painted = painted * (1 + (0.05 * chance + 0.08 * hill - 0.15 * edge)[..., None] * strength[..., None])
    return _lit(painted, patch, hill * strength, skin)


def _scales(along: Array, around: Array, seed: float) -> tuple[Array, Array, Array, Array, Array]:
    """For each pixel: centre of its scale, how near its edge, how high on it, and a number of its own.

    The scales are diamonds that stand in slanting rows.
    """
    down = around * ROWS / 4
    ahead = along / SCALE_LENGTH
    first, second = ahead + down, ahead - down
    p, q = np.round(first), np.round(second)
    x, y = first - p, second - q
    edge = step(0.62, 1.0, 2 * np.maximum(np.abs(x), np.abs(y)))
    hill = np.clip(0.75 - np.abs(x) - np.abs(y), 0, 1) + 0.4 * (x + y)
    whirl = np.sin(p * 127.1 + q * 311.7 + seed) * 43758.5453
    chance = 2 * (whirl - np.floor(whirl)) - 1
    return (p - q) * 2 / ROWS, (p + q) / 2 * SCALE_LENGTH, edge, hill, chance.astype(np.float32)


def _lit(painted: Array, patch: Patch, hill: Array, skin: Skin) -> Array:
    """Light from the upper left, a soft sheen on the back, and a fine dark outline."""
    across = patch.across * 0.97
    up = np.sqrt(np.maximum(1 - across**2, 0))
    facing = (patch.normal @ LIGHT[:2]) * across + up * LIGHT[2]
    light = 0.50 + 0.66 * np.clip(facing, 0, 1) - 0.16 * np.abs(across) ** 5
    half = LIGHT + np.array([0, 0, 1], dtype=np.float32)
    half /= np.linalg.norm(half)
    shine = np.clip((patch.normal @ half[:2]) * across + up * half[2], 0, 1) ** 26
    lit = painted * light[..., None] + (shine * (0.15 + 0.16 * np.clip(hill, 0, 1)))[..., None]
    warm = np.array([1.03, 1.0, 0.955], dtype=np.float32)
    lit = lit * warm
    lit = lit + 0.06 * np.clip(-facing, 0, 1)[..., None] * np.array([0.9, 0.7, 0.5], dtype=np.float32)
    rim = step(0.955, 1.0, np.abs(patch.across))[..., None]
    return np.clip(lit * (1 - 0.38 * rim), 0, 1.2)


def _head_colours(skin: Skin, to_snout: Array, across: Array) -> Array:
    """Crown, cheek stripe and snout. ``to_snout`` is 0 at the tip and 1 where the head begins."""
    colours = skin.palette
    flank = np.abs(across)
    ground = mix(colour(colours.ground), colour(colours.side), step(0.5, 1, flank) * 0.6) * skin.tone[0]
    if colours.neck:
        ground = mix(ground, colour(colours.neck), 0.35 * (1 - skin.youth))
    mark = colour(colours.mark) * skin.tone[1]
    arms = np.abs(flank - (0.20 + 0.42 * (to_snout - 0.35)))
    spear = skin.crown * (1 - step(0.10, 0.20, arms)) * step(0.30, 0.42, to_snout)
    bar = skin.crown * (1 - step(0.035, 0.075, np.abs(to_snout - 0.40 + 0.10 * flank**2))) * 0.9
    cheek = (1 - step(0.08, 0.16, np.abs(flank - 0.84))) * step(0.36, 0.46, to_snout) * 0.9
    rim = skin.crown * np.clip(1 - np.abs(arms - 0.17) / 0.05, 0, 1) * step(0.30, 0.42, to_snout)
    share = np.clip(np.maximum(np.maximum(spear, bar), cheek), 0, 1)
    plates = np.maximum(
        1 - step(0.0, 0.018, np.abs(to_snout - 0.62) - 0.004), (1 - step(0.0, 0.03, flank - 0.012)) * (to_snout > 0.45)
    )
    painted = mix(ground, mark, share * 0.92)
    painted = mix(painted, colour(colours.edge), rim * 0.75 * colours.edge_share)
    return painted * (1 - 0.12 * plates * (to_snout < 0.95))[..., None]


def _face(canvas: Canvas, body: Spine, skin: Skin) -> None:
    """Two eyes and two nostrils."""
    slender = body.head_length > 2.9 * body.thickness
    index = int(np.searchsorted(body.at, body.length - body.head_length * (0.46 if slender else 0.40)))
    radius = body.head_length * (0.054 if slender else 0.040)
    aside = 0.80 if slender else 0.62
    tip = int(np.searchsorted(body.at, body.length - body.head_length * 0.07))
    for sign in (-1.0, 1.0):
        middle = body.points[index] + body.across[index] * sign * body.half_width[index] * aside
        _eye(canvas, middle, radius, body.along[index], skin)
        nostril = body.points[tip] + body.across[tip] * sign * body.half_width[tip] * 0.55
        _dot(canvas, nostril, radius * 0.26, colour(skin.palette.edge) * 0.3 + colour(skin.palette.mark) * 0.3, 0.8)


def _eye(canvas: Canvas, middle: Array, radius: float, along: Array, skin: Skin) -> None:
    pale = skin.palette.tongue != DARK_TONGUE
    _dot(canvas, middle, radius * 1.28, colour(skin.palette.ground) * 0.62, 0.8)
    _dot(canvas, middle, radius * 1.06, colour(skin.palette.mark) * 0.45, 1)
    _dot(canvas, middle, radius * 0.94, colour(skin.palette.eye), 1)
    pupil = colour("97203a") if pale else colour("0d0909")
    _dot(canvas, middle + along * radius * 0.05, radius * 0.62, pupil, 1)
    _dot(canvas, middle + np.array([-0.34, -0.40]) * radius, radius * 0.24, colour("ffffff"), 0.92)


def _dot(canvas: Canvas, middle: Array, radius: float, fill: Array, strength: float) -> None:
    height, width = canvas.shadow.shape
    x, y = float(middle[0]), float(middle[1])
    left, right = max(int(x - radius - 2), 0), min(int(x + radius + 3), width)
    top, bottom = max(int(y - radius - 2), 0), min(int(y + radius + 3), height)
    if left >= right or top >= bottom:
        return
    yy, xx = np.mgrid[top:bottom, left:right]
    cover = np.clip(radius - np.hypot(xx + 0.5 - x, yy + 0.5 - y) + 0.5, 0, 1).astype(np.float32) * strength
    area = canvas.image[top:bottom, left:right]
    canvas.image[top:bottom, left:right] = mix(area, fill, cover)
