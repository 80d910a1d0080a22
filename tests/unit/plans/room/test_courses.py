"""Courses come out the same however they are parted."""

import pytest
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.genetics.dice import Dice
from sitegen.plans.room import courses, worlds
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import room_of

ANIMALS = (
    "fern f shows: [amel]; stated: {anery: 66%}", "sage f stated: {amel: 50%, anery: certain}",
    "clove m stated: {amel: certain, anery: 50%}", "thyme m shows: [anery]; stated: {amel: 1/4}",
)  # fmt: skip
N = 200


def _player() -> Player:
    wishes = wishes_of(goal_of("P", "amel", "anery"), litters=2, keep=2)
    asked = asked_of(*ANIMALS)
    return Player(asked, room_of(asked, SPECIES, wishes, AS_OF), N, Dice(1))


@pytest.mark.parametrize("listed", [1, worlds.MOST_WORLDS])
def test_parts_processes_and_what_was_played_before_change_nothing(
    listed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worlds, "MOST_WORLDS", listed)
    whole, parted = _player(), _player()
    assert whole.worlds.cut is (listed == 1)
    choices = [whole.own_choice(), ()]
    expected = whole.play(choices, N, known=True)
    monkeypatch.setattr(courses, "_WORTH_PROCESSES", 1)
    monkeypatch.setattr(Player, "at_once", lambda _: 30)
    parted.results(choices[:1], 70, known=True)
    for own, other in zip(expected, parted.results(choices, N, known=True), strict=True):
        assert (own.values(whole.room) == other.values(whole.room)).all()
        assert all((a == b).all() for a, b in zip(own.known, other.known, strict=True))
