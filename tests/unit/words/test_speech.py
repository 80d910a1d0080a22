from gettext import NullTranslations

import pytest

from sitegen.words.numbers import small_number
from sitegen.words.speech import Link, Target, Text, capitalised, joined, listed, plain, said, spoken

JUNIPER = Link("Juniper", Target.ANIMAL, "juniper")


def test_places_are_filled_with_words_links_and_sentences():
    sentence = said("{dam} carries {gene}.", dam=JUNIPER, gene="hypo")
    assert (JUNIPER, Text(" carries hypo.")) == sentence


def test_braces_in_what_is_filled_in_are_left_alone():
    assert "a {b} c" == plain(said("a {x} c", x="{b}"))


def test_a_place_that_is_not_given_is_our_own_mistake():
    with pytest.raises(KeyError):
        said("{dam} carries it.")


def test_lists_in_words():
    assert ["a", "a and b", "a, b and c"] == [plain(listed(items)) for items in (["a"], ["a", "b"], ["a", "b", "c"])]
    assert "a or b" == plain(listed(["a", "b"], either=True))
    assert () == listed([])


def test_neighbouring_words_are_one_run():
    assert (Text("ab"), JUNIPER, Text("c")) == joined([Text("a"), Text("b"), JUNIPER, Text("c")])


def test_a_sentence_starts_with_a_capital_unless_it_starts_with_a_name():
    assert "Its dam" == plain(capitalised((Text("its dam"),)))
    assert (JUNIPER,) == capitalised((JUNIPER,))
    assert () == capitalised(())


class _Backwards(NullTranslations):
    """Every message from its end."""

    def gettext(self, message: str) -> str:
        return message[::-1]


def test_a_word_of_the_product_turns_with_the_language() -> None:
    assert small_number(3) == "three"
    with spoken(_Backwards()):
        assert small_number(3) == "eerht"
    assert small_number(3) == "three"
