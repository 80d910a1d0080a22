"""What a DNA test is worth before the first season: the best choice after each outcome, against the best without it.

The outcomes share out the courses by what is true in them, so that all of it is compared on common luck. What is
believed after an outcome is what the records tell with that result written down. Only choices of the first season are
searched again, in fewer courses; nothing is added for knowing by itself.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from sitegen.content.collection import Collection
from sitegen.content.genes import DnaTest
from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.genetics.dice import Dice
from sitegen.genetics.loci import Genotype
from sitegen.genetics.questions import AnimalId
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Flags, Floats
from sitegen.plans.room.kinds import WorthOfTest
from sitegen.plans.room.played import Choice
from sitegen.plans.room.search import PAIRS, Search, difference, mean
from sitegen.plans.room.worlds import worlds_of

MOST_TESTS = 6
_POOL, _SMALL, _FEWEST = 3000, 0.3, 50
"""Courses that the outcomes of a test share for their searches; the share of the usual search; fewest for one."""


@dataclass(frozen=True, slots=True, eq=False)
class Worths:
    """Works out what tests are worth.

    Attributes:
        asked, species, wishes: The evidence, the species, the wishes with the tests.
        fresh: Plays what is told.
        best: The best choice without a test.
        values: Its value in the first courses of ``fresh``; in so many each test is played.
        dice: The luck of the searches.
        effort: Share of the usual number of courses.
        step: Is told how many courses were played.
    """

    asked: Asked
    species: str
    wishes: Wishes
    fresh: Player
    best: Choice
    values: Floats
    dice: Dice
    effort: float
    step: Callable[[int], None]

    def found(self) -> tuple[WorthOfTest, ...]:
        """The tests of animals in doubt, the most worth first; empty where no price is written."""
        tests = self.wishes.tests
        if tests is None or not (wanted := self._in_doubt(tests.loci.get(self.species, ()))):
            return ()
        n = max(_FEWEST, round(_POOL * self.effort))
        pool = Player(self.asked, self.fresh.room, n, self.dice, self.fresh.worlds)
        total, found = float(sum(goal.weight for goal in self.fresh.room.goals)), []
        for animal, locus in wanted:
            worth, wrong = self._worth(pool, animal, locus)
            found.append(WorthOfTest(animal, locus, total * worth, total * wrong, Fraction(tests.price.amount)))
        return tuple(sorted(found, key=lambda each: (-each.worth, each.animal, each.locus)))

    def _in_doubt(self, loci: tuple[str, ...]) -> list[tuple[AnimalId, str]]:
        """Animals and loci to be looked at: those of the most promising pairs first, the most in doubt first."""
        room = self.fresh.room
        promising = {animal for pair in self.fresh.first_pairs(PAIRS)[0] for animal in pair}
        matter = {locus for unit in room.units for locus in self.asked.evidence.units[unit.number].loci}
        found = []
        for locus in loci:
            for at, animal in enumerate(room.ids if locus in matter else ()):
                doubt = 1 - max(self.asked.posterior(animal, locus).values(), default=1)
                if doubt:
                    found.append((at not in promising, -doubt, animal, locus))
        return [(animal, locus) for *_, animal, locus in sorted(found)[:MOST_TESTS]]

    def _worth(self, pool: Player, animal: AnimalId, locus: str) -> tuple[float, float]:
        """The value that the test adds, as a share of all weights, and its standard error."""
        n, best = len(self.values), self.best
        gain = np.zeros(n)
        for genotype, chance in self.asked.posterior(animal, locus).items():
            if not chance:
                continue
            asked = ask(gather(_with_result(self.asked, animal, locus, genotype)))
            worlds = worlds_of(asked, self.fresh.room, self.dice)
            own = _so(self.fresh, animal, locus, genotype)
            courses = np.flatnonzero(own[:n])
            found = best
            searched = np.flatnonzero(_so(pool, animal, locus, genotype))
            if len(searched) >= _FEWEST:
                found = self._best(pool.given(worlds, searched))
            if len(courses):
                informed = self.fresh.given(worlds, courses)
                result = informed.results([found], len(courses), step=self.step)[0]
                gain[courses] = result.values(self.fresh.room) - self.values[courses]
        return difference(gain, np.zeros(n))

    def _best(self, player: Player) -> Choice:
        """The best choice where the outcome is known; that without the test unless another one is clearly better."""
        search = Search(player, _SMALL * self.effort)
        search.run(self.step)
        if search.stopped:
            raise KeyboardInterrupt
        left, right = player.results([search.best[0], self.best], player.n, step=self.step)
        better = mean(left.values(player.room)) > mean(right.values(player.room))
        return search.best[0] if better else self.best


def _so(player: Player, animal: AnimalId, locus: str, genotype: Genotype) -> Flags:
    """In which courses an animal truly has a genotype."""
    room = player.room
    at = room.ids.index(animal)
    for unit, true in zip(room.units, player.true, strict=True):
        number = next((number for number, own in enumerate(unit.mode.loci) if own.id == locus), None)
        if number is not None:
            kinds = np.array([unit.mode.genotypes[int(state)][number] == genotype for state in unit.states])
            found: Flags = kinds[true[at]]
            return found
    raise KeyError(locus)


def _with_result(asked: Asked, animal: AnimalId, locus: str, genotype: Genotype) -> Collection:
    """The records with the result of a test more."""
    collection = asked.evidence.collection
    record = collection.animals[animal]
    first, *others = record.genes
    told = replace(first, tests=(*first.tests, DnaTest(locus=locus, genotypes=(genotype,), place=record.place)))
    return replace(collection, animals={**collection.animals, animal: replace(record, genes=(told, *others))})
