"""What decides an answer, in the cases that a keeper meets."""

from fractions import Fraction

from helpers.by_hand import allele, animal, collection, dominant, incomplete, litter, locus, recessive, species

from sitegen.content.collection import Collection
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Ground
from sitegen.evidence.reasons import reasons
from sitegen.evidence.steps import chain
from sitegen.genetics.loci import Sex, SexSystem

AMEL = species(recessive("amel"))
Told = list[tuple[Ground, tuple[str, ...]]]


def asked(*records: object) -> Asked:
    kept: Collection = collection(*records)  # type: ignore[arg-type]
    return ask(gather(kept))


def told(known: Asked, name: str, at: str = "amel") -> Told:
    return [(reason.ground, reason.animals) for reason in reasons(known, name, at)]


def test_a_founder_that_shows_it() -> None:
    known = asked(AMEL, animal("a", shows="amel"))
    assert told(known, "a") == [(Ground.SHOWS_ITSELF, ("a",))]
    assert reasons(known, "a", "amel")[0].places[0].file == "animals/a/animal.yaml"


def test_a_dam_that_shows_it_always_passes_it_on() -> None:
    known = asked(AMEL, animal("d", shows="amel"), animal("s", shows=""), animal("a", shows="", dam="d", sire="s"))
    assert told(known, "a") == [(Ground.DAM, ("d",))]


def test_two_thirds_rest_on_both_parents_and_on_what_is_not_seen() -> None:
    parents = [animal(name, shows="", stated={"amel": "certain"}) for name in ("d", "s")]
    known = asked(AMEL, *parents, animal("a", shows="", dam="d", sire="s"), animal("b", dam="d", sire="s"))
    assert told(known, "a") == [(Ground.DAM, ("d",)), (Ground.SIRE, ("s",)), (Ground.SHOWS_NOT, ("a",))]
    assert told(known, "b") == [(Ground.DAM, ("d",)), (Ground.SIRE, ("s",))]
    assert told(known, "d") == [(Ground.STATED, ("d",))]


def test_a_visual_young_proves_its_parents() -> None:
    parents = [animal(name, shows="", stated={"amel": "50%"}) for name in ("d", "s")]
    known = asked(AMEL, *parents, litter("x", "d", "s", {"1": {"shows": "amel"}, "2": {"shows": ""}}))
    assert told(known, "d") == told(known, "s") == [(Ground.YOUNG, ("x/1",))]
    assert told(known, "x/2") == [(Ground.DAM, ("d",)), (Ground.SIRE, ("s",)), (Ground.SHOWS_NOT, ("x/2",))]


def test_a_grandyoung_proves_its_grandparent_through_its_parent() -> None:
    known = asked(
        AMEL,
        animal("g", shows="", stated={"amel": "50%"}),
        animal("m", shows="", tests={"amel": "+/+"}),
        animal("s", shows="amel"),
        animal("d", shows="", dam="g", sire="m"),
        litter("x", "d", "s", {"1": {"shows": "amel"}}),
    )
    assert told(known, "d") == [(Ground.YOUNG, ("x/1",))]
    assert told(known, "g") == [(Ground.YOUNG, ("d",))]


def test_a_proof_that_hangs_on_a_mate_of_which_nothing_is_stated_names_the_mate() -> None:
    known = asked(
        AMEL,
        animal("g", shows="", stated={"amel": "50%"}),
        animal("m", shows=""),
        animal("d", shows="", dam="g", sire="m", tests={"amel": "+/amel"}),
    )
    assert told(known, "d") == [(Ground.DNA_TEST, ("d",))]
    assert told(known, "g") == [(Ground.YOUNG, ("d",)), (Ground.NOTHING_STATED, ("m",))]


def test_normal_young_count_against_a_possible_carrier() -> None:
    known = asked(
        AMEL,
        animal("d", shows="", stated={"amel": "66%"}),
        animal("s", shows="amel"),
        litter("x", "d", "s", {"1": {"shows": ""}, "2": {}}, others={"": 4}),
    )
    assert told(known, "d") == [(Ground.STATED, ("d",)), (Ground.YOUNG, ("x/1",))]
    assert dict(reasons(known, "d", "amel")[1].detail) == {"count": "5"}
    assert reasons(known, "d", "amel")[1].litter == "x"


