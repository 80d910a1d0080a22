"""The exact optimum of a room from its records: plans-reference's decision problem for a few animals.

Written from the rules alone, without any module of ``sitegen.plans``; what is believed at the start
and what a pair gives come from inference, which has its own slow truth.
"""

import datetime as dt
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from helpers.exact_game import Solver
from helpers.exact_kinds import FEMALE, MALE, Aim, Choice, Game, Genes, Starter
from sitegen.content.animals import Animal
from sitegen.content.breeding_years import breeding_year
from sitegen.content.prices import OfferState
from sitegen.content.projects import Goal
from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.gametes import Mode
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.observations import looks_of, showing_alleles
from sitegen.genetics.questions import Impossible, TooTangled
from sitegen.plans.readiness import readiness

HALF = Fraction(1, 2)
SEXES = (Sex.FEMALE, Sex.MALE)


@dataclass(frozen=True)
class Wished:
    """A goal as in ``content/plan.yaml``; for rooms that no file holds."""

    id: str
    species: str
    goal: Goal
    count: int = 1
    weight: Fraction = Fraction(1)


@dataclass(frozen=True)
class Wishing:
    """What the solver reads of ``content/plan.yaml``, for rooms that no file holds."""

    season: int | None
    last: int | None
    goals: tuple[Wished, ...]
    litters: int | None = None
    keep: int | None = None
    places: int | None = None
    places_by_species: Mapping[str, int] = field(default_factory=dict)
    sooner: bool = False
    without: tuple[str, ...] = ()
    relatedness: Fraction | None = None


@dataclass(frozen=True)
class ExactRoom:
    """The optimum.

    Attributes:
        best: The value of the best rule.
        value_of: Every first-season choice to the best that can follow it.
        weights: Sum of the goals' weights.
        work: Worlds that were gone through.
    """

    best: Fraction
    value_of: Mapping[Choice, Fraction]
    weights: Fraction
    work: int

    def loss(self, choice: Choice) -> Fraction:
        """What is lost by a first-season choice, as a share of all weights."""
        return (self.best - self.value_of[choice]) / self.weights


def exact(asked: Asked, species: str, wishes: Wishing | Wishes, as_of: dt.date, most: int = 10**9) -> ExactRoom:
    """The exact optimum.

    Raises:
        TooLargeError: More than ``most`` worlds are to be gone through.
    """
    solver = Solver(game_of(asked, species, wishes, as_of), most=most)
    found = solver.first()
    weights = sum((own.weight for own in wishes.goals), Fraction(0))
    return ExactRoom(max(found.values()), found, weights, solver.work)


def game_of(asked: Asked, species: str, wishes: Wishing | Wishes, as_of: dt.date) -> Game:
    """A room in plain numbers."""
    return _Reader(asked, species, wishes, as_of).game()


