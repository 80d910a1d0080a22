"""Ratios of crosses, as posteriors of a planned young, against published counts and textbook expectations."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import product

import pytest
from helpers.pedigrees import (
    DOMINANT,
    INCOMPLETE,
    ONE,
    RECESSIVE,
    certain,
    locus,
    pair,
    planned,
    recessive,
    with_members,
)

from sitegen.genetics.gametes import mode_of_locus
from sitegen.genetics.loci import Allele, Genotype, Linkage, Locus, Sex, SexSystem
from sitegen.genetics.network import answer
from sitegen.genetics.questions import LinkedQuestion, Member
from sitegen.genetics.transmission import Transmission

A, B, C = recessive("a"), recessive("b"), recessive("c")


def young(at: Locus, dam: Mapping[Genotype, Fraction], sire: Mapping[Genotype, Fraction]) -> dict[Genotype, Fraction]:
    return dict(answer(with_members(pair(at, dam, sire), [planned()])).of("planned 0"))


def het(at: Locus) -> dict[Genotype, Fraction]:
    return certain("+", at.id)


def looks(at: Locus, genotypes: Mapping[Genotype, Fraction]) -> dict[str, Fraction]:
    found: dict[str, Fraction] = {}
    for genotype, chance in genotypes.items():
        look = at.shown.get(genotype, "")
        found[look] = found.get(look, Fraction(0)) + chance
    return found


def het_by_het(at: Locus) -> dict[Genotype, Fraction]:
    return young(at, het(at), het(at))


def chi_square(counts: Sequence[int], chances: Sequence[Fraction]) -> Fraction:
    total = sum(counts)
    expected = [total * chance for chance in chances]
    return sum(((n - mean) ** 2 / mean for n, mean in zip(counts, expected, strict=True)), Fraction(0))


def look_classes(*loci: Locus) -> dict[tuple[str, ...], Fraction]:
    """Looks of the young of a pair that is het at each of some independent loci."""
    by_locus = [looks(at, het_by_het(at)) for at in loci]
    return {
        names: product_of(shares[name] for shares, name in zip(by_locus, names, strict=True))
        for names in product(*by_locus)
    }


def product_of(chances: Sequence[Fraction]) -> Fraction:
    result = ONE
    for chance in chances:
        result *= chance
    return result


def test_seven_monohybrids() -> None:
    # Source: Mendel G (1866) Verh. naturforsch. Ver. Bruenn 4:3-47; sum 2.1389 as in Fisher RA (1936), Table V.
    ratio = looks(A, het_by_het(A))
    counts = [(5474, 1850), (6022, 2001), (705, 224), (882, 299), (428, 152), (651, 207), (787, 277)]
    found = [chi_square(pair_, [ratio[""], ratio["a"]]) for pair_ in counts]
    each = ["0.2629", "0.0150", "0.3907", "0.0635", "0.4506", "0.3497", "0.6065"]
    assert [round(value, 4) for value in found] == [Fraction(text) for text in each]
    assert round(sum(found, Fraction(0)), 4) == Fraction("2.1389")


def test_dihybrid() -> None:
    # Source: Morgan TH, Evolution and Adaptation (1903), reprint of Mendel: 315, 101, 108, 32.
    shares = look_classes(A, B)
    classes = [("", ""), ("a", ""), ("", "b"), ("a", "b")]
    assert [shares[names] * 16 for names in classes] == [9, 3, 3, 1]
    assert [556 * shares[names] for names in classes] == [
        Fraction(text) for text in ("312.75", "104.25", "104.25", "34.75")
    ]
    assert round(chi_square([315, 101, 108, 32], [shares[names] for names in classes]), 3) == Fraction("0.470")


TRIHYBRID = (
    "ABC 8, ABc 14, AbC 9, Abc 11, aBC 8, aBc 10, abC 10, abc 7, ABCc 22, AbCc 17, aBCc 25, abCc 20, ABbC 15, "
    "ABbc 18, aBbC 19, aBbc 24, AaBC 14, AaBc 18, AabC 20, Aabc 16, ABbCc 45, aBbCc 36, AaBCc 38, AabCc 40, "
    "AaBbC 49, AaBbc 48, AaBbCc 78"
)
"""Source: Bateson's translation (1902) of Mendel: 24 hybrids, 639 plants; twelve of the counts from memory."""


def trihybrid() -> dict[tuple[Genotype, ...], int]:
    counts = {}
    for entry in TRIHYBRID.split(", "):
        letters, count = entry.split()
        key = []
        for at in "abc":
            found = {letter for letter in letters if letter.lower() == at}
            key.append(("+", at) if len(found) == 2 else (at, at) if found == {at} else ("+", "+"))
        counts[tuple(key)] = int(count)
    return counts


