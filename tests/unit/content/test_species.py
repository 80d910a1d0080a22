"""Every form of a species file that the record formats allow."""

from fractions import Fraction

import pytest
from helpers.from_text import bound, told

from sitegen.content.intervals import Interval, Start
from sitegen.content.species import Births, BreedingSeason, LitterSize, Species
from sitegen.findings import Kind
from sitegen.genetics.loci import Combination, Genome, Inheritance, Linkage, Locus, Sex, SexSystem


def species(text: str) -> Species:
    return bound(f"=== species/s.yaml\n{text}").species["s"]


def locus(text: str) -> Locus:
    """The first locus of a ZW species."""
    return species(f"sexes: ZW\nloci:\n  {text}\n").genome.loci[0]


def test_every_fact_may_be_left_out() -> None:
    found = species("loci: {}\n")
    assert (found.name, found.births, found.litters_a_year) == ("s", Births.EGGS, 1)
    assert found.genome == Genome("s", SexSystem.UNKNOWN, ())
    assert dict(found.breeding_age_months) == {}


def test_facts_are_read_with_their_units() -> None:
    found = species(
        "name: corn snake\nscientific: Pantherophis guttatus\nbirths: live\nsexes: XY\n"
        "litter_size: {low: 6, usual: 14, high: 28}\nlitters_a_year: 2\n"
        "breeding_age: {female: 30 months, male: 1.5 years}\nbreeding_weight: {female: 0.3 kg}\n"
    )
    assert (found.scientific, found.births) == ("Pantherophis guttatus", Births.LIVE)
    assert found.litter_size == LitterSize(6, 14, 28)
    assert found.breeding_age_months == {Sex.FEMALE: 30, Sex.MALE: 18}
    assert found.breeding_weight_grams == {Sex.FEMALE: 300}


def test_one_age_holds_for_both_sexes_and_days_are_rounded_up_to_months() -> None:
    assert species("breeding_age: 600 days\n").breeding_age_months == {Sex.FEMALE: 20, Sex.MALE: 20}


def test_a_gene_alone_has_the_id_of_its_locus() -> None:
    amel = locus("amel: {name: amelanistic, inheritance: recessive}")
    assert [allele.id for allele in amel.alleles] == ["amel"]
    assert amel.shown == {("amel", "amel"): "amel"}
    assert amel.look("amel").name == "amelanistic"


def test_an_alleles_map_with_a_single_allele_says_the_same() -> None:
    assert (
        locus("amel: {alleles: {amel: {name: amelanistic, inheritance: recessive}}}").shown
        == locus("amel: {name: amelanistic, inheritance: recessive}").shown
    )


def test_a_two_copies_form_is_a_look_by_name_and_id() -> None:
    palmetto = locus("palmetto: {inheritance: incomplete_dominant, two_copies: super palmetto}")
    assert palmetto.shown == {("+", "palmetto"): "palmetto", ("palmetto", "palmetto"): "super-palmetto"}


def test_a_series_has_a_look_for_its_compound_in_either_order() -> None:
    for key in ("motley/stripe", "stripe/motley"):
        series = locus(
            f"m: {{alleles: {{motley: {{inheritance: recessive}}, stripe: {{inheritance: recessive}}}}, "
            f"compounds: {{{key}: striped motley}}}}"
        )
        assert series.shown["motley", "stripe"] == "striped-motley"


def test_a_looks_map_says_everything_and_what_is_left_out_shows_nothing() -> None:
    odd = locus("odd: {alleles: {a: {}, b: {}}, looks: {+/a: a, a/a: a, b/a: b, b/b: b}}")
    assert odd.shown == {("+", "a"): "a", ("a", "a"): "a", ("a", "b"): "b", ("b", "b"): "b"}
    assert [look.id for look in odd.looks] == ["a", "b"]


def test_lethal_penetrance_and_age_are_read() -> None:
    one = locus("one: {inheritance: dominant, two_copies_lethal: true, penetrance: 90%, visible_from: 18 months}")
    assert one.lethal == {("one", "one")}
    assert (one.alleles[0].penetrance, one.alleles[0].visible_from_months) == (Fraction(9, 10), 18)


