"""What the simulator plays: the open stages with their parents and young by slots, a place in its arrays for each.

Animals that are there come first, then the young that stages may keep: ``count`` for each holdback, and as many again
for those of the unwanted sex where a holdback of the goal asks for one.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.content.projects import Goal, Holdback
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.plan import Parents, RoadPlan, StagePlan
from sitegen.plans.roads.wants import Want, ends_road, want_of

NEVER = 32_000
"""A season that does not come."""


@dataclass(frozen=True, slots=True)
class Part:
    """An animal and the sex that it has in the road."""

    animal: AnimalId
    sex: Sex


@dataclass(frozen=True, slots=True)
class Cast:
    """The dams or the sires of a stage.

    Attributes:
        slots: In their order.
        kept: The holdback under which they are to be kept; -1 if they are there.
        branch: The stage whose other branch must have come first; -1 for none.
    """

    slots: tuple[int, ...]
    kept: int = -1
    branch: int = -1


@dataclass(frozen=True, slots=True)
class Kept:
    """A holdback that is still to be filled.

    Attributes:
        leg: The stage.
        holdback: Its record.
        want: What it asks for.
        is_else: It belongs to the other branch.
        is_goal: It ends the road when it is filled.
        there: Slots of those that were kept already.
        first: With the slots from it on its young are numbered, those that were kept already counted first; behind the
            ``count`` that are wanted are ``spare`` for the unwanted sex.
    """

    leg: int
    holdback: Holdback
    want: Want
    is_else: bool
    is_goal: bool
    there: tuple[int, ...]
    first: int
    spare: int

    @property
    def count(self) -> int:
        """How many are wanted."""
        return self.holdback.count

    @property
    def slots(self) -> tuple[int, ...]:
        """All its slots, those for the unwanted sex last."""
        return (*self.there, *range(self.first + len(self.there), self.first + self.count + self.spare))


@dataclass(frozen=True, slots=True)
class Coming:
    """A litter on record that is not born yet; ``sure`` if its eggs are laid."""

    season: int
    dam: int
    sire: int
    sure: bool


@dataclass(frozen=True, slots=True)
class Leg:
    """An open stage.

    Attributes:
        plan: The stage as it stands.
        dams, sires: Its parents.
        keep, otherwise: Places of its open holdbacks in :attr:`Script.kept`.
        coming: Litters on the way.
        ends_with_litter: It keeps nothing and is done when it has had a litter.
    """

    plan: StagePlan
    dams: Cast
    sires: Cast
    keep: tuple[int, ...]
    otherwise: tuple[int, ...]
    coming: tuple[Coming, ...]
    ends_with_litter: bool

    @property
    def tries(self) -> int:
        """How many more seasons it may be tried."""
        own = self.plan.stage.tries
        return NEVER if own is None else own - self.plan.used


@dataclass(frozen=True, slots=True)
class Script:
    """All of it.

    Attributes:
        plan: The stages as they stand.
        goal: What is aimed at.
        parts: The animals that are there, by slot.
        hopes: Slots of kept animals that may be the goal.
        ready: For each of them the first season in which it can breed.
        kept: The open holdbacks.
        legs: The open stages.
        n_slots: How many slots there are.
    """

    plan: RoadPlan
    goal: Want
    parts: tuple[Part, ...]
    ready: tuple[int, ...]
    kept: tuple[Kept, ...]
    legs: tuple[Leg, ...]
    n_slots: int
    hopes: tuple[int, ...]

    @property
    def wants(self) -> tuple[Want, ...]:
        """What the open holdbacks ask for."""
        return tuple(each.want for each in self.kept)


def script_of(plan: RoadPlan, genome: Genome, goal: Goal, hopes: Sequence[AnimalId] = ()) -> Script:
    """The open stages of a plan, ready to be played; ``hopes`` are kept animals that may be the goal."""
    legs = [each for each in plan.stages if each.is_open]
    parts: dict[Part, int] = {}
    for each in legs:
        for parents, sex in ((each.dams, Sex.FEMALE), (each.sires, Sex.MALE)):
            for animal in parents.animals:
                parts.setdefault(Part(animal, sex), len(parts))
        for litter in each.expecting:
            parts.setdefault(Part(litter.dam, Sex.FEMALE), len(parts))
            parts.setdefault(Part(litter.sire, Sex.MALE), len(parts))
    held = {
        (each.stage.id, own.id): [
            Part(animal, plan.sexes[each.stage.id, own.id] or plan.collection.animals[animal].sex)
            for animal in own.animals
        ]
        for each in legs
        for own in each.to_fill
    }
    for part in (part for own in held.values() for part in own):
        parts.setdefault(part, len(parts))
    for animal in hopes:
        if all(part.animal != animal for part in parts):
            parts[Part(animal, plan.collection.animals[animal].sex)] = len(parts)
    kept: list[Kept] = []
    places: dict[tuple[str, str], int] = {}
    slot = len(parts)
    for number, each in enumerate(legs):
        for holdback in _open_holdbacks(each, goal, last=each is plan.stages[-1]):
            key = (each.stage.id, holdback.id)
            want = want_of(genome, holdback, plan.sexes.get(key))
            is_else = holdback in each.otherwise
            ends = ends_road(genome, holdback, goal)
            spare = holdback.count if ends and want.sex else 0
            places[key] = len(kept)
            there = tuple(parts[part] for part in held.get(key, ()))
            kept.append(Kept(number, holdback, want, is_else, ends, there, slot - len(there), spare))
            slot += holdback.count - len(there) + spare
    numbers = {each.stage.id: number for number, each in enumerate(legs)}

    def cast(parents: Parents, sex: Sex) -> Cast:
        if parents.holdback is None:
            own = tuple(parts[Part(animal, sex)] for animal in parents.animals)
            return Cast(own, branch=numbers.get(parents.branch, -1))
        place = places.get(parents.holdback, -1)
        if place < 0:
            return Cast(())
        return Cast(kept[place].slots[: kept[place].count], place)

    played = tuple(
        Leg(
            plan=each,
            dams=cast(each.dams, Sex.FEMALE),
            sires=cast(each.sires, Sex.MALE),
            keep=tuple(n for n, own in enumerate(kept) if own.leg == number and not own.is_else),
            otherwise=tuple(n for n, own in enumerate(kept) if own.leg == number and own.is_else),
            coming=tuple(
                Coming(
                    litter.season, parts[Part(litter.dam, Sex.FEMALE)], parts[Part(litter.sire, Sex.MALE)], litter.laid
                )
                for litter in each.expecting
            ),
            ends_with_litter=not any(own.leg == number for own in kept),
        )
        for number, each in enumerate(legs)
    )
    ready = tuple(_ready(plan, part) for part in parts)
    hoped = tuple(slot for part, slot in parts.items() if part.animal in hopes)
    return Script(plan, want_of(genome, goal), tuple(parts), ready, tuple(kept), played, slot, hoped)


def _open_holdbacks(each: StagePlan, goal: Goal, *, last: bool) -> Sequence[Holdback]:
    """What is still to be kept; the last stage keeps the goal where it names nothing."""
    if each.stage.holdbacks or not last:
        return each.to_fill
    return (Holdback(id="goal", shows=goal.shows, carries=goal.carries, place=each.stage.place),)


def _ready(plan: RoadPlan, part: Part) -> int:
    entry = plan.entries.get((part.animal, part.sex))
    return entry.first if entry else NEVER
