"""Photos beside a record: to whom they belong, their dates from their names, their captions."""

import datetime as dt
import re
from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass

from sitegen.content.report import At, Report
from sitegen.content.values import PartialDate
from sitegen.content.yaml_tree import Node, Scalar, as_text_map
from sitegen.findings import Kind, nearest

_WHOLE = re.compile(r"(?<!\d)(\d{4})[-_.]?(\d{2})[-_.]?(\d{2})(?!\d)")
_MONTH = re.compile(r"(?<!\d)(\d{4})-(\d{2})(?!\d)")
_YEARS = range(1970, 2101)
_NUMBER = re.compile(r"^([^\W_]+)(?=[ _.\-])")


def date_in_name(name: str) -> PartialDate | None:
    """The date in a file name, as cameras, telephones and people write it; None when there is none.

    >>> date_in_name("2025-06-12 shed.jpg"), date_in_name("IMG_20240501_1200.jpg")
    (PartialDate(year=2025, month=6, day=12), PartialDate(year=2024, month=5, day=1))
    """
    for match in _WHOLE.finditer(name):
        year, month, day = (int(part) for part in match.groups())
        if year in _YEARS and _is_real(year, month, day):
            return PartialDate(year, month, day)
    for match in _MONTH.finditer(name):
        year, month = int(match[1]), int(match[2])
        if year in _YEARS and 1 <= month <= 12:
            return PartialDate(year, month)
    return None


def _is_real(year: int, month: int, day: int) -> bool:
    try:
        dt.date(year, month, day)
    except ValueError:
        return False
    return True


def young_in_name(name: str, numbers: Iterable[str]) -> str:
    """The young whose number a file name begins with, or nothing.

    >>> young_in_name("03 shed.jpg", ["03", "3b"]), young_in_name("2026-07-18.jpg", ["20"])
    ('03', '')
    """
    match = _NUMBER.match(name)
    start = match[1] if match else ""
    by_number = {number: number for number in numbers}
    if start in by_number:
        return start
    same_digits = [n for n in by_number if n.isdigit() and start.isdigit() and int(n) == int(start)]
    return same_digits[0] if len(same_digits) == 1 else ""


@dataclass(frozen=True, slots=True)
class PhotoRecord:
    """A photograph beside a record. ``path`` is relative to the content folder and is never published.

    ``video`` is the path of the video of which it is the still picture, or empty. ``on_site`` is False for one that is
    not shown, nor its video.
    """

    path: str
    date: PartialDate | None
    caption: str = ""
    drawing: bool = False
    video: str = ""
    on_site: bool = True


@dataclass(frozen=True, slots=True)
class Photos:
    """The photos of one folder, whether they are drawings, and the videos beside them."""

    paths: tuple[str, ...]
    drawings: bool
    videos: tuple[str, ...] = ()

    def records(
        self, captions: Mapping[str, str], paths: Iterable[str] | None = None, off: Container[str] = ()
    ) -> tuple[PhotoRecord, ...]:
        """The photos as records, by date and then by name, those without a date last."""
        videos = {_stem(video): video for video in self.videos}
        found = [
            PhotoRecord(
                path,
                date_in_name(_name(path)),
                captions.get(_name(path).lower(), ""),
                self.drawings,
                videos.get(_stem(path), ""),
                _name(path).lower() not in off,
            )
            for path in (self.paths if paths is None else paths)
        ]
        return tuple(sorted(found, key=lambda p: (p.date is None, p.date or PartialDate(1), p.path)))

    def by_young(self, numbers: Iterable[str]) -> dict[str, list[str]]:
        """Number of a young, or nothing for the whole litter, to photo paths."""
        numbers = tuple(numbers)
        found: dict[str, list[str]] = {}
        for path in self.paths:
            found.setdefault(young_in_name(_name(path), numbers), []).append(path)
        return found

    def captions(self, tree: Node | None, report: Report) -> dict[str, str]:
        """File name in lower case to caption; a caption without its photo is told."""
        names = {_name(path).lower(): _name(path) for path in self.paths}
        found = {}
        for key, text in as_text_map(tree, report):
            if key.text.lower() in names:
                found[key.text.lower()] = text.text.strip()
                continue
            self._tell_unknown(key, key.text, report.notice)
        return found

    def off_site(self, written: Iterable[At[str]], report: Report) -> frozenset[str]:
        """File names in lower case of those that are kept off the site.

        A name without its photo is an error: the photo that was meant would be published.
        """
        names = {_name(path).lower() for path in self.paths}
        for text in written:
            if text.value.lower() not in names:
                self._tell_unknown(text, text.value, report.error)
        return frozenset(text.value.lower() for text in written)

    def _tell_unknown(self, at: Scalar | At[str], name: str, tell: Callable[..., None]) -> None:
        names = {_name(path).lower(): _name(path) for path in self.paths}
        near = names.get(nearest(name, names), "")
        tell(
            Kind.PHOTO_UNKNOWN,
            at,
            f'there is no photo "{name}" beside this record',
            expected="the file name of a photo in the same folder",
            nearest=near,
            remedy=f'write "{near}"' if near else "add the photo, or delete the line",
        )


def _stem(path: str) -> str:
    return path.rpartition(".")[0]


def _name(path: str) -> str:
    return path.rsplit("/", 1)[-1]
