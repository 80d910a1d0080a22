"""What a way of crossing and keeping passes on to its last young, one locus or linked group at a time.

Every number is a float: they rank and bound routes; what is told of a route is worked out exactly elsewhere.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import product

from sitegen.content.projects import Goal
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Genome, Locus, Sex
from sitegen.genetics.observations import looks_of, showing_alleles
from sitegen.genetics.transmission import Transmission
from sitegen.plans.roads.routes_shapes import Role, Shape

SEXES = (Sex.FEMALE, Sex.MALE)
Law = tuple[tuple[tuple[StateNumber, ...], float], ...]
"""Joint odds of the states of some animals, in their order; sorted, so that equal laws are equal keys."""
BySex = tuple[float, float]
"""A chance among daughters and among sons."""
Looks = tuple[str, ...]
Sight = tuple[Looks, Looks]
"""Looks of a unit that young must show to be kept, and looks that must not be there because they would hide one."""


@dataclass(frozen=True, slots=True)
class Passed:
    """What one unit says of a way of crossing and keeping.

    Attributes:
        stages: For each stage the odds of its shares: of young that are as the goal wants here (among daughters, among
            sons), then for each of its roles of young of that sex that look right. What is missing to 1 cannot give
            what is to be kept before.
        states: For each role, the states its young may have.
    """

    stages: tuple[tuple[tuple[tuple[float, ...], float], ...], ...]
    states: Mapping[Role, frozenset[StateNumber]]

    def most(self, stage: int, place: int) -> float:
        """The highest share of a stage: 0 and 1 of goals among daughters and sons, then of each role."""
        return max((shares[place] for shares, _ in self.stages[stage]), default=0.0)


@dataclass(slots=True)
class Unit:
    """One locus or linked group that the goal speaks of.

    Attributes:
        transmission: What its pairs pass on.
        loci: The loci of the goal in it.
        fit: For each state, the chance that such an animal is as the goal wants here.
    """

    transmission: Transmission
    loci: tuple[Locus, ...]
    fit: tuple[float, ...]
    wanted: frozenset[str]
    """Goal alleles of its loci."""
    _kept: dict[tuple[StateNumber, StateNumber, Sex | None, Sight], tuple[float, tuple[tuple[StateNumber, float], ...]]]
    _looks: dict[tuple[StateNumber, Sight], float] = field(default_factory=dict)
    _shares: dict[tuple[StateNumber, StateNumber], BySex] = field(default_factory=dict)
    _worth: dict[tuple[StateNumber, StateNumber], tuple[tuple[str, float], ...]] = field(default_factory=dict)
    _passed: dict[tuple[Shape, Law, tuple[Sight, ...]], Passed] = field(default_factory=dict)

    @property
    def mode(self) -> Mode:
        """What runs in it."""
        return self.transmission.mode

    def can_be(self) -> bool:
        """True when a living animal can be as the goal wants here."""
        return any(fit and living for fit, living in zip(self.fit, self.mode.living, strict=True))

    def looks_so(self, state: StateNumber, looks: Sight) -> float:
        """Chance that an animal of that state looks so, as far as this unit decides it."""
        found = self._looks.get((state, looks))
        if found is not None:
            return found
        seen, barred = looks
        chance = 1.0
        for locus, genotype in zip(self.mode.loci, self.mode.genotypes[state], strict=True):
            own = {look.id for look in locus.looks}
            wanted = own.intersection(seen)
            chance *= sum(
                float(share)
                for look, share in looks_of(locus, genotype).items()
                if wanted <= {look} and look not in barred
            )
        self._looks[state, looks] = chance
        return chance

    def kept(
        self, dam: StateNumber, sire: StateNumber, sex: Sex | None, looks: Sight
    ) -> tuple[float, tuple[tuple[StateNumber, float], ...]]:
        """Share of a pair's young of that sex that look so, and the odds of their states; either sex for None."""
        key = (dam, sire, sex if self.mode.has_sex else None, looks)
        found = self._kept.get(key)
        if found is None:
            young = self.transmission.young(dam, sire)
            weights = []
            for state, chance in young.items():
                if key[2] is None or self.mode.states[state].sex is key[2]:
                    weight = float(chance) * self.looks_so(state, looks) * (1 if key[2] is None else 2)
                    if weight:
                        weights.append((state, weight))
            share = sum(weight for _, weight in weights)
            found = self._kept[key] = (share, tuple((state, weight / share) for state, weight in weights))
        return found

    def goal_share(self, dam: StateNumber, sire: StateNumber) -> BySex:
        """Share of a pair's daughters and of its sons that are as the goal wants here."""
        found = self._shares.get((dam, sire))
        if found is not None:
            return found
        shares = [
            sum(
                float(chance) * self.fit[state] * (2 if self.mode.has_sex else 1)
                for state, chance in self.transmission.young(dam, sire).items()
                if not self.mode.has_sex or self.mode.states[state].sex is sex
            )
            for sex in SEXES
        ]
        found = self._shares[dam, sire] = shares[0], shares[1]
        return found

    def telling_looks(self, dam: StateNumber, sire: StateNumber) -> tuple[tuple[str, float], ...]:
        """Looks of a pair's young that tell of an allele of the goal, with their chance."""
        found = self._worth.get((dam, sire))
        if found is None:
            seen: dict[str, float] = {}
            for state, chance in self.transmission.young(dam, sire).items():
                for locus, genotype in zip(self.mode.loci, self.mode.genotypes[state], strict=True):
                    for look, share in looks_of(locus, genotype).items():
                        if look and self.wanted.intersection(genotype):
                            seen[look] = seen.get(look, 0.0) + float(chance * share)
            found = self._worth[dam, sire] = tuple(seen.items())
        return found

    def passed(self, shape: Shape, law: Law, looks: tuple[Sight, ...]) -> Passed:
        """What this unit says of a way of crossing and keeping.

        Args:
            shape: Who is crossed with whom.
            law: Joint odds of the founders' states here, in the order of the shape's numbers.
            looks: For each of ``shape.roles``, how young must look at this unit to be kept.
        """
        key = (shape, law, looks)
        found = self._passed.get(key)
        if found is None:
            found = self._passed[key] = self._pass(shape, law, looks)
        return found

    def _pass(self, shape: Shape, law: Law, looks: tuple[Sight, ...]) -> Passed:
        wanted = dict(zip(shape.roles, looks, strict=True))
        names: list[int | Role] = list(range(shape.n_founders))
        current: dict[tuple[StateNumber, ...], float] = dict(law)
        stages: list[tuple[tuple[tuple[float, ...], float], ...]] = []
        states_of: dict[Role, set[StateNumber]] = {role: set() for role in shape.roles}
        for number, cross in enumerate(shape.crosses):
            dam, sire = (names.index(parent) for parent in cross)
            roles = [role for role in shape.roles if role.stage == number]
            later = {parent for after in shape.crosses[number + 1 :] for parent in after}
            stay = [place for place, name in enumerate(names) if name in later]
            shares: dict[tuple[float, ...], float] = {}
            grown: dict[tuple[StateNumber, ...], float] = {}
            for states, chance in current.items():
                ways = [self.kept(states[dam], states[sire], role.sex, wanted[role]) for role in roles]
                key = (*self.goal_share(states[dam], states[sire]), *(share for share, _ in ways))
                shares[key] = shares.get(key, 0.0) + chance
                for role, (_, odds) in zip(roles, ways, strict=True):
                    states_of[role].update(state for state, _ in odds)
                before = tuple(states[place] for place in stay)
                for choice in product(*(odds for _, odds in ways)):
                    weight = chance
                    for _, part in choice:
                        weight *= part
                    after_it = (*before, *(state for state, _ in choice))
                    grown[after_it] = grown.get(after_it, 0.0) + weight
            stages.append(tuple(shares.items()))
            names = [*(names[place] for place in stay), *roles]
            current = grown
        return Passed(tuple(stages), {role: frozenset(found) for role, found in states_of.items()})


