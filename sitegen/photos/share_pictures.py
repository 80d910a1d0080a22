"""Share pictures: what other programs show for a link to a page, 1200 by 630 pixels.

Each is composed from a photo, a name and one true line. Its address is known before it is made, and changes with
everything that stands on it, so that nobody keeps showing an old one. Words are broken into lines, as large as fits,
from several font files of one family.
"""

import hashlib
import io
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache
from pathlib import PurePosixPath

from PIL import Image, ImageDraw, ImageFont, ImageOps

from sitegen.findings import SitegenError
from sitegen.photos.opening import without_metadata
from sitegen.photos.store import Kept, Store, why_not_written
from sitegen.workers import Crashed, Progress, in_workers

WIDTH_PX, HEIGHT_PX = 1200, 630
"""The shape that most programs show whole (1.91 to 1). Source: common practice, no source."""

SHARES_BEGIN = "pictures/share-"
"""How the address of every share picture begins."""

RECIPE = 1
"""Raised by hand whenever this module would make another picture of the same card."""

SHARES = "share"
"""What the store holds them as."""

_MARGIN_PX, _GAP_PX, _FRAME_PX = 40, 44, 12
_PHOTO_PX = (650, HEIGHT_PX - 2 * _MARGIN_PX)
_NAME_PX, _ALONE_PX, _LEAST_NAME_PX = 76, 104, 40
_LINE_PX, _LEAST_LINE_PX = 34, 24
_SMALL_PX = 26
_QUALITY = 84

_NO_SIGN = "\ue000"
"""A sign for private use, which fonts for reading do not have; it is drawn as they draw what they lack."""

_LEADING = 5, 4  # height of a line to the size of the type
_STEP_PX = 4


@dataclass(frozen=True, slots=True)
class ShareCard:
    """All that stands on one share picture, in words ready to print.

    Attributes:
        kicker: What it is: the species, the sex, the day of birth.
        name: The largest words.
        line: One true line.
        foot: Whose it is; a line break in it is kept.
        mark: Stands on the photo, such as ``Drawing``; empty for a photograph.
        photo: Name below the site's root of the picture that it is composed from, or empty for none.
    """

    kicker: str
    name: str
    line: str
    foot: str
    mark: str = ""
    photo: str = ""

    @property
    def address(self) -> str:
        """Where it stands, from the site's root."""
        told = "\0".join(getattr(self, field.name) for field in fields(self))
        return f"{SHARES_BEGIN}{hashlib.sha256(f'{RECIPE}|{told}'.encode()).hexdigest()[:24]}.jpg"


@dataclass(frozen=True, slots=True)
class ShareStyle:
    """How share pictures of a theme look.

    Attributes:
        roman, italic: Font files as bytes; a sign is taken from the first that has it.
        paper, card, ink, soft, accent: Colours, ``#rrggbb``.
    """

    roman: tuple[bytes, ...]
    italic: tuple[bytes, ...]
    paper: str
    card: str
    ink: str
    soft: str
    accent: str

    @property
    def key(self) -> str:
        """16 hexadecimal digits that change with fonts and colours."""
        digest = hashlib.sha256("|".join((self.paper, self.card, self.ink, self.soft, self.accent)).encode())
        for font in (*self.roman, b"|", *self.italic):
            digest.update(hashlib.sha256(font).digest())
        return digest.hexdigest()[:16]


@dataclass(frozen=True, slots=True)
class Composed:
    """What stands ready: address to the entry of the store for every card, and the number that was made in this run."""

    files: dict[str, Kept]
    made: int


@dataclass(frozen=True, slots=True)
class _ShareJob:
    card: ShareCard
    photo: Kept | None
    style: ShareStyle
    store: Store


def compose_shares(
    cards: Mapping[str, ShareCard],
    style: ShareStyle,
    pictures: Mapping[str, Kept],
    store: Store,
    workers: int = 0,
    progress: Progress | None = None,
) -> Composed:
    """Make every share picture that the store does not hold, in parallel; ``pictures`` by their names in the site.

    Raises:
        SitegenError: The store cannot be read or written.
    """
    found = {address: store.find(SHARES, store_key(card, style)) for address, card in cards.items()}
    missing = [address for address, kept in found.items() if kept is None]
    jobs = [_ShareJob(cards[address], pictures.get(cards[address].photo), style, store) for address in missing]
    for address, made in zip(missing, in_workers(_compose_job, jobs, workers, progress), strict=True):
        if not isinstance(made, Kept):
            why = "the program that draws them failed" if isinstance(made, Crashed) else made
            raise SitegenError(f"the share pictures cannot be kept in {store.folder}: {why}")
        found[address] = made
    return Composed({address: kept for address, kept in found.items() if kept}, len(jobs))


