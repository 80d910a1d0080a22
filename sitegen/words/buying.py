"""What a buyer is told before buying: cautions, and what a young still lacks before it may leave.

Cautions defer to local law and to a veterinarian, and promise nothing.

Source: hand washing, children under 5, risk groups, kitchens: US CDC leaflets on reptiles and Salmonella
(2016 to 2019); pregnant women: the Swedish animal-health institute. Mail: USPS Publication 52, 525.3. Lists
that protect species: CITES appendices; they change, so the text sends the reader to the current one.
"""

import datetime as dt
from collections.abc import Sequence

from sitegen.content.prices import OfferState
from sitegen.content.site import ReadyRules, Site
from sitegen.content.values import WrittenAge
from sitegen.evidence.offers import Caution, CautionKind, Lacks, Missing, OfferClaim, goes_from
from sitegen.words.labels import ready_text
from sitegen.words.numbers import date_text, days_text, months_text, small_number, weeks_text, weight_text
from sitegen.words.speech import Sentence, Voice, Words, _, joined, listed, ngettext, plain, said, when_asked


def left_sentence(available: Sequence[Words], held: Sequence[Words]) -> Sentence:
    """Which young of a litter, of which some were offered, can still be had."""
    if not (available or held):
        return said(_("None of its young can be had now."))
    told = ((_("Still to be had: {young}."), available), (_("On hold: {young}."), held))
    return joined([piece for words, young in told if young for piece in (" ", said(words, young=listed(young)))][1:])


def caution_title(kind: CautionKind) -> str:
    """The heading of a caution."""
    return {
        CautionKind.WELFARE: _("A gene with a known harm"),
        CautionKind.LETHAL: _("Two copies do not live"),
        CautionKind.SALMONELLA: _("Reptiles and Salmonella"),
        CautionKind.LAW: _("The law where you live"),
        CautionKind.SHIPPING: _("Sending live animals"),
        CautionKind.VETERINARIAN: _("Questions of health"),
        CautionKind.OWN_WORDS: _("Please note"),
    }[kind]


def caution_sentences(caution: Caution, voice: Voice) -> tuple[Sentence, ...]:
    """A caution in a few sentences."""
    match caution.kind:
        case CautionKind.WELFARE:
            return _welfare(caution, voice)
        case CautionKind.LETHAL:
            gene = voice.gene_of(caution.species, caution.locus, caution.allele)
            words = _("Young with two copies of {gene} do not live to be born, so two that have it give fewer young.")
            return (said(words, gene=gene),)
        case CautionKind.OWN_WORDS:
            return (said("{text}", text=caution.text),)
        case _:
            return tuple(said(text) for text in _general(caution.kind))


def _welfare(caution: Caution, voice: Voice) -> tuple[Sentence, ...]:
    """A known harm: what is reported, where, and whom to ask. The source is told as it was written, and no more."""
    assert caution.welfare is not None
    text = caution.welfare.text.rstrip().rstrip(".")
    gene = voice.gene_of(caution.species, caution.locus, caution.allele)
    reported = said(_("{gene}: {text}."), gene=gene, text=text)
    source = said("{text}", text=_source_text(caution.welfare.source))
    return reported, source, said(_("If you have questions, ask a veterinarian experienced with reptiles."))


def _source_text(source: str) -> str:
    """Where a harm is told of; nothing is called published because it stands there."""
    written = source.rstrip().rstrip(".")
    return _("Source: {source}.").format(source=written) if written else _("No source is recorded for this.")


def caution_line(kind: CautionKind) -> Sentence:
    """One plain line for a caution that goes with every offer, where more of it opens; nothing for any other."""
    text = {**_SHORT, **_LINE}.get(kind)
    return said(text()) if text else ()


def short_caution(caution: Caution, voice: Voice) -> Sentence:
    """A caution in one line, for paper."""
    match caution.kind:
        case CautionKind.WELFARE | CautionKind.LETHAL:
            first, *more = caution_sentences(caution, voice)[:2]
            return joined([first, *(piece for sentence in more for piece in (" ", sentence))])
        case CautionKind.OWN_WORDS:
            return said("{text}", text=caution.text)
        case _:
            return said(_SHORT[caution.kind]())


def card_caution(caution: Caution, voice: Voice) -> Sentence:
    """That a gene harms, where there is no room to say how: who reads it is sent to where that stands."""
    gene = voice.gene_of(caution.species, caution.locus, caution.allele)
    return said(_("{gene}: a gene with a known harm. Read about it on the page of this animal first."), gene=gene)


_SHORT = {
    CautionKind.SALMONELLA: when_asked(
        "Healthy reptiles can carry Salmonella: wash your hands with soap after touching a reptile, its food or "
        "its home. A reptile is not advised for homes with children under 5; people over 65, pregnant women and "
        "people with a weak immune system should consider another pet."
    ),
    CautionKind.LAW: when_asked(
        "Check your national, state and local rules on keeping and moving reptiles, and the current CITES lists "
        "before crossing a border."
    ),
    CautionKind.SHIPPING: when_asked(
        "Check the rules for sending live animals first: some mail services take none at all."
    ),
    CautionKind.VETERINARIAN: when_asked("For questions of health, ask a veterinarian experienced with reptiles."),
}
"""The cautions that go with every offer, whole in a line each, for paper."""
_LINE = {
    CautionKind.SALMONELLA: when_asked(
        "Reptiles can carry Salmonella: wash your hands after touching one. Not advised where a child under 5 lives."
    ),
    CautionKind.LAW: when_asked("Check the law where you live before you buy, and CITES before you cross a border."),
}
"""Those that have a shorter line beside an offer."""


