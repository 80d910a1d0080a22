"""The command line on one day, whatever the clock of the computer says, and a small collection to try it on.

``run`` calls it within the test's own process; ``python tests/helpers/program.py build`` starts it as one of its own.
"""

import contextlib
import datetime as dt
import io
import subprocess
import sys
from pathlib import Path

DAY = dt.date(2026, 11, 29)
SITEGEN = [sys.executable, str(Path(__file__).resolve())]
"""What starts ``sitegen`` on that day, as a process of its own."""

SMALL = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {low: 1, usual: 6, high: 28}
breeding_age: {female: 30 months, male: 18 months}
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
combinations:
  snow: [amel, anery]
=== animals/dam/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {amel: certain}
=== animals/sire/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: []
stated: {amel: certain}
=== litters/2022-a/litter.yaml
dam: dam
sire: sire
born: 2022-07-01
young:
  "01": {sex: female, shows: []}
  "02": {sex: male, shows: [amel]}
"""


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The command within this process, as if in a folder, with nobody at a terminal.

    A process of its own takes half a second more to begin: only for tests of signals, of crashes and of the start.
    """
    from sitegen.app.commands import main  # noqa: PLC0415 - the program is not started by what it is started with

    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True) for _ in range(2))
    status = 0
    usual, sys.stdin = sys.stdin, io.StringIO()
    try:
        with contextlib.chdir(folder), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            main(list(words))
    except SystemExit as ended:
        status = int(ended.code or 0)
    finally:
        sys.stdin = usual
    told, said = (stream.buffer.getvalue().decode("utf-8") for stream in (out, err))  # type: ignore[attr-defined]
    return subprocess.CompletedProcess(list(words), status, told, said)


def built(content: Path, output: Path, themes: Path) -> None:
    """Make a site; it is a mistake of the test when nothing comes of it."""
    from sitegen.build import Order, build  # noqa: PLC0415 - as above

    report = build(Order(content=content, output=output, themes=themes))
    assert report.published is not None, [str(finding) for finding in report.findings]


def run_as_process(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own, ended when it takes two minutes."""
    return subprocess.run([*SITEGEN, *words], cwd=folder, capture_output=True, text=True, timeout=120, check=False)


def _on_that_day() -> None:
    from sitegen.app.commands import options  # noqa: PLC0415 - as late as the program itself imports it

    options.clock = lambda: DAY
    _main()


if __name__ == "__main__":
    from sitegen import __main__ as program

    _main = program.run
    program.run = _on_that_day
    program.main()
