"""The stage cards of a project: odds beside results."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.random_roads import page, project, road, told, words_of

from sitegen.plans.roads.kinds import Counted, StageState, Waits


def test_a_parent_that_is_not_kept_yet_is_told_in_words() -> None:
    second = page().stages[1]
    assert words_of(second.pairing) == "A female from stage 1 with Flint"
    assert words_of(second.why) == "Not before March 2030, because the dam will not be old enough before."


def test_the_three_statements_are_apart_and_what_cannot_be_seen_follows() -> None:
    """Of 1/8 that look right at 13 young: 1 - (7/8)^13 = 82 in 100."""
    wanted = page().stages[0].wanted[0]
    assert words_of(wanted.title) == "To keep: one female that shows amelanistic and carries hypo"
    assert told(wanted.statements) == [
        "One young: about 13 in 100 young from parents like these are females that show amelanistic and 87 are not "
        "(1/8).",
        "A whole clutch of 6 to 28 young has on average 1.6 like that.",
        "At least one: about 82 in 100 clutches of usual size have that many and 18 do not.",
    ]
    assert told(wanted.unseen) == [
        "Nobody can see hypo in females that show amelanistic, so we cannot choose by it.",
        "Of 100 that look right, about 50 carry hypo and 50 do not (1/2).",
    ]


def test_what_parents_give_that_are_not_kept_yet_was_counted_in_drawn_plans() -> None:
    wanted = page().stages[1].wanted[0]
    assert told(wanted.statements)[0].endswith("show amelanistic and hypo and 94 do not.")
    assert told(wanted.statements)[-1] == "Counted in the plans that get so far, in their first clutch."


def test_a_stage_that_is_not_reached_by_all_says_how_it_goes() -> None:
    assert told(page().stages[1].course) == [
        "We try this pairing in at most three seasons.",
        "About 60 of 100 plans like this one have bred this stage by the end of 2030, and about 90 by the end of 2031. "
        "Of 100 that did, about 89 keep a goal animal from it and 11 do not.",
        "Of 100 plans like this one, in about 80 the goal is kept here, in about 10 our tries run out first and in "
        "about 10 it is not bred, or not over, by the end of 2034.",
    ]


def test_the_other_branch_is_told_as_what_is_kept_if_the_first_does_not_come() -> None:
    first, second = project().stages
    sons = replace(first.keep[0], id="sons", sex="male")
    stage = page(stages=(replace(first, otherwise=(sons,)), second)).stages[0]
    assert words_of(stage.wanted[1].title).startswith("To keep if that does not come: one male")


def test_a_stage_that_is_over_is_folded_under_its_pairing() -> None:
    main = road()
    done = replace(main.stages[0], state=StageState.DONE)
    first, second = page(replace(main, stages=(done, main.stages[1]))).stages
    assert first.over == "Juniper with Flint: what came of it"
    assert (first.state, first.odds, first.course, second.over) == ("Done", "", (), "")


def test_a_result_stands_beside_what_was_expected_with_its_tail() -> None:
    """(3/4)^5 = 243/1024: about 24 in 100 clutches of five have none."""
    result = page().stages[0].results[0]
    row = result.rows[0]
    assert (words_of(row.kind), row.expected, row.came) == ("Females that show amelanistic", "1.3 of 5", "0")
    assert words_of(row.luck) == "About 24 in 100 such clutches of 5 would have none and 76 would have some."
    assert words_of(result.note) == "Expected by what we knew on July 17, 2026, the day before they came."


@pytest.mark.parametrize(
    ("came", "few", "many", "words"),
    [
        (1, Fraction(3, 25), Fraction(97, 100), "About 12 in 100 such clutches of 5 would have as few or fewer and 88 "
         "would have more."),
        (4, Fraction(99, 100), Fraction(1, 64), "About 2 in 100 such clutches of 5 would have as many or more and 98 "
         "would have fewer."),
        (0, Fraction(1, 10**9), Fraction(1), "Fewer than 1 in 100 such clutches of 5 would have none and more than 99 "
         "would have some."),
        (5, Fraction(1), Fraction(1), "It could not have been otherwise."),
        (2, Fraction(1), Fraction(0), "By what we knew the day before, that could not come. It came, and so we learned "
         "something."),
    ],
)  # fmt: skip
def test_how_unusual_a_result_was(came: int, few: Fraction, many: Fraction, words: str) -> None:
    main = road()
    result = main.stages[0].litters[0]
    counted = Counted("daughters", ("amel",), "female", 5, came, Fraction(5, 4), few, many)
    stage = replace(main.stages[0], litters=(replace(result, counted=(counted,)),))
    row = page(replace(main, stages=(stage, main.stages[1]))).stages[0].results[0].rows[0]
    assert words_of(row.luck) == words


def test_the_goal_is_no_row_in_a_litter_that_could_not_have_it_and_did_not() -> None:
    main = road()
    result = main.stages[0].litters[0]
    goal = Counted("goal", ("amel", "hypo"), "", 6, 0, Fraction(0), Fraction(1), Fraction(1))
    stage = replace(main.stages[0], litters=(replace(result, counted=(*result.counted, goal)),))
    assert len(page(replace(main, stages=(stage, main.stages[1]))).stages[0].results[0].rows) == 1


def test_decisions_stand_with_their_stage_or_by_themselves() -> None:
    made = page()
    assert [(d.date, d.text) for d in made.stages[0].decisions] == [("August 1, 2026", "We wait a year.")]
    assert [d.text for d in made.decisions] == ["We go on."]


def test_a_stage_that_cannot_be_bred_any_more_says_why() -> None:
    main = road()
    dead = replace(main.stages[1], earliest=None, waits=Waits.NEVER, waits_for="")
    made = page(replace(main, stages=(main.stages[0], dead)))
    assert words_of(made.stages[1].why) == "This pairing cannot be made any more as the plan stands."
    assert "Stage 2: This pairing cannot be made any more as the plan stands." in told(made.wrong)
