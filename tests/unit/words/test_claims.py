from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    AMEL,
    NOWHERE,
    animal_of,
    collection_of,
    dominant,
    locus_of,
    recessive,
    species_of,
    told,
)

from sitegen.content.genes import DnaTest
from sitegen.content.values import PartialDate
from sitegen.evidence.kinds import Basis
from sitegen.genetics.loci import Allele, Inheritance, Locus, Sex, SexSystem
from sitegen.words.claims import basis_words, copies_words, headline, short_phrase, such_means
from sitegen.words.speech import Link, Target, plain

SURE = Fraction(1)


def first_claim(animal, known, because=None, *others, species=None):
    claims, voice = told(collection_of(animal, *others, species=species), known, because)
    return claims[animal.id][0], voice


def sentence(animal, known, because=None, *others, species=None) -> str:
    return plain(headline(*first_claim(animal, known, because, *others, species=species)))


def with_test(test: DnaTest):
    animal = animal_of("sage")
    return replace(animal, genes=(replace(animal.genes[0], tests=(test,)),))


def of_sage(locus: str, posterior, **record) -> str:
    return sentence(animal_of("sage", **record), {"sage": {locus: posterior}})


def test_shows_a_recessive():
    text = of_sage("amel", {("amel", "amel"): SURE}, shows={"amel": "amel"})
    assert "Shows amelanistic: two copies, so every young gets one." == text


def test_shows_a_dominant_whose_copies_are_known():
    known = {"tessera": {("+", "tessera"): SURE}}
    one = of_sage("tessera", known["tessera"], shows={"tessera": "tessera"}, stated=known)
    assert "Shows tessera: one copy, so about 50 in 100 of its young get it, 50 do not." == one
    two = of_sage("tessera", {("tessera", "tessera"): SURE}, shows={"tessera": "tessera"})
    assert "Shows tessera: two copies, so every young gets one." == two


def test_shows_a_dominant_taken_as_one_copy():
    text = of_sage("tessera", {("+", "tessera"): SURE}, shows={"tessera": "tessera"})
    assert "Shows tessera, taken as one copy: about 50 in 100 of its young get it, 50 do not." == text


def test_shows_the_two_copy_form_of_an_incomplete_dominant():
    text = of_sage("palmetto", {("palmetto", "palmetto"): SURE}, shows={"palmetto": "super-palmetto"})
    assert "Shows super palmetto: two copies of palmetto, so every young gets one." == text


def test_shows_a_compound():
    text = of_sage("motley-stripe", {("motley", "stripe"): SURE}, shows={"motley-stripe": "striped-motley"})
    wanted = "Shows striped motley: one copy of motley and one of stripe, so every young gets one or the other."
    assert wanted == text


def test_shows_with_one_copy_or_two_names_both_sides():
    posterior = {("+", "tessera"): Fraction(2, 3), ("tessera", "tessera"): Fraction(1, 3)}
    text = of_sage("tessera", posterior, shows={"tessera": "tessera"})
    wanted = "Shows tessera: about 33 in 100 such animals have two copies, 67 have one (1/3)."
    assert wanted == text


def test_shows_a_gene_on_the_z_with_its_only_copy():
    plain_locus = locus_of(recessive("banded"))
    shown = {("banded", "banded"): "banded", ("banded", "W"): "banded"}
    locus = Locus(
        "banded", "banded", plain_locus.alleles, plain_locus.looks, shown, sex_linked=True, sex_system=SexSystem.ZW
    )
    animal = animal_of("sage", shows={"banded": "banded"}, sex=Sex.FEMALE)
    text = sentence(animal, {"sage": {"banded": {("banded", "W"): SURE}}}, species=species_of(locus))
    assert "Shows banded: one copy, and a female has no place for a second." == text


def test_carries_for_certain_with_the_shorthand_last():
    text = of_sage("anery", {("+", "anery"): SURE})
    assert "Carries anerythristic for certain: one copy, unseen (the trade’s “het”)." == text


