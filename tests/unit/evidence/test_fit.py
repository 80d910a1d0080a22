"""How well litters fit their parents."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.by_hand import allele, animal, asked_of, litter, locus, recessive, species
from scipy.stats import binomtest

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.fit import Uneven, _worst, uneven_litters
from sitegen.evidence.gather import gather
from sitegen.findings import Kind
from sitegen.genetics.loci import Sex, SexSystem

AMEL = species(recessive("amel"))


def worst(asked: Asked) -> list[Uneven]:
    return [each for kept in asked.evidence.collection.litters.values() for each in _worst(asked, kept)]


def of_hets(young: dict[str, dict[str, object]], others: dict[str, int], dams: str = "certain") -> Asked:
    return asked_of(
        AMEL,
        animal("d", shows="", stated={"amel": dams}),
        animal("s", shows="", stated={"amel": "certain"}),
        litter("L", "d", "s", young, others),
    )


def test_listed_and_counted_young_alike() -> None:
    """Of 12 young of two hets 9 show it. Source of the tail: scipy.stats.binomtest."""
    (found,) = worst(of_hets({"01": {"shows": "amel"}, "02": {"shows": ""}, "03": {}}, {"amel": 8, "": 2}))
    assert (found.look, found.count, found.n_young, found.usual) == ("amel", 9, 12, 3)
    assert float(found.tail) == pytest.approx(binomtest(9, 12, 0.25).pvalue)


def test_a_mixture_over_what_the_parents_may_be() -> None:
    """Ten plain young: the dam carries in (3/4)^10 of as many cases as not; where she does not it is no surprise."""
    (found,) = worst(of_hets({}, {"": 10}, dams="50%"))
    carries = Fraction(3, 4) ** 10 / (1 + Fraction(3, 4) ** 10)
    assert found.look == "amel"
    tail = carries * Fraction(binomtest(0, 10, 0.25).pvalue) + 1 - carries
    assert float(found.tail) == pytest.approx(float(tail))


def test_the_sexes_are_counted_apart() -> None:
    """Twenty visual sons of twenty, of a dam that can only be a carrier on her X: 2 of 2^20."""
    kind = species(locus("band", allele("band"), sex_system=SexSystem.XY, sex_linked=True), sexes=SexSystem.XY)
    sons = {f"{n:02}": {"shows": "band", "sex": Sex.MALE} for n in range(20)}
    daughters = {f"{n:02}": {"shows": "", "sex": Sex.FEMALE} for n in range(20, 40)}
    asked = asked_of(
        kind,
        animal("d", shows="", stated={"band": "50%"}, sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE),
        litter("L", "d", "s", {**sons, **daughters}),
    )
    (found,) = worst(asked)
    assert (found.sex, found.count, found.n_young, found.tail) == (Sex.MALE, 20, 20, Fraction(2, 2**20))
    (told,) = uneven_litters(asked)
    assert told.kind is Kind.LITTER_UNEVEN
    assert "20 of 20 sons" in told.message


def test_one_of_two_sires() -> None:
    """It was the visual one if any young shows it."""
    asked = asked_of(
        AMEL,
        animal("d", shows="", stated={"amel": "certain"}),
        animal("s", shows="amel"),
        animal("t", shows=""),
        litter("L", "d", "s t", {"01": {"shows": "amel"}}, {"amel": 7}),
    )
    (found,) = worst(asked)
    assert (found.usual, found.tail) == (4, Fraction(2, 2**8))
    assert not uneven_litters(asked_of(AMEL, animal("d", shows=""), litter("L", "d", None, {"01": {"shows": ""}})))


def test_a_look_that_was_not_judged_is_not_counted() -> None:
    (found,) = worst(of_hets({"01": {"shows": "", "unsure": "amel"}, "02": {"shows": ""}}, {}))
    assert found.n_young == 1


def test_what_was_confirmed_is_not_told() -> None:
    kept = of_hets({}, {"amel": 15}).evidence.collection
    assert [each.kind for each in uneven_litters(ask(gather(kept)))] == [Kind.LITTER_UNEVEN]
    sure = replace(kept, litters={"L": replace(kept.litters["L"], confirmed=True)})
    assert not uneven_litters(ask(gather(sure)))
