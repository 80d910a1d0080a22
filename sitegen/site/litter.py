"""The page of one litter or clutch, and the ledger of all of them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter, living_young
from sitegen.content.prices import OfferState
from sitegen.evidence.gathered import unrecorded
from sitegen.evidence.offers import offer_cautions, standing
from sitegen.site import views
from sitegen.site.addresses import GENES, OPEN
from sitegen.site.entries import animal_entry, came_word, no_young, year_groups
from sitegen.site.material import Folio
from sitegen.site.outcomes import Outcome, outcome
from sitegen.site.parts import AnimalEntry, CautionView, LabelRow, Line, Plate, Prose, Span, YearGroup, words
from sitegen.site.plates import in_time_order, litter_plate, parent_plates
from sitegen.site.projects import stages_of
from sitegen.words.buying import left_sentence
from sitegen.words.care import event_words
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import no_litters
from sitegen.words.pairings import litter_counts, others_text, sires_sentence, unrecorded_words
from sitegen.words.speech import Link, Sentence, Target, Words, _, capital, ngettext, said
from sitegen.words.together import littermates_sentence
from sitegen.words.year import window_sentences
from sitegen.year.due import laying_due, young_due


@dataclass(frozen=True, slots=True)
class LittersPage:
    """The ledger of litters, newest first; ``none`` says so where there is none."""

    years: tuple[YearGroup, ...]
    intro: Line
    none: str


@dataclass(frozen=True, slots=True)
class LitterPage:
    """One litter or clutch."""

    name: str
    kicker: Line
    label: tuple[LabelRow, ...]
    lead: Plate | None
    plates: tuple[Plate, ...]
    parents: tuple[Plate, ...]
    outcome: Outcome | None
    young: tuple[AnimalEntry, ...]
    young_word: str
    left: Line
    together: tuple[Line, ...]
    others: tuple[Line, ...]
    inbreeding: tuple[Line, ...]
    cautions: tuple[CautionView, ...]
    about: Prose
    diary: tuple[LabelRow, ...] = ()


def litter_page(litter: Litter, folio: Folio) -> LitterPage:
    """All that is told of one litter."""
    species = folio.collection.species[litter.species]
    plates = tuple(litter_plate(photo, litter, folio) for photo in in_time_order(litter.photos, folio))
    young = folio.young(litter)
    offered = any(animal.offer and animal.offer.state in OPEN for animal in young)
    cautions = offer_cautions(folio.collection, litter.species) if offered else ()
    entries = tuple(animal_entry(animal, folio, litter.id) for animal in young)
    return LitterPage(
        name=litter.name,
        kicker=(
            Span(capital(birth_words(species).litter) + ", "),
            Span(species.name, folio.linker.to(f"{GENES}#{species.id}")),
        ),
        label=tuple(_label(litter, folio)),
        lead=plates[-1] if plates else None,
        plates=plates[:-1],
        parents=parent_plates(litter, folio),
        outcome=outcome(litter, folio),
        young=entries,
        young_word=capital(birth_words(species).many),
        left=folio.line(_left(young, entries)),
        together=folio.lines(
            littermates_sentence(each, litter, folio.voice) for each in views.shared_doubts(litter.id, folio)
        ),
        others=folio.lines(list(_others(litter, folio))),
        inbreeding=() if litter.failed else views.litter_lines(litter, folio),
        cautions=views.caution_views(cautions, folio),
        about=folio.prose(litter.about),
        diary=tuple(
            LabelRow(folio.date(event.date), folio.line(event_words(event, folio.voice))) for event in litter.events
        ),
    )


def _left(young: Sequence[Animal], entries: Sequence[AnimalEntry]) -> Sentence:
    """What is left of those that were offered; empty where none was."""

    def at(wanted: OfferState) -> list[Words]:
        return [
            Link(entry.name, Target.ANIMAL, animal.id)
            for animal, entry in zip(young, entries, strict=True)
            if standing(animal) is wanted
        ]

    available, held, sold = (at(state) for state in (OfferState.AVAILABLE, OfferState.ON_HOLD, OfferState.SOLD))
    return left_sentence(available, held) if available or held or sold else ()


def _label(litter: Litter, folio: Folio) -> Iterator[LabelRow]:
    word, species = folio.material.labels, folio.collection.species[litter.species]
    several = len(litter.sires) > 1
    sires = word.possible_sires if several else word.sire
    yield LabelRow(word.dam, folio.line(views.dam_words(litter, folio, _nobody("dam", litter, folio))))
    yield LabelRow(sires, folio.line(views.sires_words(litter, folio, _nobody("sire", litter, folio))))
    dates = (
        (_("Paired"), litter.paired), (_("Laid"), litter.laid), (capital(came_word(litter, species)), litter.born),
        (_("Expected"), litter.expected if not (litter.born or litter.failed) else None),
    )  # fmt: skip
    for label, date in dates:
        if date:
            yield LabelRow(label, words(folio.date(date)))
    if not (litter.born or litter.failed):
        language, laying = folio.collection.site.language, None if litter.laid else laying_due(litter, folio.collection)
        for label, window in ((_("Eggs expected"), laying), (_("Young expected"), young_due(litter, folio.collection))):
            if window:
                yield LabelRow(label, folio.line(window_sentences(window, species, language)))
    if litter.failed:
        yield LabelRow(word.young, folio.line(views.failed_words(litter, folio)))
    lost = (litter.eggs, litter.infertile, litter.stillborn)
    if litter.born and (living_young(litter) or any(count is not None for count in lost)):
        yield LabelRow(_("Count"), words(litter_counts(species, living_young(litter), *lost)))
    elif not living_young(litter) and not litter.failed:
        yield LabelRow(word.young, words(no_young(litter, folio)))
    if stages := stages_of(litter, folio):
        yield LabelRow(_("Project"), stages)
    if several:
        yield LabelRow(_("Which sire"), folio.line(_which_sire(litter, folio)))


def _nobody(parent: str, litter: Litter, folio: Folio) -> str:
    """What is said of a ``dam`` or ``sire`` that is not recorded, and what the young showed of it."""
    found = [each for each in folio.material.answers.surprises if unrecorded(parent, litter.id) in each.unrecorded]
    species = folio.collection.species[litter.species]
    genes = [species.genome.locus(each.locus).name for each in found]
    return unrecorded_words(genes, sure=all(len(each.animals) + len(each.unrecorded) == 1 for each in found))


def _which_sire(litter: Litter, folio: Folio) -> Sentence:
    """Who may be the sire, with the chance of each as the evidence has it."""
    posterior: Mapping[str, Fraction] = folio.material.answers.sires.get(litter.id, dict(litter.sires))
    chances: list[tuple[Words, Fraction]] = [
        (folio.voice.animal(sire), posterior.get(sire, Fraction(0))) for sire, _share in litter.sires
    ]
    species = folio.collection.species[litter.species]
    return sires_sentence(chances, each_its_own=bool(litter.each_its_own_sire), species=species)


def _others(litter: Litter, folio: Folio) -> Iterator[Sentence]:
    for others in litter.others:
        looks = views.look_links([seen.look for seen in others.judged.seen], litter.species, folio)
        yield said("{told}.", told=others_text(others.count, looks, others.judged))
    if hidden := len(litter.young) - len(folio.young(litter)):
        words = ngettext("{count} more is not shown here.", "{count} more are not shown here.", hidden)
        yield said(words, count=hidden)


def litters_page(folio: Folio) -> LittersPage:
    """The ledger."""
    litters = tuple(folio.collection.litters.values())
    told = ngettext("{count} on record, newest first.", "{count} on record, newest first.", len(litters))
    intro: Line = words(told.format(count=len(litters)) if litters else "")
    return LittersPage(year_groups(litters, folio), intro, "" if litters else no_litters())
