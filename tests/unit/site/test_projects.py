"""The pages of projects: where one stands, and what leads there."""

from dataclasses import replace

import pytest
from helpers.random_roads import hrefs, lines_of, page, project, road, told, with_roads, words_of
from helpers.small_site import small_material

from sitegen.content.photo_records import PhotoRecord
from sitegen.content.projects import Goal, Update
from sitegen.content.values import PartialDate
from sitegen.findings import Place
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.site.material import Folio, folio
from sitegen.site.projects import project_page, projects_page, served_lines, stages_of, update_anchor


@pytest.fixture
def site() -> Folio:
    return folio(small_material(), "animals/juniper.html")


def test_names_lead_to_their_pages_and_stages_to_their_places() -> None:
    now = page().now[2]
    assert hrefs(now)[:3] == ["#stage-first", "../animals/juniper.html", "../animals/flint.html"]
    assert [stage.id for stage in page().stages] == ["stage-first", "stage-second"]


def test_how_far_a_project_is_stands_with_its_beginning() -> None:
    assert page().state == "Under way, begun November 1, 2025"
    assert page(started=None, state="planned").state == "Planned"


def test_a_goal_that_is_reached_says_with_whom_and_predicts_nothing() -> None:
    first, second = project().stages
    plan = project(stages=(first, replace(second, keep=(replace(second.keep[0], animals=("sorrel",)),))))
    main = road(reached=2026, by_season=(), half_by=None)
    made = project_page(plan, with_roads(plan, main)[1])
    assert told(made.now) == ["The goal was reached in 2026, with Sorrel."]
    assert (made.seasons, made.odds, made.assumptions) == (None, None, ())


def test_a_project_that_was_given_up_says_so_and_predicts_nothing() -> None:
    made = page(state="given up")
    assert told(made.now) == [
        "We gave this project up. What stands here is how far it came; nothing more is expected of it."
    ]
    assert (made.seasons, made.odds, made.routes, made.goal_lines) == (None, None, None, ())


def test_a_plan_without_an_answer_gives_no_chances_and_keeps_its_stages() -> None:
    plan = project()
    material = with_roads(plan, road())[0]
    made = project_page(plan, folio(replace(material, roads={}), "projects/sun.html"))
    assert told(made.now) == ["This plan rests on animals not shown here, so we give no chances of it."]
    at = folio(replace(material, roads={plan.id: ProjectRoads(None, {}, {})}), "projects/sun.html")
    made = project_page(plan, at)
    assert told(made.now) == ["The chances of this plan cannot be worked out as its record stands, so we give none."]
    assert next(words_of(stage.pairing) for stage in made.stages) == "Juniper with Flint"
    assert not [line for line in lines_of(made) if "in 100" in line]
    tangled = ProjectRoads(None, {}, {}, unanswered=("juniper", "nobody", "flint"))
    made = project_page(
        plan, folio(replace(with_roads(plan, road())[0], roads={plan.id: tangled}), "projects/sun.html")
    )
    assert told(made.now) == [
        "The records leave too much open about Juniper and Flint, so we give no chances of this plan."
    ]


def test_a_photograph_that_cannot_be_shown_leaves_the_page_without_one() -> None:
    made = page(photos=(PhotoRecord("projects/sun/broken.jpg", PartialDate(2026, 8, 1)),))
    assert (made.lead, made.plates) == (None, ())


def test_animals_and_litters_lead_to_the_stages_they_serve(site: Folio) -> None:
    juniper, sorrel = site.collection.animals["juniper"], site.collection.animals["sorrel"]
    assert told(served_lines(juniper, site)) == ["Sunglow: dam of stage 1."]
    assert hrefs(served_lines(juniper, site)[0]) == ["../projects/sun.html", "../projects/sun.html#stage-first"]
    assert served_lines(sorrel, site) == ()
    assert words_of(stages_of(site.collection.litters["2026-x"], site)) == "Sunglow, stage 1"


def test_the_list_of_projects_tells_where_each_stands() -> None:
    plan = project()
    rows = projects_page(with_roads(plan, road())[1]).rows
    assert [(words_of(row.name), row.state, row.odds and row.odds.filled) for row in rows] == [
        ("Sunglow", "Under way", 80)
    ]
    assert told(rows[0].now) == told(page().now)[:2]


def test_a_goal_with_a_known_harm_says_so_beside_the_breeders_note() -> None:
    made = page(goal=Goal(("wobble",)), welfare="We *watch* them.")
    assert made.welfare.text == "We *watch* them."
    assert any("sway" in line for line in lines_of(made.harms))
    assert page().harms == ()


def test_two_notes_of_one_day_and_title_have_places_of_their_own_that_stay_when_a_title_is_mended() -> None:
    day = PartialDate(2026, 7, 20)
    notes = [
        Update(day, "Pips", "Out.", Place(f"projects/sun/updates/2026-07-20-{name}.md")) for name in ("a b", "a-b")
    ]
    anchors = [update_anchor(note) for note in notes]
    assert anchors == ["note-2026-07-20-a_20_b", "note-2026-07-20-a-b"]
    assert update_anchor(replace(notes[0], title="First pips")) == anchors[0]
