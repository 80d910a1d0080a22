"""Draws share pictures from pictures that stand in the store, and keeps them there."""

import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from PIL import Image, ImageDraw, ImageOps

from sitegen.findings import SitegenError
from sitegen.photos.lettering import Lettering, SetLines
from sitegen.photos.opening import without_metadata
from sitegen.photos.sharing import HEIGHT_PX, WIDTH_PX, ShareCard, ShareStyle
from sitegen.photos.store import Kept, Store, why_not_written
from sitegen.photos.workers import Crashed, Progress, in_workers

KIND = "share"

_MARGIN_PX, _GAP_PX, _FRAME_PX = 40, 44, 12
_PHOTO_PX = (650, HEIGHT_PX - 2 * _MARGIN_PX)
_NAME_PX, _ALONE_PX, _LEAST_NAME_PX = 76, 104, 40
_LINE_PX, _LEAST_LINE_PX = 34, 24
_SMALL_PX = 26
_QUALITY = 84


@dataclass(frozen=True, slots=True)
class Composed:
    """What stands ready.

    Attributes:
        files: Address to the entry of the store, for every card.
        made: Number of pictures made in this run.
    """

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
    """Make every share picture that the store does not hold, in parallel.

    Args:
        cards: Address to what stands on the picture there.
        style: Fonts and colours of the theme.
        pictures: Name below the site's root of a picture to its entry of the store; a card without its photo
            there has none.
        store: Holds the pictures from run to run.
        workers: Number of processes; 0 for one a processor.
        progress: Called with the number done and the number there are to do.

    Raises:
        SitegenError: The store cannot be read or written.
    """
    found = {address: store.find(KIND, store_key(card, style)) for address, card in cards.items()}
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
        return job.store.write(KIND, store_key(job.card, job.style), _encoded(composed(job.card, photo, job.style)))
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
