"""The shape of a snake: a smooth spine from tail to snout, its thickness, and the pixels that belong to it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from noise import Array
from scipy.interpolate import CubicSpline, PchipInterpolator

STEP = 2.0
CHUNK = 14


@dataclass(frozen=True)
class Build:
    """Proportions of a species. Lengths are in half body widths."""

    length: float
    head_length: float
    neck: float
    jaw: float
    snout: float
    tail_share: float
    tail_power: float


CORN = Build(length=60, head_length=3.3, neck=0.64, jaw=0.90, snout=0.38, tail_share=0.26, tail_power=0.8)
BOA = Build(length=31, head_length=2.3, neck=0.74, jaw=0.74, snout=0.34, tail_share=0.16, tail_power=0.42)


@dataclass(frozen=True)
class Spine:
    """Samples along the middle of the body, ``STEP`` pixels apart, tail first."""

    points: Array
    along: Array
    across: Array
    half_width: Array
    at: Array
    thickness: float
    head_length: float

    @property
    def length(self) -> float:
        return float(self.at[-1])


def spine(knots: Array, thickness: float, build: Build, head_scale: float) -> Spine:
    """A body of that half thickness along the knots, which are in units of it."""
    head_length = build.head_length * thickness * head_scale
    scaled = _even(knots * thickness, 4000)
    points = _even(_straight_head(scaled, head_length), 0)
    at = np.arange(len(points), dtype=np.float32) * STEP
    along = np.gradient(points, axis=0)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    width = thickness * _profile(at, float(at[-1]), head_length, build, head_scale)
    return Spine(points, along, across, width.astype(np.float32), at, thickness, head_length)


def moved(body: Spine, offset: Array) -> Spine:
    """The same body elsewhere."""
    return Spine(
        body.points + offset, body.along, body.across, body.half_width, body.at, body.thickness, body.head_length
    )


def _even(knots: Array, count: int) -> Array:
    """The curve through the knots, resampled evenly: so many points, or one every ``STEP`` pixels."""
    chords = np.concatenate([[0], np.cumsum(np.sqrt(np.linalg.norm(np.diff(knots, axis=0), axis=1)))])
    dense = CubicSpline(chords, knots)(np.linspace(0, chords[-1], 8000))
    at = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(dense, axis=0), axis=1))])
    where = np.linspace(0, at[-1], count) if count else np.arange(0, at[-1], STEP)
    return np.stack([np.interp(where, at, dense[:, axis]) for axis in (0, 1)], axis=1).astype(np.float32)


def _straight_head(curve: Array, head_length: float) -> Array:
    """The curve with its last part straightened, as a skull is."""
    at = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(curve, axis=0), axis=1))])
    cut = int(np.searchsorted(at, at[-1] - head_length * 0.9))
    start = curve[cut]
    direction = curve[min(cut + 12, len(curve) - 1)] - curve[max(cut - 12, 0)]
    direction = direction / np.linalg.norm(direction)
    reach = np.linspace(0.15, 1, 8)[:, None] * head_length * 0.9
    return np.concatenate([curve[: cut - 20 : 12], start[None], start + direction * reach]).astype(np.float32)


def _profile(at: Array, length: float, head_length: float, build: Build, head_scale: float) -> Array:
    """Half width along the body, in units of the thickest part."""
    body_end = length - head_length
    trunk = PchipInterpolator([0, build.tail_share, 0.5, 0.72, 0.9, 1], [1, 1, 1.03, 1, 0.86, build.neck])
    share = np.clip(at / body_end, 0, 1)
    tail = np.clip(share / build.tail_share, 0, 1) ** build.tail_power
    jaw = build.jaw * head_scale
    skull = PchipInterpolator(
        [0, 0.18, 0.42, 0.58, 0.78, 0.92, 1],
        [
            build.neck,
            build.neck * 1.06,
            jaw,
            jaw * 0.97,
            jaw * 0.72,
            build.snout * 1.25 * head_scale,
            build.snout * head_scale,
        ],
    )
    head = skull(np.clip((at - body_end) / head_length, 0, 1))
    return np.maximum(np.where(at < body_end, trunk(share) * tail, head), 0.02)


@dataclass(frozen=True)
class Patch:
    """The pixels of a short piece of body: where, how far along, how far across (-1 to 1), how much covered."""

    rows: slice
    columns: slice
    first: float
    along: Array
    across: Array
    normal: Array
    cover: Array


def patches(body: Spine, width: int, height: int) -> Iterator[Patch]:
    """The body in short pieces, tail first, each with the pixels it covers; pieces overlap a little."""
    count = len(body.points)
    for start in range(0, count - 2, CHUNK):
        low, high = max(0, start - 3), min(count, start + CHUNK + 1)
        piece = _patch(body, low, high, high == count, width, height)
        if piece is not None:
            yield piece


def _patch(body: Spine, low: int, high: int, is_last: bool, width: int, height: int) -> Patch | None:
    points, reach = body.points[low:high], float(body.half_width[low:high].max()) + 3
    left, top = np.floor(points.min(axis=0) - reach).astype(int)
    right, bottom = np.ceil(points.max(axis=0) + reach).astype(int)
    left, top, right, bottom = max(left, 0), max(top, 0), min(right, width), min(bottom, height)
    if left >= right or top >= bottom:
        return None
    xs, ys = np.meshgrid(np.arange(left, right, dtype=np.float32) + 0.5, np.arange(top, bottom, dtype=np.float32) + 0.5)
    away = (xs[..., None] - points[:, 0]) ** 2 + (ys[..., None] - points[:, 1]) ** 2
    near = away.argmin(axis=-1)
    delta = np.stack([xs, ys], axis=-1) - points[near]
    ahead = (delta * body.along[low:high][near]).sum(axis=-1)
    aside = (delta * body.across[low:high][near]).sum(axis=-1)
    half = body.half_width[low:high][near]
    inside = np.abs(ahead) <= 2.2 * STEP
    away_from_spine = np.abs(aside)
    if is_last:
        beyond = (near == high - low - 1) & (ahead > 0)
        away_from_spine = np.where(beyond, np.hypot(aside, ahead), away_from_spine)
        inside |= beyond
    cover = np.where(inside, np.clip(half - away_from_spine + 0.5, 0, 1), 0)
    if not cover.any():
        return None
    along = body.at[low:high][near] + np.clip(ahead, -STEP, STEP)
    across = np.clip(aside / half, -1, 1)
    return Patch(
        slice(top, bottom), slice(left, right), float(body.at[low]), along, across, body.across[low:high][near], cover
    )
