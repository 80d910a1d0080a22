"""The diary as it is written and read: events, quarantine, permits, lengths."""

from fractions import Fraction

import pytest
from helpers.from_text import CORN, LITTER, PAIR, PROMOTED, bound, told

from sitegen.content.events import OF_TWO, EventKind, Permit, Quarantine
from sitegen.content.values import PartialDate
from sitegen.findings import Kind


def juniper(lines: str) -> str:
    return CORN + PAIR.replace("born: 2020-07-14\n", f"born: 2020-07-14\n{lines}\n", 1)


def test_events_stand_in_the_order_of_their_days_each_at_its_place() -> None:
    lines = (
        "events:\n  - {date: 2026-04-01, what: shed, note: in one piece}\n"
        "  - {date: 2026-03, what: introduced, with: flint}"
    )
    first, second = bound(juniper(lines)).animals["juniper"].events
    assert (first.date, first.what, first.partner, first.note) == (
        PartialDate(2026, 3), EventKind.INTRODUCED, "flint", "",
    )  # fmt: skip
    assert (second.what, second.partner, second.note) == (EventKind.SHED, None, "in one piece")
    assert (second.place.file, second.place.line, second.place.column) == ("animals/juniper/animal.yaml", 5, 12)


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        *((each.value, each) for each in EventKind),
        ("Pre-lay shed", EventKind.PRELAY_SHED),
        ("pre lay shed", EventKind.PRELAY_SHED),
        ("post-ovulation shed", EventKind.POSTOVULATION_SHED),
        ("mated", EventKind.COPULATION),
        ("copulation seen", EventKind.COPULATION),
    ],
)
def test_kinds_are_read_as_people_write_them(word: str, kind: EventKind) -> None:
    other = ", with: flint" if kind in OF_TWO else ""
    (event,) = bound(juniper(f"events: [{{date: 2026-03-02, what: {word}{other}}}]")).animals["juniper"].events
    assert event.what is kind


@pytest.mark.parametrize(
    ("word", "near", "remedy"),
    [
        ("copulaton", "copulation", 'write "copulation"'),
        ("introduce", "introduced", 'write "introduced"'),
        ("weighed", "", "write it under weights"),
        ("fed", "", "write it under meals"),
        ("refused", "", "write it under meals"),
        ("laid", "", "write it under laid in the litter's record"),
        ("tunnel", "", "write one of these words"),
    ],
)
def test_an_unknown_kind_is_told_with_the_nearest_or_with_its_own_place(word: str, near: str, remedy: str) -> None:
    (finding,) = told(juniper(f"events: [{{date: 2026-03-02, what: {word}}}]"))
    assert (finding.kind, finding.nearest) == (Kind.VALUE_WRONG, near)
    assert finding.remedy.startswith(remedy)
    assert "introduced" in finding.expected


def test_the_other_animal_of_an_event_is_looked_up() -> None:
    (finding,) = told(juniper("events: [{date: 2026-03-02, what: introduced, with: flnt}]"))
    assert (finding.kind, finding.nearest) == (Kind.ANIMAL_UNKNOWN, "flint")


def test_a_litter_and_its_young_have_diaries_and_a_promoted_young_has_both() -> None:
    text = LITTER.replace("02: {sex: female,", "02: {events: [{date: 2026-08-01, what: shed}], sex: female,")
    text += "events: [{date: 2026-04-02, what: copulation}]\n"
    own = PROMOTED.replace("shows: [hypo]", "shows: [hypo]\nevents: [{date: 2026-07-25, what: moved}]")
    found = bound(CORN + PAIR + text + own)
    assert [event.what for event in found.litters["2026-juniper-flint"].events] == [EventKind.COPULATION]
    assert [event.what for event in found.animals["tansy"].events] == [EventKind.MOVED, EventKind.SHED]


def test_quarantine_and_permits_are_read_and_other_private_notes_are_left_alone() -> None:
    lines = (
        "quarantine: {until: 2026-12-01, since: 2026-09-01}\n"
        "private: {permits: [{kind: import, number: 4711, valid_until: 2027-03}, {kind: other}], notes: {deep: [a]}}"
    )
    animal = bound(juniper(lines)).animals["juniper"]
    assert animal.quarantine == Quarantine(until=PartialDate(2026, 12, 1), since=PartialDate(2026, 9, 1))
    one, other = animal.permits
    assert one == Permit(kind="import", number="4711", valid_until=PartialDate(2027, 3), place=one.place)
    assert (other.kind, other.valid_until) == ("other", None)
    assert bound(juniper("private: {permits: in the blue folder}")).animals["juniper"].permits == ()


def test_a_slip_in_a_permit_is_told_since_it_would_never_be_warned_of() -> None:
    (finding,) = told(juniper("private: {permits: [{kind: import, valid_untill: 2027-03}]}"))
    assert (finding.kind, finding.nearest) == (Kind.KEY_UNKNOWN, "valid_until")


@pytest.mark.parametrize(
    ("length", "millimetres"),
    [("102 cm", 1020), ("1.02m", 1020), ("84,5 cm", 845), ("40 in", round(40 * Fraction("25.4"))), ("3 ft", 914)],
)
def test_lengths_are_read_in_the_units_of_the_international_yard(length: str, millimetres: int) -> None:
    (measuring,) = bound(juniper(f"lengths: {{2026-05-01: '{length}'}}")).animals["juniper"].lengths
    assert measuring.millimetres == millimetres


@pytest.mark.parametrize(
    ("line", "remedy"),
    [("2026-05-01: 102", "write 102 cm when"), ("2026-05-01: long", "write the unit"), ("unknown: 9 cm", "write at")],
)
def test_what_is_no_length_is_told(line: str, remedy: str) -> None:
    (finding,) = told(juniper(f"lengths: {{{line}}}"))
    assert finding.kind is Kind.VALUE_WRONG
    assert finding.remedy.startswith(remedy)
