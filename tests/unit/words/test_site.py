from dataclasses import fields

from helpers.small_collections import species_of

from sitegen.content.animals import OfferState
from sitegen.content.species import Births
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.words.site import (
    Labels,
    animals_count,
    labels,
    nothing_available,
    nothing_else,
    offer_state,
    offers_count,
    ready_text,
    sex_words,
    since_text,
)
from sitegen.words.species_words import birth_words


def test_every_label_has_words():
    words = labels()
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
    assert ("clutch", "hatchling", "hatched") == (eggs.litter, eggs.one, eggs.came)
    assert ("litter", "newborn", "born") == (live.litter, live.one, live.came)
