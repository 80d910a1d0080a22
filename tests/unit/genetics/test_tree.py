import random
from itertools import product as every

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.genetics.ordering import Plan, plan
from sitegen.genetics.tables import Table
from sitegen.genetics.tree import Single, Tree, is_possible, joint_of

LIMIT = 10**6


def random_tables(seed: int, n_variables: int = 7) -> tuple[list[int], list[Table]]:
    dice = random.Random(seed)
    sizes = [dice.randint(1, 3) for _ in range(n_variables)]
    scopes = [tuple(dice.sample(range(n_variables), dice.randint(1, 3))) for _ in range(8)]
    scopes += [(variable,) for variable in range(n_variables)]

    def values(scope: tuple[int, ...]) -> list[int]:
        count = 1
        for variable in scope:
            count *= sizes[variable]
        return [dice.choice([0, 1, 2, 3, 5, 8]) for _ in range(count)]

    return sizes, [Table(scope, values(scope)) for scope in scopes]


def plain_joint(sizes: list[int], tables: list[Table], variables: tuple[int, ...]) -> list[int]:
    sums: dict[tuple[int, ...], int] = dict.fromkeys(every(*(range(sizes[variable]) for variable in variables)), 0)
    for chosen in every(*(range(size) for size in sizes)):
        weight = 1
        for table in tables:
            place = 0
            for variable in table.scope:
                place = place * sizes[variable] + chosen[variable]
            weight *= table.values[place]
        sums[tuple(chosen[variable] for variable in variables)] += weight
    return list(sums.values())


def alike(found: list[int], expected: list[int]) -> bool:
    """The same ratios."""
    return [value * sum(expected) for value in found] == [value * sum(found) for value in expected]


@pytest.mark.parametrize("seed", range(60))
def test_both_sweeps_give_every_single_sum_and_queries_any_joint(seed: int) -> None:
    sizes, tables = random_tables(seed)
    order = plan(sizes, [table.scope for table in tables], LIMIT)
    tree = Tree(sizes, tables, order)
    assert is_possible(sizes, tables, order) == bool(sum(plain_joint(sizes, tables, (0,))))
    if not sum(plain_joint(sizes, tables, (0,))):
        assert tree.total == 0
        return
    assert tree.total
    for variable in range(len(sizes)):
        assert alike(tree.marginal(variable), plain_joint(sizes, tables, (variable,)))
    for variables in ((0, 1), (6, 2), (3, 0, 5), (4,)):
        found = tree.joint(variables, LIMIT)
        assert isinstance(found, Table)
        assert found.scope == variables
        assert alike(list(found.values), plain_joint(sizes, tables, variables))


def test_some_seeds_are_possible_and_some_are_not() -> None:
    possible = [bool(sum(plain_joint(*random_tables(seed), (0,)))) for seed in range(60)]
    assert any(possible)
    assert not all(possible)


def test_a_query_that_costs_too_much_is_a_plan_and_not_a_table() -> None:
    sizes = [2] * 30
    tables = [Table((n, n + 1), [1, 2, 3, 4]) for n in range(29)]
    tree = Tree(sizes, tables, plan(sizes, [table.scope for table in tables], LIMIT))
    found = tree.joint(tuple(range(30)), LIMIT)
    assert isinstance(found, Plan)
    assert found.entries > LIMIT
    assert len(found.largest) == 30


def test_thousands_of_equal_tables_all_count_without_underflow() -> None:
    tables = [Table((0,), [1, 2]) for _ in range(5000)]
    tree = Tree([2], tables, plan([2], [table.scope for table in tables], LIMIT))
    one, other = tree.marginal(0)
    assert other == one * 2**5000


def test_a_joint_of_tables_that_never_meet_is_their_product() -> None:
    found = joint_of([2, 3, 2], [Table((0,), [1, 2]), Table((2, 1), [1, 0, 2, 3, 4, 5])], (1, 0), LIMIT)
    assert isinstance(found, Table)
    assert alike(list(found.values), [(1 + 3) * 1, (1 + 3) * 2, 4 * 1, 4 * 2, (2 + 5) * 1, (2 + 5) * 2])


@given(st.lists(st.lists(st.integers(0, 40), min_size=3, max_size=3), min_size=1, max_size=4))
def test_the_tree_of_one_variable_is_the_tree_of_its_tables(tables: list[list[int]]) -> None:
    whole = Tree([3], [Table((0,), values) for values in tables], plan([3], [(0,)], 1_000))
    single = Single(tables)
    assert bool(single.total) == bool(whole.total)
    if single.total:
        assert single.marginal(0) == whole.marginal(0)
        joint = single.joint([0], 1_000)
        assert (joint.scope, list(joint.values)) == ((0,), single.marginal(0))
