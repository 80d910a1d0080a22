import pytest
from helpers.pedigrees import DOMINANT, INCOMPLETE, RECESSIVE, locus, recessive

from sitegen.genetics.loci import Allele, Genome, Sex, SexSystem, genotype_text, look_id, looks_by_inheritance

MOTLEY, STRIPE = Allele("motley", "motley", RECESSIVE), Allele("stripe", "stripe", RECESSIVE)


@pytest.mark.parametrize(
    ("made", "shown"),
    [
        (recessive(), {"amel/amel": "amel"}),
        (locus("dom", Allele("dom", "dom", DOMINANT)), {"+/dom": "dom", "dom/dom": "dom"}),
        (
            locus("pal", Allele("pal", "palmetto", INCOMPLETE, "super palmetto")),
            {"+/pal": "pal", "pal/pal": "super-palmetto"},
        ),
        (
            locus("series", MOTLEY, STRIPE, compounds={frozenset({"stripe", "motley"}): "striped motley"}),
            {"motley/motley": "motley", "stripe/stripe": "stripe", "motley/stripe": "striped-motley"},
        ),
        (
            locus("series", MOTLEY, STRIPE),
            {"motley/motley": "motley", "stripe/stripe": "stripe", "motley/stripe": "motley/stripe"},
        ),
        (
            locus("mixed", Allele("ultra", "ultra", DOMINANT), MOTLEY),
            {"+/ultra": "ultra", "ultra/ultra": "ultra", "motley/motley": "motley", "ultra/motley": "ultra"},
        ),
        (
            locus("band", Allele("band", "band", RECESSIVE), system=SexSystem.ZW, linked=True),
            {"band/band": "band", "band/W": "band"},
        ),
    ],
    ids=["recessive", "dominant", "incomplete", "compound", "unnamed compound", "one hides the other", "sex-linked"],
)
def test_what_each_genotype_shows(made: object, shown: dict[str, str]) -> None:
    assert {genotype_text(genotype): look for genotype, look in made.shown.items()} == shown
    assert {look.id for look in made.looks} == set(shown.values())


def test_genotypes_by_sex() -> None:
    linked = locus("band", Allele("band", "band", RECESSIVE), system=SexSystem.XY, linked=True)
    assert linked.genotypes(Sex.MALE) == (("+", "Y"), ("band", "Y"))
    assert linked.genotypes(Sex.FEMALE) == (("+", "+"), ("+", "band"), ("band", "band"))
    assert linked.copies(Sex.MALE) == 1
    half_linked = locus("glow", MOTLEY, system=SexSystem.XY, linked=True, parting=1)
    assert half_linked.copies(Sex.MALE) == 2


def test_alleles_are_in_the_order_of_the_species_file() -> None:
    series = locus("series", STRIPE, MOTLEY)
    assert series.genotype("motley", "+") == ("+", "motley")
    assert series.genotype("motley", "stripe") == ("stripe", "motley")
    linked = locus("band", Allele("band", "band", RECESSIVE), system=SexSystem.ZW, linked=True)
    assert linked.genotype("W", "band") == ("band", "W")


def test_looking_up() -> None:
    genome = Genome("corn", SexSystem.ZW, (recessive(), recessive("hypo")))
    assert genome.locus("hypo").look("hypo") == genome.look("hypo")
    assert genome.locus("amel").allele("amel").name == "amel"
    for wrong in (genome.locus, genome.look, genome.locus("amel").look, genome.locus("amel").allele):
        with pytest.raises(KeyError):
            wrong("nothing")
    assert look_id("Super  Palmetto") == "super-palmetto"


def test_two_copies_without_a_name_of_their_own_look_like_one_or_like_the_allele() -> None:
    _, shown = looks_by_inheritance("pal", [Allele("pal", "pal", INCOMPLETE)], {})
    assert shown == {("+", "pal"): "pal", ("pal", "pal"): "pal"}
    _, shown = looks_by_inheritance("amel", [Allele("amel", "amel", RECESSIVE, "unused")], {})
    assert shown == {("amel", "amel"): "amel"}
