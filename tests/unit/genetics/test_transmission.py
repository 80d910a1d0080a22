from fractions import Fraction

import pytest
from helpers.pedigrees import AUTOSOMAL, DOMINANT, LINKED, PARTING, SEXED, locus, recessive

from sitegen.genetics.gametes import mode_of_group, mode_of_locus
from sitegen.genetics.loci import Allele, Linkage, Locus, Sex, SexSystem
from sitegen.genetics.transmission import Transmission, mask_of, states_in, whole_numbers

HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)
WILD, HET, BOTH = 0, 1, 2


def test_sets_of_states_are_masks() -> None:
    assert mask_of([0, 2]) == 0b101
    assert states_in(0b101) == (0, 2)
    assert states_in(0) == ()


def test_whole_numbers_keep_ratios_and_have_no_common_factor() -> None:
    assert whole_numbers([Fraction(1, 2), Fraction(1, 3), Fraction(0)]) == (3, 2, 0)
    assert whole_numbers([Fraction(4), Fraction(6)]) == (2, 3)
    assert whole_numbers([Fraction(0)]) == (0,)


def test_het_by_het() -> None:
    transmission = Transmission(mode_of_locus(recessive()))
    assert transmission.young(HET, HET) == {WILD: QUARTER, HET: HALF, BOTH: QUARTER}
    assert transmission.young(WILD, BOTH) == {HET: 1}
    assert transmission.living_share(HET, HET) == 1


def test_young_that_do_not_live_are_taken_out_for_each_pair() -> None:
    lethal = locus("dom", Allele("dom", "dom", DOMINANT, two_copies_lethal=True))
    transmission = Transmission(mode_of_locus(lethal))
    assert transmission.young(HET, HET) == {WILD: Fraction(1, 3), HET: Fraction(2, 3)}
    assert transmission.young(WILD, HET) == {WILD: HALF, HET: HALF}
    assert transmission.living_share(HET, HET) == 1 - QUARTER


@pytest.mark.parametrize("at", AUTOSOMAL + SEXED, ids=lambda at: f"{at.id} {at.sex_system}")
def test_living_young_of_every_pair_sum_to_one(at: Locus) -> None:
    mode = mode_of_locus(at)
    transmission = Transmission(mode)
    for dam in mode.of_sex(Sex.FEMALE):
        for sire in mode.of_sex(Sex.MALE):
            assert sum(transmission.young(dam, sire).values()) == 1
            assert 0 < transmission.living_share(dam, sire) <= 1


def test_states_that_no_pair_allows_are_taken_out() -> None:
    transmission = Transmission(mode_of_locus(recessive()))
    everything = mask_of([WILD, HET, BOTH])
    assert transmission.possible(everything, everything, mask_of([BOTH])) == (0b110, 0b110, 0b100)
    assert transmission.possible(mask_of([WILD]), mask_of([WILD]), everything) == (1, 1, 1)
    assert transmission.possible(mask_of([WILD]), everything, mask_of([BOTH])) == (0, 0, 0)


def test_tables_are_row_major_and_carry_the_evidence() -> None:
    transmission = Transmission(mode_of_locus(recessive()))
    dams, sires, young = mask_of([HET]), mask_of([WILD, BOTH]), mask_of([WILD, HET])
    assert transmission.table(dams, sires, young, None) == (1, 1, 0, 1)
    seen = (Fraction(1), Fraction(1, 3), Fraction(0))
    assert transmission.table(dams, sires, young, seen) == (3, 1, 0, 1)


def test_a_parent_that_is_not_recorded_is_averaged_over_its_odds() -> None:
    transmission = Transmission(mode_of_locus(recessive()))
    odds = (Fraction(3, 4), QUARTER, Fraction(0))
    by_hand = {WILD: HALF * Fraction(3, 4) + QUARTER * QUARTER, HET: HALF * Fraction(3, 4) + HALF * QUARTER}
    by_hand[BOTH] = QUARTER * QUARTER
    assert transmission.of_one_parent(HET, odds, Sex.FEMALE) == by_hand
    assert transmission.one_known(mask_of([HET]), odds, 0b111, None, Sex.FEMALE) == (7, 8, 1)


