"""Words set in a font on a picture: broken into lines, as large as fits, from several files of one family."""

import io
from dataclasses import dataclass
from functools import lru_cache

from PIL import ImageDraw, ImageFont

_NO_SIGN = "\ue000"
"""A sign for private use, which fonts for reading do not have; it is drawn as they draw what they lack."""

_LEADING = 5, 4  # height of a line to the size of the type
_STEP_PX = 4


@dataclass(frozen=True, slots=True)
class SetLines:
    """Lines of words, ready to draw. Sizes in pixels."""

    lines: tuple[str, ...]
    size: int
    width: int
    fonts: tuple[bytes, ...]
    whole: bool

    @property
    def leading(self) -> int:
        """From one line to the next."""
        return self.size * _LEADING[0] // _LEADING[1]

    @property
    def height(self) -> int:
        """Of all lines."""
        return self.leading * len(self.lines)

    def draw(self, draw: ImageDraw.ImageDraw, at: tuple[int, int], colour: str) -> None:
        """Draw the lines with their upper left corner at a place."""
        faces = _faces(self.fonts, self.size)
        for rank, line in enumerate(self.lines):
            x, y = float(at[0]), at[1] + rank * self.leading
            for face, words in _runs(line, faces):
                draw.text((x, y), words, fill=colour, font=face)
                x += face.getlength(words)


@dataclass(frozen=True, slots=True)
class Lettering:
    """A family: font files, of which a sign is taken from the first that has it."""

    fonts: tuple[bytes, ...]

    def piece(self, text: str, size: int, room: int, most_lines: int) -> SetLines | None:
        """The text in lines no wider than the room, its end left out (``…``) where it takes more lines than wanted.

        A line break in it is kept. None for no text, and for one with a sign that no font has.
        """
        paragraphs = [words for line in text.split("\n") if (words := line.split())]
        faces = _faces(self.fonts, size)
        signs = {sign for words in paragraphs for word in words for sign in word}
        if not signs or any(_face_for(sign, faces) is None for sign in signs):
            return None
        lines = [line for words in paragraphs for line in _broken(words, faces, room)]
        whole = len(lines) <= most_lines and all(_length(line, faces) <= room for line in lines)
        lines = [_cut(line, faces, room) for line in lines[:most_lines]]
        if not whole and not lines[-1].endswith("…"):
            lines[-1] = _cut(lines[-1] + " …", faces, room)
        width = max(round(_length(line, faces)) for line in lines)
        return SetLines(tuple(lines), size, width, self.fonts, whole)

    def fitting(self, text: str, size: int, least: int, room: int, height: int) -> SetLines | None:
        """The text in the largest type, from ``size`` down to ``least``, in which all of it fits into the height."""
        found = None
        for tried in range(size, least - 1, -_STEP_PX):
            most_lines = max(1, height * _LEADING[1] // (tried * _LEADING[0]))
            found = self.piece(text, tried, room, most_lines)
            if found is None or found.whole:
                return found
        return found


@lru_cache(maxsize=64)
def _faces(fonts: tuple[bytes, ...], size: int) -> tuple[ImageFont.FreeTypeFont, ...]:
    # The basic layout is the same on every machine, whatever else is installed there.
    return tuple(ImageFont.truetype(io.BytesIO(font), size, layout_engine=ImageFont.Layout.BASIC) for font in fonts)


Faces = tuple[ImageFont.FreeTypeFont, ...]


@lru_cache(maxsize=4096)
def _face_for(sign: str, faces: Faces) -> ImageFont.FreeTypeFont | None:
    """The first face that has a sign."""
    return next((face for face in faces if sign.isspace() or _drawn(face, sign) != _drawn(face, _NO_SIGN)), None)


def _drawn(face: ImageFont.FreeTypeFont, sign: str) -> tuple[tuple[int, int], bytes]:
    mask = face.getmask(sign)
    return mask.size, bytes(mask)


def _runs(text: str, faces: Faces) -> list[tuple[ImageFont.FreeTypeFont, str]]:
    """The text in parts that come from one face each; what no face has is passed over."""
    runs: list[tuple[ImageFont.FreeTypeFont, str]] = []
    for sign in text:
        face = (runs[-1][0] if runs else faces[0]) if sign.isspace() else _face_for(sign, faces)
        if face is None:
            continue
        if runs and runs[-1][0] is face:
            runs[-1] = face, runs[-1][1] + sign
        else:
            runs.append((face, sign))
    return runs


def _length(text: str, faces: Faces) -> float:
    return sum(face.getlength(words) for face, words in _runs(text, faces))


def _broken(words: list[str], faces: Faces, room: int) -> list[str]:
    """The words in lines, as many in each as fit."""
    lines = [words[0]]
    for word in words[1:]:
        longer = f"{lines[-1]} {word}"
        if _length(longer, faces) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _cut(line: str, faces: Faces, room: int) -> str:
    """The line, or as much of its beginning as fits before a ``…``."""
    if _length(line, faces) <= room:
        return line
    kept = line.removesuffix("…").rstrip()
    while kept and _length(f"{kept}…", faces) > room:
        kept = kept[:-1].rstrip()
    return f"{kept}…"
