"""The page of one animal; an offered young has the same, with its offer."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.off_site import is_off_site
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.evidence.kinds import ClaimKind
from sitegen.evidence.offers import gene_cautions, offer_cautions, standing
from sitegen.site import views
from sitegen.site.addresses import GENES
from sitegen.site.material import Folio
from sitegen.site.parts import (
    CautionView,
    ClaimView,
    LabelRow,
    Line,
    OfferView,
    Plate,
    Point,
    Prose,
    Span,
    WeightLine,
    words,
)
from sitegen.site.pictured_pedigree import PicturedPedigree, pictured_pedigree
from sitegen.site.plates import empty_plate, in_time_order, lead_photo, opening_plate, parent_plates
from sitegen.site.projects import served_lines
from sitegen.words.care import breeding_weight_text, growth_text, lengths_text, meals_text, sheds_text
from sitegen.words.changes import change_label, change_sentence, changes_note
from sitegen.words.claims import no_look, such_means
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import nothing_else, sex_words, stays_text
from sitegen.words.numbers import age_text, weight_text
from sitegen.words.relations import ancestry_words
from sitegen.words.speech import Link, Sentence, Target, Text, _, capital, said
from sitegen.words.together import shared_doubt


@dataclass(frozen=True, slots=True)
class Relatives:
    """Animals that are related in one way: dam, sire, littermates, young of one litter."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class AnimalPage:
    """One animal; also an offered young.

    ``line`` is its label line, ``first`` has its two strongest claims on hidden genes, ``daily`` a sentence each on
    meals, lengths and sheds; ``no_look``, ``no_hidden`` and
    ``no_pedigree`` stand where ``shows``, ``hidden`` and ``pedigree`` are empty, and are empty otherwise.
    """

    name: str
    kicker: Line
    label: tuple[LabelRow, ...]
    lead: Plate
    line: Line
    no_look: str
    no_hidden: str
    offer: OfferView | None
    ask: Line
    shows: tuple[ClaimView, ...]
    first: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    ruled_out: tuple[ClaimView, ...]
    harms: tuple[CautionView, ...]
    not_known: tuple[Line, ...]
    combination: Line
    odds_method: Line
    strip: tuple[Plate, ...]
    parents: tuple[Plate, ...]
    pedigree: PicturedPedigree | None
    no_pedigree: str
    related: tuple[Relatives, ...]
    inbreeding: tuple[Line, ...]
    weights: WeightLine | None
    daily: tuple[LabelRow, ...]
    cautions: tuple[CautionView, ...]
    about: Prose
    paper: Line = ()
    changes: tuple[LabelRow, ...] = ()
    changes_note: Line = ()
    projects: tuple[Line, ...] = ()
    together: tuple[Line, ...] = ()


def animal_page(animal: Animal, folio: Folio) -> AnimalPage:
    """All that is told of one animal."""
    claims = views.views(animal, folio)
    photos = in_time_order(animal.photos, folio)
    lead = lead_photo(animal.photos, folio)
    offer, of_offers = views.offer_view(animal, folio), offer_cautions(folio.collection, animal.species)
    tree = pictured_pedigree(animal, folio)
    return AnimalPage(
        name=folio.name(animal),
        kicker=_kicker(animal, folio),
        label=tuple(_label(animal, folio)),
        lead=opening_plate(lead, animal, folio) if lead else empty_plate(),
        line=folio.line(folio.material.lines[animal.id].whole()),
        no_look=no_look(animal, folio.claims(animal.id), folio.voice),
        offer=offer,
        ask=views.ask_line(animal, folio),
        paper=views.paper_line(animal, folio),
        shows=claims.shows,
        first=claims.first,
        hidden=claims.hidden,
        no_hidden=views.no_hidden(animal, folio),
        ruled_out=claims.ruled_out,
        not_known=not_known_lines(animal, folio),
        combination=folio.line(views.combination_sentence(animal, folio)),
        odds_method=_method(animal, folio),
        strip=tuple(opening_plate(photo, animal, folio) for photo in photos) if len(photos) > 1 else (),
        parents=parent_plates(animal, folio) if animal.is_young else (),
        pedigree=tree,
        no_pedigree="" if tree else _("The parents are not recorded."),
        related=relatives(animal, folio),
        inbreeding=views.inbreeding_lines(animal, folio),
        weights=_weights(animal, folio),
        daily=tuple(_daily(animal, folio)),
        harms=views.caution_views(gene_cautions(folio.collection, folio.claims(animal.id)), folio),
        cautions=views.caution_views(of_offers, folio) if offer and offer.open else (),
        about=folio.prose(animal.about),
        changes=change_fields(animal, folio),
        changes_note=words(changes_note()),
        projects=served_lines(animal, folio),
        together=folio.lines([*views.together_lines(animal, folio), _littermates(animal, folio)]),
    )


