"""The guide to genes: a list by species, and one page for each locus."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.content.species import Species
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.offers import allele_cautions
from sitegen.genetics.loci import Combination, Locus
from sitegen.site.addresses import GENES, gene_address
from sitegen.site.gene_pairings import PairingTable, pairing_tables
from sitegen.site.gene_plates import GenePlates, alike_plates, gene_plates, is_here
from sitegen.site.material import Folio
from sitegen.site.parts import CautionView, Line, Plate, Prose, Span, words
from sitegen.site.views import caution_views, look_links
from sitegen.words.claims import SEEN, short_phrase
from sitegen.words.conditions import is_conditional
from sitegen.words.inheritance import (
    genotype_words,
    inheritance_sentence,
    locus_label,
    look_words,
    notes,
    passed_on_words,
)
from sitegen.words.labels import no_genes, nobody_has_it, unanswered_text
from sitegen.words.speech import _, capital, listed, ngettext, said


@dataclass(frozen=True, slots=True)
class GeneRow:
    """A locus in the list of genes."""

    name: Line
    inherited: str
    here: str


@dataclass(frozen=True, slots=True)
class CombinationRow:
    """A trade name for several genes together, with its parts."""

    name: str
    parts: Line


@dataclass(frozen=True, slots=True)
class SpeciesGenes:
    """The genes of one species; ``no_genes`` says so where there is none."""

    id: str
    name: str
    scientific: str
    rows: tuple[GeneRow, ...]
    no_genes: str
    combinations: tuple[CombinationRow, ...]
    about: Prose


@dataclass(frozen=True, slots=True)
class GenesPage:
    """The guide to genes, by species."""

    species: tuple[SpeciesGenes, ...]
    intro: Line


@dataclass(frozen=True, slots=True)
class GenotypeRow:
    """One genotype of a locus and what it looks like."""

    genotype: str
    shows: str
    passed_on: str


@dataclass(frozen=True, slots=True)
class AlleleView:
    """One named allele: what it looks like, how it is inherited, what to know."""

    id: str
    name: str
    inherited: Line
    about: Prose
    notes: tuple[Line, ...]
    cautions: tuple[CautionView, ...]
    alike: tuple[Plate, ...]


@dataclass(frozen=True, slots=True)
class GenePage:
    """One locus; ``unanswered`` tells of animals whose records give no answer, ``nobody`` that none has it."""

    name: str
    kicker: Line
    alleles: tuple[AlleleView, ...]
    looks: tuple[GenotypeRow, ...]
    plates: GenePlates
    showing: tuple[Line, ...]
    carrying: tuple[Line, ...]
    perhaps: tuple[Line, ...]
    unanswered: str
    nobody: str
    combinations: tuple[CombinationRow, ...]
    compare: tuple[Line, ...] = ()
    pairings: tuple[PairingTable, ...] = ()
    pairings_heading: str = ""
    pairings_intro: str = ""


def genes_page(folio: Folio) -> GenesPage:
    """The list of genes by species."""
    intro = _("What each gene looks like, how it is inherited, and which of our animals show or carry it.")
    return GenesPage(tuple(_species(found, folio) for found in folio.collection.species.values()), words(intro))


def _species(species: Species, folio: Folio) -> SpeciesGenes:
    return SpeciesGenes(
        id=species.id,
        name=capital(species.name),
        scientific=species.scientific,
        rows=tuple(_row(locus, species, folio) for locus in species.genome.loci),
        no_genes="" if species.genome.loci else no_genes(),
        combinations=tuple(_combination(named, species, folio) for named in species.genome.combinations),
        about=folio.prose(species.about),
    )


def _row(locus: Locus, species: Species, folio: Folio) -> GeneRow:
    claims = _claims(locus, species, folio)
    shown = len({claim.animal for claim in claims if claim.kind in SEEN})
    carriers = [claim for claim in claims if _carries(claim)]
    by_word = len({claim.animal for claim in carriers if claim.basis is Basis.PREVIOUS_KEEPER})
    carried = len({claim.animal for claim in carriers}) - by_word
    perhaps = len({claim.animal for claim in claims if _may_have(claim)})
    told = [
        ngettext("{count} shows it", "{count} show it", shown).format(count=shown) if shown else "",
        ngettext("{count} carries it", "{count} carry it", carried).format(count=carried) if carried else "",
        _("{count} said to carry it").format(count=by_word) if by_word else "",
        _("{count} may have it").format(count=perhaps) if perhaps else "",
    ]
    unanswered = any(claim.kind is ClaimKind.NO_CLAIM for claim in claims)
    href = folio.linker.to(gene_address(species.id, locus.id))
    return GeneRow(
        name=(Span(capital(locus.name), href),),
        inherited=locus_label(locus),
        here=", ".join(part for part in told if part) or (_("no answer yet") if unanswered else _("none here")),
    )


def _combination(named: Combination, species: Species, folio: Folio) -> CombinationRow:
    return CombinationRow(named.name, folio.line(listed(look_links(named.looks, species.id, folio))))


def _carries(claim: Claim) -> bool:
    """True where it is carried for certain, or by a previous keeper's word."""
    return claim.kind is ClaimKind.CARRIES and not is_conditional(claim)


