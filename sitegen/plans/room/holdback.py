"""Which young of a born litter to keep, over all goals.

Littermates that look alike, and of which the same is believed, are of one *kind* and exchangeable, so that a set of
young is a number of each kind. Two may help only together (a brother and a sister, where no mate is there), so all
pairs are looked at; larger sets grow from the best. What is told comes from courses that chose nothing, and there
every young that is kept must add something to the others: none is kept for nothing.
"""

import datetime as dt
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cached_property

from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.doubts_harms import makers, shown_looks
from sitegen.plans.readiness import is_ours
from sitegen.plans.room.choosing import aligned
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, Room, room_of
from sitegen.plans.room.kinds import AS_GOOD, HoldbackPlan, RankedYoung
from sitegen.plans.room.plan import SEARCHING, TELLING, Progress
from sitegen.plans.room.played import Choice, Result
from sitegen.plans.room.search import Search, by_goal, difference, first_unless_better, mean

COURSES = 1000
"""Courses that are played for what is told."""
SCREENED, SECOND, THIRD, BESIDE = 80, 200, 600, 300
"""Courses in which sets are screened, looked at again and chosen from; and those for a young that is not kept."""
N_SECOND, N_THIRD = 10, 4
SEARCHED = 0.2
"""The share of the usual courses in which the first season's pairings are searched with none of the young."""

Kept = tuple[AnimalId, ...]
"""Young that are kept, in order."""


def holdback(
    asked: Asked, litter: str, wishes: Wishes, as_of: dt.date, *, progress: Progress | None = None
) -> HoldbackPlan:
    """Which young of a born litter to keep.

    The room plays the coming seasons by the rule, with each set of young and without. A young that is recorded as kept
    stays; others are kept where they add something, up to the limit for a litter and the places that are free. One that
    was kept may be given up later for a better one. Young of unknown sex cannot be planned with and are named.

    Raises:
        SitegenError: There is no goal of the species, or its animals have no answer at a locus that matters.
    """
    animals, species = asked.evidence.collection.animals, asked.evidence.collection.litters[litter].species
    own = [each for each in sorted(animals) if animals[each].litter == litter and is_ours(animals[each])]
    unsexed = tuple(each for each in own if animals[each].sex is Sex.UNKNOWN)
    stays = tuple(each for each in own if animals[each].kept and each not in unsexed)
    young = tuple(each for each in own if each not in (*stays, *unsexed))
    found = _Sets(asked, species, wishes, as_of, young, progress)
    room = found.bare
    free = None if room.places is None else max(0, room.places - len(room.beasts))
    most = min(max(0, room.keep - len(stays)), len(young) if free is None else free)
    kept = found.what_adds(found.best(most)) if young else ()
    undecided = Counter(
        each.litter
        for each in (animals[own] for own in room.ids)
        if each.is_young and each.litter != litter and not each.kept and not each.offer
    )
    return HoldbackPlan(
        species, litter, tuple(sorted((found.ranked(each, kept) for each in young), key=_most_first)),
        found.as_good(kept), COURSES, found.total, unsexed, stays, undecided, free,
    )  # fmt: skip


def _most_first(young: RankedYoung) -> tuple[bool, float, AnimalId]:
    return not young.keep, -young.gain, young.animal