def _littermates(animal: Animal, folio: Folio) -> Sentence:
    """Genes of which its littermates share the doubt."""
    if is_off_site(animal.litter):
        return ()
    own = [each for each in views.shared_doubts(animal.litter, folio) if animal.id in each.young]
    return shared_doubt(own, folio.collection.litters[animal.litter], folio.voice) if own else ()


def _kicker(animal: Animal, folio: Folio) -> Line:
    """The species, leading to its genes; the scientific name after it."""
    species = folio.collection.species[animal.species]
    scientific = f", {species.scientific}" if species.scientific else ""
    return (Span(capital(species.name), folio.linker.to(f"{GENES}#{species.id}")), *words(scientific))


def _label(animal: Animal, folio: Folio) -> Iterator[LabelRow]:
    """The ruled lines of the specimen label; what is not known is left out, but never the parents."""
    word, born = folio.material.labels, birth_words(folio.collection.species[animal.species])
    yield LabelRow(word.sex, words(sex_words(animal.sex)))
    if animal.born:
        age = age_text(animal.born, folio.material.as_of) if not animal.died else ""
        aged = _("{date}, {age} old").format(date=folio.date(animal.born), age=age) if age else folio.date(animal.born)
        yield LabelRow(capital(born.came), words(aged))
    if animal.died:
        yield LabelRow(word.died, words(folio.date(animal.died)))
    if animal.litter and not is_off_site(animal.litter):
        yield LabelRow(capital(born.litter), folio.line((folio.voice.litter(animal.litter),)))
    yield LabelRow(word.dam, folio.line(views.dam_words(animal, folio)))
    yield LabelRow(
        word.possible_sires if len(animal.sires) > 1 else word.sire, folio.line(views.sires_words(animal, folio))
    )
    if animal.acquired:
        parts = [folio.date(animal.acquired.date), animal.acquired.source]
        yield LabelRow(word.acquired, words(_(", from ").join(part for part in parts if part)))
    answers = folio.material.answers
    origins = (word.line, animal.line, answers.lines), (word.locality, animal.locality, answers.localities)
    for label, stated, shares in origins:
        known = shares.get(animal.id)
        if origin := stated or (ancestry_words(known, animal.id, folio.voice) if known is not None else ""):
            yield LabelRow(label, words(origin))
    if weights := animal.weights:
        newest = max(weights, key=lambda weighing: weighing.date.latest)
        weight = weight_text(newest.grams, folio.collection.site.units, folio.collection.site.language)
        told = _("{weight} on {date}").format(weight=weight, date=folio.date(newest.date))
        yield LabelRow(word.weight, words(told))
    if animal.kept and not animal.offer and not animal.died:
        yield LabelRow(word.kept, words(stays_text()))


