"""The exact optimum against every history written out, and laws that any optimum obeys."""

import random
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from helpers.exact_game import Solver, myopic_choices
from helpers.exact_kinds import Aim, Game, Pairs, Starter, State, TooLargeError
from helpers.exact_room import exact, game_of
from helpers.plain_room import Genes, PlainGoal, PlainRoom, plain_first, young_of
from helpers.rooms import AS_OF, SPECIES, StoredRoom, asked_with_wishes, choice_text, stored_rooms

from sitegen.evidence.pairings import pairing
from sitegen.genetics.counts import litter_sizes

ONE, HALF = Fraction(1), Fraction(1, 2)
ODDS = (
    {("+", "a"): ONE},
    {("+", "+"): HALF, ("+", "a"): HALF},
    {("+", "+"): Fraction(1, 3), ("+", "a"): Fraction(2, 3)},
    {("a", "a"): ONE},
    {("+", "+"): ONE},
)


def tiny_room(number: int) -> PlainRoom:
    """A room so small that all its histories can be written out."""
    dice = random.Random(f"tiny room {number}")
    n_loci = dice.choice((1, 1, 1, 2))
    seasons = dice.choice((2, 2, 3)) if n_loci == 1 else 2
    start = [("d", "female", 0), ("s", "male", 0)]
    more = seasons == 2 and dice.random() < 0.6
    start += [dice.choice([("e", "female", 0), ("e", "female", 1), ("r", "male", 0)])] if more else []
    litters = dice.choice((1, 2)) if more and n_loci == 1 else 1
    small = seasons == 3 or litters == 2 or n_loci == 2
    sizes = (1, 1, 1) if small else dice.choice([(1, 1, 1), (1, 1, 2), (2, 2, 2), (0, 1, 2)])
    odds = []
    for _ in start:
        per_locus = [dice.choice(ODDS) for _ in range(n_loci)]
        whole: dict[Genes, Fraction] = {}
        for chosen in product(*(own.items() for own in per_locus)):
            chance = ONE
            for _, share in chosen:
                chance *= share
            whole[tuple(pair for pair, _ in chosen)] = chance
        odds.append(whole)
    shares = [Fraction(0)] * (seasons - 1) + [ONE]
    if dice.random() < 0.3:
        shares = [Fraction(seasons - t, seasons * (seasons + 1) // 2) for t in range(seasons)]
    goals = []
    for _ in range(dice.choice((1, 1, 2))):
        places = dice.sample(range(n_loci), n_loci)
        n_shows = dice.choice(range(n_loci + 1))
        carries = tuple(places[n_shows:][:1])
        weight = Fraction(dice.choice((1, 2)))
        rewards = tuple(weight * share for share in shares)
        goals.append(PlainGoal(tuple(places[:n_shows]), carries, dice.choice((1, 1, 2)), rewards))
    return PlainRoom(
        seasons, tuple(start), tuple(odds), tuple(goals), litter_sizes(*sizes),
        {"female": dice.choice((1, 2)), "male": 1}, dice.choice((ONE, Fraction(3, 4))), dice.choice((0, 1)), litters,
        dice.choice((1, 1, 2)), dice.choice((None, None, 3, 4)),
    )  # fmt: skip


def as_game(room: PlainRoom) -> Game:
    """The same room for the solver."""
    sexes = ("female", "male")
    worlds: dict[tuple[Genes, ...], Fraction] = {}
    for chosen in product(*(own.items() for own in room.odds)):
        chance = ONE
        for _, share in chosen:
            chance *= share
        worlds[tuple(genes for genes, _ in chosen)] = chance
    return Game(
        seasons=room.seasons,
        start=tuple(Starter(name, sexes.index(sex), ready) for name, sex, ready in room.start),
        worlds=worlds,
        young=lambda dam, sire: {(sexes.index(sex), own): c for (sex, own), c in young_of(dam, sire).items()},
        look=lambda _, genes: tuple(pair == ("a", "a") for pair in genes),
        is_aim=lambda genes: tuple(goal.meets(genes) for goal in room.goals),
        aims=tuple(Aim(str(at), goal.count, goal.rewards) for at, goal in enumerate(room.goals)),
        sizes=room.sizes,
        grown=(room.grown["female"], room.grown["male"]),
        takes=room.takes,
        rest=room.rest,
        litters=room.litters,
        keep=room.keep,
        places=room.places,
    )


@pytest.mark.parametrize("number", range(40))
def test_the_optimum_is_that_of_all_histories(number: int) -> None:
    room = tiny_room(number)
    assert plain_first(room) == Solver(as_game(room)).first()


def sample(most: int, n: int) -> list[StoredRoom]:
    """Stored rooms that are quickly solved, of both groups in turn, the largest first."""
    groups = [sorted((r for r in stored_rooms() if r.group == group and r.work <= most), key=lambda r: -r.work)
              for group in ("random", "hard")]  # fmt: skip
    return [room for pair in zip(*groups, strict=False) for room in pair][:n]


def game_in(room: StoredRoom) -> Game:
    asked, wishes = asked_with_wishes(room.text)
    return game_of(asked, SPECIES, wishes, AS_OF)


@pytest.mark.parametrize("room", sample(40_000, 24), ids=lambda room: room.id)
def test_stored_rooms_are_solved_again(room: StoredRoom) -> None:
    asked, wishes = asked_with_wishes(room.text)
    found = exact(asked, SPECIES, wishes, AS_OF)
    assert room.best == found.best
    assert dict(room.value_of) == dict(found.value_of)
    assert room.weights == found.weights


def test_there_are_enough_rooms_and_something_is_to_be_decided() -> None:
    rooms = stored_rooms()
    assert len(rooms) == len({room.records + str(room.plan) for room in rooms})
    assert sum(room.group == "random" for room in rooms) >= 100
    assert sum(room.group == "hard" for room in rooms) >= 20
    assert all(room.best == max(room.value_of.values()) for room in rooms)
    assert all(max(map(room.loss, room.value_of)) >= Fraction(1, 100) for room in rooms)


def test_hard_rooms_defeat_every_choice_of_the_myopic_rule() -> None:
    for room in stored_rooms():
        if room.group == "hard":
            losses = {choice_text(choice): room.loss(choice) for choice in myopic_choices(game_in(room))}
            assert min(losses.values()) > Fraction(5, 1000), (room.id, losses)


LAWFUL = sample(4_000, 8)


def any_rule(number: int) -> dict[str, object]:
    """A rule that decides by lot, always the same way where it knows the same."""

    def chooser(state: State, options: Sequence[Pairs]) -> Pairs:
        return random.Random(f"{number} {state}").choice(options)

    def keeper(state: State, pairs: Pairs, seen: object, n: int) -> int:
        return random.Random(f"{number} {state} {pairs} {seen}").randrange(n)

    return {"chooser": chooser, "keeper": keeper} if number % 2 else {"chooser": chooser}


@pytest.mark.parametrize("room", LAWFUL, ids=lambda room: room.id)
def test_no_rule_that_sees_what_can_be_seen_is_better(room: StoredRoom) -> None:
    game = game_in(room)
    values = []
    for number in range(6):
        try:
            values.append(Solver(game, most=30_000, **any_rule(number)).value())  # type: ignore[arg-type]
        except TooLargeError:
            continue
    assert values
    assert max(values) <= room.best


def test_some_rule_is_worse() -> None:
    game = game_in(LAWFUL[0])
    assert any(Solver(game, **any_rule(number)).value() < LAWFUL[0].best for number in range(6))  # type: ignore[arg-type]


@pytest.mark.parametrize("room", LAWFUL, ids=lambda room: room.id)
def test_who_is_told_the_genotypes_has_at_least_as_much(room: StoredRoom) -> None:
    assert Solver(game_in(room), told=True).value() >= room.best


def test_who_is_told_the_genotypes_mostly_has_more() -> None:
    more = [Solver(game_in(room), told=True).value() > room.best for room in LAWFUL]
    assert sum(more) * 3 >= len(more)


@pytest.mark.parametrize("room", LAWFUL, ids=lambda room: room.id)
def test_wider_limits_and_one_more_animal_never_lower_the_optimum(room: StoredRoom) -> None:
    game = game_in(room)
    n = len(game.start)
    wider = [replace(game, keep=None), replace(game, places=None), replace(game, relatedness=None, kinship=())]
    wider.append(replace(game, litters=None if game.litters is None else game.litters + 1))
    narrower = [replace(game, places=n + 1), replace(game, litters=1), replace(game, keep=1)]
    if game.places is None:
        worlds = {(*genes, genes[0]): chance for genes, chance in game.worlds.items()}
        twin = Starter("twin", game.start[0].sex, game.start[0].ready)
        if game.relatedness is None:
            wider.append(replace(game, start=(*game.start, twin), worlds=worlds))
    compared = 0
    for other, at_least in [(each, True) for each in wider] + [(each, False) for each in narrower]:
        try:
            value = Solver(other, most=40_000).value()
        except TooLargeError:
            continue
        compared += 1
        assert value >= room.best if at_least else value <= room.best
    assert compared >= 3


@pytest.mark.parametrize("room", LAWFUL, ids=lambda room: room.id)
def test_the_order_and_the_names_of_animals_change_nothing(room: StoredRoom) -> None:
    game = game_in(room)
    order = list(range(len(game.start)))[::-1]
    names = {each.name: f"x{at}" for at, each in enumerate(game.start)}
    turned = replace(
        game,
        start=tuple(replace(game.start[at], name=names[game.start[at].name]) for at in order),
        worlds={tuple(genes[at] for at in order): chance for genes, chance in game.worlds.items()},
        kinship=tuple(tuple(game.kinship[a][b] for b in order) for a in order) if game.kinship else (),
    )
    renamed = {
        frozenset((names[dam], names[sire]) for dam, sire in choice): value for choice, value in room.value_of.items()
    }
    assert renamed == Solver(turned).first()


def test_one_season_is_what_a_pairing_gives() -> None:
    """Reading the records: sex-linked, hidden, linked, with past litters; against the odds that the program tells."""
    compared = 0
    for room in stored_rooms()[::3]:
        asked, wishes = asked_with_wishes(room.text)
        game = game_of(asked, SPECIES, wishes, AS_OF)
        for rank, goal in enumerate(wishes.goals):
            owned = sum(c for genes, c in game.worlds.items() if any(game.is_aim(own)[rank] for own in genes))
            if goal.goal.carries or owned:
                continue
            aims = [Aim(aim.id, 1, (Fraction(int(at == rank)),)) for at, aim in enumerate(game.aims)]
            free = replace(game, seasons=1, aims=tuple(aims), keep=None, places=None, relatedness=None, litters=1)
            for choice, value in Solver(free).first().items():
                for dam, sire in choice:
                    told = pairing(asked, dam, sire, wanted=goal.goal.shows, teach=False).wanted
                    assert told is not None
                    assert game.takes * told.in_litter == value
                    compared += value > 0
    assert compared >= 30
