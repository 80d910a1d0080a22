"""Carrier odds against published tables and worked examples; the source stands beside each."""

from fractions import Fraction

import pytest
from helpers.pedigrees import (
    ONE,
    RECESSIVE,
    certain,
    joint,
    locus,
    one_copy_odds,
    pair,
    planned,
    recessive,
    with_members,
)

from sitegen.genetics.loci import Allele, Sex, SexSystem
from sitegen.genetics.network import answer
from sitegen.genetics.questions import Member, Observation, Question

AMEL = recessive()
NORMAL = {("+", "+"): ONE, ("+", "amel"): ONE}
VISUAL = certain("amel", "amel")
HET = certain("+", "amel")


def carrier_odds(chance: Fraction) -> dict:
    return {("+", "+"): 1 - chance, ("+", "amel"): chance}


def test_two_in_three_normal_siblings_of_a_recessive_carry_it() -> None:
    # Source: standard text (two teaching sets; Harper, Practical Genetic Counselling, from memory).
    seen = [("visual", Sex.UNKNOWN, VISUAL), ("normal", Sex.UNKNOWN, NORMAL)]
    answers = answer(pair(AMEL, carrier_odds(Fraction(1, 9)), carrier_odds(Fraction(1, 2)), seen))
    assert answers.of("normal") == carrier_odds(Fraction(2, 3))
    assert answers.of("dam") == HET


def after_normal_young(prior: Fraction, n_young: int, mate: dict, listed: bool) -> Fraction:
    young = [(f"y{number}", Sex.UNKNOWN, NORMAL) for number in range(n_young if listed else 0)]
    tallies = [(n_young, NORMAL)] if n_young and not listed else []
    found = answer(pair(AMEL, carrier_odds(prior), mate, young, tallies)).of("dam")
    return found.get(("+", "amel"), Fraction(0))


@pytest.mark.parametrize("listed", [True, False], ids=["listed", "tallied"])
@pytest.mark.parametrize("n_young", [0, 1, 2, 3, 4, 5, 6, 10])
@pytest.mark.parametrize("prior", [Fraction(2, 3), Fraction(1, 2)])
@pytest.mark.parametrize(
    ("mate", "normal"), [(VISUAL, Fraction(1, 2)), (HET, Fraction(3, 4))], ids=["visual mate", "carrier mate"]
)
def test_chance_after_n_normal_young(prior: Fraction, n_young: int, mate: dict, normal: Fraction, listed: bool) -> None:
    # Source: calculated, P = p k^n / (p k^n + 1 - p).
    expected = prior * normal**n_young / (prior * normal**n_young + 1 - prior)
    assert after_normal_young(prior, n_young, mate, listed) == expected


@pytest.mark.parametrize(
    ("prior", "mate", "column"),
    [
        (Fraction(2, 3), VISUAL, ["2/3", "1/2", "1/3", "1/5", "1/9", "1/17", "1/33"]),
        (Fraction(1, 2), VISUAL, ["1/2", "1/3", "1/5", "1/9", "1/17", "1/33", "1/65"]),
        (Fraction(2, 3), HET, ["2/3", "3/5", "9/17", "27/59", "81/209", "243/755", "729/2777"]),
        (Fraction(1, 2), HET, ["1/2", "3/7", "9/25", "27/91", "81/337", "243/1267", "729/4825"]),
    ],
)
def test_the_table_of_test_matings(prior: Fraction, mate: dict, column: list[str]) -> None:
    # Source: calculated exactly from the stated formula; 2/3 to 1/5 also in teaching sets.
    found = [after_normal_young(prior, n_young, mate, listed=False) for n_young in range(7)]
    assert found == [Fraction(text) for text in column]


def test_one_recessive_young_proves_and_no_number_of_normal_ones_disproves() -> None:
    # Source: definition.
    seen = [("visual", Sex.UNKNOWN, VISUAL)]
    assert answer(pair(AMEL, carrier_odds(Fraction(1, 100)), VISUAL, seen)).of("dam") == HET
    assert after_normal_young(Fraction(1, 2), 750, VISUAL, listed=False) == Fraction(1, 2**750 + 1)


def test_ten_normal_offspring_are_not_proof() -> None:
    # Source: (3/4)^10 = 0.0563, Seidenfeld, Carnegie Mellon statistics technical report 675 ("approximately a 5%
    # error"); 0.6291 from Fisher (1936) Annals of Science 1:115-137, from memory.
    selfed = pair(AMEL, HET, HET, [(f"y{number}", Sex.UNKNOWN, None) for number in range(10)])
    all_normal = sum(
        chance
        for genotypes, chance in joint(answer(selfed), [f"y{number}" for number in range(10)]).items()
        if ("amel", "amel") not in genotypes
    )
    assert all_normal == Fraction(3, 4) ** 10
    assert round(Fraction(2, 3) * (1 - all_normal), 4) == Fraction("0.6291")


BAND = locus(
    "band",
    Allele("band", "band", RECESSIVE),
    by_sex=one_copy_odds("band", SexSystem.XY),
    system=SexSystem.XY,
    linked=True,
)


