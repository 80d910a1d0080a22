"""Solving a network piece by piece: each connected piece has an outcome of its own."""

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.genetics.evidence_at import Prepared
from sitegen.genetics.factors import SHARED, Factor, Network
from sitegen.genetics.ordering import Plan, plan
from sitegen.genetics.pedigree import connected
from sitegen.genetics.questions import AnimalId, TooTangled
from sitegen.genetics.tables import Table
from sitegen.genetics.tree import Single, Tree, is_possible, joint_of

_BITS_OF_TWO_ENTRIES = 2700
"""A table with numbers of this many binary digits is counted as twice as large; measured by memory and time."""


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A connected piece that was solved: its tables after both sweeps, and its numbers of the network's variables.

    Queries make at most ``limit`` table entries.
    """

    tree: Tree | Single
    local: dict[int, int]
    limit: int


@dataclass(frozen=True, slots=True, eq=False)
class Hanging:
    """A variable left out of a piece that is too tangled with it; the factor has its chances given all others."""

    factor: Factor


@dataclass(frozen=True, slots=True)
class Contradicted:
    """A piece whose evidence has probability zero; only the questions in ``parts`` are to blame."""

    parts: tuple[int, ...]


Outcome = Piece | Hanging | TooTangled | Contradicted


class Solved:
    """A network of questions made ready, with the outcome of every piece.

    Attributes:
        outcomes: For each variable the outcome of its piece. None only for a choice of sire of which
            no sound question speaks.
        spoilt: (question, choice of sire) where the question contradicts itself about young of that choice. The
            outcome of the choice may still be a piece: that of the sound questions.
        limit: Most table entries of one piece, and of one query; fewer where the numbers get long.
    """

    def __init__(self, network: Network, parts: Sequence[Prepared], limit: int) -> None:
        self.network = network
        self.parts = parts
        self.limit = limit
        self.outcomes: list[Outcome | None] = [None] * len(network.sizes)
        self.spoilt: set[tuple[int, int]] = set()
        waiting = pieces(network.factors, len(network.sizes))
        for factors in waiting:
            waiting += self._solve(factors)

    def _solve(self, factors: list[Factor]) -> list[list[Factor]]:
        """Record the outcome of one piece; gives pieces that are to be solved once more without some factors.

        Contradicted questions do not spoil others that are asked together with them, and members
        without evidence do not tangle those with evidence.
        """
        outcome = self._outcome(factors)
        # Questions are tied by the choice of a sire alone. One that contradicts itself says nothing sound of the sire
        # either: it is taken out whole, and the others are solved once more without it.
        if isinstance(outcome, Contradicted):
            blamed = self._blamed(factors)
            spoilt = [factor for factor in factors if factor.part in blamed]
            self._record(Contradicted(tuple(sorted(blamed))), spoilt)
            choices = {variable for variable, _ in self.network.choices.values()}
            self.spoilt |= {(factor.part, variable) for factor in spoilt for variable in choices & set(factor.scope)}
            rest = [factor for factor in factors if factor.part not in blamed]
            return pieces(rest, len(self.outcomes)) if any(factor.part != SHARED for factor in rest) else []
        if isinstance(outcome, TooTangled) and (loose := self._without_evidence(factors)):
            for variable, factor in loose.items():
                self.outcomes[variable] = Hanging(factor)
            left_out = set(map(id, loose.values()))
            return pieces([factor for factor in factors if id(factor) not in left_out], len(self.outcomes))
        self._record(outcome, factors)
        return []

    def _record(self, outcome: Outcome, factors: Sequence[Factor]) -> None:
        for factor in factors:
            for variable in factor.scope:
                if not isinstance(self.outcomes[variable], Hanging):
                    self.outcomes[variable] = outcome

    def _outcome(self, factors: Sequence[Factor]) -> Piece | TooTangled | Contradicted:
        scope = factors[0].scope
        limit = _limit_for(factors, self.limit)
        if (
            len(scope) == 1
            and all(factor.scope == scope for factor in factors)
            and self.network.sizes[scope[0]] <= limit
        ):
            single = Single([factor.values() for factor in factors])
            return Piece(single, {scope[0]: 0}, limit) if single.total else Contradicted(())
        planned = _planned(self.network, factors, self.limit)
        if isinstance(planned, _Beyond):
            return self._tangled(planned.variables, planned.entries)
        tree = Tree(planned.sizes, planned.tables(factors), planned.order)
        return Piece(tree, planned.local, planned.limit) if tree.total else Contradicted(())

    def _blamed(self, factors: Sequence[Factor]) -> set[int]:
        """The questions that contradict themselves alone; all of them when only together they do."""
        involved = sorted({factor.part for factor in factors} - {SHARED})
        if len(involved) == 1:
            return set(involved)
        found = set()
        for number in involved:
            alone = [factor for factor in factors if factor.part in (number, SHARED)]
            if any(isinstance(self._outcome(piece), Contradicted) for piece in pieces(alone, len(self.outcomes))):
                found.add(number)
        return found or set(involved)

    def _without_evidence(self, factors: Sequence[Factor]) -> dict[int, Factor]:
        """Young of whom nothing is known and whose descendants are all such: their variables and heredity."""
        uses: dict[int, int] = {}
        own: dict[int, Factor] = {}
        for factor in factors:
            for variable in factor.scope:
                uses[variable] = uses.get(variable, 0) + 1
            if factor.member is not None and not factor.evidence:
                place = factor.part, factor.member
                if place in self.network.of_member:
                    own[self.network.of_member[place]] = factor
        found: dict[int, Factor] = {}
        # One use is its own heredity: nothing is said of it, and it has no young. Its chances given its parents sum to
        # 1 for every pair that can have living young, so leaving it out changes no answer of the others.
        waiting = [variable for variable in own if uses[variable] == 1]
        for variable in waiting:
            found[variable] = own[variable]
            for parent in own[variable].scope:
                uses[parent] -= 1
                if uses[parent] == 1 and parent in own and parent not in found:
                    waiting.append(parent)
        return found

    def _tangled(self, variables: Sequence[int], entries: int) -> TooTangled:
        return TooTangled(members_of(self.network, self.parts, variables), entries)

    def joint(self, variables: Sequence[int]) -> Sequence[int] | TooTangled:
        """Weights of all combinations of values of different variables of sound pieces, in their order."""
        tables: list[Table] = []
        inside = list(variables)
        for variable in inside:
            if isinstance(outcome := self.outcomes[variable], Hanging):
                tables.append(Table(outcome.factor.scope, outcome.factor.values()))
                inside += [other for other in outcome.factor.scope if other not in inside]
        by_piece: dict[int, list[int]] = {}
        for variable in inside:
            outcome = self.outcomes[variable]
            if isinstance(outcome, TooTangled):
                return outcome
            if isinstance(outcome, Piece):
                by_piece.setdefault(id(outcome), []).append(variable)
        for together in by_piece.values():
            found = self._of_piece(together)
            if isinstance(found, TooTangled):
                return found
            tables.append(found)
        if len(tables) == 1 and tables[0].scope == tuple(variables):
            return tables[0].values
        whole = joint_of(self.network.sizes, tables, variables, self.limit)
        return self._tangled(whole.largest, whole.entries) if isinstance(whole, Plan) else whole.values

    def choices_beside(self, variables: Sequence[int], part: int) -> tuple[int, ...]:
        """Choices of sire on which these variables of one question hang, other questions left aside.

        Given those choices, what the question says of the variables is independent of all other questions.
        """
        choices = {variable for variable, _ in self.network.choices.values()}
        factors = [factor for factor in self.network.factors if factor.part == part]
        touching: dict[int, list[Factor]] = {}
        for factor in factors:
            for variable in factor.scope:
                touching.setdefault(variable, []).append(factor)
        inside, found = list(dict.fromkeys(variables)), set()
        seen = set(inside)
        for variable in inside:
            for factor in touching.get(variable, ()):
                found.update(choices.intersection(factor.scope))
                new = [other for other in factor.scope if other not in seen and other not in choices]
                seen.update(new)
                inside += new
        return tuple(sorted(found))

    def _of_piece(self, variables: list[int]) -> Table | TooTangled:
        piece = self.outcomes[variables[0]]
        assert isinstance(piece, Piece)
        if len(variables) == 1:
            return Table(tuple(variables), piece.tree.marginal(piece.local[variables[0]]))
        table = piece.tree.joint([piece.local[variable] for variable in variables], piece.limit)
        if isinstance(table, Plan):
            names = {number: variable for variable, number in piece.local.items()}
            return self._tangled([names[number] for number in table.largest], table.entries)
        return Table(tuple(variables), table.values)


@dataclass(frozen=True, slots=True)
class _Planned:
    """A piece whose tables may be made."""

    sizes: list[int]
    local: dict[int, int]
    order: Plan
    limit: int

    def tables(self, factors: Sequence[Factor]) -> list[Table]:
        """Now they are made."""
        return [Table(tuple(self.local[variable] for variable in f.scope), f.values()) for f in factors]


@dataclass(frozen=True, slots=True)
class _Beyond:
    """A piece whose tables would be too large; the variables of the largest."""

    variables: list[int]
    entries: int


def _limit_for(factors: Sequence[Factor], limit: int) -> int:
    """Most table entries of a piece: fewer where the numbers get long."""
    return limit * _BITS_OF_TWO_ENTRIES // (_BITS_OF_TWO_ENTRIES + sum(factor.bits for factor in factors))


def _planned(network: Network, factors: Sequence[Factor], limit: int) -> _Planned | _Beyond:
    names = sorted({variable for factor in factors for variable in factor.scope})
    local = {variable: number for number, variable in enumerate(names)}
    sizes = [network.sizes[variable] for variable in names]
    scopes = [tuple(local[variable] for variable in factor.scope) for factor in factors]
    limit = _limit_for(factors, limit)
    order = plan(sizes, scopes, limit)
    if order.entries > limit or not order.complete:
        return _Beyond([names[number] for number in order.largest], order.entries)
    return _Planned(sizes, local, order, limit)


def members_of(network: Network, parts: Sequence[Prepared], variables: Sequence[int]) -> tuple[AnimalId, ...]:
    """Whose variables these are; choices of sire are nobody's."""
    owners = [network.owner[variable] for variable in variables]
    return tuple(dict.fromkeys(parts[owner[0]].pedigree.ids[owner[1]] for owner in owners if owner is not None))


def agreement(network: Network, parts: Sequence[Prepared], limit: int) -> bool | TooTangled:
    """True when the evidence of all pieces is possible, false when that of one is not."""
    for factors in pieces(network.factors, len(network.sizes)):
        planned = _planned(network, factors, limit)
        if isinstance(planned, _Beyond):
            return TooTangled(members_of(network, parts, planned.variables), planned.entries)
        if not is_possible(planned.sizes, planned.tables(factors), planned.order):
            return False
    return True


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
