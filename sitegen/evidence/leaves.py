"""New records that tell nothing of anybody else, and the answers about them, which need no network.

What is seen of a new young tells nothing of its parents where it is equally likely whichever of their possible
genotypes they have; then nobody else has to be asked again. Its own answer follows from its parents' answers, as long
as at least one of these is certain or not recorded: only then are they independent of each other.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from math import prod

from sitegen.evidence.standing import NOTHING, Standing, tally_at
from sitegen.frozen import dataclass
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


@dataclass(slots=True)
class Leaves:
    """Answers about single records.

    Attributes:
        standing: What is known.
        opened: Of whom what is known of them alone, their parents or their young were looked at.
        passed_on: For each group, what pairs pass on; made when it is needed first.
        known: What follows for young, by group and the identities of the odds of dam and sire and of the likelihood.
        rows: (group, dam, sire) to the chance of each genotype among their living young.
        usual: (group, sex) to the odds of the species.
    """

    standing: Standing
    opened: set[AnimalId] = field(default_factory=set)
    passed_on: dict[int, Transmission] = field(default_factory=dict)
    known: dict[tuple[int, int, int, int], _OfPair] = field(default_factory=dict)
    rows: dict[tuple[int, Genotype, Genotype], Weights] = field(default_factory=dict)
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
        return self.quiet_posterior(member, number) if self.is_quiet(member.id, number) else None

    def quiet_posterior(self, member: Member, number: int) -> Posterior:
        """The answer about an animal that tells nothing of its parents, from their answers."""
        found = self._of_pair(member, number, self._own_likelihood(member.id, number))
        return found.posterior if found is not None else {}

    def is_quiet(self, name: AnimalId, number: int) -> bool:
        """True when neither a young nor anything that descends from it tells anything of its parents.

        Whatever its parents' answers become, its own answer and those below it then follow from them.
        """
        self.opened.add(name)
        found = self._of_pair(self.standing.members[name], number, self._own_likelihood(name, number))
        if found is None or not found.is_quiet:
            return False
        counted = (tally_at(self.standing, number, key) for key in self.standing.tallied.get(name, ()))
        return all(tally is None or self.tally_tells_nothing(tally, number) for tally in counted) and all(
            self.is_quiet(young, number) for young in self.standing.young.get(name, ())
        )

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
        totals: set[Fraction] = set()
        sums: dict[Genotype, Fraction] = {}
        for dam, chance in dams.items():
            for sire, other in fathers.items():
                row = self._row(number, dam, sire)
                if likelihood is not None:
                    row = {g: share * likelihood[g] for g, share in row.items() if g in likelihood}
                totals.add(sum(row.values(), _ZERO))
                for genotype, weight in row.items():
                    sums[genotype] = sums.get(genotype, _ZERO) + chance * other * weight
        return _OfPair((dams, fathers, likelihood), _same(totals), _shares(sums, None) or {})

    def _odds(self, parent: AnimalId | None, number: int, sex: Sex) -> Weights:
        """A parent's answer; the odds of the species for one that is not recorded; empty where there is no answer."""
        locus = self.standing.groups[number].loci[0]
        if parent is not None:
            return self.standing.posteriors.get((parent, locus.id), _NO_ANSWER)
        if (number, sex) not in self.usual:
            self.usual[number, sex] = background(locus, sex)
        return self.usual[number, sex]

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
