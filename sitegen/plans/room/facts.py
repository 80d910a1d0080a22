"""A room as the search sees it: its animals, its limits, its goals, and tables of whole-ness at each group of loci.

At a group of loci (a *unit*) an animal is of a *type*: its state and the looks that it shows there. Types are counted
from 0 here. What the eye tells of a young at a unit is a *code*.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from sitegen.content.breeding_years import BreedingYear, breeding_year
from sitegen.content.collection import Collection
from sitegen.content.projects import Goal
from sitegen.content.species import Species
from sitegen.content.wishes import WishedGoal, Wishes
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.findings import SitegenError
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Words
from sitegen.genetics.gametes import Mode
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.genetics.transmission import Transmission
from sitegen.plans.readiness import is_ours, readiness
from sitegen.plans.roads.nursery import Group, hidden_between
from sitegen.plans.roads.wants import Want, fits, hides, looks_together, own_loci, units_that_matter, want_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

FINE = 2.0**20
"""Chances in tables are multiples of its inverse, so that their sums are exact and the same on every machine."""


def powers(base: Floats, n: int) -> Floats:
    """A whole power by multiplication: the same on every machine."""
    found = np.ones_like(base)
    for _ in range(n):
        found = found * base
    return found


def rounded(values: Floats, steps: float = FINE) -> Floats:
    """Multiples of ``1 / steps``."""
    found: Floats = np.rint(values * steps) / steps
    return found


@dataclass(frozen=True, slots=True)
class Beast:
    """An animal of the start.

    Attributes:
        animal: Its id.
        sex: 0 or 1, as in :data:`SEXES`.
        ready: The first season in which it may be paired.
    """

    animal: AnimalId
    sex: int
    ready: int


class Unit:
    """The tables of one group of loci.

    Attributes:
        number: Its place among the units of the evidence.
        group: Its young in truth.
        n_types, n_codes: How many.
        young: (type of dam, of sire, type) to the chance among living young, both sexes together.
        code_young: (code, dam, sire, type): the same for young that look so.
        code_young_of: The same, (code, type, dam and sire).
        looks: (dam, sire, code): chance that a living young looks so.
        repeated: The powers of it, (number of young, dam, sire, code).
        good: For each goal the types that leave it possible; None where the unit does not bear on it.
        gives, can: For each such goal (dam, sire) to the share of their young that are good, and whether it is above 0.
        nearness: For each such goal how near a type is to it, 0 to 1.
        unseen: For each goal whether a look leaves open if a type is good.
        best: For each such goal the code that is nearest to it; -1 where all look alike.
    """

    def __init__(
        self, number: int, transmission: Transmission, wants: Sequence[Want], genome: Genome, most: int
    ) -> None:
        self.number = number
        self.mode: Mode = transmission.mode
        self.group = Group(transmission, wants[0], (), genome)
        types = self.group.types
        n = self.n_types = len(types)
        self.states = np.array([state for state, _ in types])
        self.n_codes = int(self.group.look[1:].max()) + 1
        self.compatible = np.zeros((self.n_codes, n), np.bool_)
        for kind, looks in enumerate(self.group.look[1:]):
            self.compatible[looks, kind] = True
        self.young = np.zeros((n, n, n))
        self._fill(transmission)
        self.looks = rounded(self.young @ self.compatible.T.astype(float))
        self.repeated = np.stack([powers(self.looks, k) for k in range(most + 1)])
        self.code_young = self.young[None] * self.compatible[:, None, None, :]
        self.code_young_of = self.code_young.reshape(self.n_codes, n * n, n).swapaxes(1, 2).copy()
        self.good: list[NDArray[np.bool_] | None] = []
        self.gives: list[Floats] = []
        self.can: list[Floats] = []
        self.nearness: list[Floats] = []
        self.unseen: list[bool] = []
        self.best: list[int] = []
        self.looks_so: list[Floats] = []
        for want in wants:
            self._goal(want)

    def drawn(self, dams: Ints, sires: Ints, sexes: NDArray[np.int8], parents: Ints, words: Words) -> Ints:
        """Types of young from 1 on, 0 for one that does not live; see :meth:`Group.draw`."""
        return self.group.draw(dams, sires, sexes, parents, lambda: words).astype(np.int64)

    def _fill(self, transmission: Transmission) -> None:
        """Chances of types, those of the other sex's states with 1/2 each where sex is part of the state."""
        group, mode = self.group, self.mode
        kinds = {state: [(at, looks) for at, (own, looks) in enumerate(group.types) if own == state]
                 for state in {own for own, _ in group.types}}  # fmt: skip
        parts = [float(looks_together(mode, state)[looks]) for state, looks in group.types]
        of_sex = [{number for number, state in enumerate(mode.states) if state.sex in (None, sex)} for sex in SEXES]
        for dam, (dam_state, _) in enumerate(group.types):
            for sire, (sire_state, _) in enumerate(group.types):
                if Sex.MALE is mode.states[dam_state].sex or Sex.FEMALE is mode.states[sire_state].sex:
                    continue
                conceived = transmission.conceived(dam_state, sire_state)
                for own in of_sex:
                    living = {s: c for s, c in conceived.items() if s in own and mode.living[s]}
                    total = sum(living.values(), Fraction(0))
                    for state, chance in living.items():
                        for at, _ in kinds[state]:
                            self.young[dam, sire, at] += float(chance / total) / 2 * parts[at]
        self.young = rounded(self.young)

    def _goal(self, want: Want) -> None:
        good = np.array([fits(self.mode, *each, want, truly=True) for each in self.group.types])
        self.looks_so.append(np.zeros((0, 0)))
        self.unseen.append(bool(((self.compatible @ good) & (self.compatible @ ~good)).any()))
        if good.all():
            self.good.append(None)
            empty = np.zeros((0, 0))
            for table in (self.gives, self.can, self.nearness):
                table.append(empty)
            self.best.append(-1)
            return
        gives = rounded(self.young @ good.astype(float))
        own = np.diagonal(gives)
        nearness = rounded((gives.max(axis=1) + gives.max(axis=0) + 2 * own) / 4)
        self.good.append(good)
        self.gives.append(gives)
        self.can.append((gives > 0).astype(float))
        self.nearness.append(nearness)
        means = [(nearness * own).sum() / own.sum() for own in self.compatible.astype(float)]
        best = int(np.argmax(np.round(means, 9)))
        self.best.append(best if np.ptp(means) > 0 else -1)
        self.looks_so[-1] = rounded(self.looks[:, :, best])


