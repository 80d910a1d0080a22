import re
from fractions import Fraction

import pytest

from sitegen.genetics.loci import Sex
from sitegen.genetics.pedigree import connected, parents_first, pedigree_of
from sitegen.genetics.questions import Member, Tally

ONE = Fraction(1)


def young(name: str, dam: str | None = None, *sires: str) -> Member:
    return Member(name, Sex.UNKNOWN, dam, tuple((sire, Fraction(1, len(sires))) for sire in sires))


def test_families_are_what_descent_connects() -> None:
    members = (young("a"), young("b"), young("c"), young("ab", "a", "b"), young("d"))
    pedigree = pedigree_of(members)
    assert pedigree.families == ((0, 1, 3), (2,), (4,))
    assert pedigree.family_of == (0, 0, 1, 0, 2)


def test_possible_sires_and_tallied_young_connect_too() -> None:
    members = (young("a"), young("b"), young("c"), young("d"), young("y", "a", "b", "c"))
    tally = Tally("a", (("d", ONE),), 3, {}, "others")
    assert pedigree_of(members).families == ((0, 1, 2, 4), (3,))
    assert pedigree_of(members, [tally]).families == ((0, 1, 2, 3, 4),)


def test_sex_by_use() -> None:
    members = (young("a"), Member("b", Sex.MALE), young("c"), young("y", "a", "b", "c"))
    assert pedigree_of(members).sexes == (Sex.FEMALE, Sex.MALE, Sex.MALE, Sex.UNKNOWN)


def test_ancestors_come_first_whatever_the_record_order() -> None:
    members = (young("grandchild", "child", "s"), young("child", "d", "s"), young("s"), young("d"))
    assert [member.id for member in parents_first(members)] == ["d", "s", "child", "grandchild"]


@pytest.mark.parametrize(
    ("members", "message"),
    [
        ((young("a", "b"),), "parents that are not members: ['b']"),
        ((young("a"), young("b", "a", "a")), "b has one animal as dam and sire"),
        ((young("a", "b"), young("b", "a")), "b is its own ancestor"),
        ((young("a"), young("a")), "several members have the same id"),
    ],
)
def test_unsound_pedigrees_are_refused(members: tuple[Member, ...], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        pedigree_of(members)


def test_connected_sets_are_in_order() -> None:
    assert connected(5, [(4, 1), (3, 0)]) == ((0, 3), (1, 4), (2,))


def test_a_long_line_of_descent_needs_no_recursion() -> None:
    members = [young("a0")]
    members += [young(f"a{number}", f"a{number - 1}") for number in range(1, 20_000)]
    pedigree = pedigree_of(members)
    assert parents_first(members[::-1]) == tuple(members)
    assert len(pedigree.families) == 1


def test_of_those_that_descend_from_themselves_one_is_named() -> None:
    members = (Member("dam"), Member("y", dam="dam"), Member("a", dam="b"), Member("b", dam="a"), Member("x", dam="b"))
    for order in (members, members[::-1]):
        with pytest.raises(ValueError, match=r"[ab] is its own ancestor"):
            pedigree_of(order)


def test_a_circle_is_found_also_where_the_other_parent_is_none_of_it() -> None:
    with pytest.raises(ValueError, match="b is its own ancestor"):
        parents_first([young("a", "b"), young("b", "a", "later"), Member("later")])
