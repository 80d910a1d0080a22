"""Projects, their stages and dated notes."""

import datetime as dt
from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound, told

from sitegen.content.collection import latest_date
from sitegen.content.projects import Goal
from sitegen.content.values import PartialDate
from sitegen.findings import Kind

PAIR = """
=== animals/juniper/animal.yaml
species: corn-snake
=== animals/flint/animal.yaml
species: corn-snake
=== litters/2024-juniper-flint/litter.yaml
dam: juniper
sire: flint
young: {"06": }
"""
BY_NAME = """
=== projects/ladder/project.yaml
name: Ladder
species: corn-snake
state: Under way
started: 2023-11
goal: {shows: [snow, striped motley], carries: [hypo, snow]}
stages:
  first:
    season: 2024
    dam: juniper
    sire: flint
    litters: [2024-juniper-flint]
    keep:
      daughters: {shows: [], carries: [amel], count: 2, sex: female, animals: [2024-juniper-flint/06]}
  second: {season: 2027, dam: first.daughters, sire: flint, keep: {goal: }}
=== projects/ladder/updates/2024-07-20-two-reds.md
# Two reds

Both are out.
=== projects/ladder/updates/2023-12-01 plan.md
A plan without a heading.
"""


def test_stages_and_holdbacks_by_name() -> None:
    project = bound(CORN + PAIR + BY_NAME).projects["ladder"]
    assert (project.name, project.state, project.started) == ("Ladder", "under way", PartialDate(2023, 11))
    assert project.goal == Goal(("amel", "anery", "striped-motley"), ("hypo", "amel", "anery"))
    first, second = project.stages
    assert (first.id, first.season, first.litters) == ("first", 2024, ("2024-juniper-flint",))
    (kept,) = first.keep
    assert (kept.id, kept.carries, kept.count, kept.sex) == ("daughters", ("amel",), 2, "female")
    assert kept.animals == ("2024-juniper-flint/06",)
    assert second.dam == "first.daughters"
    assert [(entry.id, entry.count, entry.sex) for entry in second.keep] == [("goal", 1, "")]


def test_stages_and_holdbacks_as_lists() -> None:
    text = (
        "=== projects/ladder/project.yaml\nspecies: corn-snake\ngoal: {shows: [amel]}\nstages:\n"
        "  - {id: first, season: 2024, dam: juniper, sire: flint, keep: [{id: sons, sex: male}]}\n"
        "  - {season: 2026, dam: juniper, sire: first.sons}\n"
    )
    stages = bound(CORN + PAIR + text).projects["ladder"].stages
    assert [(stage.id, stage.sire) for stage in stages] == [("first", "flint"), ("2", "first.sons")]


def test_notes_stand_oldest_first_with_title_and_photos() -> None:
    photos = {"projects__ladder__updates": ("2024-07-20 a.jpg", "2020-01-01.jpg"), "projects__ladder": ("x.jpg",)}
    project = bound(CORN + PAIR + BY_NAME, **photos).projects["ladder"]
    assert [(str(u.date), u.title, u.text.strip()) for u in project.updates] == [
        ("2023-12-01", "Plan", "A plan without a heading."),
        ("2024-07-20", "Two reds", "Both are out."),
    ]
    assert [photo.path for photo in project.updates[1].photos] == ["projects/ladder/updates/2024-07-20 a.jpg"]
    assert [photo.path for photo in project.photos] == ["projects/ladder/x.jpg"]


@pytest.mark.parametrize(
    ("stages", "kind"),
    [
        ("{first: {season: 2024, dam: junipr, sire: flint}}", Kind.ANIMAL_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: zero.sons}}", Kind.STAGE_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: flint, litters: [2024]}}", Kind.LITTER_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: flint, keep: {a: {animals: [x]}}}}", Kind.ANIMAL_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: flint, keep: {a: {shows: [x]}}}}", Kind.GENE_UNKNOWN),
        ("{first: {season: 20, dam: juniper, sire: flint}}", Kind.VALUE_WRONG),
        ("{first: {dam: juniper, sire: flint}}", Kind.KEY_MISSING),
        ("{a b: {season: 2024, dam: juniper, sire: flint}}", Kind.ID_WRONG),
        ("first", Kind.VALUE_WRONG),
    ],
)
def test_a_fault_is_one_finding(stages: str, kind: Kind) -> None:
    text = f"=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {{shows: [amel]}}\nstages: {stages}\n"
    assert [finding.kind for finding in told(CORN + PAIR + text)] == [kind]


