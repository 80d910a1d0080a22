"""Why a claim is made: the sentences that follow its headline."""

from sitegen.claims.basis import words_of
from sitegen.claims.chances import chance_of_allele
from sitegen.claims.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.known import Ground, Reason
from sitegen.genetics.loci import WILD
from sitegen.wording.claims import tested_by, unjudged_sentence
from sitegen.wording.numbers import quoted, small_number
from sitegen.wording.parents import parents_sentence
from sitegen.wording.runs import Sentence
from sitegen.wording.speech import _, listed, ngettext, said
from sitegen.wording.voice import Voice


def explanation(claim: Claim, voice: Voice) -> tuple[Sentence, ...]:
    """The reasons of a claim, decisive first, and what it hangs on; one sentence each.

    What both parents are is told in one sentence. "Not proven." ends every claim that is not certain.
    """
    if claim.kind in (ClaimKind.NOT_KNOWN, ClaimKind.NO_CLAIM):
        return ()
    sentences: list[Sentence] = []
    parents = [reason for reason in claim.reasons if reason.ground in (Ground.DAM, Ground.SIRE)]
    for reason in claim.reasons:
        if reason.ground in (Ground.DAM, Ground.SIRE):
            sentences.append(parents_sentence(parents, claim, voice) if reason is parents[0] else ())
        else:
            sentences.append(reason_sentence(reason, claim, voice))
    sentences.append(unjudged_sentence(claim, voice))
    sentences.append(_one_copy(claim, voice))
    sentences.append(word_sentence(claim, voice))
    told = claim.kind is ClaimKind.CARRIES and claim.basis is Basis.PREVIOUS_KEEPER
    if told or claim.kind in (ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG):
        sentences.append(said(_("Not proven.")))
    return tuple(dict.fromkeys(sentence for sentence in sentences if sentence))


