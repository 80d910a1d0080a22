"""What is asked about the whole room, and the answer as parts that a terminal and the desk show: texts and tables."""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial

from sitegen.app.commands.options import nearest_animal
from sitegen.content.breeding_years import BreedingYear, breeding_year
from sitegen.content.collection import Collection
from sitegen.content.wishes import Wishes, open_goals
from sitegen.evidence.answers import Known
from sitegen.findings import Finding, Kind, Level, WrongUse, nearest
from sitegen.genetics.loci import Sex
from sitegen.plans.assumed import taken_for_granted
from sitegen.plans.room.buying import buying
from sitegen.plans.room.harms import harms_of_founder, harms_of_goal, harms_of_pairing
from sitegen.plans.room.holdback import holdback
from sitegen.plans.room.kinds import RoomPlan
from sitegen.plans.room.machine import buying_json, holdback_json, rooms_json
from sitegen.plans.room.plan import plan_room
from sitegen.plans.season import Breeder, SeasonPlan, season_plan
from sitegen.plans.season_machine import season_json
from sitegen.words.assumed import granted_sentences
from sitegen.words.labels import sex_words
from sitegen.words.planning import (
    caution_sentence,
    conflict_sentence,
    harm_words,
    left_out_sentences,
    serves_words,
    verdict_words,
    weight_words,
)
from sitegen.words.room import EACH_BY_ITSELF, NO_GOALS, NO_WISHES, RoomWords, seasons_of
from sitegen.words.room_changes import ChangeWords
from sitegen.words.speech import animal_name, plain

