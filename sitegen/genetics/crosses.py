"""What a pair gives: the genotypes and looks of its living young, from the joint posterior of the two.

Loci that are inherited independently stay apart (a :class:`Cross` each); linked loci stay together in one.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import lcm

from sitegen.exact import common_denominator
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.genetics.observations import looks_of, showing_alleles
from sitegen.genetics.transmission import Transmission

HALF = Fraction(1, 2)
_NONE = Fraction(0)
SEXES = (Sex.FEMALE, Sex.MALE)

Pairs = Mapping[tuple[StateNumber, StateNumber], Fraction]
"""(dam's state, sire's state) to chance; sums to 1."""


@dataclass(frozen=True, slots=True)
class LookShare:
    """Young that look alike at one locus or linked group.

    Attributes:
        looks: Look ids, at most one a locus; empty for young that show nothing.
        by_sex: Chance, among all living young, of being of that sex and looking so.
        carrying: The same for young that also hold an allele which the look does not tell, by allele.
    """

    looks: tuple[str, ...]
    by_sex: Mapping[Sex, Fraction]
    carrying: Mapping[str, Mapping[Sex, Fraction]]


@dataclass(frozen=True, slots=True)
class Share:
    """Of one kind of parents' genotypes: its chance, and what share of the young are of a sex and as wanted.

    ``of_sex`` is the share of each sex among the living young, ``wanted`` that of each sex and as wanted.
    """

    chance: Fraction
    of_sex: tuple[Fraction, Fraction]
    wanted: tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class _Sight:
    """The share of the young of a state that look so; the looks do not tell of the ``unseen`` alleles they hold."""

    looks: tuple[str, ...]
    share: Fraction
    unseen: tuple[str, ...]


class Cross:
    """A pair at one locus, or at linked loci.

    A pair of genotypes of which no young can live is left out, and the rest taken as certain. Sums run over whole
    numbers with one denominator.

    Attributes:
        mode: What runs at these loci.
        all_pairs: (dam's state, sire's state) to chance; sums to 1.
        pairs: The same among those whose young can live.
        bearing: Chance that the pair is one of those.

    Raises:
        ValueError: No young of the pair can live.
    """

    def __init__(self, mode: Mode, pairs: Pairs) -> None:
        """Makes ready; ``pairs``: (dam's state, sire's state) to chance, summing to 1."""
        self.mode = mode
        self.transmission: Transmission = Transmission(mode)
        self._sights: dict[StateNumber, tuple[_Sight, ...]] = {}
        self.all_pairs = {pair: chance for pair, chance in pairs.items() if chance}
        bearing = {pair: chance for pair, chance in self.all_pairs.items() if self.transmission.young(*pair)}
        self.bearing = _sum(bearing.values())
        if not self.bearing:
            raise ValueError("no young of this pair can live")
        self.pairs = bearing if self.bearing == 1 else {pair: chance / self.bearing for pair, chance in bearing.items()}
        self._young: tuple[dict[StateNumber, int], int] | None = None

    def pair(self, locus: int = 0) -> Mapping[tuple[Genotype, Genotype], Fraction]:
        """Joint posterior of (dam, sire) at the numbered locus of the group; sums to 1."""
        joint: dict[tuple[Genotype, Genotype], Fraction] = {}
        for (dam, sire), chance in self.all_pairs.items():
            key = self.mode.genotypes[dam][locus], self.mode.genotypes[sire][locus]
            joint[key] = joint[key] + chance if key in joint else chance
        return joint

    def living_share(self) -> Fraction:
        """Expected share of conceptions that are born alive, as far as these loci decide it."""
        return _sum(chance * self.transmission.living_share(*pair) for pair, chance in self.all_pairs.items())

    def _living(self) -> tuple[Mapping[StateNumber, int], int]:
        """Each state of a living young, in whole numbers over one denominator."""
        if self._young is None:
            parts = [(chance, *self.transmission.whole_young(*pair)) for pair, chance in self.pairs.items()]
            whole = lcm(*(chance.denominator * denominator for chance, _, denominator in parts))
            states: dict[StateNumber, int] = {}
            for chance, row, denominator in parts:
                weight = chance.numerator * (whole // (chance.denominator * denominator))
                for state, share in row.items():
                    states[state] = states.get(state, 0) + weight * share
            self._young = states, whole
        return self._young

    def young(self, locus: int = 0) -> Mapping[Sex, Mapping[Genotype, Fraction]]:
        """Genotype odds of a living young, at the numbered locus of the group.

        Under ``Sex.UNKNOWN`` where sex makes no difference, else one entry for each sex; each sums to 1.
        """
        found: dict[Sex, dict[Genotype, int]] = {}
        for state, weight in self._living()[0].items():
            odds = found.setdefault(self.mode.states[state].sex or Sex.UNKNOWN, {})
            genotype = self.mode.genotypes[state][locus]
            odds[genotype] = odds.get(genotype, 0) + weight
        return {sex: _normalised(found[sex]) for sex in (Sex.UNKNOWN, *SEXES) if sex in found}

    def rows(self) -> tuple[LookShare, ...]:
        """Every way the young can look at these loci; the chances of both sexes together sum to 1."""
        states, whole = self._living()
        seen = [(sight, state) for state in sorted(states) for sight in self._seen(state)]
        parts = common_denominator(sight.share for sight, _ in seen)
        whole *= 2 * parts
        chances: dict[tuple[str, ...], dict[Sex, int]] = {}
        carrying: dict[tuple[str, ...], dict[str, dict[Sex, int]]] = {}
        for sight, state in seen:
            chance = states[state] * sight.share.numerator * (parts // sight.share.denominator)
            by_sex = chances.setdefault(sight.looks, dict.fromkeys(SEXES, 0))
            for sex, halves in self._sexes(state):
                by_sex[sex] += chance * halves
                for allele in sight.unseen:
                    own = carrying.setdefault(sight.looks, {}).setdefault(allele, dict.fromkeys(SEXES, 0))
                    own[sex] += chance * halves
        return tuple(
            LookShare(
                looks,
                {sex: Fraction(weight, whole) for sex, weight in by_sex.items()},
                {
                    allele: {sex: Fraction(weight, whole) for sex, weight in own.items()}
                    for allele, own in carrying.get(looks, {}).items()
                },
            )
            for looks, by_sex in chances.items()
        )

    def _seen(self, state: StateNumber) -> tuple[_Sight, ...]:
        """The ways in which young of a state can look."""
        found = self._sights.get(state)
        if found is None:
            found = self._sights[state] = tuple(self._sight(state, *each) for each in self._looks(state).items())
        return found

    def _sight(self, state: StateNumber, looks: tuple[str, ...], share: Fraction) -> _Sight:
        told = {
            allele
            for locus in self.mode.loci
            for look in looks
            if any(own.id == look for own in locus.looks)
            for allele in told_by(locus, look)
        }
        held = dict.fromkeys(allele for genotype in self.mode.genotypes[state] for allele in genotype)
        known = {*told, WILD, self.mode.loci[0].sex_system.blank}
        return _Sight(looks, share, tuple(allele for allele in held if allele not in known))

    def _looks(self, state: StateNumber) -> Mapping[tuple[str, ...], Fraction]:
        found: dict[tuple[str, ...], Fraction] = {}
        choices = (
            looks_of(at, own).items() for at, own in zip(self.mode.loci, self.mode.genotypes[state], strict=True)
        )
        for choice in product(*choices):
            looks = tuple(look for look, _ in choice if look)
            chance = Fraction(1)
            for _, part in choice:
                chance *= part
            found[looks] = found.get(looks, _NONE) + chance
        return found

    def _sexes(self, state: StateNumber) -> tuple[tuple[Sex, int], ...]:
        """The sexes of young of a state, in halves."""
        sex = self.mode.states[state].sex
        return ((sex, 2),) if sex else tuple((each, 1) for each in SEXES)

    def shares(self, wanted: Sequence[str]) -> tuple[Share, ...]:
        """For each kind of parents' genotypes that matters: its chance and the share of its young as wanted.

        Args:
            wanted: Look ids of these loci, all in one young; none asks for nothing here.
        """
        return self.shares_of(lambda _state, looks: set(wanted) <= set(looks))

    def shares_of(
        self, test: Callable[[StateNumber, tuple[str, ...]], bool], *, conceived: bool = False
    ) -> tuple[Share, ...]:
        """The same for young that pass a test, by their state and the looks that they show.

        ``conceived`` makes them shares of all that are conceived, those that do not live among them.
        """
        grouped: dict[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]], Fraction] = {}
        for pair, chance in self.pairs.items():
            of_sex, fitting = [_NONE, _NONE], [_NONE, _NONE]
            for state, share in self.transmission.young(*pair).items():
                good = sum((sight.share for sight in self._seen(state) if test(state, sight.looks)), _NONE)
                for sex, halves in self._sexes(state):
                    of_sex[SEXES.index(sex)] += share * halves * HALF
                    fitting[SEXES.index(sex)] += share * halves * HALF * good
            if conceived:
                living = self.transmission.living_share(*pair)
                of_sex, fitting = [HALF, HALF], [living * share for share in fitting]
            key = (of_sex[0], of_sex[1]), (fitting[0], fitting[1])
            grouped[key] = grouped.get(key, _NONE) + chance
        return tuple(Share(chance, *key) for key, chance in grouped.items())

    def plain_shares(self, locus: int) -> Mapping[tuple[StateNumber, StateNumber], Fraction]:
        """For each of :attr:`pairs`, the share of living young that show nothing of the numbered locus."""
        at = self.mode.loci[locus]
        return {
            pair: sum(
                (
                    share * looks_of(at, self.mode.genotypes[state][locus]).get("", _NONE)
                    for state, share in self.transmission.young(*pair).items()
                ),
                _NONE,
            )
            for pair in self.pairs
        }


def told_by(locus: Locus, look: str) -> frozenset[str]:
    """The alleles that an animal with that look holds in any case."""
    makers = [frozenset(showing_alleles(locus, genotype)) for genotype, own in locus.shown.items() if own == look]
    return frozenset.intersection(*makers) if makers else frozenset()


def _sum(chances: Iterable[Fraction]) -> Fraction:
    listed = list(chances)
    whole = common_denominator(listed)
    return Fraction(sum(chance.numerator * (whole // chance.denominator) for chance in listed), whole)


def _normalised(weights: Mapping[Genotype, int]) -> dict[Genotype, Fraction]:
    total = sum(weights.values())
    return {genotype: Fraction(weight, total) for genotype, weight in weights.items()}


def wanted_shares(
    crosses: Sequence[tuple[Cross, Sequence[str]]], sex: Sex | None = None
) -> Mapping[Fraction, Fraction]:
    """Share of the young that look as wanted at each cross, to the chance that the parents are such; sums to 1.

    The parents' genotypes at independent loci are independent, so the shares multiply; what two loci have in common,
    the sex of the young (which may be wanted too), is kept apart until the end.
    """
    return shares_together([cross.shares(wanted) for cross, wanted in crosses], sex)


def shares_together(parts: Iterable[Sequence[Share]], sex: Sex | None = None) -> Mapping[Fraction, Fraction]:
    """The same from the shares at each of several crosses."""
    start = ((Fraction(1), Fraction(1)), (Fraction(1), Fraction(1)))
    kinds: dict[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]], Fraction] = {start: Fraction(1)}
    for part in parts:
        grown: dict[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]], Fraction] = {}
        for (of_sex, fitting), chance in kinds.items():
            for share in part:
                key = (
                    (of_sex[0] * 2 * share.of_sex[0], of_sex[1] * 2 * share.of_sex[1]),
                    (fitting[0] * 2 * share.wanted[0], fitting[1] * 2 * share.wanted[1]),
                )
                grown[key] = grown.get(key, _NONE) + chance * share.chance
        kinds = grown
    found: dict[Fraction, Fraction] = {}
    for (of_sex, fitting), chance in kinds.items():
        good = sum(fitting, _NONE) if sex is None else fitting[SEXES.index(sex)]
        key_share = good / sum(of_sex, _NONE)
        found[key_share] = found.get(key_share, _NONE) + chance
    return found
