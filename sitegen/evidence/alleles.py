"""Of which alleles a claim speaks, and in which looks an allele can be seen."""

from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import WILD, Locus

_OF_NOTHING = (ClaimKind.RULED_OUT, ClaimKind.NOT_KNOWN, ClaimKind.NO_CLAIM)


def alleles_of(claim: Claim, locus: Locus) -> tuple[str, ...]:
    """The alleles that a claim says an animal has, may have or shows; none for what is ruled out or not claimed."""
    if claim.kind in _OF_NOTHING:
        return ()
    if claim.allele:
        return (claim.allele,)
    return tuple(a.id for a in locus.alleles if any(a.id in genotype for genotype in claim.posterior))


def looks_of(locus: Locus, allele: str) -> frozenset[str]:
    """The looks in which an allele can be seen, alone or together with another; not those that are another's own."""
    shown = locus.shown
    own = {shown.get((allele, allele)), shown.get((WILD, allele))}
    one_copy = {look for genotype, look in shown.items() if genotype[0] == allele and genotype[1] in ("W", "Y")}
    others = {shown.get(pair) for a in locus.alleles for pair in ((a.id, a.id), (WILD, a.id))}
    together = {look for genotype, look in shown.items() if allele in genotype and look not in others}
    return frozenset(look for look in (*own, *one_copy, *together) if look)
