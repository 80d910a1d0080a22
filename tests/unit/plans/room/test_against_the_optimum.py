"""The search on rooms that are small enough to know the best answer (``tests/helpers/rooms.json``)."""

import pytest
from helpers.rooms import AS_OF, SPECIES, StoredRoom, asked_with_wishes, stored_rooms

from sitegen.plans.room.plan import plan_room

EVERY = 9
"""One in so many; all of them are measured by hand, as the guide tells."""


@pytest.mark.parametrize("room", stored_rooms()[::EVERY], ids=lambda room: room.id)
def test_the_plan_loses_next_to_nothing_and_promises_no_more_than_can_be(room: StoredRoom) -> None:
    asked, wishes = asked_with_wishes(room.text)
    plan = plan_room(asked, SPECIES, wishes, AS_OF)
    assert room.loss(frozenset(own.pair for own in plan.pairings)) <= 0.01
    assert plan.value <= float(room.best) + 4 * plan.value_error + 1e-9
