"""How related the parents of every stage of a route are, young that are only planned among them."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice, product

from sitegen.genetics.kinship import Kinship
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.routes_kinds import Founder
from sitegen.plans.roads.routes_shapes import Parent, Role, Shape

_QUARTER, _HALF = Fraction(1, 4), Fraction(1, 2)
_TRIED = 64
"""So many choices among equal animals are compared."""


def inbreeding(shape: Shape, animals: Sequence[AnimalId], kinship: Kinship) -> tuple[Fraction, ...]:
    """Inbreeding coefficient of the young of each stage.

    Source:
        Tabular method, as :class:`sitegen.genetics.kinship.Kinship`.
    """
    known: dict[tuple[Parent, Parent], Fraction] = {}

    def between(first: Parent, second: Parent) -> Fraction:
        key = (first, second)
        if key not in known:
            known[key] = _between(first, second)
        return known[key]

    def _between(first: Parent, second: Parent) -> Fraction:
        if isinstance(first, int) and isinstance(second, int):
            return kinship.pair(animals[first], animals[second])
        if isinstance(first, int) or (isinstance(second, Role) and first.stage < second.stage):
            first, second = second, first
        assert isinstance(first, Role)
        dam, sire = shape.crosses[first.stage]
        if first == second:
            return _HALF * (1 + between(dam, sire))
        if isinstance(second, Role) and second.stage == first.stage:
            return _QUARTER * (between(dam, dam) + between(sire, sire) + 2 * between(dam, sire))
        return _HALF * (between(dam, second) + between(sire, second))

    return tuple(between(dam, sire) for dam, sire in shape.crosses)


def least_related(
    shape: Shape, founders: Sequence[Founder], kinship: Kinship, limit: Fraction | None
) -> tuple[tuple[AnimalId, ...], Fraction] | None:
    """The animals to take for each founder, and the highest inbreeding coefficient among the stages' young.

    Of animals that serve equally well the least related are taken, then the first in their order.

    Returns:
        None when no choice that was compared keeps to the limit.
    """
    best: tuple[Fraction, tuple[AnimalId, ...]] | None = None
    for animals in islice(_choices(founders), _TRIED):
        highest = max(inbreeding(shape, animals, kinship))
        if best is None or highest < best[0]:
            best = highest, animals
        if highest == 0:
            break
    if best is None or (limit is not None and best[0] > limit):
        return None
    return best[1], best[0]


def _choices(founders: Sequence[Founder]) -> Iterator[tuple[AnimalId, ...]]:
    for animals in product(*((founder.id, *founder.alike) for founder in founders)):
        if len(set(animals)) == len(animals):
            yield animals
