"""Circles in a pedigree."""

from helpers.from_text import CORN, told

from sitegen.findings import Kind


def test_circles_through_litters_are_named_once_as_a_chain() -> None:
    text = (
        "=== litters/a/litter.yaml\nspecies: corn-snake\ndam: b/1\nyoung: {1: }\n"
        "=== litters/b/litter.yaml\nspecies: corn-snake\nsire: a/1\nyoung: {1: }\n"
    )
    findings = told(CORN + text)
    assert [finding.kind for finding in findings] == [Kind.PEDIGREE_CYCLE]
    assert findings[0].message == "a/1 is its own ancestor: a/1 is a young of b/1, b/1 is a young of a/1"
