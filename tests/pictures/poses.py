"""How a snake lies: a curve from tail to snout, in units of half a body width, as long as the body."""

from collections.abc import Callable

import numpy as np
from noise import Array


def _length(curve: Array) -> float:
    return float(np.linalg.norm(np.diff(curve, axis=0), axis=1).sum())


def _as_long_as(length: float, shape: Callable[[float], Array], low: float, high: float) -> Array:
    """The shape whose one number is chosen so that it has that length."""
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if _length(shape(middle)) < length else (low, middle)
    return shape((low + high) / 2)


def _spiral(turns: float, inner: float, pitch: float, start: float, phase: float) -> Array:
    angle = np.linspace(0, turns * 2 * np.pi, int(turns * 14) + 3)
    wobble = 1 + 0.03 * np.sin(angle * 1.3 + phase) + 0.045 * np.sin(2 * angle + 2 * phase) * np.minimum(1, angle / 6)
    radius = (inner + pitch * angle / (2 * np.pi)) * wobble
    return np.stack([radius * np.cos(angle + start), radius * np.sin(angle + start)], axis=1)


def _bent(start: Array, heading: float, bends: Array, total: float) -> Array:
    """A path from a point that turns by so much over each of equal parts."""
    headings = heading + np.cumsum(bends)
    reach = total / len(bends)
    moves = np.stack([np.cos(headings), np.sin(headings)], axis=1) * reach
    return start + np.cumsum(moves, axis=0)


def coil(rng: np.random.Generator, length: float) -> Array:
    """A spiral with the tail inside and the head brought back over the coils."""
    start, phase = rng.random() * 6.28, rng.random() * 6.28
    inner, pitch = (1.7, 2.05) if length > 40 else (1.5, 2.0)
    tight = 1.0 + 0.12 * rng.random()

    def shape(turns: float) -> Array:
        spiral = _spiral(turns, inner, pitch, start, phase)
        heading = float(np.arctan2(*(spiral[-1] - spiral[-2])[::-1]))
        outer = float(np.linalg.norm(spiral[-1]))
        bends = np.concatenate([np.linspace(1.2 / outer, 0.62, 5), np.full(4, 0.40), [-0.05, -0.35, -0.35, -0.1]])
        return np.concatenate([spiral, _bent(spiral[-1], heading, bends * tight, 13 * 1.12)])

    return _as_long_as(length, shape, 0.2, 4)


def rest(rng: np.random.Generator, length: float) -> Array:
    """A spiral whose head lies outside, looking away."""
    start, phase = rng.random() * 6.28, rng.random() * 6.28
    inner, pitch = (1.7, 2.1) if length > 40 else (1.6, 2.1)
    swing = 0.20 + 0.10 * rng.random()

    def shape(turns: float) -> Array:
        spiral = _spiral(turns, inner, pitch, start, phase)
        heading = float(np.arctan2(*(spiral[-1] - spiral[-2])[::-1]))
        bends = np.concatenate([np.full(3, 0.10), np.full(3, -swing), np.full(4, -0.12), np.full(3, swing)])
        return np.concatenate([spiral, _bent(spiral[-1], heading, bends, 13 * 0.85)])

    return _as_long_as(length, shape, 0.2, 4)


def esses(rng: np.random.Generator, length: float) -> Array:
    """Wide even bends, as a snake moves."""
    at = np.linspace(0, 1, 60)
    waves = (2.6 if length > 40 else 1.5) + 0.3 * rng.random()
    phase = rng.random() * 6.28
    swing = 1.45 * (1 - 0.25 * at) * np.minimum(1, (1 - at) * 6 + 0.25)
    heading = swing * np.sin(2 * np.pi * waves * at + phase)
    moves = np.stack([np.cos(heading), np.sin(heading)], axis=1) * (length / 60)
    return np.cumsum(moves, axis=0)


def loops(rng: np.random.Generator, length: float) -> Array:
    """Hairpin bends laid side by side, as a snake lies in a corner."""
    at = np.linspace(0, 1, 90)
    waves = (1.75 if length > 40 else 1.05) + 0.2 * rng.random()
    phase = 0.6 + rng.random()
    heading = 2.02 * np.sin(2 * np.pi * waves * at + phase) * np.minimum(1, (1 - at) * 5 + 0.45)
    moves = np.stack([np.cos(heading), np.sin(heading)], axis=1) * (length / 90)
    return np.cumsum(moves, axis=0)


def hook(rng: np.random.Generator, length: float) -> Array:
    """A loop that crosses itself, and a head that comes out below."""
    turning = (2.15 if length > 40 else 1.25) * 2 * np.pi
    count = 80
    at = np.linspace(0, 1, count)
    bends = 0.5 + 0.9 * np.sin(np.pi * at) ** 1.5 + 0.35 * np.sin(2 * np.pi * 1.5 * at + rng.random() * 6)
    bends[-int(count * 0.30) :] *= np.linspace(1, -1.4, int(count * 0.30))
    bends *= turning / np.abs(bends).sum()
    return _bent(np.zeros(2), rng.random() * 6.28, bends, length)


POSES = {"coil": coil, "rest": rest, "esses": esses, "loops": loops, "hook": hook}


def placed(knots: Array, turn: float, mirrored: bool) -> Array:
    """The pose turned by so many radians, mirrored or not."""
    if mirrored:
        knots = knots * np.array([1, -1])
    turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return (knots @ turned.T).astype(np.float32)


def level(knots: Array) -> Array:
    """The pose turned so that its longest extent lies across."""
    middle = knots - knots.mean(axis=0)
    _, vectors = np.linalg.eigh(middle.T @ middle)
    along = vectors[:, -1]
    return (middle @ np.stack([along, np.array([-along[1], along[0]])], axis=1)).astype(np.float32)
