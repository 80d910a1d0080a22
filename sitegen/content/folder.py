"""Reads the content folder: a bounded walk in fixed order that follows no links (see ``below.py``)."""

import os
import shlex
import unicodedata
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.below import LeadsAway, TooLarge, entries_below, read_below
from sitegen.content.report import Report
from sitegen.content.yaml_faults import hidden_findings
from sitegen.findings import Finding, Kind, Level, Place, nearest

PHOTO_ENDINGS = frozenset(
    {".jpg", ".jpeg", ".png", ".webp", ".avif", ".heic", ".heif", ".tif", ".tiff", ".gif", ".bmp"}
)
VIDEO_ENDINGS = frozenset({".mp4", ".m4v", ".mov"})
MAX_TEXT_BYTES = 1_000_000
MAX_FILES = 200_000
RECORDS = {"animals": "animal.yaml", "litters": "litter.yaml", "projects": "project.yaml"}
"""The folders that hold one folder a record, and what its record is called."""

_FILES = ("site.yaml", "plan.yaml", "waiting.yaml")
_TOP = (*_FILES, "species", *RECORDS, "pages")
_IGNORED = frozenset({"thumbs.db", "desktop.ini", "ehthumbs.db"})
_NOTICE_REMEDY = "move it away, or rename it if it was meant to be read"


@dataclass(frozen=True, slots=True)
class Content:
    """All that the content folder holds, in a fixed order.

    Attributes:
        texts: Path of each record, page and note, relative to the content folder with forward
            slashes, to its text.
        photos: Path of a folder (``animals/juniper``) to the paths of the photos in it, sorted.
        unreadable: Paths of records that exist but could not be read; findings say why.
        videos: Folder to videos that have a photo of the same name; their captions are among the texts.
    """

    texts: Mapping[str, str]
    photos: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    unreadable: tuple[str, ...] = ()
    videos: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(slots=True)
class _Walk:
    """What has been gathered so far."""

    root: Path
    texts: dict[str, str] = field(default_factory=dict)
    photos: dict[str, list[str]] = field(default_factory=dict)
    videos: dict[str, list[str]] = field(default_factory=dict)
    unreadable: list[str] = field(default_factory=list)
    report: Report = field(default_factory=Report)
    folders: set[str] = field(default_factory=set)
    links: set[str] = field(default_factory=set)
    n_files: int = 0


def read_content(root: Path) -> tuple[Content, tuple[Finding, ...]]:
    """Everything the content folder (which may be reached through a link) holds, and what there is not understood."""
    walk = _Walk(root)
    if not root.is_dir():
        message = "the content folder is a file" if root.exists() else "there is no content folder here"
        finding = Finding(
            Level.ERROR,
            Kind.FOLDER_MISSING,
            None,
            f"{message}: {printable(str(root))}",
            expected="a folder with site.yaml, species, animals and litters",
            remedy="go to the folder of your collection first (cd my-snakes), begin one with sitegen start, or name "
            "the folder with --content",
        )
        return Content({}), (finding,)
    names = _names(walk, "")
    for name in names:
        _read_top(walk, name)
    if not walk.texts and not walk.unreadable and not walk.report.findings and not walk.photos:
        walk.report.findings.append(
            Finding(
                Level.ERROR,
                Kind.FOLDER_EMPTY,
                None,
                f"the content folder holds no records: {printable(str(root))}",
                expected="site.yaml and folders named species, animals and litters",
                remedy="write a first record; sitegen guide records shows each kind",
            )
        )
    elif "site.yaml" not in names:
        _without_site(walk, names)
    photos = {folder: tuple(paths) for folder, paths in walk.photos.items()}
    videos = {folder: tuple(paths) for folder, paths in walk.videos.items()}
    return Content(walk.texts, photos, tuple(walk.unreadable), videos), tuple(walk.report.findings)


def printable(name: str) -> str:
    """A file name that can be shown, also one whose bytes are no text."""
    return name.encode("utf-8", "backslashreplace").decode("utf-8")


def _names(walk: _Walk, folder: str) -> list[str]:
    """The names in a folder in fixed order, without those that every system leaves lying about."""
    try:
        found = sorted(
            entries_below(walk.root, folder), key=lambda entry: (unicodedata.normalize("NFC", entry.name), entry.name)
        )
    except OSError as error:
        _unreadable(walk, folder, error.strerror or "it cannot be opened")
        return []
    names: list[str] = []
    for entry in found:
        name = entry.name
        path = f"{folder}/{name}" if folder else name
        if name.startswith((".", "~$")) or name.endswith("~") or name.lower() in _IGNORED:
            continue
        walk.n_files += 1
        if walk.n_files > MAX_FILES:
            _too_many(walk)
            return names
        if printable(name) != name:
            walk.report.error(
                Kind.FILE_UNEXPECTED,
                Place(printable(path)),
                "the name of this file is not readable text",
                expected="a name of letters, digits and hyphens",
                remedy="rename it",
            )
        else:
            names.append(name)
            if entry.is_link:
                walk.links.add(path)
            elif entry.is_folder:
                walk.folders.add(path)
    return names


