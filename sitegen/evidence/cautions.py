"""Which cautions go with an animal or an offer. None of them can be switched off."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.collection import Collection
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Locus, Welfare


class CautionKind(StrEnum):
    """What a caution is about."""

    WELFARE = "welfare"
    LETHAL = "lethal"
    SALMONELLA = "salmonella"
    LAW = "law"
    SHIPPING = "shipping"
    VETERINARIAN = "veterinarian"
    OWN_WORDS = "own words"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Attributes:
        kind: What it is about.
        species, locus, allele: The gene, for welfare and lethal forms; empty for the others.
        welfare: The known harm with its source, for welfare.
        claim: How the animal stands to the gene; None where no single animal is meant.
        text: The breeder's or the species file's own words.
    """

    kind: CautionKind
    species: str = ""
    locus: str = ""
    allele: str = ""
    welfare: Welfare | None = None
    claim: Claim | None = None
    text: str = ""


_HAS_IT = (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG)


def gene_cautions(collection: Collection, claims: Sequence[Claim]) -> tuple[Caution, ...]:
    """The cautions for the genes an animal shows, carries or may carry; each gene once, in the order of the claims."""
    found: dict[tuple[str, str, CautionKind], Caution] = {}
    for claim in claims:
        if claim.kind not in _HAS_IT:
            continue
        locus = collection.species[claim.species].genome.locus(claim.locus)
        for allele in locus.alleles:
            if not any(allele.id in genotype for genotype in claim.posterior):
                continue
            for caution in allele_cautions(claim.species, locus, allele.id, claim):
                found.setdefault((claim.locus, allele.id, caution.kind), caution)
    return tuple(found.values())


def allele_cautions(species: str, locus: Locus, allele_id: str, claim: Claim | None = None) -> tuple[Caution, ...]:
    """The cautions that go with one allele wherever it is named."""
    allele = locus.allele(allele_id)
    found = []
    if allele.welfare:
        found.append(Caution(CautionKind.WELFARE, species, locus.id, allele_id, allele.welfare, claim))
    if (allele_id, allele_id) in locus.lethal:
        found.append(Caution(CautionKind.LETHAL, species, locus.id, allele_id, None, claim))
    return tuple(found)


def offer_cautions(collection: Collection, *species_ids: str) -> tuple[Caution, ...]:
    """The cautions wherever animals are offered; the general ones first, then the species' and the site's own."""
    general = (
        Caution(CautionKind.SALMONELLA),
        Caution(CautionKind.LAW),
        Caution(CautionKind.SHIPPING),
        Caution(CautionKind.VETERINARIAN),
    )
    own = [
        Caution(CautionKind.OWN_WORDS, species=species, text=text)
        for species in dict.fromkeys(species_ids)
        for text in collection.species[species].cautions
    ]
    return (*general, *own, *(Caution(CautionKind.OWN_WORDS, text=text) for text in collection.site.cautions))
