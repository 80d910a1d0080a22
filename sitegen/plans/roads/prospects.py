"""Whether a road can still reach the goal, given any number of seasons: which genotypes its parents may have.

Each group of loci is looked at by itself, so that the answer errs on the side of "it can".
"""

from collections.abc import Sequence

from sitegen.plans.roads.process import Process
from sitegen.plans.roads.steps import Leg, RoadState
from sitegen.plans.roads.young import GOAL, Nursery

Sets = tuple[frozenset[int], ...]
"""For each group of loci the states that an animal may have."""


class Prospects:
    """The prospects of the roads of one process; remembers what it has looked at."""

    def __init__(self, process: Process) -> None:
        self.process = process
        self.nursery: Nursery = process.nursery
        self._found: dict[tuple[object, ...], bool] = {}

    def open(self, state: RoadState) -> bool:
        """True when the goal can still be reached from a state, however long it takes."""
        closed = self.process.status(state).closed
        key = (state.animals, state.kept, state.settled, closed)
        if key not in self._found:
            self._found[key] = self._open(state, closed)
        return self._found[key]

    def _open(self, state: RoadState, closed: Sequence[bool]) -> bool:
        young: dict[int, Sets] = {}
        for at, leg in enumerate(self.process.legs):
            if closed[at]:
                continue
            settled = state.settled[at]
            if settled is not None:
                if any(mark & GOAL for row in settled for odds in row for mark, _ in self.nursery.odds(odds)):
                    return True
                continue
            if self._of_leg(state, leg, young):
                return True
        return False

    def _of_leg(self, state: RoadState, leg: Leg, young: dict[int, Sets]) -> bool:
        """True when a stage can give the goal; fills in what its kept young may be."""
        pairs = [
            (dam, sire)
            for dam in self._may_be(state, leg.dams, leg.dam_holdback, young)
            for sire in self._may_be(state, leg.sires, leg.sire_holdback, young)
        ]
        for litter in leg.plan.expecting:
            numbers = self.process.numbers_of(litter)
            dam, sire = (state.animals[number] for number in numbers)
            if dam is not None and sire is not None:
                pairs.append((self._single(dam), self._single(sire)))
        reach = [self.nursery.reach(leg.aim, dam, sire) for dam, sire in pairs]
        if any(goal for goal, _ in reach):
            return True
        for place, number in enumerate(leg.keep):
            own = [sets[place] for _, sets in reach if sets[place] is not None]
            if own:
                young[number] = tuple(
                    frozenset().union(*(each[at] for each in own if each)) for at in range(len(self.nursery.modes))
                )
        return False

    def _may_be(
        self, state: RoadState, animals: tuple[int, ...], holdback: int | None, young: dict[int, Sets]
    ) -> list[Sets]:
        if holdback is None:
            known = [own for number in animals if (own := state.animals[number]) is not None]
            return [self._single(own) for own in known]
        kept = state.kept[holdback]
        found = [] if isinstance(kept, int) else [self._single(own) for own in kept]
        if self.process.status(state).stands[holdback]:
            return found
        return [*found, young[holdback]] if holdback in young else []

    def _single(self, composite: int) -> Sets:
        return tuple(frozenset((state,)) for state in self.nursery.composite(composite))
