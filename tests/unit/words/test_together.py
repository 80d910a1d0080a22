"""What hangs together, in words."""

import datetime as dt
from collections.abc import Iterator
from fractions import Fraction

from helpers.by_hand import allele, animal, asked_of, dominant, litter, locus, recessive, species

from sitegen.content.species import Species
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import Asked
from sitegen.evidence.claims import claims_of
from sitegen.evidence.joint import littermates, together
from sitegen.genetics.loci import Linkage, Sex
from sitegen.words.speech import Voice, plain
from sitegen.words.together import littermates_sentence, shared_doubt, together_sentences

DAY = dt.date(2026, 10, 1)
TWO = species(recessive("anery"), recessive("charcoal"), recessive("hypo"))
LINKED = species(
    recessive("left"), recessive("right"), locus("ms", allele("mot"), allele("str"), compounds={"mot/str": "both"}),
    linkages=(Linkage(("left", "right"), dict.fromkeys((Sex.FEMALE, Sex.MALE), (Fraction(1, 10),))),),
)  # fmt: skip


def told(asked: Asked, who: str) -> list[str]:
    kept = asked.evidence.collection
    found = answers_of(asked)
    claims = claims_of(kept, found, lambda one, at: (), DAY)[who]
    one = kept.animals[who]
    return [plain(each) for each in together_sentences(one, together(asked, one), claims, Voice(kept, found, DAY))]


def shared(asked: Asked) -> Iterator[tuple[str, str]]:
    kept = asked.evidence.collection
    voice = Voice(kept, answers_of(asked), DAY)
    for one in littermates(asked, kept.litters["L"]):
        if one.matters:
            of_young = plain(shared_doubt([one], kept.litters["L"], voice))
            yield plain(littermates_sentence(one, kept.litters["L"], voice)), of_young


def two_sires(kind: Species, first: dict[str, str], second: dict[str, str]) -> Asked:
    return asked_of(
        kind, animal("d", shows="", sex=Sex.FEMALE), animal("s", shows="", stated=first),
        animal("t", shows="", stated=second), litter("L", "d", "s t", {"01": {"shows": ""}}),
    )  # fmt: skip


def test_two_sires() -> None:
    never = two_sires(TWO, {"anery": "certain"}, {"charcoal": "certain"})
    assert told(never, "L/01") == ["By our records never both anery and charcoal: it depends on which sire."]
    both = two_sires(TWO, {"anery": "certain", "charcoal": "certain"}, {})
    assert told(both, "L/01") == [
        "The chance of anery and charcoal together: about 13 in 100 (1/8); it depends on which sire."
    ]
    every = two_sires(TWO, dict.fromkeys(("anery", "charcoal", "hypo"), "certain"), {})
    assert len(told(every, "L/01")) == 3


def test_a_sire_further_back() -> None:
    asked = asked_of(
        TWO, animal("d", shows="", sex=Sex.FEMALE), animal("s", shows="anery"), animal("t", shows="charcoal"),
        animal("y", dam="d", sire="s t"), animal("p", shows=""), animal("z", dam="p", sire="y", shows=""),
    )  # fmt: skip
    assert told(asked, "y") == ["By our records never both anery and charcoal: it depends on which sire."]
    assert told(asked, "z") == [
        "By our records never both anery and charcoal: it depends on a sire in its family who is not known for certain."
    ]


def test_alleles_and_linked_genes() -> None:
    asked = asked_of(
        LINKED,
        animal("d", stated={"ms": {"mot/str": Fraction(1)}}, sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE, haplotypes=[{"left": "left", "right": "right"}],
               stated={"left": "certain", "right": "certain"}),
        animal("y", dam="d", sire="s", shows=""),
    )  # fmt: skip
    assert told(asked, "y") == [
        "By our records never both mot and str: they are two forms of one gene.",
        "The chance of left and right together: about 45 in 100 (9/20); the two genes are linked.",
    ]


def test_independent_genes_say_nothing() -> None:
    asked = asked_of(
        TWO, animal("d", shows="", stated={"anery": "certain"}), animal("s", shows="", stated={"hypo": "certain"}),
        litter("L", "d", "s", {"01": {"shows": ""}, "02": {"shows": ""}}),
    )  # fmt: skip
    assert told(asked, "L/01") == []
    assert list(shared(asked)) == []


def test_littermates() -> None:
    """Six plain young of a dam that carries in 1 of 2 cases: none in 1/2 + 1/2 x 1/64."""
    asked = asked_of(
        TWO, animal("d", shows="", stated={"hypo": "50%"}), animal("s", shows=""),
        litter("L", "d", "s", {f"{n:02}": {"shows": ""} for n in range(1, 7)}),
    )  # fmt: skip
    assert list(shared(asked)) == [
        (
            "Of the six young that may carry hypo, 1.5 do on average; none at all: about 51 in 100 such litters.",
            "Littermates share the doubt about hypo: L tells how many of them carry.",
        )
    ]


def test_all_or_none() -> None:
    asked = asked_of(
        TWO, animal("d", shows=""), animal("s", shows="hypo"), animal("t", shows=""),
        litter("L", "d", "s t", {"01": {"shows": ""}, "02": {"shows": ""}}),
    )  # fmt: skip
    (found,) = shared(asked)
    assert found[0] == (
        "The two young that may carry hypo do so together or not at all; together: about 50 in 100 such litters."
    )


def test_all_of_them() -> None:
    """Where a parent has it for certain, once or twice, the chance of all is what multiplying gets most wrong."""
    dam = {"+/tess": Fraction(1, 2), "tess/tess": Fraction(1, 2)}
    asked = asked_of(
        species(dominant("tess")), animal("d", stated={"tess": dam}), animal("s", shows=""),
        litter("L", "d", "s", {f"{n:02}": {} for n in range(5)}),
    )  # fmt: skip
    (found,) = shared(asked)
    all_of_five = Fraction(1, 2) + Fraction(1, 2) * Fraction(1, 2) ** 5
    assert round(100 * all_of_five) == 52
    assert found[0].endswith("3.8 do on average; all of them: about 52 in 100 such litters.")


def test_a_look_that_comes_later() -> None:
    """Chances of a look that nobody can see yet are told as of copies."""
    kind = species(recessive("anery"), recessive("late", visible_from_months=12))
    asked = asked_of(
        kind, animal("d", shows="late", sex=Sex.FEMALE, born="2020-01"), animal("s", stated={"late": "certain"}),
        animal("t", stated={"anery": "certain"}), litter("L", "d", "s t", {"01": {"shows": ""}}, born="2026-08-01"),
    )  # fmt: skip
    assert told(asked, "L/01") == ["By our records never both anery and two copies of late: it depends on which sire."]


def test_one_implies_the_other() -> None:
    """Two copies of a dominant that the visual dam has once come only of the sire that also shows hypo."""
    asked = asked_of(
        species(dominant("tess"), recessive("hypo")), animal("d", shows="tess", stated={"tess": "certain"}),
        animal("s", shows="tess hypo", stated={"tess": "certain"}), animal("t", shows=""),
        litter("L", "d", "s t", {"01": {"shows": "tess"}}),
    )  # fmt: skip
    assert told(asked, "L/01") == [
        "By our records never two copies of tess without hypo: it depends on which sire.",
    ]
