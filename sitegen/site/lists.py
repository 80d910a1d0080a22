"""The pages that list animals: what is available, on hold and gone, and the collection."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.evidence.offers import offer_cautions, standing
from sitegen.site.addresses import can_be_had
from sitegen.site.comparison import comparison_links
from sitegen.site.entries import animal_entry, species_groups
from sitegen.site.finding import Finding, finding_of
from sitegen.site.material import Folio
from sitegen.site.parts import AnimalEntry, CautionView, LabelRow, Line, SpeciesGroup, words
from sitegen.site.views import caution_views, contact_fields
from sitegen.words.buying import rules_text, waiting_text
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import animals_count, next_litter, nobody_kept, nothing_available, offers_count, sold_text
from sitegen.words.speech import _, capital, ngettext
from sitegen.words.year import between_text
from sitegen.year.due import young_due


@dataclass(frozen=True, slots=True)
class CollectionPage:
    """Every animal that is kept, by species; ``nobody`` says so where there is none."""

    groups: tuple[SpeciesGroup, ...]
    gone: tuple[AnimalEntry, ...]
    cautions: tuple[CautionView, ...]
    intro: Line
    nobody: str
    finding: Finding | None


@dataclass(frozen=True, slots=True)
class AvailablePage:
    """What is offered now, and what was; ``sold_note`` goes with those that were sold."""

    groups: tuple[SpeciesGroup, ...]
    held: tuple[AnimalEntry, ...]
    sold: tuple[AnimalEntry, ...]
    intro: Line
    finding: Finding | None
    sold_note: str
    cautions: tuple[CautionView, ...]
    contact: tuple[LabelRow, ...]
    contact_note: str
    rules: Line = ()
    compare: tuple[LabelRow, ...] = ()
    compare_label: str = ""


def offered(folio: Folio, state: OfferState) -> tuple[Animal, ...]:
    """The animals whose offer stands at a state, the youngest offer first; record order breaks ties."""
    found = []
    for animal in folio.collection.animals.values():
        if animal.offer is not None and standing(animal) is state:
            found.append((str(animal.offer.since or ""), animal))
    found.sort(key=lambda entry: entry[0], reverse=True)
    return tuple(animal for _since, animal in found)


def offer_caution_views(animals: Iterable[Animal], folio: Folio) -> tuple[CautionView, ...]:
    """The cautions for a list in which some animals can be had; empty when none can."""
    species = [animal.species for animal in animals if can_be_had(animal)]
    return caution_views(offer_cautions(folio.collection, *dict.fromkeys(species)), folio) if species else ()


def _intro(now: Sequence[Animal], folio: Folio) -> str:
    """How many animals are available, and how many of these cannot go yet."""
    waiting = [offer for animal in now if (offer := folio.offer(animal)) is not None and offer.missing]
    return f"{offers_count(len(now))} {waiting_text(len(waiting), len(now))}".strip()


def nothing_line(folio: Folio) -> Line:
    """That nothing is available, and when the next young are expected if the records tell."""
    litters = folio.collection.litters.values()
    coming = [litter for litter in litters if not (litter.born or litter.young or litter.failed)]
    dated = [litter for litter in coming if litter.expected and litter.expected.latest >= folio.material.as_of]
    laid = [litter for litter in coming if litter.laid and not litter.expected]
    if not dated and not laid:
        return words(nothing_available())
    litter = min(dated, key=lambda each: str(each.expected and each.expected.latest)) if dated else laid[-1]
    word = birth_words(folio.collection.species[litter.species]).litter
    window = None if litter.expected else young_due(litter, folio.collection)
    likely = window is not None and window.last >= folio.material.as_of
    date = between_text(window, folio.collection.site.language) if window and likely else folio.date(litter.expected)
    told = next_litter(folio.voice.litter(litter.id), word, date)
    return (*words(f"{nothing_available()} "), *folio.line(told))


def available_page(folio: Folio) -> AvailablePage:
    """What is offered now, and what was."""
    site = folio.collection.site
    now, held, sold = (offered(folio, s) for s in (OfferState.AVAILABLE, OfferState.ON_HOLD, OfferState.SOLD))
    species = dict.fromkeys(animal.species for animal in (*now, *held)) or folio.collection.species
    return AvailablePage(
        groups=species_groups(now, folio),
        held=tuple(animal_entry(animal, folio) for animal in held),
        sold=tuple(animal_entry(animal, folio) for animal in sold),
        intro=words(_intro(now, folio)) if now else nothing_line(folio),
        compare=tuple(
            LabelRow(capital(folio.collection.species[found].name), links)
            for found in folio.collection.species
            if (links := comparison_links(found, folio))
        ),
        compare_label=_("Compare by gene"),
        rules=words(rules_text(site.ready_when, site)),
        finding=finding_of((*now, *held), folio, offers=True),
        sold_note=sold_text() if sold else "",
        cautions=caution_views(offer_cautions(folio.collection, *species), folio),
        contact=contact_fields(site.contact),
        contact_note=site.contact.note,
    )


def _gone(animal: Animal) -> bool:
    return animal.died is not None or standing(animal) is OfferState.SOLD


def _of_the_collection(folio: Folio) -> Iterator[Animal]:
    """Animals with a record of their own, then young that are kept."""
    animals = folio.collection.animals.values()
    yield from (animal for animal in animals if not animal.is_young)
    yield from (animal for animal in animals if animal.is_young and animal.kept)


def kept_animals(folio: Folio) -> tuple[Animal, ...]:
    """The animals that are kept, in record order."""
    return tuple(animal for animal in _of_the_collection(folio) if not _gone(animal))


def collection_page(folio: Folio) -> CollectionPage:
    """Every animal of the collection by species, and those that are no longer here."""
    kept = kept_animals(folio)
    gone = tuple(animal for animal in _of_the_collection(folio) if _gone(animal))
    told = ngettext(
        "{animals}, with what is known of it.", "{animals}, each with what is known of it.", len(kept)
    ).format(animals=animals_count(len(kept)))
    return CollectionPage(
        groups=species_groups(kept, folio),
        gone=tuple(animal_entry(animal, folio) for animal in gone),
        intro=words(told if kept else ""),
        nobody="" if kept else nobody_kept(recorded=bool(folio.collection.animals)),
        cautions=offer_caution_views(kept, folio),
        finding=finding_of(kept, folio, offers=False),
    )