class _Sets:
    """Sets of young and what each is worth."""

    def __init__(
        self, asked: Asked, species: str, wishes: Wishes, as_of: dt.date, young: Kept, progress: Progress | None
    ) -> None:
        self.asked, self.species, self.wishes, self.as_of, self.young = asked, species, wishes, as_of, young
        self.progress, self.animals = progress, asked.evidence.collection.animals
        self._done: dict[tuple[Kept, int, Choice], Result] = {}
        self._choices: dict[Kept, Choice] = {}
        self._courses = 0
        whole, self.bare = self.room(young), self.room(())
        self.total = float(sum(goal.weight for goal in whole.goals))
        self.grown_up = {each.animal for each in whole.beasts if each.ready <= whole.seasons[0]}
        kinds: dict[object, list[AnimalId]] = {}
        for each in young:
            kinds.setdefault(self._kind(each, whole), []).append(each)
        self.kind_of = {each: kind for kind in kinds.values() for each in kind}
        self.finals: list[Kept] = []

    @cached_property
    def usual(self) -> list[Choice]:
        """The best choices for the first season with none of the young, by a small search."""
        search = Search(self._player((), SEARCHING), SEARCHED)
        search.run(self._step)
        return [aligned(each, search.best[0]) for each in search.best]

    def room(self, kept: Kept) -> Room:
        """The room with some of the young, which may be given up for better ones later."""
        absent = frozenset(self.young) - set(kept)
        return replace(room_of(self.asked, self.species, self.wishes, self.as_of, absent, kept), spare=len(kept))

    def _kind(self, animal: AnimalId, room: Room) -> object:
        """What makes littermates exchangeable: sex, when it may be paired, looks, and what is believed of its genes."""
        beast, looks = room.beasts[room.ids.index(animal)], frozenset(shown_looks(self.animals[animal]))
        loci = [locus.id for unit in room.units for locus in unit.mode.loci]
        odds = tuple(frozenset(self.asked.posterior(animal, locus).items()) for locus in loci)
        return beast.sex, beast.ready, looks, odds

    # Courses.

    def played(self, kept: Kept, n: int, luck: int = TELLING, choice: Choice | None = None) -> Result:
        """What comes of the first ``n`` courses, or more, with the set's own choice for the first season."""
        key = kept, luck, self.choice(kept) if choice is None else choice
        if key not in self._done or self._done[key].held.shape[1] < n:
            self._done[key] = self._player(kept, luck).results([key[2]], n)[0]
            self._step(n)
        return self._done[key]

    def values(self, kept: Kept, n: int, luck: int = TELLING, choice: Choice | None = None) -> Floats:
        """The value of each of the first ``n`` courses."""
        return self.played(kept, n, luck, choice).values(self.bare)[:n]

    def choice(self, kept: Kept) -> Choice:
        """The best choice for the first season with a set: of those that are best with no young, and the rule's own."""
        if kept not in self._choices:
            own = aligned(self._player(kept, SEARCHING).own_choice(), self.usual[0])
            choices = list(dict.fromkeys((*self.usual, own)))
            best = first_unless_better([self.values(kept, SCREENED, SEARCHING, each) for each in choices])
            self._choices[kept] = choices[best]
        return self._choices[kept]

    def _player(self, kept: Kept, luck: int) -> Player:
        return Player(self.asked, self.room(kept), COURSES, Dice(luck))

    def _step(self, courses: int) -> None:
        self._courses += courses
        if self.progress:
            self.progress(self._courses / (self._courses + 5 * COURSES))

    # Sets.

    def grown(self, kept: Kept) -> list[Kept]:
        """The sets with one young more, of each kind the first that is left."""
        firsts = {min(set(kind) - set(kept), default="") for kind in self.kind_of.values()} - {""}
        return [tuple(sorted((*kept, each))) for each in sorted(firsts)]

    def best(self, most: int) -> Kept:
        """The best set of at most so many."""
        sets: list[Kept] = [()]
        begun = sets
        for size in range(most):
            begun = list(dict.fromkeys(larger for each in begun for larger in self.grown(each)))
            sets = [*sets, *begun]
            if size:  # all pairs are there; from here on the best two grow
                begun = self._best_of(begun, 2, SCREENED)
        for courses, keep in ((SCREENED, N_SECOND), (SECOND, N_THIRD), (THIRD, N_THIRD)):
            sets = self._best_of(sets, keep, courses)
        self.finals = sets
        return sets[0]

    def _best_of(self, sets: Sequence[Kept], keep: int, n: int) -> list[Kept]:
        """The best; of those that are alike the smaller first."""

        def order(kept: Kept) -> tuple[float, int, Kept]:
            early = n == SCREENED and not self.grown_up.intersection(kept)
            return -mean(self.values(kept, n, SEARCHING, self.usual[0] if early else None)), len(kept), kept

        return sorted(sets, key=order)[:keep]

    def what_adds(self, kept: Kept) -> Kept:
        """The set without young that add nothing to the others of it, the least first."""
        while kept:
            gain, wrong, least = min((*self._lost(kept, self.without(kept, each)), each) for each in kept)
            if gain > max(2 * wrong, 0.0):
                break
            kept = self.without(kept, least)
        return kept

    def _lost(self, kept: Kept, other: Kept) -> tuple[float, float]:
        return difference(self.values(kept, COURSES), self.values(other, COURSES))

    def without(self, kept: Kept, animal: AnimalId) -> Kept:
        """The set without one; of its kind the last one goes, which is as good as any."""
        last = max(set(kept).intersection(self.kind_of[animal]))
        return tuple(each for each in kept if each != last)

    def as_good(self, kept: Kept) -> dict[AnimalId, AnimalId]:
        """Young that could be kept in place of one of those to keep at a cost below 0.01 of the weights."""
        found = {other: own for own in kept for other in self.kind_of[own]}
        for final in self.finals:
            more, less = set(final) - set(kept), set(kept) - set(final)
            if len(more) == len(less) == 1 and self._lost(kept, final)[0] < AS_GOOD:
                found.update(dict.fromkeys(self.kind_of[more.pop()], less.pop()))
        return {other: own for other, own in sorted(found.items()) if other not in kept}

    # What is told of one.

    def ranked(self, animal: AnimalId, kept: Kept) -> RankedYoung:
        """What is lost without a young that is kept, or gained with another beside them; and what it may carry."""
        if keep := animal in kept:
            n, more, less = COURSES, kept, self.without(kept, animal)
            with_it = self.played(more, n)
        else:
            n, more, less = BESIDE, (*kept, min(set(self.kind_of[animal]) - set(kept))), kept
            with_it = self.played(tuple(sorted(more)), n, choice=self.choice(kept))
        room, without_it = self.bare, self.played(less, n)
        gain, wrong = difference(with_it.values(room)[:n], without_it.values(room)[:n])
        kin = Kinship(members_with_sires(self.asked, self.species))
        mates = [each.animal for each in room.beasts if SEXES[each.sex] is not self.animals[animal].sex]
        related = sum((kin.pair(animal, each) for each in mates), Fraction(0))
        return RankedYoung(
            animal, keep, self.total * gain, self.total * wrong, by_goal(room, with_it, without_it, n),
            self._carried(animal, room), related / len(mates) if mates else None,
        )  # fmt: skip

    def _carried(self, animal: AnimalId, room: Room) -> dict[str, float]:
        """Alleles of goals that cannot be seen on it, with the chance that it carries them."""
        looks = {look for want in room.wants for look in (*want.seen, *want.hidden)}
        shown, found = shown_looks(self.animals[animal]), {}
        for locus in self.asked.evidence.collection.species[self.species].genome.loci:
            seen, wanted = ({each for look in own for each in makers(locus, look)} for own in (shown, looks))
            wanted.update(allele for want in room.wants for allele in want.carries)
            for allele in (each.id for each in locus.alleles if each.id in wanted - seen):
                odds = self.asked.posterior(animal, locus.id)
                if chance := sum((own for genotype, own in odds.items() if allele in genotype), Fraction(0)):
                    found[allele] = float(chance)
        return found
