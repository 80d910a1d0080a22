"""Answers of small collections, each worked out by hand."""

from fractions import Fraction

import pytest
from helpers.by_hand import (
    allele,
    animal,
    collection,
    dominant,
    genotype,
    incomplete,
    litter,
    locus,
    recessive,
    species,
)

from sitegen.content.collection import Collection
from sitegen.evidence.answers import answers
from sitegen.findings import Kind
from sitegen.genetics.questions import Posterior

HALF, THIRD = Fraction(1, 2), Fraction(1, 3)
AMEL = species(recessive("amel"))


def odds(**written: Fraction | int) -> Posterior:
    """``het`` and so on by short names: wild, het, two of amel."""
    names = {"wild": "+/+", "het": "+/amel", "two": "amel/amel"}
    return {genotype(names[key]): Fraction(chance) for key, chance in written.items()}


def amel(kept: Collection, name: str) -> Posterior:
    found = answers(kept)
    assert not found.contradictions
    return found.posteriors[name]["amel"]


def test_a_founder_that_shows_a_recessive_has_two_copies() -> None:
    assert amel(collection(AMEL, animal("a", shows="amel")), "a") == odds(two=1)


def test_a_founder_of_which_nothing_is_stated_is_taken_as_wild() -> None:
    assert amel(collection(AMEL, animal("a", shows="")), "a") == odds(wild=1)


@pytest.mark.parametrize(("written", "chance"), [("66%", Fraction(2, 3)), ("50%", HALF), ("certain", Fraction(1))])
def test_what_a_previous_keeper_stated(written: str, chance: Fraction) -> None:
    expected = {key: value for key, value in odds(wild=1 - chance, het=chance).items() if value}
    assert amel(collection(AMEL, animal("a", shows="", stated={"amel": written})), "a") == expected


def test_what_is_seen_is_stronger_than_what_was_stated() -> None:
    for written in ("certain", "66%"):
        assert amel(collection(AMEL, animal("a", shows="amel", stated={"amel": written})), "a") == odds(two=1)


def test_a_test_is_stronger_than_nothing_stated() -> None:
    assert amel(collection(AMEL, animal("a", shows="", tests={"amel": "+/amel"})), "a") == odds(het=1)


def test_a_test_leaves_what_it_leaves() -> None:
    kept = collection(
        AMEL,
        animal(
            "a",
            tests={"amel": "+/amel amel/amel"},
            stated={"amel": {"+/+": HALF, "+/amel": Fraction(1, 8), "amel/amel": Fraction(3, 8)}},
        ),
    )
    assert amel(kept, "a") == odds(het=Fraction(1, 4), two=Fraction(3, 4))


def _carriers(**young: dict[str, object]) -> Collection:
    parents = [animal(name, shows="", stated={"amel": "certain"}) for name in ("d", "s")]
    return collection(AMEL, *parents, litter("x", "d", "s", young))


def test_two_thirds_of_unaffected_young_carry() -> None:
    assert amel(_carriers(a={"shows": ""}), "x/a") == odds(wild=THIRD, het=2 * THIRD)


def test_a_young_that_was_not_judged_keeps_all_three() -> None:
    quarter = Fraction(1, 4)
    for unjudged in ({}, {"shows": "", "unsure": "amel"}, {"shows": "", "unsure": "all"}):
        assert amel(_carriers(a=dict(unjudged)), "x/a") == odds(wild=quarter, het=HALF, two=quarter)


def test_young_that_are_not_listed_count_as_evidence() -> None:
    kept = collection(
        AMEL,
        animal("d", shows="", stated={"amel": "66%"}),
        animal("s", shows="amel"),
        litter("x", "d", "s", others={"": 2}),
    )
    two_normal = Fraction(2, 3) * HALF**2
    assert amel(kept, "d") == odds(wild=THIRD / (THIRD + two_normal), het=two_normal / (THIRD + two_normal))


def test_two_equal_littermates_both_count() -> None:
    kept = collection(
        AMEL,
        animal("d", shows="", stated={"amel": "50%"}),
        animal("s", shows="amel"),
        litter("x", "d", "s", {"1": {"shows": ""}, "2": {"shows": ""}}),
    )
    carrier = HALF * HALF**2
    assert amel(kept, "d") == odds(wild=HALF / (HALF + carrier), het=carrier / (HALF + carrier))


def test_a_gene_hidden_by_another_was_not_judged() -> None:
    kind = species(recessive("amel"), recessive("hypo", hidden_by=("amel",)))
    kept = collection(
        kind,
        animal("d", shows="", stated={"hypo": "certain"}),
        animal("s", shows="", stated={"hypo": "certain"}),
        animal("a", dam="d", sire="s", shows="", stated={}),
        animal("m", shows="amel", stated={"hypo": {"+/+": HALF, "hypo/hypo": HALF}}),
    )
    found = answers(kept).posteriors
    assert found["a"]["hypo"] == {("+", "+"): THIRD, ("+", "hypo"): 2 * THIRD}
    assert found["m"]["hypo"] == {("+", "+"): HALF, ("hypo", "hypo"): HALF}


