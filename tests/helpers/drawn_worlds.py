"""What a drawing says before any dice fall: every world with its exact chance; and how far frequencies may be off."""

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from fractions import Fraction
from math import sqrt

from sitegen.genetics.drawing import Drawing
from sitegen.genetics.network import Heredity

Worlds = dict[tuple[tuple[int, ...], ...], Fraction]
"""For each answer the states of all members, to the chance."""


def worlds_of(drawing: Drawing) -> Worlds:
    """Every world, from the weights of its steps alone."""
    ways: list[tuple[tuple[int, ...], Fraction]] = [((), Fraction(1))]
    for step in drawing.steps:
        longer = []
        for values, chance in ways:
            number = 0
            for position, size in zip(step.given, step.sizes[1:], strict=True):
                number = number * size + values[position]
            row = step.row(number)
            longer += [((*values, n), chance * Fraction(int(w), int(sum(row)))) for n, w in enumerate(row) if w]
        ways = longer
    found: Worlds = {}
    for values, chance in ways:
        key = tuple(
            tuple(int(states[0 if at < 0 else values[at]]) for at, states in places) for places in drawing.places
        )
        found[key] = found.get(key, Fraction(0)) + chance
    return found


def genotypes_in(answers: Sequence[Heredity], worlds: Worlds) -> dict[tuple, Fraction]:
    """The same with each member's genotypes for its states."""
    found: dict[tuple, Fraction] = {}
    for world, chance in worlds.items():
        key = tuple(
            tuple(one.mode.genotypes[state] for state in states) for one, states in zip(answers, world, strict=True)
        )
        found[key] = found.get(key, Fraction(0)) + chance
    return found


def assert_frequencies(drawn: Iterable[Hashable], chances: Mapping[Hashable, Fraction], errors: float = 5) -> None:
    """Frequencies lie within so many standard errors of their chances; nothing of chance 0 comes up.

    What is expected fewer than 20 times, or not expected so rarely, is counted together, where errors mean something.
    """
    times = Counter(drawn)
    n = times.total()
    assert times.keys() <= {key for key, chance in chances.items() if chance}
    rare = [key for key, chance in chances.items() if n * chance * (1 - chance) < 20]
    groups = [[key] for key in chances if key not in rare] + [rare]
    for group in groups:
        chance = float(sum(chances[key] for key in group))
        far = abs(sum(times[key] for key in group) / n - chance)
        assert far <= errors * max(sqrt(chance * (1 - chance) / n), 1 / n), group
