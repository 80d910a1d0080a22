"""What a DNA test is worth, against the exact optimum on either outcome."""

from decimal import Decimal
from fractions import Fraction

import pytest
from helpers.exact_room import exact
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.content.prices import Money
from sitegen.content.wishes import WishedTests
from sitegen.plans.room.plan import plan_room

P = goal_of("P", "amel", count=2)
"""The sire is one already."""
TESTS = WishedTests(Money(Decimal(60), "EUR"), {SPECIES: ("amel",)})


ROOMS = {
    "one of two dams": (
        ["fern f stated: {amel: 50%}", "sage f stated: {amel: 50%}", "clove m shows: [amel]"], P, 2026,
    ),
    "a second try": (
        ["fern f stated: {amel: 50%}", "sage f stated: {amel: 1/4}", "clove m shows: [amel]"], P, 2027,
    ),
    "a sire in doubt": (
        ["fern f shows: [amel]", "clove m stated: {amel: 1/3}", "thyme m stated: {amel: 1/3}"],
        P, 2027,
    ),
    "nothing to choose": (["fern f stated: {amel: 50%}", "clove m shows: [amel]"], P, 2026),
}  # fmt: skip
SNAKE = "litter_size: {low: 2, usual: 2, high: 2}\nbreeding_age: {female: 60 months, male: 60 months}\ntakes: 4/5\n"


@pytest.mark.parametrize("name", ROOMS)
def test_the_worth_is_that_of_the_exact_optimum(name: str) -> None:
    animals, goal, last = ROOMS[name]
    asked, wishes = asked_of(*animals, species=SNAKE), wishes_of(goal, last=last, tests=TESTS)
    plan = plan_room(asked, SPECIES, wishes, AS_OF)
    best = exact(asked, SPECIES, wishes, AS_OF).best
    assert plan.tests
    for told in plan.tests:
        informed = Fraction(0)
        for genotype, chance in asked.posterior(told.animal, "amel").items():
            line = f"tests: [{{locus: amel, result: {'/'.join(genotype)}}}]"
            known = [f"{each}; {line}" if each.startswith(f"{told.animal} ") else each for each in animals]
            informed += chance * exact(asked_of(*known, species=SNAKE), SPECIES, wishes, AS_OF).best
        assert told.worth == pytest.approx(float(informed - best), abs=4 * told.error + 0.005)
        assert (told.price, told.locus) == (60, "amel")
    if name != "nothing to choose":
        assert max(each.worth for each in plan.tests) > 0.05
    else:
        assert [each.worth for each in plan.tests] == [0]
    if name == "one of two dams":
        by_hand = 1 / 2 * 1 / 2 * 4 / 5 * (1 - (1 / 2) ** 2)
        assert all(each.worth == pytest.approx(by_hand, abs=4 * each.error) for each in plan.tests)


def test_only_animals_in_doubt_at_a_gene_that_bears_on_a_goal_are_tested_and_only_with_a_price() -> None:
    asked = asked_of(
        "fern f stated: {amel: 50%, anery: 50%}", "sage f stated: {amel: certain}", "clove m shows: [amel]"
    )
    all_loci = WishedTests(TESTS.price, {SPECIES: ("amel", "anery")})
    plan = plan_room(asked, SPECIES, wishes_of(P, last=2026, tests=all_loci), AS_OF, effort=0.1)
    assert [(each.animal, each.locus) for each in plan.tests] == [("fern", "amel")]
    assert plan_room(asked, SPECIES, wishes_of(P, last=2026), AS_OF, effort=0.1).tests == ()
