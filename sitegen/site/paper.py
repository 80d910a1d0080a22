"""The buyer's paper: one printed side that states what is known of an offered animal, and on what it rests."""

from dataclasses import dataclass, replace

from sitegen.content.animals import Animal, PhotoRecord
from sitegen.content.values import PartialDate
from sitegen.site.addresses import relative
from sitegen.site.material import Folio
from sitegen.site.paper_facts import PaperParts, paper_facts, paper_parts
from sitegen.site.paper_fit import type_size
from sitegen.site.parts import ClaimView, LabelRow, Line, Plate, Span, words
from sitegen.site.pedigree import PedigreeChart, pedigree_chart
from sitegen.site.plates import empty_plate, grown_plate, lead_photo
from sitegen.site.views import contact_fields, no_hidden
from sitegen.words.buying import readiness_text
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import labels, sex_words
from sitegen.words.numbers import weight_text
from sitegen.words.speech import _, capital


@dataclass(frozen=True, slots=True)
class Code:
    """An address to be drawn as a QR code, with its text alternative."""

    address: str
    title: str


@dataclass(frozen=True, slots=True)
class ShortRow:
    """One line of a short record: the day, and what is written beside it."""

    date: str
    text: str


@dataclass(frozen=True, slots=True)
class PaperWords:
    """Headings and short words."""

    kind: str
    breeder: str
    stated: str
    version: str
    shows: str
    hidden: str
    ruled_out: str
    pedigree: str
    legend: str
    parents: str
    not_known: str
    weights: str
    meals: str
    cautions: str


@dataclass(frozen=True, slots=True)
class PaperPage:
    """The buyer's paper: one printed side. ``type_size`` names the size of type that fits on it.

    ``no_hidden``, ``no_weights`` and ``no_meals`` stand where the list of that name is empty, and are empty otherwise.
    """

    name: str
    species: str
    words: PaperWords
    label: tuple[LabelRow, ...]
    breeder: tuple[LabelRow, ...]
    plate: Plate
    in_words: str
    shows: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    no_hidden: str
    ruled_out: tuple[ClaimView, ...]
    combination: str
    chart: PedigreeChart
    relatedness: tuple[str, ...]
    not_known: tuple[str, ...]
    weights: tuple[ShortRow, ...]
    no_weights: str
    meals: tuple[ShortRow, ...]
    no_meals: str
    readiness: str
    cautions: tuple[str, ...]
    later: str
    printing: str
    code: Code | None
    back: Line
    data: Line
    type_size: str


def paper_words() -> PaperWords:
    """The words in the language of the site."""
    return PaperWords(
        kind=_("Paper for the buyer"),
        breeder=_("Bred or kept by"),
        stated=_("Stated as of"),
        version=_("Version"),
        shows=_("What it shows"),
        hidden=_("What it carries or may carry"),
        ruled_out=_("Looked into and ruled out"),
        pedigree=_("Parents and grandparents"),
        legend=_("Legend"),
        parents=_("How its parents are related"),
        not_known=_("What is not known"),
        weights=_("Last weights"),
        meals=_("Last meals"),
        cautions=_("Please note"),
    )


def printing_text() -> str:
    """What the page is made for."""
    return _("This page is made to be printed on one side of A4 or Letter.")


def none_recorded() -> str:
    """What stands for a list that is empty."""
    return _("None recorded.")


def drawing_text() -> str:
    """What stands under a picture that is drawn."""
    return _("A drawing, not a photograph.")


def later_text(address: str) -> str:
    """Where to look for what became known after the day of the statement."""
    if not address:
        return _(
            "Every genetic statement here is worked out from our records as of the day stated, and is no better than "
            "they are. What became known later stands, with its date, on the animal’s page."
        )
    words = _(
        "Every genetic statement here is worked out from our records as of the day stated, and is no better than "
        "they are. What became known later stands, with its date, on the animal’s page: {address}"
    )
    return words.format(address=address)


def code_title(name: str) -> str:
    """The text alternative of the QR code."""
    return _("QR code that leads to the page of {name}").format(name=name)


def paper_title(name: str, species: str) -> str:
    """The title of the page."""
    return _("Paper for {name}, {species}").format(name=name, species=species)


def counted_of(shown: int, there_are: int, heading: str) -> str:
    """``Last meals (5 of 12)`` where not all are shown."""
    if shown == there_are:
        return heading
    return _("{heading} ({shown} of {all})").format(heading=heading, shown=shown, all=there_are)


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


def _breeder(record: str, folio: Folio) -> tuple[LabelRow, ...]:
    """Who states it, from which day, and from which version of the records."""
    word, site, as_of = paper_words(), folio.collection.site, folio.material.as_of
    return (
        LabelRow(word.breeder, words(site.name)),
        *contact_fields(site.contact),
        LabelRow(word.stated, words(folio.date(PartialDate(as_of.year, as_of.month, as_of.day)))),
        LabelRow(word.version, words(record)),
    )


def _label(animal: Animal, told: PaperParts, folio: Folio) -> tuple[LabelRow, ...]:
    """Who it is."""
    word, species = labels(), folio.collection.species[animal.species]
    scientific = f" ({species.scientific})" if species.scientific else ""
    born = folio.date(animal.born) or _("not recorded")
    fields = [
        LabelRow(word.species, words(capital(species.name) + scientific)),
        LabelRow(word.sex, words(sex_words(animal.sex))),
        LabelRow(capital(birth_words(species).came), words(born)),
    ]
    fields += [LabelRow(word.died, words(folio.date(animal.died)))] if animal.died else []
    fields.append(LabelRow(word.dam, words(told.dam)))
    fields.append(LabelRow(word.possible_sires if len(animal.sires) > 1 else word.sire, words(told.sires)))
    fields += [LabelRow(word.line, words(animal.line))] if animal.line else []
    fields += [LabelRow(word.locality, words(animal.locality))] if animal.locality else []
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
