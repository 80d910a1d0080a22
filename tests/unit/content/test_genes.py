"""What a breeder writes of an animal's genes, read as evidence."""

from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound, told

from sitegen.content.genes import Genes
from sitegen.findings import Finding, Kind, Level


def genes(lines: str, sex: str = "male") -> Genes:
    text = f"{CORN}=== animals/a/animal.yaml\nspecies: corn-snake\nsex: {sex}\n{lines}\n"
    return bound(text).animals["a"].genes[0]


def findings(lines: str) -> list[Finding]:
    return told(f"{CORN}=== animals/a/animal.yaml\nspecies: corn-snake\nsex: male\n{lines}\n")


def kinds(lines: str) -> list[Kind]:
    return [finding.kind for finding in told(f"{CORN}=== animals/a/animal.yaml\nspecies: corn-snake\n{lines}\n")]


@pytest.mark.parametrize(
    ("written", "looks"),
    [
        ("[amel]", ["amel"]),
        ("[Amelanistic]", ["amel"]),
        ("amel", ["amel"]),
        ("[super palmetto]", ["super-palmetto"]),
        ("[super-palmetto]", ["super-palmetto"]),
        ("[striped motley]", ["striped-motley"]),
        ("[motley/stripe]", ["striped-motley"]),
        ("[stripe/motley]", ["striped-motley"]),
        ("[motley, stripe]", ["striped-motley"]),
        ("[snow]", ["amel", "anery"]),
        ("[Snow, amel, stripe]", ["amel", "anery", "stripe"]),
        ("[]", []),
        ("normal", []),
        ("[Wild type]", []),
        ("[wild-type]", []),
        ("wildtype", []),
        ("none", []),
        ("[nothing]", []),
        ("“Amelanistic”", ["amel"]),
        ("[“amel”, “anery”]", ["amel", "anery"]),
        ("amel, anery", ["amel", "anery"]),
    ],
)
def test_looks_are_accepted_by_id_name_combination_and_compound(written: str, looks: list[str]) -> None:
    judged = genes(f"shows: {written}").judged
    assert [seen.look for seen in judged.seen] == looks
    assert judged.written


def test_each_look_of_a_combination_keeps_the_written_name_and_place() -> None:
    seen = genes("shows: [snow]").judged.seen
    assert [(one.locus, one.as_written, one.place.line, one.place.column) for one in seen] == [
        ("amel", "snow", 3, 9),
        ("anery", "snow", 3, 9),
    ]


def test_a_record_without_shows_judged_nothing_and_an_empty_list_judged_everything() -> None:
    assert not genes("").judged.written
    assert genes("shows: []").judged.written
    assert not genes("unsure: all").judged.written
    assert genes("unsure: all").judged.unsure_all
    assert genes("unsure: [hypo]").judged.written


def test_normal_says_that_all_was_looked_at() -> None:
    assert genes("shows: normal").judged.written
    (finding,) = findings("shows: [normal, amel]")
    assert (finding.kind, finding.nearest) == (Kind.EVIDENCE_CLASH, "")


@pytest.mark.parametrize(
    ("shows", "near", "remedy"),
    [
        (
            "[het amel]",
            "",
            "write it under stated if a previous keeper told you (stated: {amel: certain}); leave it out",
        ),
        (
            "[66% het hypo]",
            "",
            "write it under stated if a previous keeper told you (stated: {hypo: 66%}); leave it out",
        ),
        (
            "[possible het hypo]",
            "",
            "write it under stated if a previous keeper told you (stated: {hypo: 50%}, with the",
        ),
        (
            "[amel het anery]",
            "",
            "write it under stated if a previous keeper told you (stated: {anery: certain}); leave",
        ),
        ("[het]", "", "write it under stated"),
        ("[amel anery]", "amel, anery", 'write "amel, anery", or put a comma'),
        ("amel anery", "amel, anery", 'write "amel, anery", or put a comma'),
        ("[super palmetto tessera]", "super palmetto, tessera", 'write "super palmetto, tessera"'),
        ("[super amel]", "", "write amel"),
        ("[not amel]", "", "describe the new gene"),
        ("[opal]", "", "describe the new gene"),
        ("[normal amel]", "", "describe the new gene"),
        ("[motley-stripe]", "", "name the look that is seen"),
        ("[amle]", "amel", 'write "amel"'),
        ("[norml]", "", "describe the new gene"),
    ],
)
def test_a_look_is_never_answered_with_another(shows: str, near: str, remedy: str) -> None:
    (finding,) = findings(f"shows: {shows}")
    assert finding.kind is Kind.GENE_UNKNOWN
    assert finding.nearest == near
    assert finding.remedy.startswith(remedy)


def test_unsure_takes_loci_alleles_looks_and_combinations() -> None:
    written = "unsure: [hypo, stripe, striped motley, super palmetto, snow]"
    assert genes(f"shows: []\n{written}").judged.unsure == ("hypo", "motley-stripe", "palmetto", "amel", "anery")


