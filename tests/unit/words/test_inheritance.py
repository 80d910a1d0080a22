from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    AMEL,
    COPPER,
    MOTLEY_STRIPE,
    PALMETTO,
    TESSERA,
    dominant,
    locus_of,
    recessive,
    species_of,
)

from sitegen.genetics.loci import Locus, SexSystem
from sitegen.words.inheritance import (
    genotype_words,
    inheritance_label,
    inheritance_sentence,
    locus_label,
    look_words,
    notes,
    passed_on_words,
)
from sitegen.words.speech import Link, Target, plain

ON_Z = replace(
    locus_of(recessive("banded")),
    shown={("banded", "banded"): "banded", ("banded", "W"): "banded"},
    sex_linked=True,
    sex_system=SexSystem.ZW,
)
LETHAL = locus_of(dominant("pale", two_copies_lethal=True))


@pytest.mark.parametrize(("locus", "sentence"), [
    (AMEL, "An animal needs two copies to show it; with one copy it carries it unseen."),
    (TESSERA, "One copy is enough to show it, and two copies look the same as one."),
    (LETHAL, "One copy is enough to show it; young with two copies do not live to be born."),
    (PALMETTO, "One copy shows; two copies look different and are called super palmetto."),
])  # fmt: skip
def test_how_many_copies_show(locus, sentence):
    assert sentence == plain(inheritance_sentence(locus, locus.alleles[0]))


def all_notes(locus: Locus, *others: Locus) -> list[str]:
    return [plain(note) for note in notes(species_of(locus, *others), locus, locus.alleles[0])]


def test_a_series_shares_one_place_and_names_the_compound():
    assert [
        "It shares its place in the genome with stripe: an animal has two of them at most, one from each parent. "
        "One copy of motley and one of stripe show striped motley."
    ] == all_notes(MOTLEY_STRIPE)
    assert "series of 2 alleles, each recessive" == locus_label(MOTLEY_STRIPE)


def test_a_gene_on_the_z_says_who_gets_it_from_whom():
    assert ["It lies on the Z. A female has one copy at most, from her sire; a male has two."] == all_notes(ON_Z)
    assert "recessive, on the Z" == inheritance_label(ON_Z, ON_Z.alleles[0])
    on_x = replace(ON_Z, sex_system=SexSystem.XY)
    assert ["It lies on the X. A male has one copy at most, from his dam; a female has two."] == all_notes(on_x)


def test_when_and_how_surely_it_can_be_judged():
    assert ["It comes with growth and cannot be judged before the age of 18 months."] == all_notes(COPPER)
    shy = locus_of(dominant("shy", penetrance=Fraction(4, 5)))
    assert ["It does not always show: about 80 in 100 animals that have what it takes do show it."] == all_notes(shy)
    hidden = locus_of(recessive("hypo", hidden_by=("amel", "tessera")))
    wanted = "It cannot be judged by eye in an animal that shows amelanistic or tessera."
    assert [wanted] == all_notes(hidden, AMEL, TESSERA)


def test_two_genes_that_look_alike_are_two_genes():
    locus = locus_of(recessive("albino-b", "albino B", not_the_same_as=("amel", "nowhere")))
    (note,) = notes(species_of(locus, AMEL), locus, locus.alleles[0])
    assert (
        "It is not the same as amelanistic: the two look alike, but they are two genes. An animal that shows one, "
        "paired with one that shows the other, gives young that show neither."
    ) == plain(note)
    assert Link("amelanistic", Target.GENE, "corn-snake/amel") in note


@pytest.mark.parametrize(("locus", "genotype", "words", "look", "passed"), [
    (AMEL, ("+", "+"), "no copy", "looks normal", "passes on none"),
    (AMEL, ("+", "amel"), "one copy of amelanistic", "looks normal", "about 50 in 100 of its young get one"),
    (AMEL, ("amel", "amel"), "two copies of amelanistic", "amelanistic", "every young gets one"),
    (MOTLEY_STRIPE, ("motley", "stripe"), "one copy of motley and one of stripe", "striped motley",
     "every young gets one or the other"),
    (ON_Z, ("banded", "W"), "one copy of banded", "banded", "all its sons get one"),
    (LETHAL, ("pale", "pale"), "two copies of pale", "does not live to be born", ""),
])  # fmt: skip
def test_a_table_of_genotypes_in_words(locus, genotype, words, look, passed):
    assert (words, look, passed) == (
        genotype_words(locus, genotype),
        look_words(locus, genotype),
        passed_on_words(locus, genotype),
    )
