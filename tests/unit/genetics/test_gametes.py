from fractions import Fraction

import pytest
from helpers.pedigrees import PARTING, RECESSIVE, any_genotype, locus, recessive

from sitegen.genetics.gametes import Mode, gametes, mode_of_group, mode_of_locus
from sitegen.genetics.loci import Allele, Linkage, Locus, Sex, SexSystem

HALF = Fraction(1, 2)


def sexed(system: SexSystem, parting: Fraction | None = None) -> Locus:
    return locus("band", Allele("band", "band", RECESSIVE), system=system, linked=True, parting=parting)


def number(mode: Mode, first: tuple[str, ...], second: tuple[str, ...]) -> int:
    return next(n for n, state in enumerate(mode.states) if (state.first, state.second) == (first, second))


def test_an_autosomal_locus_has_a_state_for_each_genotype() -> None:
    mode = mode_of_locus(recessive())
    assert [found[0] for found in mode.genotypes] == [("+", "+"), ("+", "amel"), ("amel", "amel")]
    assert not mode.has_sex
    assert gametes(mode, 1, Sex.FEMALE) == gametes(mode, 1, Sex.MALE) == {("", "+"): HALF, ("", "amel"): HALF}
    assert gametes(mode, 2, Sex.MALE) == {("", "amel"): 1}


@pytest.mark.parametrize(
    ("system", "one_copy", "two_copies", "common", "other"),
    [(SexSystem.XY, Sex.MALE, Sex.FEMALE, "X", "Y"), (SexSystem.ZW, Sex.FEMALE, Sex.MALE, "Z", "W")],
)
def test_a_sex_linked_locus_has_one_copy_in_one_sex(
    system: SexSystem, one_copy: Sex, two_copies: Sex, common: str, other: str
) -> None:
    mode = mode_of_locus(sexed(system))
    assert {mode.genotypes[n][0] for n in mode.of_sex(one_copy)} == {("+", other), ("band", other)}
    assert {mode.genotypes[n][0] for n in mode.of_sex(two_copies)} == {("+", "+"), ("+", "band"), ("band", "band")}
    assert len(mode.of_sex(Sex.UNKNOWN)) == 5
    shows = number(mode, (common, "band"), (other, other))
    assert gametes(mode, shows, one_copy) == {(common, "band"): HALF, (other, other): HALF}
    carrier = number(mode, (common, "+"), (common, "band"))
    assert gametes(mode, carrier, two_copies) == {(common, "+"): HALF, (common, "band"): HALF}


def test_a_pseudo_autosomal_locus_parts_from_sex_in_the_one_copy_sex_only() -> None:
    r = Fraction(1, 10)
    mode = mode_of_locus(sexed(SexSystem.XY, r))
    assert len(mode.of_sex(Sex.MALE)) == 4
    on_y = number(mode, ("X", "+"), ("Y", "band"))
    assert gametes(mode, on_y, Sex.MALE) == {
        ("X", "+"): (1 - r) / 2,
        ("X", "band"): r / 2,
        ("Y", "band"): (1 - r) / 2,
        ("Y", "+"): r / 2,
    }
    female = number(mode, ("X", "+"), ("X", "band"))
    assert gametes(mode, female, Sex.FEMALE) == {("X", "+"): HALF, ("X", "band"): HALF}


def test_linked_loci_part_by_the_parents_sex() -> None:
    mode = mode_of_group((recessive("left"), recessive("right")), Linkage(("left", "right"), PARTING))
    coupled = number(mode, ("", "+", "+"), ("", "left", "right"))
    for sex, (r,) in PARTING.items():
        assert gametes(mode, coupled, sex) == {
            ("", "+", "+"): (1 - r) / 2,
            ("", "left", "right"): (1 - r) / 2,
            ("", "+", "right"): r / 2,
            ("", "left", "+"): r / 2,
        }


def test_crossing_over_in_neighbouring_intervals_is_independent() -> None:
    r, q = Fraction(1, 5), Fraction(1, 3)
    loci = (recessive("a"), recessive("b"), recessive("c"))
    mode = mode_of_group(loci, Linkage(("a", "b", "c"), dict.fromkeys((Sex.FEMALE, Sex.MALE), (r, q))))
    whole = number(mode, ("", "+", "+", "+"), ("", "a", "b", "c"))
    found = gametes(mode, whole, Sex.FEMALE)
    assert found["", "a", "+", "c"] == r * q / 2
    assert found["", "a", "b", "+"] == (1 - r) * q / 2
    assert sum(found.values()) == 1


def test_gametes_of_every_state_sum_to_one() -> None:
    for made in (recessive(), sexed(SexSystem.XY), sexed(SexSystem.ZW), sexed(SexSystem.ZW, Fraction(1, 7))):
        mode = mode_of_locus(made)
        for sex in (Sex.FEMALE, Sex.MALE):
            assert all(sum(gametes(mode, state, sex).values()) == 1 for state in mode.of_sex(sex))


def test_a_lethal_genotype_is_not_among_the_living() -> None:
    mode = mode_of_locus(locus("dom", Allele("dom", "dom", RECESSIVE, two_copies_lethal=True)))
    assert mode.living == (True, True, False)
    assert mode.of_sex(Sex.UNKNOWN) == (0, 1)


def test_what_does_not_fit_together_is_refused() -> None:
    left, right = recessive("left"), recessive("right")
    with pytest.raises(ValueError, match="not those of the linkage"):
        mode_of_group((right, left), Linkage(("left", "right"), PARTING))
    band = locus("band", Allele("band", "band", RECESSIVE), odds=any_genotype("band"), system=SexSystem.XY, linked=True)
    with pytest.raises(ValueError, match="all autosomal, all sex-linked"):
        mode_of_group((left, band), Linkage(("left", "band"), PARTING))
    with pytest.raises(ValueError, match="how sex is determined is not known"):
        mode_of_locus(sexed(SexSystem.UNKNOWN))


def test_one_lethal_genotype_of_a_linked_group_is_enough() -> None:
    loci = (locus("dom", Allele("dom", "dom", RECESSIVE, two_copies_lethal=True)), recessive("amel"))
    mode = mode_of_group(loci, Linkage(("dom", "amel"), PARTING))
    for genotypes, alive in zip(mode.genotypes, mode.living, strict=True):
        assert alive == (genotypes[0] != ("dom", "dom"))


@pytest.mark.parametrize("system", [SexSystem.XY, SexSystem.ZW])
def test_linked_loci_that_do_not_hang_on_sex_part_in_both_sexes_of_every_system(system: SexSystem) -> None:
    loci = tuple(locus(name, Allele(name, name, RECESSIVE), system=system) for name in ("left", "right"))
    mode = mode_of_group(loci, Linkage(("left", "right"), PARTING))
    assert mode.parting == {sex: (0, *parting) for sex, parting in PARTING.items()}


def test_what_is_said_of_one_sex_says_nothing_of_the_other() -> None:
    loci = recessive("left"), recessive("right")
    r = Fraction(1, 10)
    mode = mode_of_group(loci, Linkage(("left", "right"), {Sex.FEMALE: (r,)}))
    assert mode.parting == {Sex.FEMALE: (0, r), Sex.MALE: (0, 0)}
    mode = mode_of_group(loci, Linkage(("left", "right"), {Sex.UNKNOWN: (r,)}))
    assert mode.parting == {Sex.FEMALE: (0, r), Sex.MALE: (0, r)}
