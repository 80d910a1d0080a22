"""What the site shows of the daily records: said once under ``public`` in site.yaml, and otherwise in a record.

Weights and a line on the meals are shown where nothing is said. Visits to a veterinarian, quarantine, permits, moves
and notes are never shown, whatever is said. Pages are made from records that hold nothing else
(``Collection.published``), so that no page, file or picture can tell what is kept back, not even by a day.
"""

from collections.abc import Iterable
from dataclasses import replace
from enum import StrEnum

from sitegen.content.declaration import Leaf, ListOf, Written
from sitegen.content.events import OF_BREEDING, Event, EventKind
from sitegen.content.report import Report
from sitegen.content.values import words_of
from sitegen.content.yaml_tree import Scalar, is_blank


class Public(StrEnum):
    """What may be shown."""

    WEIGHTS = "weights"
    LENGTHS = "lengths"
    MEALS = "meals"
    SHEDS = "sheds"
    DIARY = "diary"


USUALLY = (Public.WEIGHTS, Public.MEALS)
"""What is shown where nothing is said."""
_NEVER = frozenset({"vet", "quarantine", "quarantined", "permits", "permit", "notes", "note", "moved", "private"})
_KIND = words_of(Public)


def _read(node: Scalar, report: Report) -> Public | None:
    word = node.text.strip().lower()
    if word in _NEVER:
        report.wrong(node, f"{word} is never shown on the site", f"some of {', '.join(Public)}", "delete the word")
        return None
    kind: Public | None = _KIND.make(node, report)
    return kind


PUBLIC = ListOf(Leaf(_read, _KIND.expected, _KIND.json))


def public_of(form: Written | None) -> tuple[Public, ...] | None:
    """What a record says of it; None where it says nothing, which is not the same as ``public: []``."""
    if form is None or is_blank(form.node("public")):
        return None
    return tuple(each.value for each in form.public)


def is_shown(kind: Public, public: Iterable[Public] | None) -> bool:
    """True for a kind that is shown by what a record says; None is a record for which nothing is said."""
    return kind in (USUALLY if public is None else public)


def shown_sheds(events: Iterable[Event], public: Iterable[Public] | None) -> tuple[Event, ...]:
    """The sheds of an animal, if they are shown."""
    return _of_kinds(events, frozenset({EventKind.SHED})) if is_shown(Public.SHEDS, public) else ()


def shown_diary(events: Iterable[Event], public: Iterable[Public] | None) -> tuple[Event, ...]:
    """The diary of a litter, if it is shown: what young are waited for by."""
    return _of_kinds(events, OF_BREEDING) if is_shown(Public.DIARY, public) else ()


def _of_kinds(events: Iterable[Event], kinds: frozenset[EventKind]) -> tuple[Event, ...]:
    """Events of some kinds, without their notes."""
    return tuple(replace(event, note="") for event in events if event.what in kinds)
