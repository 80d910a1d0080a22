"""Which animals of a collection a search for routes may use, and which it leaves out and why."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import prod

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.prices import OfferState
from sitegen.content.projects import Goal, Project
from sitegen.evidence.asking import Asked
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import WILD, Sex
from sitegen.genetics.network import Heredity
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled, parents_of
from sitegen.plans.roads.routes_kinds import Bounds, Founder, LeftOut, Why
from sitegen.plans.roads.routes_odds import Unit, unit_of
from sitegen.plans.roads.routes_shapes import shapes
from sitegen.plans.roads.routes_years import Years

_FRESH = dt.timedelta(days=366)
"""Listed young of which nothing is said are taken to be still here for so long after their birth."""

Odds = tuple[tuple[StateNumber, float], ...]


@dataclass(frozen=True, slots=True)
class Heard:
    """The units that the goal speaks of, with their answers, in the order of the species file."""

    units: tuple[Unit, ...]
    heredity: tuple[Heredity, ...]


@dataclass(frozen=True, slots=True)
class Cast:
    """Who takes part.

    Attributes:
        founders: In the order of their ids.
        left_out: Everybody else of the species, in the order of their ids.
        already: Those who are what the goal asks for, perhaps only perhaps.
        nobody_has: Alleles of the goal that none of the founders may carry.
    """

    founders: tuple[Founder, ...]
    left_out: tuple[LeftOut, ...]
    already: tuple[AnimalId, ...]
    nobody_has: tuple[str, ...]


def heard(asked: Asked, project: Project) -> Heard:
    """What the goal of a project speaks of."""
    genome = asked.evidence.collection.species[project.species].genome
    found: list[tuple[Unit, Heredity]] = []
    for number, (unit, heredity) in enumerate(zip(asked.evidence.units, asked.heredity, strict=True)):
        if unit.species == project.species:
            own = unit_of(asked.transmissions[number], project.goal, genome)
            if own is not None:
                found.append((own, heredity))
    return Heard(tuple(unit for unit, _ in found), tuple(heredity for _, heredity in found))


def is_certainly(asked: Asked, project: Project, animal: AnimalId) -> bool:
    """True when an animal is what the goal asks for, beyond doubt."""
    what = heard(asked, project)
    odds = _odds(animal, what) or ()
    return bool(odds) and all(
        unit.fit[state] == 1 for unit, part in zip(what.units, odds, strict=True) for state, _ in part
    )


def cast(
    asked: Asked, project: Project, what: Heard, years: Years, bounds: Bounds, as_of: dt.date, kinship: Kinship
) -> Cast:
    """Who takes part in a search, and who does not.

    An animal stands behind another of its sex when at every locus of the goal it has, for certain, no more of what
    the goal needs, can be paired no sooner, and is no less related to any of the others. Animals that give the same
    in every route are one founder.
    """
    collection = asked.evidence.collection
    left: list[LeftOut] = []
    odds: dict[AnimalId, tuple[Odds, ...]] = {}
    already: list[AnimalId] = []
    for animal in _of_species(collection, project):
        why = _gone(animal, collection, project, as_of)
        own = None if why else _odds(animal.id, what)
        if why is None and own is None:
            why = Why.UNANSWERED
        if why is None and own is not None:
            if all(any(unit.fit[state] for state, _ in part) for unit, part in zip(what.units, own, strict=True)):
                already.append(animal.id)
            why = _unfit(animal, own, what, years, bounds)
        if why is None and own is not None:
            odds[animal.id] = own
        elif why is not None:
            left.append(LeftOut(animal.id, why))
    has = {allele for own in odds.values() for unit, part in zip(what.units, own, strict=True)
           for allele in _may_hold(unit, part)}  # fmt: skip
    nobody = tuple(allele for allele in _needed(project.goal, what) if allele not in has)
    founders, behind = _sorted_out(collection, odds, what, years, bounds, kinship)
    left = sorted([*left, *behind], key=lambda each: each.animal)
    return Cast(founders, tuple(left), tuple(sorted(already)), nobody)


def _of_species(collection: Collection, project: Project) -> Iterator[Animal]:
    animals = (animal for animal in collection.animals.values() if animal.species == project.species)
    return iter(sorted(animals, key=lambda animal: animal.id))


def _gone(animal: Animal, collection: Collection, project: Project, as_of: dt.date) -> Why | None:
    """Why an animal cannot be counted on, by its records."""
    if animal.died:
        return Why.DEAD
    if animal.offer and animal.offer.state is OfferState.SOLD:
        return Why.SOLD
    if animal.offer and animal.offer.state is OfferState.ON_HOLD:
        return Why.ON_HOLD
    held = {name for stage in project.stages for holdback in stage.keep for name in holdback.animals}
    if animal.is_young and not animal.kept and animal.offer is None and animal.id not in held:
        born = animal.born or collection.litters[animal.litter].born
        if born is None or as_of - born.latest > _FRESH:
            return Why.UNSAID
    return None


def _odds(animal: AnimalId, what: Heard) -> tuple[Odds, ...] | None:
    """Odds of the animal's states at each unit; None when one has no answer."""
    found: list[Odds] = []
    for heredity in what.heredity:
        states = heredity.states([animal])
        if isinstance(states, Impossible | TooTangled):
            return None
        found.append(tuple(sorted((state[0], float(chance)) for state, chance in states.items())))
    return tuple(found)


