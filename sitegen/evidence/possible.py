"""What remains possible when everything that nobody wrote is left open: on this alone certainty may rest.

The answers of :mod:`sitegen.evidence.answers` take for granted that founders and unrecorded parents have the wild type
unless somebody wrote otherwise. Most of the time that is right, and it is what the odds mean; but nothing is *certain*
because nobody wrote it down. So each locus is asked once more with every such animal open: each of its chromosomes has
each named allele with a small chance. The genotypes that then have any chance at all are those that no record rules
out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gathered import AnyQuestion, Evidence, Ground, LocusEvidence, LocusGroup, Odds, words_of
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.genetics.network import ENTRIES_LIMIT
from sitegen.genetics.observations import is_wild
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Question, Tally

RARE = Fraction(1, 1000)
"""The chance of an unwritten copy on one chromosome. Any small one gives the same sets."""


def possible_of(opened: Asked) -> Mapping[AnimalId, Mapping[str, frozenset[Genotype]]]:
    """Animal to locus to the genotypes that no record rules out.

    Where the records contradict each other, or are too tangled to be asked so, there are none, and nothing may be
    called certain.

    Args:
        opened: See :func:`ask_opened`.
    """
    collection = opened.evidence.collection
    return {
        animal.id: {
            locus.id: frozenset(posterior)
            for locus in collection.species[animal.species].genome.loci
            if (posterior := opened.posterior(animal.id, locus.id))
        }
        for animal in collection.animals.values()
    }


def ask_opened(evidence: Evidence, limit: int = ENTRIES_LIMIT) -> Asked:
    """What heredity says when everything that is not written is left open; see :func:`sitegen.evidence.asking.ask`."""
    loci = {key: replace(at, question=_opened(evidence, at)) for key, at in evidence.loci.items()}
    units = tuple(replace(unit, question=opened_group(evidence, unit)) for unit in evidence.units)
    return ask(replace(evidence, loci=loci, units=units), limit)


def opened_group(evidence: Evidence, group: LocusGroup) -> AnyQuestion:
    """What is asked together, with everything that is not written left open."""
    questions = [_opened(evidence, evidence.loci[group.species, locus]) for locus in group.loci]
    linked = group.question
    return replace(linked, questions=tuple(questions)) if isinstance(linked, LinkedQuestion) else questions[0]


def _opened(evidence: Evidence, at: LocusEvidence) -> Question:
    """The question of one locus, of which only what is written is kept."""
    locus = at.question.locus

    def is_word(animal: AnimalId) -> bool:
        return all(each.quoted for each in words_of(evidence.collection.animals[animal], locus.id))

    written = {
        animal: _beside_a_word(odds, locus) if is_word(animal) else odds
        for animal, odds in at.question.priors.items()
        if at.founders[animal].ground is Ground.STATED
    }
    usual = {genotype for odds in locus.background.values() for genotype in odds}
    unwritten = all(is_wild(locus, genotype) for genotype in usual)
    background = {sex: unwritten_odds(locus, sex) for sex in Sex} if unwritten else locus.background
    members, tallies = _with_unrecorded(at.question.members, at.question.tallies)
    return Question(replace(locus, background=background), members, written, at.question.observations, tallies)


def unwritten_odds(locus: Locus, sex: Sex) -> Odds:
    """The odds of an animal of which nobody wrote anything: each chromosome has each named allele by a small chance."""
    found: dict[Genotype, Fraction] = {}
    for genotype in locus.genotypes(sex):
        if genotype not in locus.lethal:
            ways = 2 if genotype[0] != genotype[1] and locus.copies(sex) == 2 else 1
            copies = sum(allele not in (WILD, locus.sex_system.blank) for allele in genotype)
            found[genotype] = ways * RARE**copies
    total = sum(found.values(), Fraction(0))
    return {genotype: weight / total for genotype, weight in found.items()}


def _beside_a_word(odds: Odds, locus: Locus) -> Odds:
    """The same, and a little of each allele that the word does not name in place of its wild type.

    A word about one allele of a series says nothing of the others; only odds by whole genotypes do.
    """
    named = {allele for genotype in odds for allele in genotype}
    others = [allele.id for allele in locus.alleles if allele.id not in named]
    found = dict(odds)
    for genotype, chance in odds.items() if others else ():
        kept = [allele for allele in genotype if allele != WILD]
        for fill in _fillings(2 - len(kept), others):
            rare = locus.genotype(*kept, *fill)
            if rare not in locus.lethal:
                found.setdefault(rare, chance * RARE ** sum(allele != WILD for allele in fill))
    total = sum(found.values(), Fraction(0))
    return {genotype: weight / total for genotype, weight in found.items()}


def _fillings(places: int, others: Sequence[str]) -> list[tuple[str, ...]]:
    """Every way to fill places of the wild type with it or with other alleles."""
    ways: list[tuple[str, ...]] = [()]
    for _ in range(places):
        ways = [(*way, allele) for way in ways for allele in (WILD, *others)]
    return ways


def unrecorded(young: Member | Tally, sex: Sex) -> AnimalId:
    """The name by which an unrecorded parent of that sex is asked about: one for each litter record, else each young.

    No animal can have it. Empty where the parent is recorded, where none of them is, and where counted young may have
    a sire each.
    """
    missing = young.dam is None if sex is Sex.FEMALE else not young.sires
    if not missing or (young.dam is None and not young.sires):
        return ""
    alone = young.id if isinstance(young, Member) else ""
    own = not young.litter or (young.each_its_own_sire and sex is Sex.MALE)
    whose = alone if own else young.litter
    return f"?{sex.value} of {whose}" if whose else ""


def _with_unrecorded(
    members: Sequence[Member], tallies: Sequence[Tally]
) -> tuple[tuple[Member, ...], tuple[Tally, ...]]:
    """Members and tallies, with each unrecorded parent as a member."""
    added: dict[AnimalId, Member] = {}

    def dam_of(young: Member | Tally) -> AnimalId | None:
        if dam := unrecorded(young, Sex.FEMALE):
            added.setdefault(dam, Member(dam, Sex.FEMALE))
        return dam or young.dam

    def sires_of_young(young: Member | Tally) -> tuple[tuple[AnimalId, Fraction], ...]:
        if sire := unrecorded(young, Sex.MALE):
            added.setdefault(sire, Member(sire, Sex.MALE))
        return ((sire, Fraction(1)),) if sire else young.sires

    listed = [replace(each, dam=dam_of(each), sires=sires_of_young(each)) for each in members]
    counted = [replace(each, dam=dam_of(each), sires=sires_of_young(each)) for each in tallies]
    return (*listed, *added.values()), tuple(counted)
