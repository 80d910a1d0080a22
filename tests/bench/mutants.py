"""Does a test fail when the program is wrong? One small change at a time: ``python tests/bench/mutants.py MODULE ...``.

Each change (a mutant) is made in a copy of the running program, never in a file: the tests are collected and run once,
noting which lines each of them reaches; then, for each mutant, a child process swaps the changed function in and runs
the tests that reach its line, the quickest first, until one fails. A change outside of functions is imported anew.

Which changes there are stands in ``mutations.py``.
Property tests try few examples, and slow tests are left out; what survives can be tried again with more of both
(``--only LOG --fresh --examples 60 --seconds 60``).

A mutant is killed when a test fails, or when it needs ten times the processor time of its tests.
"""

import argparse
import gc
import importlib.machinery
import importlib.util
import json
import os
import random
import resource
import signal
import sys
import time
from collections.abc import Iterator
from functools import _lru_cache_wrapper
from itertools import accumulate
from pathlib import Path
from types import CodeType, FrameType, FunctionType

import pytest
from hypothesis import HealthCheck, Phase, settings
from mutations import REPOSITORY, Mutant, mutants_of

TESTS = (
    *(f"tests/unit/{floor}" for floor in ("genetics", "evidence")),
    "tests/unit/evidence/test_pairings.py",
    "tests/unit/plans/test_unknown_sire_ties_loci.py",
    *(f"tests/unit/words/test_{words}.py" for words in ("reasons", "claims", "buying", "changes", "relations")),
    *(
        f"tests/outside/test_{truths}.py"
        for truths in ("posteriors", "posteriors_ratios", "inbreeding", "how_many_young")
    ),
    "tests/laws/test_drawing_equals_enumeration.py",
    "tests/laws/test_inference_equals_enumeration.py",
    "tests/laws/test_inference_is_indifferent.py",
    "tests/laws/test_kinship_is_the_mean_over_sires.py",
    "tests/laws/test_pairings_are_planned_young.py",
    "tests/laws/test_reasons_matter.py",
    "tests/laws/test_whose_word.py",
)
SLOWEST = 1.5
"""Seconds of processor time of a test that is still used."""
FEW = 8
PLAIN = ("-s", "-p", "no:cacheprovider", "-p", "no:xdist", "-W", "ignore::pytest.PytestAssertRewriteWarning")
TIMES_SLOWER = 10


def _codes(code: CodeType) -> Iterator[CodeType]:
    yield code
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from _codes(inner)


def swap_in(mutant: Mutant) -> None:
    """Change the running program: the functions with code on the mutant's line get the changed code."""
    file = str(REPOSITORY / mutant.path)
    new = {(code.co_qualname, code.co_firstlineno): code for code in _codes(mutant.code())}
    for own in gc.get_objects():
        if isinstance(own, FunctionType) and own.__code__.co_filename == file:
            code = own.__code__
            own.__code__ = new.get((code.co_qualname, code.co_firstlineno), code)
        elif isinstance(own, _lru_cache_wrapper):
            own.cache_clear()


class _Changed(importlib.machinery.SourceFileLoader):
    """Imports one module as the mutant has it."""

    mutant: Mutant

    def get_code(self, fullname: str) -> CodeType:
        return self.mutant.code()


class _Finder:
    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant
        self.module = mutant.path.removesuffix(".py").replace("/", ".")

    def find_spec(self, fullname: str, path: object = None, target: object = None) -> object:
        if fullname != self.module:
            return None
        loader = _Changed(fullname, str(REPOSITORY / self.mutant.path))
        loader.mutant = self.mutant
        return importlib.util.spec_from_file_location(fullname, loader.path, loader=loader)


def _too_slow(number: int, frame: FrameType | None) -> None:
    raise TimeoutError


