"""Every text of the content folder as the form of its kind, with ids from folder and file names."""

import re
import unicodedata
from dataclasses import dataclass, field
from typing import TypeVar

from sitegen.content.content import Content
from sitegen.content.references import WORDS, same
from sitegen.content.report import Report
from sitegen.content.written.animals import AnimalForm
from sitegen.content.written.forms import Form, filled
from sitegen.content.written.litters import LitterForm
from sitegen.content.written.projects import ProjectForm
from sitegen.content.written.site import SiteForm
from sitegen.content.written.species import SpeciesForm
from sitegen.content.yaml_tree import parse_tree
from sitegen.findings import Kind, Place

F = TypeVar("F", bound=Form)

_FORMS: dict[str, type[Form]] = {"animals": AnimalForm, "litters": LitterForm, "projects": ProjectForm}
_RECORD = re.compile(r"^(animals|litters|projects)/([^/]+)/(?:animal|litter|project)\.yaml$")
_SPECIES = re.compile(r"^species/([^/]+)\.yaml$")
_PAGE = re.compile(r"^pages/([^/]+)\.md$")
_UPDATE = re.compile(r"^projects/([^/]+)/updates/[^/]+\.md$")
_ID = re.compile(r"^[^\W_][\w-]*$")


@dataclass(slots=True)
class Forms:
    """The forms by id, sorted; None for a record that exists and could not be read.

    Attributes:
        folders: (``animals``, id) to the folder as the system writes it.
        pages: File name without its ending to (path, text).
        updates: Project id to path to text.
    """

    site: SiteForm | None = None
    species: dict[str, SpeciesForm | None] = field(default_factory=dict)
    animals: dict[str, AnimalForm | None] = field(default_factory=dict)
    litters: dict[str, LitterForm | None] = field(default_factory=dict)
    projects: dict[str, ProjectForm | None] = field(default_factory=dict)
    folders: dict[tuple[str, str], str] = field(default_factory=dict)
    pages: dict[str, tuple[str, str]] = field(default_factory=dict)
    updates: dict[str, dict[str, str]] = field(default_factory=dict)


def forms_of_content(content: Content, report: Report) -> Forms:
    """Every record of the content folder in its written form.

    Args:
        content: What was read.
        report: Takes what is wrong.
    """
    forms = Forms()
    taken: dict[str, dict[str, str]] = {}
    by_kind: dict[str, dict[str, object]] = {"animals": {}, "litters": {}, "projects": {}, "species": {}}
    for path in sorted({*content.texts, *content.unreadable}, key=lambda path: (same(path), path)):
        text = content.texts.get(path)
        if path == "site.yaml":
            forms.site = None if text is None else _form(SiteForm, text, path, report)
        elif match := _RECORD.match(path):
            kind, folder = match[1], match[2]
            record_id = _id(folder, f"{kind}/{folder}", report, taken.setdefault(kind, {}))
            forms.folders[kind, record_id] = f"{kind}/{folder}"
            by_kind[kind][record_id] = None if text is None else _form(_FORMS[kind], text, path, report)
        elif match := _SPECIES.match(path):
            species_id = _id(match[1], path, report, taken.setdefault("species", {}))
            by_kind["species"][species_id] = None if text is None else _form(SpeciesForm, text, path, report)
        elif text is not None and (match := _PAGE.match(path)):
            forms.pages[same(match[1])] = (path, text)
        elif text is not None and (match := _UPDATE.match(path)):
            forms.updates.setdefault(same(match[1]), {})[path] = text
    forms.species = {i: form for i, form in by_kind["species"].items() if form is None or isinstance(form, SpeciesForm)}
    forms.animals = {i: form for i, form in by_kind["animals"].items() if form is None or isinstance(form, AnimalForm)}
    forms.litters = {i: form for i, form in by_kind["litters"].items() if form is None or isinstance(form, LitterForm)}
    forms.projects = {
        i: form for i, form in by_kind["projects"].items() if form is None or isinstance(form, ProjectForm)
    }
    return forms


def _form(form: type[F], text: str, path: str, report: Report) -> F | None:
    tree, findings = parse_tree(text, path)
    report.findings.extend(findings)
    return None if tree is None else filled(form, tree, report)


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
