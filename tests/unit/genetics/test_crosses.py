"""What a pair gives at one locus or linked group."""

from fractions import Fraction

import pytest
from helpers.by_hand import allele, dominant, incomplete, locus, recessive

from sitegen.genetics.crosses import Cross, Share, told_by, wanted_shares
from sitegen.genetics.gametes import Mode, mode_of_group, mode_of_locus
from sitegen.genetics.loci import Genotype, Inheritance, Linkage, Locus, Sex, SexSystem

HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)


def state(mode: Mode, *genotypes: Genotype, sex: Sex | None = None) -> int:
    """The first state with these genotypes."""
    return next(
        number
        for number, (own, each) in enumerate(zip(mode.genotypes, mode.states, strict=True))
        if own == genotypes and each.sex is sex
    )


def certain(at: Locus, dam: Genotype, sire: Genotype) -> Cross:
    mode = mode_of_locus(at)
    return Cross(mode, {(state(mode, dam), state(mode, sire)): Fraction(1)})


def test_two_carriers() -> None:
    cross = certain(recessive("amel"), ("+", "amel"), ("+", "amel"))
    assert cross.young() == {Sex.UNKNOWN: {("+", "+"): QUARTER, ("+", "amel"): HALF, ("amel", "amel"): QUARTER}}
    plain, visual = cross.rows()
    assert (plain.looks, sum(plain.by_sex.values())) == ((), 3 * QUARTER)
    assert sum(plain.carrying["amel"].values()) / sum(plain.by_sex.values()) == Fraction(2, 3)
    assert (visual.looks, sum(visual.by_sex.values()), visual.carrying) == (("amel",), QUARTER, {})


def test_lethal_two_copies_leave_two_to_one_and_fewer_young() -> None:
    """Source: Cuenot (1905), Castle & Little (1910): yellow x yellow gives 2:1 and a quarter fewer young."""
    cross = certain(dominant("yellow", two_copies_lethal=True), ("+", "yellow"), ("+", "yellow"))
    assert cross.young()[Sex.UNKNOWN] == {("+", "+"): Fraction(1, 3), ("+", "yellow"): Fraction(2, 3)}
    assert cross.living_share() == 1 - QUARTER


def test_a_pair_whose_young_cannot_live_is_refused() -> None:
    at = locus("x", allele("x", Inheritance.DOMINANT, two_copies_lethal=True))
    mode = mode_of_locus(at)
    with pytest.raises(ValueError, match="can live"):
        Cross(mode, {(state(mode, ("x", "x")), state(mode, ("x", "x"))): Fraction(1)})


def test_penetrance_splits_a_genotype_between_looks() -> None:
    at = locus("x", allele("x", Inheritance.DOMINANT, penetrance=Fraction(3, 5)))
    plain, shown = certain(at, ("+", "x"), ("+", "+")).rows()
    assert sum(shown.by_sex.values()) == HALF * Fraction(3, 5)
    assert sum(plain.carrying["x"].values()) == HALF * Fraction(2, 5)
    assert shown.carrying == {}


def test_sex_linked_young_differ_by_sex() -> None:
    at = locus("banded", allele("banded"), sex_system=SexSystem.ZW, sex_linked=True)
    mode = mode_of_locus(at)
    dam = state(mode, ("banded", "W"), sex=Sex.FEMALE)
    sire = state(mode, ("+", "+"), sex=Sex.MALE)
    cross = Cross(mode, {(dam, sire): Fraction(1)})
    assert cross.young() == {Sex.FEMALE: {("+", "W"): Fraction(1)}, Sex.MALE: {("+", "banded"): Fraction(1)}}
    back = Cross(mode, {(dam, state(mode, ("+", "banded"), sex=Sex.MALE)): Fraction(1)})
    assert back.young()[Sex.FEMALE] == {("+", "W"): HALF, ("banded", "W"): HALF}
    assert wanted_shares([(back, ["banded"])]) == {HALF: 1}
    assert wanted_shares([(back, ["banded"])], Sex.FEMALE) == {QUARTER: 1}


def test_linked_loci_stay_together() -> None:
    """Source: pr and vg in test cross coupling, r = 305/2839 (Griffiths et al., Introduction to Genetic Analysis)."""
    r = Fraction(305, 2839)
    loci = recessive("pr"), recessive("vg")
    mode = mode_of_group(loci, Linkage(("pr", "vg"), {Sex.FEMALE: (r,), Sex.MALE: (r,)}))
    both = ("", "pr", "vg")
    dam = next(n for n, s in enumerate(mode.states) if {s.first, s.second} == {("", "+", "+"), both})
    sire = next(n for n, s in enumerate(mode.states) if s.first == s.second == both)
    rows = {row.looks: sum(row.by_sex.values()) for row in Cross(mode, {(dam, sire): Fraction(1)}).rows()}
    assert rows == {(): (1 - r) / 2, ("pr", "vg"): (1 - r) / 2, ("pr",): r / 2, ("vg",): r / 2}


