"""Questions on a terminal."""

import os
import pty
import select
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from helpers.keeping import record
from helpers.program import SITEGEN


def at_terminal(folder: Path, words: Sequence[str], answers: Sequence[str]) -> tuple[int, str]:
    """What is shown when somebody sits there and types the answers."""
    try:
        pid, terminal = pty.fork()
    except OSError as none_left:
        pytest.skip(f"no terminal can be made on this machine: {none_left}")
    if pid == 0:  # pragma: no cover - another process
        os.chdir(folder)
        os.execv(sys.executable, [*SITEGEN, *words])
    shown, left = b"", list(answers)
    while select.select([terminal], [], [], 30)[0]:
        try:
            read = os.read(terminal, 4096)
        except OSError:
            break
        if not read:
            break
        shown += read
        if left and shown.endswith((b"? ", b": ")):
            os.write(terminal, f"{left.pop(0)}\n".encode())
    os.close(terminal)
    _, status = os.waitpid(pid, 0)
    assert not left
    return os.waitstatus_to_exitcode(status), shown.decode()


def test_questions_are_asked_again_until_the_answer_can_be_used(tmp_path: Path) -> None:
    answers = ["Mine", "cor", "corn-snak", "corn-snake", "EURO", "EUR", "me", "", "Here"]
    status, shown = at_terminal(tmp_path, ["start", "mine"], answers)
    assert status == 0, shown
    assert shown.count("nearest: corn-snake") == 2
    assert "an address such as you@example.org" in shown
    answers = [
        "Hazel",
        "femal",
        "female",
        "14.7.2021",
        "2021-07-14",
        "?",
        "amle",
        "amel",
        "",
        "",
        "?",
        "anrey=1/2",
        "anery=1/2",
    ]
    status, shown = at_terminal(tmp_path / "mine", ["add", "animal"], answers)
    assert status == 0, shown
    assert "motley, stripe, striped-motley, tessera" in shown
    assert "amel, ultra, anery" in shown
    assert record(tmp_path / "mine", "animals/hazel/animal.yaml").splitlines()[1:] == [
        "name: Hazel", "species: corn-snake", "sex: female", "born: 2021-07-14", "shows: [amel]",
        "stated: {anery: 1/2}",
    ]  # fmt: skip
    status, shown = at_terminal(tmp_path / "mine", ["add", "weight"], ["hazle", "hazel", "310g"])
    assert status == 0, shown
