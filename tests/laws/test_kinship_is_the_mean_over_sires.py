"""Kinship with several possible sires is the mean of the plain tabular method over every choice of sires."""

from dataclasses import replace
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.genetics.kinship import Kinship, ancestry_shares
from sitegen.genetics.questions import Member
from sitegen.genetics.relations import by_sire, kin_of_parents

ONE = Fraction(1)


@st.composite
def pedigrees(draw: st.DrawFn) -> list[Member]:
    """Up to three founders and four litters of one to two young, some with two possible sires."""
    members = [Member(f"founder {n}") for n in range(draw(st.integers(2, 3)))]
    for number in range(draw(st.integers(1, 4))):
        names = [member.id for member in members]
        dam = draw(st.none() | st.sampled_from(names))
        sires = draw(st.lists(st.sampled_from(names), max_size=2, unique=True))
        first = Fraction(draw(st.integers(1, 4)), 5) if len(sires) == 2 else Fraction(1)
        chances = tuple(zip(sires, (first, 1 - first), strict=False))
        mixed = draw(st.booleans())
        members += [
            Member(f"{number}/{young}", dam=dam, sires=chances, litter=str(number), each_its_own_sire=mixed)
            for young in range(draw(st.integers(1, 2)))
        ]
    return members


def _choices(members: list[Member]) -> list[tuple[dict[str, str], Fraction]]:
    """Every way the sires may be, with its chance: one choice a litter, or one a young."""
    keys = {m.id: m.id if m.each_its_own_sire else f"litter {m.litter}" for m in members if m.sires}
    sires = {keys[m.id]: m.sires for m in members if m.sires}
    ways = []
    for way in product(*sires.values()):
        chosen = {key: sire for key, (sire, _) in zip(sires, way, strict=True)}
        chance = Fraction(1)
        for _, weight in way:
            chance *= weight
        ways.append(({member: chosen[key] for member, key in keys.items()}, chance))
    return ways


def _plain(members: list[Member], sires: dict[str, str]) -> dict[tuple[str, str], Fraction]:
    table: dict[tuple[str, str], Fraction] = {}
    for rank, member in enumerate(members):
        parents = [parent for parent in (member.dam, sires.get(member.id)) if parent is not None]
        for other in members[:rank]:
            value = sum((table[parent, other.id] for parent in parents), Fraction(0)) / 2
            table[member.id, other.id] = table[other.id, member.id] = value
        both = table[parents[0], parents[1]] if len(parents) == 2 else Fraction(0)
        table[member.id, member.id] = (1 + both) / 2
    return table


@given(pedigrees())
@settings(max_examples=60, deadline=None)
def test_every_pair_is_the_mean_over_the_sires(members: list[Member]) -> None:
    kin = Kinship(members)
    expected: dict[tuple[str, str], Fraction] = {}
    for sires, chance in _choices(members):
        for pair, value in _plain(members, sires).items():
            expected[pair] = expected.get(pair, Fraction(0)) + chance * value
    assert expected == {(a.id, b.id): kin.pair(a.id, b.id) for a in members for b in members}
    for member in members:
        assert kin.inbreeding(member.id) == 2 * expected[member.id, member.id] - 1


@given(pedigrees())
@settings(max_examples=30, deadline=None)
def test_shares_of_ancestry_sum_to_one(members: list[Member]) -> None:
    shares = ancestry_shares(members, {"founder 0": "coast", "founder 1": "hills"})
    assert {member.id: Fraction(1) for member in members} == {key: sum(own.values()) for key, own in shares.items()}


@given(pedigrees())
@settings(max_examples=150, deadline=None)
def test_the_ways_of_being_related_add_up_to_the_coefficient(members: list[Member]) -> None:
    """Wright's sum over paths, F = sum (1/2)^(n1+n2+1) (1+F_A), beside the tabular method."""
    members = [member for member in members if member.dam not in [sire for sire, _ in member.sires]]
    kept = {member.id: member for member in members}
    whole = [m for m in members if all(p in kept for p in (m.dam, *(s for s, _ in m.sires)) if p is not None)]
    kept = {member.id: member for member in _with_all_parents(whole)}
    for member in kept.values():
        if member.dam is None or not member.sires:
            continue
        settled = {
            each.id: replace(each, sires=each.sires[:1] and ((each.sires[0][0], ONE),)) for each in kept.values()
        }
        if settled[member.id].sires[0][0] == member.dam:
            continue
        kin = kin_of_parents(member.id, settled)
        table = Kinship(tuple(settled.values()))
        assert kin.links is not None
        assert sum((link.share(table.inbreeding) for link in kin.links), Fraction(0)) == kin.coefficient
        assert kin.coefficient == table.inbreeding(member.id)


def _with_all_parents(members: list[Member]) -> list[Member]:
    found: dict[str, Member] = {}
    for member in members:
        if all(parent in found for parent in (member.dam, *(s for s, _ in member.sires)) if parent is not None):
            found[member.id] = member
    return list(found.values())


@given(pedigrees())
@settings(max_examples=60, deadline=None)
def test_what_hangs_on_one_sire_has_the_mean_that_the_whole_has(members: list[Member]) -> None:
    kept = {member.id: member for member in members}
    named = {"founder 0": "coast"}
    for member in members:
        told = by_sire(
            kept, member.id, lambda settled, who=member.id: ancestry_shares(tuple(settled.values()), named)[who]
        )
        assert told
        if len(told) == 1 or told[0].sires:
            assert sum(case.chance for case in told) == 1
            mean = sum((case.chance * case.value.get("coast", Fraction(0)) for case in told), Fraction(0))
            assert mean == ancestry_shares(members, named)[member.id].get("coast", Fraction(0))
