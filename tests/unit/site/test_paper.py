"""The buyer's paper."""

from dataclasses import replace

from helpers.papers import YOUNG, facts, paper, papers, with_animals
from helpers.small_site import HERE, animal, collection, site, small_material

from sitegen.content.animals import Offer
from sitegen.content.prices import OfferState
from sitegen.genetics.loci import Sex
from sitegen.site.animal import animal_page
from sitegen.site.material import folio


def test_every_animal_that_is_or_was_offered_has_a_paper_and_no_other() -> None:
    assert set(papers(small_material())) == {"2026-x/01", "2026-x/02", "2026-x/04"}
    flint = replace(collection().animals["flint"], offer=Offer(state=OfferState.NOT_FOR_SALE, place=HERE))
    assert "flint" not in papers(small_material(with_animals(collection(), flint=flint)))


def test_a_paper_never_takes_the_address_of_an_animal() -> None:
    offer = Offer(state=OfferState.AVAILABLE, place=HERE)
    fern = animal("fern", "Fern", Sex.MALE, offer=offer)
    other = animal("fern-paper", "Other", Sex.MALE)
    material = small_material(with_animals(collection(), **{"fern": fern, "fern-paper": other}))
    assert papers(material)["fern"] == "animals/fern-paper-paper.html"


def test_the_animals_page_leads_to_its_paper() -> None:
    material = small_material()
    page = animal_page(material.collection.animals[YOUNG], folio(material, "litters/2026-x/01.html"))
    assert [span.href for span in page.paper] == ["01-paper.html"]
    juniper = animal_page(material.collection.animals["juniper"], folio(material, "animals/juniper.html"))
    assert juniper.paper == ()


def test_the_paper_states_who_what_when_and_from_which_records() -> None:
    page = paper()
    label = {field.label: "".join(span.text for span in field.value) for field in (*page.label, *page.breeder)}
    assert label["Species"] == "Corn snake (Pantherophis guttatus)"
    assert label["Hatched"] == "July 18, 2026"
    assert (label["Dam"], label["Sire"]) == ("Juniper", "Flint")
    assert label["Bred or kept by"] == "Quillmoor Snakes"
    assert label["Version"] == facts()["record"]
    assert label["Stated as of"] == "November 1, 2026"
    assert page.later.endswith("animal’s page: https://quillmoor.example/snakes/litters/2026-x/01.html")
    assert any("Salmonella" in caution for caution in page.cautions)
    assert "Wash your hands." in page.cautions


def test_a_sold_animal_keeps_every_caution() -> None:
    assert any("Salmonella" in caution for caution in paper(animal_id="2026-x/04").cautions)


def test_a_code_is_drawn_only_for_a_site_with_a_public_address() -> None:
    assert paper().code is not None
    assert paper().code.address == "https://quillmoor.example/snakes/litters/2026-x/01.html"  # type: ignore[union-attr]
    private = replace(collection(), site=replace(site(), address=""))
    material = small_material(private)
    assert paper(material).code is None
    assert paper(material).later.endswith("on the animal’s page.")
    assert facts(material)["animal"]["page"] is None  # type: ignore[index]


def test_an_address_that_no_telephone_could_read_gets_no_code_and_stands_in_words() -> None:
    long = replace(collection(), site=replace(site(), address=f"https://quillmoor.example/{'long' * 70}/"))
    page = paper(small_material(long))
    assert page.code is None
    assert "longlonglong" in page.later


def test_claims_on_paper_have_no_links() -> None:
    page = paper()
    lines = [line for c in (*page.shows, *page.hidden) for line in (c.headline, *c.explanation, c.basis)]
    assert lines
    assert not [span for line in lines for span in line if span.href]
