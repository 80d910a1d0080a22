"""Why a claim is made: the sentences that follow its headline."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.evidence.gathered import Ground, Reason, words_of
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, chance_of_allele, chance_of_showing, would_show
from sitegen.genetics.loci import WILD, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.words.claims import headline, tested_behind, tested_by, trade_words, unjudged_sentence
from sitegen.words.conditions import (
    either_sentence,
    is_conditional,
    one_of_its_parents,
    settling_sentence,
    surprise_sentence,
)
from sitegen.words.numbers import in_100, quoted, small_number
from sitegen.words.speech import Sentence, Voice, _, capitalised, joined, listed, ngettext, said, said_of

_MOST_NAMED = 4
_PARENTS = (Ground.DAM, Ground.SIRE)


@dataclass(frozen=True, slots=True)
class Worded:
    """A claim in words, for every page and file that tells it: what is claimed, and why, one sentence each."""

    claim: Claim
    headline: Sentence
    explanation: tuple[Sentence, ...]


def worded(claim: Claim, voice: Voice) -> Worded:
    """The claim in words."""
    return Worded(claim, headline(claim, voice), explanation(claim, voice))


def explanation(claim: Claim, voice: Voice) -> tuple[Sentence, ...]:
    """The reasons of a claim, decisive first, and what it hangs on; one sentence each.

    What both parents are is told in one sentence. "Not proven." ends every claim that is not certain.
    """
    if claim.kind in (ClaimKind.NOT_KNOWN, ClaimKind.NO_CLAIM):
        return ()
    sentences: list[Sentence] = [_why_not(claim, voice)]
    parents = [reason for reason in claim.reasons if reason.ground in _PARENTS]
    for reason in claim.reasons:
        if reason.ground is Ground.NOTHING_STATED and claim.surprise is not None:
            continue  # that nobody told us of it is no longer what we reckon with
        if reason.ground not in _PARENTS:
            sentences.append(reason_sentence(reason, claim, voice))
        elif reason is parents[0] and not sentences[0]:
            sentences.append(parents_sentence(parents, claim, voice))
    sentences.append(_moved(claim, voice))
    sentences.append(unjudged_sentence(claim, voice))
    sentences.append(() if claim.strained else _one_copy(claim, voice))
    sentences.append(word_sentence(claim, voice))
    sentences += [
        surprise_sentence(claim, voice),
        one_of_its_parents(claim, voice),
        either_sentence(claim, voice),
        settling_sentence(claim, voice),
    ]
    told = is_conditional(claim) or (claim.kind is ClaimKind.CARRIES and claim.basis is Basis.PREVIOUS_KEEPER)
    if told or claim.kind in (ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG):
        sentences.append(said(_("Not proven.")))
    return tuple(dict.fromkeys(capitalised(sentence) for sentence in sentences if sentence))


def _moved(claim: Claim, voice: Voice) -> Sentence:
    """What the trade would write by the parents alone, where relatives moved the chance away from its words."""
    details = (dict(reason.detail) for reason in claim.reasons if reason.ground in _PARENTS)
    alone = next((found for each in details if (found := each.get(f"alone {claim.allele}"))), "")
    if claim.kind is not ClaimKind.MAY_CARRY or not alone or trade_words(claim, claim.chance, voice):
        return ()
    short = trade_words(claim, Fraction(alone), voice)
    if not short:
        return ()
    words = _("From {his} parents alone it would be {short}; what else we know of the family makes it {chance}.")
    if any(reason.ground in (Ground.YOUNG, Ground.SIBLINGS) for reason in claim.reasons):
        words = _("From {his} parents alone it would be {short}; these young make it {chance}.")
    return said_of(claim.animal, voice, words, short=quoted(short), chance=in_100(claim.chance))


def reason_sentence(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """One piece of evidence in one sentence; empty when another sentence has said it already."""
    whose = reason.animals or (claim.animal,)
    own = whose == (claim.animal,)
    match reason.ground:
        case Ground.SHOWS_ITSELF:
            words = ngettext("{animals} shows it.", "{animals} show it.", len(whose))
            return () if own else said(words, animals=voice.animals(whose))
        case Ground.SHOWS_NOT if own:
            ruled_out = claim.kind is ClaimKind.RULED_OUT
            return () if ruled_out else said_of(claim.animal, voice, _("{he} does not show it."))
        case Ground.SHOWS_NOT:
            words = ngettext("{animals} does not show it.", "{animals} do not show it.", len(whose))
            return said(words, animals=voice.animals(whose))
        case Ground.DNA_TEST:
            return _test(reason, claim, voice, own=own, animals=voice.animals(whose))
        case Ground.STATED:
            return _stated(reason, claim, own=own, animals=voice.animals(whose))
        case Ground.NOTHING_STATED if own and claim.kind in (ClaimKind.CARRIES, ClaimKind.MAY_CARRY):
            return ()  # its young prove that somebody has it all the same
        case Ground.NOTHING_STATED:
            words = _("Nobody told us of it in {him}, so we reckon without it.")
            other = _("Nobody told us of it in {animals}, so we reckon without it.")
            return said_of(claim.animal, voice, words if own else other, animals=voice.animals(whose))
        case Ground.BACKGROUND:
            return said(_("For a parent that is not recorded we take the usual odds of the species."))
        case Ground.DAM | Ground.SIRE:
            return parents_sentence([reason], claim, voice)
        case Ground.YOUNG:
            return young_sentence(reason, claim, voice)
        case Ground.SIBLINGS:
            return siblings_sentence(reason, claim, voice)
        case Ground.TAKEN_AS_ONE_COPY:
            return ()


def word_sentence(claim: Claim, voice: Voice) -> Sentence:
    """That a claim hangs on a previous keeper's word, and about whom; empty when it does not."""
    if not claim.hangs_on:
        return ()
    if claim.hangs_on == (claim.animal,):
        written = _as_written(claim.animal, claim, voice)
        alone = _("For this we have only a previous keeper’s word: {written}.") if written else ""
        return said(alone or _("For this we have only a previous keeper’s word."), written=written)
    told: list[Sentence] = []
    for animal in claim.hangs_on[:_MOST_NAMED]:
        written = _as_written(animal, claim, voice)
        name = _("this animal") if animal == claim.animal else voice.animal(animal)
        told.append(said("{name} ({written})" if written else "{name}", name=name, written=written))
    words = _("For this we have only a previous keeper’s word about {whom}.")
    if claim.basis is not Basis.PREVIOUS_KEEPER:
        words = _("For the number of copies we have only a previous keeper’s word about {whom}.")
    return said(words, whom=listed([*told, *claim.hangs_on[_MOST_NAMED:]], most=_MOST_NAMED))


