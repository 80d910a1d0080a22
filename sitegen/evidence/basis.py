"""What a claim rests on in the end."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from sitegen.content.animals import Animal
from sitegen.content.genes import DnaTest, Judged
from sitegen.evidence.chains import Chains, has_word
from sitegen.evidence.chances import certain_copies, chance_of_allele
from sitegen.evidence.gathered import Ground
from sitegen.evidence.judging import unjudged_alleles
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.genetics.loci import WILD, Locus
from sitegen.genetics.questions import AnimalId

_WITHOUT_DOUBT = (ClaimKind.CARRIES, ClaimKind.RULED_OUT)


def own_tests(animal: Animal, locus: str) -> tuple[DnaTest, ...]:
    """The DNA tests of the animal itself at a locus."""
    return tuple(test for genes in animal.genes for test in genes.tests if test.locus == locus)


def basis_of(
    chains: Chains, animal: AnimalId, locus: Locus, allele: str, kind: ClaimKind
) -> tuple[Basis, tuple[AnimalId, ...]]:
    """What a claim rests on, and the animals whose previous keeper's word it hangs on.

    What is ruled out stays so whatever chance was stated of a parent. A certain carrier whose number of copies
    hangs on somebody's word has a basis of its own and yet such animals.
    """
    if kind is ClaimKind.SHOWS:
        return Basis.OWN_RECORDS, ()
    certain = kind in _WITHOUT_DOUBT
    tested = bool(own_tests(chains.collection.animals[animal], locus.id))
    first = chains.first_ground(animal, locus.id)
    if certain and tested and first in (Ground.DNA_TEST, Ground.SHOWS_NOT, None):
        return Basis.DNA_TEST, ()
    if kind is ClaimKind.RULED_OUT:
        alone = first is Ground.STATED and has_word(chains.collection.animals[animal], locus.id)
        return (Basis.PREVIOUS_KEEPER, (animal,)) if alone else (Basis.OWN_RECORDS, ())
    words = keepers_words(chains, animal, locus, allele, certain=certain)
    if words:
        return Basis.PREVIOUS_KEEPER, words
    if kind is ClaimKind.CARRIES and certain_copies(chains.posterior(animal, locus.id), allele) == -1:
        words = keepers_words(chains, animal, locus, allele, certain=False)
    if certain and first is Ground.YOUNG:
        return Basis.PROVEN_BY_YOUNG, words
    return (Basis.DNA_TEST if tested else Basis.OWN_RECORDS), words


def keepers_words(
    chains: Chains, animal: AnimalId, locus: Locus, allele: str, *, certain: bool
) -> tuple[AnimalId, ...]:
    """The animals whose stated odds the answer hangs on, through any number of generations, nearest first.

    Args:
        chains: The evidence.
        animal: Whose answer.
        locus: The locus.
        allele: The allele asked about.
        certain: The question is what makes it certain that the animal has the allele or not; otherwise it is
            what the odds hang on.
    """
    key = chains.collection.animals[animal].species, locus.id
    spoken_of = chains.spoken_of.get(key, {})
    if certain and spoken_of:
        return tuple(each for each in chains.certain(animal, locus.id, allele) if each in spoken_of)
    in_doubt = chains.spoken_of_in_doubt(key)
    if animal not in spoken_of:
        return chains.words_bearing_on(animal, locus) if in_doubt else ()
    return chains.bearing_on(animal, locus, in_doubt, frozenset(), itself=True)


def taken_as_one_copy(chains: Chains, locus: Locus, species: str, allele: str) -> frozenset[AnimalId]:
    """All animals of a species that are taken as having one copy of an allele."""
    return frozenset(
        animal.id
        for animal in chains.collection.animals.values()
        if animal.species == species
        and any(seen.locus == locus.id for genes in animal.genes for seen in genes.judged.seen)
        and _is_taken_as_one_copy(chains, animal, locus, allele)
    )


def _is_taken_as_one_copy(chains: Chains, animal: Animal, locus: Locus, allele: str) -> bool:
    """True for a founder that shows an allele whose one and two copies look alike, when nothing settles the copies.

    A young without the allele settles them: its parent has one copy.
    """
    one, two = locus.genotype(WILD, allele), (allele, allele)
    look = locus.shown.get(one)
    seen = any(seen.look == look for genes in animal.genes for seen in genes.judged.seen)
    alike = look is not None and two not in locus.lethal and look == locus.shown.get(two)
    known = chains.parents(animal.id) or has_word(animal, locus.id) or own_tests(animal, locus.id)
    if not seen or not alike or known or chains.posterior(animal.id, locus.id).get(one) != 1:
        return False
    return not any(_young_without(chains, animal, locus, allele))


def _young_without(chains: Chains, animal: Animal, locus: Locus, allele: str) -> Iterator[bool]:
    """Whether young of the animal do not have the allele: each listed young, then each tally."""
    for young in chains.young_of.get(animal.id, ()):
        yield chance_of_allele(chains.posterior(young, locus.id), allele) == 0
    for litter in chains.collection.bred_by(animal.id):
        if animal.id == litter.dam or [sire for sire, _ in litter.sires] == [animal.id]:
            for others in litter.others:
                yield others.count > 0 and _looked_and_not_seen(chains, animal.species, locus, allele, others.judged)


def _looked_and_not_seen(chains: Chains, species: str, locus: Locus, allele: str, judged: Judged) -> bool:
    """True when young at birth were judged for an allele that always shows, and did not show it."""
    genome = chains.collection.species[species].genome
    judgeable = allele not in unjudged_alleles(genome, locus, judged, 0) and locus.allele(allele).penetrance == 1
    looked = judged.written and not judged.unsure_all and locus.id not in judged.unsure
    return looked and judgeable and not any(seen.locus == locus.id for seen in judged.seen)


def one_copy_taken(chains: Chains, animal: AnimalId, locus: Locus, taken: frozenset[AnimalId]) -> tuple[AnimalId, ...]:
    """The animals of ``taken`` that the answer for one animal hangs on, nearest first."""
    if not taken or len(chains.posterior(animal, locus.id)) == 1:
        return (animal,) if animal in taken else ()
    return chains.bearing_on(animal, locus, chains.in_order(taken), taken)


@dataclass(frozen=True)
class Grounding:
    """The chains of evidence, and who is taken as having one copy of which allele, worked out once."""

    chains: Chains
    _taken: dict[tuple[str, str, str], frozenset[AnimalId]] = field(default_factory=dict)

    def grounded(self, claim: Claim, locus: Locus) -> Claim:
        """The claim with its reasons, its basis and what it hangs on."""
        basis, words = basis_of(self.chains, claim.animal, locus, claim.allele, claim.kind)
        reasons = self.chains.reasons(claim.animal, locus.id)
        return claim.grounded(basis, reasons, words, self._one_copy(claim, locus))

    def _one_copy(self, claim: Claim, locus: Locus) -> tuple[AnimalId, ...]:
        """The animals taken as having one copy, where the claim hangs on it."""
        if not claim.allele or claim.kind in (ClaimKind.CARRIES, ClaimKind.RULED_OUT):
            return ()
        key = claim.species, locus.id, claim.allele
        if key not in self._taken:
            self._taken[key] = taken_as_one_copy(self.chains, locus, claim.species, claim.allele)
        return one_copy_taken(self.chains, claim.animal, locus, self._taken[key])
