"""Why something is certain: a smallest set of records that cannot be true together with the contrary."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from sitegen.evidence.conflicts import Removable, clashing
from sitegen.evidence.gathered import Ground, LocusGroup, Reason
from sitegen.evidence.nearby import Nearby
from sitegen.genetics.loci import Genotype
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.pedigree import pedigree_of
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Observation

_SAID = (Ground.STATED, Ground.BACKGROUND, Ground.NOTHING_STATED)


def unit_of(near: Nearby) -> LocusGroup:
    """What is asked at the locus, with its linked group."""
    return near.asked.evidence.units[near.asked.by_locus[near.known.species, near.locus.id]]


def family_of(unit: LocusGroup, animal: AnimalId) -> tuple[AnimalId, ...]:
    """All animals that are connected to this one, in record order."""
    asked = unit.question.questions if isinstance(unit.question, LinkedQuestion) else (unit.question,)
    pedigree = pedigree_of(asked[0].members, [tally for question in asked for tally in question.tallies])
    family = pedigree.families[pedigree.family_of[pedigree.position[animal]]]
    return tuple(pedigree.ids[number] for number in family)


def proof_of(near: Nearby, animal: AnimalId, contrary: Callable[[Genotype], bool]) -> list[Reason]:
    """The records that exclude the contrary, none of which can be left out; what hangs on a word comes first.

    Nothing where they would take more memory than is allowed, or where only other loci exclude it.

    Args:
        near: The surroundings of the animal.
        animal: Whom it is about.
        contrary: True for the genotypes that are not to be.
    """
    likelihood = {genotype: Fraction(1) for genotype in all_genotypes(near.locus) if contrary(genotype)}
    unit = unit_of(near)
    seen = Observation(animal, likelihood, near.locus.id)
    pieces = clashing(near.asked.evidence, [unit], family_of(unit, animal), seen)
    reasons = [_reason(near, animal, piece) for piece in pieces]
    return sorted(dict.fromkeys(reasons), key=lambda reason: reason.ground not in _SAID)


def _reason(near: Nearby, animal: AnimalId, piece: Removable) -> Reason:
    """A piece of the proof, by what it is to the animal."""
    reason = piece.source.reason()
    about = piece.source.animal
    record = near.animal(animal)
    if reason.ground in _SAID or about == animal:
        return reason
    if not about:
        ours = any(tally.key == piece.key for tally in near.tallies(animal))
        return replace(reason, ground=Ground.YOUNG if ours else Ground.SIBLINGS)
    if about == record.dam:
        return replace(reason, ground=Ground.DAM)
    if about in near.sires(animal):
        return replace(reason, ground=Ground.SIRE)
    litter = near.animal(about).litter
    if about in near.descendants(animal):
        return Reason(Ground.YOUNG, (about,), litter, reason.places)
    parents = {record.dam, *near.sires(animal)} - {None}
    if parents & {near.animal(about).dam, *near.sires(about)}:
        return Reason(Ground.SIBLINGS, (about,), litter, reason.places)
    return reason
