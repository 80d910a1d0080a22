"""The buyer's paper: one printed side that states what is known of an offered animal, and on what it rests."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from sitegen.content.animals import Animal
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.public import Public, is_shown
from sitegen.content.values import PartialDate
from sitegen.site import views
from sitegen.site.addresses import relative
from sitegen.site.material import Folio
from sitegen.site.paper_facts import not_known_texts, paper_facts, short_cautions
from sitegen.site.paper_fit import type_size
from sitegen.site.parts import ClaimView, LabelRow, Line, Plate, Span, text_of, words
from sitegen.site.pedigree_chart import PedigreeChart, pedigree_chart
from sitegen.site.plates import empty_plate, grown_plate, lead_photo
from sitegen.words.buying import readiness_text
from sitegen.words.care import meals_text
from sitegen.words.claims import no_look, such_means
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import sex_words
from sitegen.words.numbers import weight_text
from sitegen.words.speech import _, capital, plain, when_asked


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

    kind: str = field(default_factory=when_asked("Paper for the buyer"))
    breeder: str = field(default_factory=when_asked("Bred or kept by"))
    stated: str = field(default_factory=when_asked("Stated as of"))
    version: str = field(default_factory=when_asked("Version"))
    shows: str = field(default_factory=when_asked("What shows"))
    hidden: str = field(default_factory=when_asked("Carries or may carry"))
    ruled_out: str = field(default_factory=when_asked("Looked into and ruled out"))
    pedigree: str = field(default_factory=when_asked("Parents and grandparents"))
    legend: str = field(default_factory=when_asked("Legend"))
    parents: str = field(default_factory=when_asked("How the parents are related"))
    not_known: str = field(default_factory=when_asked("What is not known"))
    weights: str = field(default_factory=when_asked("Last weights"))
    meals: str = field(default_factory=when_asked("Meals"))
    cautions: str = field(default_factory=when_asked("Please note"))


@dataclass(frozen=True, slots=True)
class PaperPage:
    """The buyer's paper: one printed side. ``type_size`` names the size of type that fits on it.

    ``no_look``, ``no_hidden`` and ``no_weights`` stand where the list of that name is empty, and are empty otherwise;
    weights and meals that are not public have neither.
    """

    name: str
    species: str
    words: PaperWords
    label: tuple[LabelRow, ...]
    breeder: tuple[LabelRow, ...]
    plate: Plate
    no_look: str
    shows: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    no_hidden: str
    together: tuple[str, ...]
    ruled_out: tuple[ClaimView, ...]
    combination: str
    chart: PedigreeChart
    relatedness: tuple[str, ...]
    not_known: tuple[str, ...]
    weights: tuple[ShortRow, ...]
    no_weights: str
    meals: str
    readiness: str
    cautions: tuple[str, ...]
    later: str
    printing: str
    code: Code | None
    back: Line
    data: Line
    type_size: str


_MOST_WEIGHTS = 4
_LONGEST_CODE = 300
"""Letters of an address that a code as large as a stamp can hold and a telephone can still read."""


def data_address(paper: str) -> str:
    """Where the file for machines stands: ``litters/2026-x/03-paper.json``."""
    return paper.removesuffix(".html") + ".json"


def paper_page(animal: Animal, folio: Folio) -> PaperPage:
    """The paper of one animal; nothing on it is a link, since paper has none."""
    site, name, lead = folio.collection.site, folio.name(animal), lead_photo(animal.photos, folio)
    claims, such = views.views(animal, folio, linked=False), plain(such_means(folio.claims(animal.id), folio.voice))
    not_known = (*([such] if such else []), *not_known_texts(animal, folio))
    public = site.address + relative("", folio.addresses.animals[animal.id]) if site.address else ""
    chart, readiness, cautions = pedigree_chart(animal, folio), _readiness(animal, folio), short_cautions(animal, folio)
    none, weights = _("None recorded."), _weights(animal, folio)
    meals = (meals_text(animal.meals, site) or none) if is_shown(Public.MEALS, animal.public) else ""
    together = tuple(map(plain, views.together_lines(animal, folio)))
    printed, below = (*claims.shows, *claims.hidden, *claims.ruled_out), (*cautions, readiness)
    return PaperPage(
        name=name,
        species=folio.collection.species[animal.species].name,
        words=_words(len(animal.weights)),
        label=tuple(_label(animal, folio)),
        breeder=_breeder(str(paper_facts(animal, folio)["record"]), folio),
        plate=_plate(lead, animal, folio) if lead else empty_plate(),
        no_look=no_look(animal, folio.claims(animal.id), folio.voice),
        shows=claims.shows,
        hidden=claims.hidden,
        no_hidden=views.no_hidden(animal, folio),
        together=together,
        ruled_out=claims.ruled_out,
        combination=plain(views.combination_sentence(animal, folio)),
        chart=chart,
        relatedness=tuple(text_of(line) for line in views.inbreeding_lines(animal, folio)),
        not_known=not_known,
        weights=weights,
        no_weights=none if not weights and is_shown(Public.WEIGHTS, animal.public) else "",
        meals=meals,
        readiness=readiness,
        cautions=cautions,
        later=_later_text(public),
        printing=_("This page is made to be printed on one side of A4 or Letter."),
        code=code_to(public, _("QR code that leads to the page of {name}").format(name=name)),
        back=(Span(_("To the animal’s page"), folio.linker.animal(animal.id)),),
        data=(Span(_("The same facts as data"), folio.linker.to(data_address(folio.address))),),
        type_size=type_size(printed, (*together, *not_known), chart, below, max(len(weights), len(meals) // 30)),
    )


def _later_text(address: str) -> str:
    """Where to look for what became known after the day of the statement."""
    if not address:
        return _(
            "Every genetic statement here is worked out from our records as of the day stated, and is no better than "
            "they are. What became known later stands, with its date, on the animal’s page."
        )
    told = _(
        "Every genetic statement here is worked out from our records as of the day stated, and is no better than "
        "they are. What became known later stands, with its date, on the animal’s page: {address}"
    )
    return told.format(address=address)


def code_to(address: str, title: str) -> Code | None:
    """An address to be drawn; None without one, and for one that is too long."""
    return Code(address, title) if 0 < len(address) <= _LONGEST_CODE else None


def _plate(photo: PhotoRecord, animal: Animal, folio: Folio) -> Plate:
    """The photo with its age and date, and that it is a drawing where it is one."""
    plate = grown_plate(photo, animal, folio)
    note = f"{plate.note}. " if plate.note else ""
    return replace(plate, note=note + _("A drawing, not a photograph.")) if photo.drawing else plate


def _readiness(animal: Animal, folio: Folio) -> str:
    """What the animal lacks by the site's own rules; empty when it may leave."""
    offer = folio.offer(animal)
    return capital(readiness_text(offer, folio.collection.site)) + "." if offer and offer.missing else ""


