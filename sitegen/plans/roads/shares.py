"""Which share of a stage's young is as wanted, for each kind of parents: exact, to be counted with genetics.counts."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.evidence.pairings import Side
from sitegen.genetics.counts import Shares
from sitegen.genetics.crosses import HALF, SEXES, Cross
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.wants import Want, fits, looks_together

_NONE = Fraction(0)
_Both = tuple[Fraction, Fraction]
_Kind = tuple[_Both, _Both, _Both]
"""Of one kind of parents the share of females and males: of all young, of those that look right, of those that are
right in truth as well."""

Kinds = Mapping[tuple[Fraction, Fraction], Fraction]
"""(share that looks right, share that looks right and holds all that is unseen) to the chance of such parents."""


def kinds_of(sides: Sequence[Side], want: Want) -> Kinds:
    """The kinds of parents that matter to a want; their chances sum to 1."""
    found: dict[tuple[Fraction, Fraction], Fraction] = {}
    for weight, crosses in sides:
        start = ((Fraction(1), Fraction(1)),) * 3
        kinds: dict[_Kind, Fraction] = {(start[0], start[1], start[2]): weight}
        for cross in crosses:
            own = _at_group(cross, want)
            grown: dict[_Kind, Fraction] = {}
            for kind, chance in kinds.items():
                for other, share in own.items():
                    key = (_times(kind[0], other[0]), _times(kind[1], other[1]), _times(kind[2], other[2]))
                    grown[key] = grown.get(key, _NONE) + chance * share
            kinds = grown
        for (of_sex, right, true), chance in kinds.items():
            whole = of_sex[0] + of_sex[1]
            pair = (_of(right, want.sex) / whole, _of(true, want.sex) / whole)
            found[pair] = found.get(pair, _NONE) + chance
    return found


def _times(one: _Both, other: _Both) -> _Both:
    return one[0] * 2 * other[0], one[1] * 2 * other[1]


def _of(both: _Both, sex: Sex | None) -> Fraction:
    return both[0] + both[1] if sex is None else both[SEXES.index(sex)]


def _at_group(cross: Cross, want: Want) -> Mapping[_Kind, Fraction]:
    """The same at one group of loci, by the pairs that differ there."""
    mode = cross.mode
    right = _memory(lambda state: _chance(mode, state, want, unseen=False))
    true = _memory(lambda state: _chance(mode, state, want, unseen=True))
    found: dict[_Kind, Fraction] = {}
    for pair, chance in cross.pairs.items():
        sums = [[_NONE, _NONE] for _ in range(3)]
        for state, share in cross.transmission.young(*pair).items():
            sex = mode.states[state].sex
            for rank, part in [(SEXES.index(sex), Fraction(1))] if sex else [(0, HALF), (1, HALF)]:
                sums[0][rank] += share * part
                sums[1][rank] += share * part * right(state)
                sums[2][rank] += share * part * true(state)
        key = ((sums[0][0], sums[0][1]), (sums[1][0], sums[1][1]), (sums[2][0], sums[2][1]))
        found[key] = found.get(key, _NONE) + chance
    return found


def _memory(make: Callable[[StateNumber], Fraction]) -> Callable[[StateNumber], Fraction]:
    made: dict[StateNumber, Fraction] = {}

    def known(state: StateNumber) -> Fraction:
        if state not in made:
            made[state] = make(state)
        return made[state]

    return known


def _chance(mode: Mode, state: StateNumber, want: Want, *, unseen: bool) -> Fraction:
    """Chance that a state looks right at these loci, and with ``unseen`` holds what is unseen there as well."""
    return sum(
        (
            chance
            for looks, chance in looks_together(mode, state).items()
            if fits(mode, state, looks, want, truly=False)
            and (not unseen or fits(mode, state, looks, want, truly=True))
        ),
        _NONE,
    )


def looking_right(kinds: Kinds) -> Shares:
    """Share of young that look right, by the chance of the parents."""
    found: dict[Fraction, Fraction] = {}
    for (right, _), chance in kinds.items():
        found[right] = found.get(right, _NONE) + chance
    return found


def carrying(kinds: Kinds) -> Shares:
    """Of young that look right, the share that holds all that is unseen, by the chance of such a young's parents.

    Empty where no young looks right.
    """
    found: dict[Fraction, Fraction] = {}
    whole = sum((right * chance for (right, _), chance in kinds.items()), _NONE)
    for (right, true), chance in kinds.items():
        if right:
            found[true / right] = found.get(true / right, _NONE) + right * chance / whole
    return found


def only(want: Want, unseen: str) -> Want:
    """The want with one unseen thing alone."""
    hidden = tuple(look for look in want.hidden if look == unseen)
    return replace(want, hidden=hidden, carries=() if hidden else tuple(a for a in want.carries if a == unseen))
