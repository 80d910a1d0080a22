"""What is told of a gene by a name that the trade uses for it."""

import pytest
from helpers.from_text import bound, told

from sitegen.findings import Kind
from sitegen.keeper.new_records import carried

SAID_BY_THE_TRADE = {"ball-python": ("pied", "piebald"), "corn-snake": ("albino", "amel")}
"""Common practice, no source."""


@pytest.mark.parametrize("species", SAID_BY_THE_TRADE)
def test_a_bundled_species_knows_the_name_of_the_trade(species: str) -> None:
    said, meant = SAID_BY_THE_TRADE[species]
    record = f"=== animals/a/animal.yaml\nspecies: {species}\nshows: [{said}]\n"
    (seen,) = bound(f"=== species/{species}.yaml\n{carried()[species]}\n{record}").animals["a"].genes[0].judged.seen
    assert seen.look == meant


@pytest.mark.parametrize("species", ["boa-constrictor", "leopard-gecko"])
@pytest.mark.parametrize("line", ["shows: [albino]", "stated: {albino: certain}"])
def test_of_several_kinds_of_one_name_all_are_named_and_none_is_chosen(species: str, line: str) -> None:
    record = f"=== animals/a/animal.yaml\nspecies: {species}\n{line}\n"
    (finding,) = told(f"=== species/{species}.yaml\n{carried()[species]}\n{record}")
    third = "t-positive" if species == "boa-constrictor" else "albino-third"
    assert (finding.kind, finding.nearest) == (Kind.GENE_UNKNOWN, "")
    assert finding.remedy.startswith(f"if you know which, write albino-first, albino-second or {third}; or ")
