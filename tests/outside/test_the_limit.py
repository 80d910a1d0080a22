"""Answers in the limit beside an independent library: odds written with an ever smaller e approach them.

pyAgrum (https://pyagrum.gitlab.io) answers the same families with a written background that gives each chromosome of a
founder the allele with the chance e. Only where a limit rests on order alone, the answer at e = 1/1000 is far from it.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

pytest.importorskip("pyagrum")

from helpers.by_hand import animal as record
from helpers.by_hand import collection, dominant, litter, recessive, species
from helpers.by_pyagrum import posteriors

from sitegen.content.collection import Collection
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex
from sitegen.genetics.observations import unwritten
from sitegen.genetics.questions import Question

SMALL = (Fraction(1, 10**3), Fraction(1, 10**6), Fraction(1, 10**9))
DAM, SIRE = record("d", sex=Sex.FEMALE), record("s", sex=Sex.MALE)
LOOKED_AT = (record("d", sex=Sex.FEMALE, shows=""), record("s", sex=Sex.MALE, shows=""))
GENE = "gene"


def shown(n: int, of: int, **more: object) -> object:
    """A litter of d and s in which n of so many young show the gene."""
    return litter("x", "d", "s", {f"{k:02}": {"shows": GENE if k < n else ""} for k in range(of)}, **more)


FAMILIES = {
    "two plain parents of a visual young": (recessive(GENE), *LOOKED_AT, shown(1, 3)),
    "a visual dam": (recessive(GENE), record("d", sex=Sex.FEMALE, shows=GENE), LOOKED_AT[1], shown(1, 5)),
    "a sire that is not recorded": (
        recessive(GENE),
        record("d", sex=Sex.FEMALE, stated={GENE: "66%"}),
        litter("x", "d", None, {"01": {"shows": GENE}, "02": {"shows": ""}}),
    ),
    "an unjudged pair with a young that shows a dominant": (dominant(GENE), DAM, SIRE, shown(1, 2)),
    "grandparents of which nothing is written": (
        recessive(GENE),
        record("g", sex=Sex.FEMALE),
        record("h", sex=Sex.MALE),
        record("d", sex=Sex.FEMALE, dam="g", sire="h"),
        record("s", sex=Sex.MALE, dam="g", sire="h"),
        shown(1, 4),
    ),
}


def question_of(kept: Collection) -> Question:
    (at,) = gather(kept).loci.values()
    return at.question


def written(question: Question, e: Fraction) -> Question:
    """The question with e as a written background, and beside stated odds with what they leave open."""
    odds = unwritten(question.locus, Sex.UNKNOWN, e)
    return replace(question, locus=replace(question.locus, background=dict.fromkeys(Sex, odds)))


@pytest.mark.parametrize("name", FAMILIES)
def test_the_limit_is_approached_as_e_shrinks(name: str) -> None:
    locus, *records = FAMILIES[name]
    kept = collection(species(locus), *records)  # type: ignore[arg-type]
    asked = ask(gather(kept))
    question = question_of(kept)
    before = 1.0
    for e in SMALL:
        found = posteriors(written(question, e))
        apart = max(
            abs(found[animal][pair] - float(asked.posterior(animal, GENE).get(pair, 0)))
            for animal in kept.animals
            for pair in question.locus.genotypes()
        )
        assert apart < 20 * float(e)
        assert apart <= before
        before = apart
    assert any(heredity.opened for heredity in asked.heredity)  # something unwritten was needed


def test_a_limit_that_rests_on_order_alone_is_far_from_what_any_real_e_gives() -> None:
    # Taken as one copy, with 14 young that all show it: 1/2**14 beside e. The limit says one copy, e = 1/1000 says two.
    kept = collection(species(dominant(GENE)), record("d", sex=Sex.FEMALE, shows=GENE), LOOKED_AT[1], shown(14, 14))
    one = ("+", GENE)
    assert ask(gather(kept)).posterior("d", GENE) == {one: 1}
    natural = replace(question_of(kept), priors={}, left_open={})
    found = posteriors(written(natural, SMALL[0]))["d"][one]
    assert found == pytest.approx(2 / (2 + 2**14 * float(SMALL[0])), rel=1e-6)
    assert found < 1 / 2
