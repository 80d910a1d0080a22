"""What the snakes look like: colours and patterns by visible genes, along (in half widths) and around the body."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from noise import Array, colour, mix, step

DARK_TONGUE = "3a1f22"


@dataclass(frozen=True)
class Palette:
    """Colours of one look."""

    ground: str
    side: str
    mark: str
    edge: str
    eye: str
    edge_share: float = 1.0
    neck: str = ""
    tongue: str = DARK_TONGUE


CORN = {
    "wild": Palette("cf8a4d", "b89878", "9c3a1f", "241712", "a4512a"),
    "amel": Palette("f2b183", "f6d3b4", "d2502e", "fbeedd", "c9435a", tongue="e08a90"),
    "anery": Palette("a9a29b", "c0bab2", "5d5652", "201e1f", "6f6a66", neck="d6bd6a"),
    "snow": Palette("f3dcd2", "f8ebe3", "e3b5a6", "fdf8f2", "cf5a6c", neck="efe3a0", tongue="e6a1a5"),
    "hypo": Palette("e29d58", "e6c49c", "c2582f", "7d4a31", "b0602f", edge_share=0.55),
    "ghost": Palette("c8b9b0", "dacfc6", "98867e", "6e625d", "857a74", edge_share=0.55, neck="dcc88a"),
    "caramel": Palette("d9b067", "dcc9a0", "8c6229", "33230f", "8f6a34"),
    "charcoal": Palette("a3a0a3", "b3b0b2", "77757b", "58565c", "66646a", edge_share=0.7),
    "ultramel": Palette("eea767", "f1caa0", "cc6237", "b98466", "87283a", edge_share=0.6),
}
BOA = {
    "wild": Palette("db9a4f", "ead2a2", "4a2f20", "3a2418", "7d5a32"),
    "albino": Palette("f0a35a", "f9e3c2", "fbf1e6", "f6cfa0", "cb4a58", tongue="e08a90"),
    "anery": Palette("d9d6d2", "efedea", "37353a", "232127", "6c6a6d"),
}


def corn_palette(shows: tuple[str, ...]) -> Palette:
    """The colours of a corn snake by its visible colour genes."""
    seen = set(shows)
    if {"amel", "anery"} <= seen:
        return CORN["snow"]
    if {"anery", "hypo"} <= seen:
        return CORN["ghost"]
    for name in ("amel", "ultramel", "anery", "charcoal", "caramel", "hypo"):
        if name in seen:
            return CORN[name]
    return CORN["wild"]


def boa_palette(shows: tuple[str, ...]) -> Palette:
    """The colours of a sand boa by its visible colour genes."""
    return BOA["albino"] if "albino" in shows else BOA["anery"] if "anery" in shows else BOA["wild"]


Pattern = Callable[[Array, Array, "Skin"], tuple[Array, Array]]
"""Along and around to (share of mark colour, share of edge colour)."""


@dataclass(frozen=True)
class Skin:
    """Everything needed to colour a body."""

    palette: Palette
    pattern: Pattern
    jitter: Array
    youth: float
    fade: float = 0.0
    crown: float = 1.0
    back: float = 0.0
    tone: Array = field(default_factory=lambda: np.ones((2, 3), dtype=np.float32))


def _cell(along: Array, period: float, jitter: Array) -> tuple[Array, Array, Array]:
    """Position in the nearest repeat, and two numbers that vary from repeat to repeat."""
    index = np.floor(along / period)
    pick = index.astype(int) % len(jitter)
    where = along - (index + 0.5) * period - jitter[pick, 0] * period * 0.10
    return where, jitter[pick, 1], jitter[pick, 2]


def _rim(measure: Array, low: float, high: float) -> tuple[Array, Array]:
    """Mark inside ``low``, edge between ``low`` and ``high``."""
    inside = 1 - step(low - 0.07, low + 0.07, measure)
    outer = 1 - step(high - 0.10, high + 0.10, measure)
    return inside, np.clip(outer - inside, 0, 1)


def saddles(along: Array, around: Array, skin: Skin) -> tuple[Array, Array]:
    """Blocks across the back, and smaller ones on the sides between them."""
    where, size, lean = _cell(along, 2.35, skin.jitter)
    flank = np.abs(around)
    waist = 0.80 + 0.22 * np.minimum(flank / 0.5, 1) ** 2
    reach = (0.80 + 0.10 * size) * waist
    across = 0.56 + 0.05 * lean
    top = (np.abs(where + 0.12 * lean * around) / reach) ** 3 + (flank / across) ** 4
    half, small, _ = _cell(along + 1.175, 2.35, skin.jitter)
    side = (np.abs(half) / (0.52 + 0.12 * small)) ** 2.4 + (np.abs(flank - 0.86) / (0.17 + 0.03 * small)) ** 2.4
    mark, edge = _rim(top, 0.85, 1.75)
    low_mark, low_edge = _rim(side, 0.8, 1.9)
    keep = 1 - skin.fade * step(0.35, 0.75, flank)
    return np.maximum(mark, 0.85 * low_mark * keep), np.maximum(edge, 0.7 * low_edge) * keep


def motley(along: Array, around: Array, skin: Skin) -> tuple[Array, Array]:
    """A dark band along the back with a row of round pale windows; plain sides."""
    where, size, _ = _cell(along, 2.2, skin.jitter)
    flank = np.abs(around)
    window = np.hypot(where / (0.66 + 0.07 * size), around / 0.36)
    band = flank / 0.66
    mark = (1 - step(0.92, 1.06, band)) * step(0.95, 1.15, window)
    edge = np.clip(1 - np.abs(window - 1.05) / 0.18, 0, 1) * (1 - step(0.9, 1, band))
    return mark, np.maximum(edge * 0.8, np.clip(1 - np.abs(band - 1.02) / 0.09, 0, 1) * 0.75)


def striped_motley(along: Array, around: Array, skin: Skin) -> tuple[Array, Array]:
    """Long windows that run together into broken lines."""
    where, size, _ = _cell(along, 7.0, skin.jitter)
    flank = np.abs(around)
    length = 2.9 + 0.35 * size
    over = np.maximum(np.abs(where) - length + 0.5, 0)
    window = np.hypot(over / 0.5, around / 0.30)
    band = flank / 0.52
    mark = (1 - step(0.92, 1.06, band)) * step(0.95, 1.15, window)
    edge = np.clip(1 - np.abs(window - 1.05) / 0.18, 0, 1) * (1 - step(0.9, 1, band))
    return mark, np.maximum(edge * 0.8, np.clip(1 - np.abs(band - 1.02) / 0.10, 0, 1) * 0.75)


def tessera(along: Array, around: Array, skin: Skin) -> tuple[Array, Array]:
    """A pale stripe with dark broken edges, and small blocks on the sides."""
    flank = np.abs(around)
    row = np.floor(flank * 7.5).astype(int)
    beat = along * 2.3 + skin.jitter[row % len(skin.jitter), 0] * 5 + 3 * (around > 0)
    block = np.sin(beat) + 0.9 * np.sin(beat * 0.37 + row * 2.1) + 0.1
    sides = step(0.36, 0.44, flank) * step(-0.15, 0.15, block) * (1 - 0.7 * step(0.82, 1, flank))
    line = np.clip(1 - np.abs(flank - 0.30 - 0.02 * np.sin(along * 1.3)) / 0.10, 0, 1)
    line *= step(-1.15, -0.85, np.sin(along * 0.83) + 0.5 * np.sin(along * 2.9 + 1))
    speck = step(0.75, 1.0, block) * step(0.5, 0.6, flank) * (1 - step(0.8, 0.9, flank))
    return np.clip(sides, 0, 1), np.clip(step(0.15, 0.6, line) + 0.5 * speck, 0, 1)


def blotches(along: Array, around: Array, skin: Skin) -> tuple[Array, Array]:
    """The uneven, joining blotches of a sand boa."""
    where, size, lean = _cell(along, 1.75, skin.jitter)
    flank = np.abs(around)
    wobble = 0.20 * np.sin(around * 7 + size * 9 + along * 0.7) + 0.12 * np.sin(along * 5.1 + around * 9 + lean * 6)
    shift = np.sign(lean) * 0.35 * np.sin(around * 2.4 + size * 3)
    top = (np.abs(where + shift * 0.5) / (0.60 + 0.10 * size)) ** 2.4 + (flank / (0.78 + 0.12 * lean)) ** 3
    return _rim(top + wobble * 1.3, 0.92, 1.3)


def reedmark(along: Array, around: Array, skin: Skin) -> tuple[Array, Array]:
    """Blotches split into fine cross-bars."""
    where, size, lean = _cell(along, 0.62, skin.jitter)
    flank = np.abs(around)
    bar = np.abs(where + 0.10 * np.sin(around * 6 + size * 7)) / (0.145 + 0.03 * lean)
    stop = flank - (0.66 + 0.26 * size) + 0.08 * np.sin(along * 9)
    gap = np.abs(around - 0.25 * lean) < 0.04 + 0.10 * np.abs(size)
    mark = (1 - step(0.75, 1.25, bar)) * (1 - step(-0.04, 0.06, stop)) * np.where(gap, 0.15, 1.0)
    return mark, np.clip(1 - np.abs(bar - 1.1) / 0.3, 0, 1) * 0.25 * (1 - step(-0.04, 0.06, stop))


def skin_of(species: str, shows: tuple[str, ...], youth: float, jitter: Array) -> Skin:
    """The skin of an animal that shows these genes; ``youth`` is 1 at birth and 0 when grown."""
    if species == "kenyan-sand-boa":
        return Skin(boa_palette(shows), reedmark if "reedmark" in shows else blotches, jitter, youth, crown=0.25)
    palette = corn_palette(shows)
    if "striped motley" in shows:
        pattern: Pattern = striped_motley
    else:
        pattern = tessera if "tessera" in shows else motley if "motley" in shows else saddles
    skin = Skin(palette, pattern, jitter, youth, back=0.55 if pattern is tessera else 0.0)
    if "diffused" in shows:
        grown = 1 - youth
        warm = replace(palette, ground="e07a4c", side="e5855a", mark="cf4a2c", edge="e39a78")
        return replace(skin, palette=warm if grown > 0.45 else palette, fade=0.25 + 0.75 * grown)
    return skin


def paint(skin: Skin, along: Array, around: Array, neck: Array) -> Array:
    """Colour of the back and sides. ``neck`` is 1 at the throat and 0 from mid-body on."""
    colours = skin.palette
    flank = np.abs(around)
    ground = mix(colour(colours.ground), colour(colours.side), step(0.35, 1.0, flank) * 0.9) * skin.tone[0]
    pale = np.array([0.72, 0.68, 0.64], dtype=np.float32)
    grey = 0.75 if colours is CORN["caramel"] else 0.45 if colours is CORN["wild"] else 0.0
    ground = mix(ground, pale, grey * skin.youth)
    if colours.neck:
        ground = mix(ground, colour(colours.neck), neck * (1 - skin.youth) * 0.75)
    ground = mix(ground, ground * 0.35 + 0.65, skin.back * (1 - step(0.16, 0.26, flank)))
    mark, edge = skin.pattern(along, around, skin)
    own = colour(colours.mark) * skin.tone[1]
    deep = mix(own, own * 0.72, 0.55 * skin.youth)
    if colours is CORN["caramel"]:
        deep = mix(deep, colour("5f574c"), 0.6 * skin.youth)
    middle = mix(deep, deep * 1.16 + 0.02, np.exp(-((flank / 0.35) ** 2)))
    painted = mix(ground, middle, mark)
    painted = mix(painted, colour(colours.edge), np.clip(edge * colours.edge_share, 0, 1))
    if skin.fade:
        painted = mix(painted, ground * 0.35 + middle * 0.65, skin.fade * (0.35 + 0.5 * step(0.3, 0.8, flank)))
    return painted
