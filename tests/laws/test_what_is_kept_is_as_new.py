"""What is kept from one state of the records to the next, after any edits, is what a clean start gives."""

import datetime as dt
import random
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from hypothesis import example, given, settings
from hypothesis import strategies as st
from random_histories import grown_collection

from sitegen.claims.changes import changes_of
from sitegen.evidence.answers import answers_of
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.asking import Asked, ask, shares_sires
from sitegen.evidence.gather import gather
from sitegen.evidence.history import Past, Turn, answers_on, history
from sitegen.findings import Place
from sitegen.genetics.cases import cases
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.network import ENTRIES_LIMIT
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.genes import DnaTest, Genes, Seen, Stated
from sitegen.records.values import PartialDate

seeds = st.integers(0, 1_000_000)
HERE = Place("animals/new/animal.yaml", 3, 1)
N_EDITS = 4


def edited(collection: Collection, dice: random.Random) -> Collection:
    """The collection after one edit such as a breeder makes."""
    return dice.choice(EDITS)(collection, dice)


def _animal(collection: Collection, dice: random.Random) -> Animal:
    return dice.choice(list(collection.animals.values()))


def _locus(collection: Collection, dice: random.Random) -> Locus:
    return dice.choice(next(iter(collection.species.values())).genome.loci)


def _with(collection: Collection, animal: Animal) -> Collection:
    animals = dict(sorted({**collection.animals, animal.id: animal}.items()))
    return replace(collection, animals=animals)


def _first(animal: Animal, genes: Genes) -> Animal:
    return replace(animal, genes=(genes, *animal.genes[1:]))


def _test(collection: Collection, dice: random.Random) -> Collection:
    animal, locus = _animal(collection, dice), _locus(collection, dice)
    own = locus.genotypes(animal.sex if animal.sex is not Sex.UNKNOWN else Sex.MALE)
    on = PartialDate(dice.randint(2019, 2025), dice.randint(1, 12), 0)
    test = DnaTest(locus.id, (dice.choice(own),), HERE, "Saltby", on)
    return _with(collection, _first(animal, replace(animal.genes[0], tests=(*animal.genes[0].tests, test))))


def _stated(collection: Collection, dice: random.Random) -> Collection:
    animal, locus = _animal(collection, dice), _locus(collection, dice)
    own = locus.genotypes(animal.sex if animal.sex is not Sex.UNKNOWN else Sex.MALE)
    share = Fraction(dice.randint(1, 9), 10)
    odds = {own[0]: 1 - share, own[1]: share}
    others = tuple(stated for stated in animal.genes[0].stated if stated.locus != locus.id)
    return _with(
        collection, _first(animal, replace(animal.genes[0], stated=(*others, Stated(locus.id, odds, "x", HERE))))
    )


def _seen(collection: Collection, dice: random.Random) -> Collection:
    """A look is added or taken away."""
    animal, locus = _animal(collection, dice), _locus(collection, dice)
    judged = animal.genes[0].judged
    others = tuple(seen for seen in judged.seen if seen.locus != locus.id)
    look = dice.choice(locus.looks).id
    seen = others if len(others) < len(judged.seen) else (*others, Seen(look, locus.id, HERE))
    return _with(collection, _first(animal, replace(animal.genes[0], judged=replace(judged, seen=seen))))


def _lines(collection: Collection, dice: random.Random) -> Collection:
    """Only the lines change on which everything stands of an animal."""
    animal = _animal(collection, dice)

    def moved(place: Place) -> Place:
        return replace(place, line=place.line + 1)

    genes = tuple(
        replace(
            each,
            judged=replace(
                each.judged,
                place=moved(each.judged.place),
                seen=tuple(replace(seen, place=moved(seen.place)) for seen in each.judged.seen),
            ),
            tests=tuple(replace(test, place=moved(test.place)) for test in each.tests),
            stated=tuple(replace(stated, place=moved(stated.place)) for stated in each.stated),
        )
        for each in animal.genes
    )
    return _with(collection, replace(animal, place=moved(animal.place), genes=genes))