def test_trihybrid_genotypes() -> None:
    counts = trihybrid()
    by_locus = [het_by_het(at) for at in (A, B, C)]
    shares = {key: product_of(found[g] for found, g in zip(by_locus, key, strict=True)) for key in product(*by_locus)}
    assert len(shares) == 3**3 == len(counts)
    assert sum(counts.values()) == 639
    assert round(chi_square(list(counts.values()), [shares[key] for key in counts]), 4) == Fraction("15.3224")


def test_trihybrid_looks() -> None:
    # Source: collapsed from the same table: 269, 98, 86, 88, 27, 34, 30, 7 against 27:9:9:9:3:3:3:1.
    shares = look_classes(A, B, C)
    classes = [
        ("", "", ""),
        ("", "", "c"),
        ("", "b", ""),
        ("a", "", ""),
        ("", "b", "c"),
        ("a", "", "c"),
        ("a", "b", ""),
    ]
    classes.append(("a", "b", "c"))
    assert [shares[names] * 64 for names in classes] == [27, 9, 9, 9, 3, 3, 3, 1]
    seen = dict.fromkeys(classes, 0)
    for genotypes, count in trihybrid().items():
        seen[tuple(at if genotype == (at, at) else "" for at, genotype in zip("abc", genotypes, strict=True))] += count
    assert list(seen.values()) == [269, 98, 86, 88, 27, 34, 30, 7]
    assert round(chi_square(list(seen.values()), [shares[names] for names in classes]), 3) == Fraction("2.673")


def test_counts_of_classes() -> None:
    # Source: Bateson's translation (1902): with n characters 3^n genotypes, 4^n combinations, 2^n true-breeding.
    by_locus = [het_by_het(recessive(name)) for name in "abcd"]
    assert len(list(product(*by_locus))) == 3**4 == 81
    assert sum(g[0] == g[1] for g in by_locus[0]) ** 4 == 2**4 == 16
    assert min(product_of(found[g] for found, g in zip(by_locus, key, strict=True)) for key in product(*by_locus)) == (
        Fraction(1, 4**4)
    )


@pytest.mark.parametrize(
    ("counts", "expected"),
    [
        ((31, 26, 27, 26), "0.618"),
        ((24, 25, 22, 27), "0.531"),
        ((20, 23, 25, 22), "0.578"),
        ((25, 19, 22, 21), "0.862"),
    ],
)
def test_test_crosses(counts: tuple[int, ...], expected: str) -> None:
    # Source: a web edition of Mendel's experiments on gametes.
    one, other = young(A, het(A), certain("a", "a")), young(B, het(B), certain("b", "b"))
    shares = [one[first] * other[second] for first in one for second in other]
    assert shares == [Fraction(1, 4)] * 4
    assert round(chi_square(counts, shares), 3) == Fraction(expected)


def test_grey_and_albino_mice() -> None:
    # Source: Cuenot's 198:72 in Morgan TH, Experimental Zoology (1907) p. 83.
    ratio = looks(A, het_by_het(A))
    assert round(chi_square((198, 72), (ratio[""], ratio["a"])), 3) == Fraction("0.400")


YELLOW = locus("yellow", Allele("yellow", "yellow", DOMINANT, two_copies_lethal=True))


def test_lethal_two_copies_give_two_to_one_and_a_quarter_fewer_young() -> None:
    # Source: Castle WE, Little CC (1910) Science 32:868-870, and Cuenot L (1905), in encyclopaedia copies.
    assert looks(YELLOW, het_by_het(YELLOW)) == {"yellow": Fraction(2, 3), "": Fraction(1, 3)}
    assert looks(YELLOW, young(YELLOW, het(YELLOW), certain("+", "+"))) == {
        "": Fraction(1, 2),
        "yellow": Fraction(1, 2),
    }
    transmission = Transmission(mode_of_locus(YELLOW))
    (state,) = [n for n, found in enumerate(transmission.mode.genotypes) if found == (("+", "yellow"),)]
    assert transmission.living_share(state, state) == 1 - Fraction(1, 4)


@pytest.mark.parametrize(
    ("ratio", "look_of"),
    [
        ([9, 3, 4], lambda a, b: 2 if b else 1 if a else 0),
        ([9, 7], lambda a, b: 1 if a or b else 0),
        ([12, 3, 1], lambda a, b: 0 if not a else 1 if not b else 2),
        ([13, 3], lambda a, b: 1 if a and not b else 0),
        ([15, 1], lambda a, b: 1 if a and b else 0),
        ([9, 6, 1], lambda a, b: bool(a) + bool(b)),
    ],
    ids=["recessive", "complementary", "dominant", "inhibitory", "duplicate dominant", "9:6:1"],
)
def test_two_loci_on_one_trait(ratio: list[int], look_of: object) -> None:
    # Source: University of Arizona Biology Project, Mendelian dihybrid problem 13; Biocyclopedia table 3.6.
    assert callable(look_of)
    found = [Fraction(0)] * len(ratio)
    for (first, second), share in look_classes(A, B).items():
        found[look_of(first, second)] += share * 16
    assert found == ratio


