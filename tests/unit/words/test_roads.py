from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.from_text import bound
from helpers.random_roads import by_seasons, road

from sitegen.content.species import Births
from sitegen.plans.roads.kinds import SeasonChance
from sitegen.render.catalogues import catalogue_of
from sitegen.words.roads import (
    also_sentence,
    beside_sentence,
    better_sentence,
    closer_words,
    decision_sentence,
    differing,
    draws_sentence,
    goal_then,
    goes_on,
    half_sentence,
    kept_by,
    kept_sentence,
    late_sentence,
    litter_of,
    of_100,
    off_by,
    opened,
    otherwise_sentence,
    paragraph,
    reached_sentence,
    season_words,
    setback_sentence,
    sooner_words,
    told_by_season,
    told_chance,
    told_sides,
)
from sitegen.words.speech import Link, Target, Text, plain, said, spoken

STAGE = Link("stage 2", Target.PROJECT, "ghost#stage-second")
HALF, NONE, ALL = Fraction(1, 2), Fraction(0), Fraction(1)


@pytest.mark.parametrize(("draws", "rest"), [(10, Fraction(1, 200)), (5000, Fraction(1, 2 * 5000))])
def test_drawn_plans_are_never_told_as_none_or_all(draws: int, rest: Fraction) -> None:
    assert rest == told_chance(NONE, draws)
    assert 1 - rest == told_chance(ALL, draws)
    assert Fraction(1, 3) == told_chance(Fraction(1, 3), draws)


def test_what_was_not_drawn_may_be_none_or_all() -> None:
    assert [0, 1] == [told_chance(Fraction(whole), 0) for whole in (0, 1)]


def test_a_drawn_chance_has_no_fraction_beside_it() -> None:
    assert " (1/4)" == told_sides(Fraction(1, 4), 0)["fraction"]
    assert "" == told_sides(Fraction(1, 4), 20_000)["fraction"]


def test_a_count_of_100_says_about_unless_it_is_exact() -> None:
    told = [of_100(each, draws) for each, draws in ((HALF, 0), (ALL, 0), (ALL, 20_000), (NONE, 20_000))]
    assert ["about 50", "100", "more than 99", "fewer than 1"] == told


def test_a_season_before_the_goal_is_possible_has_none_and_a_later_one_has_few() -> None:
    """The second stage of the small road can give it from 2030 on."""
    told = {each.season: each.kept for each in told_by_season(road(by_season=by_seasons(2029, NONE, NONE, HALF)))}
    assert {2029: 0, 2030: Fraction(1, 40_000), 2031: HALF} == told


def test_the_chance_by_a_season_is_that_of_the_last_one_before_it() -> None:
    assert [0, Fraction(3, 10), Fraction(8, 10)] == [kept_by(road(), season) for season in (2020, 2030, 2050)]
    assert [0, 1] == [kept_by(road(reached=2027), season) for season in (2026, 2027)]


def test_the_chance_that_a_goal_animal_is_kept_names_both_sides() -> None:
    told = plain(kept_sentence(2029, Fraction(2, 3), "20,000"))
    assert "about 67 in 100 plans like this one keep a goal animal by the end of 2029, and 33 do not" in told
    none = plain(kept_sentence(2029, NONE, "20,000"))
    assert "None of the 20,000 plans that we drew keeps a goal animal by the end of 2029." == none


def test_born_and_proved_stand_beside_kept_only_where_they_differ() -> None:
    """Of 100 plans 87 bear one, 50 keep one and 43 know it; nobody can see hypo."""
    three = SeasonChance(2030, Fraction(87, 100), Fraction(50, 100), Fraction(43, 100))
    assert plain(beside_sentence(three, "hypo")) == (
        "One is born in about 87 of 100, but nobody can see hypo, so we may keep another in its place. It is also "
        "proved by then in about 43 of 100."
    )
    assert "but it is not among those that we keep in all of them" in plain(beside_sentence(three, ""))
    assert () == beside_sentence(SeasonChance(2030, HALF, HALF, HALF), "hypo")


def test_columns_that_say_the_same_in_every_season_are_one() -> None:
    assert (False, False) == differing(road())
    apart = SeasonChance(2034, Fraction(9, 10), Fraction(8, 10), Fraction(8, 10))
    assert (True, False) == differing(road(by_season=(apart,)))