def _sex(collection: Collection, dice: random.Random) -> Collection:
    animal = _animal(collection, dice)
    bred = {parent for each in collection.animals.values() for parent in (each.dam, *(s for s, _ in each.sires))}
    bred |= {parent for each in collection.litters.values() for parent in (each.dam, *(s for s, _ in each.sires))}
    sex = Sex.UNKNOWN if animal.id in bred else dice.choice(list(Sex))
    return _with(collection, replace(animal, sex=sex))


def _born(collection: Collection, dice: random.Random) -> Collection:
    animal = _animal(collection, dice)
    return _with(collection, replace(animal, born=PartialDate(dice.randint(2016, 2024), dice.randint(1, 12), 0)))


def _added(collection: Collection, dice: random.Random) -> Collection:
    """A founder, or a young of its own of any two."""
    genes = replace(_animal(collection, dice).genes[0], tests=(), stated=())
    name = dice.choice(("a-new", "g-new", "zz-new"))
    animal = Animal(name, name, "snake", dice.choice(list(Sex)), HERE, (genes,), PartialDate(2021, 5, 1))
    dams = [each.id for each in collection.animals.values() if each.sex is Sex.FEMALE and each.id != name]
    sires = [each.id for each in collection.animals.values() if each.sex is Sex.MALE and each.id != name]
    if name not in collection.animals and dams and sires and dice.random() < 0.7:
        several = dice.sample(sires, min(len(sires), dice.choice((1, 1, 2))))
        odds = tuple((sire, Fraction(1, len(several))) for sire in several)
        animal = replace(animal, dam=dice.choice(dams), sires=odds)
    elif name in collection.animals:
        return collection
    return _with(collection, animal)


def _removed(collection: Collection, dice: random.Random) -> Collection:
    """A whole litter, of whose young nobody bred; or its last young."""
    bred = {parent for each in collection.animals.values() for parent in (each.dam, *(s for s, _ in each.sires))}
    bred |= {parent for each in collection.litters.values() for parent in (each.dam, *(s for s, _ in each.sires))}
    free = [litter for litter in collection.litters.values() if litter.young and not bred.intersection(litter.young)]
    if not free:
        return collection
    litter = dice.choice(free)
    gone = litter.young if dice.random() < 0.5 else litter.young[-1:]
    animals = {name: animal for name, animal in collection.animals.items() if name not in gone}
    litters = {name: each for name, each in collection.litters.items() if name != litter.id}
    if len(gone) < len(litter.young):
        litters = {**collection.litters, litter.id: replace(litter, young=litter.young[:-1])}
    return replace(collection, animals=animals, litters=litters)


def _fewer_sires(collection: Collection, dice: random.Random) -> Collection:
    """It is known now which sire it was, of every litter: the loci of the species are no longer tied."""
    litters = {name: replace(litter, sires=litter.sires[:1]) for name, litter in collection.litters.items()}
    litters = {n: replace(e, sires=tuple((s, Fraction(1)) for s, _ in e.sires)) for n, e in litters.items()}
    animals = {
        name: replace(animal, sires=tuple((sire, Fraction(1)) for sire, _ in animal.sires[:1]))
        for name, animal in collection.animals.items()
    }
    return replace(collection, animals=animals, litters=litters)


def _counted(collection: Collection, dice: random.Random) -> Collection:
    litters = [litter for litter in collection.litters.values() if litter.others]
    if not litters:
        return collection
    litter = dice.choice(litters)
    others = tuple(replace(each, count=dice.randint(0, 4)) for each in litter.others)
    return replace(collection, litters={**collection.litters, litter.id: replace(litter, others=others)})


EDITS: tuple[Callable[[Collection, random.Random], Collection], ...] = (
    _test, _test, _stated, _stated, _seen, _seen, _lines, _sex, _born, _added, _added, _removed, _fewer_sires, _counted,
)  # fmt: skip


def states(seed: int) -> list[Collection]:
    dice = random.Random(seed)
    found = [grown_collection(seed)]
    if dice.random() < 0.6:
        found[0] = _fewer_sires(found[0], dice)
    for _ in range(N_EDITS):
        found.append(edited(found[-1], dice) if dice.random() < 0.8 else dice.choice(found))
    return found


