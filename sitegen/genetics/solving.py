"""Solving a network piece by piece: each connected piece has an outcome of its own."""

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.genetics.evidence_at import Part
from sitegen.genetics.factors import SHARED, Factor, Network
from sitegen.genetics.pedigree import connected
from sitegen.genetics.questions import TooTangled
from sitegen.inference.ordering import Plan, plan
from sitegen.inference.tables import Table
from sitegen.inference.tree import Tree


@dataclass(frozen=True, slots=True)
class Piece:
    """A connected piece that was solved: network variables to their numbers in the tree."""

    tree: Tree
    local: dict[int, int]


@dataclass(frozen=True, slots=True)
class Contradicted:
    """A piece whose evidence has probability zero; only the questions in ``parts`` are to blame."""

    parts: tuple[int, ...]


Outcome = Piece | TooTangled | Contradicted


def outcomes_of(network: Network, parts: Sequence[Part], limit: int) -> list[Outcome | None]:
    """Outcome of the piece that each variable lies in.

    Contradicted questions do not spoil others that are asked together with them: those are solved
    again without them. None only for a choice of sire that no sound question speaks of.
    """
    outcomes: list[Outcome | None] = [None] * len(network.sizes)
    waiting = pieces(network.factors, len(network.sizes))
    for factors in waiting:
        outcome = _solved(network, parts, factors, limit)
        blamed: set[int] = set()
        if isinstance(outcome, Contradicted):
            blamed = _blamed(network, parts, factors, limit)
            outcome = Contradicted(tuple(sorted(blamed)))
            rest = [factor for factor in factors if factor.part not in blamed]
            if any(factor.part != SHARED for factor in rest):
                waiting += pieces(rest, len(network.sizes))
        for factor in factors:
            if factor.part in blamed or not blamed:
                for variable in factor.scope:
                    outcomes[variable] = outcome
    return outcomes


def _blamed(network: Network, parts: Sequence[Part], factors: Sequence[Factor], limit: int) -> set[int]:
    """The questions that contradict themselves alone; all of them when only together they do."""
    involved = sorted({factor.part for factor in factors} - {SHARED})
    if len(involved) == 1:
        return set(involved)
    found = set()
    for number in involved:
        alone = [factor for factor in factors if factor.part in (number, SHARED)]
        for piece in pieces(alone, len(network.sizes)):
            if isinstance(_solved(network, parts, piece, limit), Contradicted):
                found.add(number)
                break
    return found or set(involved)


def pieces(factors: Sequence[Factor], n_variables: int) -> list[list[Factor]]:
    """The factors of each connected piece, in order."""
    links = [(factor.scope[0], other) for factor in factors for other in factor.scope[1:]]
    sets = connected(n_variables, links)
    piece_of = [0] * n_variables
    for number, variables in enumerate(sets):
        for variable in variables:
            piece_of[variable] = number
    found: dict[int, list[Factor]] = {}
    for factor in factors:
        found.setdefault(piece_of[factor.scope[0]], []).append(factor)
    return list(found.values())


def _solved(network: Network, parts: Sequence[Part], factors: Sequence[Factor], limit: int) -> Outcome:
    names = sorted({variable for factor in factors for variable in factor.scope})
    local = {variable: number for number, variable in enumerate(names)}
    sizes = [network.sizes[variable] for variable in names]
    scopes = [tuple(local[variable] for variable in factor.scope) for factor in factors]
    order = plan(sizes, scopes, limit)
    if order.entries > limit or not order.complete:
        return tangled(network, parts, [names[number] for number in order.largest], order)
    tables = [Table(scope, factor.values()) for scope, factor in zip(scopes, factors, strict=True)]
    tree = Tree(sizes, tables, order)
    return Piece(tree, local) if tree.total else Contradicted(())


def tangled(network: Network, parts: Sequence[Part], variables: Sequence[int], order: Plan) -> TooTangled:
    """The refusal that names the members of the largest table."""
    owners = [network.owner[variable] for variable in variables]
    ids = [parts[owner[0]].pedigree.ids[owner[1]] for owner in owners if owner is not None]
    return TooTangled(tuple(dict.fromkeys(ids)), order.entries)