SERIES = locus(
    "motley-stripe",
    Allele("motley", "motley", RECESSIVE),
    Allele("stripe", "stripe", RECESSIVE),
    compounds={frozenset({"motley", "stripe"}): "striped motley"},
)


def test_motley_and_stripe_are_one_locus() -> None:
    # Source: Montandon SA et al. (2025) Genome Biol 26:73: one locus, two recessive alleles.
    both = young(SERIES, certain("motley", "motley"), certain("stripe", "stripe"))
    assert looks(SERIES, both) == {"striped-motley": ONE}
    plain = looks(SERIES, young(SERIES, certain("+", "motley"), certain("+", "stripe")))
    assert plain == {"": Fraction(3, 4), "striped-motley": Fraction(1, 4)}


def test_two_albinisms_that_are_not_allelic_give_only_normal_young() -> None:
    # Source: Bechtel & Bechtel, "Albinism in the snake, Elaphe obsoleta" (abstract): non-allelic amelanistic forms.
    first = young(A, certain("a", "a"), certain("+", "+"))
    second = young(B, certain("+", "+"), certain("b", "b"))
    assert looks(A, first) == looks(B, second) == {"": ONE}
    assert first == het(A)
    assert second == het(B)


# Linked loci.


def linked_young(
    recombination: Mapping[Sex, Sequence[Fraction]],
    dam: Sequence[Mapping[str, str]],
    sire: Sequence[Mapping[str, str]],
    loci: Sequence[Locus] = (A, B),
) -> dict[tuple[Genotype, ...], Fraction]:
    """Genotypes at all loci of the young of two parents with known chromosomes."""
    asked = []
    for at in loci:
        odds = [{at.genotype(lines[0][at.id], lines[1][at.id]): ONE} for lines in (dam, sire)]
        asked.append(with_members(pair(at, *odds), [planned()]))
    linkage = Linkage(tuple(at.id for at in loci), {sex: tuple(rates) for sex, rates in recombination.items()})
    answers = answer(LinkedQuestion(linkage, tuple(asked), {"dam": tuple(dam), "sire": tuple(sire)}))
    found: dict[tuple[Genotype, ...], Fraction] = {}
    for (state,), chance in answers.states(["planned 0"]).items():
        key = answers.mode.genotypes[state]
        found[key] = found.get(key, Fraction(0)) + chance
    return found


COUPLING = ({"a": "+", "b": "+"}, {"a": "a", "b": "b"})
REPULSION = ({"a": "+", "b": "b"}, {"a": "a", "b": "+"})
DOUBLE_RECESSIVE = ({"a": "a", "b": "b"}, {"a": "a", "b": "b"})


def both_sexes(*rates: Fraction) -> dict[Sex, Sequence[Fraction]]:
    return {Sex.FEMALE: rates, Sex.MALE: rates}


def four_looks(genotypes: Mapping[tuple[Genotype, ...], Fraction]) -> list[Fraction]:
    """A_B_, A_bb, aaB_, aabb."""
    found = [Fraction(0)] * 4
    for (first, second), chance in genotypes.items():
        found[2 * (first == ("a", "a")) + (second == ("b", "b"))] += chance
    return found


def test_purple_and_vestigial() -> None:
    # Source: Griffiths et al., Introduction to Genetic Analysis, ch. 4 (Morgan): 1339, 1195, 151, 154; r = 305/2839.
    r = Fraction(151 + 154, 1339 + 1195 + 151 + 154)
    assert r == Fraction(305, 2839)
    found = four_looks(linked_young(both_sexes(r), COUPLING, DOUBLE_RECESSIVE))
    assert found == [(1 - r) / 2, r / 2, r / 2, (1 - r) / 2]
    assert round(found[1] + found[2], 4) == Fraction("0.1074")


def test_no_crossing_over_in_one_sex() -> None:
    # Source: Morgan TH, A Critique of the Theory of Evolution (1916) figs 65-66: 83 and 17 % from F1 females,
    # two classes only from F1 males.
    rates = {Sex.FEMALE: (Fraction(17, 100),), Sex.MALE: (Fraction(0),)}
    from_female = four_looks(linked_young(rates, COUPLING, DOUBLE_RECESSIVE))
    from_male = four_looks(linked_young(rates, DOUBLE_RECESSIVE, COUPLING))
    assert from_female[0] + from_female[3] == Fraction(83, 100)
    assert from_male == [Fraction(1, 2), 0, 0, Fraction(1, 2)]


