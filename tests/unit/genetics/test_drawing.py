"""Worlds beside the joints that inference tells; what cannot be drawn; and the same worlds everywhere."""

import hashlib
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
from helpers.drawn_worlds import assert_frequencies, worlds_of
from helpers.pedigrees import (
    AUTOSOMAL,
    LINKED,
    PARTING,
    SEXED,
    certain,
    closed,
    looked_at,
    ordinary,
    recessive,
    tied_by_a_third,
)
from helpers.plain_enumeration import Truth

from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import Drawing, Step, drawing, drawn
from sitegen.genetics.loci import Linkage, Sex, SexSystem
from sitegen.genetics.network import Heredity, answer, answer_all, cases
from sitegen.genetics.questions import Impossible, LinkedQuestion, Member, Observation, Question, TooTangled
from sitegen.genetics.solving import Hanging

ONE, HALF = Fraction(1), Fraction(1, 2)
DICE = Dice(19)
AMEL, HYPO = recessive("amel"), recessive("hypo")
MAY = {name: {("+", "+"): HALF, ("+", name): HALF} for name in ("amel", "hypo")}
WILD_LOOKING = {("+", "+"): ONE, ("+", "amel"): ONE}


def columns(array: np.ndarray) -> list[tuple[int, ...]]:
    return [tuple(column) for column in array.T.tolist()]


def ready(*args: object, **more: object) -> Drawing:
    found = drawing(*args, **more)  # type: ignore[arg-type]
    assert isinstance(found, Drawing)
    return found


@pytest.mark.parametrize("share", [0.2, 0.9])
def test_pairs_and_triples_of_a_large_family_have_their_chances(share: float) -> None:
    found = answer(looked_at(ordinary(80, 4), seed=4, share=share))
    members = [f"a{number:04d}" for number in (3, 17, 40, 41, 55, 79)]
    (states,) = drawn([found], members, 20_000, DICE, (1, 2))
    for few in (*combinations(range(6), 2), (1, 2, 3), (0, 4, 5)):
        assert_frequencies(columns(states[list(few)]), found.states([members[place] for place in few]))


def two_sires(*, own: bool = False) -> tuple[Heredity, ...]:
    """Three young of a dam and one of two possible sires at two loci, of which each sire has one."""
    sires = (("flint", Fraction(1, 3)), ("basalt", Fraction(2, 3)))
    parents = (Member("dam", Sex.FEMALE), Member("flint", Sex.MALE), Member("basalt", Sex.MALE))
    young = tuple(Member(f"y{n}", dam="dam", sires=sires, litter="L", each_its_own_sire=own) for n in range(3))
    amel = {"flint": certain("amel", "amel"), "dam": MAY["amel"]}
    hypo = {"basalt": certain("+", "hypo"), "dam": MAY["hypo"]}
    seen = (Observation("y0", {("+", "+"): ONE, ("+", "hypo"): HALF}, "y0"),)
    return answer_all([Question(AMEL, parents + young, amel, ()), Question(HYPO, parents + young, hypo, seen)])


@pytest.mark.parametrize("own", [False, True])
def test_loci_that_share_a_sire_are_drawn_together(own: bool) -> None:
    answers, members = two_sires(own=own), ["y0", "y2"]
    found = drawn(answers, members, 20_000, DICE, ())
    chances: dict[tuple, Fraction] = {}
    for case in cases(answers, members):
        for first, chance in case.states[0].items():
            for second, other in case.states[1].items():
                chances[first, second] = chances.get((first, second), Fraction(0)) + case.chance * chance * other
    assert worlds_of(ready(answers, members)) == chances
    assert_frequencies(zip(columns(found[0]), columns(found[1]), strict=True), chances)


def test_answers_that_nothing_ties_may_be_asked_one_by_one() -> None:
    first, second = (answer(looked_at(ordinary(20, 1), seed=seed)) for seed in (1, 2))
    found = drawn([first, second], ["a0001", "a0019"], 50, DICE, ())
    assert [own.shape for own in found] == [(2, 50), (2, 50)]
    with pytest.raises(ValueError, match="asked together"):
        drawing([first, two_sires()[0]], ["dam"])


def test_a_settled_member_is_what_it_is_in_every_world() -> None:
    found = answer(replace(looked_at(ordinary(12, 1), recessive(), odds=False), observations=()))
    assert drawn([found], ["a0000", "a0011"], 3, DICE, ())[0].tolist() == [[0, 0, 0], [0, 0, 0]]
    assert ready([found], ["a0000"]).steps == ()


