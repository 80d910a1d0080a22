"""New records that tell nothing of anybody else, and the answers about them, which need no network.

What is seen of a new young tells nothing of its parents where it is equally likely whichever of their possible
genotypes they have; then nobody else has to be asked again. Its own answer follows from its parents' answers, as long
as at least one of these is certain or not recorded: only then are they independent of each other.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import prod

from sitegen.evidence.standing import NOTHING, Standing, tally_at
from sitegen.genetics.gametes import mode_of_locus
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.observations import background
from sitegen.genetics.questions import AnimalId, Member, Observation, Posterior, Tally
from sitegen.genetics.transmission import Transmission

_ZERO = Fraction(0)
Weights = Mapping[Genotype, Fraction]


@dataclass(slots=True)
class Leaves:
    """Answers about single records.

    Attributes:
        standing: What is known.
        passed_on: For each group, what pairs pass on; made when it is needed first.
        known: Young or tallies, with what their parents may have, to whether they tell nothing of them.
        rows: (group, dam, sire) to the chance of each genotype among their living young.
    """

    standing: Standing
    passed_on: dict[int, Transmission] = field(default_factory=dict)
    known: dict[tuple[int, str, int, tuple[tuple[Genotype, ...], ...]], bool] = field(default_factory=dict)
    rows: dict[tuple[int, Genotype, Genotype], Weights] = field(default_factory=dict)

    def tells_nothing(self, animal: AnimalId, number: int, observations: Sequence[Observation]) -> bool:
        """True when new observations of an animal are equally likely under every genotype that it may have."""
        group = self.standing.groups[number]
        if len(group.loci) > 1:
            return False
        posterior = self.standing.posteriors.get((animal, group.loci[0].id))
        return bool(posterior) and _same({_weight(observations, genotype) for genotype in posterior or ()})

    def tally_tells_nothing(self, tally: Tally, number: int) -> bool:
        """True when what young show that are not listed is equally likely whatever their parents may be."""
        group = self.standing.groups[number]
        if len(group.loci) > 1 or group.hangs_on_sex or len(self.standing.sires_of(tally)) > 1:
            return False
        key = number, tally.key, -1, self._support(tally, number)
        if key not in self.known:
            pairs = self._pairs(tally, number)
            told = pairs is None or not _same({self._total(number, pair, tally.likelihood) for pair in pairs})
            self.known[key] = not told
        return self.known[key]

    def posterior(self, member: Member, number: int) -> Posterior | None:
        """The answer about a new animal; None where others have to be asked as well."""
        group = self.standing.groups[number]
        if len(group.loci) > 1 or group.hangs_on_sex:
            return None
        if member.dam is None and not member.sires:
            own = self.standing.own.get((member.id, group.loci[0].id), NOTHING)
            odds = own.prior or background(group.loci[0], member.sex)
            return _shares(odds, own.together)
        return self.quiet_posterior(member, number) if self.is_quiet(member.id, number) else None

    def quiet_posterior(self, member: Member, number: int) -> Posterior:
        """The answer about an animal that tells nothing of its parents, from their answers."""
        own = self.standing.own.get((member.id, self.standing.groups[number].loci[0].id), NOTHING)
        sums: dict[Genotype, Fraction] = {}
        for pair, chance in (self._pairs(member, number) or {}).items():
            for genotype, share in self._row(number, *pair).items():
                if own.together is None or genotype in own.together:
                    sums[genotype] = sums.get(genotype, _ZERO) + chance * share
        return _shares(sums, own.together) or {}

    def is_quiet(self, name: AnimalId, number: int) -> bool:
        """True when neither a young nor anything that descends from it tells anything of its parents.

        Whatever its parents' answers become, its own answer and those below it then follow from them.
        """
        member = self.standing.members[name]
        group = self.standing.groups[number]
        if len(group.loci) > 1 or group.hangs_on_sex or len(self.standing.sires_of(member)) > 1:
            return False
        own = self.standing.own.get((name, group.loci[0].id), NOTHING)
        key = number, name, len(own.observations), self._support(member, number)
        if key not in self.known:
            pairs = self._pairs(member, number)
            told = pairs is None or not _same({self._total(number, pair, own.together) for pair in pairs})
            self.known[key] = not told
        if not self.known[key]:
            return False
        counted = (tally_at(self.standing, number, key) for key in self.standing.tallied.get(name, ()))
        return all(tally is None or self.tally_tells_nothing(tally, number) for tally in counted) and all(
            self.is_quiet(young, number) for young in self.standing.young.get(name, ())
        )

    def _support(self, young: Member | Tally, number: int) -> tuple[tuple[Genotype, ...], ...]:
        """The genotypes that its parents may have."""
        locus = self.standing.groups[number].loci[0].id
        parents = (*((young.dam,) if young.dam else ()), *(sire for sire, _ in self.standing.sires_of(young)))
        return tuple(tuple(sorted(self.standing.posteriors.get((parent, locus), {}))) for parent in parents)

    def _pairs(self, young: Member | Tally, number: int) -> Mapping[tuple[Genotype, Genotype], Fraction] | None:
        """Chance of each pair of genotypes of dam and sire; None unless they are independent of each other."""
        group = self.standing.groups[number]
        sires = self.standing.sires_of(young)
        if len(group.loci) > 1 or group.hangs_on_sex or len(sires) > 1:
            return None
        locus = group.loci[0]
        sire = sires[0][0] if sires else None
        dams, fathers = self._odds(young.dam, locus, Sex.FEMALE), self._odds(sire, locus, Sex.MALE)
        if not dams or not fathers or (young.dam and sire and len(dams) > 1 and len(fathers) > 1):
            return None
        return {(d, s): chance * other for d, chance in dams.items() for s, other in fathers.items()}

    def _odds(self, parent: AnimalId | None, locus: Locus, sex: Sex) -> Weights:
        """A parent's answer; the odds of the species for one that is not recorded; empty where there is no answer."""
        return background(locus, sex) if parent is None else self.standing.posteriors.get((parent, locus.id), {})

    def _total(self, number: int, pair: tuple[Genotype, Genotype], likelihood: Weights | None) -> Fraction:
        """How likely a young of the pair is to be as it was seen."""
        row = self._row(number, *pair)
        seen = row.values() if likelihood is None else (share * likelihood.get(g, _ZERO) for g, share in row.items())
        return sum(seen, _ZERO)

    def _row(self, number: int, dam: Genotype, sire: Genotype) -> Weights:
        """Chance of each genotype among the living young of a pair."""
        key = number, dam, sire
        if key not in self.rows:
            if number not in self.passed_on:
                self.passed_on[number] = Transmission(mode_of_locus(self.standing.groups[number].loci[0]))
            transmission = self.passed_on[number]
            mode = transmission.mode
            state = {genotypes[0]: rank for rank, genotypes in enumerate(mode.genotypes)}
            young = transmission.young(state[dam], state[sire])
            self.rows[key] = {mode.genotypes[rank][0]: chance for rank, chance in young.items()}
        return self.rows[key]


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
