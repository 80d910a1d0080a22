"""The sentence that states a claim. Its reasons are told in ``sitegen.words.reasons``."""

from collections.abc import Callable, Sequence
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.evidence.gathered import Reason, own_tests
from sitegen.evidence.judging import how_judged
from sitegen.evidence.kinds import (
    Basis,
    Claim,
    ClaimKind,
    Judging,
    Unjudged,
    certain_copies,
    chance_of_copies,
    chance_of_showing,
)
from sitegen.genetics.loci import WILD, Inheritance, Sex
from sitegen.words.conditions import (
    condition_clause,
    is_conditional,
    short_condition,
    strained_headline,
    strained_phrase,
)
from sitegen.words.labels import no_answer, no_genes
from sitegen.words.numbers import (
    Edge,
    about_in_100,
    in_100,
    months_text,
    quoted,
    sides,
    simple_fraction,
    trade_shorthand,
    written_date,
)
from sitegen.words.speech import Sentence, Voice, Words, _, animal_name, said, said_of, when_asked

SEEN = (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)
HIDDEN = (ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG)
WITH_A_CHANCE = (ClaimKind.MAY_CARRY, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.TOO_YOUNG)
_YOUNG_UNTIL_DAYS = 365
"""Up to this age a chance is told of "such young", later of "such animals"."""


def headline(claim: Claim, voice: Voice) -> Sentence:
    """The claim in one sentence: what, how sure in 100 with both sides, of whom; trade shorthand last."""
    if claim.strained and claim.kind in (*SEEN, *HIDDEN):
        return strained_headline(claim, voice)
    return _HEADLINES[claim.kind](claim, voice)


def short_phrase(claim: Claim, voice: Voice) -> Sentence:
    """The claim in a few words: ``may carry hypo (about 67 in 100)``."""
    if claim.strained and claim.kind in (*SEEN, *HIDDEN):
        return strained_phrase(claim, voice)
    what = said(_short_template(claim, voice), gene=voice.gene(claim), chance=in_100(claim.chance))
    if is_conditional(claim):
        return said(_("{what} {condition}"), what=what, condition=short_condition(claim, voice))
    return what


def _short_template(claim: Claim, voice: Voice) -> str:
    match claim.kind:
        case ClaimKind.SHOWS:
            return _("shows {gene}")
        case ClaimKind.ONE_OR_TWO_COPIES:
            return _("shows {gene} (two copies: {chance})")
        case ClaimKind.CARRIES if claim.basis is Basis.PREVIOUS_KEEPER:
            return _("said to carry {gene}")
        case ClaimKind.CARRIES:
            return _("has at least one copy of {gene}") if _is_had(claim, voice) else _("carries {gene}")
        case ClaimKind.MAY_CARRY:
            return _("may have {gene} ({chance})") if _is_had(claim, voice) else _("may carry {gene} ({chance})")
        case ClaimKind.TOO_YOUNG:
            return _("too young to judge for {gene} ({chance})")
        case ClaimKind.RULED_OUT:
            return _("does not carry {gene}")
        case ClaimKind.NOT_KNOWN:
            return _("nothing known")
        case ClaimKind.NO_CLAIM:
            return _("no claim about {gene}")


def no_look(animal: Animal, claims: Sequence[Claim], voice: Voice) -> str:
    """What stands where no look is claimed; empty where one is. What is not judged is not denied."""
    if any(claim.kind in SEEN for claim in claims):
        return ""
    if any(claim.look for claim in claims):  # a look that is recorded where the records give no answer
        return no_answer()
    if not voice.species(animal.species).genome.loci:
        return no_genes()
    return nothing_shown(how_judged(voice.collection, animal, voice.as_of), lives=animal.died is None)


_BASES = {
    Basis.OWN_RECORDS: when_asked("our own records"),
    Basis.DNA_TEST: when_asked("DNA test"),
    Basis.PROVEN_BY_YOUNG: when_asked("proven by young"),
    Basis.PREVIOUS_KEEPER: when_asked("a previous keeper’s word"),
    Basis.TAKEN_FOR_GRANTED: when_asked("our own records, and what is taken for granted"),
}


def basis_words(basis: Basis) -> str:
    """What a claim rests on, as a label."""
    return _BASES[basis]()


def such(claim: Claim, voice: Voice) -> str:
    """The reference class of a chance in two words; :func:`such_means` tells once a page what they mean."""
    return _("such young") if _is_young(claim, voice) else _("such animals")


