"""What an answer hangs on, followed from animal to animal back to the first links.

Two questions are answered here, at one locus. Of an answer that is certain: which animals make it so. Of one that is
not: whose odds can bear on it at all. The second is d-separation by way of the moral ancestral graph (Lauritzen SL,
Dawid AP, Larsen BN, Leimer HG (1990), *Networks* 20:491-505): of the animal asked about, all animals with evidence, and
all ancestors of these, parents and young are neighbours, and so are two parents of one young; an animal whose genotype
is settled lets nothing pass.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from sitegen.content.animals import Animal
from sitegen.evidence.answers import Answers
from sitegen.evidence.gathered import Evidence, Ground, LocusEvidence, Reason, has_word, own_tests, reached
from sitegen.evidence.kinds import chance_of_allele, chance_of_copies
from sitegen.genetics.loci import WILD, Genotype, Locus
from sitegen.genetics.questions import AnimalId, Member, Posterior, Tally, parents_of

ReasonsFor = Callable[[AnimalId, str], tuple[Reason, ...]]
"""(animal, locus) to its decisive evidence, decisive first."""

PROOF = frozenset({Ground.SHOWS_ITSELF, Ground.SHOWS_NOT, Ground.DNA_TEST, Ground.YOUNG, Ground.SIBLINGS})
"""Grounds that settle a question without anybody's word."""

NEAREST = 6
"""How many animals are put in order of nearness; the others follow in record order."""


