"""Litters, the young that they list, and young with a record of their own."""

import datetime as dt
from fractions import Fraction

from helpers.from_text import CORN, LITTER, PAIR, PROMOTED, bound, kinds

from sitegen.content.collection import latest_date
from sitegen.content.litters import FailedAs, gravid
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.findings import Kind, Level
from sitegen.genetics.loci import Sex


def test_a_litter_needs_one_parent_only() -> None:
    litter = bound(CORN + PAIR + "=== litters/l/litter.yaml\ndam: juniper\n").litters["l"]
    assert (litter.species, litter.dam, litter.sires) == ("corn-snake", "juniper", ())


def test_listed_young_are_animals_of_the_litter() -> None:
    collection = bound(CORN + PAIR + LITTER)
    litter = collection.litters["2026-juniper-flint"]
    assert litter.young == ("2026-juniper-flint/01", "2026-juniper-flint/02", "2026-juniper-flint/3")
    young = collection.animals["2026-juniper-flint/01"]
    assert (young.name, young.sex, young.dam, young.sires) == ("01", Sex.MALE, "juniper", (("flint", Fraction(1)),))
    assert young.born == PartialDate(2026, 7, 18)
    assert young.offer is not None
    assert (young.offer.state, young.offer.ready) == (OfferState.AVAILABLE, PartialDate(2026, 10, 1))
    assert [(others.count, others.sex) for others in litter.others] == [(4, Sex.UNKNOWN), (1, Sex.FEMALE)]
    assert not collection.animals["2026-juniper-flint/3"].genes[0].judged.written


def test_mixed_sires_hold_for_each_young() -> None:
    text = (
        "=== animals/basalt/animal.yaml\nspecies: corn-snake\n=== litters/l/litter.yaml\ndam: juniper\n"
        "sire: [flint, basalt]\nmixed_sires: true\nyoung: {1: }\n"
    )
    assert bound(CORN + PAIR + text).animals["l/1"].each_its_own_sire


def test_a_promoted_young_stands_once_with_the_evidence_of_both_records() -> None:
    collection = bound(CORN + PAIR + LITTER + PROMOTED)
    assert "2026-juniper-flint/02" not in collection.animals
    tansy = collection.animals["tansy"]
    assert collection.litters["2026-juniper-flint"].young[1] == "tansy"
    assert (tansy.sex, tansy.dam, tansy.litter, tansy.number) == (Sex.FEMALE, "juniper", "2026-juniper-flint", "02")
    assert [[seen.look for seen in genes.judged.seen] for genes in tansy.genes] == [["hypo"], []]
    assert (tansy.born, tansy.kept) == (PartialDate(2026, 7, 18), True)
    assert collection.animals["grandchild"].dam == "tansy"


def test_a_tally_larger_than_any_litter_is_told() -> None:
    text = "=== litters/l/litter.yaml\ndam: juniper\nothers: [{count: 999999999, shows: []}]\n"
    assert kinds(PAIR + text) == [(Kind.COUNT_IMPOSSIBLE, Level.ERROR)]


def test_the_day_on_which_a_litter_failed_is_a_day_of_the_records() -> None:
    text = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nfailed: {date: 2031-06-03, what: Not gravid}\n"
    collection = bound(CORN + PAIR + text)
    failed = collection.litters["l"].failed
    assert failed is not None
    assert (failed.what, gravid(collection.litters["l"])) == (FailedAs.NOT_GRAVID, False)
    assert latest_date(collection) == dt.date(2031, 6, 3)
