"""Few fixtures, shared by all tests."""

import fcntl
import os
import shutil
import signal
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import DAY, built
from hypothesis import settings

# In CI the same examples every time: a change is judged by what it changed. Elsewhere new ones are tried each run. None
# fails for being slow: that hangs on what else the machine does, and benchmarks are there for it.
settings.register_profile("everywhere", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "everywhere")

# What a script starts in the background ignores an interrupt, and so would every program that the tests start.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

REPOSITORY = Path(__file__).parent.parent
os.environ.setdefault("SITEGEN_CACHE", str(REPOSITORY / ".cache"))  # pictures of the demo take long; nothing of home


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--rewrite-expected", action="store_true", help="Write expected text files anew, for review.")


@pytest.fixture(scope="session", autouse=True)
def _one_day() -> None:
    """Commands that are run within the tests take it for one day, whatever the clock of the computer says."""
    from sitegen.app.commands import options  # noqa: PLC0415 - as below

    options.clock = lambda: DAY


@pytest.fixture(scope="session", autouse=True)
def _own_undo_record(tmp_path_factory: pytest.TempPathFactory) -> None:
    """What the tests change is noted in a folder of theirs; nothing of home."""
    os.environ["SITEGEN_UNDO"] = str(tmp_path_factory.mktemp("undo"))


@pytest.fixture
def content(tmp_path: Path) -> Callable[[str], Path]:
    """Write several files from one text (``=== path`` before each) and give the content folder."""

    def write(text: str) -> Path:
        site = "" if "=== site.yaml" in text else "=== site.yaml\nname: Small\n"
        return write_files(tmp_path / "content", site + text)

    return write


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, Callable[[Path], None]], Path]:
    """Make what takes long in a folder once a run, for all of its processes: whoever comes first makes it."""
    root = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        root = root.parent  # that of the whole run, in which each process has its own

    def once(name: str, make: Callable[[Path], None]) -> Path:
        folder, made = root / name, root / f"{name}-made"
        with (root / f"{name}-lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not made.exists():
                shutil.rmtree(folder, ignore_errors=True)  # of a process that failed half way
                folder.mkdir()
                make(folder)
                made.touch()
        return folder

    return once


@pytest.fixture(scope="session")
def demo(made_once: Callable[[str, Callable[[Path], None]], Path]) -> Path:
    """The demo site; it is not to be changed."""
    made = made_once("demo", lambda folder: built(REPOSITORY / "content", folder / "output", REPOSITORY / "themes"))
    return made / "output"
