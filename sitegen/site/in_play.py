"""The genes in play among the animals that can be had: each has a page on which these are compared."""

from collections.abc import Mapping

from sitegen.content.animals import Animal, OfferState
from sitegen.content.collection import Collection
from sitegen.evidence.kinds import Claim, alleles_of
from sitegen.evidence.offers import standing
from sitegen.genetics.questions import AnimalId
from sitegen.site.addresses import comparison_address

OPEN = (OfferState.AVAILABLE, OfferState.ON_HOLD)

Gene = tuple[str, str]
"""Species and allele."""


def can_be_had(animal: Animal) -> bool:
    """True while an animal is available or on hold."""
    return standing(animal) in OPEN


def comparisons(collection: Collection, claims: Mapping[AnimalId, tuple[Claim, ...]]) -> dict[Gene, str]:
    """Species and allele of every gene that an animal on offer shows, carries or may carry, to the page's address.

    In the order of the species files. Ids that differ only in capitals would share a file on some disks, so the later
    one gets a number.
    """
    here = [a for a in collection.animals.values() if can_be_had(a)]
    found: dict[Gene, None] = {}
    for animal in here:
        genome = collection.species[animal.species].genome
        for claim in claims.get(animal.id, ()):
            found.update(
                dict.fromkeys((animal.species, allele) for allele in alleles_of(claim, genome.locus(claim.locus)))
            )
    every = [(s.id, a.id) for s in collection.species.values() for locus in s.genome.loci for a in locus.alleles]
    addresses: dict[Gene, str] = {}
    for gene in every:
        if gene in found:
            addresses[gene] = _free(comparison_address(*gene), {place.casefold() for place in addresses.values()})
    return addresses


def _free(address: str, taken: set[str]) -> str:
    """The address, or one with a number that no other page has."""
    number = 2
    free = address
    while free.casefold() in taken:
        free = f"{address.removesuffix('.html')}-{number}.html"
        number += 1
    return free