def _may_have(claim: Claim) -> bool:
    """True where it may be carried, or is only if what is taken for granted is so."""
    return claim.kind in (ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG) or is_conditional(claim)


def _claims(locus: Locus, species: Species, folio: Folio) -> tuple[Claim, ...]:
    """Every claim at a locus about the animals that are still here, in record order."""
    return tuple(
        claim
        for animal in folio.collection.animals.values()
        if animal.species == species.id
        for claim in folio.claims(animal.id)
        if claim.locus == locus.id and is_here(animal)
    )


def gene_page(species: Species, locus: Locus, folio: Folio) -> GenePage:
    """All that is told of one locus."""
    claims = _claims(locus, species, folio)
    named = [c for c in species.genome.combinations if any(look.id in c.looks for look in locus.looks)]
    perhaps = [c for c in claims if _may_have(c)]
    unanswered = {claim.animal for claim in claims if claim.kind is ClaimKind.NO_CLAIM}
    has_it = any(claim.kind not in (ClaimKind.RULED_OUT, ClaimKind.NOT_KNOWN) for claim in claims)
    tables = pairing_tables(locus)
    intro = _("Of 100 living young from many such pairings. A single litter can differ much.")
    return GenePage(
        name=capital(locus.name),
        kicker=(Span(_("A gene of the ")), Span(species.name, folio.linker.to(f"{GENES}#{species.id}"))),
        alleles=tuple(_alleles(species, locus, folio)),
        looks=tuple(
            GenotypeRow(capital(genotype_words(locus, g)), look_words(locus, g), passed_on_words(locus, g))
            for g in _all_genotypes(locus)
        ),
        plates=gene_plates(species, locus, folio),
        showing=_told([c for c in claims if c.kind in SEEN], folio, several=len(locus.looks) > 1),
        carrying=_told([c for c in claims if _carries(c)], folio, several=True),
        perhaps=_told(sorted(perhaps, key=lambda claim: -claim.chance), folio, several=True),
        unanswered=unanswered_text(len(unanswered)) if unanswered else "",
        nobody="" if has_it else nobody_has_it(),
        combinations=tuple(_combination(c, species, folio) for c in named),
        pairings=tables,
        pairings_heading=_("What pairings give") if tables else "",
        pairings_intro=intro if tables else "",
        compare=tuple(_compare_links(species, locus, folio)),
    )


def _compare_links(species: Species, locus: Locus, folio: Folio) -> Iterator[Line]:
    for allele in locus.alleles:
        if address := folio.addresses.comparisons.get((species.id, allele.id)):
            told = _("Compare the animals on offer by {gene}").format(gene=allele.name)
            yield words(told, folio.linker.to(address))


def _all_genotypes(locus: Locus) -> tuple[tuple[str, str], ...]:
    """Every genotype of either sex, each once."""
    one_copy = locus.sex_system.one_copy_sex
    more = locus.genotypes(one_copy) if locus.sex_linked and one_copy else ()
    return tuple(dict.fromkeys((*locus.genotypes(), *more)))


def _alleles(species: Species, locus: Locus, folio: Folio) -> Iterator[AlleleView]:
    for allele in locus.alleles:
        yield AlleleView(
            id=allele.id,
            name=capital(allele.name),
            inherited=folio.line(inheritance_sentence(locus, allele)),
            about=folio.prose(allele.about),
            notes=folio.lines(notes(species, locus, allele)),
            cautions=caution_views(allele_cautions(species.id, locus, allele.id), folio),
            alike=alike_plates(species, allele, folio),
        )


def _told(claims: Sequence[Claim], folio: Folio, *, several: bool) -> tuple[Line, ...]:
    """The animals of some claims; with what is claimed where that is not the same of all of them."""
    if not several:
        return tuple(folio.line((folio.voice.animal(claim.animal),)) for claim in claims)
    return tuple(
        folio.line(said("{name} {what}.", name=folio.voice.animal(claim.animal), what=short_phrase(claim, folio.voice)))
        for claim in claims
    )
