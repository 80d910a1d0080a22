"""The diary: dated events of an animal or a litter, its quarantine, and its permits.

Weights, lengths and meals have keys of their own; a litter has keys for the days on which it was laid, born or failed.
What of all this is published is said once, under ``public``: :mod:`sitegen.content.public`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.declaration import Leaf, ListOf, Written, group_of, keyed
from sitegen.content.references import KnownRecords
from sitegen.content.report import Report
from sitegen.content.values import DAY, KNOWN_DAY, NOT_KNOWN, TEXT, PartialDate, words_of
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar
from sitegen.findings import Place
from sitegen.genetics.questions import AnimalId


class EventKind(StrEnum):
    """What happened, in the trade's words."""

    INTRODUCED = "introduced"
    COPULATION = "copulation"
    SEPARATED = "separated"
    COOLED = "cooled"
    WARMED = "warmed"
    OVULATED = "ovulated"
    PRELAY_SHED = "prelay-shed"
    POSTOVULATION_SHED = "postovulation-shed"
    SHED = "shed"
    VET = "vet"
    QUARANTINED = "quarantined"
    MOVED = "moved"
    NOTE = "note"


OF_TWO = frozenset({EventKind.INTRODUCED, EventKind.COPULATION, EventKind.SEPARATED})
"""Events of two animals; all others are of one."""
OF_BREEDING = OF_TWO | {
    EventKind.COOLED,
    EventKind.WARMED,
    EventKind.OVULATED,
    EventKind.PRELAY_SHED,
    EventKind.POSTOVULATION_SHED,
}
"""Events from which young are waited for; they come before the young, or before the eggs."""
SHEDS = frozenset({EventKind.SHED, EventKind.PRELAY_SHED, EventKind.POSTOVULATION_SHED})

_ALSO = {
    "paired": EventKind.INTRODUCED, "put together": EventKind.INTRODUCED, "copulated": EventKind.COPULATION,
    "mated": EventKind.COPULATION, "mating": EventKind.COPULATION, "copulation seen": EventKind.COPULATION,
    "ovulation": EventKind.OVULATED, "pre lay shed": EventKind.PRELAY_SHED,
    "post ovulation shed": EventKind.POSTOVULATION_SHED, "sloughed": EventKind.SHED,
    "veterinarian": EventKind.VET,
}  # fmt: skip
"""Other words in use that can mean nothing else."""
_ELSEWHERE = {
    "weighed": "under weights: {2026-05-01: 310 g}", "measured": "under lengths: {2026-05-01: 102 cm}",
    "fed": "under meals: [{date: 2026-05-01, what: mouse}]",
    "refused": "under meals: [{date: 2026-05-01, what: mouse, taken: false}]",
    "laid": "under laid in the litter's record", "born": "under born", "hatched": "under born", "died": "under died",
    "failed": "under failed in the litter's record", "tested": "under tests", "acquired": "under acquired",
}  # fmt: skip
"""What a diary would call an event and what has a key of its own, to where it stands."""
_KIND = words_of(EventKind, also=_ALSO)


def read_kind(node: Scalar, report: Report) -> EventKind | None:
    """A kind of event; of what has a place of its own that place is told."""
    word = node.text.strip().lower()
    if word in _ELSEWHERE:
        message = f'"{word}" is no event: it has a place of its own'
        report.wrong(node, message, f"one of {', '.join(EventKind)}", f"write it {_ELSEWHERE[word]}")
        return None
    kind: EventKind | None = _KIND.make(node, report)
    return kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """What happened to an animal or a litter on a day."""

    date: PartialDate = keyed(KNOWN_DAY, "The day.", needed=True)
    what: EventKind = keyed(Leaf(read_kind, _KIND.expected, _KIND.json), f"One of {', '.join(EventKind)}.", needed=True)
    partner: AnimalId | None = keyed(
        TEXT, "The other animal, where two were introduced, copulated or were separated.", alias="with", usual=None
    )
    note: str = keyed(TEXT, "A line of your own; it is never published.")
    place: Place


EVENTS = ListOf(group_of(Event, "an event"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Quarantine:
    """How long an animal is kept apart; nothing of it is ever published."""

    until: PartialDate = keyed(KNOWN_DAY, "The last day of it.", needed=True)
    since: PartialDate | None = keyed(DAY, "Since when.")
    note: str = keyed(TEXT, "A line of your own.")


QUARANTINE = group_of(Quarantine, "quarantine")


@dataclass(frozen=True, slots=True, kw_only=True)
class Permit:
    """A permit or paper of an animal, under ``private``; nothing of it is ever published."""

    kind: str = keyed(TEXT, "What it is, in your words.")
    number: str = keyed(TEXT, "Its number.")
    valid_until: PartialDate | None = keyed(DAY, "The last day on which it is valid.")
    place: Place


PERMIT = group_of(Permit, "a permit")


def bind_events(written: Iterable[Written], known: KnownRecords, report: Report) -> tuple[Event, ...]:
    """The events in the order of their days, each at the place of its day; without those whose partner is told."""
    found = []
    for each in written:
        partner = known.find_dam(each.partner, report)
        if partner or each.partner is None or each.partner.value.lower() in NOT_KNOWN:
            found.append(each.record(Event, partner=partner, place=each.date.place))
    return in_day_order(found)


def in_day_order(*events: Iterable[Event]) -> tuple[Event, ...]:
    """Events of several records in the order of their days."""
    return tuple(sorted((each for some in events for each in some), key=lambda event: event.date))


def bind_permits(private: Node | None, report: Report) -> tuple[Permit, ...]:
    """The permits that stand under ``private`` as a list of groups; whatever else stands there says nothing to us."""
    entries = private.entries if isinstance(private, Entries) else ()
    tree = next((node for key, node in entries if key.text == "permits"), None)
    items = tree.items if isinstance(tree, Items) else (tree,)
    read = (PERMIT.read(item, report) for item in items if isinstance(item, Entries))
    return tuple(each.record(Permit, place=each.start) for each in read if each is not None)
