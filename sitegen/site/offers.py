"""The page of what is available, on hold and gone."""

import datetime as dt
from collections.abc import Iterable, Sequence

from sitegen.content.animals import Animal, OfferState
from sitegen.content.litters import Litter
from sitegen.evidence.cautions import offer_cautions
from sitegen.evidence.offers import standing
from sitegen.site.comparison import comparison_links
from sitegen.site.entries import animal_entry, species_groups
from sitegen.site.in_play import can_be_had
from sitegen.site.material import Folio
from sitegen.site.models import AvailablePage
from sitegen.site.offer_views import caution_views, contact_fields
from sitegen.site.parts import CautionView, Field, Line, words
from sitegen.site.sieve import sieve_of
from sitegen.words.buying import rules_text, waiting_text
from sitegen.words.comparison import compare_label
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import next_litter, nothing_available, offers_count, sold_text
from sitegen.words.speech import capital


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
    coming = [litter for litter in folio.collection.litters.values() if litter.born is None and not litter.young]
    dated = [litter for litter in coming if litter.expected and litter.expected.latest >= folio.material.as_of]
    laid = [litter for litter in coming if litter.laid and not litter.expected]
    if not dated and not laid:
        return words(nothing_available())
    litter = min(dated, key=_expected_day) if dated else laid[-1]
    word = birth_words(folio.collection.species[litter.species]).litter
    told = next_litter(folio.voice.litter(litter.id), word, folio.date(litter.expected))
    return (*words(f"{nothing_available()} "), *folio.line(told))


def _expected_day(litter: Litter) -> dt.date:
    assert litter.expected is not None
    return litter.expected.latest


def available_page(folio: Folio) -> AvailablePage:
    """What is offered now, and what was."""
    site = folio.collection.site
    now, held, sold = (offered(folio, s) for s in (OfferState.AVAILABLE, OfferState.ON_HOLD, OfferState.SOLD))
    species = dict.fromkeys(animal.species for animal in (*now, *held)) or folio.collection.species
    groups = species_groups(now, folio)
    on_hold = tuple(animal_entry(animal, folio) for animal in held)
    return AvailablePage(
        groups=groups,
        held=on_hold,
        sold=tuple(animal_entry(animal, folio) for animal in sold),
        intro=words(_intro(now, folio)) if now else nothing_line(folio),
        compare=tuple(
            Field(capital(folio.collection.species[found].name), links)
            for found in folio.collection.species
            if (links := comparison_links(found, folio))
        ),
        compare_label=compare_label(),
        rules=words(rules_text(site.ready_when, site)),
        sieve=sieve_of((*now, *held), folio, offers=True),
        sold_note=sold_text() if sold else "",
        cautions=caution_views(offer_cautions(folio.collection, *species), folio),
        contact=contact_fields(site.contact),
        contact_note=site.contact.note,
    )
