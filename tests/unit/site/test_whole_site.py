"""Every page of a small collection."""

from dataclasses import fields, is_dataclass, replace
from fractions import Fraction

import pytest
from helpers.small_site import animal, collection, small_material, whole_site

from sitegen.content.prices import OfferState
from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.site.animal import AnimalPage
from sitegen.site.genes import GenePage
from sitegen.site.lists import AvailablePage
from sitegen.site.litter import LitterPage
from sitegen.site.parts import Page
from sitegen.site.start import StartPage
from sitegen.site.whole_site import every_page


def page(address: str, pages: tuple[Page, ...] | None = None) -> Page:
    return next(p for p in pages or whole_site(small_material()) if p.address == address)


def content(address: str) -> AnimalPage:
    found = page(address).content
    assert isinstance(found, AnimalPage)
    return found


def words(value: object) -> str:
    """All words of a model, to look for what must or must not be there."""
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return " ".join(words(item) for item in value)
    if is_dataclass(value):
        return " ".join(words(getattr(value, field.name)) for field in fields(value))
    return ""


def test_every_record_has_its_page() -> None:
    addresses = [p.address for p in whole_site(small_material())]
    assert addresses == [
        "index.html", "available.html", "collection.html", "litters.html", "genes.html", "odds.html", "projects.html",
        "search.html", "animals/juniper.html", "animals/flint.html", "litters/2026-x/03.html", "litters/2026-x/01.html",
        "litters/2026-x/02.html", "litters/2026-x/04.html", "litters/2026-x/01-paper.html",
        "litters/2026-x/02-paper.html", "litters/2026-x/04-paper.html", "available/corn-snake/amel.html",
        "available/corn-snake/hypo.html", "litters/2026-x.html",
        "animals/juniper-pictures.html", "litters/2026-x/01-pictures.html", "journal.html",
        "genes/corn-snake/amel.html",
        "genes/corn-snake/hypo.html", "genes/corn-snake/wobble.html", "projects/sun.html", "about.html",
        "page-litters.html", "404.html",
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


def test_claims_stand_with_their_odds_and_reasons() -> None:
    young = content("litters/2026-x/01.html")
    (hypo,) = young.hidden
    assert "about 33 in 100" in words(hypo.headline)
    assert hypo.odds is not None
    assert hypo.odds.filled == 33
    assert "Not proven." in words(hypo.explanation)
    assert words(young.shows[0].headline).startswith("Shows")


def test_an_offered_animal_has_price_state_and_cautions() -> None:
    young = content("litters/2026-x/01.html")
    assert young.offer is not None
    assert (young.offer.label, young.offer.price, young.offer.open) == ("Available", "£140", True)
    assert young.ask[0].href == "mailto:letters@quillmoor.example?subject=No.%2001%20of%20Juniper%20and%20Flint%202026"
    titles = [caution.title for caution in young.cautions]
    assert len(titles) == 5
    assert "Wash your hands." in words(young.cautions)


@pytest.mark.parametrize("state", list(OfferState))
def test_what_can_be_had_comes_with_every_general_caution(state: OfferState) -> None:
    records, young = collection(), "2026-x/04"
    offer = replace(records.animals[young].offer, state=state)
    records = replace(records, animals={**records.animals, young: replace(records.animals[young], offer=offer)})
    found = page("litters/2026-x/04.html", whole_site(small_material(records))).content
    assert isinstance(found, AnimalPage)
    assert len(found.cautions) == (5 if state in (OfferState.AVAILABLE, OfferState.ON_HOLD) else 0)


def test_a_sold_animal_keeps_its_page_without_a_price() -> None:
    young = content("litters/2026-x/04.html")
    assert young.offer is not None
    assert (young.offer.label, young.offer.price, young.offer.open, young.ask) == ("Sold", "", False, ())


def test_a_gene_that_harms_is_told_of_where_it_is_shown_and_on_its_page() -> None:
    harms = words(content("animals/flint.html").harms)
    assert "sway their heads" in harms
    assert "ask a veterinarian" in harms
    assert content("animals/flint.html").cautions == ()
    gene = page("genes/corn-snake/wobble.html").content
    assert isinstance(gene, GenePage)
    assert "sway their heads" in words(gene.alleles[0].cautions)
    assert content("animals/juniper.html").cautions == ()


def test_every_page_with_an_offer_has_the_cautions() -> None:
    for address in ("index.html", "available.html", "litters/2026-x.html", "litters/2026-x/02.html"):
        assert "Salmonella" in words(page(address).content), address
    assert "Salmonella" not in words(page("litters/2026-x/04.html").content)


def test_what_a_keeper_said_is_never_listed_as_known() -> None:
    material = small_material()
    told = [replace(c, kind=ClaimKind.CARRIES, chance=Fraction(1), basis=Basis.PREVIOUS_KEEPER, hangs_on=("juniper",))
            if c.locus == "hypo" else c for c in material.claims["juniper"]]  # fmt: skip
    pages = whole_site(replace(material, claims={**material.claims, "juniper": tuple(told)}))
    gene = page("genes/corn-snake/hypo.html", pages).content
    assert isinstance(gene, GenePage)
    assert "said to carry" in words(gene.carrying)
    assert "1 said to carry it" in words(page("genes.html", pages).content)


def test_what_is_not_claimed_is_said() -> None:
    assert "Nothing else is known or claimed" in words(content("animals/juniper.html").not_known)


def test_photos_stand_in_time_order_with_ages_and_the_newest_leads() -> None:
    juniper = content("animals/juniper.html")
    told = [words(plate.caption) for plate in juniper.strip]
    assert told == [
        "9 months old, May 1, 2022 juniper-pictures.html#photograph-1",
        "3 years old, June 12, 2025 juniper-pictures.html#photograph-2",
    ]
    assert juniper.lead is not None
    assert juniper.lead.picture == juniper.strip[-1].picture
    assert content("litters/2026-x/01.html").strip == ()


def test_without_pictures_every_page_still_stands() -> None:
    pages = whole_site(small_material(pictured=False))
    start = page("index.html", pages).content
    assert isinstance(start, StartPage)
    assert start.lead is None
    without = {address for address in every_page(small_material()) if not address.endswith("-pictures.html")}
    assert {page.address for page in pages} == without


def test_family_is_linked() -> None:
    young = content("litters/2026-x/01.html")
    assert [(place.part, words(place.who)) for place in young.pedigree[:1]] == [
        ("Dam", "Juniper ../../animals/juniper.html")
    ]
    mates = next(group for group in young.related if group.title == "Littermates")
    assert "Sorrel 03.html" in words(mates.lines)
    assert "2026-x.html" in words(content("animals/juniper.html").related)


def test_offers_stand_by_state() -> None:
    available = page("available.html").content
    assert isinstance(available, AvailablePage)
    assert [entry.id for group in available.groups for entry in group.entries] == ["2026-x/01"]
    assert [entry.id for entry in available.held] == ["2026-x/02"]
    assert [entry.id for entry in available.sold] == ["2026-x/04"]
    assert available.cautions


def test_nothing_available_is_said() -> None:
    records = collection()
    unsold = {k: replace(a, offer=None) for k, a in records.animals.items()}
    found = page("available.html", whole_site(small_material(replace(records, animals=unsold)))).content
    assert isinstance(found, AvailablePage)
    assert found.groups == ()
    assert words(found.intro) == "Nothing is available now. "


def test_an_animal_that_died_is_offered_to_nobody() -> None:
    records = collection()
    from_01 = records.animals["2026-x/01"]
    assert from_01.born is not None
    died = {**records.animals, "2026-x/01": replace(from_01, died=from_01.born)}
    found = page("available.html", whole_site(small_material(replace(records, animals=died)))).content
    assert isinstance(found, AvailablePage)
    assert found.groups == ()


def test_a_litter_lists_young_under_their_numbers() -> None:
    found = page("litters/2026-x.html").content
    assert isinstance(found, LitterPage)
    assert [entry.name for entry in found.young] == ["No. 01", "No. 02", "Sorrel", "No. 04"]
    assert "2 more show" in words(found.others)
    assert [entry.offer.state if entry.offer else None for entry in found.young] == [
        OfferState.AVAILABLE, OfferState.ON_HOLD, None, OfferState.SOLD,
    ]  # fmt: skip


def test_a_gene_page_lists_who_shows_and_may_carry_it() -> None:
    gene = page("genes/corn-snake/hypo.html").content
    assert isinstance(gene, GenePage)
    assert words(gene.perhaps[0]).startswith("Juniper ../../animals/juniper.html")
    assert "about 67 in 100" in words(gene.perhaps[0])
    assert "not the same as" in words(gene.alleles[0].notes)
    assert "04" not in words(gene.perhaps)


def test_the_page_not_found_links_from_the_root_of_the_host() -> None:
    missing = page("404.html")
    assert missing.frame.root == missing.frame.home.removesuffix("index.html") == "/snakes/"
    assert not missing.listed
    assert missing.head.robots == "noindex"


def test_public_address_makes_canonical_links_and_cards() -> None:
    head = page("litters/2026-x/01.html").head
    assert head.canonical == "https://quillmoor.example/snakes/litters/2026-x/01.html"
    assert head.card is not None
    assert head.card.image.startswith("https://quillmoor.example/snakes/pictures/")
    assert page("index.html").head.canonical == "https://quillmoor.example/snakes/"


def test_without_a_public_address_there_is_neither() -> None:
    records = collection()
    local = replace(records, site=replace(records.site, address=""))
    heads = [p.head for p in whole_site(small_material(local))]
    assert [(head.canonical, head.card) for head in heads] == [("", None)] * len(heads)


def test_an_animal_whose_id_needs_encoding_is_linked_by_encoded_address() -> None:
    records = collection()
    odd = {**records.animals, "sälbel": animal("sälbel", "Säbel", Sex.MALE)}
    pages = whole_site(small_material(replace(records, animals=odd)))
    assert page("animals/sälbel.html", pages)
    assert "animals/s%C3%A4lbel.html" in words(page("collection.html", pages).content)
