"""Texts in the breeder's own words, each with its place, and those a breeder has marked as reviewed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from markdown_it import MarkdownIt

from sitegen.content.bind_photos import young_in_name
from sitegen.content.references import Forms
from sitegen.content.report import At, Report
from sitegen.content.written.animals import AnimalForm, EvidenceForm
from sitegen.content.written.forms import Form, as_text_map
from sitegen.content.written.litters import LitterForm
from sitegen.content.written.projects import ProjectForm
from sitegen.content.written.site import SiteForm
from sitegen.content.written.species import SpeciesForm
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar
from sitegen.findings import Place


class Of(StrEnum):
    """What sort of record a text belongs to, and so whom it speaks of when it names nobody."""

    ANIMAL = "animal"
    LITTER = "litter"
    PROJECT = "project"
    SITE = "site"


@dataclass(frozen=True, slots=True)
class FreeText:
    """A text that is published as written.

    Attributes:
        of: What sort of record it belongs to; a free page or a species to the site, a note to its project.
        id: The id of the animal, litter or project; empty for the site.
        key: The key it stands under (``name``, ``about``, ``captions``), or ``page`` or ``update``.
        text: As it was read.
        place: Where the value begins in its file.
    """

    of: Of
    id: str
    key: str
    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Review:
    """``reviewed: {"66% het hypo": reason}``: words that stay as they are although the audit asks about them."""

    words: str
    reason: str
    place: Place
    width: int = 0


def free_texts(forms: Forms, promoted: Mapping[str, str]) -> tuple[FreeText, ...]:
    """Every text that is published as written, in the order of the records.

    Args:
        forms: The records in their written form; what could not be read has no texts.
        promoted: ``LITTER/YOUNG`` to the id of the animal's own record.
    """
    found: list[FreeText] = []
    for animal_id, animal in forms.animals.items():
        if animal:
            found += _of_own(animal_id, animal)
    for litter_id, litter in forms.litters.items():
        if litter:
            found += _of_litter(litter_id, litter, promoted)
    for project_id, project in forms.projects.items():
        found += _of_project(project_id, project) if project else ()
        notes = forms.updates.get(project_id, {})
        found += (FreeText(Of.PROJECT, project_id, "update", text, Place(file, 1, 1)) for file, text in notes.items())
    for species in forms.species.values():
        found += _of_species(species) if species else ()
    found += _of_site(forms.site) if forms.site else ()
    found += (FreeText(Of.SITE, "", "page", text, Place(file, 1, 1)) for file, text in forms.pages.values())
    return tuple(found)


def reviews(forms: Forms, report: Report) -> tuple[Review, ...]:
    """Every entry under ``reviewed``, one without a reason with an empty one."""
    found: list[Review] = []
    found += _reviewed((*forms.animals.values(), *forms.litters.values()), report)
    for litter in forms.litters.values():
        if litter and litter.young:
            found += _reviewed(tuple(litter.young.values()), report)
    return (*found, *_reviewed((*forms.projects.values(), forms.site), report))


def _reviewed(forms: Sequence[Any], report: Report) -> tuple[Review, ...]:
    """The entries of some records; None has none."""
    return tuple(
        Review(key.text.strip(), text.text.strip(), key.place, key.width)
        for form in forms
        if form is not None and form.reviewed is not None
        for key, text in as_text_map(form.reviewed, report, blank_means_nothing=True)
    )


def _of_own(animal_id: str, form: AnimalForm) -> tuple[FreeText, ...]:
    """The texts of an animal's own record."""
    source = form.acquired.source if form.acquired else None
    return (*_of_animal(animal_id, form), *_written(Of.ANIMAL, animal_id, "from", source))


def _of_animal(animal_id: str, form: EvidenceForm) -> Iterator[FreeText]:
    for key in ("name", "line", "locality", "about"):
        yield from _written(Of.ANIMAL, animal_id, key, getattr(form, key))
    for marker in form.markers or ():
        yield from _written(Of.ANIMAL, animal_id, "markers", marker)
    for _, caption in _captions(form):
        yield FreeText(Of.ANIMAL, animal_id, "captions", caption.text, caption.place)


