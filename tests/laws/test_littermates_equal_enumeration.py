"""Law: how many of some animals carry an allele is what the sum over all genotypes says, in every mode."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from math import comb

import pytest
from helpers.by_hand import animal, asked_of, litter, species
from helpers.by_pyagrum import network, pyagrum
from helpers.pedigrees import AUTOSOMAL, SEXED, certain, evidence, linked_questions, pair, questions, recessive
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from sitegen.genetics.carriers import carriers
from sitegen.genetics.counts import all_together, counts
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import answer, answer_all
from sitegen.genetics.observations import when_not_seen
from sitegen.genetics.questions import LinkedQuestion, Question

often = settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))


def counted(truth: Truth, members: Sequence[str], number: int, place: int, allele: str) -> list[Fraction]:
    found = [Fraction(0)] * (len(members) + 1)
    for genotypes, chance in truth.joint(members, number, place).items():
        found[sum(allele in genotype for genotype in genotypes)] += chance
    return found


def compare(asked: Sequence[Question | LinkedQuestion]) -> None:
    truth = Truth(asked)
    assume(truth.total)
    for number, (one, heredity) in enumerate(zip(asked, answer_all(asked), strict=True)):
        parts = one.questions if isinstance(one, LinkedQuestion) else (one,)
        members = [member.id for member in parts[0].members]
        for place, part in enumerate(parts):
            for allele in part.locus.alleles:
                for some in (members, members[2:], members[:2]):
                    found = carriers(heredity, some, place, allele.id)
                    assert found is not None
                    assert found == tuple(counted(truth, some, number, place, allele.id))
                    assert sum(found) == 1
                    each = [counted(truth, [member], number, place, allele.id)[1] for member in some]
                    assert sum(count * chance for count, chance in enumerate(found)) == sum(each)
                    event("tied" if found != all_together((1 - one, one) for one in each) else "apart")


@often
@given(questions(AUTOSOMAL))
def test_autosomal(question: Question) -> None:
    compare([question])


@often
@given(questions(SEXED))
def test_sex_linked(question: Question) -> None:
    compare([question])


@settings(often, max_examples=30)
@given(linked_questions())
def test_linked(question: LinkedQuestion) -> None:
    compare([question])


@often
@given(questions(AUTOSOMAL[:3], most=6, several_sires=True))
def test_several_possible_sires(question: Question) -> None:
    compare([question])


@settings(often, max_examples=30)
@given(st.data())
def test_loci_that_share_their_sires(data: st.DataObject) -> None:
    first = data.draw(questions(AUTOSOMAL[:1], several_sires=True, tallies=False))
    seen, _ = data.draw(evidence(AUTOSOMAL[1], first.members, tallies=False))
    compare([first, Question(AUTOSOMAL[1], first.members, {}, seen)])


PLAIN, HET = ("+", "+"), ("+", "hypo")
SIX = [f"y{n}" for n in range(6)]


def litter_of_six() -> Question:
    """A dam that is het in 1 of 2 cases, a sire that is not, six plain young."""
    at = recessive("hypo", {PLAIN: Fraction(1)})
    dam = {PLAIN: Fraction(1, 2), HET: Fraction(1, 2)}
    return pair(at, dam, certain(*PLAIN), [(name, Sex.UNKNOWN, when_not_seen(at)) for name in SIX])


def test_young_of_a_parent_in_doubt() -> None:
    """None carries in 1/2 + 1/2 x 1/64 of such litters; with independent young it would be (3/4)^6."""
    half = Fraction(1, 2)
    found = carriers(answer(litter_of_six()), SIX, 0, "hypo")
    assert found == tuple(half * (k == 0) + half * Fraction(comb(6, k), 64) for k in range(7))


def test_a_general_network_says_the_same() -> None:
    net = network(litter_of_six())
    inference = pyagrum.LazyPropagation(net)
    inference.addJointTarget(set(SIX))
    inference.setEvidence({name: [1.0, 1.0, 0.0] for name in SIX})
    inference.makeInference()
    joint = inference.jointPosterior(set(SIX))
    found = carriers(answer(litter_of_six()), SIX, 0, "hypo")
    assert found is not None
    counts = [0.0] * 7
    for copies in product(range(3), repeat=6):
        counts[sum(map(bool, copies))] += joint[dict(zip(SIX, copies, strict=True))]
    assert counts == pytest.approx([float(chance) for chance in found])


def test_young_of_parents_that_are_surprised() -> None:
    """Two plain parents of whom nothing was written, and a visual young: plain littermates carry it in 2 of 3."""
    asked = asked_of(
        species(recessive("hypo")),
        *(animal(name, shows="") for name in ("d", "s", "t")),
        litter("L", "d", "s t", {"01": {"shows": "hypo"}, "02": {"shows": ""}, "03": {"shows": ""}}),
        litter("M", "d", None, {"01": {"shows": ""}, "02": {"shows": ""}}),
    )
    by_two = counts({Fraction(2, 3): Fraction(1)}, 2)
    assert carriers(asked.heredity[0], ["L/02", "L/03"], 0, "hypo") == by_two
    assert carriers(asked.heredity[0], ["M/01", "M/02"], 0, "hypo") == counts({Fraction(1, 2): Fraction(1)}, 2)
