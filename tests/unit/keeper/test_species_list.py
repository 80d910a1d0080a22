"""The page on the species files counts what is in them and hides nothing that is doubtful."""

import yaml

from sitegen.keeper.new_records import by_group, carried
from sitegen.keeper.species_list import species_page


def test_each_species_has_its_row_and_its_part() -> None:
    page = species_page()
    assert [name for names in by_group().values() for name in names] == [
        line.removeprefix("### ") for line in page.splitlines() if line.startswith("### ")
    ]
    assert sorted(name for names in by_group().values() for name in names) == sorted(carried())
    for name, text in carried().items():
        loci = yaml.safe_load(text)["loci"].values()
        count = sum(len(locus.get("alleles", [1])) for locus in loci)
        cells = next(line for line in page.splitlines() if line.startswith(f"| {name} |")).strip("|").split("|")
        assert int(cells[1]) == count == sum(int(cell) for cell in cells[2:6])


def test_lizards_are_no_snakes() -> None:
    assert {name for name in carried() if "gecko" in name or "dragon" in name} == set(by_group()["lizards"])


def test_what_is_doubtful_or_from_memory_is_listed_with_its_gene() -> None:
    page = species_page()
    assert "- gene palmetto, inheritance: doubtful: most keepers say recessive, some that one copy can be seen" in page
    assert "- gene terrazzo, inheritance: from memory: recessive; one place: Tzika and others 2024" in page
