from fractions import Fraction

import pytest

from sitegen.wording.relations import (
    ancestry_text,
    litter_sentence,
    parents_sentence,
    relatedness_words,
)
from sitegen.wording.runs import plain


@pytest.mark.parametrize(("kinship", "words"), [
    (Fraction(0), "not related as far as our records go"),
    (Fraction(17, 32), "more closely related than full siblings"),
    (Fraction(1, 4), "as related as full siblings"),
    (Fraction(3, 16), "more closely related than half siblings, less than full siblings"),
    (Fraction(1, 8), "as related as half siblings"),
    (Fraction(3, 32), "more closely related than first cousins, less than half siblings"),
    (Fraction(1, 16), "as related as first cousins"),
    (Fraction(1, 32), "as related as half first cousins"),
    (Fraction(1, 64), "as related as second cousins"),
    (Fraction(1, 128), "more distantly related than second cousins"),
])  # fmt: skip
def test_a_fraction_in_words(kinship, words):
    """Source of the fractions: Oxford Dictionary of Zoology (1/4, 1/16); tabular method for the others."""
    assert words == relatedness_words(kinship)


def test_what_is_no_coefficient_is_our_own_mistake():
    with pytest.raises(ValueError, match="kinship"):
        relatedness_words(Fraction(3, 2))


def test_sentences_say_what_is_taken_for_granted():
    told_parents = "Its parents are as related as half siblings (coefficient 1/8; founders are taken as unrelated)."
    assert told_parents == plain(parents_sentence(Fraction(1, 8)))
    for sentence in (parents_sentence(Fraction(0)), litter_sentence(Fraction(0)), litter_sentence(Fraction(1, 8))):
        assert "ounders are taken as unrelated" in plain(sentence)
    assert "at about 25 in 100 places in the genome" in plain(litter_sentence(Fraction(1, 4)))


def test_shares_of_ancestry():
    assert "3/4 Saltby, 1/4 not known, by pedigree" == ancestry_text((("Saltby", Fraction(3, 4)), ("", Fraction(1, 4))))
    assert "Saltby, by pedigree" == ancestry_text((("Saltby", Fraction(1)),))
    assert "" == ancestry_text(())