def test_a_sex_linked_locus_has_one_copy_in_one_sex() -> None:
    banded = locus("banded: {inheritance: recessive, sex_linked: true}")
    assert banded.shown == {("banded", "banded"): "banded", ("banded", "W"): "banded"}
    assert banded.genotypes(Sex.FEMALE) == (("+", "W"), ("banded", "W"))


def test_a_pseudo_autosomal_locus_has_two_copies_in_both_sexes() -> None:
    edge = locus("edge: {inheritance: dominant, sex_recombination: 1/10}")
    assert edge.sex_recombination == Fraction(1, 10)
    assert {sex: edge.copies(sex) for sex in (Sex.FEMALE, Sex.MALE)} == {Sex.FEMALE: 2, Sex.MALE: 2}
    assert edge.shown == {("+", "edge"): "edge", ("edge", "edge"): "edge"}


def test_references_between_genes_are_looked_up_by_name_or_id() -> None:
    found = species(
        "loci:\n  hypo: {inheritance: recessive, hidden_by: [Amelanistic]}\n"
        "  amel: {name: amelanistic, inheritance: recessive, not_the_same_as: [hypo]}\n"
        "  anery: {inheritance: recessive, welfare: {text: It may squint, source: A paper}}\n"
        "combinations: {snow: {name: Snow white, parts: [amel, anery]}}\n"
    )
    hypo, amel, anery = found.genome.loci
    assert hypo.alleles[0].hidden_by == ("amel",)
    assert amel.alleles[0].not_the_same_as == ("hypo",)
    assert anery.alleles[0].welfare is not None
    assert found.genome.combinations == (Combination("snow", "Snow white", ("amel", "anery")),)


def test_a_combination_may_be_part_of_a_later_one() -> None:
    found = species(
        "loci: {a: {inheritance: recessive}, b: {inheritance: recessive}, c: {inheritance: dominant}}\n"
        "combinations: {ab: [a, b], abc: [ab, c]}\n"
    )
    assert found.genome.combinations[1].looks == ("a", "b", "c")


@pytest.mark.parametrize(
    ("written", "female", "male"),
    [
        ("1/10", (Fraction(1, 10),), (Fraction(1, 10),)),
        ("{female: 0.1, male: 5%}", (Fraction(1, 10),), (Fraction(1, 20),)),
        ("[1/10]", (Fraction(1, 10),), (Fraction(1, 10),)),
    ],
)
def test_recombination_of_two_loci(written: str, female: tuple[Fraction], male: tuple[Fraction]) -> None:
    found = species(
        "loci: {left: {inheritance: recessive}, right: {inheritance: recessive}}\n"
        f"linked:\n  - {{loci: [left, right], recombination: {written}}}\n"
    )
    assert found.genome.linkages == (Linkage(("left", "right"), {Sex.FEMALE: female, Sex.MALE: male}),)


def test_recombination_of_three_loci_is_a_list_also_by_sex() -> None:
    found = species(
        "loci: {a: {inheritance: recessive}, b: {inheritance: recessive}, c: {inheritance: recessive}}\n"
        "linked: [{loci: [a, b, c], recombination: {female: [1/10, 1/5], male: 0}}]\n"
    )
    assert found.genome.linkages[0].recombination == {
        Sex.FEMALE: (Fraction(1, 10), Fraction(1, 5)),
        Sex.MALE: (Fraction(0), Fraction(0)),
    }


def test_a_background_holds_for_both_sexes_of_an_autosomal_locus() -> None:
    found = species("loci: {amel: {inheritance: recessive}}\nbackground: {amel: {+/+: 3/4, +/amel: 1/4}}\n")
    odds = {("+", "+"): Fraction(3, 4), ("+", "amel"): Fraction(1, 4)}
    assert found.genome.loci[0].background == {Sex.FEMALE: odds, Sex.MALE: odds, Sex.UNKNOWN: odds}


def test_a_background_that_nobody_wrote_is_told_from_one_of_wild_type() -> None:
    assert locus("banded: {inheritance: recessive, sex_linked: true}").background == {}


