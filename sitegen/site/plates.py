"""Photographs on pages, and the page that shows all of one animal in full size."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.off_site import is_off_site
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.values import PartialDate
from sitegen.photos.variants import PictureSet
from sitegen.site.material import Folio
from sitegen.site.parts import Line, Moving, Picture, PictureSource, Plate, Span, words
from sitegen.words.labels import alt_text, litter_alt_text, no_photograph, video_text
from sitegen.words.numbers import age_text, small_number
from sitegen.words.speech import _, capital, ngettext, plain


@dataclass(frozen=True, slots=True)
class FullPlate:
    """A photograph in full size: an anchor, the plate, the address of the largest file."""

    id: str
    plate: Plate
    file: Line


@dataclass(frozen=True, slots=True)
class PlatesPage:
    """All photographs of one animal in full size, oldest first."""

    name: str
    kicker: Line
    intro: str
    back: Line
    plates: tuple[FullPlate, ...]


_UNDATED = dt.date.max


def picture(pictures: PictureSet, alt: str, folio: Folio) -> Picture:
    """A picture with links from where the page stands."""
    fallback = pictures.fallback()
    formats = tuple(dict.fromkeys(variant.format for variant in pictures.variants))
    sources = tuple(
        PictureSource(
            pictures.of_format(wanted)[0].media_type,
            ", ".join(f"{folio.linker.to(v.file_name)} {v.width_px}w" for v in pictures.of_format(wanted)),
        )
        for wanted in formats
    )
    return Picture(
        sources=sources,
        src=folio.linker.to(fallback.file_name),
        width=pictures.width_px,
        height=pictures.height_px,
        alt=alt,
        tall=pictures.height_px > pictures.width_px,
        src_width=fallback.width_px,
        src_height=fallback.height_px,
        placeholder=pictures.placeholder_data,
    )


def dated(photo: PhotoRecord, folio: Folio) -> PhotoRecord:
    """The photo with the day the camera gives, where the record has none."""
    pictures = folio.material.pictures.get(photo.path)
    if photo.date is not None or pictures is None or pictures.taken is None:
        return photo
    taken = pictures.taken
    return replace(photo, date=PartialDate(taken.year, taken.month, taken.day))


def in_time_order(photos: Sequence[PhotoRecord], folio: Folio) -> tuple[PhotoRecord, ...]:
    """The photos that have pictures, oldest first; those without a date last, in record order."""
    shown = [dated(photo, folio) for photo in photos if photo.path in folio.material.pictures]
    return tuple(sorted(shown, key=lambda photo: photo.date.earliest if photo.date else _UNDATED))


def lead_photo(photos: Sequence[PhotoRecord], folio: Folio) -> PhotoRecord | None:
    """The newest photo; of several without a date the first."""
    ordered = in_time_order(photos, folio)
    dates = [photo for photo in ordered if photo.date]
    return dates[-1] if dates else next(iter(ordered), None)


def animal_picture(photo: PhotoRecord, animal: Animal, folio: Folio) -> Picture:
    """An animal's picture, with its text alternative."""
    alt = alt_text(photo, animal, folio.claims(animal.id), folio.voice)
    return picture(folio.material.pictures[photo.path], alt, folio)


def age_note(photo: PhotoRecord, animal: Animal, folio: Folio) -> str:
    """``14 months, 3 July 2025``, as far as it is known."""
    age = age_text(animal.born, photo.date.latest) if animal.born and photo.date else ""
    date = folio.date(photo.date)
    return _("{age} old, {date}").format(age=age, date=date) if age and date else date


def grown_plate(photo: PhotoRecord, animal: Animal, folio: Folio) -> Plate:
    """A photo as it stands among the photos of one animal: caption, age and date."""
    return Plate(
        picture=animal_picture(photo, animal, folio),
        caption=words(photo.caption),
        note=age_note(photo, animal, folio),
        drawing=photo.drawing,
        video=_moving(photo, folio),
    )


def opening_plate(photo: PhotoRecord, animal: Animal, folio: Folio) -> Plate:
    """The same, leading to the photo in full size: picture and caption do, without a caption age and date."""
    page, plate = folio.addresses.plates.get(animal.id, ""), grown_plate(photo, animal, folio)
    if not page:
        return plate
    paths = [each.path for each in in_time_order(animal.photos, folio)]
    href = folio.linker.to(f"{page}#{photograph_anchor(paths.index(photo.path) + 1)}")
    caption = photo.caption or plate.note or _("Full size")
    return replace(plate, href=href, caption=words(caption, href), note=plate.note if photo.caption else "")


