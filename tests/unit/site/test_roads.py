"""What a project's page tells of its whole road: chances, other ways, what went wrong, assumptions."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.random_roads import by_seasons, hrefs, page, project, road, told, words_of
from helpers.small_site import HERE

from sitegen.content.projects import Holdback
from sitegen.plans.roads.kinds import (
    Counted,
    Range,
    Rival,
    RoadOutlook,
    SeasonChance,
    SeasonLoad,
    Setback,
    StageState,
)


def _with_goal_in_first_litter(expected: Fraction, came: int, **more: object) -> RoadOutlook:
    main = road(**more)
    result = main.stages[0].litters[0]
    goal = Counted("goal", ("amel", "hypo"), "", 6, came, expected, Fraction(9, 10), Fraction(1))
    stage = replace(main.stages[0], litters=(replace(result, counted=(goal,)),))
    return replace(main, stages=(stage, main.stages[1]))


def test_a_page_begins_with_state_chance_and_what_is_decided_next() -> None:
    assert told(page().now) == [
        "Under way. The first stage has not yet given all that we want to keep from it.",
        "If the animals live and breed as planned, about 80 in 100 plans like this one keep a goal animal by the end "
        "of 2034, and 20 do not. By the end of 2031, half of such plans or more have kept one.",
        "Stage 1 goes on: Juniper with Flint once more, in March 2027 at the earliest, because the season of 2027 is "
        "the first that is still to come. If the clutch of 2027 has one female that shows amelanistic, we keep it for "
        "stage 2, in 2030 at the earliest. If not, we try again.",
    ]
    assert page().odds is not None
    assert page().odds.filled == 80  # type: ignore[union-attr]


def test_a_goal_with_a_gene_that_nobody_can_see_is_told_with_three_chances() -> None:
    """Of 100 plans 87 bear one, 50 keep one and 43 know it."""
    main = road(by_season=(SeasonChance(2034, Fraction(87, 100), Fraction(50, 100), Fraction(43, 100)),))
    last = main.stages[1]
    goal = replace(last.holdbacks[0], unseen=("hypo",), carries=Fraction(1, 2), each={"hypo": Fraction(1, 2)})
    made = page(replace(main, stages=(main.stages[0], replace(last, holdbacks=(goal,)))))
    assert words_of(made.now[1]).startswith(
        "If the animals live and breed as planned, about 50 in 100 plans like this one keep a goal animal by the end "
        "of 2034, and 50 do not. One is born in about 87 of 100, but nobody can see hypo, so we may keep another in "
        "its place. It is also proved by then in about 43 of 100."
    )
    assert made.seasons is not None
    assert made.seasons.heads[:4] == ("Season", "kept", "born", "proved")
    assert [cell[0] for cell in made.seasons.rows[0].cells[:3]] == ["50", "87", "43"]


@pytest.mark.parametrize(
    ("tries", "until", "words"),
    [
        (1, "tries", "If not, we keep two males that show the normal look for stage 2, in 2030 at the earliest."),
        (3, "else", "If not, we keep two males that show the normal look for stage 2, in 2030 at the earliest."),
        (
            3,
            "tries",
            "If not, we keep two males that show the normal look for stage 2, in 2030 at the earliest, but try again "
            "first.",
        ),
    ],
)
def test_the_other_branch_is_told_with_where_it_leads(tries: int, until: str, words: str) -> None:
    """The first stage has had no litter; its second branch gives the sires of the next."""
    first, second = project().stages
    sons = Holdback(id="sons", only=True, count=2, sex="male", place=HERE)
    first = replace(first, litters=(), otherwise=(sons,), until=until, tries=tries)
    made = page(stages=(first, replace(second, sire="first.sons")))
    assert words_of(made.now[2]).endswith(words)


def test_a_last_stage_that_keeps_nothing_of_its_own_is_for_the_goal() -> None:
    _first, second = project().stages
    made = page(stages=(replace(second, id="first", dam="juniper", keep=()),))
    assert "If the clutch of 2027 has one young that shows amelanistic and hypo, we keep it: that is the goal." in (
        words_of(made.now[2])
    )
    assert words_of(made.road[0].kept[0].caption) == "the goal"


def test_a_road_on_which_nothing_can_be_bred_says_so() -> None:
    assert words_of(page(road(by_season=(), loads=(), half_by=None)).now[1]) == (
        "As the plan stands, nothing more can be bred for it."
    )


def test_better_ways_are_told_in_a_sentence_each() -> None:
    other = road(replace(project(), stages=project().alternatives[0].stages), half_by=2029, inbreeding=Fraction(1, 4))
    rival = Rival(
        "second", False, "flint", "sorrel", Fraction(9, 10), Fraction(1, 10), Fraction(1, 100), 2031, Fraction(0)
    )
    made = page(road(), other, rivals=(rival,))
    assert told(made.rivals) == [
        "“A season sooner” is better by these numbers: about 5 more of 100 plans keep a goal animal by the end of 2034 "
        "(give or take 1), half of them by 2029; but the parents of the goal animal would be related, with a "
        "coefficient of 1/4.",
        "Sorrel as the sire of stage 2 is better by these numbers: about 10 more of 100 plans keep a goal animal by "
        "the end of 2034 (give or take 2).",
    ]
    assert hrefs(made.rivals[0]) == ["#routes"]


@pytest.mark.parametrize(("gain", "error"), [(Fraction(1, 50), Fraction(1, 100)), (Fraction(1, 200), Fraction(0))])
def test_a_way_that_may_be_no_better_is_not_told(gain: Fraction, error: Fraction) -> None:
    rival = Rival("second", False, "flint", "sorrel", Fraction(9, 10), gain, error, 2031, Fraction(0))
    assert page(road(), rivals=(rival,)).rivals == ()


def test_what_went_wrong_names_the_cost_and_the_luck() -> None:
    setback = Setback("first", "daughters", "hypo", ("sorrel",), 2028, 2)
    done = replace(road().stages[0], state=StageState.DONE, earliest=2027, bred=())
    main = replace(road(setbacks=(setback,)), stages=(done, road().stages[1]))
    assert told(page(main).wrong) == [
        "Sorrel was kept from stage 1 to carry hypo, and does not carry it. Young of the same pairing can take that "
        "place in 2028 at the earliest: it costs 2 years.",
        "Juniper and Flint 2026 gave no females that show amelanistic among 5 young. About 24 in 100 such clutches of "
        "5 would have none and 76 would have some.",
        "Stage 1 was planned for 2026 and bred in 2027, 1 year later.",
        "Stage 2 was planned for 2028. It comes in 2030 at the earliest, 2 years later, because the dam will not be "
        "old enough before.",
    ]


def test_seasons_stand_in_one_table_with_what_they_bring() -> None:
    """Seasons in which nothing comes and nothing changes are one row."""
    loads = tuple(
        SeasonLoad(year, Range(mean, 0, high), Range(mean / 1000, 0, 0), Range(Fraction(2), 2, 2))
        for year, mean, high in ((2031, Fraction(13, 2), 20), (2032, Fraction(0), 0), (2033, Fraction(0), 0))
    )
    found = page(road(by_season=by_seasons(2031, *[Fraction(1, 2)] * 3), loads=loads)).seasons
    assert found is not None
    assert found.heads == ("Season", "kept", "young", "to raise", "places")
    assert [(row.season, row.cells) for row in found.rows] == [
        ("2031", (("50", ""), ("6.5", "0\u201320"), ("<0.1", ""), ("2", ""))),
        ("2032\u20132033", (("50", ""), ("0", ""), ("0", ""), ("2", ""))),
    ]
    assert told(found.lines)[1] == "Drawn 20,000 times; each number of 100 may be off by 1."


def test_plans_that_were_drawn_without_one_that_fails_are_not_certainty() -> None:
    made = page(road(by_season=by_seasons(2027, *[Fraction(0)] * 3, *[Fraction(1)] * 5), half_by=2030))
    assert "more than 99 in 100 plans like this one keep a goal animal by the end of 2034" in words_of(made.now[1])
    assert made.seasons is not None
    assert [row.cells[0][0] for row in made.seasons.rows][2:5] == ["0", ">99", ">99"]


def test_routes_stand_side_by_side_by_the_last_season_that_all_are_looked_at() -> None:
    other = road(replace(project(), stages=project().alternatives[0].stages), horizon=2032, half_by=2029,
                 by_season=by_seasons(2027, *(Fraction(n, 10) for n in (1, 2, 5, 5, 5, 6))), inbreeding=Fraction(0),
                 litters=Fraction(3), loads=())  # fmt: skip
    routes = page(road(), other).routes
    assert routes is not None
    assert routes.names == ("This plan", "A season sooner")
    assert [(row.label, row.values) for row in routes.rows] == [
        ("Half by", ("2031", "2029")),
        ("Of 100 by 2032", ("60", "60")),
        ("Clutches", ("2.5", "3")),
        ("Young to raise", ("4", "0")),
        ("Goal’s parents", ("related, 1/8", "not related")),
    ]
    assert told(routes.others[0].steps) == [
        "Stage 1: Juniper with Flint, in March 2027 at the earliest, because the season of 2027 is the first that is "
        "still to come."
    ]
    assert page().routes is None


def test_the_goal_animals_family_is_told_beside_the_breeders_limit() -> None:
    assert told(page().goal_lines) == [
        "The parents of the goal animal are related, with a coefficient of 1/8. Our own limit is 1/8. The first "
        "animals of a family are taken as not related.",
        "Ancestry, as an expected share: 3/4 Saltby, 1/4 not known, by pedigree.",
    ]
    above = page(relatedness_limit=Fraction(1, 16))
    assert "Our own limit is 1/16, and that is above it." in words_of(above.goal_lines[0])


def test_what_is_taken_for_granted_stands_at_the_end() -> None:
    found = told(page(road(unknown_ages=("flint",))).assumptions)
    assert found[0].startswith("No animal is lost, sold or ill in this sum.")
    assert "We do not know when Flint was born, and take it as old enough." in found
    assert found[-1] == "How a road is worked out."


def test_assumed_months_are_not_used_in_dates() -> None:
    assert "in 2027 at the earliest" in words_of(page(road(assumed_season=True)).now[2])


def test_a_litter_that_could_have_had_the_goal_and_had_not_is_told_with_its_cost() -> None:
    """Juniper and Flint were paired in 2026; the first young that can be the goal are those of 2030."""
    cost = "Juniper and Flint 2026 could have had the goal and did not. "
    assert told(page(_with_goal_in_first_litter(Fraction(1, 3), 0)).wrong)[0] == (
        f"{cost}Now it can come in 2030 at the earliest, 4 years later."
    )
    reached = _with_goal_in_first_litter(Fraction(1, 3), 0, reached=2027, by_season=(), half_by=None)
    assert told(page(reached).wrong)[0] == f"{cost}It came in 2027, 1 year later."


@pytest.mark.parametrize(("expected", "came"), [(Fraction(0), 0), (Fraction(1, 3), 1)])
def test_a_litter_that_could_not_have_the_goal_or_had_it_cost_nothing(expected: Fraction, came: int) -> None:
    assert not any("could have had" in line for line in told(page(_with_goal_in_first_litter(expected, came)).wrong))
