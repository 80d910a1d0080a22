"""What a claim rests on in the end: reasons, basis, whose word, and what is taken as one copy."""

from dataclasses import replace

from sitegen.evidence.chains import Chains
from sitegen.evidence.chances import certain_copies
from sitegen.evidence.gathered import Ground, own_tests
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.genetics.questions import AnimalId

_WITHOUT_DOUBT = (ClaimKind.CARRIES, ClaimKind.RULED_OUT)


def grounded(chains: Chains, claim: Claim) -> Claim:
    """A bare claim with what it rests on."""
    basis, words = basis_of(chains, claim.animal, claim.allele, claim.kind)
    taken = () if claim.kind in _WITHOUT_DOUBT else one_copy_taken(chains, claim.animal, claim.allele)
    return replace(claim, basis=basis, reasons=chains.reasons(claim.animal), hangs_on=words, taken_as_one_copy=taken)


def basis_of(chains: Chains, animal: AnimalId, allele: str, kind: ClaimKind) -> tuple[Basis, tuple[AnimalId, ...]]:
    """What a claim rests on, and the animals whose previous keeper's word it hangs on.

    What is ruled out stays so whatever chance was stated of a parent. A certain carrier whose number of copies
    hangs on somebody's word has a basis of its own and yet such animals.
    """
    if kind is ClaimKind.SHOWS:
        return Basis.OWN_RECORDS, ()
    certain = kind in _WITHOUT_DOUBT
    tested = bool(own_tests(chains.animal(animal), chains.locus.id))
    first = chains.first_ground(animal)
    if certain and tested and first in (Ground.DNA_TEST, Ground.SHOWS_NOT, None):
        return Basis.DNA_TEST, ()
    if kind is ClaimKind.RULED_OUT:
        alone = first is Ground.STATED and animal in chains.spoken_of
        return (Basis.PREVIOUS_KEEPER, (animal,)) if alone else (Basis.OWN_RECORDS, ())
    words = keepers_words(chains, animal, allele, certain=certain)
    if words:
        return Basis.PREVIOUS_KEEPER, words
    if kind is ClaimKind.CARRIES and certain_copies(chains.posterior(animal), allele) == -1:
        words = keepers_words(chains, animal, allele, certain=False)
    if certain and first is Ground.YOUNG:
        return Basis.PROVEN_BY_YOUNG, words
    return (Basis.DNA_TEST if tested else Basis.OWN_RECORDS), words


def keepers_words(chains: Chains, animal: AnimalId, allele: str, *, certain: bool) -> tuple[AnimalId, ...]:
    """The animals whose stated odds the answer hangs on, through any number of generations, nearest first.

    Args:
        chains: The evidence.
        animal: Whose answer.
        allele: The allele asked about.
        certain: The question is what makes it certain that the animal has the allele or not; otherwise it is
            what the odds hang on.
    """
    if not chains.spoken_of:
        return ()
    if certain:
        return tuple(each for each in chains.certain(animal, allele) if each in chains.spoken_of)
    itself = (animal,) if animal in chains.spoken_of else ()  # what was stated of it counts also where it is settled
    return chains.bearing_on(animal, (*itself, *chains.in_doubt()))


def one_copy_taken(chains: Chains, animal: AnimalId, allele: str) -> tuple[AnimalId, ...]:
    """The animals taken as having one copy of an allele that the answer for one animal hangs on, nearest first."""
    taken = chains.taken_as_one_copy.get(allele, ())
    if len(chains.posterior(animal)) == 1:
        return (animal,) if animal in taken else ()
    return chains.bearing_on(animal, taken, frozenset(taken))
