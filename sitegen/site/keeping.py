"""The page of the collection: who is kept, and who was."""

from collections.abc import Iterator

from sitegen.content.animals import Animal, OfferState
from sitegen.evidence.offers import standing
from sitegen.site.entries import animal_entry, species_groups
from sitegen.site.material import Folio
from sitegen.site.models import CollectionPage
from sitegen.site.offers import offer_caution_views
from sitegen.site.parts import words
from sitegen.site.sieve import sieve_of
from sitegen.words.labels import animals_count, nobody_kept
from sitegen.words.speech import ngettext


def _gone(animal: Animal) -> bool:
    """True for an animal that has died or was sold."""
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
    groups = species_groups(kept, folio)
    return CollectionPage(
        groups=groups,
        gone=tuple(animal_entry(animal, folio) for animal in gone),
        intro=words(told if kept else ""),
        nobody="" if kept else nobody_kept(recorded=bool(folio.collection.animals)),
        cautions=offer_caution_views(kept, folio),
        sieve=sieve_of(kept, folio, offers=False),
    )
