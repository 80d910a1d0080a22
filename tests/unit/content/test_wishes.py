"""``plan.yaml``: limits and wishes."""

import dataclasses
from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound, told

from sitegen.content.collection import latest_date
from sitegen.content.projects import Goal
from sitegen.content.wishes import Wishes, open_goals
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex

RECORDS = f"""{CORN}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020-07-14
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-08-01
=== projects/ladder/project.yaml
species: corn-snake
goal: {{shows: [amel]}}
=== projects/steps/project.yaml
species: corn-snake
state: reached
goal: {{shows: [amel]}}
"""


def wishes(text: str) -> Wishes:
    found = bound(f"{RECORDS}\n=== plan.yaml\n{text}").wishes
    assert found is not None
    return found


def faults(text: str) -> list[tuple[Kind, str]]:
    found = [each for each in told(f"{RECORDS}\n=== plan.yaml\n{text}") if each.place.file == "plan.yaml"]  # type: ignore[union-attr]
    return [(each.kind, each.message) for each in found]


def test_without_a_plan_there_are_no_wishes_and_open_projects_are_goals() -> None:
    collection = bound(RECORDS)
    assert collection.wishes is None
    assert [(goal.id, goal.weight, goal.count) for goal in open_goals(collection.projects)] == [("ladder", 1, 1)]


def test_an_empty_plan_limits_nothing() -> None:
    assert wishes("{}") == Wishes()


def test_every_limit_is_read() -> None:
    found = wishes(
        "season: 2027\nlast: 2029\nlitters: 3\nkeep: 2\nplaces: 18\nsooner: true\nwithout: [juniper]\n"
        "relatedness: 1/8\ntests: {price: 60 EUR, loci: [amel]}\nbudget: 400 EUR\n"
    )
    assert (found.season, found.last, found.litters, found.keep, found.places) == (2027, 2029, 3, 2, 18)
    assert (found.sooner, found.without, found.relatedness) == (True, ("juniper",), Fraction(1, 8))
    assert found.tests is not None
    assert (found.tests.price.amount, found.tests.loci) == (60, {"corn-snake": ("amel",)})
    assert found.budget is not None
    assert found.budget.amount == 400
    assert found.season_place == Place("plan.yaml", 1, 9)


def test_places_may_be_written_by_species() -> None:
    found = wishes("places: {corn snake: 12}")
    assert (found.places, found.places_by_species) == (None, {"corn-snake": 12})


def test_a_goal_is_a_project_with_its_weight_or_has_looks_of_its_own() -> None:
    found = wishes(
        "goals:\n  ladder: 3\n  steps: {weight: 1/2, count: 2}\n"
        "  hidden: {shows: [motley], carries: [amel], count: 4}\n"
    )
    ladder, steps, hidden = found.goals
    assert (ladder.project, ladder.goal.shows, ladder.weight, ladder.count) == ("ladder", ("amel",), 3, 1)
    assert (steps.project, steps.weight, steps.count) == ("steps", Fraction(1, 2), 2)
    assert (hidden.id, hidden.species, hidden.project, hidden.count) == ("hidden", "corn-snake", "", 4)
    assert hidden.goal == Goal(("motley",), ("amel",))
    assert hidden.weight == 1


def test_an_animal_to_buy_is_a_founder_with_its_own_evidence() -> None:
    found = wishes("buy: [{species: corn-snake, shows: [motley], stated: {amel: 66%}, sex: male, born: 2025}]")
    (one,) = found.buy
    assert one.price is None
    assert (one.animal.id, one.animal.sex, str(one.animal.born)) == ("buy 1", Sex.MALE, "2025")
    (genes,) = one.animal.genes
    assert [seen.look for seen in genes.judged.seen] == ["motley"]
    assert genes.stated[0].odds == {("+", "+"): Fraction(1, 3), ("+", "amel"): Fraction(2, 3)}


def test_odds_by_genotype_may_stand_beside_a_look_that_they_allow() -> None:
    odds = "{amel/amel: 1}"
    assert faults(f"buy: [{{species: corn-snake, shows: [amel], stated: {{amel: {odds}}}, sex: male}}]") == []


def test_a_stated_word_leaves_other_alleles_of_a_series_open() -> None:
    bought = "buy: [{species: corn-snake, shows: [motley], stated: {stripe: certain}, sex: male}]"
    assert faults(bought) == []


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("litters: 0", Kind.VALUE_WRONG),
        ("places: [3]", Kind.VALUE_WRONG),
        ("season: 27", Kind.VALUE_WRONG),
        ("goals: [ladder]", Kind.VALUE_WRONG),
        ("goals: {ladder: much}", Kind.VALUE_WRONG),
        ("goals: {ladder: 0}", Kind.VALUE_WRONG),
        ("goals: {lader: 1}", Kind.GOAL_UNKNOWN),
        ("without: [juniper, juniper]", Kind.ID_TWICE),
        ("season: 2030\nlast: 2029", Kind.DATE_IMPOSSIBLE),
        ("relatedness: none", Kind.VALUE_WRONG),
        ("budget: much", Kind.PRICE_WRONG),
        ("tests: {price: 60 EUR}", Kind.KEY_MISSING),
        ("buy: [{species: corn-snake, sex: male, shows: [amel], stated: {amel: certain}}]", Kind.EVIDENCE_CLASH),
        ("buy: [" + ", ".join(["{species: corn-snake, sex: male}"] * 13) + "]", Kind.VALUE_WRONG),
    ],
)
def test_what_cannot_be_is_told_once(text: str, kind: Kind) -> None:
    assert [found for found, _ in faults(text)] == [kind]


def test_a_limit_of_the_site_holds_where_the_plan_names_none() -> None:
    records = f"=== site.yaml\nname: S\nformat: 2\nrelatedness_limit: 1/4\n{RECORDS}"
    found = [bound(f"{records}\n=== plan.yaml\n{text}").wishes for text in ("{}", "relatedness: 1/8")]
    assert [each.relatedness for each in found if each] == [Fraction(1, 4), Fraction(1, 8)]


def test_the_plan_is_no_part_of_the_day_of_the_records() -> None:
    with_plan = bound(f"{RECORDS}\n=== plan.yaml\nseason: 2099\nbuy: [{{species: corn-snake, sex: male, born: 2098}}]")
    assert latest_date(with_plan) == latest_date(bound(RECORDS))
    assert dataclasses.replace(with_plan, wishes=None) == bound(RECORDS)


def test_a_budget_without_a_price_is_told() -> None:
    animal = "buy: [{species: corn-snake, sex: female, shows: [amel]%s}]\n"
    ((kind, message),) = faults(f"budget: 400 EUR\n{animal % ''}")
    assert (kind, "no animal under buy has a price" in message) == (Kind.PRICE_WRONG, True)
    assert not faults(f"budget: 400 EUR\n{animal % ', price: 90 EUR'}")
