"""Texts in the breeder's own words, each with its place, those marked as reviewed, and the Markdown they may use."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from markdown_it import MarkdownIt

from sitegen.content.declaration import Group, Written, group_behind
from sitegen.content.photo_records import young_in_name
from sitegen.content.report import Report
from sitegen.content.written_records import Forms
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, as_text_map
from sitegen.findings import Place


class Of(StrEnum):
    """What sort of record a text belongs to, and so whom it speaks of when it names nobody."""

    ANIMAL = "animal"
    LITTER = "litter"
    PROJECT = "project"
    SITE = "site"


@dataclass(frozen=True, slots=True)
class FreeText:
    """A text that is published as written, and where it begins in its file.

    Attributes:
        of: What sort of record it belongs to; a free page or a species to the site, a note to its project.
        id: The id of the animal, litter or project; empty for the site.
        key: The key it stands under (``name``, ``about``, ``captions``), or ``page`` or ``update``.
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
    """Every text that is published as written, in the order of the records; none of a record that could not be read.

    ``promoted``: ``LITTER/YOUNG`` to the id of the animal's own record.
    """
    found: list[FreeText] = []
    for animal_id, animal in forms.animals.items():
        found += _of(animal, Of.ANIMAL, animal_id)
    for litter_id, litter in forms.litters.items():
        found += _of_litter(litter_id, litter, promoted) if litter else ()
    for project_id, project in forms.projects.items():
        found += _of(project, Of.PROJECT, project_id)
        notes = forms.updates.get(project_id, {})
        found += (FreeText(Of.PROJECT, project_id, "update", text, Place(file, 1, 1)) for file, text in notes.items())
    for record in (*forms.species.values(), forms.site):
        found += _of(record, Of.SITE, "")
    found += (FreeText(Of.SITE, "", "page", text, Place(file, 1, 1)) for file, text in forms.pages.values())
    for (kind, record_id), captions in forms.captions.items():
        litter = forms.litters.get(record_id) if kind == "litters" else None
        for file, text in captions.items():
            number = young_in_name(file.rpartition("/")[2], litter.young) if litter else ""
            of, whose = _young(record_id, number, promoted) if number else (Of(kind.removesuffix("s")), record_id)
            found.append(FreeText(of, whose, "captions", text, Place(file, 1, 1)))
    return tuple(found)


def reviews(forms: Forms, report: Report) -> tuple[Review, ...]:
    """Every entry under ``reviewed``, one without a reason with an empty one."""
    young = [each for litter in forms.litters.values() if litter for each in litter.young.values()]
    own = (*forms.animals.values(), *forms.litters.values(), *young, *forms.projects.values(), forms.site)
    return tuple(
        Review(key.text.strip(), text.text.strip(), key.place, key.width)
        for form in own
        if form is not None
        for key, text in as_text_map(form.reviewed, report, blank_means_nothing=True)
    )


def _of(form: Written | None, of: Of, whose: str) -> list[FreeText]:
    texts = _prose(form.group, form.tree) if form else ()
    return [FreeText(of, whose, key, text.text.strip(), text.place) for key, _, text in texts]


def _of_litter(litter_id: str, form: Written, promoted: Mapping[str, str]) -> Iterator[FreeText]:
    """The texts of a litter; those of its young, and captions of their photos, belong to the young."""
    for key, name, text in _prose(form.group, form.tree, but="young"):
        number = young_in_name(name, form.young) if key == "captions" else ""
        of, whose = _young(litter_id, number, promoted) if number else (Of.LITTER, litter_id)
        yield FreeText(of, whose, key, text.text.strip(), text.place)
    for number, entry in form.young.items():
        yield from _of(entry, *_young(litter_id, number, promoted))


def _young(litter_id: str, number: str, promoted: Mapping[str, str]) -> tuple[Of, str]:
    return Of.ANIMAL, promoted.get(f"{litter_id}/{number}", f"{litter_id}/{number}")


def _prose(group: Group, tree: Node, above: str = "", but: str = "") -> Iterator[tuple[str, str, Scalar]]:
    """What stands at keys that are declared as prose, however deep: its key, its name where it has one, the text.

    A key that is only called ``text`` is told by that of its group, such as ``decisions``.
    """
    keys = {key.name: key for key in group.keys.values() if key.name != but}
    for name, node in tree.entries if isinstance(tree, Entries) else ():
        key = keys.get(name.text)
        if key is not None and key.prose:
            told = above if key.name == "text" else key.name
            yield from ((told, label, text) for label, text in _entries(node) if isinstance(text, Scalar))
        elif key is not None and (inner := group_behind(key.holds)):
            several = [(key.name, node)] if isinstance(key.holds, Group) else _entries(node)
            for _, entry in several:
                yield from _prose(inner, entry, key.name)


def _entries(node: Node) -> list[tuple[str, Node]]:
    """What is written there, with the names of values that have one; one value alone is a list of one."""
    if isinstance(node, Entries):
        return [(name.text, each) for name, each in node.entries if not _is_empty(each)]
    return [("", each) for each in (node.items if isinstance(node, Items) else (node,)) if not _is_empty(each)]


def _is_empty(node: Node) -> bool:
    return isinstance(node, Scalar) and (node.blank or not node.text.strip())


SCHEMES = ("http://", "https://", "mailto:", "tel:")


def _allowed(link: str) -> bool:
    """True for the schemes of ``SCHEMES`` and for links within the site."""
    if link.lower().startswith(SCHEMES):
        return True
    head = link.split("/", 1)[0].split("#", 1)[0].split("?", 1)[0]
    return (
        ":" not in head and not link.startswith("//") and not any(part in head.lower() for part in ("\\", "%5c", "%3a"))
    )


def first_paragraph(text: str) -> str:
    """The words of the first paragraph of a Markdown text; empty when it has none."""
    tokens = Markdown().parse(text)
    inline = next((after for each, after in pairwise(tokens) if each.type == "paragraph_open"), None)
    return "".join(each.content or " " * ("break" in each.type) for each in (inline and inline.children) or ())


class Markdown(MarkdownIt):
    """CommonMark with tables and struck words, raw HTML and pictures off, and a short list of link schemes."""

    def __init__(self) -> None:
        super().__init__("commonmark", {"html": False, "linkify": False, "maxNesting": 20})
        self.enable(["table", "strikethrough"])
        self.disable(["html_block", "html_inline", "image"])

    def validateLink(self, url: str) -> bool:  # noqa: N802 - the name is the library's
        """True when a link may be written."""
        return _allowed(url)
