"""Laws of the plan for the whole room: rules read beliefs and never genotypes, and beliefs are right."""

import random
from collections.abc import Sequence
from math import sqrt

import numpy as np
import pytest
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked
from sitegen.genetics.dice import Dice
from sitegen.plans.room.belief import Belief
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, Ints, Unit, room_of
from sitegen.plans.room.plan import SEARCHING, TELLING, plan_room
from sitegen.plans.room.search import Search, difference, mean
from sitegen.plans.room.seasons import Play

N = 2000
CARRIERS = [f"d{at} f stated: {{amel: 50%}}" for at in range(4)]
EIGHT = ["f1", "f2", "f3", "f4", "m1", "m2", "m3", "m4"]
LATE = "litter_size: {low: 2, usual: 2, high: 2}\nbreeding_age: {female: 60 months, male: 60 months}\n"
TWO_STEPS = [
    "fern f shows: [amel]; stated: {anery: 66%}",
    "sage f stated: {amel: 50%, anery: certain}",
    "clove m stated: {amel: certain, anery: 50%}",
    "thyme m shows: [anery]; stated: {amel: 1/4}",
]
P = goal_of("P", "amel")
PQ = (goal_of("P", "amel", "anery"), goal_of("Q", "amel", carries=("anery",), weight=2))


class _Told(Belief):
    """A belief that is told every genotype."""

    play: Play

    def tell(self, true: Sequence[Ints]) -> None:
        """The animals of the start."""
        for at, unit in enumerate(self.room.units):
            self.given[at][:, : self.n_start] = (true[at][:, :, None] == np.arange(unit.n_types))[..., None]

    def saw(self, at: int, courses: Ints, dams: Ints, sires: Ints, likelihood: Floats) -> None:
        """Nothing is to be learned."""

    def keep(self, at: int, unit: Unit, courses: Ints, slots: Ints, dams: Ints, sires: Ints, codes: Ints) -> None:
        """The young that are kept."""
        known = self.play.true[at][courses, slots][:, None] == np.arange(unit.n_types)
        self.given[at][courses, slots] = known[:, :, None]


def _player(asked: Asked, wishes: Wishes, seed: int = 1, n: int = N) -> Player:
    return Player(asked, room_of(asked, SPECIES, wishes, AS_OF), n, Dice(seed))


def _told(player: Player) -> Floats:
    """The value of each course where the same rule is told the genotypes."""
    course = np.arange(player.n)
    belief = _Told(player.room, player.worlds, player.n, player.slots())
    true = [own.T[course] for own in player.true]
    belief.tell(true)
    play = Play(player.rule, belief, true, player.luck, [None], course, player.n)
    belief.play = play
    return play.results()[0].values(player.room)


@pytest.mark.parametrize(
    ("animals", "species", "goals"),
    [
        ([*CARRIERS, "clove m stated: {amel: certain}"], LATE, (P,)),
        (TWO_STEPS, "", PQ),
    ],
)
def test_the_same_rule_told_the_genotypes_is_another_and_a_better_one(
    animals: list[str], species: str, goals: tuple[object, ...]
) -> None:
    player = _player(asked_of(*animals, species=species), wishes_of(*goals))
    ours = player.results([None], N)[0].values(player.room)
    gain, wrong = difference(_told(player), ours)
    assert gain > 4 * wrong
    assert gain > 0.02


def test_a_rule_that_reads_genotypes_would_be_noticed() -> None:
    """Four dams and four sires that may carry, one litter of two: the sums by hand of who sees and of who does not."""
    animals = [f"{at} {at[0]} stated: {{amel: 50%}}" for at in EIGHT]
    player = _player(asked_of(*animals, species=LATE), wishes_of(P, last=2026))
    comes = 1 - (3 / 4) ** 2
    for values, pair in ((player.results([None], N)[0].values(player.room), 1 / 4), (_told(player), (15 / 16) ** 2)):
        truth = pair * comes
        assert mean(values) == pytest.approx(truth, abs=4 * sqrt(truth * (1 - truth) / N))


class _Blind(Belief):
    """A belief that learns nothing from young that are not kept."""

    def saw(self, at: int, courses: Ints, dams: Ints, sires: Ints, likelihood: Floats) -> None:
        """Nobody looks."""


def _blind(player: Player) -> Floats:
    """The value of each course where nobody learns from litters."""
    belief = _Blind(player.room, player.worlds, player.n, player.slots())
    true = [own.T[np.arange(player.n)] for own in player.true]
    play = Play(player.rule, belief, true, player.luck, [None], np.arange(player.n), player.n)
    return play.results()[0].values(player.room)


