import datetime as dt

import pytest

from sitegen.content.animals import OfferState
from sitegen.content.site import ReadyRules, Site
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.evidence.offers import OfferClaim
from sitegen.evidence.readiness import Lacks, Missing
from sitegen.findings import Place
from sitegen.words.readiness import age_words, missing_texts, readiness_text, rules_text, waiting_text

SITE = Site("Quillmoor", Place("site.yaml"), language="en-GB")
AGE = Missing(Lacks.AGE, age=WrittenAge(days=56), on=dt.date(2026, 9, 12))


@pytest.mark.parametrize(
    ("lacks", "told"),
    [
        (Missing(Lacks.MEALS, 5, 3), "two more recorded meals"),
        (Missing(Lacks.MEALS, 5, 4), "one more recorded meal"),
        (Missing(Lacks.MEALS, 5, 0), "five recorded meals"),
        (Missing(Lacks.WEIGHT, 15, 14), "a weight of 15 g (last 14 g)"),
        (Missing(Lacks.WEIGHT, 15), "a recorded weight of 15 g"),
        (AGE, "an age of 8 weeks (on 12 September 2026)"),
        (Missing(Lacks.AGE, age=WrittenAge(months=3)), "an age of 3 months (its date of birth is not recorded)"),
    ],
)
def test_what_is_missing_is_told_in_words(lacks, told):
    assert missing_texts((lacks,), SITE) == (told,)


def claim(*lacks: Missing, ready: PartialDate | None = None) -> OfferClaim:
    return OfferClaim("sage", OfferState.AVAILABLE, None, None, ready, "", lacks)


def test_an_offer_says_what_is_still_to_come():
    two = (Missing(Lacks.MEALS, 5, 3), Missing(Lacks.WEIGHT, 15, 14))
    lacks = "two more recorded meals and a weight of 15 g (last 14 g)"
    assert readiness_text(claim(*two), SITE) == f"not ready yet; still to come: {lacks}"
    later = readiness_text(claim(*two, ready=PartialDate(2026, 12, 1)), SITE)
    assert later == f"not ready yet, and not before 1 December 2026; still to come: {lacks}"
    assert readiness_text(claim(), SITE) == "can go now"
    assert readiness_text(claim(ready=PartialDate(2026, 12, 1)), SITE) == "can go from 1 December 2026"


def test_the_rules_are_told_as_our_own():
    rules = ReadyRules(5, 15, WrittenAge(days=56))
    parts = "five recorded meals, a weight of 15 g and an age of 8 weeks"
    assert rules_text(rules, SITE) == f"By our own rule a young of its first year is ready to go with {parts}."
    assert rules_text(ReadyRules(), SITE) == ""


def test_ages_are_told_as_they_were_written():
    ages = (WrittenAge(days=56), WrittenAge(days=7), WrittenAge(days=10), WrittenAge(months=3))
    assert [age_words(age) for age in ages] == ["8 weeks", "1 week", "10 days", "3 months"]


def test_how_many_wait():
    assert [waiting_text(count, of) for count, of in ((0, 3), (1, 1), (1, 3), (2, 3))] == [
        "", "It is not ready to go yet.", "1 of them is not ready to go yet.", "2 of them are not ready to go yet.",
    ]  # fmt: skip
