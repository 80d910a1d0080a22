"""Whole pictures: one snake, a clutch of eggs, young that lie together."""

from dataclasses import dataclass, replace

import numpy as np
from body import BOA, CORN, Build, spine
from body import moved as placed_at
from coats import skin_of
from grounds import GROUNDS, daylight
from noise import Array, colour, fractal, generator, mix, step
from poses import POSES, level, placed
from render import Canvas, draw_snake
from scipy.ndimage import gaussian_filter

TONES = np.array([[0.035, 0.04, 0.08], [0.08, 0.07, 0.06]])
"""How far single animals differ in ground and mark colour: red, green, blue."""


@dataclass(frozen=True)
class Sitter:
    """Who is drawn: an id that fixes its own pattern, species, visible genes, and youth (1 at birth, 0 grown)."""

    id: str
    species: str
    shows: tuple[str, ...]
    youth: float

    @property
    def build(self) -> Build:
        return CORN if self.species == "corn-snake" else BOA


def _add(canvas: Canvas, sitter: Sitter, knots: Array, middle: Array, thickness: float, rank: int = 0) -> None:
    """The snake along the knots, centred there. Its saddles are its own in every picture."""
    own = generator(sitter.id, "saddles")
    body = spine(knots, thickness, sitter.build, 1 + 0.28 * sitter.youth)
    centre = (body.points.min(axis=0) + body.points.max(axis=0)) / 2
    body = placed_at(body, (middle - centre).astype(np.float32))
    skin = skin_of(sitter.species, sitter.shows, sitter.youth, own.uniform(-1, 1, (61, 3)).astype(np.float32))
    pale = [[0.3 if min(colour(tone)) > 0.7 else 1.0] for tone in (skin.palette.ground, skin.palette.mark)]
    skin = replace(skin, tone=(1 + own.uniform(-1, 1, (2, 3)) * TONES * np.array(pale)).astype(np.float32))
    draw_snake(canvas, body, skin, float(own.random() * 9), rank)


def portrait(sitter: Sitter, when: str, pose: str, ground: str, size: tuple[int, int]) -> Array:
    """One snake; the young fill less of the picture."""
    rng = generator(sitter.id, when)
    width, height = size
    canvas = Canvas(daylight(GROUNDS[ground](rng, width, height)).astype(np.float32).copy())
    knots = level(POSES[pose](rng, sitter.build.length))
    quarter = np.pi / 2 if height > width else 0.0
    knots = placed(knots, quarter + rng.normal() * 0.22, bool(rng.random() < 0.5))
    extent = knots.max(axis=0) - knots.min(axis=0) + 2.4
    fill = 0.90 - 0.36 * sitter.youth
    thickness = fill * min(width / extent[0], height / extent[1])
    limit = (0.088 if sitter.build is CORN else 0.125) * min(width, height) * (1 - 0.35 * sitter.youth)
    shift = rng.normal(size=2) * min(width, height) * 0.02 * (1 + 2 * sitter.youth)
    _add(canvas, sitter, knots, np.array([width / 2, height / 2]) + shift, min(thickness, limit))
    return canvas.finished()


def together(sitters: list[Sitter], when: str, ground: str, size: tuple[int, int]) -> Array:
    """Several snakes, each in its own place, all to one scale; the grown are larger than the young."""
    rng = generator(when, *[sitter.id for sitter in sitters])
    width, height = size
    canvas = Canvas(daylight(GROUNDS[ground](rng, width, height)).astype(np.float32).copy())
    columns = min(len(sitters), int(np.ceil(np.sqrt(len(sitters) * width / height))))
    rows = int(np.ceil(len(sitters) / columns))
    room = min(0.86 * width / columns, 0.86 * height / rows)
    poses = []
    for sitter in sitters:
        pose = ("coil", "loops", "rest")[int(rng.integers(3 if len(sitters) < 7 else 2))]
        knots = level(POSES[pose](rng, sitter.build.length))
        poses.append(placed(knots, rng.normal() * 0.35, bool(rng.random() < 0.5)))
    scale = min(room / float((knots.max(axis=0) - knots.min(axis=0)).max() + 2) for knots in poses)
    youngest = min(sitter.youth for sitter in sitters)
    for rank, (sitter, knots) in enumerate(zip(sitters, poses, strict=True)):
        row, column = divmod(rank, columns)
        short = columns - (len(sitters) - row * columns) if row == rows - 1 else 0
        x = width * (0.06 + 0.88 * (column + 0.5 + short / 2) / columns) + rng.normal() * width * 0.01
        y = height * (0.06 + 0.88 * (row + 0.5) / rows) + rng.normal() * height * 0.01
        thickness = scale * 1.15 * (1 - 0.35 * (sitter.youth - youngest))
        _add(canvas, sitter, knots, np.array([x, y]), thickness, rank)
    return canvas.finished()


