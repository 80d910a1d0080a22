"""Littermates of whom the same is told, so that its words are put together once for all of them.

Most young of a litter that look alike have the same claims for the same reasons, and differ in number, sex or price.
Of each such group one young stands for all: the first whose page or paper is made. What is told of it there stands on
the others' pages as it is. Pages are made in the order of their addresses, so littermates come one after the other.

Two young are told alike when everything is equal that words of claims are made from: their claims but for their own
name in the reasons, and of their records what such words look up. A young with more evidence of its own than what was
seen of it, or of which a claim names it beside others, stands for itself.
"""

from collections.abc import Callable, Hashable
from typing import TypeVar

from sitegen.claims.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.pages.material import Folio
from sitegen.records.animals import Animal
from sitegen.records.genes import Genes, Judged
from sitegen.wording.speech import tongue

_T = TypeVar("_T")
ITSELF = "itself"
"""Stands for an animal's own id in the reasons of what is told of it."""


def told_once(what: str, animal: Animal, folio: Folio, make: Callable[[AnimalId], _T], *more: Hashable) -> _T:
    """What claims tell of an animal, made once for all littermates of whom the same is told.

    Args:
        what: Names what is made.
        animal: The animal.
        folio: The page.
        make: Makes it, given the young that stands for all. It may ask of that one or of the animal only for claims,
            for what :func:`stands_for` compares and for what follows from these, such as how the parents are
            related: not for a name, sex, offer, sheet or photograph.
        more: What else it hangs on, such as the folder that its links are written for.
    """
    first = stands_for(animal, folio)
    return folio.material.lately(("told once", what, first, tongue(), *more), lambda: make(first))


def linked_once(what: str, animal: Animal, folio: Folio, make: Callable[[AnimalId], _T]) -> _T:
    """The same where it holds links; none may lead to the animal's own page."""
    return told_once(what, animal, folio, make, folio.folder)


def stands_for(animal: Animal, folio: Folio) -> AnimalId:
    """The littermate that stands for an animal, of whom the same is told; often the animal itself."""

    def found() -> AnimalId:
        sex = animal.sex if _sex_matters(animal.species, folio) else None
        told = _told(animal, sex, folio.claims(animal.id))
        if told is None:
            return animal.id
        firsts: dict[Hashable, AnimalId] = folio.material.lately(("young told alike", animal.litter), dict)
        return firsts.setdefault(told, animal.id)

    return folio.material.lately(("stands for", animal.id), found)


def _sex_matters(species: str, folio: Folio) -> bool:
    """True where a locus has one copy in one sex, which the words for it tell."""
    return any(locus.sex_linked for locus in folio.collection.species[species].genome.loci)


def _told(animal: Animal, sex: Sex | None, claims: tuple[Claim, ...]) -> Hashable | None:
    """All that words of its claims are made from; None where it stands for itself."""
    if not animal.litter or animal.each_its_own_sire or not all(map(_only_seen, animal.genes)):
        return None
    if not all(map(_only_itself, claims)):
        return None
    parents = animal.litter, animal.dam, animal.sires
    record = (
        animal.species,
        animal.born,
        animal.died is None,
        animal.is_young,
        tuple([_seen(genes.judged) for genes in animal.genes]),
    )
    return parents, record, sex, tuple(map(_claim, claims))


def _only_seen(genes: Genes) -> bool:
    """True where nothing is recorded of its genes but what was seen of it."""
    return not (genes.stated or genes.tests or genes.copies or genes.haplotypes or genes.markers)


def _only_itself(claim: Claim) -> bool:
    """True where a claim names its animal by itself, if at all, and only as such whose words are the same for all."""
    me = claim.animal
    if claim.kind is ClaimKind.NOT_KNOWN or me in claim.hangs_on:
        return False
    named = (claim.taken_as_one_copy, *[reason.animals for reason in claim.reasons])
    return not any(me in animals and len(animals) > 1 for animals in named)


def _seen(judged: Judged) -> Hashable:
    looks = tuple([(seen.look, seen.locus) for seen in judged.seen])
    return looks, judged.unsure, judged.unsure_all, judged.written, judged.on


def _claim(claim: Claim) -> Hashable:
    """A claim without its animal's id, and without the places of its reasons, which no page tells.

    Fractions stand as their two numbers: a hash of one takes ten times as long.
    """
    own = (claim.animal,)
    return (
        claim.kind, claim.species, claim.locus, claim.allele, claim.look, claim.chance.as_integer_ratio(),
        claim.copies, tuple([(genotype, chance.as_integer_ratio()) for genotype, chance in claim.posterior.items()]),
        claim.basis, claim.unjudged, claim.hidden_by, claim.hangs_on,
        ITSELF if claim.taken_as_one_copy == own else claim.taken_as_one_copy,
        tuple([
            (reason.ground, ITSELF if reason.animals == own else reason.animals, reason.litter, reason.detail)
            for reason in claim.reasons
        ]),
    )  # fmt: skip
