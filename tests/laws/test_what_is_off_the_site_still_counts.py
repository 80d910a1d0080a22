"""Whatever is kept off the site, every chance of all that is shown is that of the true records, and no day is told."""

import random
from collections.abc import Callable, Mapping
from dataclasses import replace

from helpers.random_histories import few_animals, grown_collection, sexed_collection
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection, dates_of_animal, dates_of_litter
from sitegen.content.off_site import is_off_site
from sitegen.evidence.answers import Answers, answers
from sitegen.evidence.off_site import for_the_site

seeds = st.integers(0, 1_000_000)
hidden_parts = st.sampled_from([0.1, 0.5, 0.9])
often = settings(max_examples=40, deadline=None)


def some_off(collection: Collection, part: float, seed: int) -> Collection:
    """The collection with about such a part of its animals and litters kept off."""
    dice = random.Random(seed)
    return replace(
        collection,
        animals={key: replace(each, on_site=dice.random() > part) for key, each in collection.animals.items()},
        litters={key: replace(each, on_site=dice.random() > part) for key, each in collection.litters.items()},
    )


def same_of_all_shown(whole: Collection, part: float, seed: int) -> None:
    records = some_off(whole, part, seed)
    public = for_the_site(records)
    new_animals = dict(zip(records.animals, public.animals, strict=True))
    new_litters = dict(zip(records.litters, public.litters, strict=True))
    true, told = answers(records), answers(public)
    checked: tuple[Callable[[Answers], Mapping[str, object]], ...] = (
        lambda each: each.posteriors, lambda each: each.possible, lambda each: each.inbreeding,
        lambda each: each.lines, lambda each: each.localities,
    )  # fmt: skip
    for part_of in checked:
        before, after = part_of(true), part_of(told)
        shown = [key for key in before if records.animals[key].on_site]
        assert {key: before[key] for key in shown} == {key: after[key] for key in shown}
        assert {new_animals[key] for key in before} == set(after), "what is kept off is asked of too"
    names = new_litters | new_animals
    assert {
        names[young]: {new_animals[sire]: chance for sire, chance in sires.items()}
        for young, sires in true.sires.items()
    } == told.sires
    assert len(true.clashes) == len(told.clashes)


@often
@given(seeds, hidden_parts)
def test_no_chance_of_a_shown_animal_changes(seed, part):
    same_of_all_shown(grown_collection(seed), part, seed)


@often
@given(seeds, hidden_parts)
def test_nor_where_sex_is_part_of_heredity_and_few_have_judged(seed, part):
    same_of_all_shown(sexed_collection(seed), part, seed)
    same_of_all_shown(few_animals(seed), part, seed)


@often
@given(seeds, hidden_parts)
def test_no_stand_in_holds_a_day_a_name_or_a_file(seed, part):
    records = some_off(grown_collection(seed), part, seed)
    public = for_the_site(records)
    for animal in public.animals.values():
        if is_off_site(animal.id):
            assert not any(dates_of_animal(animal))
            assert not animal.name
            assert "animals/" not in repr(animal)
            assert "litters/" not in repr(animal)
    for litter in public.litters.values():
        if is_off_site(litter.id):
            assert not any(dates_of_litter(litter))
            assert "litters/" not in repr(litter)
    hidden = {each.id for own in (records.animals, records.litters) for each in own.values() if not each.on_site}
    assert not hidden & {*public.animals, *public.litters}
    for young in (*public.animals.values(), *public.litters.values()):
        assert not hidden & {young.dam, *(sire for sire, _ in young.sires)}


def test_where_nothing_is_off_the_records_are_those_of_the_keeper():
    records = grown_collection(7)
    assert for_the_site(records) is records
