"""The pages of projects: where one stands, odds beside results, other routes, what went wrong."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.random_roads import by_seasons, lines_of, project, road, with_roads, words_of
from helpers.small_site import small_material

from sitegen.content.projects import Goal, Update
from sitegen.content.values import PartialDate
from sitegen.findings import Place
from sitegen.plans.roads.kinds import Counted, Method, RoadOutlook, Setback, StageState, Waits
from sitegen.site.material import Folio, folio
from sitegen.site.parts import Line
from sitegen.site.projects import ProjectPage, project_page, projects_page, served_lines, stages_of, update_anchor


def page(main: RoadOutlook | None = None, *others: RoadOutlook, **more: object) -> ProjectPage:
    plan = project(**more)
    return project_page(plan, with_roads(plan, main or road(), *others)[1])


def told(lines: tuple[Line, ...]) -> list[str]:
    return [words_of(line) for line in lines]


def hrefs(line: Line) -> list[str]:
    return [span.href for span in line if span.href]


def test_where_a_project_stands_is_one_paragraph_with_what_is_next_and_why() -> None:
    assert told(page().now) == [
        "Under way. The first stage has not yet given all that we want to keep from it.",
        "Stage 1 goes on: Juniper with Flint once more, in March 2027 at the earliest, because the pairing season of "
        "2027 is the first that is still to come.",
        "If the animals live and breed as planned, about 80 in 100 plans like this one have the goal by the end of "
        "2034 and 20 do not.",
        "2031 is the first season by whose end half of such plans are there.",
    ]
    assert page().odds is not None
    assert page().odds.filled == 80  # type: ignore[union-attr]


def test_names_lead_to_their_pages_and_stages_to_their_places() -> None:
    now = page().now[1]
    assert hrefs(now) == ["#stage-first", "../animals/juniper.html", "../animals/flint.html"]
    assert [stage.id for stage in page().stages] == ["stage-first", "stage-second"]


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
        "However many seasons we give it, at most about 90 in 100 such plans get there. The rest use up the seasons "
        "that we mean to try, or hang on an animal that lacks what it should pass on, which nobody can see.",
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
        "Stage 1: Juniper with Flint, in March 2027 at the earliest, because the pairing season of 2027 is the first "
        "that is still to come."
    ]
    assert page().routes is None


def test_decisions_stand_with_their_stage_or_by_themselves() -> None:
    made = page()
    assert [(d.date, d.text) for d in made.stages[0].decisions] == [("August 1, 2026", "We wait a year.")]
    assert [d.text for d in made.decisions] == ["We go on."]


def test_the_road_is_a_picture_and_a_list() -> None:
    made = page()
    assert made.timeline is not None
    assert [(lane.label, [(m.year, m.kind) for m in lane.marks]) for lane in made.timeline.lanes] == [
        ("Stage 1", [(2026, "born"), (2027, "open")]),
        ("Stage 2", [(2028, "planned"), (2030, "open")]),
        ("Goal", [(2030, "open"), (2031, "median")]),
    ]
    assert (made.timeline.first, made.timeline.last) == (2025, 2034)
    assert [(e.year, words_of(e.words)) for e in made.events] == [
        ("2026", "Stage 1, Juniper with Flint: Juniper and Flint 2026, 6 living young."),
        ("from 2027", "Stage 1, Juniper with Flint."),
        ("from 2030", "Stage 2, a female from stage 1 with Flint."),
        ("2031", "Half of such plans have the goal by the end of this season."),
        ("2034", "The last season we look at: about 80 in 100 such plans have the goal by its end."),
    ]


def test_a_goal_that_is_reached_says_with_whom_and_predicts_nothing() -> None:
    first, second = project().stages
    plan = project(stages=(first, replace(second, keep=(replace(second.keep[0], animals=("sorrel",)),))))
    main = road(reached=2026, by_season=(), median=None)
    made = project_page(plan, with_roads(plan, main)[1])
    assert told(made.now) == ["The goal was reached in 2026, with Sorrel."]
    assert (made.chances, made.odds, made.assumptions) == (None, None, ())
    assert made.events[-1].kind == "reached"


def test_a_project_that_was_given_up_says_so_and_predicts_nothing() -> None:
    made = page(state="given up")
    assert told(made.now) == [
        "We gave this project up. What stands here is how far it came; nothing more is expected of it."
    ]
    assert (made.chances, made.odds, made.routes, made.goal_lines) == (None, None, None, ())


def test_a_plan_without_an_answer_gives_no_chances_and_keeps_its_stages() -> None:
    plan = project()
    at = folio(replace(with_roads(plan, road())[0], roads={}), "projects/sun.html")
    made = project_page(plan, at)
    assert told(made.now) == ["The chances of this plan cannot be worked out as its record stands, so we give none."]
    assert next(words_of(stage.pairing) for stage in made.stages) == "Juniper with Flint"
    assert not [line for line in lines_of(made) if "in 100" in line]


def test_a_stage_that_cannot_be_bred_any_more_says_why() -> None:
    main = road()
    dead = replace(main.stages[1], earliest=None, waits=Waits.NEVER, waits_for="")
    made = page(replace(main, stages=(main.stages[0], dead)))
    assert words_of(made.stages[1].why) == "This pairing cannot be made any more as the plan stands."
    assert "Stage 2: This pairing cannot be made any more as the plan stands." in told(made.wrong)


def test_the_goal_animals_family_is_told_beside_the_breeders_limit() -> None:
    assert told(page().goal_lines)[:2] == [
        "The parents of the goal animal are related, with a coefficient of 1/8. Our own limit is 1/8.",
        "Its ancestry, as an expected share: 3/4 Saltby, 1/4 not known, by pedigree.",
    ]
    above = page(relatedness_limit=Fraction(1, 16))
    assert words_of(above.goal_lines[0]).endswith("Our own limit is 1/16, and that is above it.")


def test_the_assumptions_are_plain_words() -> None:
    assert told(page().assumptions) == [
        "No animal is lost, sold or ill in this sum. In life that happens, and then the road is longer.",
        "We keep the first young that look right. What cannot be seen is left to chance; the plan goes on.",
        "Age is part of the sum. Weight is not: a dam that is too light waits, whatever is planned.",
        "Each pairing is taken to give a clutch.",
        "A clutch is taken to have 6 to 28 living young, most often 13.",
        "Where we say most clutches, we mean at least 80 in 100.",
        "Pairing is in March, and the young come in July.",
        "A dam may have young in every season.",
        "Every course that the plan can take was added up; none was left out.",
        "How a road is worked out.",
    ]


def test_assumed_months_are_told_as_assumed_and_not_used_in_dates() -> None:
    made = page(road(assumed_season=True))
    assert "in 2027 at the earliest" in told(made.now)[1]
    assert "We have not written down when this kind is bred. We take March for pairing and July for the young." in told(
        made.assumptions
    )


@pytest.fixture
def site() -> Folio:
    return folio(small_material(), "animals/juniper.html")


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
    assert told(rows[0].now) == told(page().now)


def test_a_litter_that_is_on_its_way_is_told_as_such() -> None:
    plan = project()
    made, _at = with_roads(plan, road())
    unborn = replace(made.collection.litters["2026-x"], born=None, young=(), others=(), laid=PartialDate(2027, 5, 3))
    unborn = replace(unborn, paired=PartialDate(2027, 3, 2))
    records = replace(made.collection, litters={"2026-x": unborn})
    page_made = project_page(plan, folio(replace(made, collection=records), "projects/sun.html"))
    assert told(page_made.now)[1] == (
        "Stage 1 is under way: Juniper and Flint 2026 of Juniper with Flint is still to come (laid May 3, 2027)."
    )
    assert words_of(page_made.stages[0].why) == "Juniper and Flint 2026 is still to come (laid May 3, 2027)."
    assert page_made.stages[0].season == "2027"
    assert next(words_of(e.words) for e in page_made.events) == (
        "Stage 1, Juniper with Flint: Juniper and Flint 2026 is still to come (laid May 3, 2027)."
    )


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


def _with_goal_in_first_litter(expected: Fraction, came: int, **more: object) -> RoadOutlook:
    main = road(**more)
    result = main.stages[0].litters[0]
    goal = Counted("goal", ("amel", "hypo"), "", 6, came, expected, Fraction(9, 10), Fraction(1))
    stage = replace(main.stages[0], litters=(replace(result, counted=(goal,)),))
    return replace(main, stages=(stage, main.stages[1]))


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


def test_the_index_leads_to_what_the_page_has_in_its_order() -> None:
    made = page()
    assert [hrefs(line)[0] for line in made.index] == [
        "#now", "#road", "#stage-first", "#stage-second", "#chances", "#wrong", "#cast", "#assumptions",
    ]  # fmt: skip
    anchors = [hrefs(line)[0] for line in page(state="given up").index]
    assert "#chances" not in anchors
    assert "#assumptions" not in anchors


@pytest.mark.parametrize(("count", "words"), [(5, ""), (6, "6 looks, with their numbers")])
def test_a_table_of_more_than_five_looks_is_folded(count: int, words: str) -> None:
    main = road()
    rows = tuple(replace(main.stages[0].looks[0], chance=Fraction(1, count)) for _ in range(count))
    stage = replace(main.stages[0], looks=rows)
    assert page(replace(main, stages=(stage, main.stages[1]))).stages[0].looks_folded == words
