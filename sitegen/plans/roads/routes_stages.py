"""From a way of crossing and keeping to the stages that a project's record would hold, and their YAML."""

from collections.abc import Mapping, Sequence
from typing import Any

import yaml

from sitegen.content.projects import Goal, Holdback, Stage
from sitegen.findings import Place
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.routes_shapes import Parent, Role, Shape
from sitegen.plans.roads.wants import want_of

_NAMES = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
_KEPT = {Sex.FEMALE: "daughters", Sex.MALE: "sons"}
_WIDTH = 110
NOWHERE = Place("")


def stages_of(
    shape: Shape,
    animals: Sequence[AnimalId],
    seasons: Sequence[int],
    looks: Mapping[Role, tuple[str, ...]],
    carries: Mapping[Role, tuple[str, ...]],
    counts: Mapping[Role, int],
    goal: Goal,
    genome: Genome,
) -> tuple[Stage, ...]:
    """The stages of a route, in the order of their seasons.

    The last stage keeps the goal animal; where a part of the goal cannot be seen it keeps none and is bred on, for
    the first that looks right need not be it.

    Args:
        shape: Who is crossed with whom.
        animals: The founders, by number.
        seasons: The earliest season of each stage.
        looks: For each role what young must show.
        carries: For each role what they may carry unseen.
        counts: For each role how many are kept.
        goal: What the last stage is bred for.
        genome: Tells what a look says of the genes; what it tells is not named again as carried.
    """
    order = sorted(range(len(shape.crosses)), key=lambda number: seasons[number])
    names = {number: _name(place) for place, number in enumerate(order)}

    def named(parent: Parent) -> str:
        return f"{names[parent.stage]}.{_KEPT[parent.sex]}" if isinstance(parent, Role) else animals[parent]

    found = []
    for number in order:
        dam, sire = shape.crosses[number]
        keep = [
            Holdback(
                id=_KEPT[role.sex],
                shows=looks[role],
                carries=carries[role],
                count=counts[role],
                sex=role.sex.value,
                animals=(),
                place=NOWHERE,
            )
            for role in shape.roles
            if role.stage == number
        ]
        if number == len(shape.crosses) - 1 and not want_of(genome, goal).unseen:
            keep = [Holdback(id="goal", shows=goal.shows, carries=(), count=1, sex="", animals=(), place=NOWHERE)]
        found.append(
            Stage(
                id=names[number],
                season=seasons[number],
                dam=named(dam),
                sire=named(sire),
                litters=(),
                keep=tuple(keep),
                place=NOWHERE,
            )
        )
    return tuple(found)


def _name(number: int) -> str:
    return _NAMES[number] if number < len(_NAMES) else f"stage-{number + 1}"


def as_record(stages: Sequence[Stage]) -> str:
    """The stages as they are written in a project's record, ready to be put there; ends with a line end."""
    text: str = yaml.dump(
        {"stages": stages_written(stages)},
        Dumper=_Dumper,
        sort_keys=False,
        allow_unicode=True,
        default_flow_style=False,
        width=_WIDTH,
    )
    return text


def stages_written(stages: Sequence[Stage]) -> dict[str, Any]:
    """The same as plain data."""
    return {stage.id: _written(stage) for stage in stages}


class _Inline(dict[str, Any]):
    """A group that is written on one line."""


class _Dumper(yaml.SafeDumper):
    """Writes holdbacks on one line each, as the records of the demonstration have them."""


def _one_line(dumper: yaml.SafeDumper, value: _Inline) -> yaml.Node:
    return dumper.represent_mapping("tag:yaml.org,2002:map", dict(value), flow_style=True)


_Dumper.add_representer(_Inline, _one_line)


def _written(stage: Stage) -> dict[str, Any]:
    found: dict[str, Any] = {"season": stage.season, "dam": stage.dam, "sire": stage.sire}
    if stage.keep:
        found["keep"] = {holdback.id: _inline(holdback) for holdback in stage.keep}
    return found


def _inline(holdback: Holdback) -> _Inline:
    found = _Inline(shows=list(holdback.shows))
    if holdback.carries:
        found["carries"] = list(holdback.carries)
    found["count"] = holdback.count
    if holdback.sex:
        found["sex"] = holdback.sex
    return found
