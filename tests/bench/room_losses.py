"""What the plan of the whole room loses against the exact optimum, by group of the stored rooms.

    room_losses.py [EVERY] [EFFORT] [FILE]   every so many rooms (1), with that effort (1.0), of another file of rooms

Loss is (best value - the best that can follow the plan's first choice) / weights; "above" is how many of its errors the
told value lies above the optimum, at most; "below" how much of the weights it lies below the best that can follow, on
the average and at most.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.rooms import FILE, Measured, choice_text, measured, rooms_in


def main() -> None:
    every = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    effort = float(sys.argv[2]) if len(sys.argv) > 2 else 1.0
    groups: dict[str, list[Measured]] = {}
    for room in rooms_in(Path(sys.argv[3]) if len(sys.argv) > 3 else FILE)[::every]:
        own = measured(room, effort)
        groups.setdefault(room.group, []).append(own)
        if own.loss > 0.01 or own.above > 4:
            told = f"value {own.value:.4f} of {float(room.best):.4f}, {own.above:.1f} errors above"
            print(f"{room.id}: lost {own.loss:.4f} by {choice_text(own.choice) or 'no pairing'}; {told}")
    print("| group | rooms | within 0.01 | mean loss | worst | errors above | below: mean, most |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    for group, all_ in groups.items():
        losses, below = [own.loss for own in all_], [own.below for own in all_]
        mean, short = sum(losses) / len(all_), sum(below) / len(all_)
        print(
            f"| {group} | {len(all_)} | {sum(loss <= 0.01 for loss in losses)} | {mean:.5f} | {max(losses):.4f} "
            f"| {max(own.above for own in all_):.1f} | {short:.4f}, {max(below):.3f} |"
        )


if __name__ == "__main__":
    main()
