from fractions import Fraction

from small_collections import animal_of, collection_of, dominant, locus_of, species_of, told

from sitegen.claims.cautions import Caution, CautionKind, gene_cautions
from sitegen.wording.cautions import caution_sentences, caution_title
from sitegen.wording.runs import plain


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
    for needed in ("national, state and local rules", "CITES", "some posts carry no snakes"):
        assert needed in text
    assert "legal in" not in text


def test_health_is_deferred_to_a_veterinarian():
    assert "ask a veterinarian experienced with reptiles" in general(CautionKind.VETERINARIAN)
    assert "says nothing of its health" in general(CautionKind.VETERINARIAN)


def test_a_known_harm_is_told_with_its_source_and_a_veterinarian():
    collection = collection_of(animal_of("sage", shows={"whirl": "whirl"}))
    claims, voice = told(collection, {"sage": {"whirl": {("+", "whirl"): Fraction(1)}}})
    (caution,) = gene_cautions(collection, claims["sage"])
    assert (
        "whirl: Reported to go with poor balance. Reported in the published literature: A study, 2022. "
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
