"""Whatever a road comes to, its page says no more than the numbers, and says it in the same plain way."""

import re
from fractions import Fraction

from helpers.random_roads import any_project, lines_of, with_roads, words_of
from helpers.words_of_the_product import grade
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.plans.roads.kinds import StageState
from sitegen.site.projects import ProjectPage, project_page, projects_page
from sitegen.site.road_stages import told_counts
from sitegen.words.numbers import Edge, about_in_100, both_sides, count_text, in_100
from sitegen.words.roads import first_possible, kept_by, told_by_season, told_chance

many = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)

NAMES = ("Sunglow", "Juniper and Flint 2026", "Juniper", "Flint", "Sorrel", "amelanistic", "hypo", "Saltby")


def page_of(made) -> ProjectPage:
    plan, main, other = made
    return project_page(plan, with_roads(plan, main, other)[1])


def sentences(page: ProjectPage) -> list[str]:
    """What we say ourselves; not labels, and not the breeder's words."""
    said = [page.now, page.rivals, page.seasons and page.seasons.lines, page.wrong, page.goal_lines, page.assumptions]
    said += [page.harm, page.routes and [view.steps for view in page.routes.others]]
    for stage in page.stages:
        said += [stage.harm, stage.why, stage.course, stage.looks_note, [wanted.statements for wanted in stage.wanted]]
        said += [[wanted.unseen for wanted in stage.wanted], [wanted.kept for wanted in stage.wanted]]
        said += [[row.luck for row in result.rows] + [result.note] for result in stage.results]
    return [line for part in said if part for line in lines_of(tuple(part) if isinstance(part, list) else part)]


@many
@given(any_project())
def test_there_is_one_denominator_and_no_one_in_so_many(made):
    for text in sentences(page_of(made)):
        assert {"100"} >= set(re.findall(r"\bin (\d{1,3})\b", text)), text
        assert not re.search(r"(?<!than )\b(1|one) in \d", text.lower().replace("about 1 in 100", "")), text


@many
@given(any_project())
def test_none_and_all_are_never_said_in_numbers(made):
    """A chance of none or all is told in other words, so that no number can be rounded to it."""
    for text in sentences(page_of(made)):
        assert not re.search(r"\b(0|100|none|all) in 100\b", text), text
        assert not re.search(r"\b(always|impossible|guaranteed|certainly|will be the goal)\b", text), text


@many
@given(any_project())
def test_what_was_drawn_by_chance_is_never_told_as_none_or_all(made):
    _plan, main, _other = made
    possible = first_possible(main)
    for each, told in zip(main.by_season, told_by_season(main), strict=True):
        early = each.born == 0 and (possible is None or each.season < possible)
        for share in (told.born, told.kept, told.known):
            assert 0 <= share < 1
            assert share > 0 or early


@given(st.integers(1, 10**6), st.fractions(0, 1))
def test_a_drawn_chance_is_told_as_it_is_unless_it_is_none_or_all(runs, chance):
    told = told_chance(chance, runs)
    assert told == chance if 0 < chance < 1 else 0 < told < 1
    if chance in (0, 1):
        assert isinstance(about_in_100(told), Edge)


@many
@given(any_project())
def test_the_chance_that_is_said_is_the_one_that_was_computed(made):
    _plan, main, _other = made
    page = page_of(made)
    text = " ".join(words_of(line) for line in page.now)
    if page.seasons is None:
        assert "in 100" not in text
        return
    chance = kept_by(main, main.horizon)
    if chance == 0:
        assert "None of the" in text
        return
    yes, no = both_sides(chance)
    assert f"{in_100(chance)} plans like this one keep" in text
    assert f"and {count_text(no)} do not" in text
    assert isinstance(yes, Edge) or yes + no == 100  # type: ignore[operator]
    assert "If the animals live and breed as planned" in text


@many
@given(any_project())
def test_a_season_is_named_only_when_half_have_kept_one(made):
    _plan, main, _other = made
    text = " ".join(words_of(line) for line in page_of(made).now)
    named = re.search(r"By the end of (\d{4}), half", text)
    if named:
        assert main.half_by == int(named[1])
        assert main.by_season[int(named[1]) - main.by_season[0].season].kept >= Fraction(1, 2)


