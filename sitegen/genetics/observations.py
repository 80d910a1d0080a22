"""What may be seen of a genotype, and how likely what was seen is under each genotype."""

from collections.abc import Collection, Iterable, Mapping
from fractions import Fraction

from sitegen.genetics.loci import WILD, Genotype, Locus, Sex

ONE = Fraction(1)


def all_genotypes(locus: Locus) -> tuple[Genotype, ...]:
    """The genotypes of either sex, those with two copies first."""
    found = (genotype for sex in (Sex.UNKNOWN, Sex.FEMALE, Sex.MALE) for genotype in locus.genotypes(sex))
    return tuple(dict.fromkeys(found))


def showing_alleles(locus: Locus, genotype: Genotype) -> tuple[str, ...]:
    """The alleles that make the look of a genotype; empty when it shows nothing.

    A compound in which one allele hides the other has the look of the one that is seen; any other
    compound has a look that both make.
    """
    look = locus.shown.get(genotype)
    if look is None:
        return ()
    named = tuple(allele for allele in dict.fromkeys(genotype) if allele not in (WILD, locus.sex_system.blank))
    own = tuple(allele for allele in named if look == allele)
    return own or named


def chance_of_showing(locus: Locus, genotype: Genotype) -> Fraction:
    """Chance that an animal of that genotype, old enough and not hidden, shows its look.

    With two alleles that make the look, the less penetrant one decides.
    """
    alleles = showing_alleles(locus, genotype)
    return min((locus.allele(allele).penetrance for allele in alleles), default=Fraction(0))


def looks_of(locus: Locus, genotype: Genotype) -> Mapping[str, Fraction]:
    """Look id to the chance that the genotype shows it; an empty id stands for showing nothing. Sums to 1."""
    chance = chance_of_showing(locus, genotype)
    looks = {locus.shown.get(genotype, ""): chance, "": 1 - chance}
    return {look: share for look, share in looks.items() if share}


def when_seen(locus: Locus, looks: Iterable[str]) -> Mapping[Genotype, Fraction]:
    """How likely it is under each genotype to see the look, or the compound of two looks named together."""
    wanted = tuple(dict.fromkeys(looks))
    seen: dict[Genotype, Fraction] = {}
    for genotype in all_genotypes(locus):
        look = locus.shown.get(genotype)
        compound = len(wanted) == 2 and set(genotype) == set(wanted)
        if look is not None and ((len(wanted) == 1 and look == wanted[0]) or compound):
            seen[genotype] = chance_of_showing(locus, genotype)
    return {genotype: chance for genotype, chance in seen.items() if chance}


def when_not_seen(locus: Locus, unjudged: Collection[str] = ()) -> Mapping[Genotype, Fraction]:
    """How likely it is under each genotype to look for a look of the locus and see none.

    A look that one of the ``unjudged`` alleles makes (too young, hidden) may be there all the same.
    """
    chances: dict[Genotype, Fraction] = {}
    for genotype in all_genotypes(locus):
        if any(allele in unjudged for allele in showing_alleles(locus, genotype)):
            chances[genotype] = ONE
        else:
            chances[genotype] = 1 - chance_of_showing(locus, genotype)
    return {genotype: chance for genotype, chance in chances.items() if chance}


def background(locus: Locus, sex: Sex) -> Mapping[Genotype, Fraction]:
    """Genotype odds of founders of that sex, and of parents that are not recorded; wild type if nothing is said."""
    for key in (sex, Sex.UNKNOWN, *(Sex if locus.copies(Sex.FEMALE) == locus.copies(Sex.MALE) else ())):
        if key in locus.background:
            return locus.background[key]
    return {locus.genotypes(sex)[0]: ONE}


def unwritten(locus: Locus, sex: Sex, rare: Fraction) -> Mapping[Genotype, Fraction]:
    """Genotype odds of an animal of that sex of which nobody wrote anything, nor of its species; they sum to 1.

    ``rare`` is the chance of each named allele on one chromosome, beside 1 for the wild type: 0 takes the animal as
    wild type, and :data:`sitegen.genetics.lowest.LIMIT` is the limit for ever rarer ones.
    """
    found: dict[Genotype, Fraction] = {}
    for genotype in locus.genotypes(sex):
        found[genotype] = ways_to_be(locus, genotype) * rare ** copies_in(locus, genotype)
    total = sum(found.values(), Fraction(0))
    return {genotype: weight / total for genotype, weight in found.items()}


def ways_to_be(locus: Locus, genotype: Genotype) -> int:
    """In how many ways two chromosomes make it: two for a heterozygote, one otherwise."""
    return 1 if genotype[0] == genotype[1] or genotype[1] == locus.sex_system.blank else 2


def copies_in(locus: Locus, genotype: Genotype) -> int:
    """How many named alleles it holds."""
    return sum(allele not in (WILD, locus.sex_system.blank) for allele in genotype)


def when_tested(genotypes: Iterable[Genotype]) -> Mapping[Genotype, Fraction]:
    """One for each genotype that a laboratory leaves possible."""
    return dict.fromkeys(genotypes, ONE)


def is_wild(locus: Locus, genotype: Genotype) -> bool:
    """True when it holds no named allele."""
    return not copies_in(locus, genotype)
