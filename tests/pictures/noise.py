"""Seeded noise and small colour arithmetic for the drawings."""

import hashlib
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Array = NDArray[np.floating[Any]]


def generator(*words: str) -> np.random.Generator:
    """The same words give the same drawing, on every machine and at any time."""
    digest = hashlib.sha256("\n".join(words).encode()).digest()
    return np.random.Generator(np.random.PCG64(int.from_bytes(digest[:8], "big")))


def smooth_noise(rng: np.random.Generator, width: int, height: int, cells_x: int, cells_y: int) -> Array:
    """Soft noise of about -1 to 1 with so many cells across and down."""
    grid = rng.standard_normal((cells_y + 3, cells_x + 3)).astype(np.float32) * 0.6
    image = Image.fromarray(grid).resize((width, height), Image.Resampling.BICUBIC)
    return np.asarray(image, dtype=np.float32)


def fractal(
    rng: np.random.Generator, width: int, height: int, cells: int, octaves: int = 4, stretch: float = 1.0
) -> Array:
    """Noise in several sizes, the finer the fainter; ``stretch`` above 1 draws it out sideways."""
    total = np.zeros((height, width), dtype=np.float32)
    strength = 1.0
    for octave in range(octaves):
        across = max(1, int(cells * 2**octave / stretch))
        down = max(1, int(cells * 2**octave * height / width * stretch))
        total += strength * smooth_noise(rng, width, height, across, down)
        strength *= 0.55
    return total


def colour(text: str) -> Array:
    """``d08c55`` as three numbers from 0 to 1."""
    return np.array([int(text[i : i + 2], 16) / 255 for i in (0, 2, 4)], dtype=np.float32)


def mix(first: Array, second: Array, share: Array | float) -> Array:
    """``first`` where share is 0, ``second`` where it is 1."""
    part = np.asarray(share, dtype=np.float32)
    if part.ndim == 2:
        part = part[..., None]
    return first + (second - first) * part


def step(low: float, high: float, value: Array) -> Array:
    """0 below low, 1 above high, smooth between."""
    part = np.clip((value - low) / (high - low), 0, 1)
    return part * part * (3 - 2 * part)
