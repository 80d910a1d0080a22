"""Loci that an unknown sire ties together are not multiplied as if they were independent."""

from fractions import Fraction

from helpers.from_text import CORN, bound

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing

HERD = (
    CORN
    + """
=== animals/dam/animal.yaml
species: corn-snake
sex: female
shows: []
=== animals/flint/animal.yaml
species: corn-snake
sex: male
shows: [amel]
=== animals/basalt/animal.yaml
species: corn-snake
sex: male
shows: [hypo]
=== animals/mate/animal.yaml
species: corn-snake
sex: female
shows: [amel, hypo]
=== litters/a/litter.yaml
dam: dam
sire: [flint, basalt]
young:
  "1": {sex: male, shows: []}
"""
)


def test_a_young_of_one_of_two_sires_never_gives_what_only_both_could() -> None:
    # By hand: the young is +/amel or +/hypo, each with 1/2, never both; half its young get what it has.
    asked = ask(gather(bound(HERD)))
    found = pairing(asked, "mate", "a/1", n_young=3, wanted=["amel"])
    assert {row.shows: row.chance for row in found.looks} == {
        (): Fraction(1, 2),
        ("amel",): Fraction(1, 2) * Fraction(1, 2),
        ("hypo",): Fraction(1, 2) * Fraction(1, 2),
    }
    assert found.wanted is not None
    assert found.wanted.at_least == Fraction(1, 2) * (1 - Fraction(1, 2) ** 3)
    both = pairing(asked, "mate", "a/1", wanted=["amel", "hypo"])
    assert both.wanted is not None
    assert both.wanted.per_young == 0


def test_a_settled_sire_leaves_the_loci_independent() -> None:
    asked = ask(gather(bound(HERD.replace("[flint, basalt]", "flint"))))
    found = pairing(asked, "mate", "a/1")
    assert {row.shows: row.chance for row in found.looks} == {(): Fraction(1, 2), ("amel",): Fraction(1, 2)}