def test_with_many_possible_carriers_it_costs_not_to_learn_from_litters() -> None:
    """Eight dams, four seasons, young that grow up too late: who learns pairs another dam after each litter without
    the goal, who does not the same one again."""
    dams = [f"d{at} f stated: {{amel: 50%}}" for at in range(8)]
    player = _player(asked_of(*dams, "clove m stated: {amel: certain}", species=LATE), wishes_of(P, last=2029))
    ours, blind = player.results([None], N)[0].values(player.room), _blind(player)
    cost, error = difference(ours, blind)
    once = 1 / 2 * (1 - (3 / 4) ** 2)
    told, untold = 1 - (1 - once) ** 4, 1 / 2 * (1 - (3 / 4) ** 8)
    assert cost > 4 * error
    assert cost == pytest.approx(told - untold, abs=4 * error)
    assert mean(ours) == pytest.approx(told, abs=4 * sqrt(told * (1 - told) / N))


def test_both_parents_are_doubted_and_learning_pays() -> None:
    """Four dams and four sires that may carry: what a litter tells of one parent bears on the other too."""
    animals = [f"{at} {at[0]} stated: {{amel: 50%}}" for at in EIGHT]
    player = _player(asked_of(*animals, species=LATE), wishes_of(P, last=2029))
    cost, error = difference(player.results([None], N)[0].values(player.room), _blind(player))
    assert cost > 4 * error
    assert cost > 0.02


@pytest.mark.parametrize(
    ("animals", "litters", "near", "cut"),
    [
        (TWO_STEPS, 2, 0.003, False),
        # Too many doubtful animals to list together: some are taken as independent of each other.
        ([f"{at} {at[0]} stated: {{amel: 50%, anery: 50%}}" for at in EIGHT], 3, 0.02, True),
    ],
)
def test_beliefs_are_as_often_true_as_they_say(animals: list[str], litters: int, near: float, cut: bool) -> None:
    player = _player(asked_of(*animals), wishes_of(*PQ, litters=litters, keep=2), n=4000)
    assert player.worlds.cut == cut
    course = np.arange(player.n)
    belief = Belief(player.room, player.worlds, player.n, player.slots())
    true = [own.T[course] for own in player.true]
    play = Play(player.rule, belief, true, player.luck, [None], course, player.n, with_known=True)
    play.results()
    for at, unit in enumerate(player.room.units):
        alone, types = belief.alone(at, play.true[at].shape[1]), play.true[at]
        for kind in range(unit.n_types):
            for slot in range(types.shape[1]):
                there = play.stock.present[:, slot]
                said, is_so = alone[there, slot, kind], types[there, slot] == kind
                if len(said) < 50:
                    continue
                for low, high in ((0.0, 0.34), (0.34, 0.67), (0.67, 1.01)):
                    own = (said >= low) & (said < high)
                    n = int(own.sum())
                    if n > 100:
                        said_so, came = mean(said[own]), mean(is_so[own].astype(float))
                        assert came == pytest.approx(said_so, abs=5 * sqrt(max(said_so * (1 - said_so), 0) / n) + near)


def test_what_is_told_does_not_come_from_the_worlds_that_chose() -> None:
    asked, wishes = asked_of(*TWO_STEPS), wishes_of(*PQ)
    plan = plan_room(asked, SPECIES, wishes, AS_OF, effort=0.25)
    chosen = [own.pair for own in plan.pairings]
    values = {}
    for seed in (SEARCHING, TELLING):
        player = _player(asked, wishes, seed, n=1000)
        search = Search(player, 0.25)
        search.run(lambda _: None)
        ids = player.room.ids
        if seed == SEARCHING:
            best = search.best[0]
        assert sorted((ids[a], ids[b]) for a, b in best) == sorted(chosen)
        values[seed] = mean(player.results([best], 1000)[0].values(player.room)) * 3
    assert plan.value == values[TELLING] != values[SEARCHING]


def test_the_order_of_records_changes_nothing_and_names_only_the_luck() -> None:
    goals, dice = PQ, random.Random(3)
    first = plan_room(asked_of(*TWO_STEPS), SPECIES, wishes_of(*goals), AS_OF, effort=0.25)
    turned = TWO_STEPS.copy()
    dice.shuffle(turned)
    assert plan_room(asked_of(*turned), SPECIES, wishes_of(*goals), AS_OF, effort=0.25) == first
    other = {"fern": "zinnia", "sage": "aster", "clove": "yew", "thyme": "alder"}
    renamed = [" ".join((other[own.split(" ")[0]], *own.split(" ")[1:])) for own in TWO_STEPS]
    second = plan_room(asked_of(*renamed), SPECIES, wishes_of(*goals), AS_OF, effort=0.25)
    assert [(other[own.dam], other[own.sire]) for own in first.pairings] == [own.pair for own in second.pairings]
    assert second.value == pytest.approx(first.value, abs=4 * sqrt(2) * first.value_error)


def test_more_courses_begin_with_the_same_ones() -> None:
    asked, wishes = asked_of(*TWO_STEPS), wishes_of(*PQ)
    few, many = (_player(asked, wishes, n=n) for n in (100, 400))
    left, right = few.results([None], 100)[0], many.results([None], 400)[0]
    for goal in range(2):
        assert (left.kept[goal] == right.kept[goal][:, :100]).all()
