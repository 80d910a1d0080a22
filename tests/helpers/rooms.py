"""The stored rooms: records, wishes, and what the exact optimum of each is.

``rooms.json`` was written by ``tests/bench/find_rooms.py``. Of each room: its records as text, its wishes as
``content/plan.yaml`` writes them, ``best`` (the value of the best rule), ``value_of`` (every first choice, written
``dam x sire, dam x sire`` or empty, to the best that can follow it), and how many worlds the solver went through.
"""

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property
from pathlib import Path

from helpers.exact_kinds import Choice
from helpers.from_text import bound
from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.plans.room.plan import plan_room

FILE = Path(__file__).with_name("rooms.json")
AS_OF = dt.date(2026, 1, 1)
SPECIES = "snake"

Plan = dict[str, object]
"""``content/plan.yaml`` as plain values."""


@dataclass(frozen=True)
class StoredRoom:
    """A room and its optimum; ``group`` is random or hard."""

    id: str
    group: str
    records: str
    plan: Plan
    best: Fraction
    value_of: Mapping[Choice, Fraction]
    work: int

    @property
    def text(self) -> str:
        """All its files."""
        return text_of(self.records, self.plan)

    @cached_property
    def weights(self) -> Fraction:
        """Sum of the goals' weights."""
        return sum((goal.weight for goal in asked_with_wishes(self.text)[1].goals), Fraction(0))

    def loss(self, choice: Choice) -> Fraction:
        """What is lost by a first-season choice, as a share of all weights."""
        return (self.best - self.value_of[choice]) / self.weights


@dataclass(frozen=True)
class Measured:
    """What the plan of the whole room is worth on a stored room.

    Attributes:
        room: Which.
        choice: What it chose for the first season.
        value: What it told.
        loss: What is lost by that choice, as a share of all weights.
        above: How many of its errors the told value lies above the optimum.
        below: How much of all weights it lies below the best that can follow the choice.
    """

    room: StoredRoom
    choice: Choice
    value: float
    loss: float
    above: float
    below: float


def measured(room: StoredRoom, effort: float = 1.0) -> Measured:
    """Plans a stored room."""
    asked, wishes = asked_with_wishes(room.text)
    plan = plan_room(asked, SPECIES, wishes, AS_OF, effort=effort)
    choice = frozenset(own.pair for own in plan.pairings)
    over, below = plan.value - float(room.best), float(room.value_of[choice]) - plan.value
    error = plan.value_error or 1e-9
    return Measured(room, choice, plan.value, float(room.loss(choice)), over / error, below / float(room.weights))


def stored_rooms() -> tuple[StoredRoom, ...]:
    """All of them, the random ones first."""
    return rooms_in(FILE)


@cache
def rooms_in(file: Path) -> tuple[StoredRoom, ...]:
    """The rooms of a file."""
    return tuple(
        StoredRoom(
            own["id"], own["group"], own["records"], own["plan"], Fraction(own["best"]),
            {choice_of(text): Fraction(value) for text, value in own["value_of"].items()}, own["work"],
        )
        for own in json.loads(file.read_text(encoding="utf-8"))
    )  # fmt: skip


def text_of(records: str, plan: Plan) -> str:
    """Records and wishes as files; values of JSON are YAML."""
    return f"{records}=== plan.yaml\n{json.dumps(plan)}\n"


def asked_with_wishes(text: str) -> tuple[Asked, Wishes]:
    """The evidence of a room's files, and its wishes."""
    asked = ask(gather(bound(text)))
    wishes = asked.evidence.collection.wishes
    assert wishes is not None
    return asked, wishes


def choice_text(choice: Choice) -> str:
    """``fern x clove, sage x clove``; empty for no pairing."""
    return ", ".join(f"{dam} x {sire}" for dam, sire in sorted(choice))


def choice_of(text: str) -> Choice:
    """The choice that was written so."""
    pairs = (pair.split(" x ") for pair in text.split(", ")) if text else ()
    return frozenset((dam, sire) for dam, sire in pairs)