def test_an_empty_shows_is_taken_as_not_judged_and_told() -> None:
    assert not genes("shows:").judged.written
    assert kinds("shows:") == [Kind.VALUE_WRONG]


@pytest.mark.parametrize(
    ("written", "odds"),
    [
        ("amel: certain", {("+", "amel"): Fraction(1)}),
        ("amel: 66%", {("+", "+"): Fraction(1, 3), ("+", "amel"): Fraction(2, 3)}),
        ("amel: 33%", {("+", "+"): Fraction(2, 3), ("+", "amel"): Fraction(1, 3)}),
        ("amel: 50%", {("+", "+"): Fraction(1, 2), ("+", "amel"): Fraction(1, 2)}),
        ("amel: 0.25", {("+", "+"): Fraction(3, 4), ("+", "amel"): Fraction(1, 4)}),
        ("amel: 100%", {("+", "amel"): Fraction(1)}),
        ("amel: 66 %", {("+", "+"): Fraction(1, 3), ("+", "amel"): Fraction(2, 3)}),
        ("amel: {+/+: 1}", {("+", "+"): Fraction(1)}),
        ("stripe: certain", {("+", "stripe"): Fraction(1)}),
        ("motley-stripe: {stripe/motley: 1}", {("motley", "stripe"): Fraction(1)}),
        (
            "caramel: {+/+: 1/4, +/caramel: 1/2, caramel/caramel: 1/4}",
            {("+", "+"): Fraction(1, 4), ("+", "caramel"): Fraction(1, 2), ("caramel", "caramel"): Fraction(1, 4)},
        ),
    ],
)
def test_statements_become_odds_that_sum_to_one(written: str, odds: dict[tuple[str, str], Fraction]) -> None:
    (stated,) = genes(f"stated: {{{written}}}").stated
    assert stated.odds == odds
    assert sum(stated.odds.values()) == 1


@pytest.mark.parametrize(
    ("written", "near", "remedy"),
    [
        ("50/50", "1/2", "write 1/2 or 50%"),
        ("1", "certain", "write certain"),
        ("100", "certain", "write certain"),
        ("het", "certain", "write certain"),
        ("certian", "certain", "write certain"),
        ("66", "66%", "write 66%"),
        ("0,5", "0.5", "write 0.5"),
        ("66% het", "66%", "write 66%"),
        ("50% possible het", "50%", "write 50%"),
        ("14", "", "write 14% or 1/4, as it was stated"),
        ("1/1", "", "write certain, or 1/2 when it is as likely as not"),
        ("0", "", "leave the line out when nothing was stated"),
        ("0%", "", "leave the line out when nothing was stated"),
        ("true", "", "what is seen belongs under shows"),
        ("2", "", "what is seen belongs under shows"),
        ("2/1", "", "write what was stated"),
        ("150%", "", "write what was stated"),
        ("NaN", "", "write what was stated"),
        ("uncertain", "", "write what was stated"),
        ("{+/amel: 50/50}", "1/2", "write 1/2"),
    ],
)
def test_what_does_not_say_a_chance_is_told_with_how_to_write_it(written: str, near: str, remedy: str) -> None:
    (finding,) = findings(f"stated: {{amel: {written}}}\n")
    assert (finding.kind, finding.level, finding.nearest) == (Kind.ODDS_WRONG, Level.ERROR, near)
    assert finding.remedy.startswith(remedy) or finding.remedy.endswith(remedy)


def test_what_is_known_of_copies_is_never_answered_with_another_number() -> None:
    assert findings("shows: [tessera]\ncopies: {tessera: both}\n")[0].nearest == ""
    assert findings("shows: [tessera]\ncopies: {tessera: 50/50}\n")[0].nearest == ""


def test_a_statement_about_a_sex_linked_gene_fits_the_sex() -> None:
    assert genes("stated: {banded: 1/4}", "female").stated[0].odds == {
        ("+", "W"): Fraction(3, 4),
        ("banded", "W"): Fraction(1, 4),
    }
    assert genes("stated: {banded: certain}", "male").stated[0].odds == {("+", "banded"): Fraction(1)}


def test_tests_hold_one_genotype_or_those_that_remain() -> None:
    found = genes(
        "tests:\n  - {locus: anery, result: anery/+, laboratory: Lab, date: 2024-02-01, document: X1}\n"
        "  - {locus: hypo, result: [+/+, +/hypo]}\n"
    ).tests
    assert [test.genotypes for test in found] == [(("+", "anery"),), (("+", "+"), ("+", "hypo"))]
    assert (found[0].laboratory, str(found[0].date), found[0].document) == ("Lab", "2024-02-01", "X1")


def test_a_test_of_the_sex_with_one_copy() -> None:
    assert genes("tests: [{locus: banded, result: banded/W}]", "female").tests[0].genotypes == (("banded", "W"),)


