"""Finds small rooms for the plan of the whole room, and adds them with their exact optimum to tests/helpers/rooms.json.

    find_rooms.py random FIRST LAST   the rooms of these numbers
    find_rooms.py hard SEED SECONDS   a search for rooms that defeat the myopic rule

What is found is added to what the file has. Random rooms are kept where the choices differ by at least 0.01 of the
weights. Hard ones are those in which every first choice of the myopic rule (the most goals owned at the end of this
season) loses more than 0.005; the search starts at rooms made by hand and at drafts drawn by lot, changes one thing or
two, and goes on from what is no better for the myopic rule. Of hard rooms with the same goals, rest and past litters at
most three stay, those that took the solver most work.
"""

import json
import random
import sys
import time
from fractions import Fraction
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.exact_game import Solver, myopic_choices
from helpers.exact_kinds import TooLargeError
from helpers.exact_room import game_of
from helpers.random_rooms import HAND_MADE, Draft, changed, draft, random_room, written
from helpers.rooms import AS_OF, FILE, SPECIES, Plan, asked_with_wishes, choice_text, text_of

MOST_RANDOM, MOST_HARD = 100_000, 60_000
"""Worlds that the solver goes through at most."""
DECIDES, DEFEATS = Fraction(1, 100), Fraction(5, 1000)
OF_A_KIND = 3

Found = dict[str, object]


def solved(records: str, plan: Plan, group: str) -> tuple[Found, Fraction] | None:
    """The room as the file has it, and what decides whether it is kept; None where it cannot be or is too large."""
    try:
        asked, wishes = asked_with_wishes(text_of(records, plan))
        game = game_of(asked, SPECIES, wishes, AS_OF)
    except (AssertionError, TypeError):  # records that contradict themselves
        return None
    hasty = myopic_choices(game) if group == "hard" else []
    if group == "hard" and (frozenset() in hasty or len(hasty) > 3):
        return None
    solver = Solver(game, most=MOST_RANDOM if group == "random" else MOST_HARD)
    try:
        values = solver.first()
    except TooLargeError:
        return None
    best, weights = max(values.values()), sum(goal.weight for goal in wishes.goals)
    against = min(values.values()) if group == "random" else max(values[choice] for choice in hasty)
    written_ = {choice_text(choice): str(value) for choice, value in values.items()}
    found: Found = {"id": "", "group": group, "records": records, "plan": plan, "best": str(best)}
    return {**found, "value_of": written_, "work": solver.work}, (best - against) / weights


def random_group(first: int, last: int) -> list[Found]:
    """The random rooms of these numbers in which something is to be decided."""
    found = []
    for number in range(first, last):
        own = solved(*random_room(number), "random")
        if own and own[1] >= DECIDES:
            found.append({**own[0], "id": f"random-{number}"})
    return found


def hard_group(seed: int, seconds: float) -> list[Found]:
    """Hard rooms, as many as are found in the time."""
    dice, found, end = random.Random(f"search {seed}"), [], time.monotonic() + seconds
    starts = list(HAND_MADE)
    while time.monotonic() < end:
        room = starts.pop() if starts else draft(dice)
        loss, got = _loss(room, found), 0
        if loss is None or (not loss and room not in HAND_MADE):
            continue
        for _ in range(40):
            other = changed(room, dice)
            other = changed(other, dice) if dice.random() < 0.5 else other
            before, own = len(found), _loss(other, found)
            if own is not None and own >= loss / 2 and (own > 0 or not loss):
                room, loss = other, own
            got += len(found) - before
            if got >= 2 * OF_A_KIND or time.monotonic() > end:
                break
    return found


def _loss(room: Draft, found: list[Found]) -> Fraction | None:
    """What the myopic rule loses; the room is added where that is enough."""
    own = solved(*written(room), "hard")
    if own is None:
        return None
    if own[1] > DEFEATS:
        found.append(own[0])
    return own[1]


def thinned(rooms: list[Found]) -> list[Found]:
    """Each room once; of hard ones of a kind the most laborious."""
    once = list({f"{own['records']}{own['plan']}": own for own in rooms}.values())
    kept = sorted((own for own in once if own["group"] == "random"), key=lambda own: int(str(own["id"])[7:]))
    kinds: dict[str, list[Found]] = {}
    for own in once:
        if own["group"] == "hard":
            records, plan = str(own["records"]), own["plan"]
            kind = json.dumps([plan["goals"], "rest: 1" in records, "=== litters" in records])  # type: ignore[index]
            kinds.setdefault(kind, []).append(own)
    hard = [each for own in kinds.values() for each in sorted(own, key=lambda r: -int(str(r["work"])))[:OF_A_KIND]]
    return kept + [{**own, "id": f"hard-{at}"} for at, own in enumerate(hard, start=1)]


def main() -> None:
    group, first, second = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    rooms: list[Found] = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else []
    rooms += random_group(first, second) if group == "random" else hard_group(first, second)
    rooms = thinned(rooms)
    lines = ",\n".join(json.dumps(own) for own in rooms)
    FILE.write_text(f"[\n{lines}\n]\n", encoding="utf-8")
    print({name: sum(own["group"] == name for own in rooms) for name in ("random", "hard")})


if __name__ == "__main__":
    main()
