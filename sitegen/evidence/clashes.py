"""A smallest set of things that cannot all be true, found by asking again without some of them."""

from collections.abc import Callable, Sequence
from typing import TypeVar

_T = TypeVar("_T")


def smallest_clash(pieces: Sequence[_T], agree: Callable[[Sequence[_T]], bool]) -> tuple[_T, ...]:
    """Pieces that cannot all be true, none of which can be left out; earlier pieces are preferred.

    About ``2 k log(n / k)`` questions for ``k`` of ``n`` pieces.

    Args:
        pieces: All together they do not agree.
        agree: True when the given pieces can all be true. Fewer pieces never agree less.

    Returns:
        The pieces in their own order; empty when they clash even without any of them.

    Source:
        QuickXplain: Junker U (2004) AAAI-04, 167-172 (from memory).
    """
    if not agree(()):
        return ()
    found = _explain(
        (),
        False,
        list(enumerate(pieces)),
        lambda some: agree([piece for _, piece in sorted(some, key=lambda item: item[0])]),
    )
    return tuple(piece for _, piece in sorted(found, key=lambda item: item[0]))


def _explain(
    kept: Sequence[tuple[int, _T]],
    grown: bool,
    pieces: Sequence[tuple[int, _T]],
    agree: Callable[[Sequence[tuple[int, _T]]], bool],
) -> list[tuple[int, _T]]:
    if grown and not agree(kept):
        return []
    if len(pieces) == 1:
        return list(pieces)
    half = len(pieces) // 2
    first, second = pieces[:half], pieces[half:]
    from_second = _explain([*kept, *first], True, second, agree)
    from_first = _explain([*kept, *from_second], bool(from_second), first, agree)
    return [*from_first, *from_second]