def test_fewer_worlds_are_the_first_of_more_and_further_members_change_none() -> None:
    answers = answer_all([looked_at(ordinary(60, 4), seed=seed, share=0.3) for seed in (1, 2)])
    members = [f"a{number:04d}" for number in (59, 2, 31)]
    more = drawn(answers, [*members, "a0044", "a0001"], 600, DICE, (4,))
    fewer = drawn(answers, members, 70, DICE, (4,))
    for own, other in zip(more, fewer, strict=True):
        assert own[:3, :70].tolist() == other.tolist()


def test_only_what_the_members_hang_on_is_drawn() -> None:
    found = answer(looked_at(ordinary(300, 4), share=0.3))
    assert len(ready([found], ["a0299"]).steps) < 60


def test_of_tables_with_very_many_rows_only_those_that_come_up_are_read() -> None:
    found = answer(looked_at(closed(30, 2, n_founders=6, generation=8), share=0.3))
    members = [f"a{number:04d}" for number in range(30)]
    n_rows = max(step.n_rows for step in ready([found], members).steps)
    assert n_rows > 200
    (few,), (many,) = (drawn([found], members, n, DICE, ()) for n in (50, n_rows + 1))
    assert few.tolist() == many[:, :50].tolist()


def test_weights_of_any_length_are_drawn_by_their_ratios() -> None:
    step = Step((), (3,), [2**5000, 0, 3 * 2**5000])
    values = step.drawn([], DICE.words((), 4000))
    assert_frequencies(values.tolist(), {0: Fraction(1, 4), 1: Fraction(0), 2: Fraction(3, 4)})


# What hangs on a piece that is too tangled with it.


def half_siblings(at=AMEL, sex: Sex = Sex.UNKNOWN) -> Question:
    members = [
        Member("one", Sex.FEMALE),
        Member("other", Sex.FEMALE),
        Member("sire", Sex.MALE),
        Member("mate", Sex.MALE),
    ]
    members += [Member(f"of {dam}", sex, dam, (("sire", ONE),)) for dam in ("one", "other")]
    members.append(Member("grandchild", sex, "of one", (("mate", ONE),)))
    odds = {name: Fraction(rank, 10) for rank, name in enumerate(("one", "other", "sire", "mate"), start=1)}
    priors = {name: {("+", "+"): 1 - chance, ("+", at.id): chance} for name, chance in odds.items()}
    return Question(at, tuple(members), priors, ())


def test_who_hangs_on_others_is_drawn_after_them() -> None:
    tight, plain = answer(half_siblings(), limit=12), answer(half_siblings())
    assert any(isinstance(outcome, Hanging) for outcome in tight.solved.outcomes)
    members = [member.id for member in half_siblings().members]
    assert worlds_of(ready([tight], members)) == worlds_of(ready([plain], members))
    assert worlds_of(ready([tight], ["grandchild", "one"])) == worlds_of(ready([plain], ["grandchild", "one"]))


def test_who_hangs_on_others_is_not_drawn_given_a_sex() -> None:
    at = next(locus for locus in SEXED if locus.id == "glow")
    sexes = {"grandchild": Sex.MALE, "of other": Sex.FEMALE}
    plain = answer(half_siblings(at))
    tight = next(
        found
        for found in (answer(half_siblings(at), limit=limit) for limit in range(10, 5000, 10))
        if not found.failures and isinstance(found.solved.outcomes[found.solved.network.of_member[0, 6]], Hanging)
    )
    assert drawing([tight], ["grandchild"], sexes) == TooTangled(("grandchild",), 0)
    for (own,) in worlds_of(ready([plain], ["grandchild", "of other", "sire"], sexes)):
        assert [plain.mode.states[state].sex for state in own] == [Sex.MALE, Sex.FEMALE, Sex.MALE]


def test_choices_of_sire_that_a_third_locus_ties_are_drawn_together() -> None:
    """Each of two litters hangs on its own choice at one locus; a third tells that not both are the same sire's."""
    asked = tied_by_a_third()
    answers = answer_all(asked)[:2]
    third = Fraction(1, 3)
    assert worlds_of(ready(answers, ["y0", "y1"])) == {
        ((0, 0), (0, 1)): third, ((1, 0), (0, 0)): third, ((1, 0), (0, 1)): third,
    }  # fmt: skip
    of_truth = Truth(asked).worlds(["y0", "y1"])
    assert len(of_truth) == 3
    assert set(of_truth.values()) == {third}


