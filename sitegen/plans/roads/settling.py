"""What can still matter of a state, so that roads that have become alike are one."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from sitegen.plans.roads.plan import Expecting
from sitegen.plans.roads.standing import Standings
from sitegen.plans.roads.steps import BORN, Leg, RoadState, Status
from sitegen.plans.roads.young import Nursery


@dataclass(frozen=True, slots=True)
class _Settling:
    """What to leave out of a state: stages that become settled, animals and holdbacks that still matter."""

    legs: tuple[bool, ...]
    animals: tuple[bool, ...]
    holdbacks: tuple[bool, ...]


class Settler:
    """Leaves out of states what cannot matter any more.

    Args:
        standings: How far states are.
        nursery: The odds of the young of two parents.
        tracked: For each holdback True when its young become parents.
        n_parts: How many animals there are at the start.
        numbers_of: Numbers of the dam and the sire of a litter on the way.
    """

    def __init__(
        self,
        standings: Standings,
        nursery: Nursery,
        tracked: Sequence[bool],
        n_parts: int,
        numbers_of: Callable[[Expecting], tuple[int, int]],
    ) -> None:
        self.standings = standings
        self.legs = standings.legs
        self.nursery = nursery
        self._tracked = tracked
        self._n_parts = n_parts
        self._numbers_of = numbers_of
        self._settlings: dict[tuple[Status, tuple[bool, ...]], _Settling] = {}

    def settled(self, state: RoadState) -> RoadState:
        """The state without what cannot matter any more."""
        status = self.standings.status(state)
        key = (status, tuple([own is None for own in state.settled]))
        plan = self._settlings.get(key)
        if plan is None:
            plan = self._settlings[key] = self._settling(*key)
        settled = tuple(
            None if status.closed[at] else self._all_odds(state, self.legs[at]) if now else own
            for at, (own, now) in enumerate(zip(state.settled, plan.legs, strict=True))
        )
        animals = tuple([own if needed else None for own, needed in zip(state.animals, plan.animals, strict=True)])
        kept = tuple(
            [
                own if needed or isinstance(own, int) else len(own)
                for own, needed in zip(state.kept, plan.holdbacks, strict=True)
            ]
        )
        tries = tuple(
            [used if used == BORN or not done else 0 for used, done in zip(state.tries, status.done, strict=True)]
        )
        return RoadState(animals, kept, state.ready, tries, state.resting, settled)

    def _settling(self, status: Status, unsettled: tuple[bool, ...]) -> _Settling:
        """What to leave out of states that are so far."""
        users: dict[tuple[int, int], list[int]] = {}
        for at, leg in enumerate(self.legs):
            if not status.closed[at] and unsettled[at]:
                for key in self._sources(leg):
                    users.setdefault(key, []).append(at)
        legs = [False] * len(self.legs)
        for at, leg in enumerate(self.legs):
            if not status.closed[at] and unsettled[at] and self._can_settle(status, at, leg, users):
                legs[at] = True
                for key in self._sources(leg):
                    users[key].remove(at)
        return _Settling(
            legs=tuple(legs),
            animals=tuple(bool(users.get((-1, number))) for number in range(self._n_parts)),
            holdbacks=tuple(bool(users.get((number, 0))) for number in range(len(status.counts))),
        )

    def _sources(self, leg: Leg) -> set[tuple[int, int]]:
        """What a stage needs to know: animals at the start, holdbacks."""
        found = {(-1, number) for number in (*leg.dams, *leg.sires)}
        found |= {(number, 0) for number in (leg.dam_holdback, leg.sire_holdback) if number is not None}
        for litter in leg.plan.expecting:
            found |= {(-1, number) for number in self._numbers_of(litter)}
        return found

    def _can_settle(self, status: Status, at: int, leg: Leg, users: Mapping[tuple[int, int], list[int]]) -> bool:
        """True when all its parents are known, and neither they nor what it keeps matter to another stage."""
        if leg.plan.expecting or any(self._tracked[number] for number in leg.keep):
            return False
        for number in (leg.dam_holdback, leg.sire_holdback):
            if number is not None and not status.stands[number]:
                return False
        return all(users[key] == [at] for key in self._sources(leg))

    def _all_odds(self, state: RoadState, leg: Leg) -> tuple[tuple[int, ...], ...]:
        dams = self._known(state, leg.dams, leg.dam_holdback)
        sires = self._known(state, leg.sires, leg.sire_holdback)
        return tuple(tuple(self.nursery.brood(leg.aim, dam, sire).odds for sire in sires) for dam in dams)

    @staticmethod
    def _known(state: RoadState, animals: tuple[int, ...], holdback: int | None) -> list[int]:
        if holdback is None:
            return [own for number in animals if (own := state.animals[number]) is not None]
        kept = state.kept[holdback]
        assert not isinstance(kept, int)
        return list(kept)