def test_too_young_to_judge_is_no_evidence() -> None:
    kind = species(recessive("amel", visible_from_months=12))
    parents = [animal(name, shows="", stated={"amel": "certain"}) for name in ("d", "s")]
    at_birth = litter("x", "d", "s", {"a": {"shows": ""}, "b": {"shows": "", "on": "2025-08-01"}}, born="2024-07-01")
    own = animal("own", dam="d", sire="s", shows="", born="2024-07-01", weighed="2025-07-01")
    young = animal("young", dam="d", sire="s", shows="", born="2024-07-01", weighed="2025-06-30")
    found = answers(collection(kind, *parents, at_birth, own, young)).posteriors
    judged, unjudged = {("+", "+"), ("+", "amel")}, {("+", "+"), ("+", "amel"), ("amel", "amel")}
    assert [set(found[name]["amel"]) for name in ("x/a", "x/b", "own", "young")] == [unjudged, judged, judged, unjudged]


def test_a_dominant_of_unknown_copies_is_taken_as_one() -> None:
    kind = species(dominant("tess"))
    one, two = ("+", "tess"), ("tess", "tess")
    kept = collection(
        kind,
        animal("a", shows="tess"),
        animal("b", shows="tess", copies={"tess": Fraction(1, 4)}),
        animal("c", shows="tess", copies={"tess": None}),
        animal("e", shows="tess", tests={"tess": "tess/tess"}),
    )
    found = answers(kept).posteriors
    assert [found[name]["tess"] for name in "abce"] == [
        {one: 1},
        {one: Fraction(3, 4), two: Fraction(1, 4)},
        {one: 1},
        {two: 1},
    ]


def test_an_incomplete_dominant_tells_its_copies() -> None:
    kept = collection(species(incomplete("pal", "super pal")), animal("a", shows="pal"), animal("b", shows="super-pal"))
    found = answers(kept).posteriors
    assert (found["a"]["pal"], found["b"]["pal"]) == ({("+", "pal"): 1}, {("pal", "pal"): 1})


def test_a_compound_comes_from_two_plain_parents() -> None:
    series = locus("ms", allele("motley"), allele("stripe"), compounds={"motley/stripe": "striped motley"})
    kept = collection(
        species(series),
        animal("d", shows="", stated={"motley": "66%"}),
        animal("s", shows="", stated={"stripe": "50%"}),
        litter("x", "d", "s", {"1": {"shows": "striped-motley"}, "2": {"shows": "motley stripe"}}),
    )
    found = answers(kept).posteriors
    assert found["d"]["ms"] == {("+", "motley"): 1}
    assert found["s"]["ms"] == {("+", "stripe"): 1}
    assert found["x/1"]["ms"] == found["x/2"]["ms"] == {("motley", "stripe"): 1}


def test_statements_about_two_alleles_of_one_locus_are_independent_chances() -> None:
    series = locus("ms", allele("motley"), allele("stripe"))
    kept = collection(species(series), animal("d", stated={"motley": "66%", "stripe": "50%"}))
    assert answers(kept).posteriors["d"]["ms"] == {
        ("+", "+"): THIRD * HALF,
        ("+", "motley"): 2 * THIRD * HALF,
        ("+", "stripe"): THIRD * HALF,
        ("motley", "stripe"): 2 * THIRD * HALF,
    }


def test_what_is_stated_of_an_animal_with_parents_is_told_as_not_used() -> None:
    kept = collection(AMEL, animal("d", shows="amel"), animal("a", shows="", dam="d", stated={"amel": "66%"}))
    found = answers(kept)
    assert found.posteriors["a"]["amel"] == odds(het=1)
    assert [notice.place.file for notice in found.notices if notice.place] == ["animals/a/animal.yaml"]


def test_the_sire_is_told_by_the_young_of_any_locus() -> None:
    kept = collection(
        species(recessive("amel"), recessive("anery")),
        animal("d", shows="amel anery"),
        animal("s", shows="amel anery"),
        animal("t", shows="", stated={"anery": "certain"}),
        litter("x", "d", "s t", {"1": {"shows": "anery"}}),
    )
    found = answers(kept)
    assert found.sires == {"x": {"t": 1}}
    assert found.posteriors["x/1"]["amel"] == odds(het=1)
    one_locus = litter("x", "d", "s t", {"1": {"shows": "anery", "unsure": "amel"}})
    rest = [each for each in kept.animals.values() if not each.is_young]
    told = answers(collection(*kept.species.values(), *rest, one_locus))
    assert told.sires == {"x": {"s": Fraction(2, 3), "t": Fraction(1, 3)}}
    assert told.posteriors["x/1"]["amel"] == odds(two=Fraction(2, 3), het=Fraction(1, 3))


