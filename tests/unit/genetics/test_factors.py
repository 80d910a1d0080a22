from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.pedigrees import ONE, SEXED, certain, recessive

from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.factors import SHARED, network_of, splits
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.network import answer
from sitegen.genetics.questions import Member, Observation, Question, Tally

HALF = Fraction(1, 2)
MAY_CARRY = {("+", "+"): HALF, ("+", "amel"): HALF}
NORMAL = {("+", "+"): ONE, ("+", "amel"): ONE}
PARENTS = {"dam": Sex.FEMALE, "one": Sex.MALE, "other": Sex.MALE}
TWO = (("one", HALF), ("other", HALF))


@pytest.mark.parametrize(("count", "n_sires", "expected"), [(2, 2, 3), (3, 3, 10), (5, 1, 1)])
def test_ways_to_share_young_among_sires(count: int, n_sires: int, expected: int) -> None:
    found = splits(count, n_sires)
    assert len(found) == len(set(found)) == expected
    assert all(sum(ways) == count and len(ways) == n_sires for ways in found)


def adults() -> tuple[Member, ...]:
    return Member("dam", Sex.FEMALE), Member("one", Sex.MALE), Member("other", Sex.MALE)


def asked(*young: Member, tally: Tally | None = None, certain_sires: bool = False) -> Question:
    odds = certain("+", "+") if certain_sires else MAY_CARRY
    priors = {"dam": MAY_CARRY, "one": odds, "other": odds}
    return Question(recessive(), (*adults(), *young), priors, (), (tally,) if tally else ())


def test_settled_members_are_no_variables() -> None:
    question = Question(recessive(), adults(), {"dam": MAY_CARRY}, ())
    network = network_of([part_of(question)])
    assert network.sizes == [2]
    assert [factor.scope for factor in network.factors] == [(0,)]


def test_states_that_cannot_be_are_no_values() -> None:
    young = Member("y", dam="dam", sires=(("one", ONE),))
    question = Question(recessive(), (*adults(), young), {"dam": MAY_CARRY}, ())
    network = network_of([part_of(question)])
    assert network.sizes == [2, 2]  # dam and young carry or not; the sire is settled


def test_evidence_below_settles_what_stands_above() -> None:
    young = Member("y", dam="dam", sires=(("one", ONE),))
    question = asked(young)
    seen = Question(
        question.locus, question.members, question.priors, (Observation("y", certain("amel", "amel"), "y"),)
    )
    network = network_of([part_of(seen)])
    assert [network.owner[variable] for variable in range(len(network.sizes))] == [(0, 2)]


def test_a_litter_has_one_choice_of_sire_for_all_its_young_and_loci() -> None:
    young = [Member(f"y{n}", dam="dam", sires=TWO, litter="L") for n in range(3)]
    network = network_of([part_of(asked(*young)), part_of(asked(*young))])
    assert list(network.choices) == [("litter", "L")]
    assert sum(factor.part == SHARED for factor in network.factors) == 1


def test_young_with_their_own_sires_have_a_choice_each() -> None:
    young = [Member(f"y{n}", dam="dam", sires=TWO, litter="L", each_its_own_sire=True) for n in range(3)]
    tally = Tally("dam", TWO, 4, NORMAL, "others", litter="L", each_its_own_sire=True)
    network = network_of([part_of(asked(*young, tally=tally))])
    assert list(network.choices) == [("young", "y0"), ("young", "y1"), ("young", "y2"), ("tally", "L others")]
    variable, _ = network.choices["tally", "L others"]
    assert network.sizes[variable] == len(splits(4, 2))


def test_possible_sires_that_are_alike_need_no_choice_for_a_tally() -> None:
    tally = Tally("dam", TWO, 4, NORMAL, "others", litter="L", each_its_own_sire=True)
    network = network_of([part_of(asked(tally=tally, certain_sires=True))])
    assert network.choices == {}


def test_a_litter_of_doubtful_sires_has_one_father_for_all_its_young() -> None:
    young = [Member(f"y{n}", dam="dam", sires=TWO, litter="L") for n in range(3)]
    network = network_of([part_of(asked(*young))])
    # Dam, two sires, three young; which sire it was, and his state.
    assert len(network.sizes) == 3 + 3 + 2


def test_counted_young_of_sires_that_are_alike_say_what_those_of_one_sire_say() -> None:
    alike = Tally("dam", TWO, 4, NORMAL, "others", litter="L", each_its_own_sire=True)
    single = Tally("dam", (("one", ONE),), 4, NORMAL, "others", litter="L")
    visual = {name: certain("amel", "amel") for name in ("one", "other")}
    found, expected = (
        answer(replace(asked(tally=tally), priors={"dam": MAY_CARRY, **visual})).of("dam") for tally in (alike, single)
    )
    assert found == expected == {("+", "+"): Fraction(16, 17), ("+", "amel"): Fraction(1, 17)}


def test_a_young_tells_something_by_what_is_known_of_it_and_by_its_sex_where_that_is_part_of_heredity() -> None:
    def tells(at: Locus, sex: Sex, *seen: Observation) -> bool:
        young = Member("y", sex, "dam", (("one", ONE),))
        priors = {name: dict.fromkeys(at.genotypes(s)[:2], HALF) for name, s in PARENTS.items()}
        network = network_of([part_of(Question(at, (*adults(), young), priors, seen))])
        (heredity,) = (factor for factor in network.factors if factor.member == 3)
        return heredity.evidence

    for at in SEXED:
        assert tells(at, Sex.FEMALE)
        assert tells(at, Sex.MALE)
        assert not tells(at, Sex.UNKNOWN)
    assert not tells(recessive(), Sex.FEMALE)
    assert tells(recessive(), Sex.UNKNOWN, Observation("y", NORMAL, "y"))
