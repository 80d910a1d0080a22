"""How soon a command answers: ``python tests/bench/start.py``. Measured, never asserted.

``sitegen --help`` beside the smallest program of the same library, in turns; goal at most 1.3 times, limit 2.
``odds`` and ``why`` on 300 animals; goal under half a second.
"""

import statistics
import sys
import tempfile
from pathlib import Path

from many_records import write_collection
from whole import Cost, as_installed, cost_of

BARE = """import click
@click.group()
def main(): "A program."
@main.command()
def build(): "Make it."
main()
"""
TURNS = 21


def told(what: str, costs: list[Cost], than: list[Cost] | None = None) -> None:
    wall, processor = (statistics.median(getattr(cost, kind) for cost in costs) for kind in ("wall", "processor"))
    ratio = f"   {processor / statistics.median(cost.processor for cost in than):.2f} times" if than else ""
    print(f"{what:<24} {1000 * wall:7.0f} ms wall {1000 * processor:7.0f} ms processor{ratio}")


def main() -> None:
    as_installed()
    with tempfile.TemporaryDirectory() as name:
        program = Path(name) / "bare.py"
        program.write_text(BARE, "utf-8")
        bare, ours = [], []
        for _ in range(TURNS):
            bare.append(cost_of([sys.executable, str(program), "--help"]))
            ours.append(cost_of([sys.executable, "-m", "sitegen", "--help"]))
        told("a bare program", bare)
        told("sitegen --help", ours, bare)
        content = write_collection(Path(name) / "content", 300)
        young = sorted(path.parent.name for path in content.glob("litters/*/litter.yaml"))[-1]
        for command in (["odds", "f00000", "f00002"], ["why", f"{young}/02"]):
            whole = [sys.executable, "-m", "sitegen", *command, "--content", str(content)]
            told(f"sitegen {command[0]}", [cost_of(whole) for _ in range(5)])


if __name__ == "__main__":
    main()
