from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import species_of

from sitegen.content.genes import Judged
from sitegen.content.litters import Failed, FailedAs
from sitegen.content.species import Births
from sitegen.content.values import PartialDate
from sitegen.findings import Place
from sitegen.words.pairings import (
    at_least,
    at_least_in_litter,
    chance_for_one,
    failed_sentence,
    lesson,
    litter_counts,
    never_from_pair,
    others_text,
    sires_sentence,
    young_needed,
)
from sitegen.words.speech import plain

CORN = species_of()
BOA = species_of(births=Births.LIVE)
QUARTER = Fraction(1, 4)
LOOKED = Judged((), (), Place("litter.yaml", 1, 1))


def test_one_young_names_both_sides():
    wanted = "One young: about 25 in 100 young from parents like these show amelanistic and motley and 75 do not (1/4)."
    assert wanted == plain(chance_for_one(("amelanistic", "motley"), QUARTER))
    assert "No young of these parents can show amelanistic." == plain(chance_for_one(("amelanistic",), Fraction(0)))
    assert "Every young of these parents shows amelanistic." == plain(chance_for_one(("amelanistic",), Fraction(1)))


def test_at_least_one_is_a_statement_about_litters():
    chance = 1 - (1 - QUARTER) ** 4
    text = plain(at_least(("amelanistic",), 1, 4, chance, CORN))
    wanted = "At least one: about 68 in 100 clutches of 4 have one or more showing amelanistic and 32 do not."
    assert wanted == text
    sure = plain(at_least(("amelanistic",), 1, 4, Fraction(1), BOA))
    assert "At least one: every litter of 4 has one or more showing amelanistic." == sure
    never = plain(at_least(("amelanistic",), 2, 1, Fraction(0), BOA))
    assert "At least two: no litter of 1 can have two or more showing amelanistic." == never


def test_how_many_young_are_needed():
    wanted = "With 9 young, at least one shows hypo with a chance of 90 in 100 or more."
    assert wanted == plain(young_needed(("hypo",), 9, Fraction(9, 10)))
    wanted = "With 18 young, at least two show hypo with a chance of 95 in 100 or more."
    assert wanted == plain(young_needed(("hypo",), 18, Fraction(95, 100), 2))


def test_at_least_so_many_in_a_litter_of_usual_size():
    text = plain(at_least_in_litter(("hypo",), 2, Fraction(3, 4), BOA))
    wanted = (
        "In a litter of usual size (6 to 28 young): about 75 in 100 litters have at least two showing hypo, 25 do not."
    )
    assert wanted == text


def test_a_pair_that_may_not_be_able_to_give_it():
    wanted = (
        "No number of young brings the chance to 90 in 100, because only about 50 in 100 pairs like this one can give "
        "young showing hypo."
    )
    assert wanted == plain(never_from_pair(("hypo",), Fraction(1, 2), Fraction(9, 10)))


def test_what_a_result_would_teach():
    after = Fraction(1, 2) * Fraction(1, 2) ** 7 / (Fraction(1, 2) * Fraction(1, 2) ** 7 + Fraction(1, 2))
    assert (
        "If 7 young show nothing, the chance that she carries hypo falls from about 50 in 100 to fewer than 1 in 100 "
        "(1/129)."
    ) == plain(lesson("she", "hypo", 7, Fraction(1, 2), after))
    assert "If one of 7 young shows it, she carries hypo for certain (about 50 in 100 before)." == plain(
        lesson("she", "hypo", 7, Fraction(1, 2), Fraction(1))
    )
    assert "rises from about 50 in 100 to about 60 in 100 (3/5)." in plain(
        lesson("she", "hypo", 7, Fraction(1, 2), Fraction(3, 5))
    )


def test_counts_use_the_words_of_the_species():
    assert "18 eggs, 2 infertile, 16 hatched alive" == litter_counts(CORN, 16, 18, 2)
    assert "1 stillborn, 9 born alive" == litter_counts(BOA, 9, stillborn=1)
    assert "1 more shows amelanistic" == plain(others_text(1, ("amelanistic",), LOOKED))


@pytest.mark.parametrize(
    ("judged", "told"),
    [
        (LOOKED, "4 more show the normal look"),
        (replace(LOOKED, written=False), "4 more, not described yet"),
        (replace(LOOKED, unsure_all=True), "4 more, not judged yet"),
        (replace(LOOKED, unsure=("hypo",)), "4 more look normal, as far as they could be judged"),
    ],
)
def test_a_look_is_denied_of_young_only_where_it_was_looked_for(judged: Judged, told: str):
    assert told == plain(others_text(4, (), judged))


def test_possible_sires():
    both = (("Flint", Fraction(2, 3)), ("Basalt", Fraction(1, 3)))
    text = plain(sires_sentence(both, each_its_own=False, species=CORN))
    assert "One sire for the clutch: Flint, about 67 in 100; or Basalt, about 33 in 100." == text
    text = plain(sires_sentence(both, each_its_own=True, species=CORN))
    assert text.startswith("Each young may have its own sire: Flint")
    settled = plain(sires_sentence((("Flint", Fraction(1)), ("Basalt", Fraction(0))), each_its_own=False, species=CORN))
    assert "The sire is Flint." == settled


@pytest.mark.parametrize(
    ("what", "dam", "day", "of_eggs", "of_live"),
    [
        ("slugs", "Sage", (2026, 6, 3), "This clutch did not come: Sage laid slugs on June 3, 2026.",
         "This litter did not come: Sage passed slugs on June 3, 2026."),
        ("not-gravid", "Sage", (2026, 6), "This clutch did not come: Sage was not gravid, as we saw in June 2026.",
         "This litter did not come: Sage was not gravid, as we saw in June 2026."),
        ("reabsorbed", "", (2026,), "This clutch did not come: the dam reabsorbed it, as we saw in 2026.",
         "This litter did not come: the dam reabsorbed it, as we saw in 2026."),
        ("stillborn", "Sage", (2026, 6, 3), "None of this clutch lived: the young were stillborn on June 3, 2026.",
         "None of this litter lived: the young were stillborn on June 3, 2026."),
    ],
)  # fmt: skip
def test_what_failed_is_told_in_one_short_sentence(
    what: str, dam: str, day: tuple[int, ...], of_eggs: str, of_live: str
) -> None:
    failed = Failed(date=PartialDate(*day), what=FailedAs(what))
    assert [plain(failed_sentence(failed, dam, species, "en")) for species in (CORN, BOA)] == [of_eggs, of_live]