@many
@given(any_project())
def test_born_and_proved_are_told_wherever_they_are_another_number(made):
    """Whoever reads "kept" alone may take it for "born"."""
    _plan, main, _other = made
    page = page_of(made)
    if page.seasons is None:
        return
    told = told_by_season(main)
    last = told[-1]
    text = " ".join(words_of(line) for line in page.now)
    assert ("One is born in" in text) == (about_in_100(last.born) != about_in_100(last.kept))
    assert ("proved by then in" in text) == (about_in_100(last.known) != about_in_100(last.kept))
    for share, column in (("born", "born"), ("known", "proved")):
        differs = any(about_in_100(getattr(each, share)) != about_in_100(each.kept) for each in told)
        assert (column in page.seasons.heads) == differs


@many
@given(any_project())
def test_nothing_is_predicted_of_what_is_over(made):
    plan, main, _other = made
    page = page_of(made)
    if main.reached is not None or plan.state == "given up":
        assert (page.seasons, page.odds, page.assumptions, page.routes) == (None, None, (), None)
        assert not any(stage.looks or stage.course or stage.why for stage in page.stages)


@many
@given(any_project())
def test_every_stage_that_is_open_says_why_not_before_and_none_that_is_done(made):
    plan, main, _other = made
    page = page_of(made)
    if main.reached is None and plan.state != "given up":
        for stage, looked in zip(page.stages, main.stages, strict=True):
            assert bool(stage.why) == (looked.state is not StageState.DONE)


@many
@given(any_project())
def test_luck_is_told_with_both_sides_of_its_exact_tail(made):
    _plan, main, _other = made
    counted = [each for stage in main.stages for result in stage.litters for each in told_counts(result)]
    rows = [row for stage in page_of(made).stages for result in stage.results for row in result.rows]
    assert len(rows) == len(counted)
    for row, each in zip(rows, counted, strict=True):
        text = words_of(row.luck)
        tail = min(each.as_few, each.as_many)
        if tail == 0:
            assert "could not come" in text
        elif tail == 1:
            assert "could not have been otherwise" in text
        else:
            yes, no = both_sides(tail)
            assert f"{count_text(yes)} in 100 such clutches" in text.lower()
            assert f" and {count_text(no)} would have" in text
            assert ("none" in text) == (each.came == 0 and each.as_few <= each.as_many), text


@many
@given(any_project())
def test_a_sentence_is_whole(made):
    for text in sentences(page_of(made)):
        assert re.match(r"^[A-Z0-9“].*\.$", text), text
        assert not re.search(r"  |\{|\}|\(\)|\( |,,| ,|\.\.| \.", text), text


@many
@given(any_project())
def test_what_is_said_can_be_read_at_school(made):
    page = page_of(made)
    for part in (page.now, page.assumptions, page.wrong):
        text = " ".join(words_of(line) for line in part)
        for name in NAMES:
            text = text.replace(name, "it")
        assert not text or grade(text) <= 9, (grade(text), text)


@many
@given(any_project())
def test_the_table_has_every_season_once_and_no_number_that_is_rounded_to_none_or_all(made):
    _plan, main, _other = made
    page = page_of(made)
    if page.seasons is None:
        return
    told, seen = told_by_season(main), []
    for row in page.seasons.rows:
        first, _dash, last = row.season.partition("\u2013")
        seen += range(int(first), int(last or first) + 1)
        assert len(row.cells) == len(page.seasons.heads) - 1
        kept = told[int(first) - told[0].season].kept
        assert (row.cells[0][0] in ("0", "100")) == (kept in (0, 1))
    assert seen == [each.season for each in told]


@many
@given(any_project())
def test_the_list_of_projects_says_the_same_as_the_page(made):
    plan, main, other = made
    material, at = with_roads(plan, main, other)
    row = projects_page(at).rows[0]
    assert [words_of(line) for line in row.now] == [words_of(line) for line in page_of(made).now[:2]]
    assert material.roads[plan.id].main is main
