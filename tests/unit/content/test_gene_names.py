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


@pytest.mark.parametrize(
    ("species", "said", "look"),
    [
        ("ball-python", "super yellow belly", "ivory"),
        ("ball-python", "Super Mahogany", "suma"),
        ("ball-python", "super banana", "super-coral-glow"),
        ("leopard-gecko", "super snow", "super-snow"),
    ],
)
def test_super_before_an_incomplete_dominant_is_its_two_copy_form(species: str, said: str, look: str) -> None:
    record = f"=== animals/a/animal.yaml\nspecies: {species}\nshows: [{said}]\n"
    (seen,) = bound(f"=== species/{species}.yaml\n{carried()[species]}\n{record}").animals["a"].genes[0].judged.seen
    assert seen.look == look


def test_super_before_a_gene_without_a_look_of_two_copies_is_told() -> None:
    stated = "; if its two copies were told you, write them under stated: {hypo: {hypo/hypo: 1}}"
    cases = {"boa-constrictor": ("hypo", stated), "ball-python": ("spider", ""), "corn-snake": ("amel", "")}
    for species, (gene, more) in cases.items():
        record = f"=== animals/a/animal.yaml\nspecies: {species}\nshows: [super {gene}]\n"
        (finding,) = told(f"=== species/{species}.yaml\n{carried()[species]}\n{record}")
        assert finding.message == f'"super {gene}" is no look: {gene} has no look of its own with two copies'
        assert finding.remedy == f"write {gene}{more}"


def test_a_name_of_its_own_goes_before_super_as_a_word() -> None:
    genes = "snow: {inheritance: incomplete_dominant, two_copies: white}\n  super-snow: {inheritance: recessive}"
    animal = "=== animals/a/animal.yaml\nspecies: s\nshows: [super snow]\n"
    (found,) = bound(f"=== species/s.yaml\nloci:\n  {genes}\n{animal}").animals["a"].genes
    assert [look.look for look in found.judged.seen] == ["super-snow"]