def test_littermates_count_through_the_parent_in_doubt() -> None:
    known = asked(
        AMEL,
        animal("d", shows="", stated={"amel": "66%"}),
        animal("s", shows="", stated={"amel": "certain"}),
        litter("x", "d", "s", {"1": {"shows": ""}, "2": {"shows": ""}}),
    )
    assert told(known, "x/1") == [
        (Ground.DAM, ("d",)),
        (Ground.SIRE, ("s",)),
        (Ground.SHOWS_NOT, ("x/1",)),
        (Ground.SIBLINGS, ("x/2",)),
    ]


def test_a_test_that_rules_out_is_decisive_and_one_that_tells_nothing_is_not() -> None:
    parents = [animal(name, shows="", stated={"amel": "certain"}) for name in ("d", "s")]
    clear = animal("a", shows="", dam="d", sire="s", tests={"amel": "+/+"})
    idle = animal("b", shows="", dam="d", sire="s", tests={"amel": "+/+ +/amel"})
    known = asked(AMEL, *parents, clear, idle)
    assert told(known, "a") == [(Ground.DNA_TEST, ("a",))]
    assert Ground.DNA_TEST not in [ground for ground, _ in told(known, "b")]


def test_a_dominant_that_is_not_shown_is_ruled_out_by_the_look() -> None:
    known = asked(
        species(dominant("tess")),
        animal("d", shows="tess"),
        animal("s", shows=""),
        animal("a", shows="", dam="d", sire="s"),
        animal("b", shows="tess", dam="d", sire="s"),
    )
    assert told(known, "d", "tess") == [(Ground.SHOWS_ITSELF, ("d",)), (Ground.TAKEN_AS_ONE_COPY, ("d",))]
    assert told(known, "a", "tess") == [(Ground.SHOWS_NOT, ("a",))]
    assert told(known, "b", "tess") == [(Ground.SHOWS_ITSELF, ("b",)), (Ground.DAM, ("d",))]
    assert told(known, "s", "tess") == [(Ground.NOTHING_STATED, ("s",))]


def test_an_incomplete_dominant_tells_everything_itself() -> None:
    known = asked(
        species(incomplete("pal", "super pal")),
        animal("d", shows="pal"),
        animal("s", shows="pal"),
        animal("a", shows="super-pal", dam="d", sire="s"),
    )
    assert told(known, "a", "pal") == [(Ground.SHOWS_ITSELF, ("a",))]


def test_a_compound_proves_one_allele_of_each_parent() -> None:
    series = locus("ms", allele("motley"), allele("stripe"), compounds={"motley/stripe": "striped motley"})
    known = asked(
        species(series),
        animal("d", shows="", stated={"motley": "66%"}),
        animal("s", shows="", stated={"stripe": "50%"}),
        litter("x", "d", "s", {"1": {"shows": "striped-motley"}}),
    )
    assert told(known, "d", "ms") == [(Ground.YOUNG, ("x/1",)), (Ground.STATED, ("s",))]


def test_sex_linked_daughters_of_a_showing_dam_are_not_proven_by_her() -> None:
    banded = locus("banded", allele("banded"), sex_system=SexSystem.ZW, sex_linked=True)
    known = asked(
        species(banded, sexes=SexSystem.ZW),
        animal("d", shows="banded", sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE, stated={"banded": "certain"}),
        animal("son", sex=Sex.MALE, dam="d", sire="s"),
        animal("daughter", sex=Sex.FEMALE, dam="d", sire="s"),
    )
    assert told(known, "son", "banded")[0] == (Ground.DAM, ("d",))
    assert (Ground.SIRE, ("s",)) in told(known, "daughter", "banded")


def test_one_of_two_sires() -> None:
    known = asked(
        AMEL,
        animal("d", shows=""),
        animal("s", shows="amel"),
        animal("t", shows="", stated={"amel": "50%"}),
        litter("x", "d", "s t", {"1": {"shows": ""}}),
    )
    assert told(known, "x/1") == [(Ground.SIRE, ("s", "t"))]