def test_an_error_is_two_standard_errors_and_at_least_one_of_100() -> None:
    assert [1, 1, 2, 1] == [off_by(Fraction(n, 10_000)) for n in (35, 50, 51, 0)]
    assert "Drawn 20,000 times; each number of 100 may be off by 1." == plain(
        draws_sentence(20_000, Fraction(35, 10_000), "en")
    )


def test_half_of_the_plans_have_a_season() -> None:
    assert plain(half_sentence(2028)).startswith("By the end of 2028, half of such plans or more")


def test_a_decision_says_what_is_kept_and_what_if_it_does_not_come() -> None:
    assert "If the clutch of 2027 has one male, we keep it: that is the goal." == plain(
        decision_sentence("the clutch of 2027", said("one male"), 1, goal_then(""))
    )
    assert "If the clutch of 2027 has two males, we keep them for stage 2, in 2029 at the earliest." == plain(
        decision_sentence("the clutch of 2027", said("two males"), 2, goes_on(STAGE, 2029))
    )
    assert ": it may be the goal, though nobody can see hypo" == plain(goal_then("hypo"))
    assert " for stage 2" == plain(goes_on(STAGE, None))
    told = [
        plain(otherwise_sentence(what, " for stage 2", last=last)) for what in ("", "one") for last in (True, False)
    ]
    assert told == [
        "If not, that was the last try that we planned.",
        "If not, we try again.",
        "If not, we keep one for stage 2.",
        "If not, we keep one for stage 2, but try again first.",
    ]


def test_the_litter_that_a_decision_waits_for_has_its_article_in_german() -> None:
    what, eggs = said("ein Amel"), bound("=== species/corn-snake.yaml\nbirths: eggs\n").species["corn-snake"]
    with spoken(catalogue_of("de")):
        told = plain(decision_sentence(said(litter_of(eggs, 2028)), what, 1, ""))
        assert told == "Bringt das Gelege 2028 ein Amel, so behalten wir es."
        told = plain(decision_sentence(said(litter_of(replace(eggs, births=Births.LIVE), 2028)), what, 1, ""))
        assert told == "Bringt der Wurf 2028 ein Amel, so behalten wir es."


def test_what_is_kept_beside_the_goal_is_a_sentence_of_its_own() -> None:
    assert "We also keep two males for stage 2." == plain(also_sentence("two males", " for stage 2"))
    assert () == also_sentence((), ())


def test_a_better_way_says_by_how_much_and_how_sure_that_is() -> None:
    told = plain(better_sentence("Onyx as the sire of stage 2", Fraction(12, 100), Fraction(35, 10_000), 2030))
    assert told == (
        "Onyx as the sire of stage 2 is better by these numbers: about 12 more of 100 plans keep a goal animal by the "
        "end of 2030 (give or take 1)."
    )
    assert [", half of them by 2028", "", ""] == [
        plain(sooner_words(half, before)) for half, before in ((2028, None), (2029, 2029), (None, 2028))
    ]
    assert "; but the parents of the goal animal would be related, with a coefficient of 1/4" == plain(
        closer_words(Fraction(1, 4), NONE)
    )
    assert () == closer_words(NONE, NONE)


def test_a_reached_goal_is_told_with_what_is_known_of_it() -> None:
    assert "The goal is reached." == plain(reached_sentence(None, (), ""))
    assert "The goal was reached in 2027." == plain(reached_sentence(2027, (), ""))
    assert "The goal was reached in 2027, with Onyx." == plain(reached_sentence(2027, ("Onyx",), "Onyx"))


def test_a_sentence_that_begins_with_a_stage_begins_with_a_capital() -> None:
    assert (Link("Stage 2", STAGE.target, STAGE.id), Text(".")) == opened((STAGE, Text(".")))
    assert () == opened(())


def test_a_paragraph_leaves_out_what_is_empty() -> None:
    assert "A. B." == plain(paragraph([said("A."), (), said("B.")]))
    assert () == paragraph([(), ()])


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


def test_a_season_has_its_month_where_it_is_known() -> None:
    assert ["2028", "March 2028", "März 2028"] == [
        season_words(2028, 0, "en"),
        season_words(2028, 3, "en"),
        season_words(2028, 3, "de"),
    ]
