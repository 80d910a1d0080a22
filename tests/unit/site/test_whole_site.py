"""Every page of a small collection."""

from dataclasses import fields, is_dataclass, replace

from helpers.small_site import animal, collection, page_at, small_material, whole_site, words_in

from sitegen.genetics.loci import Sex
from sitegen.site.start_page import StartPage
from sitegen.site.whole_site import every_page


def test_every_record_has_its_page() -> None:
    addresses = [p.address for p in whole_site(small_material())]
    assert addresses == [
        "index.html", "available.html", "collection.html", "litters.html", "genes.html", "odds.html", "projects.html",
        "search.html", "animals/juniper.html", "animals/flint.html", "litters/2026-x/03.html", "litters/2026-x/01.html",
        "litters/2026-x/02.html", "litters/2026-x/04.html", "litters/2026-x/01-paper.html",
        "litters/2026-x/02-paper.html", "litters/2026-x/04-paper.html", "available/corn-snake/amel.html",
        "available/corn-snake/hypo.html", "litters/2026-x.html", "seasons/2026.html",
        "animals/juniper-pictures.html", "litters/2026-x/01-pictures.html", "journal.html",
        "genes/corn-snake/amel.html",
        "genes/corn-snake/hypo.html", "genes/corn-snake/wobble.html", "projects/sun.html", "about.html",
        "page-litters.html", "print/price-list.html", "print/tub-cards.html", "404.html",
    ]  # fmt: skip


def test_models_are_plain_values() -> None:
    def check(value: object, path: str) -> None:
        if is_dataclass(value) and not isinstance(value, type):
            for field in fields(value):
                check(getattr(value, field.name), f"{path}.{field.name}")
        elif isinstance(value, tuple):
            for item in value:
                check(item, path)
        else:
            assert value is None or isinstance(value, str | int | bool | dict), path

    for found in whole_site(small_material()):
        check(found, found.address)


def test_same_records_same_pages() -> None:
    assert whole_site(small_material()) == whole_site(small_material())


def test_every_page_with_an_offer_has_the_cautions() -> None:
    for address in ("index.html", "available.html", "litters/2026-x.html", "litters/2026-x/02.html"):
        assert "Salmonella" in words_in(page_at(address).content), address
    assert "Salmonella" not in words_in(page_at("litters/2026-x/04.html").content)


def test_without_pictures_every_page_still_stands() -> None:
    pages = whole_site(small_material(pictured=False))
    start = page_at("index.html", pages).content
    assert isinstance(start, StartPage)
    assert start.lead is None
    without = {address for address in every_page(small_material()) if not address.endswith("-pictures.html")}
    assert {page.address for page in pages} == without


def test_the_page_not_found_links_from_the_root_of_the_host() -> None:
    missing = page_at("404.html")
    assert missing.frame.root == missing.frame.home.removesuffix("index.html") == "/snakes/"
    assert not missing.listed
    assert missing.head.robots == "noindex"


def test_an_animal_whose_id_needs_encoding_is_linked_by_encoded_address() -> None:
    records = collection()
    odd = {**records.animals, "sälbel": animal("sälbel", "Säbel", Sex.MALE)}
    pages = whole_site(small_material(replace(records, animals=odd)))
    assert page_at("animals/sälbel.html", pages)
    assert "animals/s%C3%A4lbel.html" in words_in(page_at("collection.html", pages).content)
