"""Relations by their names, and shares of origin, with the sire on whom they hang."""

from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound

from sitegen.evidence.answers import answers
from sitegen.words.relations import (
    ancestry_text,
    ancestry_words,
    kin_words,
    litter_sentence,
    parents_sentence,
    relatedness_words,
)
from sitegen.words.speech import Voice, plain


def herd(rows: str, origins: str = "") -> str:
    """Records of ``name dam sire``; several possible sires as ``a|b``; females begin with f."""
    told = CORN
    for row in rows.split(", "):
        name, *parents = row.split()
        told += f"\n=== animals/{name}/animal.yaml\nname: {name.capitalize()}\nspecies: corn-snake\n"
        told += f"sex: {'female' if name.startswith('f') else 'male'}\n"
        for key, parent in zip(("dam", "sire"), parents, strict=False):
            if parent != "-":
                told += f"{key}: {'[' + parent.replace('|', ', ') + ']' if '|' in parent else parent}\n"
        told += "locality: Saltby\n" if name in origins.split() else ""
    return told


def said(rows: str, young: str = "y") -> str:
    """What is said of the parents of the young."""
    kept = bound(herd(rows))
    known = answers(kept)
    return plain(parents_sentence(known.relations[young], young, Voice(kept, known, None)))


FAMILY = "fa, mb, fc fa mb, md fa mb, "
TABLE = [  # rows of the published table of relatives, with what the breeder is told
    (FAMILY + "y fa md", "mother and son", "1/4"),
    (FAMILY + "y fc mb", "father and daughter", "1/4"),
    (FAMILY + "y fc md", "full siblings", "1/4"),
    ("fa, mb, me, fc fa mb, md fa me, y fc md", "half siblings", "1/8"),
    (FAMILY + "fx, ms fx md, y fc ms", "aunt and nephew", "1/8"),
    (FAMILY + "mx, fs fc mx, y fs md", "uncle and niece", "1/8"),
    (FAMILY + "fx, ms fx md, y fa ms", "grandmother and grandson", "1/8"),
    (FAMILY + "mx, fs fc mx, y fs mb", "grandfather and granddaughter", "1/8"),
    (FAMILY + "fx, mx, fs fc mx, mt fx md, y fs mt", "first cousins", "1/16"),
    (FAMILY + "fx, mx, fp fx mx, mq fx mx, fs fc mq, mt fp md, y fs mt", "double first cousins", "1/8"),
    ("fa, mb, me, fc fa mb, md fa me, fx, mx, fs fc mx, mt fx md, y fs mt", "half first cousins", "1/32"),
    (FAMILY + "fx, mx, fs fc mx, mt fx md, fv, mu fv mt, y fs mu", "first cousins once removed", "1/32"),
    (FAMILY + "fx, mx, fs fc mx, mt fx md, fv, mv, fo fs mv, mu fv mt, y fo mu", "second cousins", "1/64"),
]


@pytest.mark.parametrize(("rows", "words", "coefficient"), TABLE, ids=[words for _, words, _ in TABLE])
def test_relations_have_their_own_names(rows, words, coefficient):
    """Source: Wright S (1922) Am Nat 56:330-338 (formula); Oxford Dictionary of Zoology (1/4, 1/8, 1/16); the rows 1/32
    and 1/64 were read in study notes only and follow from the formula."""
    told = f"The parents are {words} (coefficient {coefficient}; founders are taken as unrelated)."
    assert said(rows) == told


def test_a_back_cross_is_no_pair_of_siblings():
    assert "siblings" not in said(FAMILY + "y fa md")
    assert "father and daughter" in said(FAMILY + "y fc mb")


def test_double_relations_are_told_as_such():
    assert said("fa, mb, fc fa mb, md fc mb, y fc md").startswith(
        "The parents are mother and son, and half siblings as well (coefficient 3/8;"
    )
    assert said("fa, mb, fc fa mb, md fa mb, fe fc md, mf fc md, y fe mf").startswith(
        "The parents are full siblings, and related in other ways too (coefficient 3/8;"
    )


def test_where_no_simple_name_fits_the_common_ancestors_are_named():
    rows = FAMILY + "fx, mx, fs fc mx, fv, mu fs mx, fw, mt fw mu, fz fs mx, mr fw mt, y fa mr"
    assert said(rows).startswith("The parents are related through Fa")


def test_half_siblings_whose_other_parent_is_not_recorded_may_be_full_ones():
    assert "at least half siblings" in said("fa, mb, fc fa -, md fa mb, y fc md")


def test_unrelated_parents_say_what_is_taken_for_granted():
    told = "The parents are not related as far as our records go; founders are taken as unrelated."
    assert said("fa, mb, y fa mb") == told


