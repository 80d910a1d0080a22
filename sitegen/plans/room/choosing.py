"""Which of the choices that are left is told.

Choices that differ by less than 1 in 100 of all weights are as good; of these the one with the fewest litters is told,
then the least related one. So pairings that add nothing are left out, as long as all of them together add nothing.
"""

from collections.abc import Callable, Mapping, Sequence

from sitegen.genetics.kinship import Kinship
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, Room
from sitegen.plans.room.kinds import AS_GOOD
from sitegen.plans.room.played import Choice
from sitegen.plans.room.search import difference

NOBODY = (-1, -1)
"""Stands in the place of a pairing that is left out, so that the others keep their luck."""


def made(choice: Choice) -> Choice:
    """The pairings that are made."""
    return tuple(pair for pair in choice if pair != NOBODY)


def aligned(choice: Choice, like: Choice) -> Choice:
    """The same choice with pairings that both have in the same places, so that these meet the same luck."""
    own = [pair for pair in choice if pair not in like]
    found = [pair if pair in choice else own.pop(0) if own else NOBODY for pair in like]
    return (*found, *own)


def without(choice: Choice, at: int) -> Choice:
    """A choice without one of its pairings."""
    return (*choice[:at], NOBODY, *choice[at + 1 :])


def leaner(player: Player, best: Choice, few: int, many: int, step: Callable[[int], None]) -> list[Choice]:
    """The choice without pairings that add nothing, one and one more left out, as long as all of them add nothing.

    Args:
        player: Plays the courses of the search.
        best: The choice.
        few: Courses from which their order is taken.
        many: Courses in which it is looked at what all of them add.
        step: Is told how many courses were played.
    """
    room = player.room

    def values(choices: Sequence[Choice], n: int) -> list[Floats]:
        return [result.values(room) for result in player.results(choices, n, step=step)]

    whole, *less = values([best, *(without(best, at) for at in range(len(best)))], few)
    lost = sorted((difference(whole, own)[0], at) for at, own in enumerate(less))
    found, now = [], best
    whole = values([best], many)[0]
    for loss, at in lost:
        now = without(now, at)
        if loss > 2 * AS_GOOD or difference(whole, values([now], many)[0])[0] > AS_GOOD:
            break
        found.append(now)
    return found


def told_choice(room: Room, kinship: Kinship, best: Choice, values: Mapping[Choice, Floats]) -> Choice:
    """Of the choices that are as good as the best one, by more than an error, the one that asks least; else the best.

    Args:
        room: The room.
        kinship: How related its animals are.
        best: The best choice of the search.
        values: Of each choice its value in the same courses.
    """

    def asks(choice: Choice) -> tuple[object, ...]:
        pairs = [(room.ids[dam], room.ids[sire]) for dam, sire in made(choice)]
        related = sum(kinship.pair(*pair) for pair in pairs) / max(len(pairs), 1)
        return len(pairs), related, choice != best, sorted(pairs)

    def as_good(choice: Choice) -> bool:
        loss, error = difference(values[best], values[choice])
        return loss + error < AS_GOOD

    return min((each for each in values if each == best or as_good(each)), key=asks)
