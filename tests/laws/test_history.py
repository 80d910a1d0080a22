"""Replaying the evidence day by day gives what the records of each day give, in any order, whatever comes later."""

import datetime as dt
import random
from collections.abc import Iterable
from dataclasses import replace

from helpers.plain_enumeration import Truth
from helpers.random_histories import few_animals, grown_collection, large_collection, sexed_collection
from helpers.replayed import answers_on, as_of_collection, replay
from hypothesis import event, given, settings
from hypothesis import strategies as st

from sitegen.content.animals import Offer
from sitegen.content.collection import Collection
from sitegen.content.litters import Failed, FailedAs, Litter
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate, Weighing
from sitegen.evidence.answers import answers
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.gather import gather
from sitegen.evidence.history import Arrival, Turn, history
from sitegen.findings import Place
from sitegen.genetics.network import answer_all
from sitegen.genetics.questions import LinkedQuestion, Question

seeds = st.integers(0, 1_000_000)
few = settings(max_examples=25, deadline=None)


def days_of(collection: Collection, turns: Iterable[Turn]) -> list[dt.date]:
    """The days on which anything is told, and those on which anybody comes or is paired."""
    arrivals = arrivals_of(collection)
    return sorted({*arrivals.animals.values(), *arrivals.litters.values()} | {turn.day for turn in turns})


@few
@given(seeds)
def test_every_day_has_the_answers_of_its_own_records(seed):
    collection = grown_collection(seed)
    turns = replay(collection)
    for day in days_of(collection, turns):
        assert answers_on(turns, day) == answers(as_of_collection(collection, day)).posteriors
    assert answers_on(turns, dt.date.max) == answers(collection).posteriors  # as what is said today


@few
@given(seeds)
def test_so_it_is_where_sex_is_part_of_heredity_and_few_have_judged(seed):
    collection = sexed_collection(seed)
    turns = replay(collection)
    for day in days_of(collection, turns):
        assert answers_on(turns, day) == answers(as_of_collection(collection, day)).posteriors


def without(asked: Question | LinkedQuestion, keys: set[str]) -> Question | LinkedQuestion:
    """A question without some of its evidence."""

    def left(question: Question) -> Question:
        seen = tuple(each for each in question.observations if each.key not in keys)
        return replace(question, observations=seen, tallies=tuple(t for t in question.tallies if t.key not in keys))

    if isinstance(asked, LinkedQuestion):
        return replace(asked, questions=tuple(map(left, asked.questions)))
    return left(asked)


@few
@given(seeds, st.sampled_from((grown_collection, sexed_collection)))
def test_records_of_a_day_that_are_not_named_changed_nothing(seed, drawn):
    """Left out, at the locus of an answer that differs, the answer is the same."""
    collection = drawn(seed)
    turns = replay(collection)
    for turn in turns:
        before = answers_on(turns, turn.day - dt.timedelta(1))
        evidence = gather(as_of_collection(collection, turn.day))
        names: dict[tuple[str, frozenset[Arrival]], list[str]] = {}
        for (animal, locus), answer in turn.answers.items():
            if answer and locus in before.get(animal, {}):
                silent = {each for each in turn.arrived if each.locus == locus} - set(turn.because[animal, locus])
                names.setdefault((locus, frozenset(silent)), []).append(animal)
        for (locus, silent), animals in names.items():
            at = evidence.loci["snake", locus]
            keys = {key for key, source in at.sources.items() if Arrival(locus, source) in silent}
            units = evidence.units_of("snake")
            asked = answer_all(
                [without(unit.question, keys) if locus in unit.loci else unit.question for unit in units]
            )
            number = next(rank for rank, unit in enumerate(units) if locus in unit.loci)
            for animal in animals:
                event("left out" if keys else "nothing left out")
                assert asked[number].of(animal, locus) == turn.answers[animal, locus]


@settings(max_examples=12, deadline=None)
@given(seeds)
def test_every_day_is_what_plain_enumeration_tells_of_its_records(seed):
    """Of a pair or two and their young, at each locus by itself; where a sire is in doubt, at all of them together."""
    collection = few_animals(seed)
    turns = replay(collection)
    for day in days_of(collection, turns):
        said = answers_on(turns, day)
        units = gather(as_of_collection(collection, day)).units_of("snake")
        truth = Truth([unit.question for unit in units])
        if not truth.total:  # records that contradict each other at one locus have no truth at those tied to it
            event("a contradiction")
            continue
        for number, unit in enumerate(units):
            for place, locus in enumerate(unit.loci):
                for animal in said:
                    if locus in said[animal]:
                        assert said[animal][locus] == truth.posterior(animal, number, place)


