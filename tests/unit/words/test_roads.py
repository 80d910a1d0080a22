from fractions import Fraction

import pytest

from sitegen.words.roads import (
    chance_sentence,
    late_sentence,
    median_sentence,
    opened,
    reached_sentence,
    season_words,
    setback_sentence,
    stage_event,
    told_chance,
)
from sitegen.words.speech import Link, Target, Text, plain

STAGE = Link("stage 2", Target.PROJECT, "ghost#stage-second")


@pytest.mark.parametrize(("runs", "rest"), [(10, Fraction(1, 200)), (5000, Fraction(1, 2 * 5000))])
def test_drawn_courses_are_never_told_as_none_or_all(runs: int, rest: Fraction) -> None:
    assert rest == told_chance(Fraction(0), runs)
    assert 1 - rest == told_chance(Fraction(1), runs)
    assert Fraction(1, 3) == told_chance(Fraction(1, 3), runs)


def test_courses_that_were_added_up_may_be_none_or_all() -> None:
    assert [0, 1] == [told_chance(Fraction(whole), 0) for whole in (0, 1)]


def test_the_chance_by_a_season_names_both_sides() -> None:
    told = plain(chance_sentence(2029, Fraction(2, 3)))
    assert "about 67 in 100 plans like this one have the goal by the end of 2029 and 33 do not" in told
    assert "cannot be there" in plain(chance_sentence(2029, Fraction(0)))
    assert "the goal is there by the end of 2029" in plain(chance_sentence(2029, Fraction(1)))


def test_the_middle_season_is_told_or_that_it_lies_beyond() -> None:
    assert plain(median_sentence(2028, 2030)).startswith("By the end of 2028, half of such plans or more")
    assert "By the end of 2030, fewer than half" in plain(median_sentence(None, 2030))


def test_a_reached_goal_is_told_with_what_is_known_of_it() -> None:
    assert "The goal is reached." == plain(reached_sentence(None, (), ""))
    assert "The goal was reached in 2027." == plain(reached_sentence(2027, (), ""))
    assert "The goal was reached in 2027, with Onyx." == plain(reached_sentence(2027, ("Onyx",), "Onyx"))


def test_a_sentence_that_begins_with_a_stage_begins_with_a_capital() -> None:
    assert (Link("Stage 2", STAGE.target, STAGE.id), Text(".")) == opened((STAGE, Text(".")))
    assert () == opened(())


def test_what_went_otherwise_says_what_it_costs() -> None:
    late = plain(late_sentence(STAGE, 2027, 2029, "", done=True))
    assert "Stage 2 was planned for 2027 and bred in 2029, 2 years later." == late
    told = [
        plain(setback_sentence(("Onyx",), "Onyx", "hypo", STAGE, again, years))
        for again, years in ((None, None), (2028, 0), (2028, 1))
    ]
    assert all(each.startswith("Onyx was kept from stage 2 to carry hypo, and does not carry it.") for each in told)
    assert told[0].endswith("That stage cannot be repeated, so the plan has to change.")
    assert told[1].endswith("in 2028, so it costs no season.")
    assert told[2].endswith("in 2028 at the earliest: it costs 1 year.")


def test_a_pairing_is_told_with_the_litter_that_came_or_is_to_come() -> None:
    assert "Stage 2, A x B." == plain(stage_event(STAGE, "A x B"))
    assert "Stage 2, A x B: C is still to come (laid in May)." == plain(
        stage_event(STAGE, "A x B", "C", date="laid in May")
    )
    assert "Stage 2, A x B: C, 0 living young." == plain(stage_event(STAGE, "A x B", "C", 0))


def test_a_season_has_its_month_where_it_is_known() -> None:
    assert ["2028", "March 2028", "März 2028"] == [
        season_words(2028, 0, "en"),
        season_words(2028, 3, "en"),
        season_words(2028, 3, "de"),
    ]