def test_a_background_by_sex_of_a_sex_linked_locus() -> None:
    found = species(
        "sexes: ZW\nloci: {banded: {inheritance: recessive, sex_linked: true}}\n"
        "background: {banded: {female: {+/W: 3/4, banded/W: 1/4}, male: {+/+: 1/2, +/banded: 1/2}}}\n"
    )
    background = found.genome.loci[0].background
    assert background[Sex.FEMALE] == {("+", "W"): Fraction(3, 4), ("banded", "W"): Fraction(1, 4)}
    assert background[Sex.MALE] == {("+", "+"): Fraction(1, 2), ("+", "banded"): Fraction(1, 2)}
    assert background[Sex.UNKNOWN] == background[Sex.MALE]


def test_two_copy_odds_of_a_sex_linked_locus_become_shares_in_the_sex_with_one_copy() -> None:
    found = species(
        "sexes: XY\nloci: {banded: {inheritance: recessive, sex_linked: true}}\n"
        "background: {banded: {+/+: 1/2, +/banded: 1/4, banded/banded: 1/4}}\n"
    )
    share = Fraction(1, 2) * Fraction(1, 4) + Fraction(1, 4)
    assert found.genome.loci[0].background[Sex.MALE] == {("+", "Y"): 1 - share, ("banded", "Y"): share}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("loci:\n  amel:\n", Kind.KEY_MISSING),
        ("loci: {amel: {}}\n", Kind.KEY_MISSING),
        ("loci: {s: {alleles: {a: {inheritance: recessive}, b: }}}\n", Kind.KEY_MISSING),
        ("loci: {a/b: {inheritance: recessive}}\n", Kind.ID_WRONG),
        ("loci: {normal: {inheritance: recessive}}\n", Kind.ID_WRONG),
        ("loci: {a: {name: Wild type, inheritance: recessive}}\n", Kind.ID_WRONG),
        ("loci: {a: {looks: {+/+: normal, a/a: a}}}\n", Kind.ID_WRONG),
        ("loci: {x: {alleles: {a: {inheritance: recessive}}}, a: {inheritance: dominant}}\n", Kind.ID_TWICE),
        ("loci: {a: {inheritance: codominant}}\n", Kind.VALUE_WRONG),
        ("loci: {a: {inheritance: recessive, penetrance: 3/2}}\n", Kind.VALUE_WRONG),
        ("loci: {a: {inheritance: recessive, hidden_by: [b]}}\n", Kind.GENE_UNKNOWN),
        ("loci: {a: {inheritance: recessive, sex_linked: true}}\n", Kind.VALUE_WRONG),
        ("loci: {a: {looks: {+/b: a}}}\n", Kind.GENE_UNKNOWN),
        ("loci: {a: {inheritance: recessive}}\nlinked: [{loci: [a, b], recombination: 1/10}]\n", Kind.GENE_UNKNOWN),
        ("loci: {a: {inheritance: recessive}}\nlinked: [{loci: [a, a], recombination: 1/10}]\n", Kind.LINKAGE_WRONG),
        ("loci: {a: {inheritance: recessive}}\nbackground: {a: {+/+: 1/2}}\n", Kind.ODDS_WRONG),
        ("loci: {a: {inheritance: recessive}}\nbackground: {a: {+/+: much}}\n", Kind.ODDS_WRONG),
        ("loci: {a: {inheritance: recessive}}\ncombinations: {c: [a]}\n", Kind.VALUE_WRONG),
        ("loci: {a: {inheritance: recessive}}\ncombinations: {c: [a, b]}\n", Kind.GENE_UNKNOWN),
        ("litter_size: {low: 3, usual: 2, high: 5}\n", Kind.COUNT_IMPOSSIBLE),
        ("breeding_age: old\n", Kind.VALUE_WRONG),
        ("breeding_weight: {both: 300 g}\n", Kind.KEY_UNKNOWN),
        ("loci: [a, b]\n", Kind.VALUE_WRONG),
    ],
)
def test_a_fault_is_one_finding_with_its_place(text: str, kind: Kind) -> None:
    findings = told(f"=== species/s.yaml\n{text}")
    assert [finding.kind for finding in findings] == [kind]
    assert findings[0].place is not None
    assert findings[0].place.line > 0


def test_the_trade_word_codominant_is_answered_with_what_it_usually_means() -> None:
    findings = told("=== species/s.yaml\nloci: {a: {inheritance: co-dominant}}\n")
    assert [finding.nearest for finding in findings] == ["incomplete_dominant"]