def test_a_certain_statement_is_said_to_be_so_and_not_called_certain():
    animal = animal_of("sage", stated={"anery": {("+", "anery"): SURE}})
    text = sentence(animal, {"sage": {"anery": {("+", "anery"): SURE}}})
    assert "Said to carry anerythristic: one copy, unseen (the trade’s “het”)." == text


def test_carries_one_copy_or_two_when_nobody_judged_it():
    posterior = {("+", "amel"): Fraction(3, 4), ("amel", "amel"): Fraction(1, 4)}
    text = of_sage("amel", posterior, written=False)
    wanted = "Has amelanistic for certain: about 25 in 100 such animals have two copies, 75 have one (1/4)."
    assert wanted == text


def test_may_carry_names_class_both_sides_fraction_and_shorthand_last():
    sire = animal_of("flint")
    young = animal_of("2026/01", sires=("flint",), born=PartialDate(2026, 7, 18))
    posterior = {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)}
    text = sentence(young, {"2026/01": {"hypo": posterior}}, None, sire)
    wanted = "May carry hypo: about 67 in 100 such young do, 33 do not (2/3; the trade’s “66% het”)."
    assert wanted == text


def test_the_reference_class_is_told_once_and_only_where_a_chance_is():
    claim, voice = first_claim(
        animal_of("sage"), {"sage": {"hypo": {("+", "+"): SURE / 5, ("+", "hypo"): 4 * SURE / 5}}}
    )
    wanted = "“Such animals” are animals like this one, with parents, young and other relatives like these."
    assert wanted == plain(such_means([claim], voice))
    certain, voice = first_claim(animal_of("sage"), {"sage": {"hypo": {("+", "hypo"): SURE}}})
    assert () == such_means([certain], voice)


def test_a_chance_that_is_not_simple_has_no_fraction():
    posterior = {("+", "+"): Fraction(64, 91), ("+", "hypo"): Fraction(27, 91)}
    assert of_sage("hypo", posterior).endswith("such animals do, 70 do not.")


def test_a_tiny_chance_is_never_none():
    posterior = {("+", "+"): Fraction(128, 129), ("+", "hypo"): Fraction(1, 129)}
    text = of_sage("hypo", posterior)
    assert "May carry hypo: fewer than 1 in 100 such animals do, more than 99 do not (1/129)." == text