def _words(n_weights: int) -> PaperWords:
    """The headings; that of the weights says so when not all are printed: ``Last weights (4 of 12)``."""
    word, part = PaperWords(), _("{heading} ({shown} of {all})")
    if n_weights > _MOST_WEIGHTS:
        word = replace(word, weights=part.format(heading=word.weights, shown=_MOST_WEIGHTS, all=n_weights))
    return word


def _breeder(record: str, folio: Folio) -> tuple[LabelRow, ...]:
    """Who states it, from which day, and from which version of the records."""
    word, site, as_of = PaperWords(), folio.collection.site, folio.material.as_of
    return (
        LabelRow(word.breeder, words(site.name)),
        *views.contact_fields(site.contact),
        LabelRow(word.stated, words(folio.date(PartialDate(as_of.year, as_of.month, as_of.day)))),
        LabelRow(word.version, words(record)),
    )


def _label(animal: Animal, folio: Folio) -> Iterator[LabelRow]:
    word, species = folio.material.labels, folio.collection.species[animal.species]
    scientific = f" ({species.scientific})" if species.scientific else ""
    yield LabelRow(word.species, words(capital(species.name) + scientific))
    yield LabelRow(word.sex, words(sex_words(animal.sex)))
    yield LabelRow(capital(birth_words(species).came), words(folio.date(animal.born) or _("not recorded")))
    if animal.died:
        yield LabelRow(word.died, words(folio.date(animal.died)))
    yield LabelRow(word.dam, views.unlinked(views.dam_words(animal, folio)))
    sire = word.possible_sires if len(animal.sires) > 1 else word.sire
    yield LabelRow(sire, views.unlinked(views.sires_words(animal, folio)))
    if animal.line:
        yield LabelRow(word.line, words(animal.line))
    if animal.locality:
        yield LabelRow(word.locality, words(animal.locality))


def _weights(animal: Animal, folio: Folio) -> tuple[ShortRow, ...]:
    site = folio.collection.site
    newest = sorted(animal.weights, key=lambda weighing: weighing.date.latest, reverse=True)[:_MOST_WEIGHTS]
    return tuple(ShortRow(folio.date(w.date), weight_text(w.grams, site.units, site.language)) for w in newest)