def test_a_relation_that_hangs_on_a_sire_is_told_with_it():
    told = said("fa, mb, mc, fd fa mb, me fa mb|mc, y fd me")
    assert told == (
        "If Mb is the sire of Me (about 50 in 100), the parents are full siblings (coefficient 1/4); if Mc is the sire "
        "of Me (about 50 in 100), the parents are half siblings (coefficient 1/8). Founders are taken as unrelated."
    )
    own = said("fa, mb, mc, fd fa mb, y fd mb|mc")
    assert own.startswith("If Mb is the sire (about 50 in 100), the parents are father and daughter (coefficient 1/4);")
    assert "the parents are not related as far as our records go" in own


def test_a_relation_that_hangs_on_several_litters_is_told_as_all_that_it_may_be():
    told = said("fa, mb, mc, fd fa mb|mc, me fa mb|mc, y fd me")
    assert "full siblings or half siblings, by which of several possible sires there were" in told
    assert "(coefficient 1/8 to 1/4;" in told


def test_a_litter_says_what_it_means_for_the_young():
    kept = bound(herd(FAMILY + "y fa md"))
    known = answers(kept)
    told = plain(litter_sentence(known.relations["y"], ["y"], Voice(kept, known, None)))
    assert told.startswith("The parents are mother and son (coefficient 1/4): at about 25 in 100 places in the genome")


def test_a_coefficient_alone_names_no_relation():
    assert relatedness_words(Fraction(0)) == "not related as far as our records go"
    assert relatedness_words(Fraction(1, 4)) == "related, with a coefficient of 1/4"
    with pytest.raises(ValueError, match="kinship"):
        relatedness_words(Fraction(3, 2))


def test_shares_of_ancestry():
    assert "3/4 Saltby, 1/4 not known, by pedigree" == ancestry_text((("Saltby", Fraction(3, 4)), ("", Fraction(1, 4))))
    assert "Saltby, by pedigree" == ancestry_text((("Saltby", Fraction(1)),))
    assert "" == ancestry_text(())


def origin(rows: str, origins: str, young: str = "y") -> str:
    kept = bound(herd(rows, origins))
    known = answers(kept)
    return ancestry_words(known.localities[young], young, Voice(kept, known, None))


def test_a_share_that_hangs_on_a_sire_is_told_in_words_with_it():
    assert origin("fa, mb, mc, y fa mb", "mb") == "1/2 Saltby, 1/2 not known, by pedigree"
    assert origin("fa, mb, mc, y fa mb|mc", "mb") == (
        "half Saltby, if Mb is the sire (about 50 in 100); nothing that we know of, if Mc is the sire "
        "(about 50 in 100), by pedigree"
    )
    assert origin("fa, mb, mc, fd fa mb|mc, me, y fd me", "mb").startswith(
        "a quarter Saltby, if Mb is the sire of Fd (about 50 in 100);"
    )


def test_a_share_on_which_the_sire_makes_no_difference_stays_plain():
    assert origin("fa, mb, mc, y fa mb|mc", "fa") == "1/2 Saltby, 1/2 not known, by pedigree"
    assert origin("fa, mb, mc, y fa mb|mc", "mb mc") == "1/2 Saltby, 1/2 not known, by pedigree"


def test_a_share_that_hangs_on_several_litters_is_told_as_what_it_lies_between():
    told = origin("fa, mb, mc, fd fa mb|mc, me fa mb|mc, y fd me", "mb")
    assert told == "0 to 1/2 Saltby, by which of several possible sires there were, by pedigree"


def test_kin_words_need_no_records():
    kept = bound(herd(FAMILY + "y fa md"))
    assert kin_words(answers(kept).relations["y"][0].value, str) == "mother and son"


def test_littermates_of_a_sire_that_is_not_recorded_share_him():
    told = (
        CORN
        + """
=== animals/fa/animal.yaml
{species: corn-snake, sex: female}
=== litters/l/litter.yaml
dam: fa
young: {"01": {sex: female}, "02": {sex: male}}
=== animals/y/animal.yaml
{species: corn-snake, dam: l/01, sire: l/02}
"""
    )
    kept = bound(told)
    known = answers(kept)
    assert known.inbreeding["y"] == Fraction(1, 4)
    assert "full siblings (coefficient 1/4" in plain(
        parents_sentence(known.relations["y"], "y", Voice(kept, known, None))
    )
    apart = answers(bound(told.replace("dam: fa", "dam: fa\nmixed_sires: true")))
    assert apart.inbreeding["y"] == Fraction(1, 8)
