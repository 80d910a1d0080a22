"""What hangs together, in words: two hidden genes of one animal, one hidden gene of several littermates."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.evidence.joint import HiddenGene, Littermates, Tie, Together
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import average_text, in_100, sides, small_number
from sitegen.words.speech import Sentence, Voice, Words, _, listed, said

MOST_TOLD = 3
"""Sentences of this kind on one page; that there are more is told."""
_COPIES = {ClaimKind.MAY_CARRY: (1,), ClaimKind.TOO_YOUNG: (1, 2), ClaimKind.ONE_OR_TWO_COPIES: (2,)}
"""Of how many copies, or more, the chance of a claim may be."""


def together_sentences(
    animal: Animal, found: Sequence[Together], claims: Sequence[Claim], voice: Voice
) -> Iterator[Sentence]:
    """Which of the chances that are told of an animal must not be multiplied, the furthest from the product first."""
    told = {
        (claim.locus, claim.allele, copies)
        for claim in claims
        if not claim.strained
        for copies in _COPIES.get(claim.kind, ())
    }
    both = [
        each
        for each in found
        if each.matters and all((gene.locus.id, gene.allele, gene.copies) in told for gene in (each.first, each.second))
    ]
    both.sort(key=lambda each: -abs(each.both - each.first.chance * each.second.chance))
    for each in both[:MOST_TOLD]:
        yield _sentence(animal, each, voice)
    if len(both) > MOST_TOLD:
        yield said(_("More of these genes hang together: their chances cannot be multiplied."))


def _sentence(animal: Animal, found: Together, voice: Voice) -> Sentence:
    if found.both == 0:
        words = _("By our records never both {first} and {second}: {why}.")
    elif found.both == found.first.chance == found.second.chance:
        words = _("By our records {first} and {second} come together or not at all: {why}.")
    elif found.both in (found.first.chance, found.second.chance):
        words = _("By our records never {first} without {second}: {why}.")
    else:
        words = _("The chance of {first} and {second} together: {chance}{fraction}; {why}.")
    ordered = (found.first, found.second) if found.both != found.second.chance else (found.second, found.first)
    first, second = (_gene(gene, animal.species, voice) for gene in ordered)
    return said(words, first=first, second=second, why=_why(found.tie, animal), **sides(found.both))


def _gene(gene: HiddenGene, species: str, voice: Voice) -> Words:
    name = voice.gene_of(species, gene.locus.id, gene.allele)
    return said(_("two copies of {gene}"), gene=name) if gene.copies == 2 else name


def _why(tie: Tie, animal: Animal) -> str:
    match tie:
        case Tie.ALLELES:
            return _("they are two forms of one gene")
        case Tie.LINKED:
            return _("the two genes are linked")
        case Tie.SIRE if len(animal.sires) > 1:
            return _("it depends on which sire")
        case Tie.SIRE:
            return _("it depends on a sire in its family who is not known for certain")


def littermates_sentence(found: Littermates, litter: Litter, voice: Voice) -> Sentence:
    """How many of the young in doubt carry a gene, and how often none or all do."""
    words = birth_words(voice.species(litter.species))
    end = found.end
    if found.counts[0] + found.counts[-1] == 1:
        end = -1
        told = _("The {n} young that may carry {gene} do so together or not at all; together: {chance} such {litters}.")
    elif end == 0:
        told = _("Of the {n} young that may carry {gene}, {mean} do on average; none at all: {chance} such {litters}.")
    else:
        told = _("Of the {n} young that may carry {gene}, {mean} do on average; all of them: {chance} such {litters}.")
    mean = sum((count * chance for count, chance in enumerate(found.counts)), Fraction(0))
    return said(
        told,
        n=small_number(len(found.young)),
        gene=voice.gene_of(litter.species, found.gene.locus.id, found.gene.allele),
        mean=average_text(mean),
        chance=in_100(found.counts[end]),
        litters=words.litters,
    )


def shared_doubt(found: Sequence[Littermates], litter: Litter, voice: Voice) -> Sentence:
    """That the littermates of a young share its doubt about some genes, and where that is told; empty for none."""
    genes = [voice.gene_of(litter.species, each.gene.locus.id, each.gene.allele) for each in found]
    words = _("Littermates share the doubt about {genes}: {litter} tells how many of them carry.")
    return said(words, genes=listed(genes), litter=voice.litter(litter.id)) if genes else ()
