"""New records are told by what they are to the animal."""

from fractions import Fraction

import pytest
from helpers.small_collections import animal_of, collection_of

from sitegen.content.litters import Litter
from sitegen.evidence.changes import occasions
from sitegen.evidence.gathered import Ground, Reason, Source
from sitegen.evidence.history import Arrival
from sitegen.findings import Place

HERD = (
    animal_of("dam"),
    animal_of("sire"),
    animal_of("other"),
    animal_of("own", dam="dam", sires=("sire",), litter="L"),
    animal_of("full", dam="dam", sires=("sire",), litter="L"),
    animal_of("half", dam="stranger", sires=("sire",)),
    animal_of("perhaps", dam="stranger", sires=("sire", "other"), litter="M"),
    animal_of("stranger"),
    animal_of("orphan"),
)


def place(name: str) -> Place:
    return Place(f"{name}.yaml", 3)


def litter(name: str, dam: str | None, *sires: str) -> Litter:
    odds = tuple((sire, Fraction(1, len(sires))) for sire in sires)
    return Litter(id=name, name=name, species="corn-snake", place=place(name), dam=dam, sires=odds, young=())


LITTERS = (litter("L", "dam", "sire"), litter("M", "stranger", "sire", "other"))


def seen(animal: str, *looks: str, litter: str = "", count: int = 1, locus: str = "hypo", ground=Ground.SHOWS_ITSELF):
    detail = (("count", str(count)),) if count > 1 else ()
    detail += tuple(("look", look) for look in looks)
    return Arrival(locus, Source(ground, animal, (place(animal or litter),), "", litter, detail))


def told(animal: str, *arrived: Arrival) -> tuple[Reason, ...]:
    return occasions(collection_of(*HERD, litters=LITTERS), animal, "hypo", arrived)


@pytest.mark.parametrize(("animal", "other", "ground", "perhaps"), [
    ("dam", "own", Ground.YOUNG, False),
    ("sire", "own", Ground.YOUNG, False),
    ("sire", "perhaps", Ground.YOUNG, True),
    ("stranger", "perhaps", Ground.YOUNG, False),
    ("own", "full", Ground.SIBLINGS, False),
    ("own", "half", Ground.SIBLINGS, False),
    ("half", "perhaps", Ground.SIBLINGS, False),
    ("own", "perhaps", Ground.SHOWS_ITSELF, False),
    ("perhaps", "own", Ground.SHOWS_ITSELF, False),
    ("own", "dam", Ground.SHOWS_ITSELF, False),
    ("own", "orphan", Ground.SHOWS_ITSELF, False),
])  # fmt: skip
def test_what_others_are_to_the_animal(animal, other, ground, perhaps):
    (reason,) = told(animal, seen(other, "hypo"))
    assert (reason.ground, reason.animals) == (ground, (other,))
    assert (("perhaps", "its own") in reason.detail) == perhaps
    assert reason.litter == {"own": "L", "full": "L", "perhaps": "M"}.get(other, "")


@pytest.mark.parametrize(("animal", "ground", "perhaps"), [
    ("stranger", Ground.YOUNG, False), ("other", Ground.YOUNG, True), ("half", Ground.SIBLINGS, False),
    ("own", Ground.SHOWS_ITSELF, False)])  # fmt: skip
def test_counted_young_are_told_by_their_litter(animal, ground, perhaps):
    (reason,) = told(animal, seen("", litter="M", count=4, ground=Ground.YOUNG))
    assert (reason.ground, reason.animals, reason.litter) == (ground, (), "M")
    assert reason.detail == (("count", "4"), *((("perhaps", "its own"),) if perhaps else ()))


def test_own_records_come_first_then_tests_then_young_then_siblings_then_other_kin():
    arrived = (
        seen("orphan"),
        seen("dam", ground=Ground.DNA_TEST),
        seen("full"),
        seen("own", "hypo"),
        seen("full", locus="amel"),
    )
    found = told("own", *arrived)
    assert [(reason.ground, reason.animals) for reason in found] == [
        (Ground.SHOWS_ITSELF, ("own",)),
        (Ground.DNA_TEST, ("dam",)),
        (Ground.SIBLINGS, ()),
        (Ground.SHOWS_ITSELF, ()),
    ]


def test_young_of_one_litter_are_counted_together_and_those_that_show_it_are_named():
    showing = seen("own", "hypo")
    (reason,) = told("dam", showing, showing, seen("full"), seen("", litter="L", count=3, ground=Ground.YOUNG))
    assert reason.animals == ("own",)
    assert reason.detail == (("count", "5"), ("showing", "1"), ("look", "hypo"))
    assert reason.places == (place("own"),)


def test_counted_young_that_show_it_are_counted_and_not_named():
    (reason,) = told("dam", seen("full"), seen("", "hypo", litter="L", count=3, ground=Ground.YOUNG))
    assert reason.animals == ()
    assert reason.detail == (("count", "4"), ("showing", "3"), ("look", "hypo"))


def test_each_look_is_told_by_itself():
    found = told("dam", seen("own", "hypo"), seen("full", "sharp"))
    assert [(reason.animals, reason.detail) for reason in found] == [
        ((name,), (("count", "2"), ("showing", "1"), ("look", look)))
        for name, look in (("own", "hypo"), ("full", "sharp"))
    ]


def test_what_others_stated_of_kin_is_no_occasion():
    assert told("own", seen("dam", ground=Ground.STATED)) == ()


def test_every_record_of_young_that_show_nothing_is_named():
    (reason,) = told("dam", seen("own"), seen("full"), seen("", litter="L", count=3, ground=Ground.YOUNG))
    assert reason.places == (place("own"), place("full"), place("L"))


def test_counted_young_of_a_litter_that_is_gone_are_other_kin():
    (reason,) = told("dam", seen("", litter="gone", count=3, ground=Ground.YOUNG))
    assert (reason.ground, reason.animals, reason.litter) == (Ground.SHOWS_ITSELF, (), "")


def test_what_arrived_at_another_locus_is_no_reason():
    assert told("dam", seen("own", "amel", locus="amel"), seen("dam", "amel", locus="amel")) == ()
