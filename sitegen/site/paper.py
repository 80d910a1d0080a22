"""The buyer's paper: one printed side that states what is known of an offered animal, and on what it rests."""

from dataclasses import replace

from sitegen.content.animals import Animal, PhotoRecord
from sitegen.content.values import PartialDate
from sitegen.site.addresses import relative
from sitegen.site.claim_views import no_hidden
from sitegen.site.material import Folio
from sitegen.site.offer_models import Code, PaperPage, ShortRow
from sitegen.site.offer_views import contact_fields
from sitegen.site.paper_facts import paper_facts
from sitegen.site.paper_fit import type_size
from sitegen.site.paper_parts import PaperParts, paper_parts
from sitegen.site.parts import Field, Plate, Span, words
from sitegen.site.pedigree import PedigreeChart, pedigree_chart
from sitegen.site.plates import empty_plate, grown_plate, lead_photo
from sitegen.words.buying import readiness_text
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import labels, sex_words
from sitegen.words.numbers import weight_text
from sitegen.words.paper import (
    PaperWords,
    code_title,
    counted_of,
    drawing_text,
    later_text,
    none_recorded,
    paper_words,
    printing_text,
)
from sitegen.words.speech import _, capital

_MOST_WEIGHTS, _MOST_MEALS = 4, 5
_LONGEST_CODE = 300
"""Letters of an address that a code as large as a stamp can hold and a telephone can still read."""


def data_address(paper: str) -> str:
    """Where the file for machines stands: ``litters/2026-x/03-paper.json``."""
    return paper.removesuffix(".html") + ".json"


def paper_page(animal: Animal, folio: Folio) -> PaperPage:
    """The paper of one animal."""
    site = folio.collection.site
    name, lead, told = folio.name(animal), lead_photo(animal.photos, folio), paper_parts(animal, folio)
    public = site.address + relative("", folio.material.places[animal.id]) if site.address else ""
    chart, readiness = pedigree_chart(animal, folio), _readiness(animal, folio)
    weights, meals = _weights(animal, folio), _meals(animal, folio)
    n_rows = max(len(weights), len(meals))
    return PaperPage(
        name=name,
        species=folio.collection.species[animal.species].name,
        words=_words(len(animal.weights), len(animal.meals)),
        label=_label(animal, told, folio),
        breeder=_breeder(str(paper_facts(animal, folio)["record"]), folio),
        plate=_plate(lead, animal, folio) if lead else empty_plate(),
        in_words=told.in_words,
        shows=told.claims.shows,
        hidden=told.claims.hidden,
        no_hidden=no_hidden(animal, folio),
        ruled_out=told.claims.ruled_out,
        combination=told.combination,
        chart=chart,
        relatedness=told.relatedness,
        not_known=told.not_known,
        weights=weights,
        no_weights="" if weights else none_recorded(),
        meals=meals,
        no_meals="" if meals else none_recorded(),
        readiness=readiness,
        cautions=told.cautions,
        later=later_text(public),
        printing=printing_text(),
        code=Code(public, code_title(name)) if 0 < len(public) <= _LONGEST_CODE else None,
        back=(Span(_("To the animal’s page"), folio.linker.animal(animal.id)),),
        data=(Span(_("The same facts as data"), folio.linker.to(data_address(folio.address))),),
        type_size=_type_size(told, chart, readiness, n_rows),
    )


def _plate(photo: PhotoRecord, animal: Animal, folio: Folio) -> Plate:
    """The photo with its age and date, and that it is a drawing where it is one."""
    plate = grown_plate(photo, animal, folio)
    note = f"{plate.note}. " if plate.note else ""
    return replace(plate, note=note + drawing_text()) if photo.drawing else plate


def _readiness(animal: Animal, folio: Folio) -> str:
    """What the animal lacks by the site's own rules; empty when it may leave."""
    offer = folio.offer(animal)
    return capital(readiness_text(offer, folio.collection.site)) + "." if offer and offer.missing else ""


def _type_size(told: PaperParts, chart: PedigreeChart, readiness: str, n_rows: int) -> str:
    """The size of type in which all of it fits."""
    claims = (*told.claims.shows, *told.claims.hidden, *told.claims.ruled_out)
    return type_size(claims, told.not_known, chart, (*told.cautions, readiness), n_rows)


def _words(n_weights: int, n_meals: int) -> PaperWords:
    """The headings; those of the records say so when not all of a record is printed."""
    word = paper_words()
    return replace(
        word,
        weights=counted_of(min(_MOST_WEIGHTS, n_weights), n_weights, word.weights),
        meals=counted_of(min(_MOST_MEALS, n_meals), n_meals, word.meals),
    )


def _breeder(record: str, folio: Folio) -> tuple[Field, ...]:
    """Who states it, from which day, and from which version of the records."""
    word, site, as_of = paper_words(), folio.collection.site, folio.material.as_of
    return (
        Field(word.breeder, words(site.name)),
        *contact_fields(site.contact),
        Field(word.stated, words(folio.date(PartialDate(as_of.year, as_of.month, as_of.day)))),
        Field(word.version, words(record)),
    )


def _label(animal: Animal, told: PaperParts, folio: Folio) -> tuple[Field, ...]:
    """Who it is."""
    word, species = labels(), folio.collection.species[animal.species]
    scientific = f" ({species.scientific})" if species.scientific else ""
    born = folio.date(animal.born) or _("not recorded")
    fields = [
        Field(word.species, words(capital(species.name) + scientific)),
        Field(word.sex, words(sex_words(animal.sex))),
        Field(capital(birth_words(species).came), words(born)),
    ]
    fields += [Field(word.died, words(folio.date(animal.died)))] if animal.died else []
    fields.append(Field(word.dam, words(told.dam)))
    fields.append(Field(word.possible_sires if len(animal.sires) > 1 else word.sire, words(told.sires)))
    fields += [Field(word.line, words(animal.line))] if animal.line else []
    fields += [Field(word.locality, words(animal.locality))] if animal.locality else []
    return tuple(fields)


def _weights(animal: Animal, folio: Folio) -> tuple[ShortRow, ...]:
    """The last weighings, newest first."""
    site = folio.collection.site
    newest = sorted(animal.weights, key=lambda weighing: weighing.date.latest, reverse=True)[:_MOST_WEIGHTS]
    return tuple(ShortRow(folio.date(w.date), weight_text(w.grams, site.units, site.language)) for w in newest)


def _meals(animal: Animal, folio: Folio) -> tuple[ShortRow, ...]:
    """The last meals, newest first."""
    newest = sorted(animal.meals, key=lambda meal: meal.date.latest, reverse=True)[:_MOST_MEALS]
    told = _("{what}, {taken}")
    return tuple(
        ShortRow(folio.date(meal.date), told.format(what=meal.what, taken=_("taken") if meal.taken else _("refused")))
        for meal in newest
    )
