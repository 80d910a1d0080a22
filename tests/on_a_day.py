"""The command line on one day, whatever the clock of the computer says: ``python tests/on_a_day.py build``."""

import datetime as dt
import sys
from pathlib import Path

DAY = dt.date(2026, 11, 29)
SITEGEN = [sys.executable, str(Path(__file__).resolve())]
"""What starts ``sitegen`` on that day, as a process."""

if __name__ == "__main__":
    from sitegen.commands import main, options

    options.clock = lambda: DAY
    main()