WHOLE = """
=== projects/ladder/project.yaml
species: corn-snake
goal: {shows: [amel]}
horizon: 2034
rest: 1
relatedness_limit: 1/8
welfare: We looked at every young of the line for a year.
decisions:
  - {date: 2025-02-01, text: Juniper rests., stage: first}
  - {date: 2024-09, stage: only, text: "Two sons, not one."}
stages:
  first: {season: 2024, dam: juniper, sire: flint, tries: 2, keep: {sons: {carries: [amel]}}}
  second: {season: 2027, dam: juniper, sire: first.sons}
alternatives:
  by-flint:
    about: Sooner.
    stages:
      only: {season: 2026, dam: juniper, sire: flint, keep: {sons: }}
      back: {season: 2028, dam: juniper, sire: only.sons}
"""


def test_what_a_project_may_say_of_its_road() -> None:
    project = bound(CORN + PAIR + WHOLE).projects["ladder"]
    assert (project.horizon, project.rest, project.relatedness_limit) == (2034, 1, Fraction(1, 8))
    assert project.welfare == "We looked at every young of the line for a year."
    assert [stage.tries for stage in project.stages] == [2, None]
    assert [(str(d.date), d.stage, d.text) for d in project.decisions] == [
        ("2024-09", "only", "Two sons, not one."),
        ("2025-02-01", "first", "Juniper rests."),
    ]
    (route,) = project.alternatives
    assert (route.id, route.name, route.about) == ("by-flint", "by flint", "Sooner.")
    assert [(stage.id, stage.dam, stage.sire) for stage in route.stages] == [
        ("only", "juniper", "flint"),
        ("back", "juniper", "only.sons"),
    ]


def test_what_a_project_need_not_say() -> None:
    project = bound(CORN + PAIR + BY_NAME).projects["ladder"]
    assert (project.horizon, project.rest, project.relatedness_limit, project.welfare) == (None, None, None, "")
    assert (project.decisions, project.alternatives) == ((), ())


def test_parents_and_goal_know_their_line() -> None:
    text = BY_NAME.lstrip("\n").splitlines()
    project = bound(CORN + PAIR + BY_NAME).projects["ladder"]
    first, second = project.stages
    assert project.goal.place is not None
    assert [place.line for place in (project.goal.place, first.dam_place, first.sire_place) if place] == [
        text.index(line) for line in text if line.strip().startswith(("goal: {", "dam:", "sire:"))
    ]
    assert second.dam_place is not None
    assert second.dam_place.column == text[second.dam_place.line].index("first.daughters") + 1


def test_the_site_has_a_limit_for_every_project_that_has_none_of_its_own() -> None:
    site = "=== site.yaml\nrelatedness_limit: 6.25%\n"
    assert bound(CORN + PAIR + BY_NAME + site).projects["ladder"].relatedness_limit == Fraction(1, 16)
    assert bound(CORN + PAIR + WHOLE + site).projects["ladder"].relatedness_limit == Fraction(1, 8)


def test_alternatives_may_be_a_list() -> None:
    text = WHOLE.replace("  by-flint:\n    about: Sooner.", "  - id: by-flint\n    name: By Flint\n    about: Sooner.")
    assert [route.name for route in bound(CORN + PAIR + text).projects["ladder"].alternatives] == ["By Flint"]


@pytest.mark.parametrize(
    ("was", "line", "kind", "told_of"),
    [
        ("horizon: 2034", "horizon: 2026", Kind.DATE_IMPOSSIBLE, "before the last stage, which is planned for 2027"),
        ("horizon: 2034", "horizon: 34", Kind.VALUE_WRONG, "34 is not a season"),
        ("relatedness_limit: 1/8", "relatedness_limit: 12", Kind.VALUE_WRONG, '"12" is more than 1'),
        ("rest: 1", "rest: one", Kind.VALUE_WRONG, '"one" is not a whole number'),
        ("tries: 2", "tries: 0", Kind.VALUE_WRONG, "tried in no season"),
        ("stage: first}", "stage: frist}", Kind.STAGE_UNKNOWN, 'no stage "frist"'),
        ("text: Juniper rests., ", "", Kind.KEY_MISSING, 'an entry of decisions has no "text"'),
        ("sire: only.sons", "sire: first.sons", Kind.STAGE_UNKNOWN, '"first.sons" is kept back on another route'),
        ("about: Sooner.", "abuot: Sooner.", Kind.KEY_UNKNOWN, 'an alternative has nothing called "abuot"'),
    ],
)
def test_a_fault_in_what_a_project_says_of_its_road_is_one_finding(
    was: str, line: str, kind: Kind, told_of: str
) -> None:
    assert was in WHOLE
    (finding,) = told(CORN + PAIR + WHOLE.replace(was, line))
    assert finding.kind is kind
    assert told_of in finding.message


