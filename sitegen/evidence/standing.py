"""What is known of one species on a day while history is replayed: who is there, what was observed, what it answers."""

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.evidence.gathered import Counted, Source
from sitegen.genetics.factors import Choice, choice_of
from sitegen.genetics.loci import Genotype, Linkage, Locus, Sex
from sitegen.genetics.questions import AnimalId, Member, Observation, Posterior, Tally, parents_of
from sitegen.records.species import Species

Odds = Mapping[Genotype, Fraction]
TallyKey = str
Sires = Mapping[Choice, Mapping[AnimalId, Fraction]]
"""Choice of sire to the chance of each that is still possible."""


@dataclass(frozen=True, slots=True)
class OwnEvidence:
    """What is known of one animal alone at one locus.

    Attributes:
        observations: Looks and tests.
        prior: Odds of its own, if it is a founder with any.
        sources: Key of an observation to its record.
        together: How likely all observations are under each genotype; None if there are none.
    """

    observations: tuple[Observation, ...] = ()
    prior: Odds | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)
    together: Odds | None = None


NOTHING = OwnEvidence()
"""Nothing is known of the animal alone."""


def own_evidence(
    observations: tuple[Observation, ...], sources: Mapping[str, Source], prior: Odds | None
) -> OwnEvidence:
    """What is known of one animal alone at one locus."""
    if not observations:
        return OwnEvidence((), prior)
    together = observations[0].likelihood
    for seen in observations[1:]:
        together = {g: chance * seen.likelihood[g] for g, chance in together.items() if seen.likelihood.get(g)}
    return OwnEvidence(observations, prior, sources, together)


@dataclass(frozen=True, slots=True)
class Group:
    """What is answered together: one locus, or a linked group.

    Attributes:
        loci: The loci.
        linkage: How they are linked.
        hangs_on_sex: True when an animal's sex is part of heredity.
        is_plain: True for a locus by itself at which sex is no part of heredity.
    """

    loci: tuple[Locus, ...]
    linkage: Linkage | None = None
    hangs_on_sex: bool = field(init=False)
    is_plain: bool = field(init=False)

    def __post_init__(self) -> None:
        """Told once: it is asked of every record."""
        hangs_on_sex = any(locus.sex_linked or locus.sex_recombination is not None for locus in self.loci)
        object.__setattr__(self, "hangs_on_sex", hangs_on_sex)
        object.__setattr__(self, "is_plain", len(self.loci) == 1 and not hangs_on_sex)


def groups_of(species: Species) -> tuple[Group, ...]:
    """The loci of a species as they are answered, in the order of the species file."""
    linked = {locus: linkage for linkage in species.genome.linkages for locus in linkage.loci}
    found: list[Group] = []
    for locus in species.genome.loci:
        linkage = linked.get(locus.id)
        if linkage is None:
            found.append(Group((locus,)))
        elif linkage.loci[0] == locus.id:
            found.append(Group(tuple(species.genome.locus(each) for each in linkage.loci), linkage))
    return tuple(found)