def store_key(card: ShareCard, style: ShareStyle) -> str:
    """The key under which the store holds a share picture."""
    stem = PurePosixPath(card.address).stem.removeprefix("share-")
    return f"{stem}-{style.key}.jpg"


def _compose_job(job: _ShareJob) -> Kept | str:
    """The picture in the store, or why it could not be made."""
    try:
        photo = _photo(job.photo.read()) if job.photo else None
        return job.store.write(SHARES, store_key(job.card, job.style), _encoded(composed(job.card, photo, job.style)))
    except OSError as failure:
        return why_not_written(failure)


def _photo(content: bytes) -> Image.Image:
    with Image.open(io.BytesIO(content), formats=("JPEG",)) as image:
        image.draft("RGB", _PHOTO_PX)
        return image.convert("RGB")


def _encoded(picture: Image.Image) -> bytes:
    written = io.BytesIO()
    without_metadata(picture).save(written, "JPEG", quality=_QUALITY, progressive=True, optimize=True)
    return written.getvalue()


def composed(card: ShareCard, photo: Image.Image | None, style: ShareStyle) -> Image.Image:
    """The picture: photo at the left in a thin frame, words at the right; without a photo the words alone.

    Words for which the fonts have no signs are left out: better none than boxes.
    """
    picture = Image.new("RGB", (WIDTH_PX, HEIGHT_PX), style.paper)
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, WIDTH_PX, 9), fill=style.accent)
    left = _MARGIN_PX
    if photo is not None:
        left += _place_photo(picture, draw, photo, card.mark, style) + _GAP_PX
    _place_words(draw, left, card, style)
    return picture


def _place_photo(
    picture: Image.Image, draw: ImageDraw.ImageDraw, photo: Image.Image, mark: str, style: ShareStyle
) -> int:
    """Its width in its frame: all of a tall photo is shown, of a wide one the middle."""
    widest, height = _PHOTO_PX
    width = min(widest, photo.width * (height - 2 * _FRAME_PX) // photo.height + 2 * _FRAME_PX)
    box = (_MARGIN_PX, _MARGIN_PX, _MARGIN_PX + width - 1, _MARGIN_PX + height - 1)
    draw.rectangle(box, fill=style.card, outline=style.soft, width=1)
    inner = (width - 2 * _FRAME_PX, height - 2 * _FRAME_PX)
    picture.paste(ImageOps.fit(photo, inner, Image.Resampling.LANCZOS), (box[0] + _FRAME_PX, box[1] + _FRAME_PX))
    piece = Lettering(style.italic).piece(mark, _SMALL_PX, width, 1)
    if piece is not None:
        at = (box[0] + _FRAME_PX, box[3] - _FRAME_PX - piece.height - 12)
        draw.rectangle((*at, at[0] + piece.width + 24, at[1] + piece.height + 12), fill=style.card)
        piece.draw(draw, (at[0] + 12, at[1] + 6), style.soft)
    return width


def _place_words(draw: ImageDraw.ImageDraw, left: int, card: ShareCard, style: ShareStyle) -> None:
    """Kicker, name, rule and line from above; whose it is at the foot."""
    room, roman, italic = WIDTH_PX - _MARGIN_PX - left, Lettering(style.roman), Lettering(style.italic)
    foot = italic.piece(card.foot, _SMALL_PX, room, 3)
    bottom = HEIGHT_PX - _MARGIN_PX - (foot.height if foot else 0)
    if foot is not None:
        foot.draw(draw, (left, bottom), style.soft)
    top = _MARGIN_PX + 4
    if kicker := italic.piece(card.kicker, _SMALL_PX, room, 3):
        kicker.draw(draw, (left, top), style.soft)
        top += kicker.height + 14
    largest = _NAME_PX if left > _MARGIN_PX else _ALONE_PX
    if name := roman.fitting(card.name, largest, _LEAST_NAME_PX, room, (bottom - top) * 5 // 9):
        name.draw(draw, (left, top), style.ink)
        top += name.height + 24
    draw.line((left, top, left + room, top), fill=style.accent, width=3)
    top += 22
    line: SetLines | None = roman.fitting(card.line, _LINE_PX, _LEAST_LINE_PX, room, bottom - top - 20)
    if line is not None:
        line.draw(draw, (left, top), style.ink)


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