def reason_sentence(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """One piece of evidence in one sentence; empty when the headline has said it already."""
    whose = reason.animals or (claim.animal,)
    own = whose == (claim.animal,)
    animals = listed([voice.animal(animal) for animal in whose])
    facts = dict(reason.detail)
    match reason.ground:
        case Ground.SHOWS_ITSELF:
            return _shows_itself(claim, own=own, animals=animals)
        case Ground.SHOWS_NOT:
            visible = voice.locus(claim).genotype(WILD, claim.allele) in voice.locus(claim).shown
            return _shows_not(claim, own=own, animals=animals, shows_with_one_copy=visible)
        case Ground.DNA_TEST:
            return _test(reason, claim, voice, own=own, animals=animals)
        case Ground.STATED:
            return _stated(facts.get("as_written", ""), claim, own=own, animals=animals)
        case Ground.NOTHING_STATED:
            words = _("Nothing was stated of it when it came to us, so it is taken as not carrying it.")
            other = _("Nothing was stated of {animals}, so that parent is taken as not carrying it.")
            return said(words) if own else said(other, animals=animals)
        case Ground.BACKGROUND:
            return said(_("Where no parent is recorded, the usual odds of the species stand in."))
        case Ground.DAM | Ground.SIRE:
            return parents_sentence([reason], claim, voice)
        case Ground.YOUNG:
            return _young(reason, claim, voice)
        case Ground.SIBLINGS:
            return _siblings(reason, voice)
        case Ground.TAKEN_AS_ONE_COPY:
            return ()


def word_sentence(claim: Claim, voice: Voice) -> Sentence:
    """That a claim hangs on a previous keeper's word, and about whom; empty when it does not."""
    if claim.basis is not Basis.PREVIOUS_KEEPER:
        return ()
    told: list[Sentence] = []
    for animal in claim.hangs_on:
        words = words_of(voice.collection.animals[animal], claim.locus)
        written = ", ".join(quoted(word.as_written) for word in words if word.as_written)
        if animal == claim.animal:
            told.append(said(written or (_("this one") if len(claim.hangs_on) > 1 else "")))
        else:
            name = voice.animal(animal)
            told.append(said("{name} ({written})" if written else "{name}", name=name, written=written))
    if claim.hangs_on == (claim.animal,):
        alone = _("This hangs on a previous keeper’s word: {told}.") if told[0] else ""
        return said(alone or _("This hangs on a previous keeper’s word."), told=told[0])
    return said(_("This hangs on a previous keeper’s word about {whom}."), whom=listed(told))


def _one_copy(claim: Claim, voice: Voice) -> Sentence:
    """That an animal on which the claim hangs is taken as having one copy."""
    if not claim.taken_as_one_copy:
        return ()
    if claim.taken_as_one_copy == (claim.animal,):
        return said(_("Whether it has one copy or two is not known; it is taken as one copy."))
    whom = listed([voice.animal(animal) for animal in claim.taken_as_one_copy if animal != claim.animal])
    return said(_("Whether {whom} has one copy or two is not known; it is taken as one copy."), whom=whom)


def _shows_itself(claim: Claim, *, own: bool, animals: Sentence) -> Sentence:
    """That the animal or a relative shows it; nothing where the headline says so."""
    if not own:
        return said(_("Shown by {animals}."), animals=animals)
    seen = claim.kind in (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)
    return () if seen or claim.kind is ClaimKind.RULED_OUT else said(_("It shows it itself."))


def _shows_not(claim: Claim, *, own: bool, animals: Sentence, shows_with_one_copy: bool) -> Sentence:
    """That the animal or a relative does not show it, with what follows from that."""
    if not own:
        return said(_("Not shown by {animals}."), animals=animals)
    if claim.kind is ClaimKind.RULED_OUT and shows_with_one_copy:
        return said(_("It would show it, and it does not."))
    return said(_("It was looked at and does not show it."))


def _test(reason: Reason, claim: Claim, voice: Voice, *, own: bool, animals: Sentence) -> Sentence:
    """A DNA test, its own or another animal's."""
    source = tested_by(reason, voice)
    told = f" ({source})" if source else ""
    if not own:
        return said(_("{animals}: DNA test{told}."), animals=animals, told=told)
    if claim.kind is ClaimKind.RULED_OUT:
        return ()
    return said(_("It was DNA-tested{told}."), told=told)


def _stated(as_written: str, claim: Claim, *, own: bool, animals: Sentence) -> Sentence:
    """What a previous keeper stated; nothing where the claim hangs on it, which is told at its end."""
    if not as_written or claim.basis is Basis.PREVIOUS_KEEPER:
        return ()
    word = quoted(as_written)
    if own:
        return said(_("A previous keeper stated {word}."), word=word)
    return said(_("A previous keeper stated {word} of {animals}."), word=word, animals=animals)


def _young(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """What its young prove or teach."""
    animals = listed([voice.animal(animal) for animal in reason.animals])
    certain = chance_of_allele(claim.posterior, claim.allele) == 1 if claim.allele else False
    if animals and certain:
        one = _("Its young {animals} can only have it from this parent.")
        several = _("Its young {animals} can only have it from this parent.")
        return said(ngettext(one, several, len(reason.animals)), animals=animals)
    count = int(dict(reason.detail).get("count") or len(reason.animals))
    if not count:
        return said(_("What its young show and do not show counts as well."))
    words = ngettext(
        "What {count} young of its own shows or does not show counts as well{where}.",
        "What {count} young of its own show and do not show counts as well{where}.",
        count,
    )
    return said(words, count=small_number(count), where=_where(reason, voice))


def _siblings(reason: Reason, voice: Voice) -> Sentence:
    """What its littermates teach of its parents."""
    count = int(dict(reason.detail).get("count") or len(reason.animals))
    if not count:
        return said(_("What its littermates show and do not show counts as well."))
    words = ngettext(
        "What {count} other young of its parents shows or does not show counts as well{where}.",
        "What {count} other young of its parents show and do not show counts as well{where}.",
        count,
    )
    return said(words, count=small_number(count), where=_where(reason, voice))


def _where(reason: Reason, voice: Voice) -> Sentence:
    """The litter that a reason rests on, in brackets; empty when none is named."""
    return said(_(" ({litter})"), litter=voice.litter(reason.litter)) if reason.litter else ()
