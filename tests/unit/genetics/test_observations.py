from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.pedigrees import AUTOSOMAL, DOMINANT, HALF, RECESSIVE, likelihood_of_look, locus, quarter, recessive

from sitegen.genetics.loci import Allele, Genotype, Look, Sex, SexSystem
from sitegen.genetics.observations import (
    all_genotypes,
    background,
    chance_of_showing,
    is_wild,
    looks_of,
    showing_alleles,
    when_not_seen,
    when_seen,
    when_tested,
)

AMEL, PAL, DOM, SERIES = AUTOSOMAL
BAND = locus("band", Allele("band", "band", RECESSIVE), system=SexSystem.ZW, linked=True)


def test_a_recessive_shows_with_two_copies_only() -> None:
    assert when_seen(AMEL, ["amel"]) == {("amel", "amel"): 1}
    assert when_not_seen(AMEL) == {("+", "+"): 1, ("+", "amel"): 1}


def test_what_is_not_always_shown_may_be_there_unseen() -> None:
    shows = Fraction(9, 10)
    assert when_seen(PAL, ["pal"]) == {("+", "pal"): shows}
    assert when_seen(PAL, ["super-pal"]) == {("pal", "pal"): shows}
    assert when_not_seen(PAL) == {("+", "+"): 1, ("+", "pal"): 1 - shows, ("pal", "pal"): 1 - shows}
    assert chance_of_showing(PAL, ("+", "+")) == 0


def test_what_could_not_be_judged_may_be_there() -> None:
    assert when_not_seen(PAL, ["pal"]) == dict.fromkeys(PAL.genotypes(), 1)


@pytest.mark.parametrize("genotype", all_genotypes(SERIES), ids=str)
def test_every_genotype_shows_something_or_nothing(genotype: Genotype) -> None:
    assert sum(looks_of(SERIES, genotype).values()) == 1


def test_a_compound_is_named_by_its_own_look_or_by_both_alleles() -> None:
    assert when_seen(SERIES, ["striped-motley"]) == when_seen(SERIES, ["motley", "stripe"]) == {("motley", "stripe"): 1}


def test_looks_by_sex() -> None:
    assert likelihood_of_look(BAND, "band", Sex.FEMALE) == {("band", "W"): 1}
    assert likelihood_of_look(BAND, "band", Sex.MALE) == {("band", "band"): 1}
    assert likelihood_of_look(BAND, "band") == {("band", "band"): 1, ("band", "W"): 1}
    assert likelihood_of_look(BAND, None, Sex.FEMALE) == {("+", "W"): 1}
    with pytest.raises(KeyError):
        likelihood_of_look(BAND, "no-look")


def test_what_does_not_live_is_not_seen() -> None:
    assert likelihood_of_look(DOM, "dom") == {("+", "dom"): 1}


def test_a_test_leaves_what_it_leaves() -> None:
    assert when_tested([("+", "+"), ("+", "amel")]) == {("+", "+"): 1, ("+", "amel"): 1}


def test_founders_are_wild_type_unless_the_species_says_more() -> None:
    assert background(recessive(), Sex.UNKNOWN) == {("+", "+"): 1}
    assert background(BAND, Sex.FEMALE) == {("+", "W"): 1}
    assert background(BAND, Sex.MALE) == {("+", "+"): 1}
    assert background(recessive(odds=quarter("amel")), Sex.MALE) == quarter("amel")
    assert is_wild(BAND, ("+", "W"))
    assert not is_wild(BAND, ("+", "band"))


@pytest.mark.parametrize(("system", "blank"), [(SexSystem.XY, "Y"), (SexSystem.ZW, "W")])
def test_genotypes_of_either_sex_are_there_in_both_systems(system: SexSystem, blank: str) -> None:
    at = locus("band", Allele("band", "band", RECESSIVE), system=system, linked=True)
    assert when_seen(at, ["band"]) == {("band", "band"): 1, ("band", blank): 1}
    assert is_wild(at, ("+", blank))


def test_a_compound_may_be_unseen_where_one_of_its_alleles_could_not_be_judged() -> None:
    assert when_not_seen(SERIES) == {("+", "+"): 1, ("+", "motley"): 1, ("+", "stripe"): 1}
    unseen = when_not_seen(SERIES, ["motley"])
    assert unseen == {**when_not_seen(SERIES), ("motley", "motley"): 1, ("motley", "stripe"): 1}


@pytest.mark.parametrize("genotype", [("+", "band"), ("band", "W")])
def test_a_look_of_another_name_is_made_by_the_named_alleles(genotype: Genotype) -> None:
    at = replace(BAND, shown={genotype: "smoky"}, looks=(*BAND.looks, Look("smoky", "smoky", "band")))
    assert showing_alleles(at, genotype) == ("band",)
    assert looks_of(at, genotype) == {"smoky": 1}


def test_odds_of_one_sex_say_nothing_of_the_other_where_it_has_another_number_of_copies() -> None:
    odds = {("+", "+"): Fraction(1, 2), ("+", "band"): Fraction(1, 2)}
    assert background(replace(BAND, background={Sex.MALE: odds}), Sex.FEMALE) == {("+", "W"): 1}
    alike = locus("band", Allele("band", "band", RECESSIVE), by_sex={Sex.MALE: odds})
    assert background(alike, Sex.FEMALE) == background(alike, Sex.UNKNOWN) == odds


def test_of_a_compound_in_which_one_allele_hides_the_other_the_seen_one_makes_the_look() -> None:
    at = locus("series", Allele("over", "over", DOMINANT), Allele("under", "under", RECESSIVE, penetrance=HALF))
    assert at.shown[("over", "under")] == "over"
    assert showing_alleles(at, ("over", "under")) == ("over",)
    assert looks_of(at, ("over", "under")) == {"over": 1}
    assert showing_alleles(SERIES, ("motley", "stripe")) == ("motley", "stripe")


def test_of_two_alleles_that_make_a_look_together_the_one_that_shows_less_often_decides() -> None:
    often, seldom = Fraction(9, 10), HALF
    at = locus(
        "series",
        Allele("one", "one", RECESSIVE, penetrance=often),
        Allele("other", "other", RECESSIVE, penetrance=seldom),
    )
    assert chance_of_showing(at, ("one", "other")) == seldom
    assert chance_of_showing(at, ("one", "one")) == often


def test_two_names_together_are_the_compound_alone_and_no_form_of_one_of_them() -> None:
    assert when_seen(SERIES, ["motley", "striped-motley"]) == {}
    assert when_seen(PAL, ["pal", "super-pal"]) == {}
