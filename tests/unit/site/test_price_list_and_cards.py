"""What is printed for a table at a fair: the price list and the cards for tubs."""

import datetime as dt
from dataclasses import replace

import pytest
from helpers.small_site import HERE, animal, collection, small_material, whole_site, words_in

from sitegen.content.animals import Offer
from sitegen.content.collection import Collection
from sitegen.content.prices import OfferState
from sitegen.genetics.loci import Sex, Welfare
from sitegen.site.material import Material
from sitegen.site.paper_fit import SIZES
from sitegen.site.price_list import PriceListPage
from sitegen.site.tub_cards import A_PAGE, A_PART, TubCard, TubCardsPage
from sitegen.words.speech import plain

HARM = "Wobble: Some young sway their heads. Source: A Journal, 2020."


def prices(material: Material | None = None) -> PriceListPage:
    (found,) = [p.content for p in whole_site(material or small_material()) if isinstance(p.content, PriceListPage)]
    return found


def parts(material: Material | None = None) -> list[TubCardsPage]:
    return [p.content for p in whole_site(material or small_material()) if isinstance(p.content, TubCardsPage)]


def cards(material: Material | None = None) -> dict[str, TubCard]:
    return {card.name: card for part in parts(material) for sheet in part.sheets for card in sheet.cards}


def with_animals(*more: object) -> Collection:
    records = collection()
    return replace(records, animals={**records.animals, **{each.id: each for each in more}})  # type: ignore[attr-defined]


def test_what_can_be_had_stands_with_its_line_its_price_and_its_day() -> None:
    material = small_material()
    (group,) = prices(material).groups
    assert [(words_in(row.name).split(" litters")[0], row.price, row.goes) for row in group.rows] == [
        ("No. 01 of Juniper and Flint 2026 ../litters/2026-x/01.html", "£140", "Can go from December 1, 2026"),
        ("No. 02 of Juniper and Flint 2026 ../litters/2026-x/02.html", "price on request", "On hold"),
    ]
    assert [words_in(row.line).strip() for row in group.rows] == [
        plain(material.lines[each].whole()) for each in ("2026-x/01", "2026-x/02")
    ]
    assert "November 1, 2026" in words_in(prices(material).stated)


def test_a_gene_that_harms_is_marked_and_told_at_the_foot() -> None:
    offer = Offer(state=OfferState.AVAILABLE, place=HERE)
    page = prices(small_material(with_animals(animal("reed", "Reed", Sex.MALE, "wobble", offer=offer))))
    marks = {words_in(row.name).split()[0]: row.marks for group in page.groups for row in group.rows}
    assert marks == {"No.": (), "Reed": ("1",)}
    assert [(note.mark, note.text.casefold()) for note in page.notes] == [("1", HARM.casefold())]


def test_the_usual_cautions_and_the_address_of_today_are_on_the_list() -> None:
    page = prices()
    told = " ".join(page.cautions)
    assert all(
        word in told for word in ("Salmonella", "law", "veterinarian", "sending live animals", "Wash your hands")
    )
    assert page.code is not None
    assert page.code.address == "https://quillmoor.example/snakes/available.html"
    assert page.code.address in page.today


def test_a_list_of_nothing_says_so_and_warns_of_nothing() -> None:
    records = collection()
    none = {key: replace(each, offer=None) for key, each in records.animals.items()}
    page = prices(small_material(replace(records, animals=none)))
    assert (page.groups, page.cautions) == ((), ())
    assert words_in(page.nothing).startswith("Nothing is available now.")


def test_without_an_address_there_is_no_code_and_no_word_of_one() -> None:
    records = collection()
    material = small_material(replace(records, site=replace(records.site, address="")))
    assert (prices(material).code, prices(material).today) == (None, "")
    assert {card.code for card in cards(material).values()} == {None}


def test_a_card_says_first_what_the_animal_is() -> None:
    material = small_material()
    card = cards(material)["No. 01 of Juniper and Flint 2026"]
    assert card.line == plain(material.lines["2026-x/01"].whole()) + "."
    assert [words_in(fact) for fact in card.facts] == [
        "Hatched July 18, 2026 ", "Available £140 ", "Stated as of November 1, 2026 ",
    ]  # fmt: skip
    assert card.code is not None
    assert card.code.address == "https://quillmoor.example/snakes/litters/2026-x/01.html"
    assert card.notes == ()


