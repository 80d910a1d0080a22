"""What stands on a share picture: true, lasting, and nothing that is not on the page."""

from dataclasses import asdict, replace

from helpers.small_site import HERE, collection, small_material, whole_site

from sitegen.content.animals import Offer
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.photos.share_pictures import ShareCard
from sitegen.site.material import Material, folio
from sitegen.site.parts import Page
from sitegen.site.share import animal_share, every_share, gene_share, litter_share, project_share


def card(name: str, material: Material | None = None) -> ShareCard:
    material = material or small_material()
    return animal_share(material.collection.animals[name], folio(material, "index.html"))


def page(address: str, material: Material) -> Page:
    return next(page for page in whole_site(material) if page.address == address)


def test_an_animal_is_told_by_name_and_by_what_was_seen() -> None:
    found = card("juniper")
    assert (found.kicker, found.name) == ("Corn snake", "Juniper")
    assert (found.line, found.foot, found.mark) == ("Amelanistic, female, 2021", "Quillmoor Snakes", "Drawing")
    newest = small_material().pictures["animals/juniper/b.jpg"]
    assert found.photo in {variant.file_name for variant in newest.of_format("jpeg")}


def test_odds_prices_and_states_that_pass_do_not_stand_on_it() -> None:
    for name in small_material().collection.animals:
        told = " ".join(asdict(card(name)).values())
        assert "in 100" not in told
        assert "possible" not in told
        assert "140" not in told
        assert "old" not in told.lower().split()
        assert "on hold" not in told.lower()


def test_an_offer_is_told_with_the_day_on_which_it_was_made() -> None:
    assert card("2026-x/01").foot == "Quillmoor Snakes\nOffered on October 1, 2026"
    assert card("2026-x/04").foot == "Quillmoor Snakes"
    records = collection()
    undated = replace(records.animals["2026-x/01"], offer=Offer(state=OfferState.AVAILABLE, place=HERE))
    material = small_material(replace(records, animals={**records.animals, undated.id: undated}))
    assert card("2026-x/01", material).foot == "Quillmoor Snakes"


def test_a_project_is_told_by_its_goal_and_borrows_a_photo_of_its_animals() -> None:
    material = small_material()
    found = project_share(material.collection.projects["sun"], folio(material, "index.html"))
    assert found.name == "Sunglow"
    assert found.line.startswith("Goal: ")
    assert found.photo == card("juniper").photo


def test_the_page_names_its_picture_by_its_public_address_and_says_what_stands_on_it() -> None:
    material = small_material()
    shown = page("animals/juniper.html", material).head.card
    assert shown is not None
    assert shown.image == "https://quillmoor.example/snakes/" + card("juniper").address
    assert (shown.image_width, shown.image_height) == (1200, 630)
    assert shown.image_alt == "Juniper. Amelanistic, female, 2021"


def test_every_page_that_is_sent_on_has_one_and_they_are_all_made_and_no_others() -> None:
    material = small_material()
    shown = {each.address: each.head.card for each in whole_site(material)}
    assert [address for address, card in shown.items() if card is None] == [
        "print/price-list.html", "print/tub-cards.html", "404.html",
    ]  # fmt: skip
    images = {card.image.removeprefix(material.collection.site.address) for card in shown.values() if card}
    assert images == set(every_share(material))


def test_no_two_pages_have_the_same_description() -> None:
    told = [each.head.description for each in whole_site(small_material()) if each.head.card]
    assert all(told)
    assert sorted(told) == sorted(set(told))


def test_a_litter_is_told_by_its_parents_and_the_day_on_which_it_came() -> None:
    material = small_material()
    found = litter_share(material.collection.litters["2026-x"], folio(material, "index.html"))
    assert found.kicker == "Clutch, corn snake"
    assert found.line.startswith("Dam ")
    assert "in 100" not in found.line


def test_a_gene_is_told_by_how_it_is_inherited_with_an_animal_that_shows_it() -> None:
    material = small_material()
    species = material.collection.species["corn-snake"]
    at = folio(material, "index.html")
    found = gene_share(species, species.genome.loci[0], at)
    assert (found.name, found.photo) == ("Amelanistic", card("juniper").photo)
    assert found.line == "An animal needs two copies to show it; with one copy it carries it unseen."
    assert gene_share(species, species.genome.loci[1], at).photo == ""


def test_without_a_public_address_there_is_none() -> None:
    material = small_material()
    site = replace(material.collection.site, address="")
    plain = replace(material, collection=replace(material.collection, site=site))
    assert every_share(plain) == {}
    assert page("animals/juniper.html", plain).head.card is None


def test_a_day_older_it_is_the_same_picture() -> None:
    material = small_material()
    later = replace(material, as_of=material.as_of.replace(year=2027))
    assert card("juniper", later) == card("juniper", material)


def test_another_photo_another_address() -> None:
    records = collection()
    juniper = records.animals["juniper"]
    fewer = replace(juniper, photos=juniper.photos[:1], born=PartialDate(2021, 7, 14))
    other = small_material(replace(records, animals={**records.animals, "juniper": fewer}))
    assert card("juniper", other).address != card("juniper").address


def test_a_gene_that_harms_says_so_on_its_picture() -> None:
    material = small_material()
    species = material.collection.species["corn-snake"]
    found = gene_share(species, species.genome.loci[2], folio(material, "index.html"))
    assert found.name == "Wobble"
    assert found.line.endswith("A gene with a known harm.")
