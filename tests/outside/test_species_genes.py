"""The genes of the species files that come with the program, beside what was published; the source stands with each.

What is worked out from a sourced premise by Mendel's rules is marked "worked out". Read were mostly abstracts.
"""

from collections.abc import Mapping
from fractions import Fraction
from functools import partial

import pytest
from scipy import stats

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection, latest_date
from sitegen.content.folder import Content
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.offers import allele_cautions, gene_cautions
from sitegen.evidence.pairings import pairing
from sitegen.evidence.reasons import reasons
from sitegen.findings import Finding, Kind
from sitegen.genetics.counts import at_least, at_least_in_litter, litter_sizes
from sitegen.genetics.loci import Locus
from sitegen.keeper.new_records import carried

SITE = "name: Small\ncurrency: EUR\nformat: 2\n"


def with_animals(species: str, **animals: str) -> tuple[Collection | None, tuple[Finding, ...]]:
    files = {"site.yaml": SITE, f"species/{species}.yaml": carried()[species]}
    files |= {f"animals/{name}/animal.yaml": f"species: {species}\n{keys}\n" for name, keys in animals.items()}
    return bind_content(Content(files))


def young(species: str, dam: str, sire: str) -> Mapping[tuple[str, ...], Fraction]:
    """What the young of two animals show, by chance."""
    collection, findings = with_animals(species, d=f"sex: female\n{dam}", s=f"sex: male\n{sire}")
    assert collection is not None, findings
    found = pairing(ask(gather(collection)), "d", "s")
    assert found.looks_left_out == 0
    return {tuple(row.shows): row.chance for row in found.looks}


def locus(species: str, locus_id: str) -> Locus:
    collection, findings = with_animals(species)
    assert collection is not None, findings
    return collection.species[species].genome.locus(locus_id)


def test_two_independent_recessives_of_the_corn_snake() -> None:
    """Bechtel and Bechtel (1989) J Hered: both recessive, and independent. Worked out: 9:3:3:1."""
    het = "shows: []\nstated: {amel: certain, anery: certain}"
    assert young("corn-snake", het, het) == {
        (): Fraction(9, 16), ("amel",): Fraction(3, 16), ("anery",): Fraction(3, 16), ("amel", "anery"): Fraction(1, 16)
    }  # fmt: skip


def test_motley_and_stripe_are_one_locus() -> None:
    """Montandon and others (2025) Genome Biol 26:73: both are recessive alleles of CLCN2."""
    assert [each.id for each in locus("corn-snake", "motley-stripe").alleles] == ["motley", "stripe"]
    assert young("corn-snake", "shows: [motley]", "shows: [stripe]") == {("striped-motley",): 1}


@pytest.mark.parametrize(
    ("first", "second"),
    # Brown and others (2022) PLOS ONE 17:e0276376: TYR, OCA2 and TYRP1.
    [("albino", "lavender-albino"), ("albino", "ultramel"), ("lavender-albino", "ultramel")],
)
def test_albinos_of_the_ball_python_are_different_genes(first: str, second: str) -> None:
    """Worked out: all young carry both and show neither."""
    assert young("ball-python", f"shows: [{first}]", f"shows: [{second}]") == {(): 1}


def test_an_animal_has_two_alleles_of_a_series_at_most() -> None:
    """Dao and others (2023) G3 13(7): white, striped and subtle forms are alleles of one gene. Names: from memory."""
    series = locus("ball-python", "yellow-belly")
    assert {"yellow-belly", "gravel", "asphalt"} <= {each.id for each in series.alleles}
    assert all(len(genotype) == 2 for genotype in series.genotypes())
    collection, findings = with_animals("ball-python", a="shows: [yellow-belly, gravel, asphalt]")
    assert collection is None
    assert [each.kind for each in findings] == [Kind.EVIDENCE_CLASH]


