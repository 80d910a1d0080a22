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

from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.doubts_harms import makers, shown_looks
from sitegen.plans.room.choosing import aligned
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, Room, is_there, room_of
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
_ALL_SCREENED = 4000
"""So many courses screen all sets together; where there are many sets, each in fewer."""

Kept = tuple[AnimalId, ...]
"""Young that are kept, in order."""


def holdback(
    asked: Asked, litter: str, wishes: Wishes, as_of: dt.date, *, effort: float = 1.0, progress: Progress | None = None
) -> HoldbackPlan:
    """Which young of a born litter to keep.

    The room plays the coming seasons by the rule, with each set of young and without. A young that is recorded as kept
    stays; others are kept where they add something, up to the limit for a litter and the places that are free. One that
    was kept may be given up later for a better one. Young of unknown sex cannot be planned with and are named.

    Raises:
        SitegenError: There is no goal of the species, or its animals have no answer at a locus that matters.
    """
    animals = asked.evidence.collection.animals
    own = [each for each in sorted(animals) if animals[each].litter == litter and is_there(animals[each])]
    stays = tuple(each for each in own if animals[each].kept and animals[each].sex is not Sex.UNKNOWN)
    unsexed = tuple(each for each in own if animals[each].sex is Sex.UNKNOWN)
    young = tuple(each for each in own if each not in (*stays, *unsexed))
    found = _Sets(asked, asked.evidence.collection.litters[litter].species, wishes, as_of, young, effort, progress)
    room = found.bare
    most = max(0, room.keep - len(stays))
    free = None if room.places is None else max(0, room.places - len(room.beasts))
    kept = found.what_adds(found.best(min(most, len(young) if free is None else free)))
    ranked = [found.ranked(each, kept, keep=True) for each in kept]
    ranked += [found.ranked(each, kept, keep=False) for each in young if each not in kept]
    undecided = Counter(
        each.litter
        for at, each in sorted(animals.items())
        if each.is_young and each.litter != litter and at in room.ids and not (each.kept or each.offer)
    )
    return HoldbackPlan(
        found.species, litter, tuple(sorted(ranked, key=lambda each: (not each.keep, -each.gain, each.animal))),
        found.as_good(kept), found.n, found.total, unsexed=unsexed, stays=stays, undecided=undecided, free=free,
    )  # fmt: skip