class Runner:
    """A pytest plugin that runs the tests once as they are and then over the mutants."""

    def __init__(self, mutants: list[Mutant], log: Path, examples: int, fresh: bool, most_seconds: float) -> None:
        self.mutants, self.log, self.examples, self.fresh = mutants, log, examples, fresh
        self.most_seconds = most_seconds
        self.files = {str(REPOSITORY / mutant.path) for mutant in mutants}
        self.reached: dict[str, set[tuple[str, int]]] = {}
        self.seconds: dict[str, float] = {}
        self.failed = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed = self.failed or report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = [item for item in session.items if "demo" not in getattr(item, "fixturenames", ())]
        for item in items:
            self._limit_examples(item)
        usable = [item for item in items if self._runs(item)]
        print(f"{len(usable)} tests of {len(items)}, {sum(self.seconds.values()):.0f} s", flush=True)
        killed = 0
        for number, mutant in enumerate(self.mutants, start=1):
            reaching = self._reaching(mutant, usable)
            outcome = self._tried(mutant, reaching)
            killed += outcome != "survived"
            with self.log.open("a") as log:
                log.write(json.dumps({"mutant": mutant.name, "outcome": outcome, "tests": len(reaching)}) + "\n")
            if outcome == "survived":
                print(f"survived ({len(reaching)} tests) {mutant.name}", flush=True)
            if number % 50 == 0 or number == len(self.mutants):
                print(f"{killed} of {number} killed, {len(self.mutants)} in all", flush=True)
        return True

    def _limit_examples(self, item: pytest.Item) -> None:
        function = getattr(item, "obj", None)
        own = getattr(function, "_hypothesis_internal_use_settings", None)
        if own is not None:
            limited = settings(
                own, max_examples=min(own.max_examples, self.examples), derandomize=True, database=None, deadline=None,
                phases=(Phase.explicit, Phase.generate), suppress_health_check=list(HealthCheck),
            )  # fmt: skip
            getattr(function, "__func__", function)._hypothesis_internal_use_settings = limited

    def _runs(self, item: pytest.Item) -> bool:
        """Run a test as it is, noting the lines; False when it fails, is slow, or reaches none."""
        reached: set[tuple[str, int]] = set()
        lines: dict[CodeType, set[int]] = {}

        def begin(frame: FrameType, event: str, argument: object) -> object:
            code = frame.f_code
            if code.co_filename not in self.files:
                return None
            open_ = lines.get(code)
            if open_ is None:
                open_ = lines[code] = {line for _, _, line in code.co_lines() if line}
            reached.add((code.co_filename, code.co_firstlineno))
            return within if open_ else None

        def within(frame: FrameType, event: str, argument: object) -> object:
            if event == "line":
                reached.add((frame.f_code.co_filename, frame.f_lineno))
                lines[frame.f_code].discard(frame.f_lineno)
            return within

        self.failed = False
        start = time.process_time()
        signal.signal(signal.SIGPROF, _too_slow)
        signal.setitimer(signal.ITIMER_PROF, 2 * SLOWEST)
        sys.settrace(begin)  # type: ignore[arg-type]
        try:
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
        finally:
            sys.settrace(None)
            signal.setitimer(signal.ITIMER_PROF, 0)
        self.seconds[item.nodeid] = time.process_time() - start
        self.reached[item.nodeid] = reached
        if self.failed:
            print(f"fails or is too slow as it is: {item.nodeid}", flush=True)
        return bool(reached) and not self.failed and self.seconds[item.nodeid] < SLOWEST

    def _reaching(self, mutant: Mutant, items: list[pytest.Item]) -> list[pytest.Item]:
        file = str(REPOSITORY / mutant.path)
        if mutant.function:
            places = {(file, line) for line in range(mutant.line, mutant.last_line + 1)}
            found = [item for item in items if places & self.reached[item.nodeid]]
        else:
            found = [item for item in items if any(path == file for path, _ in self.reached[item.nodeid])]
        own = "/".join(("unit", *Path(mutant.path).parts[1:-1], f"test_{Path(mutant.path).name}"))
        found.sort(key=lambda item: (own not in item.nodeid, self.seconds[item.nodeid]))
        spent = accumulate(0 if own in item.nodeid else self.seconds[item.nodeid] for item in found)
        return [item for item, seconds in zip(found, spent, strict=True) if seconds < self.most_seconds]

    def _tried(self, mutant: Mutant, items: list[pytest.Item]) -> str:
        usual = sum(self.seconds[item.nodeid] for item in items)
        sys.stdout.flush()
        child = os.fork()
        if not child:
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, 1)
            os.dup2(nowhere, 2)
            signal.signal(signal.SIGPROF, signal.SIG_DFL)
            signal.setitimer(signal.ITIMER_PROF, 3 + TIMES_SLOWER * usual)
            here = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
            resource.setrlimit(resource.RLIMIT_AS, (here + 2**30,) * 2)
            try:
                os._exit(
                    self._imported(mutant, items) if self.fresh or not mutant.function else self._swapped(mutant, items)
                )
            except BaseException:
                os._exit(1)
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return "too slow"
        return "killed" if os.WEXITSTATUS(status) else "survived"

    def _swapped(self, mutant: Mutant, items: list[pytest.Item]) -> int:
        swap_in(mutant)
        self.failed = False
        for item in items:
            signal.setitimer(signal.ITIMER_PROF, 1 + TIMES_SLOWER * self.seconds[item.nodeid])
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
            if self.failed:
                return 1
        return 0

    def _imported(self, mutant: Mutant, items: list[pytest.Item]) -> int:
        ours = str(REPOSITORY / "tests"), str(REPOSITORY / "sitegen")
        for name, module in list(sys.modules.items()):
            if str(getattr(module, "__file__", None) or "").startswith(ours) and name != "__main__":
                del sys.modules[name]
        sys.meta_path.insert(0, _Finder(mutant))  # type: ignore[arg-type]
        limits = _Limits(self.examples)
        return int(pytest.main(["-x", *PLAIN, *(item.nodeid for item in items)], [limits]))


