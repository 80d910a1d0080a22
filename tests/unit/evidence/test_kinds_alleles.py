from dataclasses import replace
from fractions import Fraction

from helpers.small_collections import dominant, locus_of, recessive

from sitegen.evidence.kinds import Basis, Claim, ClaimKind, alleles_of, looks_with
from sitegen.genetics.loci import Allele, Inheritance, Locus, looks_by_inheritance


def test_an_allele_is_seen_in_its_own_look_and_together_with_another():
    series = locus_of(recessive("motley"), recessive("stripe"))
    both = next(look for genotype, look in series.shown.items() if genotype == ("motley", "stripe"))
    assert looks_with(series, "motley") == {"motley", both}
    assert looks_with(series, "stripe") == {"stripe", both}


def test_an_allele_hidden_under_another_is_not_seen_in_the_others_look():
    series = locus_of(dominant("over"), recessive("under"))
    assert looks_with(series, "under") == {"under"}
    assert looks_with(series, "over") == {"over"}


def test_a_claim_speaks_of_its_allele_or_of_all_that_are_possible():
    series = locus_of(recessive("motley"), recessive("stripe"), recessive("other"))
    both = {("motley", "stripe"): Fraction(1)}
    claim = Claim(
        ClaimKind.SHOWS, "sage", "corn-snake", series.id, "", "motley/stripe", Fraction(1), -1, both,
        Basis.OWN_RECORDS, (),
    )  # fmt: skip
    assert alleles_of(claim, series) == ("motley", "stripe")
    assert alleles_of(replace(claim, allele="stripe"), series) == ("stripe",)
    assert alleles_of(replace(claim, posterior={**both, ("+", "other"): Fraction(1)}), series) == (
        "motley",
        "stripe",
        "other",
    )
    for kind in (ClaimKind.RULED_OUT, ClaimKind.NOT_KNOWN, ClaimKind.NO_CLAIM):
        assert alleles_of(replace(claim, kind=kind, allele="stripe"), series) == ()


def test_one_copy_of_the_sex_that_has_one_shows_its_own_look_only():
    band = Allele("band", "band", Inheritance.INCOMPLETE_DOMINANT, two_copies="super band")
    for blank in ("W", "Y"):
        looks, shown = looks_by_inheritance("band", [band], {}, blank)
        assert looks_with(Locus("band", "band", (band,), looks, shown), "band") == {"band", "super-band"}
        alone = {genotype: look for genotype, look in shown.items() if genotype[1] == blank}
        assert looks_with(Locus("band", "band", (band,), looks, alone), "band") == {"band"}


def test_one_copy_of_another_allele_is_not_its_own():
    pair = [Allele(name, name, Inheritance.RECESSIVE) for name in ("motley", "stripe")]
    looks, shown = looks_by_inheritance("series", pair, {}, "W")
    at = Locus("series", "series", tuple(pair), looks, shown)
    assert looks_with(at, "motley") == {"motley", "motley/stripe"}
    assert looks_with(at, "stripe") == {"stripe", "motley/stripe"}


def test_a_look_that_another_allele_makes_alone_is_not_this_ones_in_either_order():
    for order in ((dominant("over"), recessive("under")), (recessive("under"), dominant("over"))):
        series = locus_of(*order, locus_id="series")
        assert looks_with(series, "under") == {"under"}
        assert looks_with(series, "over") == {"over"}


def test_the_one_copy_of_a_sex_counts_also_where_it_looks_like_another_allele():
    """A map of looks may give one name to the single copy of one allele and to two of another."""
    pair = (recessive("motley"), recessive("stripe"))
    looks, shown = looks_by_inheritance("series", pair, {}, "W")
    for blank in ("W", "Y"):
        plain = {genotype: look for genotype, look in shown.items() if genotype != ("motley", "W")}
        alike = {**plain, ("motley", blank): "stripe", ("motley", "motley"): "stripe-like"}
        found = looks_with(Locus("series", "series", pair, looks, alike), "motley")
        assert found == {"stripe", "stripe-like", "motley/stripe"}