def not_known_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """What no claim is made about, marks that are no test, and that nothing else is claimed."""
    unclaimed = (ClaimKind.NO_CLAIM, ClaimKind.NOT_KNOWN)
    marks = [mark for genes in animal.genes for mark in genes.markers]
    mark_words = _(
        "Noted: {mark}. Some keepers read such a mark as a sign of a hidden gene. It is not a test, and it "
        "changes no number here."
    )
    return (
        *folio.lines(each.headline for each in folio.material.worded[animal.id] if each.claim.kind in unclaimed),
        *folio.lines(said(mark_words, mark=mark) for mark in marks),
        words(nothing_else()),
    )


def _method(animal: Animal, folio: Folio) -> Line:
    """Of whom the odds are told, from which records and by which method they were made."""
    date = PartialDate(folio.material.as_of.year, folio.material.as_of.month, folio.material.as_of.day)
    how = Link(_("How to read our odds"), Target.METHOD, "")
    worked_out = said(_("Worked out from all our records as of {date}. {how}."), date=folio.date(date), how=how)
    such = such_means(folio.claims(animal.id), folio.voice)
    return folio.line((*such, Text(" "), *worked_out) if such else worked_out)


def _weights(animal: Animal, folio: Folio) -> WeightLine | None:
    """The weighings in time order; None when there are none."""
    weighings = sorted(animal.weights, key=lambda weighing: weighing.date.earliest)
    if not weighings:
        return None
    site = folio.collection.site
    first = weighings[0].date.earliest
    points = tuple(
        Point(
            day=(weighing.date.earliest - first).days,
            grams=weighing.grams,
            date=folio.date(weighing.date),
            weight=weight_text(weighing.grams, site.units, site.language),
        )
        for weighing in weighings
    )
    words_of = _("From {first} on {start} to {last} on {end}, in {count} weighings; the table has them all.")
    described = words_of.format(
        first=points[0].weight, start=points[0].date, last=points[-1].weight, end=points[-1].date, count=len(points)
    )
    title = _("Weight of {name} over time").format(name=folio.name(animal))
    species = folio.collection.species[animal.species]
    breeding = species.breeding_weight_grams.get(animal.sex, 0)
    stays = not animal.died and standing(animal) in (None, OfferState.NOT_FOR_SALE)  # of others nothing is foretold
    foretold = growth_text(animal, breeding, site) if stays else ""
    enough = f"{breeding_weight_text(animal.sex, species, site)} {foretold}".strip()
    return WeightLine(points, title, described, breeding, enough)


def _daily(animal: Animal, folio: Folio) -> Iterator[LabelRow]:
    """Meals, lengths and sheds, a sentence each."""
    word, site = folio.material.labels, folio.collection.site
    told = (
        (word.meals, meals_text(animal.meals, site)),
        (word.length, lengths_text(animal.lengths, site)),
        (word.sheds, sheds_text(animal.events, site)),
    )
    return (LabelRow(label, words(text)) for label, text in told if text)


def relatives(animal: Animal, folio: Folio) -> tuple[Relatives, ...]:
    """Littermates; then what it has produced: its litters, and young recorded without a litter."""
    voice, litter = folio.voice, folio.collection.litters.get(animal.litter)
    litter_young = folio.young(litter) if litter else ()
    mates = folio.lines((voice.animal(each.id),) for each in litter_young if each.id != animal.id)
    young: list[Sentence] = []
    for own in folio.material.litters_of.get(animal.id, ()):
        unsure = len(own.sires) > 1 and animal.id != own.dam
        young.append(said(_("{litter} (possibly)") if unsure else "{litter}", litter=voice.litter(own.id)))
    young += [(voice.animal(each.id),) for each in folio.material.young_of.get(animal.id, ())]
    word = folio.material.labels
    told = (Relatives(word.littermates, mates), Relatives(word.young, folio.lines(young)))
    return tuple(each for each in told if each.lines)


def change_fields(animal: Animal, folio: Folio) -> tuple[LabelRow, ...]:
    """Each change as a ruled line: how it changed, and the sentence that tells old, new, date and reason."""
    return tuple(
        LabelRow(change_label(change), folio.line(change_sentence(change, folio.voice)))
        for change in folio.material.changes.get(animal.id, ())
    )