def test_a_proof_that_no_single_relative_gives_is_found_among_the_records() -> None:
    known = asked(
        AMEL,
        animal("g", shows="amel"),
        animal("m", shows="", tests={"amel": "+/+"}),
        animal("n", shows="", tests={"amel": "+/+"}),
        animal("s", shows="", dam="g", sire="m"),
        animal("t", shows="", dam="g", sire="n"),
        litter("x", "d", "s t", {"1": {"shows": "amel"}}),
        animal("d", shows="", stated={"amel": "50%"}),
    )
    assert told(known, "d") == [(Ground.YOUNG, ("x/1",))]
    assert told(known, "s") == told(known, "t") == [(Ground.DAM, ("g",))]


def test_where_there_is_no_answer_there_is_no_reason() -> None:
    known = asked(AMEL, animal("a", shows="amel", tests={"amel": "+/+"}))
    assert told(known, "a") == []
    assert chain(known, "a", "amel") == ()


def test_the_chain_goes_from_the_prior_to_the_answer() -> None:
    known = asked(
        AMEL,
        animal("d", shows="", stated={"amel": "66%"}),
        animal("s", shows="amel"),
        litter("x", "d", "s", others={"": 3}),
        litter("y", "d", "s", {"1": {"shows": ""}}),
    )
    steps = chain(known, "d", "amel")
    third = Fraction(1, 3)

    def odds(n: int) -> dict[tuple[str, str], Fraction]:
        carrier = 2 * third * Fraction(1, 2**n)
        return {("+", "+"): third / (third + carrier), ("+", "amel"): carrier / (third + carrier)}

    assert [step.after for step in steps] == [odds(0), odds(1), odds(4)]
    assert [step.before for step in steps] == [{}, odds(0), odds(1)]
    assert [step.reason.litter for step in steps] == ["", "y", "x"]
    assert steps[0].says == "a previous keeper stated amel of d: 66%"
    assert steps[2].says == "3 young of x that are not listed do not show amel"


def test_what_other_genes_tell_of_the_sire_is_the_last_step() -> None:
    known = asked(
        species(recessive("amel"), recessive("anery")),
        animal("d", shows="anery"),
        animal("s", shows="amel"),
        animal("t", shows="anery"),
        litter("x", "d", "s t", {"1": {"shows": "anery", "unsure": "amel"}}),
    )
    steps = chain(known, "x/1", "amel")
    assert [step.reason.ground for step in steps] == [Ground.DAM, Ground.SIRE]
    assert steps[-1].after == {("+", "+"): 1}


def test_the_sex_of_an_unjudged_young_is_part_of_what_it_tells() -> None:
    """A son and a daughter whom nobody judged, bred together: each can only be what its sex allows."""
    banded = locus("band", allele("band"), sex_system=SexSystem.ZW, sex_linked=True)
    kept = collection(
        species(banded, sexes=SexSystem.ZW),
        animal("d", sex=Sex.FEMALE, shows=""),
        animal("s", sex=Sex.MALE, shows="", stated={"band": "50%"}),
        litter("x", "d", "s", {"f": {"sex": Sex.FEMALE, "shows": None}, "m": {"sex": Sex.MALE, "shows": None}}),
        litter("y", "x/f", "x/m", {"1": {"sex": Sex.FEMALE, "shows": ""}}),
    )
    known = ask(gather(kept))
    for name in kept.animals:
        assert reasons(known, name, "band")
        assert chain(known, name, "band")


def test_an_allele_that_the_look_tells_leaves_the_other_one_to_be_proven() -> None:
    series = species(locus("coat", allele("amel"), allele("ultra"), compounds={"amel/ultra": "amel"}))
    parents = animal("d", shows="amel"), animal("s", shows="ultra")
    found = told(asked(series, *parents, animal("a", shows="amel", dam="d", sire="s")), "a", "coat")
    assert found == [(Ground.SHOWS_ITSELF, ("a",)), (Ground.SIRE, ("s",))]