def test_shares_keep_the_parents_doubt_apart() -> None:
    at = recessive("amel")
    mode = mode_of_locus(at)
    visual, het, wild = (state(mode, g) for g in (("amel", "amel"), ("+", "amel"), ("+", "+")))
    cross = Cross(mode, {(visual, het): Fraction(2, 3), (visual, wild): Fraction(1, 3)})
    assert wanted_shares([(cross, ["amel"])]) == {HALF: Fraction(2, 3), Fraction(0): Fraction(1, 3)}
    assert wanted_shares([(cross, ["amel"]), (cross, ["amel"])]) == {
        QUARTER: Fraction(4, 9),
        Fraction(0): Fraction(5, 9),
    }
    assert wanted_shares([(cross, ["amel"])], Sex.MALE) == {QUARTER: Fraction(2, 3), Fraction(0): Fraction(1, 3)}


def test_looks_tell_the_alleles_that_every_such_animal_holds() -> None:
    series = locus("ms", allele("motley"), allele("stripe"), compounds={"motley/stripe": "striped motley"})
    assert told_by(series, "striped-motley") == {"motley", "stripe"}
    assert told_by(series, "motley") == {"motley"}
    assert told_by(incomplete("pal", "super pal"), "super-pal") == {"pal"}


def test_where_a_form_does_not_live_the_sexes_differ_in_number_at_every_locus() -> None:
    """Of four kinds of young the males with two copies do not live: two daughters to one son."""
    at = locus(
        "ill",
        allele("ill", Inheritance.DOMINANT, two_copies_lethal=True),
        sex_system=SexSystem.ZW,
        sex_linked=True,
    )
    mode = mode_of_locus(at)
    dam, sire = state(mode, ("ill", "W"), sex=Sex.FEMALE), state(mode, ("+", "ill"), sex=Sex.MALE)
    ill = Cross(mode, {(dam, sire): Fraction(1)})
    third = Fraction(1, 3)
    assert wanted_shares([(ill, [])], Sex.FEMALE) == {2 * third: 1}
    assert wanted_shares([(ill, [])], Sex.MALE) == {third: 1}
    assert wanted_shares([(ill, ["ill"])], Sex.FEMALE) == {third: 1}
    amel = certain(recessive("amel"), ("+", "amel"), ("+", "amel"))
    for crosses in ([(ill, []), (amel, ["amel"])], [(amel, ["amel"]), (ill, [])]):
        assert wanted_shares(crosses, Sex.MALE) == {third * QUARTER: 1}
        assert wanted_shares(crosses, Sex.FEMALE) == {2 * third * QUARTER: 1}
        assert wanted_shares(crosses) == {QUARTER: 1}


def test_parents_of_no_chance_are_left_out() -> None:
    mode = mode_of_locus(recessive("amel"))
    wild, het = state(mode, ("+", "+")), state(mode, ("+", "amel"))
    cross = Cross(mode, {(wild, het): Fraction(1), (het, het): Fraction(0)})
    assert cross.pair() == {(("+", "+"), ("+", "amel")): 1}
    assert cross.shares(["amel"]) == (Share(Fraction(1), (HALF, HALF), (Fraction(0), Fraction(0))),)


def test_looks_that_tell_all_alleles_leave_nothing_to_carry() -> None:
    cross = certain(incomplete("pal", "super pal"), ("+", "pal"), ("+", "pal"))
    rows = {row.looks: row for row in cross.rows()}
    assert [sum(row.by_sex.values()) for row in rows.values()] == [QUARTER, HALF, QUARTER]
    assert all(row.carrying == {} for row in rows.values())
    assert len(rows) == 3


def test_looks_of_both_sexes_sum_to_one_where_the_sex_is_part_of_heredity() -> None:
    at = locus("band", allele("band"), sex_system=SexSystem.ZW, sex_linked=True)
    mode = mode_of_locus(at)
    dam, sire = state(mode, ("band", "W"), sex=Sex.FEMALE), state(mode, ("+", "band"), sex=Sex.MALE)
    rows = Cross(mode, {(dam, sire): Fraction(1)}).rows()
    assert sum(chance for row in rows for chance in row.by_sex.values()) == 1
    assert {row.looks: sum(row.by_sex.values()) for row in rows} == {(): HALF, ("band",): HALF}


def test_pairs_that_can_have_young_share_the_chance_of_those_that_cannot() -> None:
    at = dominant("x", two_copies_lethal=True)
    mode = mode_of_locus(at)
    het, both = state(mode, ("+", "x")), state(mode, ("x", "x"))
    cross = Cross(mode, {(het, het): Fraction(1, 3), (both, both): Fraction(2, 3)})
    assert cross.bearing == Fraction(1, 3)
    assert cross.pairs == {(het, het): 1}
    assert sum(chance for row in cross.rows() for chance in row.by_sex.values()) == 1
