"""The guide to genes."""

from dataclasses import replace
from fractions import Fraction

from helpers.small_site import page_at, small_material, whole_site, words_in

from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.site.genes import GenePage


def test_what_a_keeper_said_is_never_listed_as_known() -> None:
    material = small_material()
    told = [replace(c, kind=ClaimKind.CARRIES, chance=Fraction(1), basis=Basis.PREVIOUS_KEEPER, hangs_on=("juniper",))
            if c.locus == "hypo" else c for c in material.claims["juniper"]]  # fmt: skip
    pages = whole_site(replace(material, claims={**material.claims, "juniper": tuple(told)}))
    gene = page_at("genes/corn-snake/hypo.html", pages).content
    assert isinstance(gene, GenePage)
    assert "said to carry" in words_in(gene.carrying)
    assert "1 said to carry it" in words_in(page_at("genes.html", pages).content)


def test_a_gene_page_lists_who_shows_and_may_carry_it() -> None:
    gene = page_at("genes/corn-snake/hypo.html").content
    assert isinstance(gene, GenePage)
    assert words_in(gene.perhaps[0]).startswith("Juniper ../../animals/juniper.html")
    assert "about 67 in 100" in words_in(gene.perhaps[0])
    assert "not the same as" in words_in(gene.alleles[0].notes)
    assert "04" not in words_in(gene.perhaps)