@pytest.mark.parametrize(
    ("species", "locus_id", "says"),
    [
        # Guo and others (2021) PLOS Genet e1009580, the share from its preprint: more than 80 %, 0.5 to 5 years.
        ("leopard-gecko", "lemon-frost", ("more than 80 in 100", "half a year and five years")),
        # Starck and others (2022) PLOS ONE e0262788: every one that was examined.
        ("ball-python", "spider", ("All spider ball pythons that were examined", "wobbled")),
    ],
)
def test_harms_go_with_every_animal_that_has_the_gene(species: str, locus_id: str, says: tuple[str, ...]) -> None:
    own = locus(species, locus_id)
    (allele,) = own.alleles
    assert own.shown["+", allele.id] == allele.id, "one copy is seen, so it is warned of"
    cautions = allele_cautions(species, own, allele.id)
    assert cautions[0].welfare == allele.welfare
    assert allele.welfare is not None
    assert all(words in " ".join(allele.welfare.text.split()) for words in says)
    looks = {own.shown["+", allele.id], own.shown[allele.id, allele.id]}
    collection, _ = with_animals(species, n="shows: []", **{look: f"shows: [{look}]" for look in looks})
    assert collection is not None
    asked = ask(gather(collection))
    claims = claims_of(collection, answers_of(asked), partial(reasons, asked), latest_date(collection))
    told = {name: [each.welfare for each in gene_cautions(collection, claims[name])] for name in claims}
    assert {name for name, harms in told.items() if allele.welfare in harms} == looks


def test_no_share_of_females_is_promised_for_a_leopard_gecko() -> None:
    """Flores, Tousignant and Crews (1994) Physiol Behav 55:1067: 100, 70, 25 and 95 in 100 females at four warmths.

    Viets and others (1993) J Exp Zool 265: eggs die just above 35 degrees C. The file quotes both and promises nothing.
    """
    text = " ".join(carried()["leopard-gecko"].replace("#", " ").split())
    assert "kept at one steady warmth in one laboratory" in text
    assert "all were females at 26 degrees C, 70 in 100 at 30, 25 in 100 at 32.5 and 95 in 100 at 34" in text
    assert "Just above 35 degrees C eggs die" in text
    gene = "loci:\n  on-x: {inheritance: recessive, sex_linked: true}\n"
    _, findings = bind_content(
        Content({"site.yaml": SITE, "species/l.yaml": carried()["leopard-gecko"].replace("loci:\n", gene, 1)})
    )
    assert any("the warmth of the eggs decides the sex" in each.message for each in findings)


def test_no_gene_can_be_linked_to_sex_where_the_chromosomes_are_not_known() -> None:
    """Kenyan sand boa: XY and ZW both occur in its kin (a review, PMC11721783), and none is shown for it."""
    gene = "loci:\n  on-x: {inheritance: recessive, sex_linked: true}\n"
    _, findings = bind_content(
        Content({"site.yaml": SITE, "species/k.yaml": carried()["kenyan-sand-boa"].replace("loci:\n", gene, 1)})
    )
    assert any("how sex is determined is not said" in each.message for each in findings)


@pytest.mark.parametrize(("n_young", "chance"), [(12, 0.9683), (8, 0.8999), (2, 0.4375)])
def test_at_least_one_visual_of_two_carriers(n_young: int, chance: float) -> None:
    """Worked out: 1 - (3/4)^n; clutches of 12 (Myhrvold and others 2015) and 8 (Gorzula, Nsiah and Oduro 1997)."""
    assert float(at_least({Fraction(1, 4): Fraction(1)}, n_young)) == pytest.approx(chance, abs=1e-4)


@pytest.mark.parametrize(("species", "mean", "chance"), [("ball-python", 8.1, 0.8680), ("corn-snake", 12, 0.9502)])
def test_a_litter_of_usual_sizes_is_near_one_of_poisson_sizes(species: str, mean: float, chance: float) -> None:
    """Worked out: 1 - exp(-mean/4); our triangle of sizes is another choice, so it is held to 6 in 100."""
    assert float(1 - stats.poisson(mean / 4).pmf(0)) == pytest.approx(chance, abs=1e-4)
    collection, _ = with_animals(species)
    assert collection is not None
    size = collection.species[species].litter_size
    sizes = litter_sizes(size.low, size.usual, size.high)
    assert float(at_least_in_litter({Fraction(1, 4): Fraction(1)}, sizes)) == pytest.approx(chance, abs=0.06)
