"""Whose word counts."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import NOWHERE, animal_of

from sitegen.content.genes import Copies
from sitegen.evidence.gathered import has_word, words_of

STATED = {"hypo": {("+", "hypo"): Fraction(1)}}


@pytest.mark.parametrize(("parents", "counts"), [
    ({}, True), ({"dam": "dam"}, False), ({"sires": ("sire",)}, False),
    ({"dam": "dam", "sires": ("sire",)}, False)])  # fmt: skip
def test_what_was_stated_counts_for_an_animal_without_recorded_parents(parents, counts):
    stated = animal_of("sage", stated=STATED, **parents)
    assert [word.locus for word in words_of(stated, "hypo")] == (["hypo"] if counts else [])
    assert has_word(stated, "hypo") == counts
    assert words_of(stated, "amel") == ()
    assert not has_word(stated, "amel")


@pytest.mark.parametrize(("locus", "two", "parents", "counts"), [
    ("tessera", Fraction(1, 3), {}, True), ("tessera", Fraction(0), {}, True), ("tessera", None, {}, False),
    ("hypo", Fraction(1, 3), {}, False), ("tessera", Fraction(1, 3), {"dam": "dam"}, False),
    ("tessera", Fraction(1, 3), {"sires": ("sire",)}, False)])  # fmt: skip
def test_a_chance_of_two_copies_is_a_word_too(locus, two, parents, counts):
    sage = animal_of("sage", **parents)
    sage = replace(sage, genes=(replace(sage.genes[0], copies=(Copies(locus, two, NOWHERE),)),))
    assert has_word(sage, "tessera") == counts
