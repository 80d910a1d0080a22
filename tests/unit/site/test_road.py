"""The road in pictures: parents, what was kept, the goal."""

from dataclasses import replace

import pytest
from helpers.random_roads import hrefs, page, project, road, told, with_roads, words_of
from helpers.small_site import HERE

from sitegen.content.litters import Failed, FailedAs
from sitegen.content.projects import Goal, Holdback
from sitegen.content.values import PartialDate
from sitegen.site.material import folio
from sitegen.site.parts import Plate
from sitegen.site.projects import ProjectPage, project_page


def _captions(plates: tuple[Plate, ...]) -> list[str]:
    return [words_of(plate.caption) for plate in plates]


def test_the_road_leads_from_parents_by_what_is_kept_to_the_goal() -> None:
    first, second = page().road
    assert (first.when, words_of(first.title), first.state) == ("2026, from 2027", "Stage 1", "begun")
    assert (_captions(first.parents), _captions(first.kept)) == (["Juniper", "Flint"], ["one female"])
    assert told(first.came) == ["6 living young"]
    assert hrefs(first.title) == ["#stage-first"]
    assert hrefs(first.came[0]) == ["../litters/2026-x.html"]
    assert (second.when, _captions(second.parents), _captions(second.kept)) == (
        "from 2030", ["one female", "Flint"], ["the goal"],
    )  # fmt: skip


def test_an_animal_has_its_picture_and_young_that_are_to_come_have_an_empty_plate() -> None:
    first, second = page().road
    assert [plate.picture is None for plate in (*first.parents, *first.kept)] == [False, True, True]
    assert second.parents[0].href == ""


def test_what_was_kept_stands_in_both_places_and_the_goal_is_named() -> None:
    first, second = project().stages
    kept = replace(first, keep=(replace(first.keep[0], animals=("2026-x/02",)),))
    reached = replace(second, keep=(replace(second.keep[0], animals=("sorrel",)),))
    one, two = page(stages=(kept, reached)).road
    assert (_captions(one.kept), _captions(two.parents)) == (["No. 02"], ["No. 02", "Flint"])
    assert [(words_of(plate.caption), plate.note) for plate in two.kept] == [("Sorrel", "the goal")]


def test_the_other_branch_stands_beside_until_the_first_is_filled() -> None:
    first, second = project().stages
    sons = Holdback(id="sons", count=2, sex="male", place=HERE)
    open_ = replace(first, otherwise=(sons,))
    filled = replace(open_, keep=(replace(first.keep[0], animals=("2026-x/02",)),))
    assert _captions(page(stages=(open_, second)).road[0].otherwise) == ["two males"]
    assert page(stages=(filled, second)).road[0].otherwise == ()


def _with_litter(**more: object) -> ProjectPage:
    """The page when the litter of the first stage has not come yet."""
    plan = project()
    made, _at = with_roads(plan, road())
    unborn = replace(made.collection.litters["2026-x"], born=None, young=(), others=(), **more)  # type: ignore[arg-type]
    records = replace(made.collection, litters={"2026-x": unborn})
    return project_page(plan, folio(replace(made, collection=records), "projects/sun.html"))


def test_a_litter_that_is_on_its_way_is_told_as_such() -> None:
    made = _with_litter(paired=PartialDate(2027, 3, 2), laid=PartialDate(2027, 5, 3))
    assert words_of(made.now[2]).startswith(
        "Stage 1 is under way: Juniper and Flint 2026 of Juniper with Flint is still to come (laid May 3, 2027). If "
        "Juniper and Flint 2026 has one female that shows amelanistic, we keep it"
    )
    assert words_of(made.stages[0].why) == "Juniper and Flint 2026 is still to come (laid May 3, 2027)."
    assert made.stages[0].season == "2027"
    assert told(made.road[0].came) == ["a clutch is on its way"]


@pytest.mark.parametrize("what", list(FailedAs))
def test_a_litter_that_failed_ends_the_waiting(what: FailedAs) -> None:
    made = _with_litter(paired=PartialDate(2026, 3, 2), failed=Failed(date=PartialDate(2026, 6, 3), what=what))
    assert told(made.road[0].came) == [f"did not come: {what.value.replace('-', ' ')}"]
    assert words_of(made.now[2]).startswith("Stage 1 goes on: Juniper with Flint once more")


def test_young_that_can_have_a_harm_are_told_in_the_first_line_of_their_stage() -> None:
    """Flint shows wobble, which is dominant: every stage breeds from him."""
    told_first = "Please read first: young of this pairing can show wobble, a gene with a known harm."
    assert [words_of(stage.harm) for stage in page().stages] == [told_first] * 2
    first, _second = project().stages
    assert words_of(page(stages=(replace(first, sire="juniper"),)).stages[0].harm) == ""


def test_a_goal_that_has_a_harm_is_told_in_the_first_line_of_its_page() -> None:
    assert words_of(page(goal=Goal(("wobble",))).harm) == (
        "Please read first: the goal has wobble, a gene with a known harm."
    )
    assert page().harm == ()
