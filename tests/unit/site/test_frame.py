"""What a page says about itself to machines."""

from dataclasses import replace

from helpers.small_site import collection, page_at, small_material, whole_site


def test_public_address_makes_canonical_links_and_cards() -> None:
    head = page_at("litters/2026-x/01.html").head
    assert head.canonical == "https://quillmoor.example/snakes/litters/2026-x/01.html"
    assert head.card is not None
    assert head.card.image.startswith("https://quillmoor.example/snakes/pictures/")
    assert page_at("index.html").head.canonical == "https://quillmoor.example/snakes/"


def test_without_a_public_address_there_is_neither() -> None:
    records = collection()
    local = replace(records, site=replace(records.site, address=""))
    heads = [p.head for p in whole_site(small_material(local))]
    assert [(head.canonical, head.card) for head in heads] == [("", None)] * len(heads)
