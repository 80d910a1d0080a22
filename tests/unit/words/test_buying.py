import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import animal_of, collection_of, dominant, locus_of, species_of, told

from sitegen.content.prices import OfferState
from sitegen.content.site import ReadyRules, Site
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.evidence.offers import Caution, CautionKind, Lacks, Missing, OfferClaim, gene_cautions
from sitegen.findings import Place
from sitegen.words.buying import (
    age_words,
    caution_line,
    caution_sentences,
    caution_title,
    missing_texts,
    readiness_text,
    rules_text,
    short_caution,
    waiting_text,
)
from sitegen.words.speech import plain


def words_of(caution: Caution, voice) -> str:
    return " ".join(plain(sentence) for sentence in caution_sentences(caution, voice))


def general(kind: CautionKind) -> str:
    _, voice = told(collection_of(animal_of("sage")), {})
    return words_of(Caution(kind), voice)


def test_every_caution_has_a_title():
    assert len({caution_title(kind) for kind in CautionKind}) == len(CautionKind)


def test_salmonella_names_hands_kitchen_and_those_at_risk():
    """Source: US CDC leaflets on reptiles, 2016 to 2019; the Swedish animal-health institute for pregnant women."""
    text = general(CautionKind.SALMONELLA)
    for needed in ("Salmonella", "Wash your hands with soap", "kitchen", "children under 5", "over 65", "pregnant"):
        assert needed in text


def test_law_and_transport_say_what_to_check_and_promise_nothing():
    text = general(CautionKind.LAW) + general(CautionKind.SHIPPING)
    for needed in ("national, state and local rules", "CITES", "some mail services take none"):
        assert needed in text
    assert "legal in" not in text


def test_health_is_deferred_to_a_veterinarian():
    assert "ask a veterinarian experienced with reptiles" in general(CautionKind.VETERINARIAN)
    assert "says nothing of its health" in general(CautionKind.VETERINARIAN)


def test_beside_an_offer_each_general_caution_has_one_short_line_and_no_other_has():
    lines = {kind: plain(caution_line(kind)) for kind in CautionKind}
    general_ones = {CautionKind.SALMONELLA, CautionKind.LAW, CautionKind.SHIPPING, CautionKind.VETERINARIAN}
    assert {kind for kind, line in lines.items() if line} == general_ones
    assert max(len(line) for line in lines.values()) < 120
    assert all(needed in lines[CautionKind.SALMONELLA] for needed in ("wash your hands", "under 5"))


def test_a_known_harm_is_told_with_its_source_and_a_veterinarian():
    collection = collection_of(animal_of("sage", shows={"whirl": "whirl"}))
    claims, voice = told(collection, {"sage": {"whirl": {("+", "whirl"): Fraction(1)}}})
    (caution,) = gene_cautions(collection, claims["sage"])
    assert (
        "whirl: Reported to go with poor balance. Source: A study, 2022. "
        "If you have questions, ask a veterinarian experienced with reptiles."
    ) == words_of(caution, voice)


def test_a_form_that_does_not_live():
    locus = locus_of(dominant("pale", two_copies_lethal=True))
    collection = collection_of(animal_of("sage", shows={"pale": "pale"}), species=species_of(locus))
    claims, voice = told(collection, {"sage": {"pale": {("+", "pale"): Fraction(1)}}})
    (caution,) = gene_cautions(collection, claims["sage"])
    wanted = "Young with two copies of pale do not live to be born, so two that have it give fewer young."
    assert wanted == words_of(caution, voice)


def test_the_breeders_own_words_stand_as_written():
    _, voice = told(collection_of(animal_of("sage")), {})
    assert "Ring {first}." == words_of(Caution(CautionKind.OWN_WORDS, text="Ring {first}."), voice)


def test_a_source_is_told_as_written_and_none_is_called_published():
    """A breeder's own records are no published literature."""
    collection = collection_of(animal_of("sage", shows={"whirl": "whirl"}))
    claims, voice = told(collection, {"sage": {"whirl": {("+", "whirl"): Fraction(1)}}})
    (caution,) = gene_cautions(collection, claims["sage"])
    assert caution.welfare is not None
    own = replace(caution, welfare=replace(caution.welfare, source="Our own records, not published."))
    assert "Source: Our own records, not published. If" in words_of(own, voice)
    none = replace(caution, welfare=replace(caution.welfare, source=""))
    assert "No source is recorded for this. If" in words_of(none, voice)


def test_in_short_a_caution_still_says_what_matters():
    _, voice = told(collection_of(animal_of("sage")), {})
    general = [kind for kind in CautionKind if kind not in (CautionKind.WELFARE, CautionKind.LETHAL)]
    short = {kind: plain(short_caution(Caution(kind, text="Ring {first}."), voice)) for kind in general}
    for needed in ("Salmonella", "wash your hands with soap", "children under 5", "over 65", "pregnant"):
        assert needed in short[CautionKind.SALMONELLA]
    assert "national, state and local rules" in short[CautionKind.LAW]
    assert "CITES" in short[CautionKind.LAW]
    assert "some mail services take none" in short[CautionKind.SHIPPING]
    assert "veterinarian experienced with reptiles" in short[CautionKind.VETERINARIAN]
    assert short[CautionKind.OWN_WORDS] == "Ring {first}."


def test_in_short_a_known_harm_keeps_its_text_and_its_source():
    collection = collection_of(animal_of("sage", shows={"whirl": "whirl"}))
    claims, voice = told(collection, {"sage": {"whirl": {("+", "whirl"): Fraction(1)}}})
    (caution,) = gene_cautions(collection, claims["sage"])
    assert plain(short_caution(caution, voice)) == "whirl: Reported to go with poor balance. Source: A study, 2022."


SITE = Site(name="Quillmoor", place=Place("site.yaml"), language="en-GB")
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
        (Missing(Lacks.AGE, age=WrittenAge(months=3)), "an age of 3 months (date of birth not recorded)"),
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
    assert rules_text(rules, SITE) == f"Our own rule: a young of its first year is ready to go with {parts}."
    assert rules_text(ReadyRules(), SITE) == ""


def test_ages_are_told_as_they_were_written():
    ages = (WrittenAge(days=56), WrittenAge(days=7), WrittenAge(days=10), WrittenAge(months=3))
    assert [age_words(age) for age in ages] == ["8 weeks", "1 week", "10 days", "3 months"]


def test_how_many_wait():
    assert [waiting_text(count, of) for count, of in ((0, 3), (1, 1), (1, 3), (2, 3))] == [
        "", "Not ready to go yet.", "1 of them is not ready to go yet.", "2 of them are not ready to go yet.",
    ]  # fmt: skip