def _general(kind: CautionKind) -> tuple[str, ...]:
    return {
        CautionKind.SALMONELLA: (
            _("Healthy reptiles can carry Salmonella, and it can be caught from their home and water as well."),
            _("Wash your hands with soap after touching a reptile, its food or its home, and keep all three out of the "
              "kitchen."),
            _("A reptile is not advised for homes with children under 5; people over 65, pregnant women and people "
              "with a weak immune system should consider another pet."),
        ),
        CautionKind.LAW: (
            _("Rules on keeping, selling and moving reptiles differ from place to place and change."),
            _("Check your national, state and local rules before buying, and the current CITES lists before taking "
              "an animal across a border."),
        ),
        CautionKind.SHIPPING: (
            _("Check the rules for sending live animals before you ask for it: some mail services take none at all."),
            _("We send no animal in weather or by a way that may harm it; fetching it yourself is best."),
        ),
        CautionKind.VETERINARIAN: (
            _("What an animal shows or carries says nothing of its health."),
            _("For questions of health, ask a veterinarian experienced with reptiles."),
        ),
    }[kind]  # fmt: skip


def readiness_text(offer: OfferClaim, site: Site) -> str:
    """``not ready yet: two more recorded meals``, or from when an offered animal can go."""
    if not offer.missing:
        return ready_text(offer.ready, site.language)
    lacks = plain(listed(missing_texts(offer.missing, site)))
    if offer.ready:
        words = _("not ready yet, and not before {date}; still to come: {lacks}")
        return words.format(date=date_text(offer.ready, site.language), lacks=lacks)
    return _("not ready yet; still to come: {lacks}").format(lacks=lacks)


def goes_text(offer: OfferClaim, as_of: dt.date, language: str) -> str:
    """The same in a few words, for lists: ``can go from 5 December 2026``; empty for one that is not available."""
    if offer.state is not OfferState.AVAILABLE:
        return ""
    day = goes_from(offer, as_of)
    if day is None:
        return waits_label()
    as_set = offer.ready is not None and offer.ready.earliest == day
    return ready_text(None if day == as_of else offer.ready if as_set else day, language)


def missing_texts(lacks: Sequence[Missing], site: Site) -> tuple[str, ...]:
    """Each rule that is not met, in a few words."""
    return tuple(_missing_text(each, site) for each in lacks)


def _missing_text(lacks: Missing, site: Site) -> str:
    match lacks.what:
        case Lacks.MEALS:
            more = lacks.wanted - (lacks.found or 0)
            words = ngettext("{count} more recorded meal", "{count} more recorded meals", more)
            first = ngettext("{count} recorded meal", "{count} recorded meals", more)
            return (words if lacks.found else first).format(count=small_number(more))
        case Lacks.WEIGHT:
            wanted = weight_text(lacks.wanted, site.units, site.language)
            if lacks.found is None:
                return _("a recorded weight of {weight}").format(weight=wanted)
            last = weight_text(lacks.found, site.units, site.language)
            return _("a weight of {weight} (last {last})").format(weight=wanted, last=last)
        case Lacks.UNSHOWN:
            return _("the rest of our own rule")
        case Lacks.AGE:
            age = age_words(lacks.age or WrittenAge())
            if lacks.on is None:
                return _("an age of {age} (date of birth not recorded)").format(age=age)
            return _("an age of {age} (on {date})").format(age=age, date=date_text(lacks.on, site.language))


def age_words(age: WrittenAge) -> str:
    """``8 weeks``, ``10 days``, ``3 months``."""
    if age.months:
        return months_text(age.months)
    if age.days % 7 == 0:
        return weeks_text(age.days // 7)
    return days_text(age.days)


def rules_text(rules: ReadyRules, site: Site) -> str:
    """The site's own rules in a sentence; empty when it has none."""
    parts = []
    if rules.meals:
        meals = ngettext("{count} recorded meal", "{count} recorded meals", rules.meals)
        parts.append(meals.format(count=small_number(rules.meals)))
    if rules.grams:
        parts.append(_("a weight of {weight}").format(weight=weight_text(rules.grams, site.units, site.language)))
    if rules.age:
        parts.append(_("an age of {age}").format(age=age_words(rules.age)))
    if not parts:
        return ""
    told = _("Our own rule: a young of its first year is ready to go with {parts}.")
    return told.format(parts=plain(listed(parts)))


waits_label = when_asked("not ready yet")
"""In a list: the animal cannot go yet."""


def waiting_text(count: int, of: int) -> str:
    """How many of the offered animals cannot go yet; empty for none."""
    if not count:
        return ""
    if of == 1:
        return _("Not ready to go yet.")
    words = ngettext("{count} of them is not ready to go yet.", "{count} of them are not ready to go yet.", count)
    return words.format(count=count)
