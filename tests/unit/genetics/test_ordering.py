import random
from itertools import combinations
from math import prod

import pytest
from helpers.pedigrees import closed, looked_at, ordinary

from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.factors import network_of
from sitegen.genetics.ordering import Plan, plan


def plain_min_weight(sizes: list[int], scopes: list[tuple[int, ...]]) -> Plan:
    """Min-weight with joining, counted anew at every step; ties to the smaller number."""
    near: list[set[int]] = [set() for _ in sizes]
    for scope in scopes:
        for one, other in combinations(scope, 2):
            near[one].add(other)
            near[other].add(one)
    left, order, cliques, total = set(range(len(sizes))), [], [], 0
    while left:
        weight = {v: sizes[v] * prod(sizes[other] for other in near[v]) for v in left}
        best = min(left, key=lambda v: (weight[v], v))
        for one, other in combinations(near[best], 2):
            near[one].add(other)
            near[other].add(one)
        for other in near[best]:
            near[other].discard(best)
        total += weight[best]
        order.append(best)
        cliques.append({best, *near[best]})
        left.remove(best)
    return Plan(tuple(order), tuple(map(tuple, cliques)), total, ())


def random_graph(seed: int, n_variables: int, n_scopes: int) -> tuple[list[int], list[tuple[int, ...]]]:
    dice = random.Random(seed)
    sizes = [dice.randint(2, 3) for _ in range(n_variables)]
    scopes = [tuple(dice.sample(range(n_variables), dice.randint(1, 3))) for _ in range(n_scopes)]
    return sizes, scopes


@pytest.mark.parametrize("seed", range(25))
def test_it_is_min_weight_with_ties_by_number(seed: int) -> None:
    sizes, scopes = random_graph(seed, 14, 6 + seed)
    expected, found = plain_min_weight(sizes, scopes), plan(sizes, scopes, 10**9)
    assert found.order == expected.order
    assert [set(clique) for clique in found.cliques] == [set(clique) for clique in expected.cliques]
    assert found.entries == expected.entries


@pytest.mark.parametrize("seed", range(25))
def test_every_table_has_a_clique_to_go_to_and_cliques_pass_on_all_they_keep(seed: int) -> None:
    sizes, scopes = random_graph(seed, 14, 6 + seed)
    found = plan(sizes, scopes, 10**9)
    rank = {variable: position for position, variable in enumerate(found.order)}
    for scope in scopes:
        assert set(scope) <= set(found.cliques[min(rank[variable] for variable in scope)])
    for clique in found.cliques:
        assert list(clique) == sorted(clique, key=rank.__getitem__)
        if len(clique) > 1:
            assert set(clique[1:]) <= set(found.cliques[rank[clique[1]]])


def test_joining_neighbours_counts_the_true_width_of_a_ring() -> None:
    # Taking animals out of a ring without joining their neighbours would report tables of two.
    ring = [(n, (n + 1) % 8) for n in range(8)]
    found = plan([3] * 8, ring, 10**9)
    assert max(map(len, found.cliques)) == 3
    assert len(found.largest) == 3
    assert found.entries == 6 * 3**3 + 3**2 + 3


def test_the_order_does_not_depend_on_the_order_of_scopes() -> None:
    sizes, scopes = random_graph(3, 20, 30)
    assert plan(sizes, scopes, 10**9) == plan(sizes, scopes[::-1], 10**9)


def test_some_variables_can_be_kept_to_the_end_in_a_given_order() -> None:
    chain = [(n, n + 1) for n in range(9)]
    found = plan([2] * 10, chain, 10**9, last=(9, 0))
    assert found.order[-2:] == (9, 0)
    assert found.cliques[-2:] == ((9, 0), (0,))
    assert max(map(len, found.cliques)) == 3


def scopes_of(members: tuple) -> tuple[list[int], list[tuple[int, ...]]]:
    network = network_of([part_of(looked_at(members, share=0.0))])
    return network.sizes, [factor.scope for factor in network.factors]


def test_ordinary_collections_need_small_tables() -> None:
    sizes, scopes = scopes_of(ordinary(1000))
    found = plan(sizes, scopes, 10**9)
    assert found.complete
    assert len(found.largest) <= 12
    assert found.entries < 1_000_000


def test_a_closed_group_is_known_to_be_too_much_before_any_table_is_made() -> None:
    sizes, scopes = scopes_of(closed(200))
    found = plan(sizes, scopes, 1_000_000)
    assert found.entries > 3**15
    assert len(found.largest) > 15


def test_a_search_that_gets_costly_beyond_the_limit_is_given_up() -> None:
    sizes, scopes = scopes_of(closed(3000, n_founders=400, generation=400))
    found = plan(sizes, scopes, 1_000_000)
    assert not found.complete
    assert found.entries > 1_000_000
    assert found.largest
