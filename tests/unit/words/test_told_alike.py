"""Words that are put together once are those of the language in which they are asked for."""

from fractions import Fraction
from gettext import NullTranslations

from sitegen.words.numbers import small_number
from sitegen.words.speech import _, spoken, told_alike


class _Backwards(NullTranslations):
    """Every message from its end."""

    def gettext(self, message: str) -> str:
        return message[::-1]


def test_each_catalogue_has_its_own_words_and_each_is_asked_once() -> None:
    asked: list[Fraction] = []

    @told_alike
    def told(chance: Fraction, *, sure: bool) -> str:
        asked.append(chance)
        return f"{_('yes') if sure else _('no')} {chance}"

    backwards = _Backwards()
    for _again in range(2):
        assert told(Fraction(1, 2), sure=True) == "yes 1/2"
        assert told(Fraction(1, 2), sure=False) == "no 1/2"
        with spoken(backwards):
            assert told(Fraction(1, 2), sure=True) == "sey 1/2"
    assert len(asked) == 3


def test_a_word_of_the_product_turns_with_the_language() -> None:
    assert small_number(3) == "three"
    with spoken(_Backwards()):
        assert small_number(3) == "eerht"
    assert small_number(3) == "three"