def _unfit(animal: Animal, odds: Sequence[Odds], what: Heard, years: Years, bounds: Bounds) -> Why | None:
    if animal.sex is Sex.UNKNOWN:
        return Why.NO_SEX
    if not any(_may_hold(unit, part) for unit, part in zip(what.units, odds, strict=True)):
        return Why.CARRIES_NOTHING
    return Why.TOO_YOUNG if years.ready(animal) > bounds.horizon else None


def _may_hold(unit: Unit, odds: Odds) -> frozenset[str]:
    """The alleles of the goal that an animal may carry at a unit."""
    found = {allele for state, _ in odds for genotype in unit.mode.genotypes[state] for allele in genotype}
    return frozenset(found & unit.wanted)


def _needed(goal: Goal, what: Heard) -> tuple[str, ...]:
    return tuple(
        allele.id for unit in what.units for locus in unit.loci for allele in locus.alleles if allele.id in unit.wanted
    )


def _sorted_out(
    collection: Collection,
    odds: Mapping[AnimalId, tuple[Odds, ...]],
    what: Heard,
    years: Years,
    bounds: Bounds,
    kinship: Kinship,
) -> tuple[tuple[Founder, ...], list[LeftOut]]:
    """Founders, and who stands behind one of them or beyond the number that is looked at."""
    parents = {name for animal in collection.animals.values() for name in parents_of(animal)}
    groups: dict[object, list[AnimalId]] = {}
    for name, own in odds.items():
        animal = collection.animals[name]
        certain = all(len(part) == 1 for part in own)
        family = () if certain else (animal.dam, animal.sires, animal.litter)
        alone = not certain and (name in parents or not animal.litter)
        key = (animal.sex, years.ready(animal), own, family, name if alone else "")
        groups.setdefault(key, []).append(name)
    ready = {name: years.ready(collection.animals[name]) for name in odds}
    for names in groups.values():
        names.sort(key=lambda name: (_is_offered(collection.animals[name]), name))
    whole = [
        Founder(names[0], collection.animals[names[0]].sex, ready[names[0]], tuple(names[1:]))
        for names in groups.values()
    ]
    left: list[LeftOut] = []
    front: list[Founder] = []
    for founder in whole:
        better = _better(founder, whole, odds, what, kinship)
        if better is None:
            front.append(founder)
        else:
            left += [LeftOut(name, Why.BEHIND, better.id) for name in (founder.id, *founder.alike)]
    by_sex = {sex: _in_turn([f for f in front if f.sex is sex], odds, what) for sex in (Sex.FEMALE, Sex.MALE)}
    n_taken = _number_taken({sex: len(own) for sex, own in by_sex.items()}, bounds)
    taken = [founder for own in by_sex.values() for founder in own[:n_taken]]
    beyond = [founder for own in by_sex.values() for founder in own[n_taken:]]
    left += [LeftOut(name, Why.BEYOND) for each in beyond for name in (each.id, *each.alike)]
    return tuple(sorted(taken, key=lambda founder: founder.id)), left