class _Reader:
    def __init__(self, asked: Asked, species: str, wishes: Wishing | Wishes, as_of: dt.date) -> None:
        self.asked, self.wishes = asked, wishes
        self.collection = asked.evidence.collection
        self.kind = self.collection.species[species]
        self.genome = self.kind.genome
        self.year = breeding_year(self.collection, self.kind)
        self.as_of = as_of
        self.first = max(wishes.season or 0, self.year.next_open(as_of))
        self.last = wishes.last if wishes.last is not None else self.first
        self.goals = [own.goal for own in wishes.goals if own.species == species]
        matter = _loci_that_matter(self.genome, self.goals)
        self.units = [
            (number, unit)
            for number, unit in enumerate(asked.evidence.units)
            if unit.species == species and matter.intersection(unit.loci)
        ]
        self.modes: list[Mode] = [asked.heredity[number].mode for number, _ in self.units]
        assert all(each.penetrance == 1 for mode in self.modes for at in mode.loci for each in at.alleles)
        assert self.kind.litters_a_year == 1

    def game(self) -> Game:
        wishes, kind = self.wishes, self.kind
        animals = [each for each in self.collection.animals.values() if self._is_there(each)]
        start = tuple(self._starter(each) for each in animals)
        places = wishes.places_by_species.get(kind.id, wishes.places)
        kinship: tuple[tuple[Fraction, ...], ...] = ()
        if wishes.relatedness is not None:
            kin = Kinship(members_with_sires(self.asked, kind.id))
            kinship = tuple(tuple(kin.pair(a.id, b.id) for b in animals) for a in animals)
        n = self.last - self.first + 1
        shares = [Fraction(n - t, n * (n + 1) // 2) if wishes.sooner else Fraction(int(t == n - 1)) for t in range(n)]
        aims = tuple(Aim(own.id, own.count, tuple(own.weight * share for share in shares)) for own in wishes.goals)
        sizes = kind.litter_size
        born = self.year.birthday(self.first)
        grown = [self.year.first_season(born, kind.breeding_age_months.get(sex, 0)) - self.first for sex in SEXES]
        return Game(
            seasons=n, start=start, worlds=self._worlds(animals), young=self.young, look=self.look,
            is_aim=self.is_aim, aims=aims, sizes=litter_sizes(sizes.low, sizes.usual, sizes.high),
            grown=(grown[0], grown[1]), takes=kind.takes, rest=kind.rest, rest_after_failure=kind.rest_after_failure,
            litters=wishes.litters, keep=wishes.keep, places=places, kinship=kinship, relatedness=wishes.relatedness,
            off=frozenset(wishes.without),
        )  # fmt: skip

    def _is_there(self, animal: Animal) -> bool:
        gone = animal.died or (animal.offer is not None and animal.offer.state is not OfferState.NOT_FOR_SALE)
        return animal.species == self.kind.id and not gone and animal.sex is not Sex.UNKNOWN

    def _starter(self, animal: Animal) -> Starter:
        ready = readiness(self.collection, self.year, animal, animal.sex, self.first, self.as_of).first
        return Starter(animal.id, FEMALE if animal.sex is Sex.FEMALE else MALE, max(0, ready - self.first))

    def _worlds(self, animals: list[Animal]) -> dict[tuple[Genes, ...], Fraction]:
        """The joint posterior of all animals; loci of different units are independent where no sire is in doubt."""
        names = [each.id for each in animals]
        parts = []
        for number, _ in self.units:
            states = self.asked.heredity[number].states(names)
            if isinstance(states, Impossible | TooTangled):
                raise TypeError(f"no answer to these records: {states}")
            parts.append(states.items())
        found: dict[tuple[Genes, ...], Fraction] = {}
        for chosen in product(*parts):
            chance = Fraction(1)
            for _, share in chosen:
                chance *= share
            key = tuple(zip(*(own for own, _ in chosen), strict=True))
            found[key] = found.get(key, Fraction(0)) + chance
        return found

    def young(self, dam: Genes, sire: Genes) -> dict[tuple[int, Genes], Fraction]:
        """One young: (sex, states) to the chance; what is not born alive is left out."""
        found: dict[tuple[int, Genes], Fraction] = {}
        for rank, sex in enumerate(SEXES):
            per_unit = []
            for place, (number, _) in enumerate(self.units):
                mode = self.modes[place]
                own = self.asked.transmissions[number].conceived(dam[place], sire[place])  # type: ignore[index]
                fitting = {s: c for s, c in own.items() if mode.states[s].sex in (None, sex)}
                total = sum(fitting.values(), Fraction(0))
                per_unit.append([(s, c / total) for s, c in fitting.items() if mode.living[s]])
            for chosen in product(*per_unit):
                chance = HALF
                for _, share in chosen:
                    chance *= share
                key = (rank, tuple(state for state, _ in chosen))
                found[key] = found.get(key, Fraction(0)) + chance
        return found

    def _true_looks(self, genes: Genes) -> frozenset[str]:
        found = set()
        for mode, state in zip(self.modes, genes, strict=True):  # type: ignore[call-overload]
            for locus, genotype in zip(mode.loci, mode.genotypes[state], strict=True):
                found |= {look for look, chance in looks_of(locus, genotype).items() if look and chance == 1}
        return frozenset(found)

    def look(self, sex: int, genes: Genes) -> Hashable:
        """The looks that an eye can see."""
        looks = self._true_looks(genes)
        return tuple(sorted(look for look in looks if not any(_hides(self.genome, over, look) for over in looks)))

    def is_aim(self, genes: Genes) -> tuple[bool, ...]:
        """For each goal whether an animal truly is it."""
        looks = self._true_looks(genes)
        held = {
            allele
            for mode, state in zip(self.modes, genes, strict=True)  # type: ignore[call-overload]
            for genotype in mode.genotypes[state]
            for allele in genotype
        }
        return tuple(looks.issuperset(goal.shows) and held.issuperset(goal.carries) for goal in self.goals)


def _makers(genome: Genome, look: str) -> set[str]:
    """The alleles that make a look."""
    locus = genome.locus(genome.look(look).locus)
    return {a for genotype, own in locus.shown.items() if own == look for a in showing_alleles(locus, genotype)}


def _hides(genome: Genome, over: str, under: str) -> bool:
    """True when a look cannot be judged on an animal that shows another; a gene that hides does so in all its looks."""
    if over == under:
        return False
    locus = genome.locus(genome.look(under).locus)
    makers = _makers(genome, over)
    over_ids = {over} | (makers if len(makers) == 1 else set())
    return any(over_ids.intersection(locus.allele(each).hidden_by) for each in _makers(genome, under))


def _loci_that_matter(genome: Genome, goals: list[Goal]) -> set[str]:
    """The loci of goals and what hides them."""
    found = {genome.look(look).locus for goal in goals for look in goal.shows}
    found |= {at.id for at in genome.loci for each in at.alleles for goal in goals if each.id in goal.carries}
    while True:
        looks = [look.id for locus in genome.loci for look in locus.looks]
        own = [look for look in looks if genome.look(look).locus in found]
        more = {genome.look(over).locus for over in looks for look in own if _hides(genome, over, look)} - found
        if not more:
            return found
        found |= more
