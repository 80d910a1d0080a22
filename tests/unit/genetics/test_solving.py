from fractions import Fraction

from herds import closed, looked_at
from small_pedigrees import certain, recessive

from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.factors import network_of
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import Member, Observation, Question, TooTangled
from sitegen.genetics.solving import Contradicted, Hanging, Piece, Solved, pieces

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
