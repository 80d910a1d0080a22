"""A statement that holds a chance is short and plain: at most 18 words, and of a grade that most buyers read with ease.

Names of genes count as one short word each: they are not ours. Figures count as a word of one syllable, as the usual
programs count them. Only a full stop ends a sentence here, so that no colon makes a long one look short.
"""

from collections import Counter
from functools import partial
from pathlib import Path
from statistics import median

import pytest
from helpers.random_claims import claim_sets, without_names
from helpers.words_of_the_product import grade, n_words, syllables
from hypothesis import HealthCheck, given, settings

from sitegen.content.binding import bind_content
from sitegen.content.collection import latest_date
from sitegen.content.folder import read_content
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.words.claims import WITH_A_CHANCE, headline, short_phrase
from sitegen.words.claims import tested_by as laboratory
from sitegen.words.speech import Voice, plain

MOST_WORDS, HIGHEST_GRADE = 18, 9
many = settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def one_sentence(text: str) -> str:
    return text.replace(";", ",").replace(":", ",")


def is_short(claim: Claim, text: str) -> None:
    assert n_words(text) <= MOST_WORDS + 2 * (claim.kind is ClaimKind.CARRIES), (n_words(text), text)
    assert grade(one_sentence(text)) <= HIGHEST_GRADE, (grade(one_sentence(text)), text)


@pytest.mark.parametrize(("word", "count"), [
    ("carry", 2), ("animals", 3), ("such", 1), ("young", 1), ("judged", 1), ("tested", 2), ("parents", 2),
    ("certain", 2), ("copies", 2), ("two", 1), ("trade’s", 1), ("litter", 2), ("laboratory", 5), ("2/3", 1),
])  # fmt: skip
def test_syllables_are_counted_as_by_hand(word, count):
    assert syllables(word) == count


def test_the_grade_is_that_of_the_formula():
    """Kincaid et al. (1975), as in ``grade``; 13 words and 15 syllables counted by hand."""
    assert grade("May carry it, about 67 in 100 such young do, 33 do not.") == pytest.approx(
        0.39 * 13 + 11.8 * 15 / 13 - 15.59
    )


@many
@given(claim_sets())
def test_every_statement_is_short_and_plain(made):
    claims, voice = made
    for claim in claims:
        for make in (headline, short_phrase):
            is_short(claim, without_names(plain(make(claim, voice)).replace(laboratory(claim, voice) or "-", "it")))


def test_every_statement_of_the_demo_is_short_and_plain():
    content, _ = read_content(Path(__file__).parents[2] / "content")
    collection, _ = bind_content(content)
    assert collection is not None
    asked = ask(gather(collection))
    answers, as_of = answers_of(asked), latest_date(collection)
    voice = Voice(collection, answers, as_of)
    seen: Counter[ClaimKind] = Counter()
    lengths = []
    for claims in claims_of(collection, answers, partial(reasons, asked), as_of).values():
        for claim in claims:
            text = plain(headline(claim, voice))
            names = (laboratory(claim, voice), *(a.name for a in voice.locus(claim).alleles), voice.gene(claim).text)
            for name in sorted(filter(None, names), key=len, reverse=True):
                text = text.replace(name, "it")
            is_short(claim, text)
            seen[claim.kind] += 1
            lengths += [n_words(text)] if claim.kind in WITH_A_CHANCE else []
    assert set(WITH_A_CHANCE) <= set(seen)
    assert median(lengths) <= 16