def test_a_broken_locus_is_told_once_though_others_refer_to_it() -> None:
    findings = told(
        "=== species/s.yaml\nloci:\n  amel: [recessive]\n  hypo: {inheritance: recessive, hidden_by: [amel]}\n"
        "combinations: {snow: [amel, hypo]}\n=== animals/a/animal.yaml\nspecies: s\nshows: [amel]\n"
    )
    assert [finding.kind for finding in findings] == [Kind.VALUE_WRONG]


def test_inheritance_is_kept_for_the_guide() -> None:
    assert locus("a: {inheritance: incomplete dominant}").alleles[0].inheritance is Inheritance.INCOMPLETE_DOMINANT


@pytest.mark.parametrize(
    ("written", "months"),
    [
        ("{paired: March, born: July}", (3, 7)),
        ("{paired: 3, born: 7}", (3, 7)),
        ("{paired: oct, born: Feb.}", (10, 2)),
        ("{paired: 03, born: DECEMBER}", (3, 12)),
    ],
)
def test_months_are_names_or_numbers(written: str, months: tuple[int, int]) -> None:
    assert species(f"breeding_season: {written}\n").breeding_season == BreedingSeason(*months)


def test_rest_and_takes() -> None:
    found = species("rest: 1\ntakes: 9/10\n")
    assert (found.rest, found.takes) == (1, Fraction(9, 10))
    usual = species("rest:\n")
    assert (usual.rest, usual.takes, usual.breeding_season) == (0, Fraction(1), None)


def test_a_figure_that_is_written_has_its_source_or_none() -> None:
    found = species('takes: 9/10\nrest: 1\nbreeding_age:\nsources: {takes: "Common practice, no source."}\n')
    assert found.written == {"takes": "Common practice, no source.", "rest": ""}
    assert species("loci: {}\n").written == {}


def test_a_source_of_a_figure_that_is_not_written_is_told() -> None:
    (finding,) = told("=== species/s.yaml\nrest:\nsources: {rest: Somebody 2015}\n")
    assert (finding.kind, finding.nearest, finding.place.column) == (Kind.KEY_UNKNOWN, "", 11)


def test_a_source_of_something_else_is_told_with_the_nearest() -> None:
    (finding,) = told("=== species/s.yaml\nrest: 1\nsources: {rset: Somebody 2015}\n")
    assert (finding.kind, finding.nearest) == (Kind.KEY_UNKNOWN, "rest")


@pytest.mark.parametrize(
    ("line", "near"),
    [
        ("breeding_season: {paired: Marhc, born: July}", "March"),
        ("breeding_season: {paired: March, born: 13}", ""),
        ("breeding_season: {paired: March, born: 0}", ""),
        ("takes: 0", ""),
        ("takes: 90", "90%"),
    ],
)
def test_a_wrong_month_or_share_is_one_finding(line: str, near: str) -> None:
    (finding,) = told(f"=== species/s.yaml\n{line}\n")
    assert (finding.kind, finding.nearest) == (Kind.VALUE_WRONG, near)


def test_a_season_needs_both_months() -> None:
    assert [f.kind for f in told("=== species/s.yaml\nbreeding_season: {paired: March}\n")] == [Kind.KEY_MISSING]


def test_days_between_events_with_their_sources() -> None:
    found = species("days_from:\n  laid: {usual: 62, spread: 3, worth: 2, source: Forest Park Zoo}\n").intervals
    assert found == {Start.LAID: Interval(usual=62, spread=3, worth=2, source="Forest Park Zoo")}
    assert found[Start.LAID].possible == range(62 - 15, 62 + 15 + 1)  # 4 * 3 * (3/2) ** 0.5 is 14.7


@pytest.mark.parametrize("key", ["spread", "worth"])
def test_a_spread_or_worth_of_nothing_is_told(key: str) -> None:
    text = (
        "usual: 62, spread: 3".replace("spread: 3", "spread: 0")
        if key == "spread"
        else "usual: 62, spread: 3, worth: 0"
    )
    findings = told(f"=== species/s.yaml\ndays_from:\n  laid: {{{text}}}\n")
    assert [finding.kind for finding in findings] == [Kind.VALUE_WRONG]
    assert f"a {key} of nothing" in findings[0].message
