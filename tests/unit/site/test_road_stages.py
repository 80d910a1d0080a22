"""The stage cards of a project: odds beside results."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.random_roads import page, project, road, told, with_roads, words_of

from sitegen.plans.roads.kinds import Counted, Waits
from sitegen.site.projects import project_page


def test_a_parent_that_is_not_kept_yet_is_told_in_words_and_has_an_empty_plate() -> None:
    second = page().stages[1]
    assert words_of(second.pairing) == "A female from stage 1 with Flint"
    assert [plate.picture is None for plate in second.parents] == [True, True]
    assert words_of(second.parents[0].caption) == "A female from stage 1"
    assert words_of(second.why) == (
        "Not before March 2030, because a female from stage 1 will not be old enough before."
    )


def test_the_three_statements_are_apart_and_what_cannot_be_seen_follows() -> None:
    """Of 1/8 that look right at 13 young: 1 - (7/8)^13 = 82 in 100; 18 young for 90 in 100, as (7/8)^18 < 1/10.
    None to three of 13: 7^10 (7^3 + 13 * 7^2 + 78 * 7 + 286) / 8^13 = 93 in 100; none to two only 78 in 100.
    """
    wanted = page().stages[0].wanted[0]
    assert words_of(wanted.title) == "To keep: one female that shows amelanistic and carries hypo"
    assert told(wanted.statements) == [
        "One young: about 13 in 100 young from parents like these are females that show amelanistic and 87 are not "
        "(1/8).",
        "A whole clutch of 6 to 28 young has on average 1.6 like that. Most clutches have 0 to 3.",
        "At least one: about 82 in 100 clutches of usual size have that many and 18 do not.",
        "With 18 young the chance of at least one reaches 90 in 100.",
    ]
    assert told(wanted.unseen) == [
        "Nobody can see hypo in females that show amelanistic, so we cannot choose by it.",
        "Of 100 that look right, about 50 carry hypo and 50 do not (1/2).",
        "If we keep four that look right, at least one truly has that in at least 90 of 100 cases.",
    ]


def test_how_many_to_keep_where_the_parents_may_not_have_it() -> None:
    plan = project()
    main = road()
    held = main.stages[0].holdbacks[0]
    never = replace(held.to_keep[1], n_young=None, ceiling=Fraction(2, 3))
    stage = replace(main.stages[0], holdbacks=(replace(held, to_keep=(never,)),))
    made = project_page(plan, with_roads(plan, replace(main, stages=(stage, main.stages[1])))[1])
    assert told(made.stages[0].wanted[0].unseen)[-1] == (
        "However many we keep, we never reach 90 of 100 cases: only about 67 in 100 pairs like this one can pass it on."
    )


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


@pytest.mark.parametrize(("count", "words"), [(5, ""), (6, "6 looks, with their numbers")])
def test_a_table_of_more_than_five_looks_is_folded(count: int, words: str) -> None:
    main = road()
    rows = tuple(replace(main.stages[0].looks[0], chance=Fraction(1, count)) for _ in range(count))
    stage = replace(main.stages[0], looks=rows)
    assert page(replace(main, stages=(stage, main.stages[1]))).stages[0].looks_folded == words
