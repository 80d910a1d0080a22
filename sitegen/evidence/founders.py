"""The odds of a founder: what was stated, else what it shows, else what is usual in the species.

1. What a previous keeper stated is its prior. Several statements about one locus are independent chances of
   carrying each allele.
2. ``copies`` with a chance of two copies is the prior of a founder that shows the look.
3. Without either, the background of the species, which is the wild type unless the species file says more.
4. What the founder shows, or a test of its own, is stronger than any of these: where it is impossible under
   them, the prior becomes the genotypes that fit. A statement that an allele is carried for certain keeps it.
   Of those the ones with the fewest named alleles are taken ("taken as one copy"), each by the number of ways in
   which it comes about: so recording ancestors of whom nothing is known changes nothing.

None of this rules out what nobody wrote: a statement about one allele leaves the others of its series open, and a look
that one copy explains leaves a second one open. Only odds by whole genotypes close a locus.
"""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import prod

from sitegen.content.animals import Animal
from sitegen.content.genes import Stated
from sitegen.evidence.gathered import FounderOdds, Ground, Odds, Source, name_of
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.genetics.observations import all_genotypes, background, copies_in, is_wild, ways_to_be
from sitegen.genetics.questions import LeftOpen

Own = tuple[Source, Odds]
"""A piece of the founder's own evidence: its record, and how likely it is under each genotype."""


def background_of(locus: Locus, sex: Sex) -> Odds:
    """The genotype odds of an animal of which nothing is stated.

    An animal of unknown sex at a sex-linked locus may have those of either sex, with equal chance.
    """
    if locus.copies(Sex.FEMALE) == locus.copies(Sex.MALE) or sex is not Sex.UNKNOWN:
        return background(locus, sex)
    both = [background(locus, each) for each in (Sex.FEMALE, Sex.MALE)]
    return {genotype: chance / 2 for odds in both for genotype, chance in odds.items()}


def founder_odds(animal: Animal, sex: Sex, locus: Locus, own: Sequence[Own]) -> FounderOdds:
    """The odds of a founder before its descendants are asked, and where they come from."""
    name = name_of(animal)
    prior, source = _stated(animal, sex, name, locus) or _copies(animal, name, locus, own) or (None, None)
    usual = background_of(locus, sex)
    if source is None:
        source = _nothing_stated(animal, name, locus, usual)
    if not own or _fits(prior or usual, own):
        open_ = {} if prior is None or _is_closed(animal, locus) else _other_alleles(prior, locus)
        return FounderOdds(prior, source, open_)
    stronger = next((piece for piece in own if not _fits(prior or usual, [piece])), own[0])
    return _by_own_evidence(sex, locus, own, stronger[0], FounderOdds(prior, source))


def _is_closed(animal: Animal, locus: Locus) -> bool:
    """True when its odds are stated by whole genotypes."""
    entries = [entry for genes in animal.genes for entry in genes.stated if entry.locus == locus.id]
    return any(not entry.quoted for entry in entries)


def _other_alleles(prior: Odds, locus: Locus) -> LeftOpen:
    """The genotypes with alleles of which the prior says nothing, in the place of its wild type."""
    named = {allele for genotype in prior for allele in genotype}
    others = [allele.id for allele in locus.alleles if allele.id not in named]
    found: dict[Genotype, tuple[int, Fraction]] = {}
    for genotype, chance in prior.items():
        for picked in product(*([WILD, *others] if allele == WILD else [allele] for allele in genotype)):
            if copies := sum(allele in others for allele in picked):
                first, second = picked
                whole = (first, second) if second == locus.sex_system.blank else locus.genotype(first, second)
                found[whole] = copies, found.get(whole, (copies, Fraction(0)))[1] + chance
    return found


def _fits(odds: Odds, own: Sequence[Own]) -> bool:
    return any(chance and all(seen.get(genotype) for _, seen in own) for genotype, chance in odds.items())


def _nothing_stated(animal: Animal, name: str, locus: Locus, usual: Odds) -> Source:
    wild = all(is_wild(locus, genotype) for genotype, chance in usual.items() if chance)
    taken = "it is taken as not carrying it" if wild else "it has the odds given as background of the species"
    says = f"nothing is stated of {name} for {locus.id}, so {taken}"
    return Source(Ground.NOTHING_STATED if wild else Ground.BACKGROUND, animal.id, (animal.place,), says)


def _stated(animal: Animal, sex: Sex, name: str, locus: Locus) -> tuple[Odds, Source] | None:
    entries = [entry for genes in animal.genes for entry in genes.stated if entry.locus == locus.id]
    if not entries:
        return None
    written = ", ".join(entry.as_written for entry in entries)
    meant = {allele for entry in entries for genotype in entry.odds for allele in genotype}
    genes = " and ".join(allele.name for allele in locus.alleles if allele.id in meant) or locus.id
    odds = combined(entries, locus)
    if sex is Sex.UNKNOWN and all(entry.quoted for entry in entries):
        odds = _of_either_sex(odds, locus)
    places, says = tuple(entry.place for entry in entries), f"a previous keeper stated {genes} of {name}: {written}"
    return odds, Source(Ground.STATED, animal.id, places, says, detail=(("as_written", written),))


