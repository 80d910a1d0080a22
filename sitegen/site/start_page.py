"""The first page."""

from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.site.addresses import AVAILABLE, COLLECTION, JOURNAL, LITTERS, ODDS, PROJECTS
from sitegen.site.entries import animal_entry, litter_row, newest_first
from sitegen.site.lists import kept_animals, nothing_line, offer_caution_views, offered
from sitegen.site.material import Folio
from sitegen.site.odds import example_claim
from sitegen.site.parts import AnimalEntry, CautionView, IconArray, Line, LitterRow, Plate, Prose, words
from sitegen.site.plates import lead_photo, named_plate
from sitegen.site.projects import NewsItem, news
from sitegen.site.views import odds_picture
from sitegen.words.claims import SEEN, headline
from sitegen.words.labels import offers_count
from sitegen.words.numbers import in_100
from sitegen.words.speech import _, said


@dataclass(frozen=True, slots=True)
class StartPage:
    """The first page."""

    name: str
    tagline: str
    about: Prose
    lead: Plate | None
    offered: tuple[AnimalEntry, ...]
    offered_note: Line
    cautions: tuple[CautionView, ...]
    litters: tuple[LitterRow, ...]
    plates: tuple[Plate, ...]
    news: tuple[NewsItem, ...]
    odds: IconArray | None
    odds_words: tuple[Line, ...]
    available_href: str
    collection_href: str
    litters_href: str
    odds_href: str
    projects_href: str
    journal: Line = ()


_MOST_OFFERS, _MOST_LITTERS, _MOST_PLATES, _MOST_NEWS = 3, 4, 6, 3


def start_page(folio: Folio) -> StartPage:
    """What a visitor sees first: who this is, what is offered, how genes are spoken of, and the animals."""
    site = folio.collection.site
    available = offered(folio, OfferState.AVAILABLE)
    lead, plates = _plates(folio)
    odds, odds_words = _odds(folio)
    return StartPage(
        name=site.name,
        tagline=site.tagline,
        about=folio.prose(site.about),
        lead=lead,
        offered=tuple(animal_entry(animal, folio) for animal in _for_a_window(available, folio)[:_MOST_OFFERS]),
        offered_note=words(offers_count(len(available))) if available else nothing_line(folio),
        cautions=offer_caution_views(available, folio),
        litters=tuple(
            litter_row(litter, folio) for litter in newest_first(folio.collection.litters.values())[:_MOST_LITTERS]
        ),
        plates=plates,
        news=news(folio, _MOST_NEWS),
        odds=odds,
        odds_words=odds_words,
        available_href=folio.linker.to(AVAILABLE),
        collection_href=folio.linker.to(COLLECTION),
        litters_href=folio.linker.to(LITTERS),
        odds_href=folio.linker.to(ODDS),
        projects_href=folio.linker.to(PROJECTS),
        journal=words(_("Everything else that happened, in the journal"), folio.linker.to(JOURNAL)),
    )


def _for_a_window(animals: tuple[Animal, ...], folio: Folio) -> tuple[Animal, ...]:
    """Those with a photo first; among them those that show most; the youngest offer breaks ties."""

    def rank(animal: Animal) -> tuple[bool, int]:
        shown = [claim for claim in folio.claims(animal.id) if claim.kind in SEEN]
        return lead_photo(animal.photos, folio) is None, -len(shown)

    return tuple(sorted(animals, key=rank))


def _plates(folio: Folio) -> tuple[Plate | None, tuple[Plate, ...]]:
    """The plate beside the name, and a few more: the animals with most photos, so that growing ones come first."""
    animals = [animal for animal in kept_animals(folio) if lead_photo(animal.photos, folio)]
    animals.sort(key=lambda animal: -len(animal.photos))
    plates = tuple(named_plate(animal, folio) for animal in animals[: _MOST_PLATES + 1])
    return (plates[0], plates[1:]) if plates else (None, ())


def _odds(folio: Folio) -> tuple[IconArray | None, tuple[Line, ...]]:
    """A claim of this collection as an example, with its picture."""
    claim = example_claim(folio)
    if claim is None:
        words_of = _("Every statement about genes on these pages is worked out from what we wrote down.")
        return None, (words(words_of),)
    evidence = _("The breeder writes down evidence; the pages work out what may be said from it. Take {animal}.")
    number = _("The number tells how many of 100 animals like this one would carry it: {chance}. It is no promise.")
    lines = (
        said(evidence, animal=folio.voice.animal(claim.animal)),
        headline(claim, folio.voice),
        said(number, chance=in_100(claim.chance)),
    )
    return odds_picture(claim.chance), folio.lines(lines)
