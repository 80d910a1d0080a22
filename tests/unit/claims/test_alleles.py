from small_collections import dominant, locus_of, recessive

from sitegen.claims.alleles import looks_of


def test_an_allele_is_seen_in_its_own_look_and_together_with_another():
    series = locus_of(recessive("motley"), recessive("stripe"))
    both = next(look for genotype, look in series.shown.items() if genotype == ("motley", "stripe"))
    assert looks_of(series, "motley") == {"motley", both}
    assert looks_of(series, "stripe") == {"stripe", both}


def test_an_allele_hidden_under_another_is_not_seen_in_the_others_look():
    series = locus_of(dominant("over"), recessive("under"))
    assert looks_of(series, "under") == {"under"}
    assert looks_of(series, "over") == {"over"}
