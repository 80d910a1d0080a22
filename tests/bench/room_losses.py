"""What the plan of the whole room loses against the exact optimum, by group of the stored rooms; seconds of processor.

    room_losses.py [EVERY] [EFFORT]   every so many rooms (1), with that effort (1.0)

Loss is (best value - the best that can follow the plan's first choice) / weights; "above" is how many of its errors the
printed value lies above the optimum.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.rooms import AS_OF, SPECIES, asked_with_wishes, choice_text, stored_rooms

from sitegen.plans.room.plan import plan_room


def main() -> None:
    every = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    effort = float(sys.argv[2]) if len(sys.argv) > 2 else 1.0
    losses: dict[str, list[float]] = {}
    above: list[float] = []
    began = time.process_time()
    for room in stored_rooms()[::every]:
        asked, wishes = asked_with_wishes(room.text)
        plan = plan_room(asked, SPECIES, wishes, AS_OF, effort=effort)
        choice = frozenset((own.dam, own.sire) for own in plan.pairings)
        loss = float(room.loss(choice))
        losses.setdefault(room.group, []).append(loss)
        over = float(plan.value) - float(room.best)
        above.append(over / float(plan.value_error) if plan.value_error else (0.0 if over < 1e-6 else float("inf")))
        if loss > 0.01 or above[-1] > 4:
            told = f"value {float(plan.value):.4f} of {float(room.best):.4f}, {above[-1]:.1f} errors above"
            print(f"{room.id}: lost {loss:.4f} by {choice_text(choice) or 'no pairing'}; {told}")
    for group, own in losses.items():
        good = sum(loss <= 0.01 for loss in own)
        print(
            f"{group}: {len(own)} rooms, {good} lose at most 0.01, mean {sum(own) / len(own):.5f}, worst {max(own):.4f}"
        )
    print(f"most errors above the optimum: {max(above):.1f}; {time.process_time() - began:.0f} s")


if __name__ == "__main__":
    main()
