"""How odds are said, against what was published on saying them.

Sources:
    Trevena L et al. (2013) BMC Med Inform Decis Mak 13(Suppl 2):S7: name the reference class, keep one
    denominator, avoid "1 in x".
    Pighin S et al. (2011) and Sirota M et al. (2014) Med Decis Making: the same chance feels bigger as "1 in x".
    IPCC (2013), likelihood scale of the fifth report, and its fourth report: the same word stands for different
    ranges, so a word alone says nothing.
    Posteriors: Encyclopaedia Britannica, "Bayes's theorem" (1/5); Ogino S & Wilson RB (2004) J Mol Diagn 6:1-9
    (1/9); the two-thirds rule is textbook knowledge; the others are calculated from p k^n / (p k^n + 1 - p).
"""

import re
from fractions import Fraction

import pytest
from helpers.words_of_the_product import messages

from sitegen.words.numbers import both_sides, count_text, in_100, simple_fraction

ALL = tuple(messages())
DOUBTFUL = ("likely", "unlikely", "probable", "probably", "virtually certain", "likelihood", "presumably", "perhaps")
"""Words of published scales of likelihood, and others that say a chance without a number."""


def after_normal_young(prior: Fraction, passes: Fraction, n_young: int) -> Fraction:
    """Chance that a parent carries after so many young that do not show it."""
    normal = (1 - passes) ** n_young
    return prior * normal / (prior * normal + 1 - prior)


@pytest.mark.parametrize(("chance", "words", "fraction"), [
    (Fraction(2, 3), "about 67 in 100", "2/3"),
    (after_normal_young(Fraction(1, 2), Fraction(1, 2), 2), "about 20 in 100", "1/5"),
    (after_normal_young(Fraction(1, 2), Fraction(1, 2), 3), "about 11 in 100", "1/9"),
    (after_normal_young(Fraction(2, 3), Fraction(1, 2), 4), "about 11 in 100", "1/9"),
    (after_normal_young(Fraction(1, 2), Fraction(1, 2), 6), "about 2 in 100", ""),
    (after_normal_young(Fraction(1, 2), Fraction(1, 2), 7), "fewer than 1 in 100", "1/129"),
    (after_normal_young(Fraction(2, 3), Fraction(1, 2), 10), "fewer than 1 in 100", "1/513"),
    (after_normal_young(Fraction(2, 3), Fraction(1, 4), 10), "about 10 in 100", ""),
])  # fmt: skip
def test_published_posteriors_in_words(chance, words, fraction):
    assert (words, fraction) == (in_100(chance), simple_fraction(chance))


def test_no_number_of_normal_young_is_said_to_be_none():
    """(3/4)^10 = 0.0563: ten normal young are not proof (Seidenfeld, technical report 675)."""
    for n_young in range(1, 400):
        said = in_100(after_normal_young(Fraction(1, 2), Fraction(1, 4), n_young))
        assert not re.match(r"(about )?0 ", said)


@pytest.mark.parametrize("denominator", [2, 3, 4, 5, 8, 10, 16, 20, 50, 64])
def test_one_in_so_many_is_said_of_a_hundred(denominator):
    said = in_100(Fraction(1, denominator))
    assert said.endswith(" in 100")
    assert str(denominator) not in said.removesuffix(" in 100").split() or denominator == 10


def test_both_sides_fill_the_same_hundred():
    for numerator in range(1, 200):
        this, other = both_sides(Fraction(numerator, 200))
        if isinstance(this, int):
            assert int(count_text(this)) + int(count_text(other)) == 100


def test_no_message_has_another_denominator_or_one_in_so_many():
    for file, line, text in ALL:
        assert set(re.findall(r"\bin (\d+)\b", text)) <= {"100"}, (file, line, text)
        assert not re.search(r"\b(?:1|[Oo]ne) in (?:\d|\{|ten|a hundred)", text.replace("than 1 in", "")), (
            file,
            line,
            text,
        )


def test_no_message_says_a_chance_in_doubtful_words():
    for file, line, text in ALL:
        found = [word for word in DOUBTFUL if re.search(rf"\b{word}\b", text.lower())]
        assert not found, (file, line, text)
