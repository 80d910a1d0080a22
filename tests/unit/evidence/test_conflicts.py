"""A smallest set of things that cannot all be true."""

from collections.abc import Sequence
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.evidence.conflicts import smallest_clash


@given(st.lists(st.sets(st.integers(0, 9), min_size=1), min_size=1, max_size=4))
@settings(max_examples=100, deadline=None)
def test_nothing_can_be_left_out_of_what_is_found(clashes: list[set[int]]) -> None:
    def agree(some: Sequence[int]) -> bool:
        return not any(clash <= set(some) for clash in clashes)

    found = smallest_clash(range(10), agree)
    assert not agree(found)
    assert all(agree(fewer) for fewer in combinations(found, len(found) - 1))
    assert found == tuple(sorted(found))


def test_earlier_pieces_are_preferred() -> None:
    assert smallest_clash("abcd", lambda some: not ({"a", "b"} <= set(some) or {"c", "d"} <= set(some))) == ("a", "b")


def test_a_clash_without_any_piece_has_no_pieces() -> None:
    assert smallest_clash("abc", lambda some: False) == ()


def test_few_questions_are_asked() -> None:
    asked = []

    def agree(some: Sequence[int]) -> bool:
        asked.append(1)
        return not {17, 801} <= set(some)

    assert smallest_clash(range(1000), agree) == (17, 801)
    assert len(asked) < 60