def such_means(claims: Sequence[Claim], voice: Voice) -> Sentence:
    """What "such young" are, once for all claims of an animal; empty where none of them has a chance."""
    told = [claim for claim in claims if claim.kind in WITH_A_CHANCE or claim.copies == -1]
    if not told:
        return ()
    words = _("“Such animals” are animals like this one, with parents, young and other relatives like these.")
    if _is_young(told[0], voice):
        words = _("“Such young” are young like this one, with parents and other relatives like these.")
    return said(words)


def _is_young(claim: Claim, voice: Voice) -> bool:
    """True in the first year; an animal without a date of birth is young while it stands in a litter record only."""
    record = voice.collection.animals[claim.animal]
    born = voice.collection.birth_of(record)
    return (voice.as_of - born.latest).days < _YOUNG_UNTIL_DAYS if born else record.is_young


def _is_had(claim: Claim, voice: Voice) -> bool:
    """True when "has" is truer than "carries": the allele would be seen with one copy, or was not judged."""
    locus = voice.locus(claim)
    return claim.unjudged is not None or (WILD, claim.allele) in locus.shown


def _brackets(*parts: str) -> str:
    """What stands behind a statement: `` (2/3; the trade’s “66% het”)``, or nothing."""
    told = "; ".join(part for part in parts if part)
    return f" ({told})" if told else ""


def _trade(claim: Claim, voice: Voice) -> str:
    """``the trade’s “66% het”``, where it has a word for the chance; else empty."""
    shorthand = trade_words(claim, claim.chance, voice)
    return _("the trade’s {shorthand}").format(shorthand=quoted(shorthand)) if shorthand else ""


def trade_words(claim: Claim, chance: Fraction, voice: Voice) -> str:
    """``66% het`` of a chance to carry, for a hidden recessive in an animal that was judged; else empty."""
    hidden = all(genotype.count(claim.allele) < 2 for genotype in claim.posterior)
    if not hidden or claim.condition or claim.unjudged or (WILD, claim.allele) in voice.locus(claim).shown:
        return ""
    return trade_shorthand(chance, voice.allele(claim))


def _shows(claim: Claim, voice: Voice) -> Sentence:
    locus = voice.locus(claim)
    gene = voice.gene(claim)
    named = [a.name for a in locus.alleles if len(claim.posterior) == 1 and a.id in next(iter(claim.posterior))]
    sex = voice.collection.animals[claim.animal].sex
    if claim.condition is not None:
        return _conditional(_("Shows {gene}; {copies}, {condition}."), _("Shows {gene}."), claim, voice)
    if len(named) == 2:
        words = _("Shows {gene}: one copy of {first} and one of {second}, so every young gets one or the other.")
        return said(words, gene=gene, first=named[0], second=named[1])
    if claim.taken_as_one_copy == (claim.animal,):
        words = _("Shows {gene}, taken as one copy: about 50 in 100 of {his} young get it, 50 do not.")
        return said_of(claim.animal, voice, words, gene=gene)
    if claim.copies == 2:
        of = "" if voice.allele(claim).name == gene.text else _(" of {name}").format(name=voice.allele(claim).name)
        return said(_("Shows {gene}: two copies{of}, so every young gets one."), gene=gene, of=of)
    if claim.copies == 1 and locus.copies(sex) == 1:
        only = _("a female") if sex is Sex.FEMALE else _("a male")
        return said(_("Shows {gene}: one copy, and {only} has no place for a second."), gene=gene, only=only)
    if claim.copies == 1 and len(claim.posterior) == 1:
        words = _("Shows {gene}: one copy, so about 50 in 100 of {his} young get it, 50 do not.")
        return said_of(claim.animal, voice, words, gene=gene)
    return said(_("Shows {gene}."), gene=gene)


def _of_100(words: str, claim: Claim, voice: Voice, chance: Fraction, trade: str = "", **places: Words) -> Sentence:
    """A statement with both sides of a chance, its reference class and, in brackets, the exact fraction.

    The trade's shorthand stands last in the brackets: whoever knows it finds it, and nobody has to read it first.
    """
    told = sides(chance)
    return said(
        words,
        gene=voice.gene(claim),
        such=such(claim, voice),
        one=told["others"],
        brackets=_brackets(simple_fraction(chance), trade),
        **told,
        **places,
    )


def _one_or_two(claim: Claim, voice: Voice) -> Sentence:
    words = _("Shows {gene}: {chance} {such} have two copies, {one} have one{brackets}.")
    return _of_100(words, claim, voice, claim.chance)


