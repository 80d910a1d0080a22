"""Animals that can be had, compared by the chance of one gene."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, alleles_of, chance_of_allele, looks_with
from sitegen.evidence.offers import allele_cautions, offer_cautions
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId
from sitegen.site.addresses import GENES, can_be_had
from sitegen.site.entries import animal_entry
from sitegen.site.material import Folio
from sitegen.site.parts import AnimalEntry, CautionView, IconArray, Line, Span, words
from sitegen.site.views import basis_sentence, caution_views, icon_array
from sitegen.words.claims import SEEN, headline
from sitegen.words.conditions import is_conditional
from sitegen.words.labels import alike_words
from sitegen.words.reasons import word_sentence
from sitegen.words.speech import Link, Sentence, Target, _, capital, ngettext, said


@dataclass(frozen=True, slots=True)
class ComparedAnimals:
    """One animal of a comparison, or littermates that are alike: what is claimed at the gene, and what that rests on.

    ``animals`` has each of them as in a list; of those without the gene no more is told than their names.
    """

    name: Line
    animals: tuple[AnimalEntry, ...] = ()
    words: tuple[Line, ...] = ()
    rests_on: tuple[Line, ...] = ()
    odds: IconArray | None = None


@dataclass(frozen=True, slots=True)
class ComparedGroup:
    """Animals of which the same sort of thing is said."""

    title: str
    note: str
    rows: tuple[ComparedAnimals, ...]


@dataclass(frozen=True, slots=True)
class ComparisonPage:
    """Animals that can be had, by the chance of one gene; ``others`` are those without it as far as is known."""

    name: str
    kicker: Line
    intro: tuple[Line, ...]
    groups: tuple[ComparedGroup, ...]
    others: tuple[ComparedGroup, ...]
    cautions: tuple[CautionView, ...]


def comparison_page(species_id: str, allele_id: str, folio: Folio) -> ComparisonPage:
    """The animals of a species that are available or on hold, by what is known of one allele."""
    species = folio.collection.species[species_id]
    locus = next(found for found in species.genome.loci if any(a.id == allele_id for a in found.alleles))
    name = locus.allele(allele_id).name
    here = [a for a in folio.collection.animals.values() if a.species == species_id and can_be_had(a)]
    told = {animal.id: _claims(animal, locus, allele_id, folio) for animal in here}
    groups = _groups([a for a in here if told[a.id]], told, locus, allele_id, folio)
    cautions = (*allele_cautions(species_id, locus, allele_id), *offer_cautions(folio.collection, species_id))
    gene = Link(name, Target.GENE, f"{species_id}/{locus.id}")
    return ComparisonPage(
        name=_("Compare by {gene}").format(gene=name),
        kicker=(Span(capital(species.name), folio.linker.to(f"{GENES}#{species_id}")),),
        intro=folio.lines(_intro(gene, sum(len(row.animals) for group in groups for row in group.rows))),
        groups=groups,
        others=_others([a for a in here if not told[a.id]], locus, allele_id, folio),
        cautions=caution_views(cautions, folio),
    )


def _intro(gene: Link, count: int) -> tuple[Sentence, Sentence]:
    """What is compared, and how the numbers are to be read."""
    told = ngettext(
        "{count} animal that is available or on hold has {gene} or may have it, the surest first.",
        "{count} animals that are available or on hold have {gene} or may have it, the surest first.",
        count,
    )
    read = Link(_("How to read our odds"), Target.METHOD, "")
    numbers = _(
        "Every number is out of 100 animals like that one, with parents like its own, so any two can be compared. "
        "{read}."
    )
    return said(told, count=str(count), gene=gene), said(numbers, read=read)


def _claims(animal: Animal, locus: Locus, allele: str, folio: Folio) -> tuple[Claim, ...]:
    """What is claimed of the animal at the allele, what it shows or carries before what it may show later."""
    found = [c for c in folio.claims(animal.id) if c.locus == locus.id and allele in alleles_of(c, locus)]
    return tuple(sorted(found, key=lambda claim: claim.kind is ClaimKind.TOO_YOUNG))


def _groups(
    animals: Sequence[Animal], told: dict[str, tuple[Claim, ...]], locus: Locus, allele: str, folio: Folio
) -> tuple[ComparedGroup, ...]:
    """The animals by how sure it is; groups without any are left out."""
    by_word = _("As certain as a previous keeper’s word, and no more. No number of ours can say how good that word is.")
    headings = {
        "shows": (_("Shows it"), _("Seen on the animal itself.")),
        "certain": (_("Has it for certain"), _("Certain from our own records, a DNA test or its young.")),
        "perhaps": (_("May have it"), _("The highest chance first. None of them is proven.")),
        "said": (_("Said to have it"), by_word),
    }
    sorted_in: dict[str, list[Animal]] = {sort: [] for sort in headings}
    for animal in animals:
        sorted_in[_how_sure(told[animal.id][0], locus, allele)].append(animal)
    # Only doubtful claims have an order among themselves: a word has no number, and what is certain is certain.
    sorted_in["perhaps"].sort(key=lambda animal: -chance_of_allele(told[animal.id][0].posterior, allele))
    return tuple(
        ComparedGroup(title, note, tuple(_rows(sorted_in[sort], told, sort, allele, folio)))
        for sort, (title, note) in headings.items()
        if sorted_in[sort]
    )


def _how_sure(claim: Claim, locus: Locus, allele: str) -> str:
    """The group that a claim belongs to."""
    has_it = chance_of_allele(claim.posterior, allele) == 1
    if claim.kind in SEEN and has_it and claim.look in looks_with(locus, allele):
        return "shows"
    if not has_it or is_conditional(claim) or claim.strained:
        return "perhaps"
    return "said" if claim.basis is Basis.PREVIOUS_KEEPER else "certain"


def _rows(
    animals: Sequence[Animal], told: Mapping[AnimalId, tuple[Claim, ...]], sort: str, allele: str, folio: Folio
) -> Iterator[ComparedAnimals]:
    """The animals with their claims and what they rest on; unnamed littermates together if all else is the same."""
    alike: dict[object, list[Animal]] = {}
    for animal in animals:
        said_of_it = _told(told[animal.id], folio), replace(folio.material.lines[animal.id], about=()).whole()
        unnamed = animal.litter and animal.name in ("", animal.number)
        alike.setdefault((animal.litter, said_of_it) if unnamed else animal.id, []).append(animal)
    for group in alike.values():
        claims, litter = told[group[0].id], group[0].litter if len(group) > 1 else ""
        headlines, rests_on = _told(claims, folio)
        yield ComparedAnimals(
            name=folio.line(alike_words(group, folio.voice)),
            animals=tuple(animal_entry(animal, folio, litter) for animal in group),
            words=headlines,
            rests_on=rests_on,
            odds=_odds(claims[0], sort, allele, folio),
        )


def _told(claims: tuple[Claim, ...], folio: Folio) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """Claims in words, and what the first rests on."""
    first, voice = claims[0], folio.voice
    rests_on = folio.lines([word_sentence(first, voice), basis_sentence(first.basis)])
    return folio.lines(headline(claim, voice) for claim in claims), rests_on


def _odds(claim: Claim, sort: str, allele: str, folio: Folio) -> IconArray | None:
    """The picture of the odds of having the gene; none where it hangs on a word that has no number."""
    if sort == "perhaps":
        return icon_array(claim, folio)
    if sort == "said":
        return None
    title = _("100 in 100 have {gene}").format(gene=folio.voice.locus(claim).allele(allele).name)
    return IconArray(100, title, _("A hundred marks in ten rows, all of them filled."))


def _others(animals: Sequence[Animal], locus: Locus, allele: str, folio: Folio) -> tuple[ComparedGroup, ...]:
    """The animals without the gene as far as anyone knows: ruled out, not claimed, nothing known.

    Nothing more is said of them here than their names.
    """

    def name(animal: Animal) -> Line:
        return folio.line((folio.voice.animal(animal.id),))

    ruled_out, unclaimed, unknown = [], [], []
    for animal in animals:
        at = [claim for claim in folio.claims(animal.id) if claim.locus == locus.id]
        if any(claim.kind is ClaimKind.RULED_OUT and claim.allele == allele for claim in at):
            ruled_out.append(animal)
        elif any(claim.kind is ClaimKind.NO_CLAIM for claim in at):
            unclaimed.append(animal)
        else:
            unknown.append(animal)
    note = _("No record gives these animals the gene. “Not known to carry” does not mean “does not carry”.")
    found = (
        (_("Looked into and ruled out"), "", ruled_out), (_("No claim"), "", unclaimed),
        (_("Not known to have it"), note, unknown),
    )  # fmt: skip
    return tuple(
        ComparedGroup(title, note, tuple(ComparedAnimals(name(animal)) for animal in group))
        for title, note, group in found
        if group
    )


def comparison_links(species_id: str, folio: Folio) -> Line:
    """The names of the genes in play in a species, each leading to its comparison, in a row."""
    genome = folio.collection.species[species_id].genome
    names = {allele.id: allele.name for locus in genome.loci for allele in locus.alleles}
    spans: list[Span] = []
    for (species, allele), address in folio.addresses.comparisons.items():
        if species == species_id:
            spans += words(", ") if spans else ()
            spans.append(Span(names[allele], folio.linker.to(address)))
    return tuple(spans)