def test_who_lives_here_has_a_card_and_nobody_else() -> None:
    gone = animal("gone", "Gone", Sex.MALE, died=collection().animals["sorrel"].born)
    sold = animal("away", "Away", Sex.MALE, offer=Offer(state=OfferState.SOLD, place=HERE))
    material = small_material(with_animals(gone, sold))
    (page,) = parts(material)
    assert [(sheet.title, [card.name for card in sheet.cards]) for sheet in page.sheets] == [
        ("Available", ["No. 01 of Juniper and Flint 2026", "No. 02 of Juniper and Flint 2026"]),
        ("Kept", ["Juniper", "Flint", "Sorrel"]),
    ]
    assert page.parts == ()


def test_a_card_tells_of_a_gene_that_harms() -> None:
    assert cards()["Flint"].notes == (HARM,)
    assert cards()["Juniper"].notes == ()


def test_a_harm_that_has_no_room_is_told_in_short_and_never_cut() -> None:
    records = collection()
    (kind,) = records.species.values()
    long = Welfare("Some young sway their heads. " * 30, "A Journal, 2020")
    loci = tuple(
        replace(locus, alleles=tuple(replace(a, welfare=long) if a.welfare else a for a in locus.alleles))
        for locus in kind.genome.loci
    )
    species = {kind.id: replace(kind, genome=replace(kind.genome, loci=loci))}
    (note,) = cards(small_material(replace(records, species=species)))["Flint"].notes
    assert note.startswith("Wobble: a gene with a known harm.")


def test_each_sheet_has_eight_cards_and_a_part_has_so_many_sheets() -> None:
    count = A_PAGE * A_PART + 1
    many = [animal(f"a{n:03d}", f"Name {n}", Sex.FEMALE, "amel") for n in range(count)]
    found = parts(small_material(with_animals(*many), pictured=False))
    sizes = [len(sheet.cards) for part in found for sheet in part.sheets]
    assert len(found) == 2
    assert set(sizes[1:-1]) == {A_PAGE}
    assert sum(sizes) == count + len(cards())
    told = [[(item.text, item.href.rpartition("/")[2], item.here) for item in part.parts] for part in found]
    assert told == [
        [("1", "tub-cards.html", True), ("2", "tub-cards-2.html", False)],
        [("1", "tub-cards.html", False), ("2", "tub-cards-2.html", True)],
    ]


def test_nobody_has_a_card_where_nobody_is() -> None:
    records = replace(collection(), animals={}, litters={}, projects={})
    (page,) = parts(small_material(records, pictured=False))
    assert (page.sheets, page.nobody) == ((), "No animal is recorded yet.")


def test_neither_is_listed_nor_linked() -> None:
    pages = whole_site(small_material())
    printed = [page for page in pages if page.address.startswith("print/")]
    assert [(page.address, page.head.robots, page.listed) for page in printed] == [
        ("print/price-list.html", "noindex", False), ("print/tub-cards.html", "noindex", False),
    ]  # fmt: skip
    others = [page for page in pages if page not in printed]
    assert not [page.address for page in others if "print/" in words_in(page.content) + words_in(page.frame)]


@pytest.mark.parametrize(("n_offers", "largest"), [(1, True), (20, True), (60, False)])
def test_the_more_is_offered_the_smaller_is_the_type(n_offers: int, *, largest: bool) -> None:
    offer, name = Offer(state=OfferState.AVAILABLE, place=HERE), "Somebody whose name takes a second line"
    many = [animal(f"a{n:03d}", f"{name} {n}", Sex.FEMALE, "amel", offer=offer) for n in range(n_offers)]
    size = prices(small_material(with_animals(*many), pictured=False)).type_size
    assert (size == SIZES[0][0]) is largest


def test_the_day_of_the_statement_is_the_one_asked_for() -> None:
    material = replace(small_material(), as_of=dt.date(2026, 12, 24))
    assert "December 24, 2026" in words_in(prices(material).stated)
    assert prices(material).groups[0].rows[0].goes == "Can go now"