@pytest.mark.parametrize(("n_sons", "carrier"), [(2, Fraction(1, 5)), (3, Fraction(1, 9)), (0, Fraction(1, 2))])
def test_daughter_of_a_carrier_with_unaffected_sons(n_sons: int, carrier: Fraction) -> None:
    # Source: Encyclopaedia Britannica, "Estimating probability: Bayes's theorem" (1/5);
    # Ogino S, Wilson RB (2004) J Mol Diagn 6:1-9, Fig. 1 (three sons; 1/9 in a course note with the same set-up).
    members = [Member("carrier", Sex.FEMALE), Member("father", Sex.MALE), Member("mate", Sex.MALE)]
    members += [Member("daughter", Sex.FEMALE, "carrier", (("father", ONE),))]
    members += [Member(f"son{n}", Sex.MALE, "daughter", (("mate", ONE),)) for n in range(n_sons)]
    members += [Member("granddaughter", Sex.FEMALE, "daughter", (("mate", ONE),))]
    members += [Member("grandson", Sex.MALE, "daughter", (("mate", ONE),))]
    priors = {"carrier": certain("+", "band"), "father": certain("+", "Y"), "mate": certain("+", "Y")}
    seen = tuple(Observation(f"son{n}", {("+", "Y"): ONE}, f"son{n}") for n in range(n_sons))
    answers = answer(Question(BAND, tuple(members), priors, seen))
    assert answers.of("daughter") == {("+", "+"): 1 - carrier, ("+", "band"): carrier}
    assert answers.of("granddaughter")[("+", "band")] == carrier / 2
    assert answers.of("grandson")[("band", "Y")] == carrier / 2


def test_the_next_young_of_the_daughter_shows_it_with_one_in_forty() -> None:
    # Source: as above, the next step from memory: 1/10 for her daughter, 1/40 for that one's next young.
    members = (
        Member("carrier", Sex.FEMALE),
        Member("daughter", Sex.FEMALE, "carrier", (("m", ONE),)),
        Member("m", Sex.MALE),
        Member("son0", Sex.MALE, "daughter", (("m", ONE),)),
        Member("son1", Sex.MALE, "daughter", (("m", ONE),)),
        Member("granddaughter", Sex.FEMALE, "daughter", (("m", ONE),)),
        Member("next", Sex.UNKNOWN, "granddaughter", (("m", ONE),)),
    )
    seen = tuple(Observation(f"son{n}", {("+", "Y"): ONE}, f"son{n}") for n in range(2))
    priors = {"carrier": certain("+", "band"), "m": certain("+", "Y")}
    answers = answer(Question(BAND, members, priors, seen))
    assert answers.of("granddaughter")[("+", "band")] == Fraction(1, 5) * Fraction(1, 2)
    assert answers.of("next")[("band", "Y")] == Fraction(1, 10) * Fraction(1, 4)


def test_carrier_father_and_a_mother_from_the_population() -> None:
    # Source: teaching set: carrier father (1), mother 1/750, affected child 1/3000.
    asked = with_members(pair(AMEL, carrier_odds(Fraction(1, 750)), HET), [planned()])
    assert answer(asked).of("planned 0")[("amel", "amel")] == Fraction(1, 750) * Fraction(1, 4)


@pytest.mark.parametrize(
    ("odds", "percent"),
    [(("1.00", "18.4", "4.19"), ("7.2", "82.8", "10.0")), (("1.00", "14.7", "156.7"), ("1.6", "14.8", "83.6"))],
)
def test_three_hypotheses(odds: tuple[str, ...], percent: tuple[str, ...]) -> None:
    # Source: Ogino S et al. (2004) Am J Hum Genet 74, Table 6 (priors .51/.32/.17), three and four copies.
    genotypes = (("+", "+"), ("+", "amel"), ("amel", "amel"))
    prior = dict(zip(genotypes, map(Fraction, ("0.51", "0.32", "0.17")), strict=True))
    # the printed odds are relative to each other; as likelihoods they are scaled to at most 1
    seen = {genotype: Fraction(text) / 200 for genotype, text in zip(genotypes, odds, strict=True)}
    asked = Question(AMEL, (Member("one"),), {"one": prior}, (Observation("one", seen, "dosage"),))
    found = answer(asked).of("one")
    assert [round(found[genotype] * 100, 1) for genotype in genotypes] == [Fraction(text) for text in percent]


def test_a_test_that_clears_the_sire_shifts_the_doubt_to_the_dam() -> None:
    # Source: calculated by Bayes: sire carries with 1/2 and dam with 1/2, one young carries for certain.
    carrying = {("+", "amel"): ONE}
    half, quarter = Fraction(1, 2), Fraction(1, 4)
    both = pair(AMEL, carrier_odds(half), carrier_odds(half), [("y", Sex.UNKNOWN, carrying)])
    # dam alone, sire alone, or both carry (1/4 each); each of them gives a carrying young with 1/2
    assert answer(both).of("dam")[("+", "amel")] == (quarter * half + quarter * half) / (3 * quarter * half)
    cleared = Question(
        AMEL, both.members, both.priors, (*both.observations, Observation("sire", certain("+", "+"), "tested"))
    )
    assert answer(cleared).of("dam") == HET
