"""New records that tell nothing of anybody else, and the answers about them, which need no network.

What is seen of a new young tells nothing of its parents where it is equally likely whichever of their possible
genotypes they have; then nobody else has to be asked again. Its own answer follows from its parents' answers, as long
as at least one of these is certain or not recorded: only then are they independent of each other.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product
from math import lcm, prod

from sitegen.evidence.standing import NOTHING, Standing, tally_at
from sitegen.genetics.gametes import mode_of_locus
from sitegen.genetics.loci import Genotype, Sex
from sitegen.genetics.observations import background
from sitegen.genetics.questions import AnimalId, Member, Observation, Posterior, Tally
from sitegen.genetics.transmission import Transmission

_ZERO = Fraction(0)
_NO_ANSWER: Posterior = {}
Weights = Mapping[Genotype, Fraction]


@dataclass(frozen=True, slots=True)
class _OfPair:
    """What follows for young that were seen so from what their parents may be; all young alike share it.

    Attributes:
        made_from: The odds of dam and sire and the likelihood, so that their identities stand.
        is_quiet: True when what was seen is equally likely whatever the parents may be.
        posterior: The answer about such a young.
    """

    made_from: tuple[object, ...]
    is_quiet: bool
    posterior: Posterior


@dataclass(frozen=True, slots=True)
class _Row:
    """Living young of a pair that were seen so.

    Attributes:
        likelihood: What was seen, so that its identity stands.
        total: How likely that is.
        denominator: What the shares are to be divided by.
        shares: Genotype to its chance times how likely what was seen is under it.
    """

    likelihood: Weights | None
    total: Fraction
    denominator: int
    shares: Mapping[Genotype, int]


@dataclass(slots=True)
class Leaves:
    """Answers about single records.

    Attributes:
        standing: What is known.
        opened: Of whom what is known of them alone, their parents or their young were looked at.
        passed_on: For each group, what pairs pass on; made when it is needed first.
        known: What follows for young, by group and the identities of the odds of dam and sire and of the likelihood.
        rows: (group, dam, sire) and the identity of a likelihood to what their living young are that were seen so.
        usual: (group, sex) to the odds of the species.
    """

    standing: Standing
    opened: set[AnimalId] = field(default_factory=set)
    passed_on: dict[int, Transmission] = field(default_factory=dict)
    known: dict[tuple[int, int, int, int], _OfPair] = field(default_factory=dict)
    rows: dict[tuple[int, Genotype, Genotype, int], _Row] = field(default_factory=dict)
    usual: dict[tuple[int, Sex], Weights] = field(default_factory=dict)

    def tells_nothing(self, animal: AnimalId, number: int, observations: Sequence[Observation]) -> bool:
        """True when new observations of an animal are equally likely under every genotype that it may have."""
        group = self.standing.groups[number]
        if len(group.loci) > 1:
            return False
        posterior = self.standing.posteriors.get((animal, group.loci[0].id))
        return bool(posterior) and _same({_weight(observations, genotype) for genotype in posterior or ()})

    def tally_tells_nothing(self, tally: Tally, number: int) -> bool:
        """True when what young show that are not listed is equally likely whatever their parents may be."""
        found = self._of_pair(tally, number, tally.likelihood)
        return found is not None and found.is_quiet

    def posterior(self, member: Member, number: int) -> Posterior | None:
        """The answer about a new animal; None where others have to be asked as well."""
        group = self.standing.groups[number]
        if not group.is_plain:
            return None
        if member.dam is None and not member.sires:
            own = self.standing.own.get((member.id, group.loci[0].id), NOTHING)
            odds = own.prior or background(group.loci[0], member.sex)
            return _shares(odds, own.together)
        found = self._quiet(member.id, number)
        return found.posterior if found is not None else None

    def quiet_posterior(self, member: Member, number: int) -> Posterior:
        """The answer about an animal that tells nothing of its parents, from their answers."""
        found = self._of_pair(member, number, self._own_likelihood(member.id, number))
        return found.posterior if found is not None else {}

    def is_quiet(self, name: AnimalId, number: int) -> bool:
        """True when neither a young nor anything that descends from it tells anything of its parents.

        Whatever its parents' answers become, its own answer and those below it then follow from them.
        """
        return self._quiet(name, number) is not None

    def _quiet(self, name: AnimalId, number: int) -> _OfPair | None:
        """What follows for an animal from its parents' answers, where it tells nothing of them, else None."""
        self.opened.add(name)
        found = self._of_pair(self.standing.members[name], number, self._own_likelihood(name, number))
        if found is None or not found.is_quiet:
            return None
        for key in self.standing.tallied.get(name, ()):
            tally = tally_at(self.standing, number, key)
            if tally is not None and not self.tally_tells_nothing(tally, number):
                return None
        for young in self.standing.young.get(name, ()):
            if self._quiet(young, number) is None:
                return None
        return found

    def _own_likelihood(self, name: AnimalId, number: int) -> Weights | None:
        return self.standing.own.get((name, self.standing.groups[number].loci[0].id), NOTHING).together

    def _of_pair(self, young: Member | Tally, number: int, likelihood: Weights | None) -> _OfPair | None:
        """What follows for young from their parents' answers; None unless these are independent of each other."""
        group = self.standing.groups[number]
        sires = self.standing.sires_of(young)
        if not group.is_plain or len(sires) > 1:
            return None
        dams = self._odds(young.dam, number, Sex.FEMALE)
        fathers = self._odds(sires[0][0] if sires else None, number, Sex.MALE)
        if not dams or not fathers or (young.dam and sires and len(dams) > 1 and len(fathers) > 1):
            return None
        key = number, id(dams), id(fathers), id(likelihood)
        found = self.known.get(key)
        if found is None:
            found = self.known[key] = self._worked_out(number, dams, fathers, likelihood)
        return found

    def _worked_out(self, number: int, dams: Weights, fathers: Weights, likelihood: Weights | None) -> _OfPair:
        sums: dict[Genotype, int] = {}
        rows = [self._row(number, dam, sire, likelihood) for dam in dams for sire in fathers]
        scale = lcm(*(row.denominator for row in rows))
        odds = product(_whole(dams), _whole(fathers))
        for row, (chance, other) in zip(rows, odds, strict=True):
            weight = chance * other * (scale // row.denominator)
            for genotype, share in row.shares.items():
                sums[genotype] = sums.get(genotype, 0) + weight * share
        whole = sum(sums.values())
        posterior = {genotype: Fraction(weight, whole) for genotype, weight in sums.items() if weight}
        first = rows[0].total
        is_quiet = bool(first) and all(row.total is first or row.total == first for row in rows)
        return _OfPair((dams, fathers, likelihood), is_quiet, posterior)

    def _odds(self, parent: AnimalId | None, number: int, sex: Sex) -> Weights:
        """A parent's answer; the odds of the species for one that is not recorded; empty where there is no answer."""
        locus = self.standing.groups[number].loci[0]
        if parent is not None:
            return self.standing.posteriors.get((parent, locus.id), _NO_ANSWER)
        if (number, sex) not in self.usual:
            self.usual[number, sex] = background(locus, sex)
        return self.usual[number, sex]

    def _row(self, number: int, dam: Genotype, sire: Genotype, likelihood: Weights | None) -> _Row:
        """Chance of each genotype among the living young of a pair, times how likely what was seen is under it."""
        key = number, dam, sire, id(likelihood)
        if key not in self.rows:
            if number not in self.passed_on:
                self.passed_on[number] = Transmission(mode_of_locus(self.standing.groups[number].loci[0]))
            transmission = self.passed_on[number]
            mode = transmission.mode
            state = {genotypes[0]: rank for rank, genotypes in enumerate(mode.genotypes)}
            young = transmission.young(state[dam], state[sire])
            chances = {mode.genotypes[rank][0]: chance for rank, chance in young.items()}
            if likelihood is not None:
                chances = {g: share * likelihood[g] for g, share in chances.items() if g in likelihood}
            denominator = lcm(*(chance.denominator for chance in chances.values()))
            shares = dict(zip(chances, _whole(chances), strict=True))
            self.rows[key] = _Row(likelihood, sum(chances.values(), _ZERO), denominator, shares)
        return self.rows[key]


def _whole(chances: Weights) -> list[int]:
    """The same as whole numbers over one denominator, the smallest there is."""
    denominator = lcm(*(chance.denominator for chance in chances.values()))
    return [chance.numerator * (denominator // chance.denominator) for chance in chances.values()]


def _weight(observations: Iterable[Observation], genotype: Genotype) -> Fraction:
    return prod((seen.likelihood.get(genotype, _ZERO) for seen in observations), start=Fraction(1))


def _same(weights: set[Fraction]) -> bool:
    """True when there is one weight, and it is not zero."""
    return len(weights) == 1 and _ZERO not in weights


def _shares(odds: Weights, likelihood: Weights | None) -> Posterior | None:
    """Odds times how likely what was seen is, summing to 1; None where nothing is left."""
    if likelihood is not None:
        odds = {genotype: chance * likelihood[genotype] for genotype, chance in odds.items() if genotype in likelihood}
    total = sum(odds.values(), _ZERO)
    return {genotype: chance / total for genotype, chance in odds.items() if chance} if total else None