def _too_many(walk: _Walk) -> None:
    if not any(f.kind is Kind.FILE_TOO_LARGE and f.place == Place("") for f in walk.report.findings):
        walk.report.error(
            Kind.FILE_TOO_LARGE,
            Place(""),
            f"the content folder holds more than {MAX_FILES:,} files",
            remedy="move away what does not belong to the records",
        )


def _unreadable(walk: _Walk, path: str, why: str, *, remedy: str = "check the permissions of the file") -> None:
    walk.unreadable.append(path)
    walk.report.error(Kind.FILE_UNREADABLE, Place(path), f"this cannot be read: {why}", remedy=remedy)


def _leads_away(walk: _Walk, path: str, *, record: str = "") -> None:
    """A link, which is not followed: an error where a ``record`` would have been read, else a notice."""
    walk.unreadable += [record] if record else []
    walk.report.tell(
        Level.ERROR if record else Level.NOTICE,
        Kind.FILE_UNREADABLE if record else Kind.FILE_UNEXPECTED,
        Place(path),
        "this is a link to another place; links are not followed",
        expected="a file or folder of its own",
        remedy="delete the link and copy here what it leads to",
    )


def _read_text(walk: _Walk, path: str) -> None:
    """One text file, or a finding that says why not."""
    try:
        raw = read_below(walk.root, path, MAX_TEXT_BYTES)
    except LeadsAway:
        _leads_away(walk, path, record=path)
        return
    except TooLarge as found:
        walk.unreadable.append(path)
        walk.report.error(
            Kind.FILE_TOO_LARGE,
            Place(path),
            f"this file has {found.size:,} bytes, more than any record needs",
            expected=f"at most {MAX_TEXT_BYTES:,} bytes",
            remedy="split it, or move away what is not a record",
        )
        return
    except OSError as error:
        _unreadable(walk, path, error.strerror or "it cannot be opened")
        return
    try:
        text = raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        _unreadable(
            walk,
            path,
            f"line {line} holds characters that are not UTF-8",
            remedy='open it in your editor and save it again with the encoding "UTF-8"',
        )
        return
    walk.texts[path] = text
    if path.endswith(".md"):
        walk.report.findings += hidden_findings(text, file=path)


def _read_top(walk: _Walk, name: str) -> None:
    """One name at the top of the content folder."""
    is_folder = name in walk.folders
    if name in walk.links:
        _leads_away(walk, name, record=name if name in _TOP else "")
    elif name in _FILES and not is_folder:
        _read_text(walk, name)
    elif name == "species" and is_folder:
        _read_flat(walk, name, ".yaml", "a species file such as corn-snake.yaml")
    elif name == "pages" and is_folder:
        _read_flat(walk, name, ".md", "a page such as about.md")
    elif name in RECORDS and is_folder:
        for entry in _names(walk, name):
            folder = f"{name}/{entry}"
            if folder in walk.folders:
                _read_record(walk, folder, RECORDS[name])
            elif folder in walk.links:
                _leads_away(walk, folder, record=f"{folder}/{RECORDS[name]}")
            elif entry.lower().endswith((".yaml", ".yml")):
                _beside_the_folders(walk, name, entry)
            else:
                _unexpected(walk, folder, (), expected=f"one folder for each record, with {RECORDS[name]} in it")
    else:
        _unexpected(walk, name, _TOP, expected=f"only {', '.join(_TOP)}")


def _read_flat(walk: _Walk, folder: str, ending: str, expected: str) -> None:
    """A folder of files of one kind."""
    for name in _names(walk, folder):
        path = f"{folder}/{name}"
        if path in walk.folders:
            _unexpected(walk, path, (), expected=expected)
        elif name.endswith(ending) and name != ending:
            _read_text(walk, path)
        elif _is_photo(name):
            walk.photos.setdefault(folder, []).append(path)
        elif path in walk.links:
            _leads_away(walk, path)
        else:
            _unexpected(walk, path, (os.path.splitext(name)[0] + ending,), expected=expected)


def _read_record(walk: _Walk, folder: str, record: str) -> None:
    """The folder of one animal, litter or project."""
    names = _names(walk, folder)
    strays = []
    for name in names:
        path = f"{folder}/{name}"
        if path in walk.folders:
            if name == "updates" and record == "project.yaml":
                _read_flat(walk, path, ".md", "a note such as 2026-07-20-first-pips.md")
            else:
                _unexpected(walk, path, ("updates",) if record == "project.yaml" else ())
        elif name == record:
            _read_text(walk, path)
        elif _is_photo(name):
            walk.photos.setdefault(folder, []).append(path)
        elif ending(name) in VIDEO_ENDINGS or (ending(name) == ".vtt" and _beside(name, names, VIDEO_ENDINGS)):
            _take_video(walk, folder, name, names)
        elif path in walk.links:
            _leads_away(walk, path, record=path if name == "updates" and record == "project.yaml" else "")
        else:
            strays.append(name)
    has_record = record in names
    for name in strays:
        near = nearest(name, (record,)) or (record if name.lower().endswith((".yaml", ".yml")) else "")
        level = Level.NOTICE if has_record or not near else Level.ERROR
        _unexpected(walk, f"{folder}/{name}", (near,) if near else (), level=level, expected=f"{record} and photos")
        has_record = has_record or bool(near)
        walk.unreadable.extend([f"{folder}/{record}"] if level is Level.ERROR else [])
    if not has_record and names:
        _without_record(walk, folder, record)


