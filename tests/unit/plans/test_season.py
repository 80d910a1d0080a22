"""Who can breed in a season and the next, for which stage, and what stands against it."""

import datetime as dt

import pytest
from helpers.from_text import bound

from sitegen.genetics.loci import Sex
from sitegen.plans.readiness import Hindrance
from sitegen.plans.season import Breeder, Conflict, SeasonPlan, Trouble, season_plan
from sitegen.plans.season_machine import season_json
from sitegen.words.planning import verdict_words

TODAY = dt.date(2026, 10, 31)
SPECIES = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
rest: 1
breeding_age: {female: 30 months, male: 18 months}
breeding_weight: {female: 300 g}
breeding_season: {paired: March, born: July}
loci:
  amel: {inheritance: recessive}
  reedmark: {inheritance: dominant, welfare: {text: Some strike beside their food., source: own records}}
"""
HEAVY = "weights: {2026-09-01: 420 g}"


def animal(name: str, sex: str, born: str = "2020-07-01", more: str = HEAVY) -> str:
    return f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nborn: {born}\nshows: []\n{more}\n"


def litter(name: str, paired: str, dam: str = "juniper", sire: str = "flint") -> str:
    return f"=== litters/{name}/litter.yaml\ndam: {dam}\nsire: {sire}\npaired: {paired}\n"


def project(*stages: str, more: str = "", name: str = "p") -> str:
    lines = "".join(f"  {stage}\n" for stage in stages)
    return f"=== projects/{name}/project.yaml\nspecies: corn-snake\n{more}goal: {{shows: [amel]}}\nstages:\n{lines}"


def planned(text: str, season: int | None = None, today: dt.date = TODAY) -> SeasonPlan:
    return season_plan(bound(SPECIES + text), today, season)


def of(plan: SeasonPlan, name: str) -> Breeder:
    return next(each for each in plan.breeders if each.animal == name)


def reasons(plan: SeasonPlan, name: str) -> list[tuple[int, list[Hindrance]]]:
    return [(verdict.season, list(verdict.reasons)) for verdict in of(plan, name).verdicts]


PAIR = animal("juniper", "female") + animal("flint", "male")


@pytest.mark.parametrize(
    ("today", "season"), [("2026-03-31", 2026), ("2026-04-01", 2027), ("2026-01-01", 2026), ("2026-12-31", 2027)]
)
def test_the_season_is_the_next_one_whose_month_has_not_passed(today: str, season: int) -> None:
    assert planned(PAIR, today=dt.date.fromisoformat(today)).season == season


def test_a_season_may_be_named() -> None:
    assert [verdict.season for verdict in of(planned(PAIR, 2030), "flint").verdicts] == [2030, 2031]


def test_age_counts_on_the_first_day_of_the_month_of_pairing() -> None:
    text = animal("a", "female", "2024-09-01") + animal("b", "female", "2024-09-02") + animal("c", "male", "2026-07-01")
    plan = planned(text)
    assert [each.can for each in of(plan, "a").verdicts] == [True, True]
    assert reasons(plan, "b") == [(2027, [Hindrance.TOO_YOUNG]), (2028, [])]
    assert reasons(plan, "c") == [(2027, [Hindrance.TOO_YOUNG]), (2028, [])]
    assert of(plan, "b").verdicts[0].first == 2028


def test_a_litter_that_failed_is_no_litter_and_may_ask_for_rest() -> None:
    failed = litter("l", "2026-03-20") + "failed: {{date: 2026-06-03, what: {}}}\n"
    text = SPECIES + PAIR
    for what, found in (("slugs", [Hindrance.RESTING]), ("not-gravid", [])):
        plan = season_plan(bound(text + failed.format(what)), TODAY, 2026)
        assert reasons(plan, "juniper") == [(2026, found), (2027, found)]


def test_a_birth_that_is_not_recorded_is_told_and_forbids_nothing() -> None:
    plan = planned(animal("a", "female", "unknown"))
    assert reasons(plan, "a")[0] == (2027, [Hindrance.NO_BIRTH])
    assert of(plan, "a").verdicts[0].can


def test_the_last_weighing_counts_now_and_is_a_condition_later() -> None:
    plan = planned(animal("a", "female", more="weights: {2024-05-01: 380 g, 2026-09-01: 291 g}"))
    assert reasons(plan, "a") == [(2027, [Hindrance.TOO_LIGHT]), (2028, [Hindrance.MUST_GAIN])]
    assert [each.can for each in of(plan, "a").verdicts] == [False, True]
    assert (of(plan, "a").weight.grams, str(of(plan, "a").weight.on), of(plan, "a").weight.asked) == (
        291, "2026-09-01", 300,
    )  # fmt: skip
    assert reasons(planned(animal("a", "female", more="weights: {2026-09-01: 291 g}"), 2028), "a")[0] == (
        2028, [Hindrance.MUST_GAIN],
    )  # fmt: skip


def test_a_weight_is_asked_of_the_sex_that_has_a_bound() -> None:
    plan = planned(animal("a", "female", more="") + animal("b", "male", more="weights: {2026-09-01: 80 g}"))
    assert reasons(plan, "a")[0] == (2027, [Hindrance.NO_WEIGHT])
    assert of(plan, "a").verdicts[0].can
    assert reasons(plan, "b")[0] == (2027, [])


def test_a_dam_rests_and_a_sire_does_not() -> None:
    plan = planned(PAIR + litter("l", "2026-03-10"))
    assert reasons(plan, "juniper") == [(2027, [Hindrance.RESTING]), (2028, [])]
    assert reasons(plan, "flint") == [(2027, []), (2028, [])]
    assert of(plan, "juniper").last == ("l", 2026)


def test_a_dam_with_a_litter_of_the_season_has_had_hers() -> None:
    plan = planned(PAIR + litter("l", "2026-03-10"), 2026)
    assert reasons(plan, "juniper") == [(2026, [Hindrance.HAS_LITTER]), (2027, [Hindrance.RESTING])]


@pytest.mark.parametrize("more", ["died: 2026-05-01", "offer: {state: sold, since: 2026-05-01}"])
def test_who_is_gone_is_not_listed(more: str) -> None:
    assert [each.animal for each in planned(animal("a", "female", more=more)).breeders] == []


def test_an_animal_on_offer_is_counted_and_listed_only_where_it_is_promised() -> None:
    offered = animal("a", "female", more=f"{HEAVY}\noffer: {{state: available, since: 2026-05-01}}")
    plan = planned(offered + animal("flint", "male"))
    assert ([each.animal for each in plan.breeders], plan.on_offer) == (["flint"], 1)
    plan = planned(offered + animal("flint", "male") + project("only: {season: 2027, dam: a, sire: flint}"))
    assert ([each.animal for each in plan.breeders], plan.on_offer) == (["a", "flint"], 0)
    assert [(each.trouble, each.grave) for each in plan.conflicts] == [(Trouble.OFFERED, False)]


def test_an_unknown_sex_is_told_by_the_promise() -> None:
    text = animal("a", "unknown") + animal("b", "unknown") + animal("flint", "male")
    plan = planned(text + project("only: {season: 2027, dam: a, sire: flint}"))
    assert of(plan, "a").sex is Sex.FEMALE
    assert plan.sexless == 1


def test_stages_that_an_animal_serves_main_roads_before_alternatives() -> None:
    text = PAIR + animal("fennel", "female")
    other = "alternatives: {b: {stages: {x: {season: 2027, dam: fennel, sire: flint}}}}\n"
    plan = planned(text + project("only: {season: 2027, dam: juniper, sire: flint}") + other)
    assert [(each.stage, each.route) for each in of(plan, "flint").serves] == [("only", ""), ("x", "b")]
    assert [each.stage for each in of(plan, "flint").promised] == ["only"]
    assert of(plan, "fennel").promised == ()
    assert plan.conflicts == ()


def troubles(text: str, season: int | None = None) -> list[tuple[str, int, Trouble]]:
    return [(each.animal, each.season, each.trouble) for each in planned(text, season).conflicts]


def test_a_male_of_two_stages_in_a_season_is_told() -> None:
    text = PAIR + animal("fennel", "female")
    stages = ("a: {season: 2027, dam: juniper, sire: flint}", "b: {season: 2027, dam: fennel, sire: flint}")
    assert troubles(text + project(*stages)) == [("flint", 2027, Trouble.SIRE_OF_SEVERAL)]
    stages = (stages[0], stages[1].replace("2027", "2028"))
    assert troubles(text + project(*stages)) == []


def test_a_female_of_two_projects_in_a_season_is_told() -> None:
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    found = troubles(PAIR + project(only) + project(only, name="q"))
    assert ("juniper", 2027, Trouble.DAM_OF_SEVERAL) in found


def test_a_female_without_rest_is_told_with_what_came_before() -> None:
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    (conflict,) = planned(PAIR + litter("l", "2026-03-10") + project(only)).conflicts
    assert isinstance(conflict, Conflict)
    assert (conflict.trouble, conflict.litters, conflict.grave) == (Trouble.NO_REST, ("l",), True)
    assert troubles(PAIR + litter("l", "2026-03-10") + project(only, more="rest: 0\n")) == []
    again = project(only.replace("2027", "2028"), name="q")
    assert troubles(PAIR + project(only) + again) == [("juniper", 2028, Trouble.NO_REST)]


def test_a_promised_animal_that_is_too_young_too_light_or_gone() -> None:
    only = project("only: {season: 2027, dam: juniper, sire: flint}")
    flint = animal("flint", "male")
    young, light = (
        animal("juniper", "female", "2025-07-01"),
        animal("juniper", "female", more="weights: {2026-09-01: 291 g}"),
    )
    sold = animal("juniper", "female", more="offer: {state: sold, since: 2026-08-01}")
    assert troubles(young + flint + only) == [("juniper", 2027, Trouble.TOO_YOUNG)]
    assert troubles(light + flint + only) == [("juniper", 2027, Trouble.TOO_LIGHT)]
    assert troubles(sold + flint + only) == [("juniper", 2027, Trouble.GONE)]


def test_projects_that_are_not_under_way_promise_nobody() -> None:
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    plan = planned(PAIR + project(only, more="state: given up\n"))
    assert of(plan, "juniper").serves == ()


def test_kept_young_that_have_a_record_serve_by_themselves() -> None:
    first = "first: {season: 2024, dam: juniper, sire: flint, litters: [l], keep: {sons: {animals: l/01}}}"
    second = "second: {season: 2027, dam: juniper, sire: first.sons}"
    young = litter("l", "2024-03-10") + 'born: 2024-07-10\nyoung: {"01": {sex: male, shows: []}}\n'
    assert [each.stage for each in of(planned(PAIR + young + project(first, second)), "l/01").serves] == ["second"]


def test_a_look_with_a_welfare_note_is_told() -> None:
    plan = planned(animal("a", "male").replace("shows: []", "shows: [reedmark]") + animal("b", "male"))
    assert [each.harms for each in plan.breeders] == [("reedmark",), ()]


def test_assumed_months_are_told() -> None:
    collection = bound(SPECIES.replace("breeding_season: {paired: March, born: July}\n", "") + PAIR)
    assert season_plan(collection, TODAY).assumed == ("corn-snake",)


def test_the_machine_form_holds_the_same() -> None:
    plan = planned(PAIR + litter("l", "2026-03-10") + project("only: {season: 2027, dam: juniper, sire: flint}"))
    found = season_json(plan)
    assert found["seasons"] == [2027, 2028]
    assert found["conflicts"] == [
        {
            "animal": "juniper", "season": 2027, "what": "no rest", "grave": True,
            "stages": [{"project": "p", "stage": "only", "season": 2027}], "litters": ["l"],
        }
    ]  # fmt: skip
    assert found["animals"]["juniper"] == {
        "species": "corn-snake",
        "sex": "female",
        "seasons": {
            "2027": {"can": False, "reasons": ["resting"], "from": 2028},
            "2028": {"can": True, "reasons": []},
        },
        "serves": [{"project": "p", "stage": "only", "season": 2027}],
        "weight": {"grams": 420, "on": "2026-09-01"},
        "breeding_weight": 300,
        "last_litter": {"litter": "l", "season": 2026},
    }


def test_a_stage_that_is_bred_again_is_promised_for_when_its_dam_has_rested() -> None:
    young = litter("l", "2026-03-10") + 'born: 2026-07-10\nyoung: {"01": {sex: male, shows: []}}\n'
    only = "only: {season: 2026, dam: juniper, sire: flint, litters: [l], keep: {d: {shows: [amel]}}}"
    plan = planned(PAIR + young + project(only))
    assert [each.season for each in of(plan, "juniper").serves] == [2028]
    assert plan.conflicts == ()


def test_a_litter_on_the_way_keeps_the_promise_of_its_season() -> None:
    only = "only: {season: 2026, dam: juniper, sire: flint, litters: [l], keep: {d: {shows: [amel]}}}"
    plan = planned(
        PAIR + litter("l", "2026-03-10") + "expected: 2026-07-10\n" + project(only), 2026, dt.date(2026, 3, 20)
    )
    assert of(plan, "juniper").serves == ()
    assert reasons(plan, "juniper")[0] == (2026, [Hindrance.HAS_LITTER])


def test_of_two_branches_one_comes_true_so_both_may_count_on_one_animal() -> None:
    herd = PAIR + animal("sage", "female")
    first = "first: {season: 2027, dam: juniper, sire: flint, tries: 1, keep: {a: {carries: [amel]}}, else: {b: {}}}"
    one = "one: {season: 2030, dam: sage, sire: first.a}"

    def conflicts(*stages: str, season: int = 2030) -> list[tuple[str, int, Trouble]]:
        plan = planned(herd + project(first, *stages), season)
        return [(each.animal, each.season, each.trouble) for each in plan.conflicts]

    assert conflicts(one, "two: {season: 2030, dam: sage, sire: first.b}") == []
    assert conflicts(one, "two: {season: 2031, dam: sage, sire: first.b}") == []
    assert conflicts(one, "two: {season: 2030, dam: sage, sire: flint}") == [("sage", 2030, Trouble.DAM_OF_SEVERAL)]
    assert conflicts(one, "two: {season: 2031, dam: sage, sire: flint}") == [("sage", 2031, Trouble.NO_REST)]


def test_too_young_is_told_until_the_age_also_where_the_weight_takes_longer() -> None:
    light = animal(
        "a", "female", "2025-07-01", "weights: {2025-08-16: 8 g, 2026-03-14: 46 g, 2026-06-20: 74 g, 2026-09-12: 103 g}"
    )
    verdict = of(planned(light), "a").verdicts[0]
    assert (verdict.until[Hindrance.TOO_YOUNG], verdict.first > 2028) == (2028, True)
    assert verdict_words(verdict) == "no: too young until 2028"