@pytest.mark.parametrize("r", [Fraction(0), Fraction(1, 10), Fraction(326, 1000), Fraction(1, 2)])
@pytest.mark.parametrize("phase", ["coupling", "repulsion"])
def test_second_generation_of_linked_loci(r: Fraction, phase: str) -> None:
    # Source: calculated: A_B_ = 1/2 + k/4, A_bb = aaB_ = 1/4 - k/4, aabb = k/4, k = (1-r)^2 or r^2.
    parent, k = (COUPLING, (1 - r) ** 2) if phase == "coupling" else (REPULSION, r**2)
    expected = [Fraction(1, 2) + k / 4, (1 - k) / 4, (1 - k) / 4, k / 4]
    assert four_looks(linked_young(both_sexes(r), parent, parent)) == expected


def test_known_values_of_the_second_generation() -> None:
    # Source: the same formula, values as listed for r = 1/10, 0 and 1/2.
    tenth = both_sexes(Fraction(1, 10))
    coupling = four_looks(linked_young(tenth, COUPLING, COUPLING))
    assert coupling == [Fraction(text) for text in ("0.7025", "0.0475", "0.0475", "0.2025")]
    repulsion = four_looks(linked_young(tenth, REPULSION, REPULSION))
    assert repulsion == [Fraction(text) for text in ("0.5025", "0.2475", "0.2475", "0.0025")]
    none = both_sexes(Fraction(0))
    assert four_looks(linked_young(none, COUPLING, COUPLING)) == [Fraction(3, 4), 0, 0, Fraction(1, 4)]
    assert [4 * share for share in four_looks(linked_young(none, REPULSION, REPULSION))] == [2, 1, 1, 0]
    free = both_sexes(Fraction(1, 2))
    assert [16 * share for share in four_looks(linked_young(free, REPULSION, REPULSION))] == [9, 3, 3, 1]


def test_test_cross_of_two_loci() -> None:
    # Source: Pierce, Genetics Essentials 3e, answers ch. 5: r 0.326 gives 33.7, 33.7, 16.3, 16.3 %.
    found = four_looks(linked_young(both_sexes(Fraction(326, 1000)), COUPLING, DOUBLE_RECESSIVE))
    assert [round(share * 100, 1) for share in found] == [Fraction(text) for text in ("33.7", "16.3", "16.3", "33.7")]


def test_three_loci_of_which_two_are_linked() -> None:
    # Source: Pierce, same: e and ro 20 cM apart, f not linked: in coupling four classes of 20 % and four of 5 %.
    dam = ({"a": "+", "b": "+", "c": "+"}, {"a": "a", "b": "b", "c": "c"})
    sire = ({"a": "a", "b": "b", "c": "c"},) * 2
    found = linked_young(both_sexes(Fraction(1, 5), Fraction(1, 2)), dam, sire, (A, B, C))
    assert sorted(found.values()) == [Fraction(5, 100)] * 4 + [Fraction(20, 100)] * 4
    assert found[("+", "a"), ("+", "b"), ("c", "c")] == Fraction(20, 100)


# Loci that hang on sex.

GLOW = locus(
    "glow",
    Allele("glow", "glow", INCOMPLETE, "super glow"),
    odds={("+", "+"): ONE},
    system=SexSystem.XY,
    linked=True,
    parting=Fraction(1, 20),
)


@pytest.mark.parametrize("from_father", [True, False])
def test_sons_and_daughters_by_which_parent_the_male_had_it_from(from_father: bool) -> None:
    # Source: Mallery CS, Carrillo MM (2016) Phyllomedusa: from his father: mostly carrier sons and wild-type
    # daughters; from his mother: the reverse; exceptions are recombinants.
    plain, carrier = certain("+", "+"), certain("+", "glow")
    parents = (plain, carrier) if from_father else (carrier, plain)
    asked = pair(GLOW, *parents, [("carrier", Sex.MALE, carrier)])
    young = [Member(sex.value, sex, "mate", (("carrier", ONE),)) for sex in (Sex.MALE, Sex.FEMALE)]
    answers = answer(with_members(asked, [Member("mate", Sex.FEMALE), *young]))
    son, daughter = (answers.of(sex.value).get(("+", "glow"), Fraction(0)) for sex in (Sex.MALE, Sex.FEMALE))
    r = Fraction(1, 20)
    assert (son, daughter) == ((1 - r, r) if from_father else (r, 1 - r))
