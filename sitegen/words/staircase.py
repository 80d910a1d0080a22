"""How a chance came about, step by step: what was known of the parents, then what each new record made of it."""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.evidence.arrivals import BEGINNING
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.evidence.staircase import Stair, chance_of
from sitegen.genetics.questions import parents_of
from sitegen.words.changes import because_clause
from sitegen.words.claims import such
from sitegen.words.numbers import date_text, in_100
from sitegen.words.speech import Sentence, Voice, _, listed, plain, said, said_of


def stairs_title(claim: Claim, voice: Voice) -> str:
    """What the numbers of the steps count."""
    words = {
        ClaimKind.ONE_OR_TWO_COPIES: _("How many of 100 {such} have two copies, step by step."),
        ClaimKind.TOO_YOUNG: _("How many of 100 {such} will show it, step by step."),
    }.get(claim.kind, _("How many of 100 {such} have it, step by step."))
    return plain(said(words, such=such(claim, voice)))


def stair_sentences(claim: Claim, stairs: Sequence[Stair], voice: Voice) -> tuple[Sentence, ...]:
    """A sentence for each step: ``26 July 2026: about 40 in 100, because ...``."""
    chances = [chance_of(claim, voice.locus(claim), stair.posterior) for stair in stairs]
    told = [*(_known_then(chance) for chance in chances[:-1]), _known_now(chances[-1])]
    return tuple(_step(stair, chance, claim, voice) for stair, chance in zip(stairs, told, strict=True))


def _known_then(chance: Fraction) -> str:
    """A chance of an earlier day: what later records undid was taken for granted, never proven."""
    if chance == 0:
        return _("we reckoned without it")
    return _("we took it as certain") if chance == 1 else in_100(chance)


def _known_now(chance: Fraction) -> str:
    """The chance of today; staircases are of such claims alone of which what is certain is proven."""
    if chance == 0:
        return _("ruled out")
    return _("certain") if chance == 1 else in_100(chance)


def _step(stair: Stair, chance: str, claim: Claim, voice: Voice) -> Sentence:
    if stair.day is None:
        words = _("By {his} own records alone: {chance}.")
        if parents_of(voice.collection.animals[claim.animal]):
            words = _("From {his} parents alone, by the records of that time: {chance}.")
        return said_of(claim.animal, voice, words, chance=chance)
    clauses = [because_clause(reason, claim, voice) for reason in stair.because]
    reasons = listed(clauses) or said(_("of what is known by now at other genes"))
    if stair.further:
        words = _("{reasons}, and other relatives had told more by then")
        reasons = said(words if clauses else _("other relatives had told more by then"), reasons=reasons)
    if stair.day == BEGINNING:
        return said(_("By records without a date: {chance}, because {reasons}."), chance=chance, reasons=reasons)
    day = date_text(stair.day, voice.collection.site.language)
    return said(_("{day}: {chance}, because {reasons}."), day=day, chance=chance, reasons=reasons)
