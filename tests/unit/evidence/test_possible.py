"""What no record rules out, by hand."""

from fractions import Fraction

from helpers.by_hand import allele, animal, collection, dominant, litter, locus, recessive, species

from sitegen.content.collection import Collection
from sitegen.evidence.answers import answers
from sitegen.genetics.loci import Linkage, Sex, SexSystem

HALF = Fraction(1, 2)


def sets(*records: object) -> dict[str, list[str]]:
    """Animal to its possible genotypes at the only locus."""
    kept: Collection = collection(*records)  # type: ignore[arg-type]
    found = answers(kept).possible
    return {each: sorted("/".join(pair) for pairs in own.values() for pair in pairs) for each, own in found.items()}


def test_nothing_written_leaves_everything_open() -> None:
    assert sets(species(recessive("amel")), animal("a")) == {"a": ["+/+", "+/amel", "amel/amel"]}


def test_what_is_written_closes() -> None:
    found = sets(
        species(recessive("amel")),
        animal("plain", shows=""),
        animal("word", stated={"amel": "66%"}),
        animal("sure", stated={"amel": "certain"}),
        animal("tested", tests={"amel": "+/+"}),
    )
    assert found == {
        "plain": ["+/+", "+/amel"],
        "word": ["+/+", "+/amel"],
        "sure": ["+/amel"],
        "tested": ["+/+"],
    }


def test_a_word_in_a_series_leaves_the_other_alleles_open_and_odds_by_genotype_do_not() -> None:
    series = species(locus("ms", allele("mot"), allele("str")))
    found = sets(
        series, animal("word", stated={"mot": "certain"}), animal("odds", stated={"ms": {"+/mot": Fraction(1)}})
    )
    assert found == {"word": ["+/mot", "mot/str"], "odds": ["+/mot"]}


def test_a_written_background_closes() -> None:
    kept = species(locus("amel", allele("amel"), background={"+/+": HALF, "+/amel": HALF}))
    assert sets(kept, animal("a")) == {"a": ["+/+", "+/amel"]}


def test_an_unjudged_dam_may_not_have_the_dominant_of_her_young() -> None:
    found = sets(species(dominant("tess")), animal("dam"), litter("l", "dam", None, {"01": {"shows": "tess"}}))
    assert found["dam"] == ["+/+", "+/tess", "tess/tess"]
    assert found["l/01"] == ["+/tess", "tess/tess"]


def test_an_unjudged_young_of_a_visual_dam_may_have_two_copies() -> None:
    found = sets(species(recessive("amel")), animal("dam", shows="amel"), animal("a", dam="dam"))
    assert found["a"] == ["+/amel", "amel/amel"]


def test_one_unrecorded_sire_for_a_litter_and_one_of_its_own_where_sires_are_mixed() -> None:
    series = species(locus("ms", *(allele(name) for name in "abcd")))
    young = {"01": {"tests": {"ms": "a/b"}}, "02": {"tests": {"ms": "a/c"}}, "03": {}}
    dam = animal("dam", tests={"ms": "a/a"})
    assert sets(series, dam, litter("l", "dam", None, young))["l/03"] == ["a/b", "a/c"]
    mixed = sets(series, dam, litter("l", "dam", None, young, mixed=True))
    assert mixed["l/03"] == ["+/a", "a/a", "a/b", "a/c", "a/d"]


def test_a_contradiction_leaves_nothing() -> None:
    found = sets(species(recessive("amel")), animal("a", shows="amel", tests={"amel": "+/+"}), animal("b", shows=""))
    assert found == {"a": [], "b": ["+/+", "+/amel"]}


def test_the_sires_that_may_be() -> None:
    kept = collection(
        species(recessive("amel"), sexes=SexSystem.ZW),
        animal("dam", shows="amel", sex=Sex.FEMALE),
        animal("clear", tests={"amel": "+/+"}, sex=Sex.MALE),
        animal("unknown", sex=Sex.MALE),
        litter("l", "dam", "clear unknown", {"01": {"shows": "amel"}}),
    )
    assert answers(kept).possible_sires == {"l": ("unknown",)}


def test_linked_loci_are_opened_together() -> None:
    both = Linkage(("left", "right"), {Sex.FEMALE: (HALF,), Sex.MALE: (HALF,)})
    kept = collection(species(recessive("left"), recessive("right"), linkages=(both,)), animal("a", shows="left"))
    found = answers(kept).possible["a"]
    assert found["left"] == {("left", "left")}
    assert found["right"] == {("+", "+"), ("+", "right")}
