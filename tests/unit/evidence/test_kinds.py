from dataclasses import replace
from fractions import Fraction

from helpers.small_collections import HYPO, MOTLEY_STRIPE, PALMETTO, TESSERA, dominant, locus_of, recessive

from sitegen.evidence.kinds import (
    certain_copies,
    chance_of_allele,
    chance_of_copies,
    chance_of_look,
    chance_of_showing,
    would_show,
)

HALF, SURE = Fraction(1, 2), Fraction(1)


def test_chances_of_an_allele_of_its_copies_and_of_a_look():
    odds = {("+", "+"): Fraction(1, 7), ("+", "palmetto"): Fraction(2, 7), ("palmetto", "palmetto"): Fraction(4, 7)}
    assert chance_of_allele(odds, "palmetto") == Fraction(6, 7)
    assert [chance_of_copies(odds, "palmetto", copies) for copies in (0, 1, 2)] == [
        Fraction(1, 7),
        Fraction(2, 7),
        Fraction(4, 7),
    ]
    assert chance_of_look(PALMETTO, odds, "super-palmetto") == Fraction(4, 7)


def test_what_can_show_shows_as_often_as_its_allele_does():
    sometimes = locus_of(dominant("sometimes", penetrance=Fraction(3, 5)))
    odds = {("+", "+"): HALF, ("+", "sometimes"): HALF}
    assert chance_of_showing(sometimes, odds, "sometimes") == HALF * Fraction(3, 5)
    assert chance_of_showing(HYPO, {("+", "hypo"): SURE}, "hypo") == 0


def test_whether_one_more_allele_would_be_seen_hangs_on_what_is_certain_beside_it():
    assert would_show(TESSERA, {("+", "+"): SURE}, "tessera")
    assert not would_show(HYPO, {("+", "+"): SURE}, "hypo"), "one copy of a recessive is not seen"
    assert would_show(MOTLEY_STRIPE, {("+", "motley"): SURE}, "stripe"), "motley and stripe together are seen"
    assert not would_show(MOTLEY_STRIPE, {("+", "+"): HALF, ("+", "motley"): HALF}, "stripe"), "motley is not certain"
    assert not would_show(MOTLEY_STRIPE, {("+", "stripe"): SURE}, "stripe"), "its own copy does not count beside it"


def test_copies_are_certain_or_not():
    assert certain_copies({("+", "hypo"): SURE}, "hypo") == 1
    assert certain_copies({("+", "hypo"): HALF, ("hypo", "hypo"): HALF}, "hypo") == -1


def test_beside_two_alleles_it_would_have_to_be_seen_with_either():
    series = locus_of(*(recessive(name) for name in ("a", "b", "c")), locus_id="series")
    assert would_show(series, {("a", "b"): SURE}, "c")
    hidden = replace(series, shown={pair: look for pair, look in series.shown.items() if pair != ("b", "c")})
    assert not would_show(hidden, {("a", "b"): SURE}, "c")