class _Limits:
    """For tests that are imported anew: few examples."""

    def __init__(self, examples: int) -> None:
        self.examples = examples

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        for item in items:
            Runner._limit_examples(self, item)  # type: ignore[arg-type]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("modules", nargs="+", help="files or folders below the repository")
    parser.add_argument("--sample", type=int, default=0, help="so many of each module, drawn at random; 0 for all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", help="a log: only what survived there")
    parser.add_argument("--go-on", action="store_true", help="leave out what stands in the log already")
    parser.add_argument("--fresh", action="store_true", help="import everything anew for each mutant; slower")
    parser.add_argument("--examples", type=int, default=FEW)
    parser.add_argument("--seconds", type=float, default=5.0, help="of tests for one mutant, at most")
    parser.add_argument("--tests", nargs="*", default=[test for test in TESTS if (REPOSITORY / test).exists()])
    parser.add_argument("--log", type=Path, default=Path("mutants.jsonl"))
    given = parser.parse_args()
    os.chdir(REPOSITORY)
    paths = [
        str(file.relative_to(REPOSITORY))
        for module in given.modules
        for file in (
            sorted((REPOSITORY / module).glob("*.py")) if (REPOSITORY / module).is_dir() else [REPOSITORY / module]
        )
    ]
    dice = random.Random(given.seed)
    chosen: list[Mutant] = []
    for path in paths:
        mutants = mutants_of(path)
        print(f"{path}: {len(mutants)}")
        chosen += dice.sample(mutants, min(len(mutants), given.sample or len(mutants)))
    dice.shuffle(chosen)
    if given.only:
        wanted = {
            entry["mutant"]
            for entry in map(json.loads, Path(given.only).read_text().splitlines())
            if entry["outcome"] == "survived"
        }
        chosen = [mutant for mutant in chosen if mutant.name in wanted]
    if given.go_on and given.log.exists():
        done = {json.loads(line)["mutant"] for line in given.log.read_text().splitlines()}
        chosen = [mutant for mutant in chosen if mutant.name not in done]
    sys.path.insert(0, str(REPOSITORY))
    pytest.main(
        [*PLAIN, "-qq", "--tb=no", *given.tests],
        [Runner(chosen, given.log, given.examples, given.fresh, given.seconds)],
    )


if __name__ == "__main__":
    main()
