"""What the snakes lie on: paper, leaves, slate, wood, sand and linen, all drawn."""

import numpy as np
from noise import Array, colour, fractal, mix, smooth_noise, step
from PIL import Image, ImageDraw, ImageFilter


def paper(rng: np.random.Generator, width: int, height: int) -> Array:
    """Warm rag paper with a faint wash."""
    wash = fractal(rng, width, height, 3, 3)
    fibre = fractal(rng, width, height, 150, 2, stretch=3)
    tone = mix(colour("ece0c8"), colour("dccbaa"), np.clip(0.5 + 0.35 * wash, 0, 1))
    return tone * (1 + 0.012 * fibre)[..., None]


def linen(rng: np.random.Generator, width: int, height: int) -> Array:
    """A folded cloth of undyed linen."""
    ys, xs = np.mgrid[0:height, 0:width].astype(np.float32)
    fold = fractal(rng, width, height, 2, 2)
    pitch = 9.0
    weave = np.sin(xs * 2 * np.pi / pitch) * np.sin(ys * 2 * np.pi / pitch + np.pi * np.floor(xs / pitch))
    thread = smooth_noise(rng, width, height, width // 7, 5) + smooth_noise(rng, width, height, 5, height // 7)
    tone = mix(colour("cfc3ac"), colour("b3a58a"), np.clip(0.5 + 0.5 * fold, 0, 1))
    return tone * (1 + 0.016 * weave + 0.022 * thread)[..., None]


def slate(rng: np.random.Generator, width: int, height: int) -> Array:
    """A split slate: flat layers with chipped edges."""
    relief = fractal(rng, width, height, 3, 5, stretch=1.6)
    layers = np.floor(relief * 3.2) / 3.2
    lit = layers - np.roll(layers, (3, 2), axis=(0, 1))
    tone = mix(colour("4c5358"), colour("6d7274"), np.clip(0.5 + 0.30 * relief, 0, 1))
    tone = mix(tone, colour("7c705f"), np.clip(0.35 * smooth_noise(rng, width, height, 4, 3), 0, 0.4))
    fine = fractal(rng, width, height, 90, 2, stretch=1.8)
    return tone * (1 + 0.22 * np.clip(lit, -0.5, 0.5) + 0.02 * fine)[..., None]


def wood(rng: np.random.Generator, width: int, height: int) -> Array:
    """A weathered board."""
    ys, xs = np.mgrid[0:height, 0:width].astype(np.float32)
    warp = fractal(rng, width, height, 3, 3, stretch=3.5)
    rings = np.sin(ys / height * 2 * np.pi * 9 + warp * 7.5)
    grain = fractal(rng, width, height, 60, 2, stretch=14)
    tone = mix(colour("a97f55"), colour("81593a"), np.clip(0.5 + 0.34 * rings + 0.10 * grain, 0, 1))
    seam = np.zeros((height, width), dtype=np.float32)
    for share in (0.22 + 0.12 * rng.random(), 0.66 + 0.16 * rng.random()):
        line = share * height + 3 * np.sin(xs / width * 3 + rng.random() * 6)
        seam = np.maximum(seam, 1 - step(1.5, 5.0, np.abs(ys - line)))
        tone = tone * np.where(ys > line, 0.96 + 0.08 * rng.random(), 1.0)[..., None]
    return tone * (1 - 0.62 * seam)[..., None]


def sand(rng: np.random.Generator, width: int, height: int) -> Array:
    """Pale sand with ripples."""
    ys, xs = np.mgrid[0:height, 0:width].astype(np.float32)
    warp = fractal(rng, width, height, 3, 3, stretch=1.6)
    ripple = np.sin((ys + 0.25 * xs) / height * 2 * np.pi * 7 + warp * 4.2)
    grain = smooth_noise(rng, width, height, width // 4, height // 4)
    tone = mix(colour("dcc096"), colour("c3a274"), np.clip(0.5 + 0.27 * ripple + 0.16 * warp, 0, 1))
    return tone * (1 + 0.018 * grain)[..., None]


def leaves(rng: np.random.Generator, width: int, height: int) -> Array:
    """Oak and beech leaves of last autumn."""
    base = mix(colour("3f2e1f"), colour("59432c"), np.clip(0.5 + 0.4 * fractal(rng, width, height, 8, 3), 0, 1))
    image = Image.fromarray((base * 255).astype(np.uint8)).convert("RGBA")
    tones = ["8a5a30", "a06d3a", "6f4a2b", "b58650", "7b5b3c", "94652f", "5f452e", "a8794b"]
    size = width // 7
    for _ in range(int(150 * height / width / 0.75)):
        leaf = _leaf(rng, int(size * (0.8 + 0.6 * rng.random())), tones[int(rng.integers(len(tones)))])
        leaf = leaf.rotate(float(rng.random() * 360), resample=Image.Resampling.BICUBIC, expand=True)
        x, y = int(rng.random() * width - leaf.width / 2), int(rng.random() * height - leaf.height / 2)
        shade = Image.new("RGBA", leaf.size, (18, 10, 4, 0))
        shade.putalpha(leaf.getchannel("A").point(lambda a: int(a * 0.55)).filter(ImageFilter.GaussianBlur(size / 24)))
        image.paste(shade, (x + size // 26, y + size // 20), shade)
        image.paste(leaf, (x, y), leaf)
    soft = image.convert("RGB").filter(ImageFilter.GaussianBlur(width / 600))
    return np.asarray(soft, dtype=np.float32) / 255


def _leaf(rng: np.random.Generator, size: int, tone: str) -> Image.Image:
    """One leaf, pointing right, with its veins."""
    lobes = int(rng.integers(0, 2)) * (4 + int(rng.integers(3)))
    t = np.linspace(0, 1, 90)
    half = np.sin(np.pi * t**0.85) ** 0.8 * (0.26 + 0.06 * rng.random())
    if lobes:
        half = half * (0.80 + 0.26 * np.cos(2 * np.pi * lobes * t - 1.2 * np.pi * t))
    half = np.abs(half) + 0.004
    bend = 0.08 * np.sin(np.pi * t) * (rng.random() - 0.5)
    pad = size // 8
    canvas = Image.new("RGBA", (size + 2 * pad, size + 2 * pad), (0, 0, 0, 0))
    pen = ImageDraw.Draw(canvas)
    middle = size / 2 + pad
    top = [(pad + size * a, middle - size * (h - b)) for a, h, b in zip(t, half, bend, strict=True)]
    low = [(pad + size * a, middle + size * (h + b)) for a, h, b in zip(t, half, bend, strict=True)]
    fill = colour(tone) * (0.85 + 0.3 * rng.random())
    pen.polygon(top + low[::-1], fill=_rgba(fill))
    pen.polygon(
        [*top, *[(x, middle + size * b) for (x, _), b in zip(top, bend, strict=True)][::-1]], fill=_rgba(fill * 1.12)
    )
    rib = [(pad + size * a, middle + size * b) for a, b in zip(t, bend, strict=True)]
    pen.line(rib, fill=_rgba(fill * 0.72), width=max(2, size // 80))
    for k in range(1, 8):
        i = 8 + k * 9
        for side in (top, low):
            j = min(i + 12, len(side) - 1)
            end = (rib[i][0] * 0.15 + side[j][0] * 0.85, rib[j][1] * 0.15 + side[j][1] * 0.85)
            pen.line([rib[i], end], fill=_rgba(fill * 0.86), width=max(1, size // 150))
    pen.line([(pad * 0.2, middle), rib[0]], fill=_rgba(fill * 0.7), width=max(2, size // 60))
    return canvas


def _rgba(tone: Array) -> tuple[int, int, int, int]:
    red, green, blue = (int(np.clip(part, 0, 1) * 255) for part in tone)
    return red, green, blue, 255


GROUNDS = {"paper": paper, "linen": linen, "slate": slate, "wood": wood, "sand": sand, "leaves": leaves}


def daylight(image: Array) -> Array:
    """A window to the upper left, and corners that fall off a little."""
    height, width = image.shape[:2]
    ys, xs = np.mgrid[0:height, 0:width].astype(np.float32)
    x, y = xs / width - 0.42, ys / height - 0.40
    glow = 1.08 - 0.34 * (x * x + y * y) - 0.10 * (x + y)
    return np.clip(image * glow[..., None], 0, 1)
