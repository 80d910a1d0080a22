"""What one litter gives: whether the goal is in it, and which young are kept.

A young that looks right for several holdbacks goes to the first, in written order, that still needs one. The number
of young has the discrete triangular distribution of the species (:func:`sitegen.genetics.counts.litter_sizes`).
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from sitegen.plans.roads.young import GOAL, TINY, Odds

Gain = tuple[tuple[int, int], ...]
"""Young that are kept: (place of the holdback, marks of the young among those that are looked at), sorted."""


@dataclass(frozen=True)
class Yield:
    """The outcomes of one litter.

    Attributes:
        goal: Chance that the goal is in it.
        kept: Otherwise what is kept, with its chance; ``goal`` and these sum to 1.
        care: The marks that were looked at: the goal's and those of holdbacks that need young.
    """

    goal: float
    kept: tuple[tuple[float, Gain], ...]
    care: int

    @cached_property
    def running(self) -> tuple[float, ...]:
        """Running sums of the chances of ``kept``."""
        return tuple(accumulate(chance for chance, _ in self.kept))


def litter_yield(odds: Odds, needs: tuple[int, ...], sizes: Mapping[int, float]) -> Yield:
    """The outcomes of a litter of a pair.

    Args:
        odds: Marks of one young; empty where no young of the pair can live.
        needs: How many young each holdback still needs.
        sizes: Number of living young to its chance; sums to 1.
    """
    care = GOAL + sum(2 << at for at, need in enumerate(needs) if need)
    young: dict[int, float] = {}
    goal = 0.0
    for mark, chance in odds:
        if mark & GOAL:
            goal += chance
        else:
            young[mark & care] = young.get(mark & care, 0.0) + chance
    if not odds:
        return Yield(0.0, ((1.0, ()),), care)
    found: dict[Gain, float] = {}
    now: dict[Gain, float] = {(): 1.0}
    steps: dict[Gain, tuple[tuple[Gain, float], ...]] = {}
    for n in range(max(sizes) + 1):
        if n:
            grown: dict[Gain, float] = {}
            for gain, chance in now.items():
                if gain not in steps:
                    steps[gain] = _step(gain, needs, young)
                for to, share in steps[gain]:
                    grown[to] = grown.get(to, 0.0) + (chance * share or TINY)
            now = grown
        if size := sizes.get(n, 0.0):
            for gain, chance in now.items():
                found[gain] = found.get(gain, 0.0) + (size * chance or TINY)
    if young and goal:
        lost = math.log1p(-min(goal, 1 - 2**-53))
        in_litter = sum(size * -math.expm1(n * lost) for n, size in sizes.items())
    else:
        in_litter = sum(size for n, size in sizes.items() if n) if goal else 0.0
    kept = tuple((chance, gain) for gain, chance in sorted(found.items()))
    return Yield(in_litter, kept, care)


def _step(gain: Gain, needs: tuple[int, ...], young: Mapping[int, float]) -> tuple[tuple[Gain, float], ...]:
    """What one more young that is not the goal adds."""
    left = list(needs)
    for at, _ in gain:
        left[at] -= 1
    found: dict[Gain, float] = {}
    for mark, chance in young.items():
        place = next((at for at, need in enumerate(left) if need and mark >> (at + 1) & 1), None)
        to = gain if place is None else tuple(sorted((*gain, (place, mark))))
        found[to] = found.get(to, 0.0) + chance
    return tuple(found.items())
