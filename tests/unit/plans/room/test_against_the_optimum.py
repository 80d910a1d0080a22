"""The search on rooms that are small enough to know the best answer (``tests/helpers/rooms.json``)."""

import pytest
from helpers.made_rooms import wishes_of
from helpers.rooms import AS_OF, SPECIES, StoredRoom, asked_of_text, stored_rooms
from helpers.rooms import wishes_of as stored_wishes

from sitegen.content.wishes import WishedGoal
from sitegen.findings import Place
from sitegen.plans.room.plan import plan_room

EVERY = 9
"""One in so many; all of them are measured by hand, as the guide tells."""


@pytest.mark.parametrize("room", stored_rooms()[::EVERY], ids=lambda room: room.id)
def test_the_plan_loses_next_to_nothing_and_promises_no_more_than_can_be(room: StoredRoom) -> None:
    stored = stored_wishes(room.plan)
    goals = [
        WishedGoal(id=own.id, species=SPECIES, goal=own.goal, count=own.count, weight=own.weight, place=Place(""))
        for own in stored.goals
    ]
    wishes = wishes_of(
        *goals, season=stored.season, last=stored.last, litters=stored.litters, keep=stored.keep, places=stored.places,
        sooner=stored.sooner, relatedness=stored.relatedness,
    )  # fmt: skip
    plan = plan_room(asked_of_text(room.records), SPECIES, wishes, AS_OF)
    assert room.loss(frozenset(own.pair for own in plan.pairings)) <= 0.01
    assert plan.value <= float(room.best) + 4 * plan.value_error + 1e-9
