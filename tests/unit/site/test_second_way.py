"""Project pages of roads with a second way: what is folded away, and whose parents are told of."""

from dataclasses import replace
from fractions import Fraction

from helpers.random_roads import by_seasons, page, project, road, told

from sitegen.content.projects import Stage
from sitegen.plans.roads.kinds import Ending, RoadOutlook


def stages(*, branch: bool) -> tuple[Stage, ...]:
    """A daughter back to her sire, planned outright, or only if the first stage does not bring the goal."""
    first, second = project().stages
    (goal,) = second.keep
    return (replace(first, keep=(goal,), otherwise=first.keep) if branch else first, second)


def test_a_stage_of_the_second_way_is_folded_until_it_comes_to_that() -> None:
    assert [stage.over for stage in page(stages=stages(branch=False)).stages] == ["", ""]
    assert [stage.over for stage in page(stages=stages(branch=True)).stages] == [
        "",
        "A female from stage 1 with Flint: what we plan if it comes to that",
    ]


def test_what_is_kept_else_stands_below_what_is_wanted() -> None:
    first, _ = page(stages=stages(branch=True)).stages
    assert [words.split(":")[0] for words in told(tuple(wanted.title for wanted in first.wanted))] == [
        "To keep",
        "To keep if that does not come",
    ]


def test_a_table_of_more_than_eight_seasons_is_folded() -> None:
    for count, folded in ((8, ""), (9, "From 2027 to 2035")):
        shares = [Fraction(n, 10) for n in range(1, count + 1)]
        made = page(road(by_season=by_seasons(2027, *shares))).seasons
        assert made is not None
        assert (len(made.rows), made.folded) == (count, folded)


def test_parents_of_the_goal_are_told_stage_by_stage_where_they_differ() -> None:
    plain = road()
    first, second = plain.stages
    both = (replace(first, ended={Ending.GOAL: Fraction(1, 2)}), second)

    def family(outlook: RoadOutlook) -> list[str]:
        return told(page(outlook).goal_lines)

    assert [each.id for each in plain.bringing] == ["second"]
    assert family(plain)[0].startswith("The parents of the goal animal are related, with a coefficient of 1/8.")
    assert family(replace(plain, stages=both))[0].startswith(
        "The parents of a goal animal of stage 1 are not related as far as our records go. "
        "The parents of a goal animal of stage 2 are related, with a coefficient of 1/8. Our own limit is 1/8."
    )
    routes = page(replace(plain, stages=both), plain).routes
    assert routes is not None
    assert [row.values for row in routes.rows if row.label == "Goal’s parents"] == [
        ("related, up to 1/8", "related, 1/8")
    ]
