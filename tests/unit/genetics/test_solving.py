from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from helpers.pedigrees import AUTOSOMAL, certain, closed, looked_at, recessive

from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.factors import network_of
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import Member, Observation, Question, TooTangled
from sitegen.genetics.solving import (
    Contradicted,
    Hanging,
    Piece,
    Solved,
    _Beyond,
    _Planned,
    _planned,
    agreement,
    pieces,
)

HALF = Fraction(1, 2)
MAY_CARRY = {("+", "+"): HALF, ("+", "amel"): HALF}


def solved(question: Question, limit: int = 10**6) -> Solved:
    parts = [part_of(question)]
    return Solved(network_of(parts), parts, limit)


def half_siblings(*, sire: dict) -> Question:
    """Two dams and a sire, a young each."""
    members = [Member("one", Sex.FEMALE), Member("other", Sex.FEMALE), Member("sire", Sex.MALE)]
    members += [Member(f"of {dam}", dam=dam, sires=(("sire", Fraction(1)),)) for dam in ("one", "other")]
    return Question(recessive(), tuple(members), {"one": MAY_CARRY, "other": MAY_CARRY, "sire": sire}, ())


def test_settled_animals_part_a_family_into_pieces() -> None:
    assert len(pieces(network_of([part_of(half_siblings(sire=MAY_CARRY))]).factors, 5)) == 1
    network = network_of([part_of(half_siblings(sire=certain("amel", "amel")))])
    assert [len(piece) for piece in pieces(network.factors, len(network.sizes))] == [2, 2]


def test_a_joint_over_pieces_that_do_not_meet_is_their_product() -> None:
    found = solved(half_siblings(sire=certain("amel", "amel")))
    one, other = (found.network.of_member[0, number] for number in (0, 1))
    assert list(found.joint([one, other])) == [1, 1, 1, 1]


def test_outcomes_of_contradicted_and_tangled_pieces() -> None:
    seen = (Observation("of one", {("+", "+"): HALF}, "seen"), Observation("of one", certain("+", "amel"), "seen"))
    clash = half_siblings(sire=MAY_CARRY)
    clash = Question(clash.locus, clash.members, clash.priors, seen)
    assert part_of(clash).impossible == {0}
    tangled = solved(looked_at(closed(60), share=1.0), limit=1)
    assert all(isinstance(outcome, TooTangled) for outcome in tangled.outcomes)


def test_a_member_without_evidence_hangs_on_a_piece_that_it_would_tangle() -> None:
    question = half_siblings(sire=MAY_CARRY)
    found = solved(question, limit=10)
    young = found.network.of_member[0, 3]
    assert isinstance(found.outcomes[young], Hanging)
    assert isinstance(found.outcomes[found.network.of_member[0, 0]], Piece)
    assert not any(isinstance(outcome, Contradicted) for outcome in found.outcomes)
    assert isinstance(found.joint([young]), TooTangled)
    assert sum(solved(question).joint([young])) > 0


def test_what_hangs_on_a_hanging_member_hangs_too() -> None:
    question = half_siblings(sire=MAY_CARRY)
    more = (Member("mate", Sex.MALE), Member("grandchild", dam="of one", sires=(("mate", Fraction(1)),)))
    question = Question(question.locus, (*question.members, *more), {**question.priors, "mate": MAY_CARRY}, ())
    found = solved(question, limit=10)
    for number in (3, 6):
        assert isinstance(found.outcomes[found.network.of_member[0, number]], Hanging)
    assert isinstance(found.outcomes[found.network.of_member[0, 0]], Piece)


def test_a_joint_of_too_many_is_refused_by_name() -> None:
    found = solved(half_siblings(sire=MAY_CARRY), limit=60)
    everyone = [found.network.of_member[0, number] for number in range(5)]
    assert all(isinstance(found.outcomes[variable], Piece) for variable in everyone)
    refused = found.joint(everyone)
    assert isinstance(refused, TooTangled)
    assert refused.entries > 60
    assert set(refused.members) <= {"one", "other", "sire", "of one", "of other"}
    assert refused.members


