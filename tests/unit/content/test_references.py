"""What a reference to another record means."""

from fractions import Fraction

import pytest
from helpers.from_text import CORN, PAIR, bound, kinds

from sitegen.findings import Kind, Level


@pytest.mark.parametrize(
    ("written", "sires"),
    [
        ("flint", (("flint", Fraction(1)),)),
        ("[flint, basalt]", (("flint", Fraction(1, 2)), ("basalt", Fraction(1, 2)))),
        ("{flint: 2/3, basalt: 1/3}", (("flint", Fraction(2, 3)), ("basalt", Fraction(1, 3)))),
        ("{flint: 1, basalt: 0}", (("flint", Fraction(1)),)),
        ("unknown", ()),
    ],
)
def test_one_sire_several_and_their_odds(written: str, sires: tuple[tuple[str, Fraction], ...]) -> None:
    basalt = "=== animals/basalt/animal.yaml\nspecies: corn-snake\n"
    text = f"{basalt}=== litters/l/litter.yaml\ndam: juniper\nsire: {written}\n"
    assert bound(CORN + PAIR + text).litters["l"].sires == sires


def test_the_species_of_a_litter_is_found_through_generations_of_litters() -> None:
    links = "".join(f"=== litters/l{i}/litter.yaml\ndam: l{i - 1}/1\nyoung: {{1: }}\n" for i in range(1, 400))
    text = PAIR + "=== litters/l0/litter.yaml\ndam: juniper\nyoung: {1: }\n" + links
    assert bound(CORN + text).litters["l399"].species == "corn-snake"


def test_a_deep_pedigree_needs_no_recursion() -> None:
    chain = "".join(f"=== animals/a{i:04d}/animal.yaml\nspecies: corn-snake\ndam: a{i + 1:04d}\n" for i in range(3000))
    last = "=== animals/a3000/animal.yaml\nspecies: corn-snake\n"
    assert len(bound(CORN + chain + last).animals) == 3001


def test_names_are_compared_in_one_form_however_accents_are_stored() -> None:
    text = (
        "=== animals/kru\u0308mel/animal.yaml\nspecies: corn-snake\n"
        "=== animals/b/animal.yaml\nspecies: corn-snake\ndam: kr\u00fcmel\n"
    )
    assert bound(CORN + text).animals["b"].dam == "kr\u00fcmel"


def test_litters_whose_parents_are_only_each_other_are_told() -> None:
    text = "=== litters/a/litter.yaml\ndam: b/1\nyoung: {1: }\n=== litters/b/litter.yaml\ndam: a/1\nyoung: {1: }\n"
    assert kinds(text) == [(Kind.KEY_MISSING, Level.ERROR)] * 2
