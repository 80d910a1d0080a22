"""The page of one animal; an offered young has the same, with its offer."""

from collections.abc import Iterator, Mapping

from sitegen.content.animals import Animal
from sitegen.content.values import PartialDate
from sitegen.evidence.cautions import gene_cautions, offer_cautions
from sitegen.evidence.descent import Shares
from sitegen.evidence.kinds import ClaimKind
from sitegen.genetics.questions import AnimalId
from sitegen.site.addresses import GENES
from sitegen.site.changes import change_fields
from sitegen.site.claim_views import combination_sentence, no_hidden, shows_sentence, views, worded
from sitegen.site.family import dam_words, pedigree, relatives, sires_words
from sitegen.site.material import Folio
from sitegen.site.models import AnimalPage, MealRow
from sitegen.site.offer_views import ask_line, caution_views, offer_view, paper_line
from sitegen.site.parts import CautionView, Field, Line, Point, Span, WeightLine, words
from sitegen.site.plates import empty_plate, in_time_order, lead_photo, opening_plate
from sitegen.site.projects import served_lines
from sitegen.site.relatedness import inbreeding_lines
from sitegen.words.changes import changes_note
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import labels, nothing_else, sex_words, stays_text
from sitegen.words.numbers import age_text, weight_text
from sitegen.words.relations import ancestry_words
from sitegen.words.speech import Link, Target, _, capital, said


def animal_page(animal: Animal, folio: Folio) -> AnimalPage:
    """All that is told of one animal."""
    claims = views(animal, folio)
    photos = in_time_order(animal.photos, folio)
    lead = lead_photo(animal.photos, folio)
    offer = offer_view(animal, folio)
    return AnimalPage(
        name=folio.name(animal),
        kicker=_kicker(animal, folio),
        label=tuple(_label(animal, folio)),
        lead=opening_plate(lead, animal, folio) if lead else empty_plate(),
        in_words=folio.line(shows_sentence(animal, folio)),
        offer=offer,
        ask=ask_line(animal, folio),
        paper=paper_line(animal, folio),
        shows=claims.shows,
        hidden=claims.hidden,
        no_hidden=no_hidden(animal, folio),
        ruled_out=claims.ruled_out,
        not_known=not_known_lines(animal, folio),
        combination=folio.line(combination_sentence(animal, folio)),
        odds_method=_method(folio),
        strip=tuple(opening_plate(photo, animal, folio) for photo in photos) if len(photos) > 1 else (),
        pedigree=pedigree(animal, folio),
        related=relatives(animal, folio),
        inbreeding=inbreeding_lines(animal, folio),
        weights=_weights(animal, folio),
        meals=tuple(_meals(animal, folio)),
        harms=caution_views(gene_cautions(folio.collection, folio.claims(animal.id)), folio),
        cautions=_of_every_offer(animal.species, folio) if offer and offer.open else (),
        about=folio.prose(animal.about),
        changes=change_fields(animal, folio),
        changes_note=words(changes_note()),
        projects=served_lines(animal, folio),
    )


def _of_every_offer(species: str, folio: Folio) -> tuple[CautionView, ...]:
    """The cautions wherever an animal is offered: handling, law and transport."""
    return caution_views(offer_cautions(folio.collection, species), folio)


def _kicker(animal: Animal, folio: Folio) -> Line:
    """The species, leading to its genes; the scientific name after it."""
    species = folio.collection.species[animal.species]
    scientific = f", {species.scientific}" if species.scientific else ""
    return (Span(capital(species.name), folio.linker.to(f"{GENES}#{species.id}")), *words(scientific))


def _label(animal: Animal, folio: Folio) -> Iterator[Field]:
    """The ruled lines of the specimen label; what is not known is left out, but never the parents."""
    word, born = labels(), birth_words(folio.collection.species[animal.species])
    yield Field(word.sex, words(sex_words(animal.sex)))
    if animal.born:
        age = age_text(animal.born, folio.material.as_of) if not animal.died else ""
        aged = _("{date}, {age} old").format(date=folio.date(animal.born), age=age) if age else folio.date(animal.born)
        yield Field(capital(born.came), words(aged))
    if animal.died:
        yield Field(word.died, words(folio.date(animal.died)))
    if animal.litter:
        yield Field(capital(born.litter), folio.line((folio.voice.litter(animal.litter),)))
    yield Field(word.dam, folio.line(dam_words(animal, folio)))
    yield Field(word.possible_sires if len(animal.sires) > 1 else word.sire, folio.line(sires_words(animal, folio)))
    if animal.acquired:
        parts = [folio.date(animal.acquired.date), animal.acquired.source]
        yield Field(word.acquired, words(_(", from ").join(part for part in parts if part)))
    answers = folio.material.answers
    for label, written, shares in (
        (word.line, animal.line, answers.lines),
        (word.locality, animal.locality, answers.localities),
    ):
        if origin := written or _origin(shares, animal, folio):
            yield Field(label, words(origin))
    if weights := animal.weights:
        newest = max(weights, key=lambda weighing: weighing.date.latest)
        yield Field(word.weight, words(_weighed(newest.grams, newest.date, folio)))
    if animal.kept and not animal.offer and not animal.died:
        yield Field(word.kept, words(stays_text()))


def _origin(shares: Mapping[AnimalId, Shares], animal: Animal, folio: Folio) -> str:
    """Its ancestry by pedigree; empty where nothing of it is known."""
    known = shares.get(animal.id)
    return "" if known is None else ancestry_words(known, animal.id, folio.voice)


def _weighed(grams: int, date: PartialDate, folio: Folio) -> str:
    """``402 g on 3 May 2025``."""
    site = folio.collection.site
    weight = weight_text(grams, site.units, site.language)
    return _("{weight} on {date}").format(weight=weight, date=folio.date(date))


def not_known_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """What no claim is made about, marks that are no test, and that nothing else is claimed."""
    unclaimed = (ClaimKind.NO_CLAIM, ClaimKind.NOT_KNOWN)
    marks = [mark for genes in animal.genes for mark in genes.markers]
    mark_words = _(
        "Noted on it: {mark}. Some keepers read such a mark as a sign of a hidden gene. It is not a test, and it "
        "changes no number here."
    )
    return (
        *folio.lines([told.headline for told in worded(animal, folio) if told.claim.kind in unclaimed]),
        *folio.lines([said(mark_words, mark=mark) for mark in marks]),
        words(nothing_else()),
    )


def _method(folio: Folio) -> Line:
    """From which records and by which method the odds were made."""
    date = PartialDate(folio.material.as_of.year, folio.material.as_of.month, folio.material.as_of.day)
    how = Link(_("How to read our odds"), Target.METHOD, "")
    return folio.line(said(_("Worked out from all our records as of {date}. {how}."), date=folio.date(date), how=how))


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
    return WeightLine(points, _("Weight of {name} over time").format(name=folio.name(animal)), described)


def _meals(animal: Animal, folio: Folio) -> Iterator[MealRow]:
    """The feeding record, newest first."""
    for meal in sorted(animal.meals, key=lambda meal: meal.date.latest, reverse=True):
        yield MealRow(folio.date(meal.date), meal.what, _("taken") if meal.taken else _("refused"))