@dataclass(frozen=True, slots=True)
class Chains:
    """The evidence at one locus of one species, ready to be followed from animal to animal.

    Attributes:
        posteriors: Animal to the answer; who has none is left out.
        reasons_for: Asked only where a claim needs it.
        spoken_of: The animals of which a previous keeper stated anything at the locus, in record order.
        settled: The animals whose whole genotype is certain, and not on a previous keeper's word about them.
        neighbours: Animal to its neighbours in the graph of the evidence alone.
        taken_as_one_copy: Allele to the founders that are taken as having one copy of it, in record order.
        possible: Animal to the genotypes that no record rules out; who may not be called certain of any is left out.
        surprised: Founders that have what nobody wrote, to whether that is a discovery.
        strained: The animals whose odds what is taken for granted fits badly.
        families: What :mod:`sitegen.evidence.conditions` has worked out of some animals.
    """

    evidence: Evidence
    known: LocusEvidence
    posteriors: Mapping[AnimalId, Posterior]
    reasons_for: ReasonsFor
    spoken_of: tuple[AnimalId, ...]
    settled: frozenset[AnimalId]
    neighbours: Mapping[AnimalId, Mapping[AnimalId, None]]
    taken_as_one_copy: Mapping[str, tuple[AnimalId, ...]] = field(default_factory=dict)
    possible: Mapping[AnimalId, frozenset[Genotype]] = field(default_factory=dict)
    strained: frozenset[AnimalId] = frozenset()
    surprised: Mapping[AnimalId, bool] = field(default_factory=dict)
    families: list[Any] = field(default_factory=list, compare=False)

    @property
    def locus(self) -> Locus:
        """The locus."""
        return self.known.question.locus

    def animal(self, animal: AnimalId) -> Animal:
        """The record."""
        return self.evidence.collection.animals[animal]

    def parents(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """The recorded parents, every possible sire among them."""
        return parents_of(self.animal(animal))

    def posterior(self, animal: AnimalId) -> Posterior:
        """The posterior; empty when there is no answer."""
        return self.posteriors.get(animal, {})

    def reasons(self, animal: AnimalId) -> tuple[Reason, ...]:
        """The decisive evidence."""
        return self.reasons_for(animal, self.locus.id)

    def first_ground(self, animal: AnimalId) -> Ground | None:
        """What decides an answer above all; None when no reason is known."""
        return next((reason.ground for reason in self.reasons(animal)), None)

    def is_proven(self, animal: AnimalId, allele: str) -> bool:
        """True when it is settled without anybody's word whether the animal has the allele."""
        return chance_of_allele(self.posterior(animal), allele) in (0, 1) and self.first_ground(animal) in PROOF

    def in_doubt(self) -> tuple[AnimalId, ...]:
        """Those of ``spoken_of`` that are not settled."""
        return tuple(animal for animal in self.spoken_of if animal not in self.settled)

    def bearing_on(
        self, animal: AnimalId, wanted: Sequence[AnimalId], opened: AbstractSet[AnimalId] = frozenset()
    ) -> tuple[AnimalId, ...]:
        """Those of ``wanted`` whose odds can bear on an answer: the nearest first, then the others in their order.

        ``wanted`` are founders or parents; ``opened`` count as not settled although their genotype is certain.
        """
        if not wanted:
            return ()
        line = self._reached(animal, opened)
        among = set(wanted).intersection(line)
        nearest = [each for each in line if each in among][:NEAREST]
        return tuple(dict.fromkeys((*nearest, *(each for each in wanted if each in among))))

    def _reached(self, start: AnimalId, opened: AbstractSet[AnimalId]) -> Mapping[AnimalId, None]:
        """The animals whose odds can bear on the answer for ``start``, itself among them, nearest first.

        Where ``start`` has no evidence and no descendant with any, its line joins the graph on the way up. Of one that
        is settled itself only what its parents hang on is asked.
        """
        upwards = {start}

        def beside(here: AnimalId) -> Iterator[AnimalId]:
            above = self.parents(here) if here in upwards else ()
            upwards.update(above)
            closed = here in self.settled and here not in opened
            for further in (*above, *(() if closed else self.neighbours.get(here, ()))):
                if further not in self.settled or further in opened:
                    yield further

        return reached((start,), beside)

    def certain(self, animal: AnimalId, allele: str) -> tuple[AnimalId, ...]:
        """The animals on which it hangs that an animal has an allele for certain, nearest first.

        Nothing beyond an animal where that is proven; nothing beyond two parents where one of them is proven to
        pass the allele on in any case.
        """
        line = reached((animal,), lambda here: self._certain_from(here, allele))
        return tuple(each for each in line if not self.is_proven(each, allele))

    def _certain_from(self, animal: AnimalId, allele: str) -> tuple[AnimalId, ...]:
        """The parents on which certainty hangs directly."""
        if self.is_proven(animal, allele):
            return ()
        parents = self.parents(animal)
        passing = tuple(p for p in parents if chance_of_copies(self.posterior(p), allele, 2) == 1)
        if len(parents) <= 2 and any(self.first_ground(parent) in PROOF for parent in passing):
            return ()
        reasons = self.reasons(animal)
        named = tuple(a for r in reasons if r.ground in (Ground.DAM, Ground.SIRE) for a in r.animals)
        return passing or named or tuple(p for p in parents if chance_of_allele(self.posterior(p), allele) == 1)


ChainsAt = Mapping[tuple[str, str], Chains]
"""(species, locus) to its chains."""


def chains_of(evidence: Evidence, answers: Answers, reasons_for: ReasonsFor) -> ChainsAt:
    """The chains of every locus."""
    # The reasons of an ancestor are asked for by each of its descendants: the one thing here that is remembered.
    reasons = cache(reasons_for)
    return {key: _chains_at(evidence, known, answers, reasons) for key, known in evidence.loci.items()}


def _chains_at(evidence: Evidence, known: LocusEvidence, answers: Answers, reasons_for: ReasonsFor) -> Chains:
    locus = known.question.locus.id
    found = {animal: answers.posteriors.get(animal, {}).get(locus) for animal in known.said}
    posteriors = {animal: posterior for animal, posterior in found.items() if posterior}
    spoken_of = tuple(each for each in known.said if has_word(evidence.collection.animals[each], locus))

    def on_a_word(animal: AnimalId) -> bool:
        return animal in spoken_of and not any(reason.ground in PROOF for reason in reasons_for(animal, locus)[:1])

    settled = frozenset(each for each, odds in posteriors.items() if len(odds) == 1 and not on_a_word(each))
    unnamed = [member.id for member in evidence.unrecorded[known.species]]
    here = [found for found in answers.surprises if found.locus == locus and found.species == known.species]
    discovered = {each: each in found.discovered for found in here for each in found.animals}
    surprised = {each for found in here for each in found.unrecorded}
    doubtful = frozenset(each for each in unnamed if known.question.locus.background or each in surprised)
    chains = Chains(
        evidence, known, posteriors, reasons_for, spoken_of, settled, _neighbours(evidence, known, doubtful)
    )
    taken = {allele.id: _taken_as_one_copy(chains, allele.id) for allele in chains.locus.alleles}
    possible = {animal: left for animal in known.said if (left := answers.possible.get(animal, {}).get(locus))}
    strained = frozenset(animal for animal, at in answers.strained if at == locus)
    return replace(chains, taken_as_one_copy=taken, possible=possible, strained=strained, surprised=discovered)


def _neighbours(
    evidence: Evidence, known: LocusEvidence, doubtful: AbstractSet[AnimalId]
) -> Mapping[AnimalId, Mapping[AnimalId, None]]:
    """Animal to its neighbours: of those with evidence and their ancestors all that are founders or have young.

    An unrecorded parent is among them only where it is ``doubtful``: one that is wild type lets nothing pass.
    """
    members, animals = {member.id: member for member in known.question.members}, evidence.collection.animals

    def parents(young: Member | Tally) -> tuple[AnimalId, ...]:
        return tuple(each for each in parents_of(young) if each in animals or each in doubtful)

    pairs = [parents(tally) for tally in known.question.tallies]
    told = [animal for animal, said in known.said.items() if said.observations]
    line = reached((*told, *(parent for pair in pairs for parent in pair)), lambda each: parents(members[each]))
    bred = {parent for animal in line for parent in parents(members[animal])}.union(*pairs)
    found: dict[AnimalId, dict[AnimalId, None]] = {}
    for family in (*((animal, *parents(members[animal])) for animal in line), *pairs):
        # No way leads through an animal that has parents and no young: three quarters of the graph are left out.
        within = family if bred.issuperset(family[:1]) or len(family) == 1 else family[1:]
        for member in within:
            found.setdefault(member, {}).update((other, None) for other in within if other != member)
    return found


def _taken_as_one_copy(chains: Chains, allele: str) -> tuple[AnimalId, ...]:
    """All animals that are taken as having one copy of an allele, in record order.

    A founder that shows an allele whose one and two copies look alike, where nothing settles the copies. A young
    without the allele settles them: its parent has one copy.
    """
    locus = chains.locus
    one, two = locus.genotype(WILD, allele), (allele, allele)
    look = locus.shown.get(one)
    if look is None or two in locus.lethal or look != locus.shown.get(two):
        return ()
    animals = (chains.animal(each) for each, odds in chains.posteriors.items() if odds.get(one) == 1)
    return tuple(
        animal.id
        for animal in animals
        if any(seen.look == look for genes in animal.genes for seen in genes.judged.seen)
        and not (chains.parents(animal.id) or animal.id in chains.spoken_of or own_tests(animal, locus.id))
        and not _have_young_without(chains, animal.id, allele)
    )


def _have_young_without(chains: Chains, animal: AnimalId, allele: str) -> bool:
    """True when young of which the animal is a parent do not have the allele, listed ones or such as are counted."""
    if any(chance_of_allele(chains.posterior(young), allele) == 0 for young in chains.evidence.young.get(animal, ())):
        return True
    own = (each for each in chains.known.question.tallies if each.dam == animal or dict(each.sires).keys() == {animal})
    return any(all(allele not in genotype for genotype in tally.likelihood) for tally in own)