def photograph_anchor(rank: int) -> str:
    """The anchor of a photograph on the page of an animal's photographs, by its place in time, from 1."""
    return f"photograph-{rank}"


def named_plate(animal: Animal, folio: Folio) -> Plate:
    """An animal's newest photo with its name under it, leading to its page; without a photo, an empty plate."""
    photo = lead_photo(animal.photos, folio)
    href = folio.linker.animal(animal.id)
    caption = words(folio.name(animal), href)
    if photo is None:
        return empty_plate(caption, href)
    note = age_note(photo, animal, folio)
    return Plate(animal_picture(photo, animal, folio), caption, note, href, photo.drawing)


def parent_plates(born: Animal | Litter, folio: Folio) -> tuple[Plate, ...]:
    """Dam and possible sires, each with its newest photo, its name, and what it shows."""
    word = folio.material.labels
    sire = _("Possible sire") if len(born.sires) > 1 else word.sire
    named = [*([(word.dam, born.dam)] if born.dam else []), *((sire, each) for each, _share in born.sires)]

    def plate(part: str, animal: str) -> Plate:
        if is_off_site(animal):
            return empty_plate(words(f"{part}: {folio.voice.animal(animal).text}"))
        shown = named_plate(folio.collection.animals[animal], folio)
        seen = plain(folio.material.lines[animal].seen())
        return replace(shown, caption=(Span(f"{part}: "), *shown.caption), note=seen)

    return tuple(plate(part, animal) for part, animal in named)


def empty_plate(caption: Line = (), href: str = "") -> Plate:
    """What stands where there is no picture to show."""
    return Plate(None, caption, href=href, unseen=no_photograph())


def litter_plate(photo: PhotoRecord, litter: Litter, folio: Folio) -> Plate:
    """A photo of a whole litter."""
    return _dated_plate(photo, photo.caption or litter_alt_text(photo, litter), folio)


def project_plate(photo: PhotoRecord, name: str, folio: Folio) -> Plate:
    """A photo of a project or one of its notes."""
    alt = photo.caption or (_("Drawing for {name}") if photo.drawing else _("Photograph for {name}")).format(name=name)
    return _dated_plate(photo, alt, folio)


def _dated_plate(photo: PhotoRecord, alt: str, folio: Folio) -> Plate:
    return Plate(
        picture=picture(folio.material.pictures[photo.path], alt, folio),
        caption=words(photo.caption),
        note=folio.date(photo.date),
        drawing=photo.drawing,
        video=_moving(photo, folio),
    )


def _moving(photo: PhotoRecord, folio: Folio) -> Moving | None:
    video = folio.material.videos.get(photo.video)
    if video is None:
        return None
    poster, language = folio.material.pictures[photo.path].fallback(640), folio.collection.site.language
    return Moving(
        folio.linker.to(video.address),
        folio.linker.to(poster.file_name),
        video_text(video.seconds, video.n_bytes, sound=video.sound, language=language),
        folio.linker.to(video.captions) if video.captions else "",
        language,
    )


def photographs_page(animal: Animal, folio: Folio) -> PlatesPage:
    """All photographs of an animal that are shown, oldest first, with its age on each."""
    photos = in_time_order(animal.photos, folio)
    told = ngettext("{count} picture.", "{count} pictures, the oldest first.", len(photos))
    return PlatesPage(
        name=folio.name(animal),
        kicker=words(capital(folio.collection.species[animal.species].name)),
        intro=capital(told.format(count=small_number(len(photos)))),
        back=(Span(_("To the animal’s page"), folio.linker.animal(animal.id)),),
        plates=tuple(_full(rank, photo, animal, folio) for rank, photo in enumerate(photos, 1)),
    )


def _full(rank: int, photo: PhotoRecord, animal: Animal, folio: Folio) -> FullPlate:
    largest = folio.material.pictures[photo.path].of_format("jpeg")[-1]
    told = _("The picture alone, {width} by {height} pixels").format(width=largest.width_px, height=largest.height_px)
    link = Span(told, folio.linker.to(largest.file_name))
    return FullPlate(photograph_anchor(rank), grown_plate(photo, animal, folio), (link,))


def pictures_changed(animal: Animal, at: Folio) -> dt.date | None:
    """The day of the newest photo of an animal that is shown."""
    days = [photo.date.earliest for photo in in_time_order(animal.photos, at) if photo.date]
    return max((day for day in days if day <= at.material.as_of), default=None)