@pytest.mark.parametrize(
    ("written", "two"),
    [
        ("unknown", None),
        ("{unknown: 1/3}", Fraction(1, 3)),
        ("{two: 1/3}", Fraction(1, 3)),
        ("{one: 2/3, two: 1/3}", Fraction(1, 3)),
        ("1/3", Fraction(1, 3)),
        ("33%", Fraction(1, 3)),
        ("one", Fraction(0)),
        ("1", Fraction(0)),
        ("two", Fraction(1)),
    ],
)
def test_copies_of_a_dominant(written: str, two: Fraction | None) -> None:
    (copies,) = genes(f"shows: [tessera]\ncopies: {{tessera: {written}}}").copies
    assert (copies.locus, copies.two_copies) == ("tessera", two)


def test_haplotypes_are_one_line_a_chromosome() -> None:
    lines = genes("haplotypes:\n  - {amel: amel, anery: +}\n  - {amel: +, anery: anery}").haplotypes
    assert [dict(line.alleles) for line in lines] == [{"amel": "amel", "anery": "+"}, {"amel": "+", "anery": "anery"}]


@pytest.mark.parametrize(
    ("lines", "kind"),
    [
        ("shows: [amle]", Kind.GENE_UNKNOWN),
        ("shows: [motley-stripe]", Kind.GENE_UNKNOWN),
        ("shows: [palmetto, super palmetto]", Kind.EVIDENCE_CLASH),
        ("shows: [motley, stripe, striped motley]", Kind.EVIDENCE_CLASH),
        ("shows: [amel]\nunsure: [amel]", Kind.EVIDENCE_CLASH),
        ("unsure: [nothing]", Kind.GENE_UNKNOWN),
        ("stated: {amel: 150%}", Kind.ODDS_WRONG),
        ("stated: {amel: 66% het}", Kind.ODDS_WRONG),
        ("stated: {amel: [certain]}", Kind.ODDS_WRONG),
        ("stated: {motley-stripe: certain}", Kind.GENE_UNKNOWN),
        ("stated: {amel: {+/+: 1/3, +/amel: 1/3}}", Kind.ODDS_WRONG),
        ("stated: {amel: {+/+: 1/3, +/anery: 2/3}}", Kind.GENE_UNKNOWN),
        ("stated: [amel]", Kind.VALUE_WRONG),
        ("tests: [{locus: amel, result: amel}]", Kind.GENE_UNKNOWN),
        ("tests: [{locus: amel, result: {a: b}}]", Kind.VALUE_WRONG),
        ("tests: {locus: amel, result: +/+}", Kind.VALUE_WRONG),
        ("copies: {tessera: 3}", Kind.VALUE_WRONG),
        ("copies: {tessera: {one: 1/2, two: 1/3}}", Kind.VALUE_WRONG),
        ("haplotypes: [{amel: anery}]", Kind.GENE_UNKNOWN),
        ("haplotypes: [{amel: +}, {amel: +}, {amel: +}]", Kind.VALUE_WRONG),
    ],
)
def test_a_fault_is_one_finding(lines: str, kind: Kind) -> None:
    assert kinds(lines) == [kind]


def test_a_name_that_two_looks_share_is_not_taken_for_either() -> None:
    text = (
        "=== species/s.yaml\nloci:\n  a: {name: albino, inheritance: recessive}\n"
        "  b: {name: albino, inheritance: recessive}\n=== animals/x/animal.yaml\nspecies: s\nshows: [albino]\n"
    )
    assert [finding.kind for finding in told(text)] == [Kind.GENE_UNKNOWN]


def test_other_names_of_a_gene_are_accepted() -> None:
    text = (
        "=== species/s.yaml\nloci: {amel: {inheritance: recessive, named: [red albino]}}\n"
        "=== animals/x/animal.yaml\nspecies: s\nshows: [Red Albino]\n"
    )
    assert [seen.look for seen in bound(text).animals["x"].genes[0].judged.seen] == ["amel"]


def test_an_animal_of_unknown_sex_that_is_a_dam_has_one_copy_of_a_gene_on_the_z() -> None:
    text = (
        "=== animals/d/animal.yaml\nspecies: corn-snake\nstated: {banded: 1/4}\n"
        "=== litters/l/litter.yaml\ndam: d\nyoung: {1: {tests: [{locus: banded, result: +/+}]}}\n"
        "=== animals/k/animal.yaml\nspecies: corn-snake\nsire: l/1\n"
    )
    assert bound(CORN + text).animals["d"].genes[0].stated[0].odds == {
        ("+", "W"): Fraction(3, 4),
        ("banded", "W"): Fraction(1, 4),
    }


@pytest.mark.parametrize("allele", ["+", "a/b", "W"])
def test_an_allele_needs_an_id_that_can_stand_in_a_genotype(allele: str) -> None:
    text = f"=== species/s.yaml\nloci: {{x: {{alleles: {{'{allele}': {{inheritance: dominant}}}}}}}}\n"
    assert [finding.kind for finding in told(text)] == [Kind.ID_WRONG]