def test_a_recorded_parent_passes_on_by_its_sex() -> None:
    """A sex-linked gene of a dam of a ZW species goes to her sons only, of a sire to both."""
    at = next(each for each in SEXED if each.id == "band" and each.sex_system is SexSystem.ZW)
    mode = mode_of_locus(at)
    transmission = Transmission(mode)

    def young(genotype: tuple[str, str], sex: Sex) -> set[tuple[str, str]]:
        parent = next(n for n, (own,) in enumerate(mode.genotypes) if own == genotype and mode.states[n].sex is sex)
        other = Sex.MALE if sex is Sex.FEMALE else Sex.FEMALE
        odds = tuple(
            Fraction(int(own in (("+", "+"), ("+", "W")) and state.sex is other))
            for (own,), state in zip(mode.genotypes, mode.states, strict=True)
        )
        return {mode.genotypes[state][0] for state in transmission.of_one_parent(parent, odds, sex)}

    assert young(("band", "W"), Sex.FEMALE) == {("+", "W"), ("+", "band")}
    assert young(("band", "band"), Sex.MALE) == {("band", "W"), ("+", "band")}


@pytest.mark.parametrize("at", SEXED, ids=lambda at: f"{at.id} {at.sex_system}")
def test_tables_know_the_dam_from_the_sire(at: Locus) -> None:
    mode = mode_of_locus(at)
    transmission = Transmission(mode)
    dams, sires = mode.of_sex(Sex.FEMALE), mode.of_sex(Sex.MALE)
    young = mode.of_sex(Sex.UNKNOWN)
    table = transmission.table(mask_of(dams), mask_of(sires), mask_of(young), None)
    chances = [transmission.young(dam, sire).get(end, Fraction(0)) for dam in dams for sire in sires for end in young]
    assert table == whole_numbers(chances)


def test_loci_part_in_each_parent_as_often_as_they_do_in_its_sex() -> None:
    mode = mode_of_group(LINKED[0], Linkage(("left", "right"), PARTING))
    number = {frozenset((state.first, state.second)): n for n, state in enumerate(mode.states)}
    wild, both = ("", "+", "+"), ("", "left", "right")
    coupled, plain = number[frozenset((wild, both))], number[frozenset((wild,))]
    parted = number[frozenset((wild, ("", "left", "+")))]
    transmission = Transmission(mode)
    only_plain = tuple(Fraction(int(state == plain)) for state in range(len(mode.states)))
    for sex, pair in ((Sex.FEMALE, (coupled, plain)), (Sex.MALE, (plain, coupled))):
        (r,) = PARTING[sex]
        assert transmission.young(*pair)[parted] == r / 2
        assert transmission.of_one_parent(coupled, only_plain, sex)[parted] == r / 2


def test_young_of_loci_that_part_more_often_in_one_sex_are_counted_from_the_right_parent() -> None:
    """Two linked dominants, two copies of either not living; the dam has both on one chromosome, the sire on two.

    Young live unless both parents pass the first, or both the second: all with an empty gamete of either parent live,
    and those that get the first from one and the second from the other.
    """
    pair = tuple(locus(name, Allele(name, name, DOMINANT, two_copies_lethal=True)) for name in ("left", "right"))
    apart = {Sex.FEMALE: Fraction(1, 10), Sex.MALE: Fraction(1, 4)}
    mode = mode_of_group(pair, Linkage(("left", "right"), {sex: (r,) for sex, r in apart.items()}))
    numbers = {(state.first[1:], state.second[1:]): number for number, state in enumerate(mode.states)}
    together, apart_ = numbers[("+", "+"), ("left", "right")], numbers[("+", "right"), ("left", "+")]
    of_dam = apart[Sex.FEMALE] / 2  # either single one; both or none: the rest
    of_sire = (1 - apart[Sex.MALE]) / 2
    dam_none, sire_none = HALF - of_dam, HALF - of_sire
    living = dam_none + sire_none - dam_none * sire_none + 2 * of_dam * of_sire
    transmission = Transmission(mode)
    assert transmission.living_share(together, apart_) == living
    assert sum(transmission.young(together, apart_).values()) == 1