def _as_written(animal: AnimalId, claim: Claim, voice: Voice) -> str:
    """What was stated of an animal at the locus of a claim, in quotation marks; empty when nothing can be quoted."""
    words = words_of(voice.collection.animals[animal], claim.locus)
    return ", ".join(quoted(word.as_written) for word in words if word.as_written and word.quoted)


def _one_copy(claim: Claim, voice: Voice) -> Sentence:
    """That an animal on which the claim hangs is taken as having one copy."""
    if not claim.taken_as_one_copy or claim.strained:
        return ()
    if claim.taken_as_one_copy == (claim.animal,):
        words = _("We do not know whether {he} has one copy or two, and take it as one copy.")
        return said_of(claim.animal, voice, words)
    others = [animal for animal in claim.taken_as_one_copy if animal != claim.animal]
    words = ngettext(
        "We do not know whether {whom} has one copy or two, and take it as one copy.",
        "We do not know whether {whom} have one copy or two, and take it as one copy each.",
        len(others),
    )
    return said(words, whom=voice.animals(others))


def _why_not(claim: Claim, voice: Voice) -> Sentence:
    """Why an allele that was possible is ruled out, where the animal itself tells it; empty otherwise."""
    if claim.kind is not ClaimKind.RULED_OUT or claim.basis is Basis.DNA_TEST:
        return ()
    locus = voice.locus(claim)
    if not any(WILD in genotype for genotype in claim.posterior) and locus.copies(_sex(claim, voice)) == 2:
        words = _("There is room for two forms of this gene, and {he} has two others.")
        return said_of(claim.animal, voice, words)
    if claim.unjudged is None and would_show(locus, claim.posterior, claim.allele):
        return said_of(claim.animal, voice, _("It would show in {him}, and it does not."))
    if locus.copies(_sex(claim, voice)) == 1:
        if _sex(claim, voice) is Sex.FEMALE:
            return said(_("A female can have it only from her sire."))
        return said(_("A male can have it only from his dam."))
    return ()