@dataclass(frozen=True, slots=True, eq=False)
class Room:
    """Everything that the search needs of a room.

    Attributes:
        seasons: First to last.
        beasts: The animals of the start.
        goals: What is wanted.
        weights: Of each goal; their sum is 1.
        counts: How many animals of each goal.
        shares: For each season how much owning a goal then counts; sums to 1.
        units: The groups of loci that bear on a goal.
        bearing: For each goal the places of its units.
        hidden: (unit, other unit) to which looks of the first each type of the other hides, as bits.
        sizes: Number of young to its chance.
        grown: Seasons from birth until a young of each sex may be paired.
        litters, keep, places: Limits; ``places`` is None without one.
        kinship: Of the animals of the start, in their order; None where relatedness is not limited.
        relatedness: Highest kinship of a pair.
        off: Places of the animals that are not paired in the first season.
        spare: So many of the last animals are young that were kept, and may be given up for better ones.
    """

    seasons: range
    beasts: tuple[Beast, ...]
    goals: tuple[WishedGoal, ...]
    wants: tuple[Want, ...]
    weights: tuple[float, ...]
    counts: tuple[int, ...]
    shares: tuple[float, ...]
    units: tuple[Unit, ...]
    bearing: tuple[tuple[int, ...], ...]
    hidden: Mapping[tuple[int, int], Ints]
    sizes: Mapping[int, Fraction]
    takes: Fraction
    rest: int
    rest_after_failure: int
    grown: tuple[int, int]
    litters: int
    keep: int
    places: int | None
    kinship: Floats | None
    relatedness: float
    off: frozenset[int]
    spare: int = 0

    @property
    def ids(self) -> tuple[AnimalId, ...]:
        """The animals of the start."""
        return tuple(each.animal for each in self.beasts)

    @property
    def most(self) -> int:
        """The largest litter."""
        return max(self.sizes)


MOST_KEPT, MOST_LITTERS = 3, 8
"""Young kept of a litter, and pairings of a season, where the keeper sets no limit."""