def _without_record(walk: _Walk, folder: str, record: str) -> None:
    walk.unreadable.append(f"{folder}/{record}")
    walk.report.error(
        Kind.RECORD_MISSING,
        Place(folder),
        f"this folder holds no {record}",
        expected=f"a file {record} beside the photos",
        remedy=f"write {folder}/{record}, or move the folder away",
    )


def _without_site(walk: _Walk, names: Iterable[str]) -> None:
    """A collection without settings, or with settings under a name that is not read."""
    near = nearest("site.yaml", [name for name in names if name.lower().endswith((".yaml", ".yml"))])
    site = _typed(walk, "site.yaml")
    walk.report.error(
        Kind.RECORD_MISSING,
        Place("site.yaml"),
        f"the content folder holds no site.yaml, the settings of the site: {printable(str(walk.root))}",
        expected="a file site.yaml beside the folders species, animals and litters",
        remedy=f"type: mv -n {_typed(walk, near)} {site}" if near else f"type: echo 'name: My Snakes' > {site}",
    )


def _beside_the_folders(walk: _Walk, kind: str, name: str) -> None:
    """A record that stands beside the folders of its kind and not in one."""
    stem, record = os.path.splitext(name)[0], RECORDS[kind]
    before = "type: "
    stray, place = _typed(walk, f"{kind}/{name}"), f"{kind}/{stem}/{record}"
    if name == "site.yaml":
        expected, remedy = "site.yaml at the top of the content folder", f"mv -n {stray} {_typed(walk, 'site.yaml')}"
    elif f"{kind}/{stem}" in walk.folders and os.path.lexists(f"{walk.root}/{place}"):
        expected = f"one record of {stem}, and {place} stands there already"
        remedy = f"mv -n {stray} {shlex.quote(name)}"
        before = "write there what only this one says, then set it aside with this line: "
    else:
        walk.unreadable.append(place)
        expected = f"a folder of its own: {place}"
        remedy = f"mkdir -p {_typed(walk, f'{kind}/{stem}')} && mv -n {stray} {_typed(walk, place)}"
    walk.report.error(
        Kind.FILE_UNEXPECTED,
        Place(f"{kind}/{name}"),
        "this record stands beside the folders, so it was not read",
        expected=expected,
        remedy=f"{before}{remedy}",
    )


def _typed(walk: _Walk, path: str) -> str:
    """A path of the content folder as it is typed in a terminal."""
    return shlex.quote(f"{printable(str(walk.root))}/{path}")


def _take_video(walk: _Walk, folder: str, name: str, names: Iterable[str]) -> None:
    """A video with its still picture, or its captions; without the picture it is not shown."""
    if ending(name) == ".vtt":
        # What cannot be read is told with the video.
        raw = b""
        with suppress(OSError):
            raw = read_below(walk.root, f"{folder}/{name}", MAX_TEXT_BYTES)
        text = raw.decode("utf-8-sig", "replace")
        walk.texts[f"{folder}/{name}"] = text.replace("\r\n", "\n").replace("\r", "\n")
    elif _beside(name, names, PHOTO_ENDINGS):
        walk.videos.setdefault(folder, []).append(f"{folder}/{name}")
    else:
        walk.report.notice(
            Kind.VIDEO_ALONE,
            Place(f"{folder}/{name}"),
            "this video has no picture of its own, so it is not shown",
            expected="a still picture that stands there until somebody plays it",
            remedy=f"save a picture from it beside it, named {os.path.splitext(name)[0]}.jpg",
        )


def _beside(name: str, names: Iterable[str], endings: frozenset[str]) -> bool:
    """True when a file of the same name with one of these endings stands there too."""
    stem = os.path.splitext(name)[0]
    return any(os.path.splitext(each)[0] == stem and ending(each) in endings for each in names)


def ending(name: str) -> str:
    """The ending of a file's name in small letters, with its full stop."""
    return os.path.splitext(name)[1].lower()


def _is_photo(name: str) -> bool:
    return ending(name) in PHOTO_ENDINGS


def _unexpected(
    walk: _Walk, path: str, known: tuple[str, ...], *, level: Level = Level.NOTICE, expected: str = ""
) -> None:
    """Something that belongs nowhere."""
    name = path.rsplit("/", 1)[-1]
    near = nearest(name, known)
    folder = path[: -len(name)]
    walk.report.tell(
        level,
        Kind.FILE_UNEXPECTED,
        Place(path),
        "nothing of this name belongs here, so it was not read",
        expected=expected,
        nearest=f"{folder}{near}" if near else "",
        remedy=f"rename it to {near}" if near else _NOTICE_REMEDY,
    )
