"""The page of search: everything with a page, once, in order, and nothing that is not published."""

from dataclasses import replace

from helpers.small_site import animal, collection, small_material, whole_site

from sitegen.genetics.loci import Sex
from sitegen.site.material import folio
from sitegen.site.search import SearchEntry, SearchPage, by_number, folded, search_page


def of_small(**changes: object) -> SearchPage:
    return search_page(folio(small_material(replace(collection(), **changes)), "search.html"))  # type: ignore[arg-type]


def entries(page: SearchPage) -> list[SearchEntry]:
    return [entry for group in page.groups for entry in group.entries]


def name(entry: SearchEntry) -> str:
    return "".join(span.text for span in entry.name)


def test_every_animal_gene_litter_project_and_page_stands_there_once() -> None:
    made = entries(of_small())
    hrefs = [entry.name[0].href for entry in made]
    kinds = {"animal.html", "gene.html", "litter.html", "project.html", "free.html"}
    expected = {page.address for page in whole_site(small_material()) if page.template in kinds}
    named_together = [entry for entry in made if entry.kind == "several genes together"]
    assert expected == set(hrefs)
    assert len(hrefs) == len(expected) + len(named_together)


def test_names_stand_in_order_under_their_letters() -> None:
    names = ("Ängel", "angler", "Zorn", "zebra", "12 o’clock", "Öre", "Łan")
    more = {f"x{n}": animal(f"x{n}", text, Sex.MALE) for n, text in enumerate(names)}
    page = of_small(animals={**collection().animals, **more})
    letters = [group.letter for group in page.groups]
    assert letters.index("A") < letters.index("O") < letters.index("Z") < letters.index("Numbers")
    for group in page.groups:
        found = [by_number(folded(name(entry))) for entry in group.entries]
        assert found == sorted(found)
    under_a = next(group for group in page.groups if group.letter == "A")
    assert {"Ängel", "angler"} <= {name(entry) for entry in under_a.entries}
    assert len({group.id for group in page.groups}) == len(page.groups)
    assert all(group.id.isascii() for group in page.groups)


def test_an_animal_is_found_by_what_it_shows_and_may_carry_and_not_by_what_is_ruled_out() -> None:
    found = {name(entry): entry for entry in entries(of_small())}
    juniper = found["Juniper"]
    assert juniper.about == "corn snake: Amelanistic, possible het hypo (67 in 100), female, 2021"
    assert " 66 het hypo " in juniper.find
    material = small_material()
    at = folio(material, "search.html")
    for animal_id, claims in material.claims.items():
        for claim in claims:
            if claim.kind == "ruled out":
                named = at.voice.locus(claim).name
                kept = any(c.locus == claim.locus and c.kind != "ruled out" for c in claims)
                entry = found.get(material.collection.animals[animal_id].name)
                assert kept or entry is None or named not in entry.find


def test_nothing_private_is_in_the_index() -> None:
    assert "secret" not in str(of_small()).casefold()


def test_letters_are_compared_without_accents_and_capitals() -> None:
    assert folded("Ängström GROẞ") == "angstrom gross"