@settings(max_examples=12, deadline=None)
@given(seeds, st.integers(0, 1000))
def test_the_order_of_the_records_changes_nothing(seed, dice_seed):
    collection = grown_collection(seed)
    dice = random.Random(dice_seed)

    def shuffled(records):
        return dict(dice.sample(list(records.items()), len(records)))

    other = replace(collection, animals=shuffled(collection.animals), litters=shuffled(collection.litters))
    turns, others = replay(collection), replay(other)
    for day in days_of(collection, turns):
        assert answers_on(others, day) == answers_on(turns, day)


@few
@given(seeds, st.floats(0, 1))
def test_what_comes_later_never_alters_what_was_known(seed, where):
    collection = grown_collection(seed)
    turns = replay(collection)
    days = days_of(collection, turns)
    day = days[int(where * (len(days) - 1))]
    earlier = replay(as_of_collection(collection, day))
    for each in days:
        if each <= day:
            assert answers_on(earlier, each) == answers_on(turns, each)
    assert answers_on(earlier, dt.date.max) == answers_on(turns, day)


@few
@given(seeds, st.integers(0, 4000))
def test_between_two_days_of_evidence_nothing_changes(seed, later):
    collection = grown_collection(seed)
    turns = replay(collection)
    days = days_of(collection, turns)
    day = days[0] + dt.timedelta(later)
    before = max(each for each in days if each <= day)
    assert answers_on(turns, day) == answers_on(turns, before)
    assert answers(as_of_collection(collection, day)).posteriors == answers_on(turns, before)


@settings(max_examples=5, deadline=None)
@given(st.integers(0, 1000))
def test_weights_and_offers_are_no_evidence(seed):
    collection = large_collection(seed, n_litters=6, n_loci=3)
    more = {
        animal.id: replace(
            animal,
            weights=(Weighing(PartialDate(2025, 3, 1), 300),),
            offer=Offer(state=OfferState.SOLD, place=animal.place, since=PartialDate(2024, 1, 5)),
        )
        for animal in collection.animals.values()
    }
    assert replay(replace(collection, animals=more)) == replay(collection)


@few
@given(seeds, st.integers(0, 3000), st.integers(0, 3000))
def test_the_past_of_the_past_is_the_past(seed, first, second):
    collection = grown_collection(seed)
    start = days_of(collection, ())[0]
    early, late = sorted((start + dt.timedelta(first), start + dt.timedelta(second)))
    assert as_of_collection(as_of_collection(collection, late), early) == as_of_collection(collection, early)


@few
@given(seeds)
def test_nobody_is_there_before_a_parent(seed):
    collection = grown_collection(seed)
    arrivals = arrivals_of(collection)
    for animal in collection.animals.values():
        for parent in (animal.dam, *(sire for sire, _ in animal.sires)):
            assert parent is None or arrivals.animals[parent] <= arrivals.animals[animal.id]


@settings(max_examples=8, deadline=None)
@given(seeds)
def test_a_bound_on_memory_never_gives_a_wrong_answer(seed):
    collection = grown_collection(seed)
    exact = answers(collection).posteriors
    for animal, own in answers_on(history(arrivals_of(collection), limit=40), dt.date.max).items():
        for locus, posterior in own.items():
            assert exact[animal].get(locus, posterior) == posterior


@settings(max_examples=10, deadline=None)
@given(seeds, st.sampled_from(FailedAs), st.dates(dt.date(2015, 1, 1), dt.date(2035, 1, 1)), st.randoms())
def test_that_a_litter_failed_is_evidence_of_nothing(seed, what, day, dice):
    """A pairing without young says whom it paired, and when; what became of it changes no answer on any day."""
    records = grown_collection(seed)
    dams = [each.dam for each in records.litters.values() if each.dam]
    sires = [each.sires for each in records.litters.values() if each.sires]
    if not (dams and sires):
        return
    species = next(iter(records.species))
    litter = Litter(id="late", place=Place("l"), species=species, dam=dice.choice(dams), sires=dice.choice(sires))
    failed = Failed(date=PartialDate(day.year, day.month, day.day), what=what)
    paired = replace(records, litters={**records.litters, "late": litter})
    over = replace(records, litters={**records.litters, "late": replace(litter, failed=failed)})
    assert answers(over).posteriors == answers(paired).posteriors == answers(records).posteriors
    assert replay(over) == replay(paired)
