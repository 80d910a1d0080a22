"""Every text of the content folder as it is written, by kind of record and id; and the JSON Schema of each kind."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from sitegen.content.animals import ANIMAL
from sitegen.content.declaration import Group, Written
from sitegen.content.folder import Content
from sitegen.content.litters import LITTER
from sitegen.content.projects import PROJECT
from sitegen.content.references import WORDS, same
from sitegen.content.report import Report
from sitegen.content.site import SITE
from sitegen.content.species import SPECIES
from sitegen.content.waiting import WAITING, WAITING_FILE
from sitegen.content.wishes import WISHES, WISHES_FILE
from sitegen.content.yaml_tree import parse_tree
from sitegen.findings import Finding, Kind, Place

KINDS: Mapping[str, Group] = {
    "site": SITE, "species": SPECIES, "animal": ANIMAL, "litter": LITTER, "project": PROJECT, "plan": WISHES,
    "waiting": WAITING,
}  # fmt: skip
"""Kind of record to all that one may hold."""

_RECORD = re.compile(r"^(animals|litters|projects)/([^/]+)/(animal|litter|project)\.yaml$")
_SPECIES = re.compile(r"^species/([^/]+)\.yaml$")
_PAGE = re.compile(r"^pages/([^/]+)\.md$")
_UPDATE = re.compile(r"^projects/([^/]+)/updates/[^/]+\.md$")
_CAPTIONS = re.compile(r"^(animals|litters|projects)/([^/]+)/[^/]+\.vtt$", re.IGNORECASE)
_ID = re.compile(r"^[^\W_][\w-]*$")


@dataclass(slots=True)
class Forms:
    """The records as they are written, by id, sorted; None for one that exists and could not be read.

    Attributes:
        folders: (``animals``, id) to the folder as the system writes it.
        pages: File name without its ending to (path, text).
        updates: Project id to path to text.
        captions: (``animals``, id) to path to text, of its videos.
    """

    site: Written | None = None
    wishes: Written | None = None
    waiting: Written | None = None
    species: dict[str, Written | None] = field(default_factory=dict)
    animals: dict[str, Written | None] = field(default_factory=dict)
    litters: dict[str, Written | None] = field(default_factory=dict)
    projects: dict[str, Written | None] = field(default_factory=dict)
    folders: dict[tuple[str, str], str] = field(default_factory=dict)
    pages: dict[str, tuple[str, str]] = field(default_factory=dict)
    updates: dict[str, dict[str, str]] = field(default_factory=dict)
    captions: dict[tuple[str, str], dict[str, str]] = field(default_factory=dict)


def json_schemas() -> Mapping[str, dict[str, Any]]:
    """Kind of record to its JSON Schema (draft 2020-12)."""
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
    return {name: head | group.json_schema() for name, group in KINDS.items()}


def forms_of_content(content: Content, report: Report) -> Forms:
    """Every record of the content folder as it is written."""
    forms = Forms()
    taken: dict[str, dict[str, str]] = {}
    by_kind = {"animals": forms.animals, "litters": forms.litters, "projects": forms.projects}
    for path in sorted({*content.texts, *content.unreadable}, key=lambda path: (same(path), path)):
        text = content.texts.get(path)
        if path == "site.yaml":
            forms.site = _form("site", text, path, report)
        elif path == WISHES_FILE:
            forms.wishes = _form("plan", text, path, report)
        elif path == WAITING_FILE:
            forms.waiting = _form("waiting", text, path, report)
        elif match := _RECORD.match(path):
            folder = f"{match[1]}/{match[2]}"
            record_id = _id(match[2], folder, report, taken.setdefault(match[1], {}))
            forms.folders[match[1], record_id] = folder
            by_kind[match[1]][record_id] = _form(match[3], text, path, report)
        elif match := _SPECIES.match(path):
            species_id = _id(match[1], path, report, taken.setdefault("species", {}))
            forms.species[species_id] = _form("species", text, path, report)
        elif text is not None and (match := _PAGE.match(path)):
            forms.pages[same(match[1])] = (path, text)
        elif text is not None and (match := _UPDATE.match(path)):
            forms.updates.setdefault(same(match[1]), {})[path] = text
        elif text is not None and (match := _CAPTIONS.match(path)):
            forms.captions.setdefault((match[1], same(match[2])), {})[path] = text
    return forms


def _form(kind: str, text: str | None, path: str, report: Report) -> Written | None:
    if text is None:
        return None
    written, findings = _read(kind, text, path)
    report.findings.extend(findings)
    return written


@lru_cache(maxsize=2000)  # who keeps records changes one of hundreds, and each change is thought through first
def _read(kind: str, text: str, path: str) -> tuple[Written | None, tuple[Finding, ...]]:
    tree, findings = parse_tree(text, path)
    report = Report(list(findings))
    return KINDS[kind].read(tree, report), tuple(report.findings)


def _id(name: str, path: str, report: Report, taken: dict[str, str]) -> str:
    """The id of a record from the name of its folder or file, told when it cannot be part of an address."""
    record_id = same(name)
    other = taken.setdefault(record_id.casefold(), path)
    if not check_id(record_id, path, report) or not (
        path.startswith("species/") or _is_no_word(record_id, path, report)
    ):
        return record_id
    if other != path:
        report.error(
            Kind.ID_TWICE,
            Place(path),
            f'"{record_id}" is taken already: many systems do not tell capitals or the way an accent is stored apart',
            expected="names that differ in more than that",
            remedy="rename one of the two",
            others=(Place(other),),
        )
    return record_id


def _is_no_word(record_id: str, path: str, report: Report) -> bool:
    """False, and told, for a name that records use as a word."""
    if record_id.casefold() not in WORDS:
        return True
    report.error(
        Kind.ID_WRONG,
        Place(path),
        f'"{record_id}" is a word of the records themselves, so nothing can be called so',
        expected=f"any name but {', '.join(sorted(WORDS))}",
        remedy="rename the folder; the name under name: may be anything",
    )
    return False


def check_id(record_id: str, path: str, report: Report) -> bool:
    """False, and told, for what cannot be part of an address."""
    if _ID.fullmatch(record_id):
        return True
    report.error(
        Kind.ID_WRONG,
        Place(path),
        f'"{record_id}" cannot be part of a page\'s address',
        expected="letters, digits and hyphens, beginning with a letter or digit",
        nearest=plain_id(record_id),
        remedy="rename it, and write the new name where other records refer to it",
    )
    return False


def plain_id(name: str) -> str:
    """The nearest name that can be part of an address.

    >>> plain_id("Jun iper (2)")
    'jun-iper-2'
    """
    bare = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", bare.lower()).strip("-")