def test_young_that_may_each_have_their_own_sire_are_told_one_by_one() -> None:
    kept = collection(
        species(recessive("anery")),
        animal("d", shows="anery"),
        animal("s", shows="", tests={"anery": "+/+"}),
        animal("t", shows="anery"),
        litter("x", "d", "s t", {"1": {"shows": "anery"}, "2": {"shows": ""}, "3": {}}, mixed=True),
    )
    found = answers(kept)
    assert found.sires == {"x/1": {"t": 1}, "x/2": {"s": 1}, "x/3": {"s": HALF, "t": HALF}}
    assert found.posteriors["x/3"]["anery"] == {("+", "anery"): HALF, ("anery", "anery"): HALF}


def test_inbreeding_uses_what_is_known_of_the_sire() -> None:
    parents = [animal("g", shows="amel"), animal("d", shows="amel", dam="g"), animal("s", shows="amel", dam="g")]
    kind = species(locus("amel", allele("amel"), background={"+/+": HALF, "+/amel": HALF}))
    other = animal("t", shows="", tests={"amel": "+/+"})
    kept = collection(kind, *parents, other, litter("x", "d", "s t", {"1": {"shows": "amel"}}))
    found = answers(kept)
    assert found.sires == {"x": {"s": 1}}
    assert found.inbreeding["x/1"] == Fraction(1, 8)
    assert found.inbreeding["d"] == 0


def test_a_contradiction_names_the_records_and_spares_the_rest() -> None:
    kept = collection(
        species(recessive("amel"), recessive("anery")),
        animal("juniper", shows="", stated={"amel": "certain", "anery": "certain"}),
        animal("flint", shows="", stated={"amel": "66%"}, tests={"amel": "+/+"}),
        animal("apart", shows="amel"),
        litter("x", "juniper", "flint", {"04": {"shows": ""}, "05": {"shows": "amel"}}),
    )
    found = answers(kept)
    assert [clash.records for clash in found.clashes] == [
        (
            (kept.animals["flint"].genes[0].tests[0].place, "flint is DNA-tested as not carrying amel"),
            (kept.animals["x/05"].genes[0].judged.seen[0].place, "young 05 of x shows amel"),
        )
    ]
    assert found.contradictions[0].kind is Kind.CONTRADICTION
    assert "amel" not in found.posteriors["juniper"]
    assert found.posteriors["apart"]["amel"] == odds(two=1)
    assert found.posteriors["x/05"]["anery"] == {("+", "+"): HALF, ("+", "anery"): HALF}


def test_a_litter_that_had_several_sires_is_told_how_to_say_so() -> None:
    series = species(locus("ms", *(allele(name) for name in "abcd")))
    young = {each: {"tests": {"ms": f"a/{each}"}} for each in "bcd"}
    found = answers(collection(series, animal("dam", tests={"ms": "a/a"}), litter("x", "dam", None, young)))
    assert len(found.clashes[0].records) == 3
    assert found.clashes[0].perhaps_mixed == ("x",)
    assert "mixed_sires: true" in found.contradictions[0].remedy
    apart = answers(collection(series, animal("dam", tests={"ms": "a/a"}), litter("x", "dam", None, young, mixed=True)))
    assert not apart.clashes


def test_loci_that_clash_only_through_the_sire_are_told_once() -> None:
    kept = collection(
        species(recessive("amel"), recessive("anery")),
        animal("d", shows="amel anery"),
        animal("s", shows="amel", tests={"anery": "+/+"}),
        animal("t", shows="anery", tests={"amel": "+/+"}),
        litter("x", "d", "s t", {"1": {"shows": "amel anery"}}),
    )
    found = answers(kept)
    assert len(found.clashes) == 1
    assert {says for _, says in found.clashes[0].records} >= {
        "s is DNA-tested as not carrying anery",
        "t is DNA-tested as not carrying amel",
    }


def test_no_odds_are_told_of_an_allele_that_no_record_of_the_family_names() -> None:
    # ``pen`` hides under ``mot``: who shows mot may have two of it, or one of each.
    series = species(locus("ms", allele("mot"), allele("pen"), compounds={"mot/pen": "mot"}))
    visual = {"shows": "mot"}
    alone = answers(collection(series, animal("a", **visual), litter("x", "a", None, {"1": {}})))
    assert alone.posteriors["a"]["ms"] == {("mot", "mot"): 1}
    assert ("mot", "pen") in alone.possible["a"]["ms"]
    named = answers(collection(series, animal("a", **visual), litter("x", "a", None, {"1": {"shows": "pen"}})))
    assert named.posteriors["a"]["ms"] == {("mot", "pen"): 1}
    both = collection(series, animal("b", **visual), animal("c", shows="pen"), litter("x", "b", "c", {"1": {}}))
    assert answers(both).posteriors["b"]["ms"] == {("mot", "mot"): Fraction(1, 3), ("mot", "pen"): Fraction(2, 3)}
