"""Who is taken as having one copy of a gene whose one and two copies look alike."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    AMEL,
    NOWHERE,
    PALMETTO,
    TESSERA,
    animal_of,
    answers_of,
    collection_of,
    dominant,
    locus_of,
    species_of,
)

from sitegen.content.genes import Copies, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.evidence.chains import chains_of
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex

ONE = {("+", "tessera"): Fraction(1)}
LOOKED = Judged((), (), NOWHERE)
SAGE = animal_of("sage", shows={"tessera": "tessera"})
FLINT = animal_of("flint")


def taken(*animals, known=None, litter=None, locus=TESSERA, allele="tessera"):
    herd = collection_of(*animals, litters=(litter,) if litter else (), species=species_of(locus))
    return taken_in(herd, known or {"sage": {"tessera": ONE}}, locus, allele)


def taken_in(herd, known, locus, allele):
    chains = chains_of(gather(herd), answers_of(herd, known), lambda animal, at: ())
    return set(chains["corn-snake", locus.id].taken_as_one_copy[allele])


def young_that(judged=LOOKED, *, count=3, dam="sage", sires=("flint",)):
    odds = tuple((sire, Fraction(1, len(sires))) for sire in sires)
    others = (Others(count=count, judged=judged, sex=Sex.UNKNOWN, place=NOWHERE),)
    return Litter(
        id="2024", name="2024", species="corn-snake", place=NOWHERE, dam=dam, sires=odds, young=(), others=others
    )


def test_a_founder_that_shows_it_and_of_whose_copies_nothing_is_known_is_taken_so():
    assert taken(SAGE, FLINT) == {"sage"}


@pytest.mark.parametrize("known", [
    animal_of("sage", shows={"tessera": "tessera"}, dam="flint"),
    animal_of("sage", shows={"tessera": "tessera"}, tests={"tessera": (("+", "tessera"),)}),
    animal_of("sage", shows={"tessera": "tessera"}, stated={"tessera": ONE}),
    replace(SAGE, genes=(replace(SAGE.genes[0], copies=(Copies("tessera", Fraction(1, 3), NOWHERE),)),)),
    animal_of("sage"),
], ids=["parent", "test", "word", "word on copies", "not seen"])  # fmt: skip
def test_not_where_something_else_says_it(known):
    assert taken(known, FLINT) == frozenset()


def test_not_where_two_copies_are_possible_look_different_or_do_not_live():
    both = {("+", "tessera"): Fraction(1, 2), ("tessera", "tessera"): Fraction(1, 2)}
    assert taken(SAGE, known={"sage": {"tessera": both}}) == frozenset()
    shows = animal_of("sage", shows={"palmetto": "palmetto"})
    known = {"sage": {"palmetto": {("+", "palmetto"): Fraction(1)}}}
    assert taken(shows, known=known, locus=PALMETTO, allele="palmetto") == frozenset()
    lethal = locus_of(dominant("tessera", two_copies_lethal=True))
    assert taken(SAGE, locus=lethal) == frozenset()


@pytest.mark.parametrize(("young", "settled"), [
    (young_that(), True),
    (young_that(dam="flint", sires=("sage",)), True),
    (young_that(dam="other", sires=("sage", "flint")), False),
    (young_that(count=0), False),
    (young_that(replace(LOOKED, written=False)), False),
    (young_that(replace(LOOKED, unsure_all=True)), False),
    (young_that(replace(LOOKED, unsure=("tessera",))), False),
    (young_that(Judged((SeenLook("tessera", "tessera", NOWHERE),), (), NOWHERE)), False),
    (young_that(dam="other"), False),
], ids=["dam", "sire", "one of two", "no young", "not judged", "unsure", "unsure here", "seen", "other"])  # fmt: skip
def test_young_without_it_settle_the_copies(young, settled):
    found = taken(SAGE, FLINT, animal_of("other"), litter=young)
    assert found == (frozenset() if settled else {"sage"})


@pytest.mark.parametrize("seldom", [{"penetrance": Fraction(1, 2)}, {"visible_from_months": 18}], ids=str)
def test_young_in_which_it_may_be_unseen_settle_nothing(seldom):
    assert taken(SAGE, FLINT, litter=young_that(), locus=locus_of(dominant("tessera", **seldom))) == {"sage"}


def test_a_listed_young_without_it_settles_the_copies_too():
    young = animal_of("2024/01", dam="sage", sires=("flint",))
    assert taken(SAGE, FLINT, young) == frozenset()
    may_have_it = {("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}
    assert taken(SAGE, FLINT, young, known={"sage": {"tessera": ONE}, "2024/01": {"tessera": may_have_it}}) == {"sage"}


def test_an_animal_that_shows_another_gene_too_is_taken_so():
    both = animal_of("sage", shows={"amel": "amel", "tessera": "tessera"})
    herd = collection_of(both, species=species_of(AMEL, TESSERA))
    assert taken_in(herd, {"sage": {"tessera": ONE}}, TESSERA, "tessera") == {"sage"}


def test_one_counted_young_without_it_is_enough():
    assert taken(SAGE, FLINT, litter=young_that(count=1)) == frozenset()


def test_what_comes_in_the_first_month_is_not_judged_at_birth():
    assert taken(SAGE, FLINT, litter=young_that(), locus=locus_of(dominant("tessera", visible_from_months=1))) == {
        "sage"
    }
