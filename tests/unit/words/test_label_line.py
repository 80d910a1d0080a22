"""What cases of records cannot show one by one; the others stand in ``tests/sentences/label-lines.md``."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import animal_of, collection_of, species_of, told

from sitegen.evidence.kinds import Basis, Claim, ClaimKind, Condition, Taken
from sitegen.genetics.loci import Sex
from sitegen.render.catalogues import catalogue_of
from sitegen.words.label_line import LabelLine, label_line
from sitegen.words.speech import Link, Target, Voice, plain, spoken

HET = {("+", "hypo"): Fraction(1)}
PERHAPS = {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)}
SAGE = animal_of("sage", shows={"amel": "amel"}, sex=Sex.FEMALE, dam="juniper", sires=("flint",))
BY_A_SIRE = Taken(sex=Sex.MALE, young="sage")
BOTH = Condition((Taken("flint"), Taken("juniper")))


def claims_of_sage(odds) -> tuple[tuple[Claim, ...], Voice]:
    known = {"sage": {"hypo": odds, "amel": {("amel", "amel"): Fraction(1)}}}
    claims, voice = told(collection_of(SAGE, animal_of("juniper"), animal_of("flint")), known)
    return claims["sage"], voice


def line(odds, **changed) -> LabelLine:
    """With the claim of hypo changed."""
    claims, voice = claims_of_sage(odds)
    return label_line(SAGE, [replace(c, **changed) if c.locus == "hypo" else c for c in claims], voice)


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        (None, "het hypo"),
        (Condition((BY_A_SIRE,)), "het hypo unless her sire has it"),
        (Condition((Taken("flint"),)), "het hypo unless her sire Flint has it"),
        (Condition((Taken("flint", one_copy=True),)), "het hypo if her sire Flint has only one copy"),
        (BOTH, "het hypo if neither her sire Flint nor her dam Juniper has it"),
        (Condition(), "het hypo if nothing unrecorded brought it in"),
    ],
)
def test_what_is_taken_for_granted_stands_beside_the_gene_and_not_on_what_lasts(condition, words) -> None:
    found = line(HET, condition=condition)
    assert plain(found.whole()) == f"Amelanistic, {words}, female, 2022"
    assert plain(found.lasting()) == ("Amelanistic, female, 2022" if condition else plain(found.whole()))


def test_copies_that_hang_on_something_are_not_counted() -> None:
    found = line(HET, copies=-1, condition=Condition((BY_A_SIRE,), of_copies=True))
    assert plain(found.whole()) == "Amelanistic, has at least one copy of hypo, female, 2022"


def test_where_no_odds_are_told_none_stand_in_it() -> None:
    assert plain(line(PERHAPS, strained=True).whole()) == "Amelanistic, may have hypo (no odds told), female, 2022"
    found = line(HET, strained=True, condition=Condition())
    assert plain(found.whole()) == "Amelanistic, may have hypo (no odds told), female, 2022"
    copies = line(PERHAPS, strained=True, kind=ClaimKind.ONE_OR_TWO_COPIES)
    assert "homozygous" not in plain(copies.whole())


def test_in_german_in_the_words_of_the_trade_there() -> None:
    with spoken(catalogue_of("de")):
        assert plain(line(HET, basis=Basis.PREVIOUS_KEEPER).whole()) == (
            "Amelanistic, het hypo (laut Vorbesitzer), weiblich, 2022"
        )
        assert plain(line(PERHAPS).whole()) == "Amelanistic, poss. het hypo (67 von 100), weiblich, 2022"
        found = line(HET, condition=Condition((BY_A_SIRE,)))
        assert plain(found.whole()) == "Amelanistic, het hypo, sofern ihr Vater es nicht hat, weiblich, 2022"


def test_every_gene_of_it_leads_to_its_page() -> None:
    links = [run for run in line(PERHAPS).whole() if isinstance(run, Link)]
    assert [(link.target, link.id) for link in links] == [
        (Target.GENE, "corn-snake/amel"), (Target.GENE, "corn-snake/hypo")
    ]  # fmt: skip


def test_of_a_species_without_genes_only_sex_and_year_are_told() -> None:
    bare = replace(species_of(), genome=replace(species_of().genome, loci=()))
    claims, voice = told(collection_of(animal_of("sage"), species=bare), {})
    found = label_line(animal_of("sage"), claims["sage"], voice)
    assert (plain(found.whole()), found.seen()) == ("Sex not known, 2022", ())