def unevenly() -> Question:
    """As :func:`half_siblings`, with odds that differ."""
    third = {("+", "+"): Fraction(2, 3), ("+", "amel"): Fraction(1, 3)}
    asked = half_siblings(sire=third)
    return replace(asked, priors={**asked.priors, "one": {("+", "+"): Fraction(4, 5), ("+", "amel"): Fraction(1, 5)}})


def shares(weights: Sequence[int] | TooTangled) -> list[Fraction]:
    assert not isinstance(weights, TooTangled)
    return [Fraction(weight, sum(weights)) for weight in weights]


def test_a_joint_of_a_hanging_member_with_its_parents_counts_their_odds() -> None:
    plain = solved(unevenly())
    found = next(
        each
        for each in (solved(unevenly(), limit) for limit in range(1, 200))
        if isinstance(each.outcomes[each.network.of_member[0, 3]], Hanging)
        and not isinstance(each.joint([each.network.of_member[0, number] for number in (0, 2, 3)]), TooTangled)
    )
    for order in ((0, 2, 3), (2, 0, 3), (3, 2), (3,), (0, 3)):
        variables = [plain.network.of_member[0, number] for number in order]
        assert shares(found.joint(variables)) == shares(plain.joint(variables)), order


def test_a_piece_may_have_as_many_entries_as_the_limit_and_no_more() -> None:
    network = solved(unevenly()).network
    limit = next(limit for limit in range(1, 200) if not isinstance(_planned(network, network.factors, limit), _Beyond))
    fits, beyond = (_planned(network, network.factors, most) for most in (limit, limit - 1))
    assert isinstance(fits, _Planned)
    assert fits.order.entries == fits.limit
    assert isinstance(beyond, _Beyond)
    assert beyond.entries > fits.limit - 1


def needs_unlike_and_like_parents() -> Question:
    """One young needs unlike parents, the other like ones; each alone is possible."""
    either = {("motley", "motley"): HALF, ("stripe", "stripe"): HALF}
    like = {("motley", "motley"): Fraction(1), ("stripe", "stripe"): Fraction(1)}
    members = [Member("dam", Sex.FEMALE), Member("sire", Sex.MALE)]
    members += [Member(name, dam="dam", sires=(("sire", Fraction(1)),)) for name in ("one", "other")]
    seen = (Observation("one", certain("motley", "stripe"), "unlike"), Observation("other", like, "like"))
    return Question(AUTOSOMAL[3], tuple(members), {"dam": either, "sire": either}, seen)


def test_whether_pieces_agree_is_told_without_their_posteriors() -> None:
    sound = half_siblings(sire=MAY_CARRY)
    parts = [part_of(sound)]
    assert agreement(network_of(parts), parts, 10**6) is True
    parts = [part_of(needs_unlike_and_like_parents())]
    assert parts[0].impossible == set()
    assert agreement(network_of(parts), parts, 10**6) is False
    tangled = [part_of(looked_at(closed(60), share=1.0))]
    refused = agreement(network_of(tangled), tangled, 100)
    assert isinstance(refused, TooTangled)
    assert refused.entries > 100
    assert refused.members
    assert set(refused.members) <= {member.id for member in tangled[0].members}


def test_a_joint_of_a_hanging_member_with_its_one_parent_in_doubt_counts_its_odds() -> None:
    asked = unevenly()
    asked = replace(asked, priors={**asked.priors, "one": certain("+", "+")})
    plain = solved(asked)
    sire, young = (plain.network.of_member[0, number] for number in (2, 3))
    found = next(
        each
        for each in (solved(asked, limit) for limit in range(1, 200))
        if isinstance(each.outcomes[young], Hanging) and not isinstance(each.joint([sire, young]), TooTangled)
    )
    assert shares(found.joint([sire, young])) == shares(plain.joint([sire, young]))
    assert shares(found.joint([young, sire])) == shares(plain.joint([young, sire]))
