from fractions import Fraction
from itertools import product

import pytest
from helpers.pedigrees import AUTOSOMAL, ONE, certain, questions, recessive
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.genetics.cases import Case, cases
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import answer, answer_all
from sitegen.genetics.questions import Impossible, Member, Observation, Question, TooTangled

HALF = Fraction(1, 2)
AMEL, HYPO = recessive("amel"), recessive("hypo")
MEMBERS = (
    Member("dam", Sex.FEMALE),
    Member("flint", Sex.MALE),
    Member("basalt", Sex.MALE),
    Member("y", Sex.MALE, "dam", (("flint", HALF), ("basalt", HALF)), "L"),
)


def asked_together() -> list[Question]:
    """Flint shows amel, basalt shows hypo: the young carries one of the two, never both."""
    return [
        Question(AMEL, MEMBERS, {"flint": certain("amel", "amel")}, ()),
        Question(HYPO, MEMBERS, {"basalt": certain("hypo", "hypo")}, ()),
    ]


def test_a_young_of_one_of_two_sires_carries_one_of_two_genes_and_never_both() -> None:
    answers = answer_all(asked_together())
    found = cases(answers, ["y"])
    assert not isinstance(found, Impossible)
    assert [case.chance for case in found] == [HALF, HALF]
    both = sum(
        case.chance * case.states[0].get((1,), Fraction(0)) * case.states[1].get((1,), Fraction(0)) for case in found
    )
    assert both == 0
    assert answers[0].of("y")[("+", "amel")] * answers[1].of("y")[("+", "hypo")] == HALF * HALF


def test_loci_that_nothing_ties_are_one_case() -> None:
    asked = [Question(at, MEMBERS[:3], {"dam": {("+", "+"): HALF, ("+", at.id): HALF}}, ()) for at in (AMEL, HYPO)]
    (case,) = cases(answer_all(asked), ["dam", "flint"])
    assert case.chance == ONE
    assert case.states == ({(0, 0): HALF, (1, 0): HALF},) * 2


def test_a_sire_that_is_settled_makes_no_cases() -> None:
    first, second = asked_together()
    first = Question(first.locus, MEMBERS, first.priors, (Observation("y", certain("+", "amel"), "y"),))
    (case,) = cases(answer_all([first, second]), ["y"])
    assert case.states == ({(1,): 1}, {(0,): 1})


def test_answers_that_were_not_asked_together_are_refused() -> None:
    first, second = asked_together()
    with pytest.raises(ValueError, match="asked together"):
        cases([answer(first), answer(second)], ["y"])


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_cases_say_what_the_sum_over_all_genotypes_says(data: st.DataObject) -> None:
    first = data.draw(questions(AUTOSOMAL[:1], several_sires=True, tallies=False))
    second = data.draw(questions(AUTOSOMAL[2:3], several_sires=True, tallies=False))
    known = {member.id for member in first.members}
    seen = tuple(one for one in second.observations if one.member in known)
    asked = [first, Question(second.locus, first.members, {}, seen)]
    truth = Truth(asked)
    answers = answer_all(asked)
    member = first.members[-1].id
    found = cases(answers, [member])
    if not truth.total:
        return
    assert not isinstance(found, Impossible)
    assert sum(case.chance for case in found) == 1
    expected = truth.across([(0, member), (1, member)])
    joint: dict = {}
    for case in found:
        for one, other in product(case.states[0], case.states[1]):
            key = tuple(a.mode.genotypes[s[0]][0] for a, s in zip(answers, (one, other), strict=True))
            joint[key] = joint.get(key, Fraction(0)) + case.chance * case.states[0][one] * case.states[1][other]
    assert joint == expected


def test_a_choice_that_matters_at_one_locus_only_makes_no_cases() -> None:
    first, second = asked_together()
    plain = Question(second.locus, MEMBERS, {}, ())
    (case,) = cases(answer_all([first, plain]), ["y"])
    assert case == Case(ONE, ({(0,): HALF, (1,): HALF}, {(0,): ONE}))


def test_more_cases_than_the_bound_are_refused_by_name(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = answer_all(asked_together())
    monkeypatch.setattr("sitegen.genetics.cases.MOST_CASES", 2)
    assert len(cases(answers, ["y"])) == 2
    monkeypatch.setattr("sitegen.genetics.cases.MOST_CASES", 1)
    assert cases(answers, ["y"]) == TooTangled(("y",), 2)


def test_a_member_without_an_answer_has_no_cases() -> None:
    first, second = asked_together()
    seen = (Observation("y", certain("amel", "amel"), "y"),)
    found = cases(answer_all([Question(first.locus, MEMBERS, {}, seen), second]), ["y"])
    assert isinstance(found, Impossible)


def test_what_is_too_tangled_has_no_cases() -> None:
    doubtful = {name: {("+", "+"): HALF, ("+", "amel"): HALF} for name in ("dam", "flint", "basalt")}
    seen = (Observation("y", {("+", "+"): ONE, ("+", "amel"): ONE}, "y"),)
    first = Question(AMEL, MEMBERS, doubtful, seen)
    second = Question(HYPO, MEMBERS, {"basalt": certain("hypo", "hypo")}, ())
    assert isinstance(cases(answer_all([first, second], limit=1), ["y"]), TooTangled)


def test_a_sire_that_is_settled_does_not_count_against_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """A littermate that carries amel is Flint's, and so is the one that is asked about: at neither locus is it open."""
    littermates = (*MEMBERS, Member("z", Sex.MALE, "dam", MEMBERS[-1].sires, "L"))
    first, second = (Question(one.locus, littermates, one.priors, ()) for one in asked_together())
    first = Question(first.locus, littermates, first.priors, (Observation("y", certain("+", "amel"), "y"),))
    monkeypatch.setattr("sitegen.genetics.cases.MOST_CASES", 1)
    (case,) = cases(answer_all([first, second]), ["z"])
    assert case.states == ({(1,): 1}, {(0,): 1})


def test_answers_of_which_one_has_a_sire_in_doubt_are_refused_unless_asked_together() -> None:
    first, _ = asked_together()
    settled = answer(Question(HYPO, MEMBERS[:3], {}, ()))
    for several in ([settled, answer(first)], [answer(first), settled]):
        with pytest.raises(ValueError, match="asked together"):
            cases(several, ["dam"])
    assert len(cases([settled, answer(Question(AMEL, MEMBERS[:3], {}, ()))], ["dam"])) == 1
