"""Small rooms with a born litter, and the exact value of each set of its young that could be kept."""

import random
import re
from fractions import Fraction
from itertools import combinations

from helpers.exact_room import exact
from helpers.random_rooms import random_room
from helpers.rooms import AS_OF, SPECIES, Plan, asked_with_wishes, text_of
from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked

KEEP = 2


def room_with_litter(number: int) -> tuple[str, Plan, str, list[str]]:
    """A random room with a litter, half of them without its parents: records, wishes, the litter, its young."""
    dice = random.Random(f"litter {number}")
    records, plan = random_room(number)
    plan |= {"last": min(int(str(plan["last"])), 2028), "keep": KEEP}
    genes = re.findall(r"^  (\w+): \{inheritance", records, re.MULTILINE)
    dam, sire = (dice.choice(re.findall(f"animals/({names})/", records)) for names in ("fern|sage", "clove|thyme"))
    records = records.split(f"=== litters/2025-{dam}-{sire}/")[0]
    litter = f"2025-{dam}-{sire}"
    records += (
        f"=== litters/{litter}/litter.yaml\nconfirmed: true\ndam: {dam}\nsire: {sire}\nborn: 2025-07-10\nyoung:\n"
    )
    keys = [f"{at:02}" for at in range(1, dice.choice((3, 4, 5)))]
    for key in keys:
        shows = ", ".join(gene for gene in genes if dice.random() < 0.2)
        records += f'  "{key}": {{sex: {dice.choice(("female", "male"))}, shows: [{shows}]}}\n'
    if dice.random() < 0.5:
        for parent in (dam, sire):
            records = records.replace(
                f"animals/{parent}/animal.yaml\n", f"animals/{parent}/animal.yaml\ndied: 2025-12-01\n"
            )
    return records, plan, litter, [f"{litter}/{key}" for key in keys]


def asked_room(records: str, plan: Plan) -> tuple[Asked, Wishes]:
    """The evidence of it and its wishes."""
    return asked_with_wishes(text_of(records, plan))


def exact_values(records: str, plan: Plan, young: list[str]) -> dict[tuple[str, ...], Fraction]:
    """The best value of the room, as a share of all weights, with each set of at most two young and no others."""
    found = {}
    for size in range(KEEP + 1):
        for kept in combinations(young, size):
            own = records
            for each in set(young) - set(kept):
                own = own.replace(f'"{each[-2:]}": {{', f'"{each[-2:]}": {{died: 2025-12-01, ')
            asked, wishes = asked_room(own, plan)
            room = exact(asked, SPECIES, wishes, AS_OF, most=60_000)
            found[kept] = room.best / room.weights
    return found