def _sex(claim: Claim, voice: Voice) -> Sex:
    """The recorded sex of the animal of a claim."""
    return voice.collection.animals[claim.animal].sex


def _test(reason: Reason, claim: Claim, voice: Voice, *, own: bool, animals: Sentence) -> Sentence:
    """A DNA test, its own or another animal's; nothing where the headline names it."""
    if not own:
        return said(_("{animals}: DNA test{told}."), animals=animals, told=tested_behind(reason, voice))
    if claim.basis is Basis.DNA_TEST and claim.kind in (ClaimKind.CARRIES, ClaimKind.RULED_OUT):
        return ()
    source = tested_by(claim, voice)
    return said_of(claim.animal, voice, _("{he} was DNA-tested{told}."), told=f" ({source})" if source else "")


def _stated(reason: Reason, claim: Claim, *, own: bool, animals: Sentence) -> Sentence:
    """What a previous keeper stated; nothing where the claim hangs on it, which is told at its end."""
    as_written = dict(reason.detail).get("as_written", "")
    if not as_written or claim.basis is Basis.PREVIOUS_KEEPER:
        return ()
    if own:
        return said(_("A previous keeper told us {word}."), word=quoted(as_written))
    return said(_("A previous keeper told us {word} of {animals}."), word=quoted(as_written), animals=animals)


def parents_sentence(reasons: Sequence[Reason], claim: Claim, voice: Voice) -> Sentence:
    """What the parents of the animal are by these reasons: together when they are alike, else one after the other."""
    dams = dict.fromkeys(a for reason in reasons if reason.ground is Ground.DAM for a in reason.animals)
    sires = dict.fromkeys(a for reason in reasons if reason.ground is Ground.SIRE for a in reason.animals)
    chances = sire_chances(claim.animal, voice)
    parents = [*dams, *(sire for sire in sires if chances.get(sire, 1))]
    if not parents:
        return said_of(claim.animal, voice, _("It follows from {his} parents."))
    names = voice.animals(parents)
    if not claim.allele:
        return said_of(claim.animal, voice, _("{he} has this look from {names}."), names=names)
    told = [_of_parent(parent, claim, voice) for parent in parents]
    if dams and len(parents) == 2 and told[0] == told[1] and (both := told[0][1]):
        return said(both, names=names)
    parts = [
        said_of(claim.animal, voice, _role(parent, parent in dams, chances), name=name, state=words)
        for parent, (words, _both) in zip(parents, told, strict=True)
        for name in [voice.of_kin([parent]) if chances.get(parent, 1) == 1 else voice.animal(parent)]
    ]
    # Each of several possible sires has a comma of its own before its chance, so a semicolon parts them.
    among = joined([piece for part in parts for piece in ("; ", part)][1:]) if chances else listed(parts)
    return said("{parts}.", parts=among)


def sire_chances(animal: AnimalId, voice: Voice) -> Mapping[AnimalId, Fraction]:
    """The possible sires of an animal with their chances given all evidence; empty where there is only one."""
    record = voice.collection.animals[animal]
    if len(record.sires) < 2:
        return {}
    key = record.litter if record.litter and not record.each_its_own_sire else animal
    return voice.answers.sires.get(key, dict(record.sires))


def _role(parent: AnimalId, is_dam: bool, chances: Mapping[AnimalId, Fraction]) -> str:
    """Dam, sire, or possible sire with its chance, as a template for name and state."""
    if is_dam:
        return _("{his} dam {name} {state}")
    if chances.get(parent, 1) == 1:
        return _("{his} sire {name} {state}")
    return _("{name}, {his} sire in {chance} cases, {state}").replace("{chance}", in_100(chances[parent]))


