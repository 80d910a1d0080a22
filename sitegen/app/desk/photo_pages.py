"""Photographs at the desk: those beside a record, new ones from a browser, and small pictures of them.

A file that is sent is read to its end before it is kept; its name gives no more than its ending and perhaps its day.
A small picture is asked for by a mark made of its photograph, never by a path.
"""

import hashlib
import io
import os
from collections.abc import Iterable
from dataclasses import dataclass

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome
from sitegen.app.desk.pages import Pages
from sitegen.below import read_below
from sitegen.content.photo_records import date_in_name, young_in_name
from sitegen.content.values import parse_date
from sitegen.findings import WrongUse
from sitegen.keeper.entries import keep_photos
from sitegen.keeper.lookup import find_record
from sitegen.keeper.records import Proposal, RecordPlace, Records
from sitegen.keeper.removing import remove_record
from sitegen.photos.opening import MAX_BYTES, Fault, opened_photo, upright_pixels, upright_size
from sitegen.words.speech import animal_name

MOST_FILES, _MOST_MB, _MOST_BYTES = 50, 25, 250 * 1024 * 1024
_SMALL_PX = 320


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph beside a record: its mark, the name of its file, the day in it, and its caption."""

    mark: str
    name: str
    day: str
    caption: str = ""


def pictures_of(records: Records, paths: Iterable[str], captions: dict[str, str] | None = None) -> tuple[Picture, ...]:
    """Those photographs as a page shows them."""
    names = [(path, path.rpartition("/")[2]) for path in paths]
    return tuple(
        Picture(mark_of(records, path), name, str(date_in_name(name) or ""), (captions or {}).get(name, ""))
        for path, name in names
    )


def mark_of(records: Records, path: str) -> str:
    """What a photograph is asked for by; another one when the file changes."""
    try:
        state = os.stat(records.root / path, follow_symlinks=False)
    except OSError:
        return ""
    return hashlib.sha256(f"{path}\0{state.st_mtime_ns}\0{state.st_size}".encode()).hexdigest()[:24]


def routes(pages: Pages) -> list[Route]:
    """The page of a record's photographs, where they are sent, and the small pictures."""

    def page(request: Request, outcome: Outcome | None = None) -> Response:
        standing, named = pages.desk.now(), request.path_params["record"]
        records, collection = standing.records, standing.collection
        try:
            place = find_record(records, named)
        except WrongUse as error:
            return pages.show(request, "trouble.html", 404, findings=[], fault=f"{error}.")
        held = records.held(RecordPlace(place.shown, place.file), "captions")
        name = animal_name(collection, place.shown) if collection and place.shown in collection.animals else place.shown
        back = f"/{place.kind}s/{place.shown.partition('/')[0]}"
        return pages.show(
            request, "photos.html", 422 if outcome else 200, outcome=outcome, record=place.shown, name=name, back=back,
            pictures=pictures_of(records, _beside(records, place), held if isinstance(held, dict) else {}),
            most=MOST_FILES, most_mb=_MOST_MB,
        )  # fmt: skip

    def keep(request: Request, form: FormData) -> Response:
        named = request.path_params["record"]
        sent = [each for each in form.getlist("photos") if isinstance(each, UploadFile) and each.filename]

        def kept(records: Records) -> Proposal:
            if taken_out := _path_of(records, str(form.get("remove", ""))):
                return remove_record(records, taken_out)
            too_large = [each.filename for each in sent if (each.size or 0) > _MOST_MB * 1024 * 1024]
            if too_large or not sent:
                raise WrongUse(f"{too_large[0]} is larger than {_MOST_MB} MB" if sent else "no photograph was chosen")
            day = parse_date(str(form.get("day", "")))
            if form.get("day") and not (day and day.day):
                raise WrongUse(f'"{form["day"]}" is no day; write it as 2026-07-20')
            photos = [(each.filename or "", each.file.read()) for each in sent]
            on = day.earliest if day else None
            return keep_photos(records, named, photos, on, str(form.get("caption", "")))

        outcome = pages.desk.save(kept)
        answer = pages.answer(request, outcome, f"/photos/{named}", lambda told: page(request, told))
        if not isinstance(answer, JSONResponse) or outcome.is_refused:
            return answer
        records = pages.desk.now().records
        marks = [each.mark for each in pictures_of(records, _beside(records, find_record(records, named)))]
        return JSONResponse({**pages.facts_of(outcome), "marks": marks})

    def small(request: Request) -> Response:
        records = pages.desk.now().records
        path = _path_of(records, request.path_params["mark"])
        picture = _small(read_below(records.root, path, MAX_BYTES)) if path else None
        if picture is None:
            return PlainTextResponse("There is no such photograph.\n", 404)
        return Response(picture, media_type="image/jpeg", headers={"Cache-Control": "max-age=86400, immutable"})

    sending = pages.writing(keep, MOST_FILES, _MOST_BYTES)
    return [
        Route("/photos/small/{mark}.jpg", pages.reading(small)),
        Route("/photos/{record:path}", pages.reading(page), methods=["GET"]),
        Route("/photos/{record:path}", sending, methods=["POST"]),
    ]


def _path_of(records: Records, mark: str) -> str:
    every = (path for paths in records.content.photos.values() for path in paths)
    return next((path for path in every if mark and mark_of(records, path) == mark), "")


def _beside(records: Records, place: RecordPlace) -> list[str]:
    """The photographs of a record; of a litter those that are of no young alone."""
    paths = records.content.photos.get(place.folder, ())
    form = records.forms.litters.get(place.folder.rpartition("/")[2]) if place.kind == "litter" else None
    numbers = tuple(form.young or ()) if form else ()
    own = place.keys[-1] if place.keys else ""
    return [path for path in paths if young_in_name(path.rpartition("/")[2], numbers) == own]


def _small(content: bytes) -> bytes | None:
    image = opened_photo(content)
    if isinstance(image, Fault):
        return None
    with image:
        width, height = upright_size(image)
        scale = min(1.0, _SMALL_PX / max(width, height))
        pixels = upright_pixels(image, max(1, round(width * scale)), max(1, round(height * scale)))
    if isinstance(pixels, Fault):
        return None
    written = io.BytesIO()
    pixels.convert("RGB").save(written, "JPEG", quality=80)
    return written.getvalue()
