from itertools import product as every

import pytest

from sitegen.genetics.tables import (
    Table,
    entries,
    first_sums,
    positions,
    product,
    reduced,
    spread,
    summed_over_first,
    summed_to,
)

SIZES = {0: 2, 1: 3, 2: 2}


def at(table: Table, values: dict[int, int]) -> int:
    """One entry, found by the definition of row-major order."""
    place = 0
    for variable in table.scope:
        place = place * SIZES[variable] + values[variable]
    return table.values[place]


def everywhere() -> list[dict[int, int]]:
    return [dict(zip(SIZES, chosen, strict=True)) for chosen in every(*(range(size) for size in SIZES.values()))]


FIRST = Table((1, 0), [1, 2, 3, 4, 5, 6])
SECOND = Table((2, 1), [7, 8, 9, 10, 11, 12])
SCOPE, SHAPE = (0, 1, 2), (2, 3, 2)


def test_entries_of_no_variables_is_one() -> None:
    assert entries([]) == 1
    assert entries([2, 3, 2]) == 2 * 3 * 2


def test_product_is_entry_by_entry() -> None:
    whole = Table(SCOPE, product([FIRST, SECOND, FIRST], SCOPE, SHAPE))
    for values in everywhere():
        assert at(whole, values) == at(FIRST, values) ** 2 * at(SECOND, values)


def test_product_of_nothing_is_one_everywhere() -> None:
    assert list(product([], SCOPE, SHAPE)) == [1] * 12


def test_equal_tables_both_count() -> None:
    again = Table(FIRST.scope, list(FIRST.values))
    assert again != FIRST
    assert list(product([FIRST, again], (1, 0), (3, 2))) == [n * n for n in FIRST.values]


def test_spread_repeats_a_table_over_the_other_variables() -> None:
    wide = Table(SCOPE, spread(FIRST, SCOPE, SHAPE))
    for values in everywhere():
        assert at(wide, values) == at(FIRST, values)


@pytest.mark.parametrize("kept", [(), (0,), (2, 0), (1, 2), (2, 1, 0)])
def test_sums_to_some_variables(kept: tuple[int, ...]) -> None:
    whole = Table(SCOPE, list(range(1, 13)))
    sums = Table(kept, summed_to(whole.values, SCOPE, SHAPE, kept))
    for values in everywhere():
        alike = [other for other in everywhere() if all(other[v] == values[v] for v in kept)]
        assert at(sums, values) == sum(at(whole, other) for other in alike)


def test_sums_over_and_by_the_first_variable() -> None:
    values = [1, 2, 3, 4, 5, 6]
    assert summed_over_first(values, 2) == [1 + 4, 2 + 5, 3 + 6]
    assert summed_over_first(values, 6) == [1 + 2 + 3 + 4 + 5 + 6]
    assert first_sums(values, 2) == [1 + 2 + 3, 4 + 5 + 6]


def test_positions_of_large_tables_are_the_same_as_of_small_ones() -> None:
    sizes = (3,) * 8
    large = positions(sizes, (7, 0))
    assert len(large) == 3**8
    assert [large[0], large[1], large[3**7]] == [0, 3, 1]


@pytest.mark.parametrize("values", [[6, 9, 0], [2**700 * 3, 2**701 * 5, 0], [0, 0], [7, 7]])
def test_reduced_keeps_the_ratios(values: list[int]) -> None:
    found = reduced(list(values))
    assert all(a * y == b * x for a, x in zip(values, found, strict=True) for b, y in zip(values, found, strict=True))
    assert all(0 <= small <= value for small, value in zip(found, values, strict=True))


def test_reduced_takes_out_common_factors() -> None:
    assert reduced([6, 9, 0]) == [2, 3, 0]
    assert reduced([2**700 * 3, 2**701 * 5, 0]) == [3, 10, 0]