@dataclass(frozen=True)
class Egg:
    """An egg on the ground, in pixels."""

    middle: Array
    turn: float
    long: float
    broad: float


def clutch(name: str, eggs: int, hatching: list[Sitter], when: str, size: tuple[int, int]) -> Array:
    """Eggs on damp bedding; from some of them a head looks out."""
    rng = generator(name, when)
    width, height = size
    canvas = Canvas(daylight(_bedding(rng, width, height)).astype(np.float32).copy())
    laid = _laid(rng, eggs, width, height)
    for egg in laid:
        _lay_egg(canvas, egg, rng)
    order = [laid[i] for i in np.linspace(0, len(laid) - 1, len(hatching) + 2).astype(int)[1:-1]] if hatching else []
    middle = np.array([width / 2, height / 2])
    for rank, (egg, sitter) in enumerate(zip(order, hatching, strict=True)):
        _hatch(canvas, egg, sitter, _outward(egg, middle, rng), rank)
    return canvas.finished()


def _bedding(rng: np.random.Generator, width: int, height: int) -> Array:
    """Damp moss."""
    clumps = fractal(rng, width, height, 9, 3)
    tufts = fractal(rng, width, height, 70, 2)
    tone = mix(colour("59613a"), colour("2f3722"), np.clip(0.5 + 0.35 * clumps, 0, 1))
    tone = mix(tone, colour("8d8a52"), np.clip(0.22 * tufts + 0.10 * clumps, 0, 0.5))
    lit = tufts - np.roll(tufts, (4, 3), axis=(0, 1))
    return tone * (1 + 0.16 * np.clip(lit, -1, 1))[..., None]


def _laid(rng: np.random.Generator, eggs: int, width: int, height: int) -> list[Egg]:
    """A heap: rows that lean on each other, from the back to the front."""
    long = min(width, height) * (0.150 if eggs > 12 else 0.165)
    columns = int(np.ceil(np.sqrt(eggs * 1.25)))
    placed_eggs = []
    rows = int(np.ceil(eggs / columns))
    for i in range(eggs):
        row, column = divmod(i, columns)
        count = min(columns, eggs - row * columns)
        x = width / 2 + (column - (count - 1) / 2 + 0.24 * (-1) ** row) * long * 1.26
        y = height / 2 + (row - (rows - 1) / 2) * long * 1.50
        wobble = rng.normal(size=2) * long * 0.09
        turn = np.pi / 2 * 0.8 + rng.normal() * 0.55
        placed_eggs.append(Egg(np.array([x, y]) + wobble, float(turn), long * (1 + 0.06 * rng.normal()), long * 0.62))
    return placed_eggs


def _egg_pixels(canvas: Canvas, egg: Egg, pad: float) -> tuple[slice, slice, Array, Array]:
    height, width = canvas.shadow.shape
    reach = egg.long + pad
    left, right = int(max(egg.middle[0] - reach, 0)), int(min(egg.middle[0] + reach, width))
    top, bottom = int(max(egg.middle[1] - reach, 0)), int(min(egg.middle[1] + reach, height))
    yy, xx = np.mgrid[top:bottom, left:right].astype(np.float32)
    dx, dy = xx - egg.middle[0], yy - egg.middle[1]
    along = (dx * np.cos(egg.turn) + dy * np.sin(egg.turn)) / egg.long
    aside = (-dx * np.sin(egg.turn) + dy * np.cos(egg.turn)) / egg.broad
    return slice(top, bottom), slice(left, right), along, aside


