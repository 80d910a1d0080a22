"""A gene in pictures."""

from dataclasses import replace
from fractions import Fraction

from helpers.small_site import HERE, page_at, small_material, whole_site, words_in

from sitegen.content.genes import SeenLook
from sitegen.evidence.kinds import ClaimKind
from sitegen.site.gene_plates import GenePlates
from sitegen.site.genes import GenePage
from sitegen.site.material import Material
from sitegen.site.parts import text_of


def plates(gene: str, material: Material | None = None) -> GenePlates:
    content = page_at(f"genes/corn-snake/{gene}.html", whole_site(material or small_material())).content
    assert isinstance(content, GenePage)
    return content.plates


def test_a_look_stands_with_the_copies_that_show_it_and_what_is_not_here_is_said() -> None:
    amel = plates("amel")
    assert [text_of(plate.caption) for plate in amel.looks] == ["Amelanistic, two copies: Juniper."]
    assert "the normal look" in words_in(amel.missing)
    hypo = plates("hypo")
    assert hypo.looks == ()
    assert "None of our animals shows hypo" in words_in(hypo.missing)


def test_what_any_animal_shows_is_never_said_to_be_missing() -> None:
    material = small_material()
    claim = next(claim for claim in material.claims["juniper"] if claim.locus == "hypo")
    for kind in (ClaimKind.SHOWS, ClaimKind.NO_CLAIM):  # no claim is made, but the record names the look
        two = replace(claim, kind=kind, look="hypo", copies=2, chance=Fraction(1),
                      posterior={("hypo", "hypo"): Fraction(1)})  # fmt: skip
        others = tuple(each for each in material.claims["juniper"] if each.locus != "hypo")
        told = plates("hypo", replace(material, claims={**material.claims, "juniper": (two, *others)}))
        assert "None of our animals shows hypo" not in words_in(told.missing)
        assert [words_in(plate.caption)[:18] for plate in told.looks] == (
            ["Hypo, two copies: "] if kind is ClaimKind.SHOWS else []
        )


def test_young_that_are_not_listed_one_by_one_show_what_they_show() -> None:
    material = small_material()
    records = material.collection
    assert "None of our animals shows hypo" in words_in(plates("hypo", material).missing)
    (name, litter), *_rest = records.litters.items()
    seen = SeenLook("hypo", "hypo", HERE)
    others = tuple(replace(each, judged=replace(each.judged, seen=(seen,))) for each in litter.others)
    assert others
    records = replace(records, litters={**records.litters, name: replace(litter, others=others)})
    told = plates("hypo", replace(material, collection=records))
    assert "None of our animals shows hypo" not in words_in(told.missing)
    assert "Not photographed yet" in words_in(told.missing)


def test_one_animal_with_two_dated_photographs_is_shown_as_it_grew() -> None:
    material = small_material()
    claim = next(claim for claim in material.claims["juniper"] if claim.locus == "hypo")
    two = replace(claim, kind=ClaimKind.SHOWS, look="hypo", copies=2, chance=Fraction(1),
                  posterior={("hypo", "hypo"): Fraction(1)})  # fmt: skip
    told = plates("hypo", replace(material, claims={**material.claims, "juniper": (two,)}))
    assert [text_of(plate.caption) for plate in told.ages] == [
        "9 months old, May 1, 2022", "3 years old, June 12, 2025",
    ]  # fmt: skip
    assert plates("hypo").ages == ()
