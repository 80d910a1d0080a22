"""What a buyer is told before buying: cautions, and what a young still lacks before it may leave.

Cautions (``cautions.yaml``) defer to local law and to a veterinarian, and promise nothing.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from functools import cache

from sitegen.content.prices import OfferState
from sitegen.content.site import ReadyRules, Site
from sitegen.content.values import WrittenAge
from sitegen.evidence.offers import Caution, CautionKind, Lacks, Missing, OfferClaim, goes_from
from sitegen.words.labels import ready_text
from sitegen.words.numbers import date_text, days_text, months_text, small_number, weeks_text, weight_text
from sitegen.words.speech import Sentence, Voice, Words, _, joined, listed, ngettext, plain, said, when_asked
from sitegen.words.written import paragraphs, written


def left_sentence(available: Sequence[Words], held: Sequence[Words]) -> Sentence:
    """Which young of a litter, of which some were offered, can still be had."""
    if not (available or held):
        return said(_("None of its young can be had now."))
    told = ((_("Still to be had: {young}."), available), (_("On hold: {young}."), held))
    return joined([piece for words, young in told if young for piece in (" ", said(words, young=listed(young)))][1:])


@cache
def _written() -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    """The cautions as ``cautions.yaml`` has them, each part in paragraphs."""
    by_kind = written("cautions").items()
    return {kind: {part: paragraphs(text) for part, text in told.items()} for kind, told in by_kind}


def caution_title(kind: CautionKind) -> str:
    """The heading of a caution."""
    return _(_written()[kind]["title"][0])


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
            return tuple(said(_(text)) for text in _written()[caution.kind]["text"])


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
    told = _written()[kind]
    return joined([said(_(text)) for text in told.get("line", told.get("short", ()))])


def short_caution(caution: Caution, voice: Voice) -> Sentence:
    """A caution in one line, for paper."""
    match caution.kind:
        case CautionKind.WELFARE | CautionKind.LETHAL:
            first, *more = caution_sentences(caution, voice)[:2]
            return joined([first, *(piece for sentence in more for piece in (" ", sentence))])
        case CautionKind.OWN_WORDS:
            return said("{text}", text=caution.text)
        case _:
            return said(_(_written()[caution.kind]["short"][0]))


def card_caution(caution: Caution, voice: Voice) -> Sentence:
    """That a gene harms, where there is no room to say how: who reads it is sent to where that stands."""
    gene = voice.gene_of(caution.species, caution.locus, caution.allele)
    return said(_("{gene}: a gene with a known harm. Read about it on the page of this animal first."), gene=gene)


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
