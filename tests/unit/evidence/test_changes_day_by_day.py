"""Days written by hand: an answer is lost and comes back, several records arrive at once."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    HYPO,
    MOTLEY_STRIPE,
    NOWHERE,
    TESSERA,
    animal_of,
    collection_of,
    locus_of,
    recessive,
    species_of,
)

from sitegen.content.genes import Genes, Judged, SeenLook
from sitegen.content.values import PartialDate
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.changes import ChangeKind, changes_of
from sitegen.evidence.gathered import Ground, Source
from sitegen.evidence.history import Arrival, Turn
from sitegen.evidence.kinds import Basis, ClaimKind, Condition
from sitegen.findings import Place
from sitegen.genetics.questions import Posterior

BORN = dt.date(2022, 7, 1)
"""Of the animals of :func:`animal_of`."""
FIRST, SECOND, THIRD = (dt.date(2025, 3, day) for day in (1, 2, 3))
MAY, LIKELY = ({("+", "+"): 1 - chance, ("+", "hypo"): chance} for chance in (Fraction(1, 3), Fraction(2, 3)))
HAS, TWO = ({pair: Fraction(1)} for pair in (("+", "hypo"), ("hypo", "hypo")))
LOST: Posterior = {}


def arrival(animal: str, ground: Ground = Ground.SHOWS_ITSELF, locus: str = "hypo") -> Arrival:
    return Arrival(locus, Source(ground, animal, (Place(f"{animal}.yaml", 3),), ""))


def turn(day: dt.date, *arrived: Arrival, locus: str = "hypo", **answers: Posterior) -> Turn:
    by_key = {(animal, locus): odds for animal, odds in answers.items()}
    return Turn(day, arrived, by_key, dict.fromkeys(by_key, arrived))


def seen_on(day: dt.date, locus: str, look: str) -> Genes:
    on = PartialDate(day.year, day.month, day.day)
    return Genes(Judged((SeenLook(look, locus, NOWHERE),), (), Place("own.yaml", 3), on=on))


def herd(*loci, **more):
    animals = [animal_of(name, written=False) for name in ("sage", "flint")]
    animals = [replace(animal, genes=(*animal.genes, *more.get(animal.id, ()))) for animal in animals]
    return arrivals_of(collection_of(*animals, species=species_of(*(loci or (HYPO, TESSERA)))))


def test_an_answer_that_was_lost_and_comes_back_is_compared_with_what_was_said_last() -> None:
    turns = [turn(BORN, sage=MAY), turn(FIRST, sage=LOST), turn(SECOND, arrival("flint"), sage=LIKELY)]
    (change,) = changes_of(herd(), turns, {})["sage"]
    assert (change.kind, change.day) == (ChangeKind.MOVED, SECOND)
    assert (change.chance_before, change.chance_after) == (Fraction(1, 3), Fraction(2, 3))


def test_a_lost_answer_is_no_change_whatever_arrives_with_it() -> None:
    arrivals = herd(sage=(seen_on(FIRST, "hypo", "hypo"),))
    for before in (MAY, TWO):
        for arrived in ((), (arrival("sage"),), (arrival("flint"),), (arrival("sage"), arrival("flint"))):
            assert changes_of(arrivals, [turn(BORN, sage=before), turn(FIRST, *arrived, sage=LOST)], {}) == {}


def test_what_was_said_before_an_animal_was_there_and_on_its_first_day_is_no_change() -> None:
    early = dt.date(2022, 1, 1)
    turns = [turn(early, sage=MAY), turn(BORN, arrival("flint"), sage=LIKELY), turn(FIRST, arrival("flint"), sage=HAS)]
    (change,) = changes_of(herd(), turns, {}, left=lambda *_: HAS)["sage"]
    assert (change.kind, change.day, change.chance_before) == (ChangeKind.PROVED, FIRST, Fraction(2, 3))


@pytest.mark.parametrize("answers", [{}, {"sage": TWO}], ids=["answer not asked again", "same answer"])
@pytest.mark.parametrize("others", [(), (arrival("flint"),), (arrival("sage", locus="tessera"),)], ids=len)
def test_what_was_certain_becomes_visible_whatever_else_arrives_that_day(answers, others) -> None:
    arrivals = herd(sage=(seen_on(FIRST, "hypo", "hypo"),))
    turns = [turn(BORN, sage=TWO), turn(FIRST, *others, arrival("sage"), **answers)]
    (change,) = changes_of(arrivals, turns, {})["sage"]
    assert (change.kind, change.allele, change.day) == (ChangeKind.BECAME_VISIBLE, "hypo", FIRST)


def test_what_was_said_before_is_read_from_the_records_of_the_day_before() -> None:
    one, either = ("+", "tessera"), ("tessera", "tessera")
    unsure, settled = {one: Fraction(2, 3), either: Fraction(1, 3)}, {one: Fraction(1)}
    arrivals = herd(sage=(seen_on(FIRST, "tessera", "tessera"),))
    turns = [
        turn(BORN, locus="tessera", sage=unsure),
        turn(FIRST, arrival("sage", locus="tessera"), locus="tessera"),
        turn(SECOND, arrival("flint", Ground.SHOWS_NOT, locus="tessera"), locus="tessera", sage=settled),
    ]
    left = {SECOND: settled}
    visible, copies = changes_of(arrivals, turns, {}, left=lambda day, *_: left.get(day, unsure))["sage"]
    assert (visible.kind, copies.kind) == (ChangeKind.BECAME_VISIBLE, ChangeKind.COPIES_SETTLED)
    assert visible.before
    assert visible.before.kind is ClaimKind.CARRIES
    assert copies.before
    assert copies.before.kind is ClaimKind.ONE_OR_TWO_COPIES


def test_a_move_is_judged_by_the_chance_before_and_the_chance_after_in_this_order() -> None:
    asked = []

    def falls(before: Fraction, after: Fraction) -> bool:
        asked.append((before, after))
        return after < before

    turns = [turn(BORN, sage=MAY), turn(FIRST, arrival("flint"), sage=LIKELY), turn(SECOND, arrival("flint"), sage=MAY)]
    (change,) = changes_of(herd(), turns, {}, falls)["sage"]
    assert (change.day, change.chance_after) == (SECOND, Fraction(1, 3))
    assert set(asked) == {(Fraction(1, 3), Fraction(2, 3)), (Fraction(2, 3), Fraction(1, 3))}


def test_a_later_allele_of_a_locus_may_move_alone() -> None:
    may, likely = ({("+", "+"): 1 - p, ("+", "stripe"): p} for p in (Fraction(1, 3), Fraction(2, 3)))
    turns = [
        turn(BORN, locus="motley-stripe", sage=may),
        turn(FIRST, arrival("flint", locus="motley-stripe"), locus="motley-stripe", sage=likely),
    ]
    (change,) = changes_of(herd(MOTLEY_STRIPE), turns, {})["sage"]
    assert (change.allele, change.kind) == ("stripe", ChangeKind.MOVED)


def test_of_several_claims_about_an_allele_the_one_that_tells_most_is_compared() -> None:
    late = locus_of(recessive("hypo", visible_from_months=60))

    def odds(two: Fraction) -> Posterior:
        return {("+", "+"): Fraction(1, 4), ("+", "hypo"): Fraction(3, 4) - two, ("hypo", "hypo"): two}

    turns = [turn(BORN, sage=odds(Fraction(1, 4))), turn(FIRST, arrival("flint"), sage=MAY | {("hypo", "hypo"): 0})]
    (change,) = changes_of(herd(late), turns, {})["sage"]
    assert change.before
    assert (change.before.kind, change.before.chance) == (ClaimKind.MAY_CARRY, Fraction(3, 4))


def test_only_what_became_certain_rests_on_what_it_rests_on_today() -> None:
    turns = [turn(BORN, sage=MAY), turn(FIRST, arrival("flint"), sage=LIKELY), turn(SECOND, arrival("flint"), sage=HAS)]
    moved, proved = changes_of(herd(), turns, {}, left=lambda *_: HAS)["sage"]
    assert moved.after
    assert proved.after
    said = {
        "sage": [
            replace(claim, basis=Basis.PREVIOUS_KEEPER, hangs_on=("flint",)) for claim in (moved.after, proved.after)
        ]
    }
    still, today = changes_of(herd(), turns, said, left=lambda *_: HAS)["sage"]
    assert still == moved
    assert today.after
    assert (today.after.basis, today.after.hangs_on) == (Basis.PREVIOUS_KEEPER, ("flint",))


def test_changes_of_one_day_stand_in_the_order_of_the_loci() -> None:
    tessera = {("+", "tessera"): Fraction(1)}
    turns = [
        turn(BORN, sage=MAY),
        turn(BORN, locus="tessera", sage={("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}),
        turn(FIRST, arrival("flint", locus="tessera"), locus="tessera", sage=tessera),
        turn(FIRST, arrival("flint"), sage=HAS),
    ]
    assert [change.locus for change in changes_of(herd(), turns, {})["sage"]] == ["hypo", "tessera"]


def test_what_became_certain_only_by_what_is_taken_for_granted_was_not_proved() -> None:
    turns = [turn(BORN, sage=MAY), turn(FIRST, arrival("flint"), sage=HAS)]
    (change,) = changes_of(herd(), turns, {}, left=lambda *_: LIKELY)["sage"]
    assert change.kind is ChangeKind.MOVED
    assert change.after
    assert (change.after.basis, change.after.condition) == (Basis.TAKEN_FOR_GRANTED, Condition())
    (proved,) = changes_of(herd(), turns, {}, left=lambda *_: HAS)["sage"]
    assert proved.kind is ChangeKind.PROVED


def test_what_no_answer_gives_any_more_and_the_records_leave_open_was_not_ruled_out() -> None:
    turns = [turn(BORN, sage=MAY), turn(FIRST, arrival("flint"), sage={("+", "+"): Fraction(1)})]
    (change,) = changes_of(herd(), turns, {}, left=lambda *_: MAY)["sage"]
    assert (change.kind, change.after) == (ChangeKind.MOVED, None)
