"""A staircase ends at its claim's chance, and each of its steps is the answer of the records so far."""

import datetime as dt
from dataclasses import replace
from functools import cache
from itertools import pairwise

from helpers.random_histories import few_animals, grown_collection, sexed_collection
from helpers.replayed import as_of_collection
from hypothesis import event, given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.evidence.answers import answers
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.reasons import reasons
from sitegen.evidence.staircase import WITH_ODDS, chance_of, replays_of, staircase
from sitegen.genetics.questions import Posterior, parents_of


def alone(collection: Collection, animal: str, locus: str, day: dt.date) -> Posterior:
    """The answer from an animal and its ancestors alone, all other records of the day taken out."""
    then, line = as_of_collection(collection, day), [animal]
    for each in line:
        line += [parent for parent in parents_of(then.animals[each]) if parent not in line]
    litters = {key: replace(each, others=(), young=()) for key, each in then.litters.items()}
    animals = {each: record for each, record in then.animals.items() if each in line}
    return answers(replace(then, animals=animals, litters=litters)).posteriors.get(animal, {}).get(locus, {})


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 1_000_000), st.sampled_from((grown_collection, sexed_collection, few_animals)))
def test_every_step_is_the_answer_of_the_records_so_far(seed, drawn):
    collection = drawn(seed)
    asked, replays = ask(gather(collection)), replays_of(collection)
    claims = claims_of(collection, answers(collection), lambda *about: reasons(asked, *about), dt.date(2026, 1, 1))
    on_day = cache(lambda day: answers(as_of_collection(collection, day)).posteriors)
    for claim in (each for own in claims.values() for each in own):
        locus = collection.species[claim.species].genome.locus(claim.locus)
        steps = staircase(claim, locus, replays[claim.animal], lambda before, after: before != after)
        if not steps:
            continue
        event(f"{claim.kind.value} in {min(len(steps), 5)} steps")
        chances = [chance_of(claim, locus, step.posterior) for step in steps]
        assert chances[-1] == claim.chance  # of what is certain: 1, or 0 where it is ruled out
        assert len(steps) > 1
        assert all(before != after for before, after in pairwise(chances))
        assert [step.day for step in steps[1:]] == sorted({step.day for step in steps[1:]})
        assert (claim.strained, claim.condition) == (False, None)
        assert claim.kind in WITH_ODDS or chances[-1] in (0, 1)
        came = arrivals_of(collection).animals[claim.animal]
        for step in steps:
            if step.day is None:
                assert step is steps[0]
                assert step.posterior == alone(collection, claim.animal, claim.locus, came)
            else:
                assert step.posterior == on_day(step.day)[claim.animal][claim.locus]
