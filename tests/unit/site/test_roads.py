"""What a project's page tells of its whole road: chances, other routes, what went wrong, assumptions."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.random_roads import by_seasons, page, project, road, told, words_of

from sitegen.plans.roads.kinds import Counted, Method, RoadOutlook, Setback, StageState


def _with_goal_in_first_litter(expected: Fraction, came: int, **more: object) -> RoadOutlook:
    main = road(**more)
    result = main.stages[0].litters[0]
    goal = Counted("goal", ("amel", "hypo"), "", 6, came, expected, Fraction(9, 10), Fraction(1))
    stage = replace(main.stages[0], litters=(replace(result, counted=(goal,)),))
    return replace(main, stages=(stage, main.stages[1]))


def test_where_a_project_stands_is_one_paragraph_with_what_is_next_and_why() -> None:
    assert told(page().now) == [
        "Under way. The first stage has not yet given all that we want to keep from it.",
        "Stage 1 goes on: Juniper with Flint once more, in March 2027 at the earliest, because the season of "
        "2027 is the first that is still to come.",
        "If the animals live and breed as planned, about 80 in 100 plans like this one have the goal by the end of "
        "2034 and 20 do not.",
        "By the end of 2031, half of such plans or more have the goal.",
    ]
    assert page().odds is not None
    assert page().odds.filled == 80  # type: ignore[union-attr]


def test_what_went_wrong_names_the_cost_and_the_luck() -> None:
    setback = Setback("first", "daughters", "hypo", ("sorrel",), 2028, 2)
    done = replace(road().stages[0], state=StageState.DONE, earliest=2027, yielded=())
    main = replace(road(setbacks=(setback,)), stages=(done, road().stages[1]))
    assert told(page(main).wrong) == [
        "Sorrel was kept from stage 1 to carry hypo, and does not carry it. Young of the same pairing can take that "
        "place in 2028 at the earliest: it costs 2 years.",
        "Juniper and Flint 2026 gave no females that show amelanistic among 5 young. About 24 in 100 such clutches of "
        "5 would have none and 76 would have some.",
        "Stage 1 was planned for 2026 and bred in 2027, 1 year later.",
        "Stage 2 was planned for 2028. It comes in 2030 at the earliest, 2 years later, because a female from stage 1 "
        "will not be old enough before.",
    ]


def test_chances_stand_in_a_chart_and_in_a_table() -> None:
    found = page().chances
    assert found is not None
    assert [(row.season, row.by, row.then) for row in found.rows] == [
        ("2027", "0", "0"), ("2028", "0", "0"), ("2029", "0", "0"), ("2030", "30", "30"), ("2031", "50", "20"),
        ("2032", "60", "10"), ("2033", "70", "10"), ("2034", "80", "10"),
    ]  # fmt: skip
    assert [bar.by for bar in found.chart.bars] == [0, 0, 0, 300, 500, 600, 700, 800]
    assert told(found.lines)[2:] == [
        "However long we try, about 90 in 100 such plans get there. The others run out of the seasons "
        "that we mean to try, or rely on an animal that lacks what it should pass on, which nobody can see.",
        "On average such a plan takes 2.5 more clutches and 1.5 more young kept back, the goal itself counted, until "
        "it is there or 2034 is over.",
    ]


def test_ten_thousand_drawn_roads_without_one_that_fails_are_not_certainty() -> None:
    main = road(by_season=by_seasons(2027, *[Fraction(0)] * 3, *[Fraction(1)] * 5), median=2030, ever=Fraction(1),
                method=Method(10**6, 10_000, 7, Fraction(1, 200)))  # fmt: skip
    made = page(main)
    assert "more than 99 in 100 plans like this one have the goal by the end of 2034" in told(made.now)[2]
    assert "10,000 of them were drawn by chance" in " ".join(told(made.assumptions))
    assert "may be off by 0.5 either way" in " ".join(told(made.assumptions))
    assert made.chances is not None
    assert [row.by for row in made.chances.rows][2:5] == ["0", "more than 99", "more than 99"]


def test_routes_stand_side_by_side_by_the_last_season_that_all_are_looked_at() -> None:
    other = road(replace(project(), stages=project().alternatives[0].stages), horizon=2032, median=2029,
                 by_season=by_seasons(2027, *(Fraction(n, 10) for n in (1, 2, 5, 5, 5, 6))), inbreeding=Fraction(0),
                 litters=Fraction(3), kept=Fraction(1, 100))  # fmt: skip
    routes = page(road(), other).routes
    assert routes is not None
    assert routes.names == ("This plan", "A season sooner")
    assert [(row.label, row.values) for row in routes.rows] == [
        ("Half of such plans are there by", ("2031", "2029")),
        ("Of 100 such plans, there by the end of 2032, about", ("60", "60")),
        ("Clutches still to come, on average", ("2.5", "3")),
        ("Young still to keep, on average", ("1.5", "fewer than 0.1")),
        ("Parents of the goal animal", ("related, with a coefficient of 1/8", "not related as far as our records go")),
    ]
    assert told(routes.others[0].steps) == [
        "Stage 1: Juniper with Flint, in March 2027 at the earliest, because the season of 2027 is the first that is "
        "still to come."
    ]
    assert page().routes is None


def test_the_goal_animals_family_is_told_beside_the_breeders_limit() -> None:
    assert told(page().goal_lines)[:2] == [
        "The parents of the goal animal are related, with a coefficient of 1/8. Our own limit is 1/8.",
        "Ancestry, as an expected share: 3/4 Saltby, 1/4 not known, by pedigree.",
    ]
    above = page(relatedness_limit=Fraction(1, 16))
    assert words_of(above.goal_lines[0]).endswith("Our own limit is 1/16, and that is above it.")


def test_the_assumptions_are_plain_words() -> None:
    assert told(page().assumptions) == [
        "No animal is lost, sold or ill in this sum. In life that happens, and then the road is longer.",
        "We keep the first young that look right. What cannot be seen is left to chance; the plan goes on.",
        "Age is part of the sum. Weight is not: a dam that is too light waits, whatever is planned.",
        "We have not written down how often a pairing gives a clutch. We take it that each one does.",
        "We have not written down how many clutches a dam has in a season. We take one.",
        "We have not written down how many young a clutch has. We take 6 to 28, most often 13.",
        "Pairing is in March, and the young come in July (by our own clutches).",
        "We have not written down how long a dam rests. She may have young in every season of this sum.",
        "We have not written down whether a dam rests after a pairing that did not take. We take it that she does not.",
        "We have not written down from which age on this kind is bred. We take the season after birth.",
        "Where we say most clutches, we mean at least 80 in 100.",
        "Every course that the plan can take was added up; none was left out.",
        "How a road is worked out.",
    ]


def test_assumed_months_are_not_used_in_dates() -> None:
    made = page(road(assumed_season=True))
    assert "in 2027 at the earliest" in told(made.now)[1]


def test_a_litter_that_could_have_had_the_goal_and_had_not_is_told_with_its_cost() -> None:
    """Juniper and Flint were paired in 2026; the first young that can be the goal are those of 2030."""
    cost = "Juniper and Flint 2026 could have had the goal and did not. "
    assert told(page(_with_goal_in_first_litter(Fraction(1, 3), 0)).wrong)[0] == (
        f"{cost}Now it can come in 2030 at the earliest, 4 years later."
    )
    reached = _with_goal_in_first_litter(Fraction(1, 3), 0, reached=2027, by_season=(), median=None)
    assert told(page(reached).wrong)[0] == f"{cost}It came in 2027, 1 year later."


@pytest.mark.parametrize(("expected", "came"), [(Fraction(0), 0), (Fraction(1, 3), 1)])
def test_a_litter_that_could_not_have_the_goal_or_had_it_cost_nothing(expected: Fraction, came: int) -> None:
    assert not any("could have had" in line for line in told(page(_with_goal_in_first_litter(expected, came)).wrong))