def _of_parent(parent: AnimalId, claim: Claim, voice: Voice) -> tuple[str, str]:
    """What a parent is, and the sentence for two parents of which both are so; empty where each has its own chance."""
    posterior, locus = voice.posterior(parent, claim.locus), voice.locus(claim)
    chance = chance_of_allele(posterior, claim.allele)
    if chance == 0:
        return _("is not known to carry it"), ""
    if chance < 1:
        visible = (WILD, claim.allele) in locus.shown or chance_of_showing(locus, posterior, claim.allele)
        words = _("may have it ({chance})") if visible else _("may carry it ({chance})")
        return words.format(chance=in_100(chance)), ""
    if not voice.surely_has(parent, claim.locus, claim.allele):
        return _("is taken to have it"), _("Both parents are taken to have it: {names}.")
    looks = {locus.shown.get(genotype) for genotype in posterior}
    record = voice.collection.animals[parent]
    if any(seen.look in looks for genes in record.genes for seen in genes.judged.seen):
        return _("shows it"), _("Both parents show it: {names}.")
    if parent in claim.hangs_on:
        return _("is said to carry it"), _("Both parents are said to carry it: {names}.")
    return _("carries it for certain"), _("Both parents carry it for certain: {names}.")


def young_sentence(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """What its young prove or teach."""
    count = _count(reason)
    certain = bool(claim.allele) and chance_of_allele(claim.posterior, claim.allele) == 1
    if certain and is_conditional(claim):
        young, where = voice.animals(reason.animals), voice.litter_behind(reason)
        if not young:
            words = _("Then {his} young must have it from this parent{where}.")
            return said_of(claim.animal, voice, words, where=where)
        words = ngettext(
            "Then {young} must have it from this parent{where}.",
            "Then {young} must have it from this parent{where}.",
            len(reason.animals),
        )
        return said(words, young=young, where=where)
    if certain and reason.animals:
        animals = voice.of_kin(reason.animals)
        words = ngettext(
            "{his} young {animals} must have it from {him}.",
            "{his} young {animals} must have it from {him}.",
            len(reason.animals),
        )
        return said_of(claim.animal, voice, words, animals=animals)
    if not count:
        return said_of(claim.animal, voice, _("What {his} young show counts too."))
    if certain:
        words = ngettext(
            "{count} of {his} young must have it from {him}{where}.",
            "{count} of {his} young must have it from {him}{where}.",
            count,
        )
    elif _none_shows(reason, claim, voice):
        words = ngettext(
            "The {count} young of {his} own that we looked at does not show it{where}.",
            "None of {count} young of {his} own that we looked at shows it{where}.",
            count,
        )
    else:
        words = ngettext(
            "What {count} young of {his} own shows counts too{where}.",
            "What {count} young of {his} own show counts too{where}.",
            count,
        )
    return said_of(claim.animal, voice, words, count=small_number(count), where=voice.litter_behind(reason))


def siblings_sentence(reason: Reason, claim: Claim, voice: Voice) -> Sentence:
    """What the other young of its parents teach of them."""
    count = _count(reason)
    if not count:
        return said_of(claim.animal, voice, _("What {his} littermates show counts too."))
    if _none_shows(reason, claim, voice):
        words = ngettext(
            "The {count} other young of {his} parents that we looked at does not show it{where}.",
            "None of {count} other young of {his} parents that we looked at shows it{where}.",
            count,
        )
    else:
        words = ngettext(
            "What {count} other young of {his} parents shows counts too{where}.",
            "What {count} other young of {his} parents show counts too{where}.",
            count,
        )
    return said_of(claim.animal, voice, words, count=small_number(count), where=voice.litter_behind(reason))


def _count(reason: Reason) -> int:
    """How many young a reason counts; 0 when it does not say."""
    return int(dict(reason.detail).get("count") or len(reason.animals))


def _none_shows(reason: Reason, claim: Claim, voice: Voice) -> bool:
    """True when nothing of the locus was seen in any of the young that a reason counts."""
    litter = voice.collection.litters.get(reason.litter)
    ids = dict.fromkeys((*reason.animals, *(litter.young if litter else ())))
    judged = [genes.judged for animal in ids for genes in voice.collection.animals[animal].genes]
    judged += [others.judged for others in litter.others] if litter else []
    return not any(seen.locus == claim.locus for each in judged for seen in each.seen)
