"""The command line on one day, whatever the clock of the computer says: ``python tests/on_a_day.py build``."""

import datetime as dt
import sys
from pathlib import Path

DAY = dt.date(2026, 11, 29)
SITEGEN = [sys.executable, str(Path(__file__).resolve())]
"""What starts ``sitegen`` on that day, as a process."""


def _on_that_day() -> None:
    from sitegen.app.commands import options  # noqa: PLC0415 - as late as the program itself imports it

    options.clock = lambda: DAY
    _main()


if __name__ == "__main__":
    from sitegen import __main__ as program

    _main = program.run
    program.run = _on_that_day
    program.main()
