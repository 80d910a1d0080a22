"""Where pages stand, and relative links."""

import pytest

from sitegen.site.addresses import (
    OWN_PAGES,
    Linker,
    animal_address,
    colliding,
    free_address,
    gene_address,
    relative,
    root_path,
)
from sitegen.words.speech import Link, Target


@pytest.mark.parametrize(
    ("source", "target", "link"),
    [
        ("index.html", "collection.html", "collection.html"),
        ("index.html", "animals/juniper.html", "animals/juniper.html"),
        ("animals/juniper.html", "index.html", "../index.html"),
        ("animals/juniper.html", "animals/flint.html", "flint.html"),
        ("litters/2026-x/03.html", "litters/2026-x.html", "../2026-x.html"),
        ("litters/2026-x/03.html", "genes/corn-snake/amel.html", "../../genes/corn-snake/amel.html"),
        ("genes.html", "genes.html#corn-snake", "#corn-snake"),
        ("genes.html", "genes.html", "genes.html"),
        ("", "animals/juniper.html", "animals/juniper.html"),
    ],
)
def test_links_are_relative_to_the_page(source: str, target: str, link: str) -> None:
    assert relative(source, target) == link


def test_characters_of_other_languages_are_percent_encoded_in_links_only() -> None:
    address = animal_address("säbel")
    assert address == "animals/säbel.html"
    assert relative("index.html", address) == "animals/s%C3%A4bel.html"
    assert relative("index.html", "animals/a b#c?.html") == "animals/a%20b#c%3F.html"


def test_a_colon_in_an_id_is_no_scheme() -> None:
    assert relative("animals/x.html", "animals/javascript:1.html") == "javascript%3A1.html"


def test_a_promoted_young_keeps_its_address() -> None:
    assert animal_address("2026-x/03") == animal_address("sorrel", "2026-x", "03") == "litters/2026-x/03.html"


def test_free_pages_never_take_the_place_of_ours() -> None:
    taken = [free_address(own.removesuffix(".html")) for own in OWN_PAGES]
    assert not set(taken) & set(OWN_PAGES)
    assert len({*taken, *(free_address(f"page-{own.removesuffix('.html')}") for own in OWN_PAGES)}) == 2 * len(
        OWN_PAGES
    )


def test_addresses_that_differ_only_in_case_collide() -> None:
    assert colliding(["a.html", "A.html", "b.html"]) == ("a.html",)


@pytest.mark.parametrize(
    ("link", "href"),
    [
        (Link("J", Target.ANIMAL, "juniper"), "../animals/juniper.html"),
        (Link("X", Target.ANIMAL, "nobody"), ""),
        (Link("L", Target.LITTER, "2026-x"), "../litters/2026-x.html"),
        (Link("G", Target.GENE, "corn-snake/amel"), "../genes/corn-snake/amel.html"),
        (Link("S", Target.SPECIES, "corn-snake"), "../genes.html#corn-snake"),
        (Link("M", Target.METHOD, ""), "../odds.html"),
        (Link("M", Target.METHOD, "in-100"), "../odds.html#in-100"),
    ],
)
def test_every_target_of_a_sentence_has_a_link(link: Link, href: str) -> None:
    assert Linker("projects/x.html", {"juniper": "animals/juniper.html"}).run(link) == href


def test_a_rooted_linker_starts_at_the_root_of_the_host() -> None:
    linker = Linker("404.html", {}, root_path("https://example.org/snakes/"))
    assert linker.to(gene_address("corn-snake", "amel")) == "/snakes/genes/corn-snake/amel.html"
    assert Linker("404.html", {}, root_path("")).to("index.html") == "/index.html"
