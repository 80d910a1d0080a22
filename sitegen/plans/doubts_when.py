"""Doubts about when a plan breeds whom: too young, gone, without rest, promised twice."""

from collections.abc import Iterator, Sequence

from sitegen.content.breeding_years import grown_from, rest_after
from sitegen.content.litters import gravid
from sitegen.content.prices import OfferState
from sitegen.genetics.loci import Sex
from sitegen.plans.doubts_kinds import Doubt, Gone, Left, Overbooked, Rushed, TooYoung, Unlisted, Where
from sitegen.plans.promises import Promise, PromiseRoute, at_once, open_stages, promises_of
from sitegen.plans.readiness import litters_of
from sitegen.plans.roads.plan import Parents, StagePlan


def when_doubts(route: PromiseRoute, promises: Sequence[Promise]) -> Iterator[Doubt]:
    """All of them for one road.

    Args:
        route: The road.
        promises: What is promised on the main roads of all projects, this one's included.
    """
    for each in open_stages(route):
        for sex in (Sex.FEMALE, Sex.MALE):
            yield from _too_young(route, each, sex)
            yield from _gone(route, each, sex)
    yield from _unlisted(route)
    own = tuple(promise for promise in promises_of(route) if promise.as_planned)
    everyone = own if route.id else tuple(promise for promise in promises if promise.as_planned)
    for promise in own:
        if promise.sex is Sex.FEMALE:
            yield from _overbooked(route, promise, everyone)
            yield from _rushed(route, promise, everyone)


def _where(route: PromiseRoute, each: StagePlan, sex: Sex) -> Where:
    stage = each.stage
    place = stage.dam_place if sex is Sex.FEMALE else stage.sire_place
    return Where(route.project.id, place or stage.place, stage.id, route.id)


def _parents(each: StagePlan, sex: Sex) -> tuple[str, Parents]:
    return (each.stage.dam, each.dams) if sex is Sex.FEMALE else (each.stage.sire, each.sires)


def _too_young(route: PromiseRoute, each: StagePlan, sex: Sex) -> Iterator[TooYoung]:
    """None of those that could be bred is old enough in the season of the stage."""
    name, parents = _parents(each, sex)
    plan, year = route.plan, route.plan.year
    months = plan.collection.species[route.project.species].breeding_age_months.get(sex, 0)
    if parents.holdback:
        source = next((stage for stage in route.stages if stage.id == parents.holdback[0]), None)
        if source is None:
            return
        birthday = year.birthday(source.season)
        first = year.first_season(birthday, months)
        if first > each.stage.season:
            yield TooYoung(_where(route, each, sex), name, sex, each.stage.season, str(birthday.year), months, first)
        return
    animals = [plan.collection.animals[animal] for animal in parents.animals]
    grown = [(grown_from(plan.collection, year, animal, sex), animal) for animal in animals]
    if not grown or any(first is None or first <= each.start for first, _ in grown):
        return
    first, animal = min(((first or 0, animal) for first, animal in grown), key=lambda pair: pair[0])
    litter = plan.collection.litters.get(animal.litter)
    born = animal.born or (litter.born if litter else None)
    yield TooYoung(_where(route, each, sex), animal.id, sex, each.start, str(born), months, first)


def _gone(route: PromiseRoute, each: StagePlan, sex: Sex) -> Iterator[Gone]:
    """Parents of a stage that are not there any more, or may not be when they are needed."""
    found = []
    _, parents = _parents(each, sex)
    for animal in (route.plan.collection.animals[one] for one in parents.animals):
        offer = animal.offer
        if animal.died:
            found.append((animal, Left.DIED, str(animal.died)))
        elif offer and offer.state is OfferState.SOLD:
            found.append((animal, Left.SOLD, str(offer.since or "")))
        elif offer and offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD):
            found.append((animal, Left.OFFERED, str(offer.since or "")))
    for animal, why, since in found:
        only = len(found) == len(parents.animals)
        place = animal.offer.place if animal.offer and why is not Left.DIED else animal.place
        yield Gone(_where(route, each, sex), animal.id, sex, why, since, only, place)


def _overbooked(route: PromiseRoute, promise: Promise, everyone: Sequence[Promise]) -> Iterator[Overbooked]:
    """A dam with more litters in a season than she can have; told once, where the last of them is promised."""
    litters_a_year = route.plan.collection.species[route.project.species].litters_a_year
    others = [
        other for other in everyone if other.sex is Sex.FEMALE and other != promise and other.season == promise.season
    ]
    for subject in promise.subjects:
        also = at_once((promise, *(other for other in others if subject in other.subjects)))[1:]
        recorded = [
            litter
            for season, litter in litters_of(route.plan.collection, route.plan.year, subject)
            if season == promise.season and gravid(litter)
        ]
        last = all(everyone.index(other) < everyone.index(promise) for other in also)
        if (also or recorded) and last and 1 + len(also) + len(recorded) > litters_a_year * promise.count:
            names = (*(_named(other) for other in also), *(litter.id for litter in recorded))
            places = (*(other.place for other in also), *(litter.place for litter in recorded))
            where = Where(promise.project, promise.place, promise.stage, promise.route)
            dam = subject if promise.parents.animals else promise.name
            yield Overbooked(where, dam, promise.season, litters_a_year * promise.count, names, places)


def _rushed(route: PromiseRoute, promise: Promise, everyone: Sequence[Promise]) -> Iterator[Rushed]:
    """A dam whose last litter before is too near."""
    rest = route.plan.rest
    collection = route.plan.collection
    for subject in promise.subjects:
        earlier = [
            (season, rest_after(collection, litter, rest), litter.id, litter.place)
            for season, litter in litters_of(collection, route.plan.year, subject)
        ]
        earlier += [
            (other.season, rest, _named(other), other.place)
            for other in everyone
            if other.sex is Sex.FEMALE and subject in other.subjects and other.may_meet(promise)
        ]
        near = (each for each in earlier if each[0] < promise.season <= each[0] + each[1])
        if before := max(near, default=None, key=lambda each: each[0]):
            dam = subject if promise.parents.animals else promise.name
            where = Where(promise.project, promise.place, promise.stage, promise.route)
            yield Rushed(where, dam, promise.season, *before)


def _unlisted(route: PromiseRoute) -> Iterator[Unlisted]:
    """Litters of an open stage's pair since the stage's season, or since the project began, that no stage lists."""
    collection, started = route.plan.collection, route.project.started
    roads = [
        road for own in collection.projects.values() for road in (own.stages, *(r.stages for r in own.alternatives))
    ]
    listed = {litter for stages in roads for stage in stages for litter in stage.litters}
    for each in open_stages(route):
        since = min(each.stage.season, started.year) if started else each.stage.season
        for dam in each.dams.animals:
            for season, litter in litters_of(collection, route.plan.year, dam):
                pair = litter.dam == dam and {sire for sire, _ in litter.sires} <= set(each.sires.animals)
                if pair and litter.sires and season >= since and litter.id not in listed:
                    listed.add(litter.id)
                    where = Where(route.project.id, each.stage.place, each.stage.id, route.id)
                    yield Unlisted(where, litter.id, litter.place)


def _named(promise: Promise) -> str:
    return f"{promise.project}: {promise.stage}"