_MOST_SEASONS = 8
Progress = Callable[[str, float], None]
"""Told what is worked at, and the share of it that is done."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows below heads, with a title."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class RoomAnswer:
    """What is told, in its order.

    Attributes:
        parts: Texts of one or more lines, and tables.
        facts: The same for machines.
        grave: Promises clash that cannot all be kept.
    """

    parts: tuple[str | Table, ...]
    facts: Mapping[str, object]
    grave: bool = False


def wishes_for(
    collection: Collection, season: int | None, n_litters: int | None, n_places: int | None, without: Sequence[str]
) -> Wishes:
    """What plan.yaml says, with what was asked before it; all open projects where no goal stands there.

    Raises:
        WrongUse: There is no such animal.
    """
    wishes = collection.wishes or Wishes(relatedness=collection.site.relatedness_limit)
    rests = [*wishes.without, *(nearest_animal(collection, name) for name in without)]
    wishes = replace(wishes, places=n_places, places_by_species={}) if n_places else wishes
    return replace(
        wishes,
        season=season or wishes.season,
        litters=n_litters or wishes.litters,
        without=tuple(dict.fromkeys(rests)),
        goals=wishes.goals or open_goals(collection.projects),
    )


@dataclass
class RoomQuestion:
    """What is asked, of which records, on which day."""

    known: Known
    wishes: Wishes
    as_of: dt.date
    progress: Progress = lambda what, share: None

    @property
    def collection(self) -> Collection:
        """The records."""
        return self.known.collection

    @cached_property
    def species(self) -> list[str]:
        """Those of which something is wanted."""
        wanted = {goal.species for goal in self.wishes.goals}
        return [species for species in self.collection.species if species in wanted]

    def _of(self, species: str) -> Wishes:
        """The wishes with their seasons; without a last one as far as young of the first can have young themselves."""
        first, year = self.wishes.season or self._next_open(species), self._year(species)
        ages = self.collection.species[species].breeding_age_months
        grown = max(year.first_season(year.birthday(first), ages.get(sex, 0)) for sex in (Sex.FEMALE, Sex.MALE))
        return replace(self.wishes, season=first, last=self.wishes.last or min(grown, first + _MOST_SEASONS - 1))

    def _words(self, species: str) -> RoomWords:
        return RoomWords(self.collection, self.wishes, self.collection.species[species])

    def _changes(self, species: str) -> ChangeWords:
        return ChangeWords(self.collection, self.wishes, self.collection.species[species])

    def _year(self, species: str) -> BreedingYear:
        return breeding_year(self.collection, self.collection.species[species])

    def _next_open(self, species: str) -> int:
        return self._year(species).next_open(self.as_of)

    def impossible(self, *, said: bool) -> list[Finding]:
        """Seasons that cannot be, each once.

        Raises:
            WrongUse: It was typed (``said``).
        """
        found = []
        for species in self.species:
            own, following = self._of(species), self._next_open(species)
            assert own.season is not None
            assert own.last is not None
            name = self.collection.species[species].name
            if own.season < following:
                message = f"the season {own.season} of {name} can no longer be paired on {self.as_of}"
                expected, remedy = f"{following} or later", f"write {following}, or delete the line"
            elif own.last < own.season:
                message = f"the last season, {own.last}, lies before the next one of {name}, {own.season}"
                expected, remedy = f"{own.season} or later", "correct last, or delete the line"
            elif own.last - own.season >= _MOST_SEASONS:
                message = f"from {own.season} to {own.last} are more seasons than can be looked ahead"
                expected, remedy = f"at most {_MOST_SEASONS} seasons", f"write last: {own.season + _MOST_SEASONS - 1}"
            else:
                continue
            if said:
                raise WrongUse(f"{message}; expected {expected}")
            place = self.wishes.season_place or self.wishes.place
            found.append(Finding(Level.ERROR, Kind.DATE_IMPOSSIBLE, place, message, expected, remedy=remedy))
        return found[:1]

    def plan(self, *, details: bool = False) -> RoomAnswer:
        """Which pairings, and what comes of them; who can breed, and what clashes."""
        plans = []
        for species in self.species:
            told = partial(self.progress, f"Seasons of {self.collection.species[species].name}")
            plans.append(plan_room(self.known.asked, species, self._of(species), self.as_of, progress=told))
        first = self.wishes.season or min((plan.season for plan in plans), default=None)
        season = season_plan(self.collection, self.as_of, first)
        facts = rooms_json(plans) | {"breeders": season_json(season)}
        grave = any(conflict.grave for conflict in season.conflicts)
        return RoomAnswer(tuple(self._parts(plans, season, details=details)), facts, grave)

    def _parts(self, plans: Sequence[RoomPlan], season: SeasonPlan, *, details: bool) -> Iterator[str | Table]:
        if not plans:
            yield NO_GOALS
        for plan in plans:
            yield self._sheet(plan)
        notes = [NO_WISHES] if self.collection.wishes is None and plans else []
        yield "\n".join([*notes, *([EACH_BY_ITSELF] if len(plans) > 1 else []), caution_sentence()])
        yield from self._conflicts(season)
        for plan in plans:
            words = self._words(plan.species)
            yield from (words.pairing(pairing, plan) for pairing in plan.pairings)
            more = [*words.tests(plan), *words.limits(plan)]
            yield from ["\n".join(more)] if more else []
            yield "\n".join(words.season(each, plan) for each in seasons_of(plan))
            if details:
                granted = taken_for_granted(words.species, self.collection)
                taken = granted_sentences(granted, words.species, self.collection.site.language)
                yield "\n".join([*words.details(plan), *map(plain, taken)])
        yield from self._breeders(season, details=details)

    def _sheet(self, plan: RoomPlan) -> str:
        words, genome = self._words(plan.species), self.collection.species[plan.species].genome
        pairings = {each.pair: harms_of_pairing(self.known.asked, each.pair) for each in plan.pairings}
        goals = {
            each.id: harms_of_goal(genome, each.goal) for each in self.wishes.goals if each.species == plan.species
        }
        return "\n".join([*words.warnings(pairings, goals), *words.sheet(plan)])

    def holdback(self, named: str) -> RoomAnswer:
        """Which young of a litter to keep.

        Raises:
            WrongUse: There is no such litter, or nothing is wished for of its species.
        """
        litter = self.collection.litters.get(named.strip().removesuffix("/"))
        if litter is None:
            close = nearest(named, self.collection.litters)
            raise WrongUse(f'there is no litter "{named}" in the records' + (f"; nearest: {close}" if close else ""))
        if litter.species not in self.species:
            name = self.collection.species[litter.species].name
            raise WrongUse(f"nothing is wished for of {name}, so no young is better than another; write a goal first")
        told = partial(self.progress, f"Young of {litter.name}")
        found = holdback(self.known.asked, litter.id, self._of(litter.species), self.as_of, progress=told)
        return RoomAnswer(("\n".join(self._changes(litter.species).holdback(found)),), holdback_json(found))

    def buy(self) -> RoomAnswer:
        """What one animal more would add.

        Raises:
            WrongUse: Nothing is wished for.
        """
        if not self.species:
            raise WrongUse(NO_GOALS)
        parts, facts = [], {}
        for species in self.species:
            told = partial(self.progress, f"One more {self.collection.species[species].name}")
            found = buying(self.known.asked, species, self._of(species), self.as_of, progress=told)
            genome, bought = self.collection.species[species].genome, [each.animal.animal for each in found.purchases]
            harms = {animal.id: harms_of_founder(genome, animal) for animal in bought}
            parts.append("\n".join(self._changes(species).buying(found, harms)))
            facts[species] = buying_json(found)
        return RoomAnswer(tuple(parts), facts)

    def _conflicts(self, season: SeasonPlan) -> Iterator[str]:
        for grave, head in ((True, "Cannot all be kept:"), (False, "To be watched:")):
            told = [
                conflict_sentence(each, season, self.collection) for each in season.conflicts if each.grave is grave
            ]
            if told:
                yield "\n".join([head, *(f"  {line}" for line in told)])

    def _breeders(self, season: SeasonPlan, *, details: bool) -> Iterator[str | Table]:
        """Who can breed in two seasons, in groups, and who is not listed; other routes only among the details."""
        first, second = season.season, season.season + 1
        told = list(season.breeders)
        if not details:
            told = [replace(each, serves=each.on_main_roads) for each in told]
        promised = [each for each in told if each.promised]
        free = [each for each in told if not each.promised and each.verdicts[0].can]
        rest = [each for each in told if not each.promised and not each.verdicts[0].can]
        for title, breeders in (
            (f"Promised in {first} or {second}", promised),
            (f"Not promised, can breed in {first}", free),
            (f"Not promised, not in {first}", rest),
        ):
            for species in self.collection.species.values():
                own = [each for each in breeders if each.species == species.id]
                if own:
                    named = f"{title}: {species.name}" if len(self.collection.species) > 1 else title
                    yield self._table(named, season, own)
        if not season.breeders:
            yield "No animal of known sex is on record that lives and was not sold."
        left_out = list(left_out_sentences(season, self.collection))
        yield from ["\n".join(left_out)] if left_out else []

    def _table(self, title: str, season: SeasonPlan, breeders: Sequence[Breeder]) -> Table:
        """One group, females first; a column that says nothing is left out."""
        collection, seasons = self.collection, (str(season.season), str(season.season + 1))
        heads = ("animal", "sex", *seasons, "serves", "last litter", "last weighing", "note")
        ordered = sorted(breeders, key=lambda each: (each.sex is not Sex.FEMALE, animal_name(collection, each.animal)))
        rows = [
            (
                animal_name(collection, each.animal),
                sex_words(each.sex),
                *(verdict_words(verdict) for verdict in each.verdicts),
                "; ".join(serves_words(serves) for serves in each.serves),
                str(each.last[1]) if each.last else "",
                weight_words(each, collection),
                harm_words(each, collection),
            )
            for each in ordered
        ]
        kept = [column for column in range(len(heads)) if any(row[column] for row in rows)]
        shown = tuple(tuple(row[column] for column in kept) for row in rows)
        return Table(title, tuple(heads[column] for column in kept), shown)
