"""``sitegen plan``: which pairings this season and why, what to keep, what to buy; who can breed, and what clashes."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial

import click

from sitegen.app.commands.options import Call, known_or_told, nearest_animal, shared
from sitegen.app.console import Console
from sitegen.content.breeding_years import BreedingYear, breeding_year
from sitegen.content.collection import Collection, latest_date
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
_SOME = click.IntRange(1, 10_000)


@click.command(name="plan", epilog="Example:  sitegen plan --litters 3 --details")
@shared
@click.option("--season", type=click.IntRange(1970, 2200), help="The first season that is planned, a year of birth.")
@click.option("--litters", "n_litters", type=_SOME, help="At most so many litters a season.")
@click.option("--places", "n_places", type=_SOME, help="Places for animals.")
@click.option("--without", multiple=True, metavar="ANIMAL", help="An animal that rests.")
@click.option("--buy", is_flag=True, help="What one more animal would add, of those in plan.yaml or of usual kinds.")
@click.option("--holdback", "litter", metavar="LITTER", help="Which young of it to keep.")
@click.option("--details", is_flag=True, help="Also what was tried and not, and what is taken for granted.")
def command(
    call: Call, season: int | None, n_litters: int | None, n_places: int | None, without: tuple[str, ...], *,
    buy: bool, litter: str | None, details: bool,
) -> int:  # fmt: skip
    """Which pairings this season, out of all animals, for all goals, and why; what will be there in a few seasons.

    Limits and goals stand in plan.yaml, which is never published; options here go before it. Who can breed, and which
    promises of projects clash, stands below; exit status 1 when they cannot all be kept. It takes a minute or so
    where many animals and no limits leave much to try; Ctrl-C gives the best found by then.
    """
    if buy and litter:
        raise WrongUse("--buy and --holdback are two questions; ask one of them")
    known, status = known_or_told(call)
    if known is None:
        return status
    wishes = _wishes(known.collection, season, n_litters, n_places, without)
    asking = _Asking(call, known, wishes, call.date or latest_date(known.collection))
    if wrong := asking.impossible(said=season is not None):
        return call.show_errors(wrong)
    told = asking.holdback(litter) if litter else asking.buy() if buy else asking.plan(details=details)
    return max(status, told)


def _wishes(
    collection: Collection, season: int | None, n_litters: int | None, n_places: int | None, without: Sequence[str]
) -> Wishes:
    """What plan.yaml says, with what was typed before it; all open projects where no goal stands there."""
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
class _Asking:
    """What is asked, and where it is told."""

    call: Call
    known: Known
    wishes: Wishes
    as_of: dt.date

    @property
    def console(self) -> Console:
        return self.call.console

    @property
    def collection(self) -> Collection:
        return self.known.collection

    @cached_property
    def species(self) -> list[str]:
        """Those of which something is wanted."""
        wanted = {goal.species for goal in self.wishes.goals}
        return [species for species in self.collection.species if species in wanted]

    def of(self, species: str) -> Wishes:
        """The wishes with their seasons; without a last one as far as young of the first can have young themselves."""
        first, year = self.wishes.season or self._next_open(species), self._year(species)
        ages = self.collection.species[species].breeding_age_months
        grown = max(year.first_season(year.birthday(first), ages.get(sex, 0)) for sex in (Sex.FEMALE, Sex.MALE))
        return replace(self.wishes, season=first, last=self.wishes.last or min(grown, first + _MOST_SEASONS - 1))

    def words(self, species: str) -> RoomWords:
        return RoomWords(self.collection, self.wishes, self.collection.species[species])

    def changes(self, species: str) -> ChangeWords:
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
            own, following = self.of(species), self._next_open(species)
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

    def plan(self, *, details: bool) -> int:
        """The whole answer."""
        plans = []
        for species in self.species:
            with self.console.progress(f"Seasons of {self.collection.species[species].name}") as progress:
                told = partial(_in_parts, progress)
                plans.append(plan_room(self.known.asked, species, self.of(species), self.as_of, progress=told))
        first = self.wishes.season or min((plan.season for plan in plans), default=None)
        season = season_plan(self.collection, self.as_of, first)
        status = int(any(conflict.grave for conflict in season.conflicts))
        if self.call.as_json:
            self.console.show_json(rooms_json(plans) | {"breeders": season_json(season)})
            return status
        show = self.console.show_result
        if not plans:
            show(NO_GOALS)
        for plan in plans:
            self._sheet(plan)
        notes = [NO_WISHES] if self.collection.wishes is None and plans else []
        show("\n".join([*notes, *([EACH_BY_ITSELF] if len(plans) > 1 else []), caution_sentence(), ""]))
        self._conflicts(season)
        for plan in plans:
            words = self.words(plan.species)
            parts = [words.pairing(pairing, plan) for pairing in plan.pairings]
            more = [*words.tests(plan), *words.limits(plan)]
            parts += ["\n".join(more)] if more else []
            parts.append("\n".join(words.season(each, plan) for each in seasons_of(plan)))
            if details:
                granted = taken_for_granted(words.species, self.collection)
                taken = granted_sentences(granted, words.species, self.collection.site.language)
                parts.append("\n".join([*words.details(plan), *map(plain, taken)]))
            for part in parts:
                show(f"{part}\n")
        self._breeders(season, details=details)
        return status

    def _sheet(self, plan: RoomPlan) -> None:
        words, genome = self.words(plan.species), self.collection.species[plan.species].genome
        pairings = {each.pair: harms_of_pairing(self.known.asked, each.pair) for each in plan.pairings}
        goals = {
            each.id: harms_of_goal(genome, each.goal) for each in self.wishes.goals if each.species == plan.species
        }
        self.console.show_result("\n".join([*words.warnings(pairings, goals), *words.sheet(plan)]))

    def holdback(self, named: str) -> int:
        """Which young of a litter to keep."""
        litter = self.collection.litters.get(named.strip().removesuffix("/"))
        if litter is None:
            close = nearest(named, self.collection.litters)
            raise WrongUse(f'there is no litter "{named}" in the records' + (f"; nearest: {close}" if close else ""))
        if litter.species not in self.species:
            name = self.collection.species[litter.species].name
            raise WrongUse(f"nothing is wished for of {name}, so no young is better than another; write a goal first")
        with self.console.progress(f"Young of {litter.name}") as progress:
            found = holdback(
                self.known.asked, litter.id, self.of(litter.species), self.as_of, progress=partial(_in_parts, progress)
            )
        if self.call.as_json:
            self.console.show_json(holdback_json(found))
        else:
            self.console.show_result("\n".join(self.changes(litter.species).holdback(found)))
        return 0

    def buy(self) -> int:
        """What one animal more would add."""
        if not self.species:
            raise WrongUse(NO_GOALS)
        told = []
        for species in self.species:
            with self.console.progress(f"One more {self.collection.species[species].name}") as progress:
                found = buying(
                    self.known.asked, species, self.of(species), self.as_of, progress=partial(_in_parts, progress)
                )
            told.append(found)
            genome, bought = self.collection.species[species].genome, [each.animal.animal for each in found.purchases]
            harms = {animal.id: harms_of_founder(genome, animal) for animal in bought}
            if not self.call.as_json:
                self.console.show_result("\n".join(self.changes(species).buying(found, harms)))
        if self.call.as_json:
            self.console.show_json({each.species: buying_json(each) for each in told})
        return 0

    def _conflicts(self, season: SeasonPlan) -> None:
        for grave, head in ((True, "Cannot all be kept:"), (False, "To be watched:")):
            told = [
                conflict_sentence(each, season, self.collection) for each in season.conflicts if each.grave is grave
            ]
            if told:
                self.console.show_result("\n".join([head, *(f"  {line}" for line in told), ""]))

    def _breeders(self, season: SeasonPlan, *, details: bool) -> None:
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
                    self._table(f"{title}: {species.name}" if len(self.collection.species) > 1 else title, season, own)
        if not season.breeders:
            self.console.show_result("No animal of known sex is on record that lives and was not sold.")
        for sentence in left_out_sentences(season, self.collection):
            self.console.show_result(sentence)

    def _table(self, title: str, season: SeasonPlan, breeders: Sequence[Breeder]) -> None:
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
        shown = [[row[column] for column in kept] for row in rows]
        self.console.show_table(title, [heads[column] for column in kept], shown)
        self.console.show_result("")


def _in_parts(progress: Callable[[int, int], None], share: float) -> None:
    """Tells a share that is done in steps of 1 in 100."""
    progress(round(100 * share), 100)