def _carries(claim: Claim, voice: Voice) -> Sentence:
    """Carries for certain, with as much of the copies as is known; "said to" where it hangs on another's word."""
    gene, word_alone = voice.gene(claim), claim.basis is Basis.PREVIOUS_KEEPER
    if claim.condition is not None:
        return _carries_if(claim, voice)
    if claim.copies == -1:
        words = _("Has {gene} for certain: {chance} {such} have two copies, {one} have one{brackets}.")
        if word_alone:
            words = _("Said to have {gene}: {chance} {such} have two copies, {one} have one{brackets}.")
        return _of_100(words, claim, voice, chance_of_copies(claim.posterior, claim.allele, 2))
    if claim.copies == 2:
        words = _("Has two copies of {gene} for certain, so every young gets one.")
        return said(_("Said to have two copies of {gene}.") if word_alone else words, gene=gene)
    had, source = _is_had(claim, voice), ""
    if claim.basis is Basis.DNA_TEST:
        source = tested_by(claim, voice)
        carried = _("Tested: carries {gene}, one copy, unseen{brackets}.")
        words = _("Tested: has {gene}, one copy{brackets}.") if had else carried
    elif word_alone:
        carried = _("Said to carry {gene}: one copy, unseen{brackets}.")
        words = _("Said to have {gene}: one copy{brackets}.") if had else carried
    else:
        carried = _("Carries {gene} for certain: one copy, unseen{brackets}.")
        words = _("Has {gene} for certain: one copy{brackets}.") if had else carried
    return said(words, gene=gene, brackets=_brackets(source, _trade(claim, voice)))


def _carries_if(claim: Claim, voice: Voice) -> Sentence:
    """Carries, where that or the number of copies hangs on what is taken for granted."""
    word_alone, had = claim.basis is Basis.PREVIOUS_KEEPER, _is_had(claim, voice)
    if is_conditional(claim):
        words = _("Has {gene}, {condition}.") if had else _("Carries {gene}, {condition}.")
        if word_alone:
            words = _("Said to have {gene}, {condition}.") if had else _("Said to carry {gene}, {condition}.")
        return _conditional(words, words, claim, voice)
    several = _("Has {gene} for certain: at least one copy.")
    words = _("Has {gene} for certain; {copies}, {condition}.")
    if word_alone:
        words, several = _("Said to have {gene}; {copies}, {condition}."), _("Said to have {gene}: at least one copy.")
    elif not had:
        words = _("Carries {gene} for certain; {copies}, {condition}.")
    return _conditional(words, several, claim, voice)


def _conditional(words: str, several: str, claim: Claim, voice: Voice) -> Sentence:
    """A statement with its condition; ``several`` where a number of copies hangs on too much to be told."""
    copies = certain_copies(claim.posterior, claim.allele) if claim.allele else -1
    if claim.condition and claim.condition.of_copies and (copies < 1 or not claim.condition.taken):
        return said(several, gene=voice.gene(claim))
    clause = condition_clause(claim, voice)
    return said(words, gene=voice.gene(claim), copies=copies_words(copies), condition=clause)


def _may_carry(claim: Claim, voice: Voice) -> Sentence:
    """May carry: both sides in 100, the reference class, the exact fraction, the trade's shorthand last."""
    words = _("May carry {gene}: {chance} {such} do, {others} do not{brackets}.")
    if _is_had(claim, voice):
        words = _("May have {gene}: {chance} {such} do, {others} do not{brackets}.")
    return _of_100(words, claim, voice, claim.chance, _trade(claim, voice))


def _too_young(claim: Claim, voice: Voice) -> Sentence:
    """Too young to judge, now or when it was judged: how many show it, and from what age."""
    words = _("May show {gene} after {age}: {chance} {such} do, {others} do not{brackets}.")
    if isinstance(about_in_100(claim.chance), Edge):  # a longer number: the age is told on the gene's page
        words = _("May show {gene} later: {chance} {such} do, {others} do not{brackets}.")
    age = months_text(voice.allele(claim).visible_from_months)
    return _of_100(words, claim, voice, claim.chance, age=age)


def _ruled_out(claim: Claim, voice: Voice) -> Sentence:
    """Ruled out: by a test with its laboratory and date, or by what was seen."""
    gene = voice.gene(claim)
    if claim.basis is Basis.DNA_TEST:
        source = _brackets(tested_by(claim, voice))
        return said(_("Tested: does not carry {gene}{source}."), gene=gene, source=source)
    return said(_("Does not have {gene}.") if _is_had(claim, voice) else _("Does not carry {gene}."), gene=gene)


def tested_by(claim: Claim, voice: Voice) -> str:
    """Laboratory and date of the animal's own last test: ``Fenlab, 1 February 2024``; empty when not recorded."""
    tests = own_tests(voice.collection.animals[claim.animal], claim.locus)
    return tested(tests[-1].laboratory, str(tests[-1].date or ""), voice) if tests else ""