def _lay_egg(canvas: Canvas, egg: Egg, rng: np.random.Generator) -> None:
    """A leathery shell with soft light, a shallow dent and a few stains."""
    rows, columns, along, aside = _egg_pixels(canvas, egg, egg.long * 0.5)
    across = np.hypot(along, aside)
    cover = np.clip((1 - across) * egg.broad + 0.5, 0, 1)
    shade = gaussian_filter(np.roll(cover, (int(egg.long * 0.14), int(egg.long * 0.09)), axis=(0, 1)), egg.long * 0.09)
    canvas.shadow[rows, columns] = np.maximum(canvas.shadow[rows, columns], 0.78 * shade)
    up = np.sqrt(np.clip(1 - across**2, 0, 1))
    nx = along * np.cos(egg.turn) - aside * np.sin(egg.turn)
    ny = along * np.sin(egg.turn) + aside * np.cos(egg.turn)
    stain = fractal(rng, along.shape[1], along.shape[0], 4, 2)
    dent = np.exp(-(((along - 0.2) / 0.5) ** 2) - ((aside + 0.25) / 0.4) ** 2) * 0.07
    light = 0.56 + 0.52 * np.clip(-0.46 * nx - 0.58 * ny + 0.67 * up, 0, 1) - dent
    shell = mix(colour("f4ecda"), colour("d9c6a0"), np.clip(0.20 + 0.28 * stain, 0, 1))
    bounce = 0.05 * np.clip(0.5 * nx + 0.6 * ny, 0, 1)
    painted = np.clip(shell * light[..., None] + bounce[..., None] * colour("8a7a48"), 0, 1)
    painted = painted * (1 - 0.25 * step(0.965, 1.0, across))[..., None]
    canvas.image[rows, columns] = mix(canvas.image[rows, columns], painted, cover)
    canvas.shadow[rows, columns] *= 1 - cover


def _outward(egg: Egg, middle: Array, rng: np.random.Generator) -> float:
    """Across the egg, to the side that looks away from the heap."""
    heading = egg.turn + np.pi / 2 + rng.normal() * 0.35
    way = np.array([np.cos(heading), np.sin(heading)])
    return float(heading if way @ (egg.middle - middle) > 0 else heading + np.pi)


def _hatch(canvas: Canvas, egg: Egg, sitter: Sitter, heading: float, rank: int) -> None:
    """A slit in the shell and a head that has come out of it."""
    way = np.array([np.cos(heading), np.sin(heading)])
    slit = egg.middle - way * egg.broad * 0.10
    rows, columns, _, _ = _egg_pixels(canvas, egg, 0)
    yy, xx = np.mgrid[rows, columns].astype(np.float32)
    ahead = (xx - slit[0]) * way[0] + (yy - slit[1]) * way[1]
    beside = -(xx - slit[0]) * way[1] + (yy - slit[1]) * way[0]
    kept, kept_shadow = canvas.image[rows, columns].copy(), canvas.shadow[rows, columns].copy()
    hole = np.clip((1 - np.hypot(ahead / (egg.broad * 0.15), beside / (egg.broad * 0.44))) * 9 + 0.5, 0, 1)
    canvas.image[rows, columns] = mix(kept, colour("3a2a20"), hole * 0.9)
    thickness = egg.broad * 0.27
    stub = Build(length=7.2, head_length=3.3, neck=0.70, jaw=0.90, snout=0.38, tail_share=0.02, tail_power=0.2)
    bend = 0.09 * (-1) ** rank
    headings = heading + bend * np.arange(12)
    knots = np.cumsum(np.stack([np.cos(headings), np.sin(headings)], axis=1) * (stub.length / 12), axis=0)
    body = spine(knots, thickness, stub, 1.22)
    body = placed_at(body, (slit - way * thickness * 0.9 - body.points[0]).astype(np.float32))
    own = generator(sitter.id, "saddles")
    skin = skin_of(sitter.species, sitter.shows, 1.0, own.uniform(-1, 1, (61, 3)).astype(np.float32))
    draw_snake(canvas, body, skin, float(own.random() * 9), rank + 1)
    far = np.hypot(beside / (egg.broad * 0.62), np.minimum(ahead, 0) / (thickness * 3.2))
    lip = np.clip(0.5 - ahead, 0, 1) * (1 - step(0.72, 1.0, far))
    canvas.image[rows, columns] = mix(canvas.image[rows, columns], kept, np.clip(0.5 - ahead, 0, 1) * (far < 1))
    canvas.shadow[rows, columns] += (kept_shadow - canvas.shadow[rows, columns]) * lip