# What cannot be drawn.


def test_a_contradicted_family_is_told_and_others_are_drawn() -> None:
    question = half_siblings()
    alone = Member("alone", Sex.MALE)
    seen = (Observation("of one", certain("amel", "amel"), "1"), Observation("of one", certain("+", "+"), "2"))
    question = replace(question, members=(*question.members, alone), observations=seen)
    found = answer(replace(question, priors={**question.priors, "alone": MAY["amel"]}))
    failure = drawn([found], ["alone", "sire"], 5, DICE, ())
    assert isinstance(failure, Impossible)
    assert "one" in failure.members
    assert drawn([found], ["alone"], 5, DICE, ())[0].shape == (1, 5)


def test_what_is_too_tangled_is_told() -> None:
    found = answer(looked_at(closed(60), share=1.0), limit=1)
    assert isinstance(drawn([found], ["a0050"], 5, DICE, ()), TooTangled)


def test_a_sex_that_a_member_cannot_have_is_told() -> None:
    at = next(locus for locus in SEXED if locus.id == "band")
    found = answer(replace(half_siblings(at), priors={}))
    assert drawing([found], ["one"], {"one": Sex.MALE}) == Impossible(("one",))
    assert isinstance(drawing([found], ["one"], {"one": Sex.FEMALE, "not asked for": Sex.MALE}), Drawing)
    assert isinstance(drawing([answer(half_siblings())], ["one"], {"one": Sex.MALE}), Drawing)  # no part of heredity


def test_sexes_that_members_cannot_have_together_are_told() -> None:
    """Of a sire with two copies or none: no daughter and no son of the kinds that were seen are both male."""
    at = next(locus for locus in SEXED if locus.id == "band" and locus.sex_system is SexSystem.ZW)
    members = (Member("dam", Sex.FEMALE), Member("sire", Sex.MALE))
    members += tuple(Member(f"y{n}", dam="dam", sires=(("sire", ONE),)) for n in range(2))
    priors = {"dam": certain("+", "W"), "sire": {("+", "+"): HALF, ("band", "band"): HALF}}
    no_son_of_two_copies = dict.fromkeys((("+", "+"), ("+", "W"), ("band", "W")), ONE)
    no_son_of_none = dict.fromkeys((("+", "band"), ("+", "W")), ONE)
    seen = (Observation("y0", no_son_of_two_copies, "0"), Observation("y1", no_son_of_none, "1"))
    found, young = answer(Question(at, members, priors, seen)), ["y0", "y1"]
    assert drawing([found], young, dict.fromkeys(young, Sex.MALE)) == Impossible(("y0", "y1"))
    for sexes in ((Sex.MALE, Sex.FEMALE), (Sex.FEMALE, Sex.MALE), (Sex.FEMALE, Sex.FEMALE)):
        for (own,) in worlds_of(ready([found], young, dict(zip(young, sexes, strict=True)))):
            assert tuple(found.mode.states[state].sex for state in own) == sexes


# The same worlds everywhere.


def test_worlds_never_change() -> None:
    """Recorded with numpy 2.4.6; the same with 1.26.0. Whoever changes them changes every number that was published."""
    members = [f"a{number:04d}" for number in range(40)]
    sexed = looked_at(ordinary(40, 5), share=0)
    questions = [looked_at(ordinary(40, 5), seed=2, share=0.3)]
    questions += [replace(sexed, locus=at) for at in (AUTOSOMAL[3], *SEXED[:3])]
    questions.append(
        LinkedQuestion(Linkage(("left", "right"), PARTING), tuple(replace(sexed, locus=at) for at in LINKED[0]))
    )
    found = drawn([answer(question) for question in questions], members, 3000, Dice(2026), (1, 0, 2))
    digest = hashlib.sha256(b"".join(np.ascontiguousarray(own).astype("<u2").tobytes() for own in found))
    assert [own[7, :8].tolist() for own in found] == [
        [0, 2, 2, 1, 1, 2, 2, 2],
        [0, 2, 3, 4, 4, 1, 2, 5],
        [3, 3, 3, 3, 3, 3, 4, 3],
        [4, 3, 3, 3, 3, 3, 3, 3],
        [6, 6, 6, 5, 6, 3, 6, 6],
        [4, 4, 5, 1, 5, 5, 5, 1],
    ]
    assert digest.hexdigest() == "2cb3c2448fe50b6213b3f84f1bbd7f53ae74c3a0c0fb452154236db3899997d8"
