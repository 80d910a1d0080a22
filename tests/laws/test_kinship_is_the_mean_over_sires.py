"""Kinship with several possible sires is the mean of the plain tabular method over every choice of sires."""

from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.genetics.kinship import Kinship, ancestry_shares
from sitegen.genetics.questions import Member


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