def test_a_pairing_that_is_tried_in_no_season_is_one_finding_also_where_its_branch_is_used() -> None:
    stages = (
        "stages:\n  a: {season: 2024, dam: juniper, sire: flint, tries: 0, keep: {g: {shows: [amel]}}, "
        "else: {h: {only: true}}}\n  b: {season: 2027, dam: juniper, sire: a.h}\n"
    )
    (finding,) = told(CORN + HERD.split("stages:")[0] + stages)
    assert (finding.kind, finding.remedy) == (Kind.VALUE_WRONG, "write 1, or leave the line out")


def test_an_alternative_without_stages_is_told() -> None:
    text = "=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {shows: [amel]}\nalternatives: {x: {about: Why}}\n"
    assert [finding.kind for finding in told(CORN + text)] == [Kind.KEY_MISSING]


def test_all_that_is_published_of_a_road_is_read_against_the_evidence() -> None:
    texts = {(text.key, text.text) for text in bound(CORN + PAIR + WHOLE.replace("Sooner.", "A word")).texts}
    wanted = {
        ("decisions", "Juniper rests."),
        ("about", "A word"),
        ("welfare", "We looked at every young of the line for a year."),
    }
    assert wanted <= texts


HERD = """
=== species/kenyan-sand-boa.yaml
name: Kenyan sand boa
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
=== animals/flint/animal.yaml
species: corn-snake
sex: male
=== animals/agate/animal.yaml
species: kenyan-sand-boa
=== litters/2024-juniper-flint/litter.yaml
dam: juniper
sire: flint
young: {"06": {sex: male}}
=== projects/p/project.yaml
species: corn-snake
goal: {shows: [amel]}
stages:
  first:
    {season: 2024, dam: juniper, sire: flint, litters: [2024-juniper-flint],
     keep: {a: {animals: 2024-juniper-flint/06}}}
  second: {season: 2027, dam: juniper, sire: first.a}
"""


def test_a_sound_project_is_no_finding() -> None:
    assert told(CORN + HERD) == []


@pytest.mark.parametrize(
    ("was", "line", "kind", "told_of"),
    [
        ("dam: juniper, sire: flint, l", "dam: flint, sire: flint, l", Kind.SEX_CLASH, "flint is the dam of"),
        ("2027, dam: juniper", "2027, dam: agate", Kind.SPECIES_CLASH, "agate is the dam of stage second"),
        ("{animals:", "{sex: female, animals:", Kind.SEX_CLASH, "06 is kept as first.a and is recorded as male"),
        ("{animals:", "{sex: female, count: 1} #", Kind.SEX_CLASH, "first.a is named as the sire of stage second"),
        ("animals: 2024-juniper-flint/06", "animals: agate", Kind.SPECIES_CLASH, "agate is kept as first.a"),
        ("litters: [2024-juniper-flint]", "litters: []", Kind.PARENTS_CLASH, "not born in a litter of that stage"),
        ("sire: first.a}", "sire: first.a, litters: 2024-juniper-flint}", Kind.PARENTS_CLASH, "sire is flint"),
    ],
)  # fmt: skip
def test_parents_kept_young_and_litters_that_are_not_of_the_stage(
    was: str, line: str, kind: Kind, told_of: str
) -> None:
    assert was in HERD
    text = HERD.replace(was, line)
    if line.endswith("#"):
        text = HERD.replace("{a: {animals: 2024-juniper-flint/06}}", "{a: {sex: female}}")
    found = told(CORN + text)
    assert kind in {finding.kind for finding in found}
    assert any(told_of in finding.message for finding in found), [finding.message for finding in found]


def test_the_same_in_an_alternative() -> None:
    text = "alternatives: {b: {stages: {only: {season: 2026, dam: flint, sire: juniper}}}}\n"
    assert [finding.kind for finding in told(CORN + HERD + text)] == [Kind.SEX_CLASH] * 2


def test_a_decision_counts_for_the_day_of_the_statement() -> None:
    assert latest_date(bound(CORN + HERD + "decisions: [{date: 2025-03-04, text: Why}]\n")) == dt.date(2025, 3, 4)


def test_two_looks_of_one_locus_are_what_both_alleles_show_together() -> None:
    text = "=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {shows: [motley, stripe, amel]}\n"
    assert bound(CORN + text).projects["p"].goal.shows == ("striped-motley", "amel")


def test_two_looks_that_no_animal_shows_together_are_told() -> None:
    text = "=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {shows: [palmetto, super palmetto]}\n"
    assert [finding.kind for finding in told(CORN + text)] == [Kind.EVIDENCE_CLASH]


