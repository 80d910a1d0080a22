"""How long the history of a collection takes: ``python tests/bench/history.py [ANIMALS ...]``. Never asserted.

The demo, and neutral collections of many records; processor time, in one process.
"""

import sys
import tempfile
from itertools import pairwise
from pathlib import Path
from time import process_time

from many_records import write_collection

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY)]

from sitegen.evidence.answers import read_known  # noqa: E402 - the path is set above, so that it runs by hand
from sitegen.site.material import told_changes  # noqa: E402

SIZES = (100, 300, 1_000)


def measure(name: str, content: Path) -> None:
    """Reading and today's answers, then the replay with what is told of it."""
    times = [process_time()]
    known, findings = read_known(content)
    assert known is not None, findings
    times.append(process_time())
    changes = dict(told_changes(known.collection, {}))
    times.append(process_time())
    today, replayed = (end - start for start, end in pairwise(times))
    days = len({change.day for told in changes.values() for change in told})
    size = f"{name}, {len(known.collection.animals)} animals"
    print(f"{size}: today {today:.2f} s; {sum(map(len, changes.values()))} changes on {days} days {replayed:.2f} s")


if __name__ == "__main__":
    measure("demo", REPOSITORY / "content")
    for n_animals in [int(word) for word in sys.argv[1:]] or SIZES:
        with tempfile.TemporaryDirectory() as name:
            measure("many records", write_collection(Path(name), n_animals))
