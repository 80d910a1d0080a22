"""Law: whatever the pedigree, the mode and the evidence, inference says what the sum over all genotypes says."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from helpers.in_e import opened
from helpers.pedigrees import AUTOSOMAL, SEXED, joint, linked_questions, questions
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from sitegen.genetics.network import Heredity, agree, answer_all
from sitegen.genetics.observations import copies_in
from sitegen.genetics.questions import Impossible, LeftOpen, LinkedQuestion, Question, TooTangled

LIKE = ({("+", "pal"): Fraction(1), ("pal", "pal"): Fraction(1)}, {("+", "+"): Fraction(1), ("+", "pal"): Fraction(1)})
often = settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))


def compare(asked: Sequence[Question | LinkedQuestion]) -> None:
    truth = Truth(asked)
    answers = answer_all(asked)
    assert agree(asked, Fraction(0)) == bool(truth.total)
    if not truth.total:
        truth = Truth([opened(one) for one in asked])
        event(f"with {min(truth.total.terms)} unwritten copies" if truth.total else "contradictory")
    assert agree(asked, Fraction(1)) == bool(truth.total)
    if not truth.total:
        assert any(isinstance(failure, Impossible) for one in answers for failure in one.failures)
        return
    for number, (one, found) in enumerate(zip(asked, answers, strict=True)):
        parts = one.questions if isinstance(one, LinkedQuestion) else (one,)
        members = [member.id for member in parts[0].members]
        assert found.failures == ()
        for place, part in enumerate(parts):
            for member in members:
                assert found.of(member, part.locus.id) == truth.posterior(member, number, place)
            for few in (members[:2], members[-2:], [members[-1], members[0]], members[:3]):
                assert joint(found, few, part.locus.id) == truth.joint(few, number, place)
        sires_agree(found, truth, parts[0])


def sires_agree(found: Heredity, truth: Truth, question: Question) -> None:
    for member in question.members:
        if len(member.sires) > 1:
            key = member.litter if member.litter and not member.each_its_own_sire else member.id
            sires = found.sires(key)
            assert not isinstance(sires, Impossible | TooTangled)
            assert sires == truth.sires(key)


@often
@given(questions(AUTOSOMAL))
def test_autosomal(question: Question) -> None:
    compare([question])


@often
@given(questions(SEXED))
def test_sex_linked_and_pseudo_autosomal(question: Question) -> None:
    compare([question])


@often
@given(questions(AUTOSOMAL[:3], most=6, several_sires=True))
def test_several_possible_sires(question: Question) -> None:
    compare([question])


@often
@given(questions(SEXED, several_sires=True))
def test_several_possible_sires_of_sexed_loci(question: Question) -> None:
    compare([question])


@settings(often, max_examples=40)
@given(linked_questions())
def test_linked_loci(question: LinkedQuestion) -> None:
    compare([question])


@often
@given(st.data())
def test_loci_asked_together_share_their_litters_sires(data: st.DataObject) -> None:
    first = data.draw(questions(AUTOSOMAL[:1], several_sires=True))
    second = data.draw(questions(AUTOSOMAL[1:2], several_sires=True))
    tallies = tuple(replace(tally, likelihood=data.draw(st.sampled_from(LIKE))) for tally in first.tallies)
    known = {member.id for member in first.members}
    seen = tuple(one for one in second.observations if one.member in known)
    compare([first, Question(second.locus, first.members, {}, seen, tallies)])


# What nobody wrote: the same loci without odds for founders, and the truth in powers of a small e.

BLANK = tuple(replace(at, background={}) for at in (*AUTOSOMAL, *SEXED))


@settings(often, max_examples=150)
@given(questions(BLANK, most=6))
def test_as_few_unwritten_copies_as_the_evidence_needs(question: Question) -> None:
    compare([replace(question, left_open=_left_open(question))])


@often
@given(questions(BLANK, several_sires=True))
def test_the_same_with_several_possible_sires(question: Question) -> None:
    compare([question])


@settings(often, max_examples=30)
@given(linked_questions())
def test_the_same_at_linked_loci(question: LinkedQuestion) -> None:
    blank = (replace(one, locus=replace(one.locus, background={})) for one in question.questions)
    compare([replace(question, questions=tuple(blank))])


@often
@given(st.data())
def test_the_same_at_loci_that_share_their_litters_sires(data: st.DataObject) -> None:
    first = data.draw(questions(BLANK[:1], several_sires=True))
    second = data.draw(questions(BLANK[1:2], several_sires=True))
    tallies = tuple(replace(tally, likelihood=data.draw(st.sampled_from(LIKE))) for tally in first.tallies)
    known = {member.id for member in first.members}
    seen = tuple(one for one in second.observations if one.member in known)
    compare([first, Question(second.locus, first.members, {}, seen, tallies)])


def _left_open(question: Question) -> dict[str, LeftOpen]:
    """Every genotype that stated odds do not name, as if they were a word that leaves it open."""
    return {
        founder: {
            pair: (copies_in(question.locus, pair), Fraction(1, 3))
            for pair in question.locus.genotypes(next(one.sex for one in question.members if one.id == founder))
            if pair not in odds
        }
        for founder, odds in question.priors.items()
    }