def _number_taken(n_there: Mapping[Sex, int], bounds: Bounds) -> int:
    """How many animals of each sex can be looked at within the bound on ways to cross them."""
    own = shapes(bounds.generations, bounds.animals)
    number = max(n_there.values(), default=0)
    while number > 1 and sum(prod(min(number, n_there[sex]) for sex in shape.sexes) for shape in own) > bounds.ways:
        number -= 1
    return number


def _in_turn(founders: list[Founder], odds: Mapping[AnimalId, tuple[Odds, ...]], what: Heard) -> list[Founder]:
    """The founders in the order in which they are taken: for each allele in turn the one that has most of it.

    Of equal ones the one that has most of everything is first, then the soonest, then the first by id.
    """
    alleles = [(number, allele) for number, unit in enumerate(what.units) for allele in sorted(unit.wanted)]

    def has(founder: Founder, number: int, allele: str) -> float:
        genotypes = what.units[number].mode.genotypes
        return sum(
            chance * sum(genotype.count(allele) for genotype in genotypes[state])
            for state, chance in odds[founder.id][number]
        )

    whole = {founder.id: sum(has(founder, *each) for each in alleles) for founder in founders}
    left = sorted(founders, key=lambda founder: (-whole[founder.id], founder.ready, founder.id))
    found: list[Founder] = []
    while left:
        for number, allele in alleles:
            if left:
                best = max(left, key=lambda founder: has(founder, number, allele))
                left.remove(best)
                found.append(best)
    return found


def _is_offered(animal: Animal) -> bool:
    return animal.offer is not None and animal.offer.state is OfferState.AVAILABLE


def _better(
    founder: Founder,
    others: Sequence[Founder],
    odds: Mapping[AnimalId, tuple[Odds, ...]],
    what: Heard,
    kinship: Kinship,
) -> Founder | None:
    """Another that has everything of the goal that this one has, for certain, as soon, and no closer to anybody."""

    def behind(one: Founder, other: Founder) -> bool:
        pairs = zip(what.units, odds[other.id], odds[one.id], strict=True)
        if other.ready > one.ready or not all(_no_less(unit, better, own) for unit, better, own in pairs):
            return False
        animals = (one.id, *one.alike)
        return all(any(_no_closer(name, each, odds, kinship) for name in (other.id, *other.alike)) for each in animals)

    for other in others:
        if other is founder or other.sex is not founder.sex or not behind(founder, other):
            continue
        if other.id < founder.id or not behind(other, founder):
            return other
    return None


def _no_closer(one: AnimalId, other: AnimalId, everybody: Iterable[AnimalId], kinship: Kinship) -> bool:
    """True when one is no more related to anybody than the other, nor more inbred."""
    third = (each for each in everybody if each not in (one, other))
    return kinship.pair(one, one) <= kinship.pair(other, other) and all(
        kinship.pair(one, each) <= kinship.pair(other, each) for each in third
    )


def _no_less(unit: Unit, first: Odds, second: Odds) -> bool:
    """True when the first animal has, for certain, no less of what the goal needs at this unit.

    Told only where more copies are never worse: one autosomal locus with one goal allele, two copies of which live
    and are as the goal wants whenever one is. Elsewhere two animals must be alike and certain.
    """
    if len(first) == len(second) == 1 and first[0][0] == second[0][0]:
        return True
    mode = unit.mode
    if len(mode.loci) != 1 or mode.has_sex or len(unit.wanted) != 1:
        return False
    (allele,) = unit.wanted
    other_alleles = {
        each for state, _ in (*first, *second) for each in mode.genotypes[state][0] if each not in (WILD, allele)
    }
    by_copies = {
        genotypes[0].count(allele): (mode.living[state], unit.fit[state])
        for state, genotypes in enumerate(mode.genotypes)
        if set(genotypes[0]) <= {WILD, allele}
    }
    rising = by_copies[0][1] <= by_copies[1][1] <= by_copies[2][1]
    if other_alleles or not rising or not by_copies[2][0]:
        return False
    copies = [[mode.genotypes[state][0].count(allele) for state, _ in odds] for odds in (first, second)]
    return min(copies[0]) >= max(copies[1])