class _Sets:
    """Sets of young and what each is worth."""

    def __init__(
        self, asked: Asked, species: str, wishes: Wishes, as_of: dt.date, young: Kept, effort: float,
        progress: Progress | None,
    ) -> None:  # fmt: skip
        self.asked, self.species, self.wishes, self.as_of, self.young = asked, species, wishes, as_of, young
        self.effort, self.progress, self.animals = effort, progress, asked.evidence.collection.animals
        self.n = self._n(COURSES)
        self.total = float(sum(goal.weight for goal in wishes.goals if goal.species == species))
        self._done: dict[tuple[Kept, int, Choice], Result] = {}
        self._choices: dict[Kept, Choice] = {}
        self._courses = 0
        self._finals: list[Kept] = []
        self._kinship = Kinship(members_with_sires(asked, species))
        whole = self.room(young)
        kinds: dict[object, list[AnimalId]] = {}
        for each in young:
            kinds.setdefault(self._kind(each, whole), []).append(each)
        self.kinds = list(kinds.values())
        self._grown = {each.animal for each in whole.beasts if each.ready <= whole.seasons[0]}
        self.bare = self.room(())
        search = Search(Player(asked, self.bare, self.n, Dice(SEARCHING)), SEARCHED * effort)
        search.run(self._step)
        self.usual = [aligned(each, search.best[0]) for each in search.best]

    def _n(self, n: int) -> int:
        return max(20, round(n * self.effort))

    def room(self, kept: Kept) -> Room:
        """The room with some of the young, which may be given up for better ones later."""
        absent = frozenset(self.young) - set(kept)
        return replace(room_of(self.asked, self.species, self.wishes, self.as_of, absent, kept), spare=len(kept))

    def _kind(self, animal: AnimalId, room: Room) -> object:
        """What makes littermates exchangeable: sex, when it may be paired, looks, and what is believed of its genes."""
        beast = room.beasts[room.ids.index(animal)]
        looks = frozenset(shown_looks(self.animals[animal]))
        loci = [locus.id for unit in room.units for locus in unit.mode.loci]
        odds = [frozenset(self.asked.posterior(animal, locus).items()) for locus in loci]
        return beast.sex, beast.ready, looks, tuple(odds)

    # Courses.

    def played(self, kept: Kept, n: int, luck: int = TELLING, choice: Choice | None = None) -> Result:
        """What comes of the first ``n`` courses, or more, with the set's own choice for the first season."""
        choice = self.choice(kept) if choice is None else choice
        found = self._done.get((kept, luck, choice))
        if found is None or found.held.shape[1] < n:
            found = self._done[kept, luck, choice] = self._player(kept, luck).results([choice], n)[0]
            self._step(n)
        return found

    def values(self, kept: Kept, n: int, luck: int = TELLING, choice: Choice | None = None) -> Floats:
        """The value of each of the first ``n`` courses."""
        return self.played(kept, n, luck, choice).values(self.bare)[:n]

    def choice(self, kept: Kept) -> Choice:
        """The best choice for the first season with a set: of those that are best with no young, and the rule's own."""
        if kept not in self._choices:
            own = aligned(self._player(kept, SEARCHING).own_choice(), self.usual[0])
            n = min(self._n(SCREENED), self.n)
            choices = list(dict.fromkeys((*self.usual, own)))
            best = first_unless_better([self.values(kept, n, SEARCHING, each) for each in choices])
            self._choices[kept] = choices[best]
        return self._choices[kept]

    def _player(self, kept: Kept, luck: int) -> Player:
        return Player(self.asked, self.room(kept), self.n, Dice(luck))

    def _step(self, courses: int) -> None:
        self._courses += courses
        if self.progress:
            self.progress(self._courses / (self._courses + 5 * self.n))

    # Sets.

    def grown(self, kept: Kept) -> list[Kept]:
        """The sets with one young more, of each kind the first that is left."""
        more = (next((each for each in kind if each not in kept), None) for kind in self.kinds)
        return [tuple(sorted((*kept, each))) for each in more if each]

    def best(self, most: int) -> Kept:
        """The best set of at most so many."""
        sets: list[Kept] = [()]
        if most:
            sets += self.grown(())
        if most > 1:
            sets += [pair for one in sets[1:] for pair in self.grown(one)]
        sets = list(dict.fromkeys(sets))
        n = min(self._n(SCREENED), max(20, _ALL_SCREENED // len(sets)), self.n)

        def about(kept: Kept) -> float:
            """With the choice that is best with no young, as long as these could not be paired now anyway."""
            choice = None if self._grown.intersection(kept) else self.usual[0]
            return mean(self.values(kept, n, SEARCHING, choice))

        left = sorted(sets, key=lambda each: (-about(each), len(each), each))[:N_SECOND]
        for size in range(2, most):
            begun = [each for each in self._best_of(left, self._n(SECOND), len(left)) if len(each) == size]
            left += list(dict.fromkeys(larger for each in begun[:2] for larger in self.grown(each)))
        left = self._best_of(left, self._n(SECOND), N_THIRD)
        self._finals = self._best_of(left, self._n(THIRD), N_THIRD)
        return self._finals[0]

    def _best_of(self, sets: Sequence[Kept], n: int, keep: int) -> list[Kept]:
        """The best; of those that are alike the smaller first."""
        n = min(n, self.n)
        return sorted(sets, key=lambda each: (-mean(self.values(each, n, SEARCHING)), len(each), each))[:keep]

    def what_adds(self, kept: Kept) -> Kept:
        """The set without young that add nothing to the others of it, the least first."""
        while kept:
            gain, wrong, least = min(
                (*difference(self.values(kept, self.n), self.values(self.without(kept, each), self.n)), each)
                for each in kept
            )
            if gain > max(2 * wrong, 0.0):
                break
            kept = self.without(kept, least)
        return kept

    def without(self, kept: Kept, animal: AnimalId) -> Kept:
        """The set without one; of its kind the last one goes, which is as good as any."""
        alike = next(kind for kind in self.kinds if animal in kind)
        last = [each for each in alike if each in kept][-1]
        return tuple(each for each in kept if each != last)

    def as_good(self, kept: Kept) -> dict[AnimalId, AnimalId]:
        """Young that could be kept in place of one of those to keep at a cost below 0.01 of the weights."""
        found = {}
        for kind in self.kinds:
            own = [each for each in kind if each in kept]
            found.update({other: own[-1] for other in kind if own and other not in kept})
        for final in self._finals:
            more, less = set(final) - set(kept), set(kept) - set(final)
            if len(more) == len(less) == 1:
                lost, _ = difference(self.values(kept, self.n), self.values(final, self.n))
                if lost < AS_GOOD:
                    kind = next(kind for kind in self.kinds if more <= set(kind))
                    found.update({other: min(less) for other in kind if other not in kept})
        return dict(sorted(found.items()))

    # What is told of one.

    def ranked(self, animal: AnimalId, kept: Kept, *, keep: bool) -> RankedYoung:
        """What is lost without a young that is kept, or gained with another beside them; and what it may carry."""
        room = self.bare
        if keep:
            result, against, n = self.played(kept, self.n), self.played(self.without(kept, animal), self.n), self.n
        else:
            n = min(self._n(BESIDE), self.n)
            first = next(each for each in next(kind for kind in self.kinds if animal in kind) if each not in kept)
            result = self.played(tuple(sorted((*kept, first))), n, choice=self.choice(kept))
            against = self.played(kept, n)
        gain, wrong = difference(result.values(room)[:n], against.values(room)[:n])
        sex = self.animals[animal].sex
        related = [self._kinship.pair(animal, each.animal) for each in room.beasts if SEXES[each.sex] is not sex]
        return RankedYoung(
            animal, keep, self.total * gain, self.total * wrong, by_goal(room, result, against, n),
            self._carried(animal, room), sum(related, Fraction(0)) / len(related) if related else None,
        )  # fmt: skip

    def _carried(self, animal: AnimalId, room: Room) -> dict[str, float]:
        """Alleles of goals that cannot be seen on it, with the chance that it carries them."""
        loci = self.asked.evidence.collection.species[self.species].genome.loci
        wanted = {allele for want in room.wants for allele in want.carries}
        looks = {look for want in room.wants for look in (*want.seen, *want.hidden)}
        shown, found = shown_looks(self.animals[animal]), {}
        for locus in loci:
            seen = {allele for look in shown for allele in makers(locus, look)}
            sought = wanted.union(*(makers(locus, look) for look in looks)) - seen
            for allele in (own.id for own in locus.alleles if own.id in sought):
                odds = self.asked.posterior(animal, locus.id)
                if chance := sum((own for genotype, own in odds.items() if allele in genotype), Fraction(0)):
                    found[allele] = float(chance)
        return found
