from fractions import Fraction

from helpers.from_text import CORN, bound

from sitegen.evidence.answers import answers
from sitegen.genetics.relations import IfSire

HERD = (
    CORN
    + """
=== animals/a/animal.yaml
species: corn-snake
sex: female
locality: Lee County
line: unknown
=== animals/b/animal.yaml
species: corn-snake
sex: male
=== animals/c/animal.yaml
species: corn-snake
sex: female
dam: a
sire: b
=== animals/d/animal.yaml
species: corn-snake
locality: told by somebody
dam: c
sire: b
"""
)


def test_each_parent_gives_half_of_its_own_shares() -> None:
    # Source: definition; half from each parent.
    found = answers(bound(HERD)).localities
    assert found["c"] == (IfSire({"Lee County": Fraction(1, 2), "": Fraction(1, 2)}),)
    assert found["d"] == (IfSire({"Lee County": Fraction(1, 2) * Fraction(1, 2), "": Fraction(3, 4)}),)


def test_founders_and_unknown_origins_have_no_shares() -> None:
    found = answers(bound(HERD))
    assert "a" not in found.localities
    assert found.lines == {}