@settings(max_examples=60, deadline=None)
@given(seeds, st.sampled_from((ENTRIES_LIMIT, ENTRIES_LIMIT, 60)))
def test_answers_that_are_kept_are_those_of_a_clean_start(seed: int, limit: int) -> None:
    before: Asked | None = None
    known = None
    for collection in states(seed):
        asked = ask(gather(collection, before.evidence if before else None), limit, before)
        clean = ask(gather(collection), limit)
        now, expected = answers_of(asked, (before, known) if before and known else None), answers_of(clean)
        assert now.posteriors == expected.posteriors
        assert (now.inbreeding, now.sires) == (expected.inbreeding, expected.sires)
        assert (now.lines, now.localities) == (expected.lines, expected.localities)
        assert [clash.animals for clash in now.clashes] == [clash.animals for clash in expected.clashes]
        assert now.knots == expected.knots
        assert [kept.loci for kept in asked.evidence.units] == [made.loci for made in clean.evidence.units]
        if not shares_sires(asked.evidence, "snake"):
            names = list(collection.animals)[:2]
            assert cases(asked.heredity, names) == cases(clean.heredity, names)
        before, known = asked, now


def by_key(turns: tuple[Turn, ...]) -> list[object]:
    """Turns with what the records say, without the lines on which they stand."""
    return [
        (
            turn.day,
            turn.species,
            [(each.locus, each.source.ground, each.source.animal, each.source.detail) for each in turn.arrived],
            turn.answers,
        )
        for turn in turns
    ]


@settings(max_examples=60, deadline=None)
@given(seeds, st.sampled_from((ENTRIES_LIMIT, ENTRIES_LIMIT, 60)))
@example(2774, ENTRIES_LIMIT)  # what was known of an animal until a day, and not what it is then, differs
@example(434020, ENTRIES_LIMIT)  # an answer that was put in question, and not asked again for a year
def test_a_replay_that_begins_where_something_differs_gives_the_same_turns(seed: int, limit: int) -> None:
    past = Past()
    for collection in states(seed):
        arrivals = arrivals_of(collection)
        turns, expected = history(arrivals, limit, past), history(arrivals, limit)
        for day in sorted({turn.day for turn in expected}):
            assert answers_on(turns, day) == answers_on(expected, day)
        assert by_key(turns) == by_key(expected)


@settings(max_examples=25, deadline=None)
@given(seeds)
def test_changes_that_are_told_from_kept_turns_are_those_of_a_clean_start(seed: int) -> None:
    past = Past()
    for collection in states(seed):
        arrivals = arrivals_of(collection)
        found = changes_of(arrivals, history(arrivals, past=past), {})
        expected = changes_of(arrivals, history(arrivals), {})
        assert found.keys() == expected.keys()
        for animal, changes in expected.items():
            assert [replace(change, because=()) for change in found[animal]] == [
                replace(change, because=()) for change in changes
            ]


def test_only_the_locus_whose_evidence_changed_is_asked_again() -> None:
    dice = random.Random(7)
    collection = _fewer_sires(grown_collection(7), dice)
    founder = next(animal for animal in collection.animals.values() if not animal.dam)
    locus = next(iter(collection.species.values())).genome.loci[0]
    stated = Stated(locus.id, {("+", "+"): Fraction(1, 3), ("+", "amel"): Fraction(2, 3)}, "66%", HERE)
    genes = founder.genes[0]
    more = _with(collection, _first(founder, replace(genes, stated=(*genes.stated, stated))))
    first, past = ask(gather(collection)), Past()
    then = ask(gather(more, first.evidence), before=first)
    assert [one is other for one, other in zip(first.heredity, then.heredity, strict=True)].count(False) == 1
    history(arrivals_of(collection), past=past)
    known = dict(past.replayed)
    history(arrivals_of(more), past=past)
    assert [past.replayed[key] is known[key] for key in known].count(False) == 1
    assert dt.date.min not in {turn.day for turn in past.replayed["snake", (locus.id,)].turns}