def room_of(
    asked: Asked, species_id: str, wishes: Wishes, as_of: dt.date, absent: AbstractSet[AnimalId] = frozenset(),
    behind: Sequence[AnimalId] = (),
) -> Room:  # fmt: skip
    """The room of one species.

    Args:
        asked: The evidence and its answers.
        species_id: The species.
        wishes: Limits and goals.
        as_of: The day.
        absent: Animals that are taken as not there.
        behind: Animals that stand behind all others, so that these are drawn as without them.

    Raises:
        SitegenError: The species has no goal.
    """
    collection = asked.evidence.collection
    species = collection.species[species_id]
    genome, year = species.genome, breeding_year(collection, species)
    first = max(wishes.season or 0, year.next_open(as_of))
    last = max(first, wishes.last if wishes.last is not None else first + 2)
    goals = tuple(goal for goal in wishes.goals if goal.species == species_id)
    wants = tuple(want_of(genome, goal.goal) for goal in goals)
    if not goals:
        raise SitegenError(f"there is nothing to plan for: no goal is of the species {species_id}")
    beasts = tuple(each for each in _beasts(collection, species, year, first, as_of) if each.animal not in absent)
    beasts = tuple(sorted(beasts, key=lambda each: each.animal in behind))
    units = tuple(
        Unit(number, asked.transmissions[number], wants, genome, species.litter_size.high)
        for number in _units(asked, species, [goal.goal for goal in goals], beasts)
    )
    n = len(range(first, last + 1))
    shares = [2 * (n - t) / (n * (n + 1)) for t in range(n)] if wishes.sooner else [float(t == n - 1) for t in range(n)]
    total = sum((goal.weight for goal in goals), Fraction(0))
    born = year.birthday(first)
    grown = [year.first_season(born, species.breeding_age_months.get(sex, 0)) - first for sex in SEXES]
    females = sum(each.sex == 0 for each in beasts)
    kept = max(MOST_KEPT, *(goal.count for goal in goals))
    kin = None
    if wishes.relatedness is not None:
        pairs = Kinship(members_with_sires(asked, species_id))
        kin = np.array([[float(pairs.pair(a.animal, b.animal)) for b in beasts] for a in beasts]).reshape(
            len(beasts), len(beasts)
        )
    return Room(
        seasons=range(first, last + 1), beasts=beasts, goals=goals, wants=wants,
        weights=tuple(float(goal.weight / total) for goal in goals), counts=tuple(goal.count for goal in goals),
        shares=tuple(shares), units=units,
        bearing=tuple(
            tuple(at for at, unit in enumerate(units) if unit.good[goal] is not None) for goal in range(len(goals))
        ),
        hidden=hidden_between([unit.group for unit in units]),
        sizes={n: c for n, c in litter_sizes(*_low_usual_high(species)).items() if c},
        takes=species.takes, rest=species.rest, rest_after_failure=species.rest_after_failure,
        grown=(grown[0], grown[1]),
        litters=min(wishes.litters or MOST_LITTERS, max(females, 1) + 4),
        keep=min(wishes.keep or kept, species.litter_size.high),
        places=wishes.places_by_species.get(species_id, wishes.places),
        kinship=kin, relatedness=1.0 if wishes.relatedness is None else float(wishes.relatedness),
        off=frozenset(at for at, each in enumerate(beasts) if each.animal in wishes.without),
    )  # fmt: skip


def _low_usual_high(species: Species) -> tuple[int, int, int]:
    size = species.litter_size
    return size.low, size.usual, size.high


def _beasts(
    collection: Collection, species: Species, year: BreedingYear, first: int, as_of: dt.date
) -> tuple[Beast, ...]:
    found = []
    for animal in sorted(collection.animals.values(), key=lambda each: each.id):
        if animal.species != species.id or not is_ours(animal) or animal.sex is Sex.UNKNOWN:
            continue
        ready = readiness(collection, year, animal, animal.sex, first, as_of).first
        found.append(Beast(animal.id, SEXES.index(animal.sex), ready))
    return tuple(found)


def _units(asked: Asked, species: Species, goals: Sequence[Goal], beasts: Sequence[Beast]) -> list[int]:
    """The units of the goals' loci, and of what hides them or cannot live where one of the animals may carry it."""
    genome = species.genome
    wants = [want_of(genome, goal) for goal in goals]
    needed = own_loci(genome, wants)
    hiding = {
        locus.id
        for locus in genome.loci
        for look in locus.looks
        for own in (each for at in genome.loci if at.id in needed for each in at.looks)
        if own.id != look.id and hides(genome, look.id, own.id)
    }
    return units_that_matter(asked, species, wants, hiding, [each.animal for each in beasts])
