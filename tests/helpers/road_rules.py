"""A project's road as plain tables, for the slow truth of roads: who may breed when, what young there are, who fits.

Written from plans-reference section 5 and the rules of the process alone, without any module of ``sitegen.plans``. What
is known of the parents comes from the joint posterior (:mod:`sitegen.genetics.network`), which has its own truth.
"""

import calendar
import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import product
from typing import NamedTuple

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.projects import Holdback, Project, Stage
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.gametes import Mode, gametes
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import cases
from sitegen.genetics.observations import looks_of, showing_alleles

ONE, HALF, NONE = Fraction(1), Fraction(1, 2), Fraction(0)
Composite = tuple[int, ...]
"""An animal's states, one for each locus or linked group."""
SEXES = ("female", "male")


class Seen(NamedTuple):
    """What can be seen of a young: its sex and the looks that no other look hides."""

    sex: str
    looks: frozenset[str]


@dataclass(frozen=True)
class Young:
    """One way in which a conception of a pair can turn out, with its chance among those that live."""

    own: Composite
    seen: Seen
    chance: Fraction
    is_goal: bool


@dataclass(frozen=True)
class Brood:
    """A pair's young: the share of conceptions that live, and what those are."""

    living: Fraction
    young: tuple[Young, ...]


@dataclass(frozen=True)
class Slot:
    """A holdback: that of which stage, in which branch, of which sex ("" for either)."""

    stage: int
    own: Holdback
    is_else: bool
    is_goal: bool
    sex: str


