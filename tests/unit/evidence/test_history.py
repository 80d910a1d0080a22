"""When records began to count, and what a replay of small cases says."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

from helpers.replayed import answers_on, as_of_collection, replay
from helpers.small_collections import COPPER, HYPO, NOWHERE, animal_of, collection_of, species_of

from sitegen.content.animals import Acquired
from sitegen.content.genes import DnaTest, Genes, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.content.values import PartialDate, Weighing
from sitegen.evidence.arrivals import BEGINNING, arrivals_of
from sitegen.findings import Place
from sitegen.genetics.loci import Sex

SURE = {("+", "hypo"): Fraction(1)}
TWO_THIRDS = {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)}
HATCHED = PartialDate(2024, 7, 18)
HYPO_TEST = DnaTest(locus="hypo", genotypes=(("+", "+"),), place=Place("a.yaml", 9), date=PartialDate(2025, 2, 1))


def parents(**dam):
    acquired = Acquired(PartialDate(2022, 3, 1), "a previous keeper")
    juniper = animal_of("juniper", stated={"hypo": TWO_THIRDS}, sex=Sex.FEMALE, acquired=acquired)
    flint = animal_of("flint", stated={"hypo": SURE}, sex=Sex.MALE, born=PartialDate(2021, 5, 1))
    return replace(juniper, **dam), flint


def young_of(number: str, **more):
    return animal_of(f"2024/{number}", dam="juniper", sires=("flint",), litter="2024", number=number, born=None, **more)


def bred(*young, others=(), dam=None, mates=()):
    juniper, flint = parents(**(dam or {}))
    litter = Litter(
        id="2024",
        name="2024",
        species="corn-snake",
        place=Place("litter.yaml"),
        dam="juniper",
        sires=(("flint", Fraction(1)),),
        young=tuple(one.id for one in young),
        others=others,
        paired=PartialDate(2024, 3, 1),
        born=HATCHED,
    )
    animals = (flint, juniper, *mates, *young)
    return collection_of(*animals, litters=(litter,), species=species_of(HYPO, COPPER))


def hypo(collection, animal, day):
    return answers_on(replay(collection), day).get(animal, {}).get("hypo")


def test_an_acquired_animal_is_there_from_that_day_and_another_from_its_birth():
    arrivals = arrivals_of(bred(young_of("01")))
    assert arrivals.animals["juniper"] == dt.date(2022, 7, 1)  # born after the date under `acquired`: the later counts
    assert arrivals.animals["flint"] == dt.date(2021, 5, 1)
    assert arrivals.animals["2024/01"] == HATCHED.earliest
    assert arrivals.litters["2024"] == dt.date(2024, 3, 1)


def test_what_has_no_date_counts_from_the_beginning():
    arrivals = arrivals_of(collection_of(animal_of("sage", born=None)))
    assert arrivals.animals["sage"] == BEGINNING


def test_a_young_without_a_date_comes_when_its_parents_are_there():
    late = animal_of("late", born=PartialDate(2023, 1, 1))
    young = animal_of("young", born=None, dam="late")
    assert arrivals_of(collection_of(late, young)).animals["young"] == dt.date(2023, 1, 1)


def test_a_parent_that_came_to_us_later_is_there_from_its_first_young():
    sire = animal_of("sire", acquired=Acquired(PartialDate(2025, 1, 1), ""), born=PartialDate(2020))
    young = animal_of("young", born=PartialDate(2024, 7, 1), sires=("sire",))
    collection = collection_of(sire, young)
    assert arrivals_of(collection).animals["sire"] == dt.date(2024, 7, 1)
    there = as_of_collection(collection, dt.date(2024, 8, 1)).animals["sire"]
    assert there.acquired is not None
    assert there.acquired.date == PartialDate(2024, 7, 1)


def test_the_records_of_a_day_hold_nothing_of_later_days():
    looked = Judged((SeenLook("hypo", "hypo", Place("b.yaml", 3)),), (), Place("b.yaml", 2), on=PartialDate(2025, 1, 1))
    later = replace(young_of("01"), genes=(Genes(looked, tests=(HYPO_TEST,)),), weights=(Weighing(HATCHED, 8),))
    collection = bred(later, others=(Others(count=3, judged=Judged((), (), NOWHERE), sex=Sex.UNKNOWN, place=NOWHERE),))
    past = as_of_collection(collection, dt.date(2024, 7, 17))
    assert set(past.animals) == {"juniper", "flint"}
    assert (past.litters["2024"].young, past.litters["2024"].others, past.litters["2024"].born) == ((), (), None)
    then = as_of_collection(collection, dt.date(2024, 7, 18))
    assert [genes.judged.written for genes in then.animals["2024/01"].genes] == [False]
    assert [genes.tests for genes in then.animals["2024/01"].genes] == [()]
    assert len(then.litters["2024"].others) == 1
    today = as_of_collection(collection, dt.date(2025, 2, 1))
    assert dict(today.animals) == dict(collection.animals)
    assert dict(today.litters) == dict(collection.litters)


def test_a_visual_young_proves_its_dam_from_its_birth():
    collection = bred(young_of("01", shows={"hypo": "hypo"}))
    assert hypo(collection, "juniper", dt.date(2024, 7, 17)) == TWO_THIRDS
    assert hypo(collection, "juniper", dt.date(2024, 7, 18)) == SURE


def test_young_that_show_nothing_lower_the_odds():
    plain = Others(count=4, judged=Judged((), (), NOWHERE), sex=Sex.UNKNOWN, place=NOWHERE)
    after = hypo(bred(others=(plain,)), "juniper", HATCHED.earliest)
    carries = Fraction(2, 3) * Fraction(3, 4) ** 4
    assert after[("+", "hypo")] == carries / (carries + Fraction(1, 3))


def test_young_judged_later_count_from_that_day():
    on = PartialDate(2024, 9, 1)
    plain = Others(count=4, judged=Judged((), (), NOWHERE, on=on), sex=Sex.UNKNOWN, place=NOWHERE)
    collection = bred(others=(plain,))
    assert hypo(collection, "juniper", dt.date(2024, 8, 31)) == TWO_THIRDS
    assert hypo(collection, "juniper", dt.date(2024, 9, 1)) != TWO_THIRDS


def test_a_test_counts_from_its_date_and_reaches_the_young():
    dam = {"genes": (replace(parents()[0].genes[0], tests=(HYPO_TEST,)),)}
    collection = bred(young_of("01", unsure=("hypo",)), dam=dam)
    dam_chance = Fraction(2, 3)
    before = hypo(collection, "2024/01", dt.date(2025, 1, 31))
    assert before[("hypo", "hypo")] == dam_chance * Fraction(1, 4)
    assert hypo(collection, "2024/01", dt.date(2025, 2, 1)) == {
        ("+", "+"): Fraction(1, 2),
        ("+", "hypo"): Fraction(1, 2),
    }


def test_a_look_that_comes_with_growth_counts_from_when_it_could_be_judged():
    weights = tuple(Weighing(PartialDate(year, 1, 10), 100) for year in (2023, 2024))
    whole = PartialDate(2022, 7, 1)
    collection = collection_of(animal_of("tansy", shows={"copper": "copper"}, born=whole, weights=weights))
    turns = replay(collection)
    assert answers_on(turns, dt.date(2023, 6, 1))["tansy"]["copper"] == {("+", "+"): Fraction(1)}
    assert answers_on(turns, dt.date(2024, 1, 10))["tansy"]["copper"] == {("+", "copper"): Fraction(1)}
    assert list(dict.fromkeys(turn.day for turn in turns if turn.arrived)) == [whole.earliest, dt.date(2024, 1, 10)]


def test_records_that_contradict_each_other_give_no_answer_from_then_on():
    dam = {"genes": (replace(parents()[0].genes[0], tests=(replace(HYPO_TEST, date=None),)),)}
    collection = bred(young_of("01", shows={"hypo": "hypo"}), dam=dam)
    assert hypo(collection, "juniper", dt.date(2024, 7, 17)) == {("+", "+"): Fraction(1)}
    assert hypo(collection, "juniper", dt.date(2024, 7, 18)) is None
    assert answers_on(replay(collection), dt.date.max)["juniper"]["copper"] == {("+", "+"): Fraction(1)}


def test_a_promoted_young_keeps_its_name_and_its_second_record_tells_nothing_new():
    own = Genes(Judged((SeenLook("hypo", "hypo", Place("own.yaml", 4)),), (), Place("own.yaml", 4)))
    young = young_of("01", shows={"hypo": "hypo"})
    promoted = replace(young, id="yarrow", genes=(*young.genes, own))
    turns = replay(bred(promoted))
    assert answers_on(turns, HATCHED.earliest)["yarrow"]["hypo"] == {("hypo", "hypo"): Fraction(1)}
    assert max(turn.day for turn in turns) == HATCHED.earliest
