"""Photographs on pages."""

from helpers.small_site import animal_page_at, words_in


def test_photos_stand_in_time_order_with_ages_and_the_newest_leads() -> None:
    juniper = animal_page_at("animals/juniper.html")
    told = [words_in(plate.caption) for plate in juniper.strip]
    assert told == [
        "9 months old, May 1, 2022 juniper-pictures.html#photograph-1",
        "3 years old, June 12, 2025 juniper-pictures.html#photograph-2",
    ]
    assert juniper.lead is not None
    assert juniper.lead.picture == juniper.strip[-1].picture
    assert animal_page_at("litters/2026-x/01.html").strip == ()
