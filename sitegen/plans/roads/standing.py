"""How far the stages of a road are: what has been kept, what is given, what cannot be bred any more."""

from collections.abc import Mapping, Sequence

from sitegen.plans.roads.steps import BORN, Leg, RoadState, Status


class Standings:
    """How far the stages of any state are; the same object for all states that are as far.

    Args:
        legs: The open stages.
        leg_of: For each holdback the place of its stage.
        enter: For each animal at the start the first season in which it can breed; None for never.
    """

    def __init__(self, legs: Sequence[Leg], leg_of: Mapping[int, int], enter: Sequence[int | None]) -> None:
        self.legs = legs
        self.leg_of = leg_of
        self._enter = enter
        self._statuses: dict[tuple[tuple[int, ...], tuple[int, ...]], Status] = {}

    def status(self, state: RoadState) -> Status:
        """How far the stages of a state are."""
        counts = tuple([own if isinstance(own, int) else len(own) for own in state.kept])
        key = (counts, state.tries)
        found = self._statuses.get(key)
        if found is None:
            found = self._statuses[key] = self._status(counts, state.tries)
        return found

    def _status(self, counts: tuple[int, ...], tries: tuple[int, ...]) -> Status:
        done: list[bool] = []
        closed: list[bool] = []
        stands = [False] * len(counts)
        for at, leg in enumerate(self.legs):
            used_up = leg.tries is not None and tries[at] >= leg.tries
            if leg.keep:
                done.append(all(counts[n] >= count for n, count in zip(leg.keep, leg.counts, strict=True)))
            else:
                done.append(not leg.last and tries[at] == BORN)
            for n, count in zip(leg.keep, leg.counts, strict=True):
                stands[n] = counts[n] >= count or (counts[n] > 0 and used_up)
            lost = any(
                source is not None and closed[self.leg_of[source]] and not stands[source]
                for source in (leg.dam_holdback, leg.sire_holdback)
            )
            gone = (bool(leg.dams) and all(self._enter[n] is None for n in leg.dams)) or (
                bool(leg.sires) and all(self._enter[n] is None for n in leg.sires)
            )
            closed.append(used_up or lost or done[at] or (gone and not leg.plan.expecting))
        needs = tuple(
            tuple(max(0, count - counts[n]) for n, count in zip(leg.keep, leg.counts, strict=True)) for leg in self.legs
        )
        return Status(counts, tuple(done), tuple(closed), tuple(stands), needs)
