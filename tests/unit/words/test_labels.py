from dataclasses import fields, replace
from fractions import Fraction

from helpers.small_collections import animal_of, collection_of, species_of, told

from sitegen.content.litters import Litter
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OfferState
from sitegen.content.species import Births
from sitegen.content.values import PartialDate
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import (
    Labels,
    alt_text,
    animals_count,
    litter_alt_text,
    nothing_available,
    nothing_else,
    offer_state,
    offers_count,
    ready_text,
    sex_words,
    since_text,
)


def test_every_label_has_words():
    words = Labels()
    assert all(getattr(words, field.name) for field in fields(Labels))


def test_states_of_offers_are_trade_words():
    assert ["Available", "On hold", "Sold", "Not for sale"] == [offer_state(state) for state in OfferState]


def test_an_empty_page_of_offers_says_so():
    assert "Nothing is available now." == nothing_available() == offers_count(0)
    assert "1 animal is available." == offers_count(1)
    assert "3 animals are available." == offers_count(3)


def test_what_is_not_named_is_not_promised_to_be_absent():
    assert "“Not known to carry” does not mean “does not carry”." in nothing_else()


def test_dates_of_offers():
    assert "since 4 October 2026" == since_text(PartialDate(2026, 10, 4), "en-GB")
    assert "can go from 1 November 2026" == ready_text(PartialDate(2026, 11, 1), "en-GB")
    assert "can go now" == ready_text(None)


def test_counts_and_sexes():
    assert ["1 animal", "14 animals"] == [animals_count(1), animals_count(14)]
    assert ["female", "male", "sex not known"] == [sex_words(sex) for sex in Sex]


def test_eggs_hatch_in_clutches_and_live_young_are_born_in_litters():
    eggs, live = birth_words(species_of(births=Births.EGGS)), birth_words(species_of(births=Births.LIVE))
    assert ("clutch", "hatchlings", "hatched") == (eggs.litter, eggs.many, eggs.came)
    assert ("litter", "newborns", "born") == (live.litter, live.many, live.came)


SURE = Fraction(1)
JUNIPERS = Litter(
    id="2026-j",
    name="Juniper 2026",
    species="corn-snake",
    place=Place("litter.yaml"),
    dam=None,
    sires=(),
    young=(),
    born=PartialDate(2026, 7, 9),
)


def text_of(photo: PhotoRecord, animal, known=None) -> str:
    claims, voice = told(collection_of(animal), {animal.id: known or {}})
    return alt_text(photo, animal, claims[animal.id], voice)


def test_it_names_animal_looks_and_age_at_the_photo():
    animal = animal_of(
        "juniper",
        sex=Sex.FEMALE,
        born=PartialDate(2021, 7, 14),
        shows={"amel": "amel", "motley-stripe": "striped-motley"},
    )
    known = {"amel": {("amel", "amel"): SURE}, "motley-stripe": {("motley", "stripe"): SURE}}
    photo = PhotoRecord("animals/juniper/a.jpg", PartialDate(2022, 9, 15))
    wanted = "Juniper, a female corn snake showing amelanistic and striped motley, 14 months old"
    assert wanted == text_of(photo, animal, known)


def test_a_drawing_is_called_a_drawing():
    photo = PhotoRecord("animals/juniper/a.jpg", None, drawing=True)
    assert "Drawing of Juniper, a corn snake" == text_of(photo, animal_of("juniper"))


def test_what_is_hidden_is_not_in_the_picture():
    known = {"hypo": {("+", "hypo"): SURE}}
    assert "Juniper, a corn snake" == text_of(PhotoRecord("a.jpg", None), animal_of("juniper"), known)


def test_an_age_is_only_told_when_both_dates_are_known():
    photo = PhotoRecord("a.jpg", PartialDate(2022, 9, 15))
    assert "old" not in text_of(photo, animal_of("juniper", born=None))
    before = PhotoRecord("a.jpg", PartialDate(2021, 1, 1))
    assert "old" not in text_of(before, animal_of("juniper", born=PartialDate(2022, 1, 1)))


def test_a_whole_litter():
    assert "The young of Juniper 2026" == litter_alt_text(PhotoRecord("a.jpg", None), JUNIPERS)
    drawing = PhotoRecord("a.jpg", None, drawing=True)
    assert "Drawing of the young of Juniper 2026" == litter_alt_text(drawing, JUNIPERS)


def test_no_young_are_seen_on_a_photograph_of_eggs():
    eggs = PhotoRecord("a.jpg", PartialDate(2026, 5, 2))
    assert "Photograph for Juniper 2026" == litter_alt_text(eggs, JUNIPERS)
    assert "Photograph for Juniper 2026" == litter_alt_text(PhotoRecord("a.jpg", None), replace(JUNIPERS, born=None))
