"""The page of an animal: claims, offer, cautions, family; what changed, there and in the file for machines."""

import datetime as dt
from dataclasses import replace

import pytest
from conftest import REPOSITORY
from helpers.small_site import animal_page_at, collection, page_at, small_material, whole_site, words_in

from sitegen.content.prices import OfferState
from sitegen.evidence.answers import read_known
from sitegen.evidence.changes import Change, ChangeKind
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.reasons import reasons
from sitegen.exact import parse_fraction
from sitegen.site.animal import AnimalPage, change_fields
from sitegen.site.facts import change_facts
from sitegen.site.genes import GenePage
from sitegen.site.material import folio, told_changes


def test_claims_stand_with_their_odds_and_reasons() -> None:
    young = animal_page_at("litters/2026-x/01.html")
    (hypo,) = young.hidden
    assert "about 33 in 100" in words_in(hypo.headline)
    assert hypo.odds is not None
    assert hypo.odds.filled == 33
    assert "Not proven." in words_in(hypo.explanation)
    assert words_in(young.shows[0].headline).startswith("Shows")


def test_the_strongest_hidden_claims_come_first_with_all_dots_filled_for_what_is_certain_alone() -> None:
    for page in whole_site(small_material()):
        if not isinstance(page.content, AnimalPage):
            continue
        first, hidden = page.content.first, page.content.hidden
        assert len(first) == min(2, len(hidden))
        assert {words_in(each.headline) for each in first} <= {words_in(each.headline) for each in hidden}
        carried = [each.kind == "carries" for each in hidden]
        assert [each.kind == "carries" for each in first] == sorted(carried, reverse=True)[:2]
        for each in first:
            filled = each.odds.filled if each.odds else None
            certain = "for certain: one copy" in words_in(each.headline) or "Tested" in words_in(each.headline)
            assert (filled == 100) is certain, words_in(each.headline)
        chances = [each.odds.filled for each in first if each.odds]
        assert chances == sorted(chances, reverse=True)


def test_who_gives_no_address_but_a_number_is_rung_up() -> None:
    records = collection()
    contact = replace(records.site.contact, email="", phone="+44 1632 960 001")
    records = replace(records, site=replace(records.site, contact=contact))
    found = page_at("litters/2026-x/01.html", whole_site(small_material(records))).content
    assert isinstance(found, AnimalPage)
    assert found.ask[0].href == "tel:+441632960001"


def test_an_offered_animal_has_price_state_and_cautions() -> None:
    young = animal_page_at("litters/2026-x/01.html")
    assert young.offer is not None
    assert (young.offer.label, young.offer.price, young.offer.open) == ("Available", "£140", True)
    assert young.ask[0].href == "mailto:letters@quillmoor.example?subject=No.%2001%20of%20Juniper%20and%20Flint%202026"
    titles = [caution.title for caution in young.cautions]
    assert len(titles) == 5
    assert "Wash your hands." in words_in(young.cautions)


@pytest.mark.parametrize("state", list(OfferState))
def test_what_can_be_had_comes_with_every_general_caution(state: OfferState) -> None:
    records, young = collection(), "2026-x/04"
    offer = replace(records.animals[young].offer, state=state)
    records = replace(records, animals={**records.animals, young: replace(records.animals[young], offer=offer)})
    found = page_at("litters/2026-x/04.html", whole_site(small_material(records))).content
    assert isinstance(found, AnimalPage)
    assert len(found.cautions) == (5 if state in (OfferState.AVAILABLE, OfferState.ON_HOLD) else 0)


def test_a_sold_animal_keeps_its_page_without_a_price() -> None:
    young = animal_page_at("litters/2026-x/04.html")
    assert young.offer is not None
    assert (young.offer.label, young.offer.price, young.offer.open, young.ask) == ("Sold", "", False, ())


