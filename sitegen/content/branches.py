"""Roads with branches: what stages wait for, and which of it is never there together.

Young kept `else` are used only when their stage has ended without what it wanted first, also those that are kept
already: it may go on. What it wanted first and has (`animals`) is a fact, and nothing waits for it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sitegen.content.projects import Goal, Holdback, Stage, is_goal
from sitegen.findings import Place

Needs = Mapping[str, "Use"]


@dataclass(frozen=True, slots=True)
class Use:
    """Young that a stage breeds from: of which stage, which, where they are named."""

    source: Stage
    kept: Holdback
    place: Place

    @property
    def name(self) -> str:
        """``STAGE.HOLDBACK``."""
        return f"{self.source.id}.{self.kept.id}"

    @property
    def is_else(self) -> bool:
        """True when they are used only if their stage did not bring what it wanted first."""
        return self.kept in self.source.otherwise


def uses(stages: Sequence[Stage]) -> Mapping[str, tuple[Use, ...]]:
    """Each stage of a route to what it breeds from and is open: not kept yet, or kept else while `keep` is not."""
    named = {f"{each.id}.{kept.id}": (each, kept) for each in stages for kept in each.holdbacks}
    found: dict[str, tuple[Use, ...]] = {}
    for stage in stages:
        parents = ((stage.dam, stage.dam_place), (stage.sire, stage.sire_place))
        own = (Use(*named[name], place or stage.place) for name, place in parents if name in named)
        found[stage.id] = tuple(
            use for use in own if not all(each.is_filled for each in (use.source.keep if use.is_else else (use.kept,)))
        )
    return found


def needs(stages: Sequence[Stage]) -> Mapping[str, Needs]:
    """Each stage of a route to what it uses and what the stages before it need, by name."""
    found: dict[str, dict[str, Use]] = {}
    for stage_id, own in uses(stages).items():
        found[stage_id] = {use.name: use for use in own}
        for use in own:
            found[stage_id] |= found.get(use.source.id, {})
    return found


def ends_the_road(use: Use, goal: Goal) -> bool:
    """True for young of the goal that are never there to be bred: once they are kept, the road is at its end."""
    all_of_it = use.kept.at_least == use.kept.count or len(use.source.keep) == 1
    return not use.is_else and is_goal(use.kept, goal) and all_of_it


def apart(needed: Needs, goal: Goal) -> tuple[Use, Use] | None:
    """Two of one stage that are never there together: what it wanted first, and what is kept else; None for none.

    Where several are wanted first, one of them may be there and the others not, and then what is kept else is used.
    """
    instead = {use.source.id: use for use in needed.values() if use.is_else}
    for use in needed.values():
        alone = len(use.source.keep) == 1 or ends_the_road(use, goal)
        if use.source.id in instead and alone and not use.is_else:
            return use, instead[use.source.id]
    return None