BRANCHES = """
=== projects/p/project.yaml
species: corn-snake
goal: {{shows: [snow]}}
stages:
  first:
    season: 2027
    dam: juniper
    sire: flint
    tries: {tries}
    keep: {keep}
    else: {otherwise}
    until: {until}
  second: {{season: 2031, dam: {dam}, sire: {sire}}}
"""
FIRST = "{goal: {shows: [snow]}}"
ELSE = "{d: {shows: [amel], only: true, count: 3, at_least: 2}, s: {only: true, animals: ANIMALS}}".replace(
    "ANIMALS", "[]"
)


def branches(
    tries: str = "2",
    keep: str = FIRST,
    otherwise: str = ELSE,
    until: str = "",
    dam: str = "first.d",
    sire: str = "flint",
) -> str:
    return CORN + PAIR + BRANCHES.format(tries=tries, keep=keep, otherwise=otherwise, until=until, dam=dam, sire=sire)


def test_what_is_kept_else_is_read_and_may_be_bred() -> None:
    first, second = bound(branches(sire="first.s")).projects["p"].stages
    assert [(each.id, each.only, each.count, each.at_least) for each in first.otherwise] == [
        ("d", True, 3, 2),
        ("s", True, 1, 1),
    ]
    assert (first.until, second.until, second.otherwise) == ("tries", "tries", ())
    assert [each.id for each in first.holdbacks] == ["goal", "d", "s"]
    assert (second.dam, second.sire) == ("first.d", "first.s")
    assert bound(branches(tries="", until="Else")).projects["p"].stages[0].until == "else"


def test_lists_count_on_so_that_what_is_kept_else_has_a_name_of_its_own() -> None:
    project = bound(branches(keep="[{shows: [snow]}]", otherwise="[{shows: [amel]}, {}]", dam="first.2")).projects["p"]
    assert [each.id for each in project.stages[0].holdbacks] == ["1", "2", "3"]


KEPT = "{d: {animals: [2024-juniper-flint/06]}}"
TWO = "{goal: {shows: [snow], count: COUNT}, more: {shows: [anery]}}"


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        (branches(), []),
        (branches(tries=""), [Kind.BRANCH_WRONG]),
        (branches(tries="", until="else"), []),
        (branches(tries="", otherwise=KEPT), [Kind.BRANCH_WRONG, Kind.PARENTS_CLASH]),  # of no litter; it may go on
        (branches(tries="", keep=KEPT.replace("d:", "goal:"), otherwise=KEPT), [Kind.PARENTS_CLASH] * 2),
        (branches(otherwise=KEPT, sire="first.goal"), [Kind.BRANCH_WRONG, Kind.PARENTS_CLASH]),
        (branches(tries="4"), []),
        (branches(tries="5"), [Kind.DATE_IMPOSSIBLE]),
        (branches(tries="5", until="else"), []),
        (branches(until="goal"), [Kind.VALUE_WRONG]),
        (branches(otherwise="", until="else", dam="juniper"), [Kind.BRANCH_WRONG]),
        (branches(keep=""), [Kind.BRANCH_WRONG]),
        (branches(otherwise="{goal: {}}", dam="juniper"), [Kind.ID_TWICE]),
        (branches(otherwise="{d: {at_least: 0}}"), [Kind.VALUE_WRONG]),
        (branches(otherwise="{d: {at_least: 2}}"), [Kind.VALUE_WRONG]),
        (branches(otherwise="{d: {sex: male}}"), [Kind.SEX_CLASH]),
        (branches(sire="first.goal"), [Kind.BRANCH_WRONG]),
        (branches(keep=TWO.replace("COUNT", "1"), sire="first.goal"), [Kind.BRANCH_WRONG]),
        (branches(keep=TWO.replace("COUNT", "2"), sire="first.goal"), []),
        (branches(keep=TWO.replace("COUNT", "1"), sire="first.more"), []),
        (branches(dam="juniper", sire="first.goal"), [Kind.BRANCH_WRONG]),
        (branches(keep=KEPT.replace("d:", "goal:"), dam="first.goal"), [Kind.PARENTS_CLASH]),
    ],
)
def test_a_branch_that_cannot_come_true_is_told_once(text: str, kinds: list[Kind]) -> None:
    assert [finding.kind for finding in told(text)] == kinds


def test_branches_that_part_early_do_not_meet_again() -> None:
    text = branches().replace("sire: flint}", "sire: flint, keep: {d: {}}}")
    text += "  third: {season: 2034, dam: second.d, sire: first.goal, keep: {d: {}}}\n"
    text += "  fourth: {season: 2036, dam: third.d, sire: flint}\n"
    (finding,) = told(text)
    assert finding.message.startswith("stage third needs first.goal and first.d, which are never there together")