def test_a_gene_that_harms_is_told_of_where_it_is_shown_and_on_its_page() -> None:
    harms = words_in(animal_page_at("animals/flint.html").harms)
    assert "sway their heads" in harms
    assert "ask a veterinarian" in harms
    assert animal_page_at("animals/flint.html").cautions == ()
    gene = page_at("genes/corn-snake/wobble.html").content
    assert isinstance(gene, GenePage)
    assert "sway their heads" in words_in(gene.alleles[0].cautions)
    assert animal_page_at("animals/juniper.html").cautions == ()


def test_what_is_not_claimed_is_said() -> None:
    assert "Nothing else is known or claimed" in words_in(animal_page_at("animals/juniper.html").not_known)


def test_family_is_linked() -> None:
    young = animal_page_at("litters/2026-x/01.html")
    assert young.pedigree is not None
    assert [(place.part, words_in(place.who)) for place in young.pedigree.animal.parents] == [
        ("Sire", "Flint ../../animals/flint.html"),
        ("Dam", "Juniper ../../animals/juniper.html"),
    ]
    founder = animal_page_at("animals/juniper.html")
    assert (founder.pedigree, founder.no_pedigree) == (None, "The parents are not recorded.")
    mates = next(group for group in young.related if group.title == "Littermates")
    assert "Sorrel 03.html" in words_in(mates.lines)
    assert "2026-x.html" in words_in(animal_page_at("animals/juniper.html").related)


@pytest.fixture(scope="module")
def demo_changes():
    known, _ = read_known(REPOSITORY / "content")
    assert known is not None
    claims = claims_of(
        known.collection, known.answers, lambda animal, locus: reasons(known.asked, animal, locus), dt.date(2026, 11, 1)
    )
    return told_changes(known.collection, claims)


@pytest.mark.parametrize(
    ("animal", "allele", "kind", "day", "before", "because"),
    [
        ("flint", "hypo", ChangeKind.RULED_OUT, "2024-02-01", "1/3", ("flint",)),
        ("flint", "amel", ChangeKind.PROVED, "2024-07-17", "2/3", ("2024-fennel-flint/05", "2024-fennel-flint/06")),
        ("obsidian", "hypo", ChangeKind.PROVED, "2025-07-14", "2/3", ("2025-juniper-obsidian/03",)),
        ("basalt", "caramel", ChangeKind.MOVED, "2026-04-22", "1/3", ("selenite",)),
        ("chalk", "amel", ChangeKind.RULED_OUT, "2026-02-10", "1/2", ("chalk",)),
        ("cinnabar", "amel", ChangeKind.MOVED, "2026-07-08", "2/3", ()),
        ("tansy", "diffused", ChangeKind.BECAME_VISIBLE, "2024-06-08", "0", ("tansy",)),
        ("2023-juniper-basalt/01", "caramel", ChangeKind.MOVED, "2026-04-22", "1/6", ("selenite",)),
    ],
)  # fmt: skip
def test_the_demonstration_has_a_history(demo_changes, animal, allele, kind, day, before, because):
    (change,) = [each for each in demo_changes[animal] if each.allele == allele]
    assert (change.kind, change.day.isoformat()) == (kind, day)
    assert change.chance_before == parse_fraction(before)
    assert change.because[0].animals == because


def test_the_page_and_the_file_for_machines_tell_the_same():
    because = Reason(Ground.DNA_TEST, ("juniper",))
    change = Change(
        ChangeKind.RULED_OUT, "juniper", "corn-snake", "hypo", "hypo", dt.date(2026, 2, 1), None, None,
        parse_fraction("2/3"), parse_fraction("0"), (because,),
    )  # fmt: skip
    material = replace(small_material(), changes={"juniper": (change,)})
    page = folio(material, "animals/juniper.html")
    animal = material.collection.animals["juniper"]
    (field,) = change_fields(animal, page)
    (fact,) = change_facts(animal, page)
    assert field.label == "Ruled out"
    assert fact["words"] == "".join(span.text for span in field.value)
    assert (fact["date"], fact["before"], fact["after"]) == ("2026-02-01", "2/3", "0")
    assert change_fields(material.collection.animals["flint"], page) == ()