def combined(entries: Sequence[Stated], locus: Locus) -> Odds:
    """One prior from all that was stated at a locus; sums to 1.

    Two statements about different alleles are independent chances of carrying each; an animal cannot carry
    three. Statements in full genotype odds are multiplied. Where no genotype is left, the first one stands.
    """
    if len(entries) == 1:
        return entries[0].odds
    simple = [one for entry in entries if (one := _one_allele(entry.odds))]
    odds: dict[Genotype, Fraction] = {}
    if len(simple) < len(entries):
        for genotype in entries[0].odds:
            odds[genotype] = prod((entry.odds.get(genotype, Fraction(0)) for entry in entries), start=Fraction(1))
    else:
        for carried in product((True, False), repeat=len(simple)):
            alleles = [allele for (allele, _), yes in zip(simple, carried, strict=True) if yes]
            if len(alleles) <= 2:
                chances = (chance if yes else 1 - chance for (_, chance), yes in zip(simple, carried, strict=True))
                first, second = [WILD, WILD, *alleles][-2:]
                genotype = locus.genotype(first, second)
                odds[genotype] = odds.get(genotype, Fraction(0)) + prod(chances, start=Fraction(1))
    total = sum(odds.values(), Fraction(0))
    return {genotype: chance / total for genotype, chance in odds.items() if chance} if total else entries[0].odds


def _of_either_sex(odds: Odds, locus: Locus) -> Odds:
    """Stated odds of an animal that may be of the sex with one copy: that copy is the named allele as often."""
    if locus.copies(Sex.FEMALE) == locus.copies(Sex.MALE):
        return odds
    found = {genotype: chance / 2 for genotype, chance in odds.items()}
    for (_, second), chance in odds.items():
        alone = (second, locus.sex_system.blank)
        found[alone] = found.get(alone, Fraction(0)) + chance / 2
    return found


def _one_allele(odds: Odds) -> tuple[str, Fraction] | None:
    """The allele and its chance where the odds only say whether one copy of it is carried."""
    carried = [genotype for genotype in odds if genotype != (WILD, WILD)]
    return (carried[0][1], odds[carried[0]]) if len(carried) == 1 and carried[0][0] == WILD else None


def _copies(animal: Animal, name: str, locus: Locus, own: Sequence[Own]) -> tuple[Odds, Source] | None:
    """The prior of a founder that shows a look of one copy or two, where a chance of two is written."""
    entries = (entry for genes in animal.genes for entry in genes.copies if entry.locus == locus.id)
    for entry, allele in product(entries, locus.alleles):
        one, two, both = (WILD, allele.id), (allele.id, allele.id), entry.two_copies
        if both is not None and one in locus.shown and all(seen.get(one) and seen.get(two) for _, seen in own):
            written = {Fraction(0): "one", Fraction(1): "two"}.get(both, f"two with a chance of {both}")
            says = f"copies of {locus.id} in {name} are stated: {written}"
            source = Source(Ground.STATED, animal.id, (entry.place,), says, detail=(("as_written", written),))
            return {genotype: chance for genotype, chance in ((one, 1 - both), (two, both)) if chance}, source
    return None


def _by_own_evidence(sex: Sex, locus: Locus, own: Sequence[Own], source: Source, before: FounderOdds) -> FounderOdds:
    """The genotypes that fit what the founder shows and was tested for, where its prior allows none of them."""
    fitting = [
        genotype
        for genotype in (all_genotypes(locus) if locus.sex_linked and sex is Sex.UNKNOWN else locus.genotypes(sex))
        if genotype not in locus.lethal and all(seen.get(genotype) for _, seen in own)
    ]
    if before.prior is not None and not before.prior.get((WILD, WILD)):
        kept = {allele for genotype in before.prior for allele in genotype} - {WILD, locus.sex_system.blank}
        fitting = [genotype for genotype in fitting if kept.intersection(genotype)]
    if not fitting:
        return before
    named = {genotype: copies_in(locus, genotype) for genotype in fitting}
    least = min(named.values())
    ways = {genotype: Fraction(ways_to_be(locus, genotype)) for genotype in fitting}
    total = sum((ways[genotype] for genotype in fitting if named[genotype] == least), Fraction(0))
    tested = any(each.ground is Ground.DNA_TEST for each, _ in own)
    if not tested and before.prior is None and any(copies > least for copies in named.values()):
        source = replace(source, ground=Ground.TAKEN_AS_ONE_COPY, says=f"{source.says}, taken as one copy")
    shares = {genotype: (named[genotype] - least, ways[genotype] / total) for genotype in fitting}
    fewest = {genotype: share for genotype, (more, share) in shares.items() if not more}
    return FounderOdds(fewest, source, {genotype: left for genotype, left in shares.items() if left[0]})