def unit_of(transmission: Transmission, goal: Goal, genome: Genome) -> Unit | None:
    """The unit as the goal sees it; None when the goal says nothing of it."""
    mode = transmission.mode
    looks = {genome.look(look).locus: look for look in goal.shows}
    loci = tuple(
        locus for locus in mode.loci if locus.id in looks or any(allele.id in goal.carries for allele in locus.alleles)
    )
    if not loci:
        return None
    fit = tuple(_fit(mode, state, goal, looks) for state in range(len(mode.states)))
    wanted = frozenset(allele for locus in loci for allele in goal_alleles(locus, goal))
    return Unit(transmission, loci, fit, wanted, {})


def _fit(mode: Mode, state: StateNumber, goal: Goal, looks: Mapping[str, str]) -> float:
    chance = 1.0
    for locus, genotype in zip(mode.loci, mode.genotypes[state], strict=True):
        if locus.id in looks:
            chance *= float(looks_of(locus, genotype).get(looks[locus.id], 0))
        if any(allele.id in goal.carries and allele.id not in genotype for allele in locus.alleles):
            chance = 0.0
    return chance


def goal_alleles(locus: Locus, goal: Goal) -> tuple[str, ...]:
    """The alleles of a locus that an animal needs to be what the goal wants there, in the order of the locus."""
    makers = [showing_alleles(locus, genotype) for genotype, look in locus.shown.items() if look in goal.shows]
    needed = set().union(*makers) | set(goal.carries)
    return tuple(allele.id for allele in locus.alleles if allele.id in needed)


def looks_worth_choosing(unit: Unit, pairs: Iterable[tuple[StateNumber, StateNumber]]) -> tuple[Looks, ...]:
    """For each locus of the unit with an allele of the goal, the looks by which young of such pairs may be chosen.

    A look is worth choosing when it tells of an allele of the goal. An empty one stands for not choosing; it is not
    there when all young show the same.
    """
    found: list[Looks] = []
    pairs = tuple(pairs)
    seen: dict[str, float] = {}
    for pair in pairs:
        for look, share in unit.telling_looks(*pair):
            seen[look] = seen.get(look, 0.0) + share
    for locus in unit.mode.loci:
        looks = tuple(look.id for look in locus.looks if look.id in seen)
        all_show_it = any(seen[look] > len(pairs) - 1e-9 for look in looks)
        if looks:
            found.append(looks if all_show_it else ("", *looks))
    return tuple(found)