@dataclass(slots=True)
class Standing:
    """Everything known of one species so far; it grows day by day.

    Attributes:
        groups: The loci as they are answered.
        members: Who is there.
        own: (animal, locus) to what is known of it alone.
        phases: Animal to its known chromosomes.
        tallies: Tally to its record at each locus where it tells something.
        young, tallied: Parent to its listed young, and to tallies of its young; every possible parent counted.
        listed, counted: Choice of sire to the listed young and the tallies that share it.
        posteriors: (animal, locus) to the answer; empty where there is none.
        sires: Choice of sire to its answer, where it was answered.
    """

    groups: tuple[Group, ...]
    members: dict[AnimalId, Member] = field(default_factory=dict)
    own: dict[tuple[AnimalId, str], OwnEvidence] = field(default_factory=dict)
    phases: dict[AnimalId, tuple[Mapping[str, str], ...]] = field(default_factory=dict)
    tallies: dict[TallyKey, Mapping[str, Counted]] = field(default_factory=dict)
    young: dict[AnimalId, list[AnimalId]] = field(default_factory=dict)
    tallied: dict[AnimalId, list[TallyKey]] = field(default_factory=dict)
    listed: dict[Choice, list[AnimalId]] = field(default_factory=dict)
    counted: dict[Choice, list[TallyKey]] = field(default_factory=dict)
    posteriors: dict[tuple[AnimalId, str], Posterior] = field(default_factory=dict)
    sires: dict[Choice, Mapping[AnimalId, Fraction]] = field(default_factory=dict)

    def add_member(self, member: Member) -> None:
        """Somebody new, or the same with a sex that is known by now."""
        if member.id not in self.members:
            for parent in parents_of(member):
                self.young.setdefault(parent, []).append(member.id)
            if len(member.sires) > 1:
                self.listed.setdefault(choice_of(member), []).append(member.id)
        self.members[member.id] = member

    def add_tally(self, key: TallyKey, by_locus: Mapping[str, Counted]) -> None:
        """Young that are not listed."""
        self.tallies[key] = by_locus
        tally = next(iter(by_locus.values())).tally
        for parent in parents_of(tally):
            self.tallied.setdefault(parent, []).append(key)
        if len(tally.sires) > 1:
            self.counted.setdefault(choice_of(tally), []).append(key)

    def is_settled(self, animal: AnimalId, group: Group) -> bool:
        """True when all that heredity needs to know of the animal is certain, so that it lets nothing pass."""
        if group.is_plain:
            return len(self.posteriors.get((animal, group.loci[0].id), ())) == 1
        genotypes: list[Genotype] = []
        for locus in group.loci:
            posterior = self.posteriors.get((animal, locus.id))
            if posterior is None or len(posterior) != 1:
                return False
            genotypes += posterior
        mixed = sum(first != second for first, second in genotypes)
        if group.hangs_on_sex:
            known = self.members[animal].sex is not Sex.UNKNOWN
            shuffled = len(group.loci) > 1 or group.loci[0].sex_recombination is not None
            return known and not (shuffled and mixed)
        return len(group.loci) == 1 or mixed < 2

    def open_choice(self, young: Member | Tally) -> Choice | None:
        """The choice between several possible sires, while more than one is left."""
        if len(young.sires) < 2:
            return None
        choice = choice_of(young)
        return choice if len(self.sires.get(choice, ())) != 1 else None

    def differs(self, young: Member | Tally, group: Group) -> bool:
        """True when it makes a difference at these loci which of the possible sires it was."""
        sires = [sire for sire, _ in young.sires]
        if not all(self.is_settled(sire, group) for sire in sires):
            return True
        certain = [[self.posteriors[sire, locus.id] for locus in group.loci] for sire in sires]
        return any(other != certain[0] for other in certain)

    def sires_of(self, young: Member | Tally) -> tuple[tuple[AnimalId, Fraction], ...]:
        """The possible sires with their prior chances; only the one that is left when no other can be."""
        if len(young.sires) > 1 and self.open_choice(young) is None:
            return tuple(self.sires[choice_of(young)].items())
        return young.sires

    def counted_in(self, keys: Iterable[TallyKey], family: Container[AnimalId]) -> bool:
        """True when one of these tallies is of young of the family."""
        tallies = (next(iter(self.tallies[key].values())).tally for key in keys)
        return any(parent in family for tally in tallies for parent in parents_of(tally))

    def family_of(self, animal: AnimalId) -> dict[AnimalId, None]:
        """Everybody who is connected with the animal by descent or by young that are not listed."""
        reached = {animal: None}
        waiting = [animal]
        while waiting:
            for further in self._connected(waiting.pop()):
                if further not in reached:
                    reached[further] = None
                    waiting.append(further)
        return reached

    def _connected(self, animal: AnimalId) -> Iterator[AnimalId]:
        yield from parents_of(self.members[animal])
        yield from self.young.get(animal, ())
        for key in self.tallied.get(animal, ()):
            yield from parents_of(next(iter(self.tallies[key].values())).tally)


def any_tally(standing: Standing, key: TallyKey) -> Tally:
    """The record of a tally at the first locus where it tells something."""
    return next(iter(standing.tallies[key].values())).tally


def tally_at(standing: Standing, group: int, key: TallyKey) -> Tally | None:
    """The record of a tally at the first locus of a group where it tells something."""
    by_locus = standing.tallies[key]
    return next((by_locus[locus.id].tally for locus in standing.groups[group].loci if locus.id in by_locus), None)