def test_a_dominant_is_had_not_carried_and_has_no_shorthand():
    posterior = {("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}
    text = of_sage("tessera", posterior, unsure=("tessera",))
    assert "May have tessera: about 50 in 100 such animals do, 50 do not (1/2)." == text


def test_a_recessive_that_was_not_judged_has_no_shorthand():
    posterior = {("+", "+"): Fraction(1, 4), ("+", "amel"): Fraction(1, 2), ("amel", "amel"): Fraction(1, 4)}
    text = of_sage("amel", posterior, unsure=("amel",))
    assert "May have amelanistic: about 75 in 100 such animals do, 25 do not (3/4)." == text


def test_too_young_to_judge_tells_the_age():
    posterior = {("+", "+"): Fraction(1, 2), ("+", "copper"): Fraction(1, 2)}
    text = of_sage("copper", posterior, born=PartialDate(2026, 7, 18))
    assert "May show copper after 18 months: about 50 in 100 such young do, 50 do not (1/2)." == text
    rare = of_sage(
        "copper", {("+", "+"): Fraction(199, 200), ("+", "copper"): Fraction(1, 200)}, born=PartialDate(2026)
    )
    assert rare.startswith("May show copper later: fewer than 1 in 100 such young do, more than 99 do not (1/200)")


def test_ruled_out_by_a_test_names_laboratory_and_date():
    test = DnaTest(
        locus="hypo", genotypes=(("+", "+"),), place=NOWHERE, laboratory="Fenlab", date=PartialDate(2024, 2, 1)
    )
    assert "Tested: does not carry hypo (Fenlab, 1 February 2024)." == sentence(with_test(test), {})
    bare = DnaTest(locus="hypo", genotypes=(("+", "+"),), place=NOWHERE)
    assert "Tested: does not carry hypo." == sentence(with_test(bare), {})


def test_a_test_that_finds_it_is_named_as_well():
    test = DnaTest(
        locus="hypo", genotypes=(("+", "hypo"),), place=NOWHERE, laboratory="Fenlab", date=PartialDate(2024, 2)
    )
    text = sentence(with_test(test), {"sage": {"hypo": {("+", "hypo"): SURE}}})
    assert "Tested: carries hypo, one copy, unseen (Fenlab, February 2024; the trade’s “het”)." == text


def test_ruled_out_by_eye_and_by_family():
    dam, sire = animal_of("dam"), animal_of("sire")
    young = animal_of("sage", dam="dam", sires=("sire",))
    known = {"dam": {"tessera": {("+", "tessera"): SURE}}}
    assert "Does not have tessera." == sentence(young, known, None, dam, sire)
    stated = animal_of("sage", stated={"hypo": {("+", "hypo"): Fraction(1, 2), ("+", "+"): Fraction(1, 2)}})
    assert "Does not carry hypo." == sentence(stated, {})


def test_a_gene_links_to_its_page():
    claim, voice = first_claim(animal_of("sage"), {"sage": {"anery": {("+", "anery"): SURE}}})
    assert Link("anerythristic", Target.GENE, "corn-snake/anery") in headline(claim, voice)


@pytest.mark.parametrize(("locus", "posterior", "record", "words"), [
    ("amel", {("amel", "amel"): SURE}, {"shows": {"amel": "amel"}}, "shows amelanistic"),
    ("anery", {("+", "anery"): SURE}, {}, "carries anerythristic"),
    ("hypo", {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)}, {}, "may carry hypo (about 67 in 100)"),
    ("tessera", {("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}, {"unsure": ("tessera",)},
     "may have tessera (about 50 in 100)"),
    ("tessera", {("+", "tessera"): Fraction(2, 3), ("tessera", "tessera"): Fraction(1, 3)},
     {"shows": {"tessera": "tessera"}}, "shows tessera (two copies: about 33 in 100)"),
    ("copper", {("+", "+"): Fraction(1, 2), ("+", "copper"): Fraction(1, 2)}, {"born": PartialDate(2026, 7, 1)},
     "too young to judge for copper (about 50 in 100)"),
    ("hypo", {("+", "+"): SURE}, {"tests": {"hypo": (("+", "+"),)}}, "does not carry hypo"),
])  # fmt: skip
def test_few_words_for_lists(locus, posterior, record, words):
    assert words == plain(short_phrase(*first_claim(animal_of("sage", **record), {"sage": {locus: posterior}})))


def test_every_basis_has_a_label():
    assert len({basis_words(basis) for basis in Basis}) == len(Basis)


def test_copies_in_words():
    assert ["no copy", "one copy", "two copies", "one copy or two"] == [copies_words(n) for n in (0, 1, 2, -1)]


def test_a_gene_that_does_not_always_show_is_may_have_without_shorthand():
    locus = locus_of(Allele("odd", "odd", Inheritance.DOMINANT, penetrance=Fraction(4, 5)))
    posterior = {("+", "+"): Fraction(5, 6), ("+", "odd"): Fraction(1, 6)}
    text = sentence(animal_of("sage"), {"sage": {"odd": posterior}}, species=species_of(locus, AMEL))
    assert "May have odd: about 17 in 100 such animals do, 83 do not (1/6)." == text


def test_a_dominant_with_a_lethal_two_copy_form_shows_one_copy():
    locus = locus_of(dominant("pale", two_copies_lethal=True))
    animal = animal_of("sage", shows={"pale": "pale"})
    text = sentence(animal, {"sage": {"pale": {("+", "pale"): SURE}}}, species=species_of(locus))
    assert "Shows pale: one copy, so about 50 in 100 of its young get it, 50 do not." == text
