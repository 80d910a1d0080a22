"""Photographs on pages."""

from helpers.small_site import animal_page_at, collection, small_material, words_in

from sitegen.site.material import folio
from sitegen.site.parts import text_of
from sitegen.site.plates import parent_plates
from sitegen.words.speech import plain


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


def test_a_young_shows_its_parents_each_with_its_part_and_its_look() -> None:
    young = next(animal for animal in collection().animals.values() if animal.is_young)
    material = small_material()
    shown = parent_plates(material.collection.animals[young.id], folio(material, "animals/x.html"))
    assert [text_of(plate.caption) for plate in shown] == ["Dam: Juniper", "Sire: Flint"]
    assert [plate.note for plate in shown] == [
        plain(material.lines[parent].seen()) for parent in (young.dam or "", young.sires[0][0])
    ]