class Rules:
    """All that the process needs to know.

    Attributes:
        stages: The stages; the last has what it keeps by itself where it says nothing.
        slots: Their holdbacks, those of ``keep`` before those of ``else``.
        founders: Parents that are on record.
        worlds: What they are together (composites in the order of ``founders``), with the chance.
        first, last: The first season that can be bred, and the horizon.
    """

    def __init__(self, collection: Collection, project: Project, as_of: dt.date, stages: Iterable[Stage] = ()) -> None:
        self.collection = collection
        self.project = project
        self.as_of = as_of
        self.species = collection.species[project.species]
        self.asked = ask(gather(collection))
        units = self.asked.of_species(project.species)
        self.modes: tuple[Mode, ...] = tuple(heredity.mode for _, heredity in units)
        self.stages = tuple(stages) or project.stages
        self.slots = tuple(self._slots())
        self._slot_names = {f"{self.stages[slot.stage].id}.{slot.own.id}": n for n, slot in enumerate(self.slots)}
        self._users = [
            [at for at, stage in enumerate(self.stages) if name in (stage.dam, stage.sire)] for name in self._slot_names
        ]
        self._entries: dict[tuple[str, str], int] = {}
        named = [name for stage in self.stages for name in (stage.dam, stage.sire) if self.slot_of(name) is None]
        self.founders = tuple(dict.fromkeys(named))
        self.worlds = self._worlds([heredity for _, heredity in units])
        season = self.species.breeding_season
        assert season is not None
        self.paired, self.born = season.paired, season.born
        assert project.horizon is not None
        self.first, self.last = self._first(), project.horizon
        self.takes = self.species.takes
        self.rest = self.species.rest if project.rest is None else project.rest
        self.rest_after_failure = self.species.rest_after_failure
        size = self.species.litter_size
        self.sizes = litter_sizes(size.low, size.usual, size.high)
        self._broods: dict[tuple[Composite, Composite], Brood] = {}
        self._grown: dict[tuple[int, str], int] = {}

    # Stages.

    def _slots(self) -> Iterator[Slot]:
        goal = self.project.goal
        for at, stage in enumerate(self.stages):
            keep = stage.keep
            if not stage.holdbacks and at == len(self.stages) - 1:
                keep = (
                    Holdback(id="goal", shows=goal.shows, carries=goal.carries, count=1, sex="", place=stage.place),
                )
            for own, is_else in [(own, False) for own in keep] + [(own, True) for own in stage.otherwise]:
                yield Slot(at, own, is_else, self._ends_road(own), own.sex or self._needed(f"{stage.id}.{own.id}"))

    def _ends_road(self, own: Holdback) -> bool:
        """True for young that are to be the goal, by their name or by all that they are to have.

        What all genotypes of a look have counts as said with the look.
        """
        goal = self.project.goal
        said = set(own.carries)
        for look in own.shows:
            ways = [
                set(pair) for locus in self.species.genome.loci for pair, shown in locus.shown.items() if shown == look
            ]
            said |= set.intersection(*ways)
        whole = set(goal.shows) <= set(own.shows) and set(goal.carries) <= said
        return own.id == "goal" or (whole and bool(goal.shows or goal.carries))

    def _needed(self, name: str) -> str:
        """The sex in which the first stage that uses a holdback needs it."""
        for stage in self.stages:
            if name in (stage.dam, stage.sire):
                return "female" if name == stage.dam else "male"
        return ""

    def slot_of(self, name: str) -> int | None:
        """The number of the holdback that a parent's name stands for; None for an animal."""
        return self._slot_names.get(name)

    def is_parent(self, number: int, ended: Iterable[str] = ()) -> bool:
        """True when young of a holdback can still become parents."""
        over = tuple(ended)
        return any(not (over and over[at]) for at in self._users[number])

    # The calendar.

    def pairing_day(self, season: int) -> dt.date:
        return dt.date(season - (self.born < self.paired), self.paired, 1)

    def _first(self) -> int:
        season = self.as_of.year - 1
        while True:
            day = self.pairing_day(season)
            if self.as_of <= day.replace(day=calendar.monthrange(day.year, day.month)[1]):
                return season
            season += 1

    def _season_of_age(self, born: dt.date, sex: str) -> int:
        """The first season on whose pairing day one born on a day has the breeding age."""
        months = self.species.breeding_age_months.get(Sex(sex), 0)
        year, month = divmod(born.year * 12 + born.month - 1 + months, 12)
        grown = dt.date(year, month + 1, min(born.day, calendar.monthrange(year, month + 1)[1]))
        season = born.year
        while self.pairing_day(season) < grown:
            season += 1
        return season

    def grown(self, season: int, sex: str) -> int:
        """The first season in which young of a season can be paired."""
        if (season, sex) not in self._grown:
            self._grown[season, sex] = max(season + 1, self._season_of_age(dt.date(season, self.born, 1), sex))
        return self._grown[season, sex]

    def entry(self, name: str, sex: str) -> int:
        """The first season in which an animal on record can be paired."""
        if (name, sex) not in self._entries:
            self._entries[name, sex] = self._entry(name, sex)
        return self._entries[name, sex]

    def _entry(self, name: str, sex: str) -> int:
        animal: Animal = self.collection.animals[name]
        if animal.died:
            return self.last + 1
        litter = self.collection.litters.get(animal.litter)
        born = animal.born or (litter.born if litter else None)
        season = self.first if born is None else self._season_of_age(born.latest, sex)
        if born is not None:
            season = max(season, born.latest.year + 1)
        if sex == "female":
            for own in self.collection.litters.values():
                if own.dam == name and self.litter_season(own) is not None:
                    season = max(season, (self.litter_season(own) or 0) + 1 + self.rest)
        return season

    def litter_season(self, litter: Litter) -> int | None:
        """The year of its birth."""
        if litter.born:
            return litter.born.year
        if litter.paired:
            return litter.paired.year + (self.born < self.paired)
        return None

    # What animals are.

    def _worlds(self, heredity: list) -> tuple[tuple[tuple[Composite, ...], Fraction], ...]:
        found = cases(heredity, self.founders)
        assert isinstance(found, tuple), found
        needed = {stage.dam: Sex.FEMALE for stage in self.stages} | {stage.sire: Sex.MALE for stage in self.stages}
        sums: dict[tuple[Composite, ...], Fraction] = {}
        for case in found:
            for combined in product(*(states.items() for states in case.states)):
                chance = case.chance
                for _, share in combined:
                    chance *= share
                own = tuple(zip(*(states for states, _ in combined), strict=True))
                if all(self._has_sex(each, needed[name]) for name, each in zip(self.founders, own, strict=True)):
                    sums[own] = sums.get(own, NONE) + chance
        total = sum(sums.values(), NONE)
        return tuple((own, chance / total) for own, chance in sorted(sums.items()))

    def _has_sex(self, own: Composite, sex: Sex) -> bool:
        sexes = [mode.states[state].sex for mode, state in zip(self.modes, own, strict=True)]
        return all(each in (None, sex) for each in sexes)

    def is_goal(self, own: Composite, shown: frozenset[str]) -> bool:
        """True when an animal truly is the project's goal: what hides what does not matter.

        Args:
            own: What it is.
            shown: Its looks, those that another look hides among them; a look may stay away (penetrance).
        """
        goal = self.project.goal
        return set(goal.shows) <= shown and set(goal.carries) <= self.holds(own)

    def shown(self, own: Composite) -> frozenset[str]:
        """The looks that an animal's genotypes make."""
        return frozenset(
            locus.shown.get(genotype, "")
            for mode, state in zip(self.modes, own, strict=True)
            for locus, genotype in zip(mode.loci, mode.genotypes[state], strict=True)
        )

    def holds(self, own: Composite) -> frozenset[str]:
        """The alleles of an animal."""
        return frozenset(
            allele
            for mode, state in zip(self.modes, own, strict=True)
            for genotype in mode.genotypes[state]
            for allele in genotype
        )

    def brood(self, dam: Composite, sire: Composite) -> Brood:
        """The young of a pair."""
        key = (dam, sire)
        if key not in self._broods:
            self._broods[key] = self._brood(dam, sire)
        return self._broods[key]

    def _brood(self, dam: Composite, sire: Composite) -> Brood:
        conceived: list[tuple[Composite, str, Fraction]] = [((), sex, HALF) for sex in SEXES]
        for mode, one, other in zip(self.modes, dam, sire, strict=True):
            states = self._conceived(mode, one, other)
            conceived = [
                ((*own, state), sex, chance * (2 * share if mode.has_sex else share))
                for own, sex, chance in conceived
                for state, share in states.items()
                if mode.living[state] and mode.states[state].sex in (None, Sex(sex))
            ]
        living = sum((chance for *_, chance in conceived), NONE)
        sums: dict[tuple[Composite, Seen, bool], Fraction] = {}
        for own, sex, chance in conceived:
            for looks, share in self._looks(own):
                seen = frozenset(look for look in looks if not any(self.hides(other, look) for other in looks))
                key = (own, Seen(sex, seen), self.is_goal(own, looks))
                sums[key] = sums.get(key, NONE) + chance * share / living
        return Brood(living, tuple(Young(own, seen, chance, goal) for (own, seen, goal), chance in sums.items()))

    @staticmethod
    def _conceived(mode: Mode, dam: int, sire: int) -> dict[int, Fraction]:
        numbers = {(state.first, state.second): number for number, state in enumerate(mode.states)}
        found: dict[int, Fraction] = {}
        for one, chance in gametes(mode, dam, Sex.FEMALE).items():
            for other, share in gametes(mode, sire, Sex.MALE).items():
                number = numbers[one, other] if (one, other) in numbers else numbers[other, one]
                found[number] = found.get(number, NONE) + chance * share
        return found

    def _looks(self, own: Composite) -> Iterator[tuple[frozenset[str], Fraction]]:
        """Every way in which an animal of that kind can look, with its chance; also what another look hides."""
        choices = [
            looks_of(locus, genotype).items()
            for mode, state in zip(self.modes, own, strict=True)
            for locus, genotype in zip(mode.loci, mode.genotypes[state], strict=True)
        ]
        for choice in product(*choices):
            share = ONE
            for _, part in choice:
                share *= part
            yield frozenset(look for look, _ in choice if look), share

    # Who fits.

    @cached_property
    def _makers(self) -> dict[str, set[str]]:
        """The alleles that make each look."""
        found: dict[str, set[str]] = {}
        for locus in self.species.genome.loci:
            for genotype, look in locus.shown.items():
                found.setdefault(look, set()).update(showing_alleles(locus, genotype))
        return found

    def hides(self, over: str, under: str) -> bool:
        """True when a look cannot be seen beside another one."""
        if over == under:
            return False
        alleles = {each.id: each for locus in self.species.genome.loci for each in locus.alleles}
        hiding = {over} | (self._makers[over] if len(self._makers[over]) == 1 else set())
        return any(hiding & set(alleles[maker].hidden_by) for maker in self._makers[under])

    def looks_right(self, slot: Slot, seen: Seen) -> bool:
        """True when a young looks as a holdback wants it, of whichever sex."""
        wanted = {look for look in slot.own.shows if not any(self.hides(other, look) for other in slot.own.shows)}
        return wanted == seen.looks if slot.own.only else wanted <= seen.looks
