"""The network of one or more questions: numbered variables, and factors whose tables are made only when affordable.

Variables are the states of members that are not settled; for a litter (or a young) with several
possible sires which of them it was, and the state of that one; for tallied young that may each have
their own sire, how many each sire has. The last three belong to young, not to a locus: questions that
are asked together share the choice of sire, because it is the same young at every locus.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from math import comb, factorial, gcd, prod

from sitegen.genetics.evidence_at import Prepared, Unlisted, scaled_alike
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Choice, Member, Tally, choice_of
from sitegen.genetics.transmission import Mask, Weights, states_in, whole_numbers

SHARED = -1
"""Number of the question that a factor belongs to when it belongs to all of them."""


@dataclass(frozen=True, slots=True, eq=False)
class Factor:
    """A table over the variables of ``scope`` that ``values`` can make.

    Attributes:
        part: Number of the question it belongs to, or ``SHARED``.
        member: The member whose heredity it is, if it is one's.
        bits: About how many binary digits it adds to the numbers of a whole solution.
        evidence: True when it says more than heredity does: odds of a founder, or what is known of the member.
    """

    scope: tuple[int, ...]
    values: Callable[[], Sequence[int]]
    part: int
    bits: int = 2
    member: int | None = None
    evidence: bool = True


@dataclass(frozen=True, slots=True)
class _Animal:
    """States that a member, or the sire that it was, may have; ``variable`` is None when there is only one."""

    variable: int | None
    mask: Mask

    @property
    def scope(self) -> tuple[int, ...]:
        return () if self.variable is None else (self.variable,)


@dataclass(slots=True)
class Network:
    """All variables and factors.

    Attributes:
        owner: For each variable (question, member) or, if it is no member's, None.
        factors: In the order of the records.
        of_member: (question, member) to its variable.
        choices: What a choice belongs to, to its variable and the possible sires.
    """

    sizes: list[int] = field(default_factory=list)
    owner: list[tuple[int, int] | None] = field(default_factory=list)
    factors: list[Factor] = field(default_factory=list)
    of_member: dict[tuple[int, int], int] = field(default_factory=dict)
    choices: dict[Choice, tuple[int, tuple[AnimalId, ...]]] = field(default_factory=dict)

    def variable(self, size: int, owner: tuple[int, int] | None = None) -> int:
        """A new variable."""
        self.sizes.append(size)
        self.owner.append(owner)
        return len(self.sizes) - 1

    def add(self, factor: Factor) -> None:
        """A new factor; one without variables says nothing that is not known already."""
        if factor.scope:
            self.factors.append(factor)


def network_of(parts: Sequence[Prepared]) -> Network:
    """The network of these questions; families that are impossible already are left out."""
    network = Network()
    for number, part in enumerate(parts):
        _PartFactors(network, number, part).add_all()
    return network


class _PartFactors:
    """Adds the variables and factors of one question."""

    def __init__(self, network: Network, number: int, part: Prepared) -> None:
        self.network = network
        self.number = number
        self.part = part
        self.bits = part.transmission.bits
        self.places: list[_Animal] = []
        self.fathers: dict[Choice, _Animal] = {}

    def add_all(self) -> None:
        part = self.part
        for member, mask in enumerate(part.possible):
            if mask.bit_count() > 1 and part.pedigree.family_of[member] not in part.impossible:
                variable = self.network.variable(mask.bit_count(), (self.number, member))
                self.network.of_member[self.number, member] = variable
        of_member = self.network.of_member
        self.places = [_Animal(of_member.get((self.number, n)), mask) for n, mask in enumerate(part.possible)]
        for member in range(len(part.members)):
            if part.pedigree.family_of[member] not in part.impossible:
                self._add_member(member)
        for young in part.unlisted:
            if young.parents and part.pedigree.family_of[young.parents[0]] not in part.impossible:
                self._add_unlisted(young)

    def _parents(self, dam: int | None, sires: tuple[int, ...], young: Member | Tally) -> list[_Animal | None]:
        """Dam and sire as places; the sire may be one that is not known for certain."""
        sire = None
        if len(sires) == 1:
            sire = self.places[sires[0]]
        elif sires:
            sire = self._father(choice_of(young), sires, young)
        return [None if dam is None else self.places[dam], sire]

    def _add_member(self, member: int) -> None:
        part, own, family = self.part, self.places[member], self.part.pedigree.family_of[member]
        weights = part.weights[member]
        if part.is_founder(member):
            assert weights is not None
            self._add(own.scope, lambda: whole_numbers([weights[state] for state in states_in(own.mask)]))
            return
        dam, sire = self._parents(part.pedigree.dams[member], part.pedigree.sires[member], part.members[member])
        scope = (*(dam.scope if dam else ()), *(sire.scope if sire else ()), *own.scope)
        heredity = Factor(
            scope,
            lambda: self._given(dam, sire, own.mask, weights, family),
            self.number,
            self.bits,
            member,
            self._tells(member),
        )
        self.network.add(heredity)

    def _add(self, scope: tuple[int, ...], values: Callable[[], Sequence[int]], n_young: int = 1) -> None:
        self.network.add(Factor(scope, values, self.number, self.bits * n_young))

    def _tells(self, member: int) -> bool:
        """True when something is known of a young: evidence, or its sex where that is part of heredity."""
        known_sex = self.part.mode.has_sex and self.part.pedigree.sexes[member] is not Sex.UNKNOWN
        return self.part.weights[member] is not None or known_sex

    def _given(
        self, dam: _Animal | None, sire: _Animal | None, young: Mask, weights: Weights | None, family: int
    ) -> Sequence[int]:
        transmission, unrecorded = self.part.transmission, self.part.odds_of_unrecorded
        if dam and sire:
            return transmission.table(dam.mask, sire.mask, young, weights)
        if dam:
            return transmission.one_known(dam.mask, unrecorded(Sex.MALE, family), young, weights, Sex.FEMALE)
        assert sire is not None
        return transmission.one_known(sire.mask, unrecorded(Sex.FEMALE, family), young, weights, Sex.MALE)

    def _choice(self, choice: Choice, sires: tuple[tuple[AnimalId, Fraction], ...]) -> int:
        if choice not in self.network.choices:
            variable = self.network.variable(len(sires))
            self.network.choices[choice] = (variable, tuple(sire for sire, _ in sires))
            self.network.add(Factor((variable,), lambda: whole_numbers([chance for _, chance in sires]), SHARED))
        return self.network.choices[choice][0]

    def _father(self, choice: Choice, sires: tuple[int, ...], young: Member | Tally) -> _Animal:
        """The state of the one that was the sire: that of the chosen one."""
        if choice in self.fathers:
            return self.fathers[choice]
        places = [self.places[sire] for sire in sires]
        mask = 0
        for place in places:
            mask |= place.mask
        if mask.bit_count() == 1:
            self._choice(choice, young.sires)
            father = _Animal(None, mask)
        else:
            chosen = self._choice(choice, young.sires)
            father = _Animal(self.network.variable(mask.bit_count()), mask)
            for rank, place in enumerate(places):
                self._add((chosen, *place.scope, *father.scope), self._same_if(rank, len(places), place, father))
        self.fathers[choice] = father
        return father

    @staticmethod
    def _same_if(rank: int, n_sires: int, place: _Animal, father: _Animal) -> Callable[[], Sequence[int]]:
        return lambda: [
            int(chosen != rank or state == of_father)
            for chosen in range(n_sires)
            for state in states_in(place.mask)
            for of_father in states_in(father.mask)
        ]

    def _add_unlisted(self, young: Unlisted) -> None:
        count, family = young.tally.count, self.part.pedigree.family_of[young.parents[0]]
        if len(young.sires) > 1 and young.tally.each_its_own_sire:
            self._add_mixed(young)
            return
        dam, sire = self._parents(young.dam, young.sires, young.tally)
        scope = (*(dam.scope if dam else ()), *(sire.scope if sire else ()))

        def values() -> list[int]:
            table = self._given(dam, sire, young.possible, young.weights, family)
            n_states = young.possible.bit_count()
            sums = [sum(table[start : start + n_states]) for start in range(0, len(table), n_states)]
            divisor = gcd(*sums) or 1  # a common factor would only make the powers longer
            return [(value // divisor) ** count for value in sums]

        self._add(scope, values, count)

    def _one_young(self, young: Unlisted, dam: _Animal | None, sire: _Animal) -> list[Fraction]:
        """Chance of one young that looks so under each (dam state, sire state)."""
        transmission, part = self.part.transmission, self.part
        if dam:
            rows = [transmission.young(d, s) for d in states_in(dam.mask) for s in states_in(sire.mask)]
        else:
            dams = part.odds_of_unrecorded(Sex.FEMALE, part.pedigree.family_of[young.sires[0]])
            rows = [transmission.of_one_parent(s, dams, Sex.MALE) for s in states_in(sire.mask)]
        return [sum((chance * young.weights[state] for state, chance in row.items()), Fraction(0)) for row in rows]

    def _add_mixed(self, young: Unlisted) -> None:
        """Tallied young that may each have their own sire: how many each has is a variable, shared by all loci."""
        places = [self.places[sire] for sire in young.sires]
        if len({place.mask for place in places}) == 1 and places[0].variable is None:
            dam = None if young.dam is None else self.places[young.dam]
            count = young.tally.count
            scope = dam.scope if dam else ()
            self._add(scope, lambda: [n**count for n in whole_numbers(self._one_young(young, dam, places[0]))], count)
            return
        dam = None if young.dam is None else self.places[young.dam]
        split = self._split(young.tally)
        for rank, place in enumerate(places):
            scope = (split, *(dam.scope if dam else ()), *place.scope)
            self._add(scope, self._powers(young, rank, places, dam), young.tally.count)

    def _powers(
        self, young: Unlisted, rank: int, places: list[_Animal], dam: _Animal | None
    ) -> Callable[[], Sequence[int]]:
        def values() -> list[int]:
            # One denominator for all sires: each has his own table, with his own number of young as the power, so a
            # factor of one table alone would favour ways that give him more or fewer.
            alike = scaled_alike([self._one_young(young, dam, place) for place in places])[rank]
            return [number ** ways[rank] for ways in splits(young.tally.count, len(places)) for number in alike]

        return values

    def _split(self, tally: Tally) -> int:
        choice = choice_of(tally)
        if choice not in self.network.choices:
            count, n_sires = tally.count, len(tally.sires)
            variable = self.network.variable(comb(count + n_sires - 1, n_sires - 1))
            self.network.choices[choice] = (variable, ())
            chances = [chance for _, chance in tally.sires]
            self.network.add(Factor((variable,), lambda: whole_numbers(_multinomial(count, chances)), SHARED))
        return self.network.choices[choice][0]


def splits(count: int, n_sires: int) -> list[tuple[int, ...]]:
    """Every way to share ``count`` young among sires, as numbers of young for each."""
    places = count + n_sires - 1
    found = []
    for bars in combinations(range(places), n_sires - 1):
        ends = (*bars, places)
        found.append(tuple(end - start - 1 for start, end in zip((-1, *bars), ends, strict=True)))
    return found


def _multinomial(count: int, chances: Sequence[Fraction]) -> list[Fraction]:
    whole = factorial(count)
    return [
        prod((chance**n for chance, n in zip(chances, ways, strict=True)), start=Fraction(1))
        * (whole // prod(factorial(n) for n in ways))
        for ways in splits(count, len(chances))
    ]
