"""What its own young and the other young of its parents teach about an animal."""

from sitegen.evidence.chances import chance_of_allele
from sitegen.evidence.kinds import Claim
from sitegen.evidence.known import Reason
from sitegen.words.numbers import small_number
from sitegen.words.runs import Sentence
from sitegen.words.speech import _, capitalised, listed, ngettext, said
from sitegen.words.voice import Voice


def young_sentence(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """What its young prove or teach."""
    count = _count(reason)
    certain = bool(claim.allele) and chance_of_allele(claim.posterior, claim.allele) == 1
    if certain and reason.animals:
        animals = listed([voice.animal(animal) for animal in reason.animals])
        words = ngettext(
            "Its young {animals} must have it from this parent.",
            "Its young {animals} must have it from this parent.",
            len(reason.animals),
        )
        return said(words, animals=animals)
    if not count:
        return said(_("What its young show and do not show counts as well."))
    if certain:
        words = ngettext(
            "{count} young of its own must have it from this parent{where}.",
            "{count} young of its own must have it from this parent{where}.",
            count,
        )
    elif _none_shows(reason, claim, voice):
        words = ngettext(
            "The {count} young of its own that was looked at does not show it{where}.",
            "None of {count} young of its own that were looked at shows it{where}.",
            count,
        )
    else:
        words = ngettext(
            "What {count} young of its own shows or does not show counts as well{where}.",
            "What {count} young of its own show and do not show counts as well{where}.",
            count,
        )
    return capitalised(said(words, count=small_number(count), where=_where(reason, voice)))


def siblings_sentence(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """What the other young of its parents teach of them."""
    count = _count(reason)
    if not count:
        return said(_("What its littermates show and do not show counts as well."))
    if _none_shows(reason, claim, voice):
        words = ngettext(
            "The {count} other young of its parents that was looked at does not show it{where}.",
            "None of {count} other young of its parents that were looked at shows it{where}.",
            count,
        )
    else:
        words = ngettext(
            "What {count} other young of its parents shows or does not show counts as well{where}.",
            "What {count} other young of its parents show and do not show counts as well{where}.",
            count,
        )
    return said(words, count=small_number(count), where=_where(reason, voice))


def _count(reason: Reason) -> int:
    """How many young a reason counts; 0 when it does not say."""
    return int(dict(reason.detail).get("count") or len(reason.animals))


def _where(reason: Reason, voice: Voice) -> Sentence:
    """The litter that a reason rests on, in brackets; empty when none is named."""
    return said(_(" ({litter})"), litter=voice.litter(reason.litter)) if reason.litter else ()


def _none_shows(reason: Reason, claim: Claim, voice: Voice) -> bool:
    """True when nothing of the locus was seen in any of the young that a reason counts."""
    litter = voice.collection.litters.get(reason.litter)
    ids = dict.fromkeys((*reason.animals, *(litter.young if litter else ())))
    judged = [genes.judged for animal in ids for genes in voice.collection.animals[animal].genes]
    judged += [others.judged for others in litter.others] if litter else []
    return not any(seen.locus == claim.locus for each in judged for seen in each.seen)
