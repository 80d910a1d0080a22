"""What is shown of the daily records: said for the site, and otherwise in a record."""

import datetime as dt

import pytest
from helpers.from_text import CORN, LITTER, PAIR, PROMOTED, bound, told

from sitegen.content.collection import Collection, latest_date
from sitegen.content.events import OF_TWO, EventKind
from sitegen.content.public import USUALLY, Public

DAILY = (
    "weights: {2026-11-01: 400 g}\nlengths: {2026-11-02: 102 cm}\nmeals: [{date: 2026-11-03, what: mouse}]\n"
    "quarantine: {until: 2026-12-01}\nprivate: {permits: [{kind: import}]}\nevents:\n"
    + "".join(
        f"  - {{date: 2026-11-04, what: {kind}, {'with: flint, ' if kind in OF_TWO else ''}note: mine}}\n"
        for kind in EventKind
    )
)


def collection(site: str, own: str = "", litter: str = "") -> Collection:
    juniper = PAIR.replace("born: 2020-07-14\n", f"born: 2020-07-14\n{DAILY}{own}\n", 1)
    diary = "events:\n" + "".join(f"  - {{date: 2026-04-02, what: {kind}, note: mine}}\n" for kind in EventKind)
    return bound(f"=== site.yaml\nname: a\n{site}\n" + CORN + juniper + LITTER + f"{diary}{litter}\n" + PROMOTED)


def shown(found: Collection) -> set[Public]:
    animal, litter = found.published.animals["juniper"], found.published.litters["2026-juniper-flint"]
    assert animal.quarantine is None
    assert animal.permits == ()
    assert {event.what for event in animal.events} <= {EventKind.SHED}
    assert {event.what for event in litter.events}.isdisjoint(
        {EventKind.VET, EventKind.QUARANTINED, EventKind.MOVED, EventKind.NOTE}
    )
    assert not [event for event in (*animal.events, *litter.events) if event.note]
    held = {
        Public.WEIGHTS: animal.weights, Public.LENGTHS: animal.lengths, Public.MEALS: animal.meals,
        Public.SHEDS: animal.events, Public.DIARY: litter.events,
    }  # fmt: skip
    return {kind for kind, records in held.items() if records}


@pytest.mark.parametrize(
    ("site", "expected"),
    [
        ("", set(USUALLY)),
        ("public:", set(USUALLY)),
        ("public: []", set()),
        *((f"public: {kind}", {kind}) for kind in Public),
        (f"public: [{', '.join(Public)}]", set(Public)),
    ],
)
def test_only_the_kinds_that_are_said_are_shown(site: str, expected: set[Public]) -> None:
    assert shown(collection(site)) == expected


def test_a_record_says_otherwise_for_itself_and_a_litter_for_its_young_too() -> None:
    found = collection("public: [lengths, diary]", own="public: [sheds]", litter="public: []")
    assert shown(found) == {Public.SHEDS}
    assert found.animals["flint"].public == (Public.LENGTHS, Public.DIARY)
    assert found.animals["2026-juniper-flint/01"].public == found.animals["tansy"].public == ()


@pytest.mark.parametrize("word", ["vet", "quarantine", "permits", "notes", "moved"])
def test_what_is_never_shown_cannot_be_asked_for(word: str) -> None:
    (finding,) = told(CORN + f"=== site.yaml\nname: a\npublic: [weights, {word}]\n")
    assert finding.message == f"{word} is never shown on the site"


@pytest.mark.parametrize(
    ("site", "day"),
    [("", 3), ("public: []", 1), ("public: [weights]", 1), ("public: [lengths]", 2), ("public: [sheds]", 4)],
)
def test_the_day_of_the_statement_tells_nothing_of_what_is_kept_back(site: str, day: int) -> None:
    expected = dt.date(2026, 11, day) if site != "public: []" else dt.date(2026, 9, 1)
    assert latest_date(collection(site, litter="public: [weights]")) == expected
