"""All texts of the product, as they stand in its source: plain to read, one denominator, no doubtful words."""

import re
from fractions import Fraction

import pytest
from helpers.small_collections import animal_of, collection_of, told
from helpers.words_of_the_product import grade, messages

from sitegen.evidence.offers import Caution, CautionKind
from sitegen.words.buying import caution_sentences
from sitegen.words.method import method_parts
from sitegen.words.speech import plain

ALL = tuple(messages())
GENERAL = (CautionKind.SALMONELLA, CautionKind.LAW, CautionKind.SHIPPING, CautionKind.VETERINARIAN)


def test_there_are_messages_to_look_at():
    assert len(ALL) > 150


def test_every_part_of_the_page_on_odds_can_be_read_at_school():
    for part in method_parts("hypo", Fraction(2, 3)):
        text = " ".join(plain(paragraph) for paragraph in part.paragraphs)
        assert grade(text) <= 7, (part.id, grade(text))


@pytest.mark.parametrize("kind", GENERAL)
def test_every_caution_can_be_read_at_school(kind):
    _, voice = told(collection_of(animal_of("sage")), {})
    text = " ".join(plain(sentence) for sentence in caution_sentences(Caution(kind), voice))
    assert grade(text) <= 10, grade(text)


def test_the_grade_tells_plain_words_from_others():
    assert grade("The snake shows it. It has two copies.") < 2
    assert grade("Homozygosity necessitates biparental transmission of identical deleterious haplotypes.") > 15


def test_places_are_named_so_that_a_translator_can_turn_the_words():
    for file, line, text in ALL:
        for place in re.findall(r"\{([^}]*)\}", text):
            assert re.fullmatch(r"[a-z_]+", place), (file, line, text)


def test_sentences_have_real_quotation_marks_and_apostrophes():
    for file, line, text in ALL:
        assert not re.search(r"\"|\w'\w", text), (file, line, text)


def test_no_message_calls_a_chance_by_the_name_of_a_look():
    for file, line, text in ALL:
        assert not re.search(r"\bis \{(chance|percent)\}", text), (file, line, text)