def _of_litter(litter_id: str, form: LitterForm, promoted: Mapping[str, str]) -> Iterator[FreeText]:
    def whole_id(number: str) -> str:
        return promoted.get(f"{litter_id}/{number}", f"{litter_id}/{number}")

    for key in ("name", "about"):
        yield from _written(Of.LITTER, litter_id, key, getattr(form, key))
    for file, caption in _captions(form):
        number = young_in_name(file.text, form.young or ())
        of, whose = (Of.ANIMAL, whole_id(number)) if number else (Of.LITTER, litter_id)
        yield FreeText(of, whose, "captions", caption.text, caption.place)
    for number, entry in (form.young or {}).items():
        yield from _of_animal(whole_id(number), entry) if entry else ()


def _of_project(project_id: str, form: ProjectForm) -> Iterator[FreeText]:
    for key in ("name", "about", "welfare"):
        yield from _written(Of.PROJECT, project_id, key, getattr(form, key))
    for _, caption in _captions(form):
        yield FreeText(Of.PROJECT, project_id, "captions", caption.text, caption.place)
    for decision in form.decisions or ():
        if decision is not None:
            yield FreeText(Of.PROJECT, project_id, "decisions", decision.text.value, decision.text.place)
    for _, note in _texts_in(form.stages, "note"):
        yield FreeText(Of.PROJECT, project_id, "note", note.text, note.place)
    for key, text in _texts_in(form.alternatives, "name", "about"):
        yield FreeText(Of.PROJECT, project_id, key, text.text, text.place)
    for entry in _entries(form.alternatives):
        for _, note in _texts_in(next((node for key, node in entry.entries if key.text == "stages"), None), "note"):
            yield FreeText(Of.PROJECT, project_id, "note", note.text, note.place)


def _of_species(form: SpeciesForm) -> Iterator[FreeText]:
    loci = [locus for locus in (form.loci or {}).values() if locus]
    alleles = [allele for locus in loci for allele in (locus.alleles or {}).values() if allele]
    yield from _written(Of.SITE, "", "about", form.about)
    for gene in (*loci, *alleles):
        yield from _written(Of.SITE, "", "about", gene.about)
        yield from _written(Of.SITE, "", "welfare", gene.welfare.text if gene.welfare else None)
    for caution in form.cautions or ():
        yield from _written(Of.SITE, "", "cautions", caution)


def _of_site(form: SiteForm) -> Iterator[FreeText]:
    for key in ("name", "tagline", "drawings", "about"):
        yield from _written(Of.SITE, "", key, getattr(form, key))
    for caution in form.cautions or ():
        yield from _written(Of.SITE, "", "cautions", caution)
    yield from _written(Of.SITE, "", "note", form.contact.note if form.contact else None)


def _written(of: Of, whose: str, key: str, value: At[str] | None) -> Iterator[FreeText]:
    if value is not None:
        yield FreeText(of, whose, key, value.value, value.place)


def _captions(form: Form) -> list[tuple[Scalar, Scalar]]:
    """File name and caption; what is wrong with them is told where the photos are bound."""
    return as_text_map(getattr(form, "captions", None), Report())


def _texts_in(tree: Node | None, *keys: str) -> Iterator[tuple[str, Scalar]]:
    """Single texts in the entries of a tree that is written as a list or by name, each with its key."""
    for entry in _entries(tree):
        for key, node in entry.entries:
            if key.text in keys and isinstance(node, Scalar) and not node.blank:
                yield key.text, node


def _entries(tree: Node | None) -> list[Entries]:
    nodes: Sequence[Node] = ()
    if isinstance(tree, Entries):
        nodes = [node for _, node in tree.entries]
    elif isinstance(tree, Items):
        nodes = tree.items
    return [node for node in nodes if isinstance(node, Entries)]


SCHEMES = ("http://", "https://", "mailto:", "tel:")


def _allowed(link: str) -> bool:
    """True for the schemes of ``SCHEMES`` and for links within the site."""
    if link.lower().startswith(SCHEMES):
        return True
    head = link.split("/", 1)[0].split("#", 1)[0].split("?", 1)[0]
    return (
        ":" not in head and not link.startswith("//") and not any(part in head.lower() for part in ("\\", "%5c", "%3a"))
    )


class Markdown(MarkdownIt):
    """CommonMark with tables and struck words, raw HTML and pictures off, and a short list of link schemes."""

    def __init__(self) -> None:
        super().__init__("commonmark", {"html": False, "linkify": False, "maxNesting": 20})
        self.enable(["table", "strikethrough"])
        self.disable(["html_block", "html_inline", "image"])

    def validateLink(self, url: str) -> bool:  # noqa: N802 - the name is the library's
        """True when a link may be written."""
        return _allowed(url)
