"""What the rule thinks that a pairing adds, beside sums by hand."""

import numpy as np
import pytest
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.genetics.dice import Dice
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import room_of


@pytest.mark.parametrize(
    ("sire", "gain"),
    [
        # Where neither carries amel, no young does; where one does, it is the goal already.
        ("shows: [anery]; stated: {amel: 50%}", 0),
        # Where she does not carry it, half their young show anery and carry amel from him.
        ("shows: [amel]; stated: {anery: certain}", 1 / 2 * 1 / 2),
        # Where he carries it too, half of these.
        ("stated: {anery: certain, amel: 50%}", 1 / 2 * 1 / 2 * 1 / 4),
    ],
)
def test_a_pairing_adds_nothing_where_a_parent_is_the_goal_unseen(sire: str, gain: float) -> None:
    asked = asked_of(
        "sage f shows: [anery]; stated: {amel: 50%}", f"clove m {sire}",
        species="litter_size: {low: 1, usual: 1, high: 1}\n",
    )  # fmt: skip
    room = room_of(asked, SPECIES, wishes_of(goal_of("P", "anery", carries=("amel",)), last=2026), AS_OF)
    player = Player(asked, room, 20, Dice(1))
    play = player._play([None], np.zeros(1, np.int64), 1)
    pair = [(room.ids.index("sage"), room.ids.index("clove"))]
    dams, sires = (np.array([own]) for own in zip(*pair, strict=True))
    found = player.rule.value_of(play.belief, play.there(), 0, dams, sires).gain()
    assert found[0, 0] == pytest.approx(gain, abs=0.001)


def test_of_several_wanted_animals_what_is_missing_is_counted_by_how_many_there_are() -> None:
    """One is there and two more may be: with 1/4 one is missing of two; of three two with 1/4 and one with 1/2."""
    animals = ("sage f stated: {amel: 50%}", "fern f stated: {amel: 50%}", "clove m stated: {amel: certain}")
    asked = asked_of(*animals)
    goals = [goal_of(name, carries=("amel",), count=count) for name, count in (("P", 2), ("Q", 3))]
    player = Player(asked, room_of(asked, SPECIES, wishes_of(*goals), AS_OF), 20, Dice(1))
    two, three = player.rule.lacking(player._play([None], np.zeros(1, np.int64), 1).there())
    assert two[0] == pytest.approx(1 / 4 * 1 / 2, abs=0.001)
    assert three[0] == pytest.approx((1 / 4 * 2 + 1 / 2 * 1) / 3, abs=0.001)