def tested(laboratory: str, date: str, voice: Voice) -> str:
    """Laboratory and date of a test, of which either may be empty; the date as it is written, such as ``2024-02``."""
    return ", ".join(part for part in (laboratory, written_date(date, voice.collection.site.language)) if part)


def tested_behind(reason: Reason, voice: Voice) -> str:
    """The same of the test that a reason tells, in brackets: `` (Fenlab, 1 February 2024)``; or nothing."""
    facts = dict(reason.detail)
    return _brackets(tested(facts.get("laboratory", ""), facts.get("date", ""), voice))


def _not_known(claim: Claim, voice: Voice) -> Sentence:
    return said(_("Nothing else is known or claimed of {name}."), name=animal_name(voice.collection, claim.animal))


def _no_claim(claim: Claim, voice: Voice) -> Sentence:
    """The records gave no answer, or one that takes too much to work out."""
    knots = (knot for knot in voice.answers.knots if knot.species == claim.species and claim.locus in knot.loci)
    if any(claim.animal in knot.animals for knot in knots):
        words = _("Nothing is claimed about {gene}: its family is related in too many ways to be worked out exactly.")
        return said(words, gene=voice.gene(claim))
    return said(_("Nothing is claimed about {gene}: our records do not give one answer yet."), gene=voice.gene(claim))


def unjudged_sentence(claim: Claim, voice: Voice) -> Sentence:
    """Why a gene was not judged by eye, and how many such animals would show it; empty when it was judged."""
    if claim.unjudged is None or claim.kind is ClaimKind.RULED_OUT:
        return ()
    locus = voice.locus(claim)
    shown = chance_of_showing(locus, claim.posterior, claim.allele)
    why = _why(claim.unjudged)
    look = voice.species(claim.species).genome.look(claim.hidden_by).name if claim.hidden_by else ""
    told_already = shown in (0, 1, claim.chance) or (claim.kind is ClaimKind.CARRIES and claim.copies == -1)
    if told_already:
        return said_of(claim.animal, voice, why + ".", look=look)
    words = _("; {chance} such young have what it takes to show it.")
    if not _is_young(claim, voice):
        words = _("; {chance} such animals have what it takes to show it.")
    return said_of(claim.animal, voice, why + words, look=look, chance=in_100(shown))


def _why(unjudged: Unjudged) -> str:
    """Why a gene was not judged, as the beginning of a sentence."""
    return {
        Unjudged.TOO_YOUNG: _("{he} is too young to be judged by eye"),
        Unjudged.WAS_TOO_YOUNG: _("{he} was too young when we looked"),
        Unjudged.HIDDEN: _("Nobody can see it in {him}, because {look} hides it"),
        Unjudged.UNSURE: _("We could not tell by eye whether {he} shows it"),
        Unjudged.NOT_RECORDED: _("Nobody wrote down whether {he} shows it"),
    }[unjudged]


def nothing_shown(judging: Judging, *, lives: bool) -> str:
    """What is said of the looks of an animal of which none is recorded."""
    match judging:
        case Judging.NOT_DESCRIBED:
            return _("Not described yet.") if lives else _("What it showed is not recorded.")
        case Judging.NOT_JUDGED:
            return _("Not judged yet.") if lives else _("What it showed is not recorded.")
        case Judging.TOO_YOUNG:
            return _("Too young to judge when we looked.")
        case Judging.IN_PART:
            return _("Looks normal, as far as it could be judged.")
        case Judging.WHOLE:
            return _("Looks normal: none of the genes we work with shows.")


def copies_words(copies: int) -> str:
    """``one copy``, ``two copies``, ``one copy or two`` for -1, for tables."""
    if copies == -1:
        return _("one copy or two")
    return (_("no copy"), _("one copy"), _("two copies"))[copies]


def is_hidden_recessive(claim: Claim, voice: Voice) -> bool:
    """True for a recessive that is carried or may be carried unseen."""
    hidden = claim.kind in (ClaimKind.CARRIES, ClaimKind.MAY_CARRY)
    return hidden and voice.allele(claim).inheritance is Inheritance.RECESSIVE


_HEADLINES: dict[ClaimKind, Callable[[Claim, Voice], Sentence]] = {
    ClaimKind.SHOWS: _shows,
    ClaimKind.ONE_OR_TWO_COPIES: _one_or_two,
    ClaimKind.CARRIES: _carries,
    ClaimKind.MAY_CARRY: _may_carry,
    ClaimKind.TOO_YOUNG: _too_young,
    ClaimKind.RULED_OUT: _ruled_out,
    ClaimKind.NOT_KNOWN: _not_known,
    ClaimKind.NO_CLAIM: _no_claim,
}
