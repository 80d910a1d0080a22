"""The desk in a process of its own: it tells a phone's way in, and ends when its terminal goes away."""

import http.client
import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL

from sitegen.app import home_network
from sitegen.app.home_network import home_address
from sitegen.findings import WrongUse

pytestmark = pytest.mark.slow

ON_ANY_MACHINE = """
import sys
sys.path[:0] = [{tests!r}]
from dataclasses import replace
from helpers import program
from sitegen.app import home_network, loopback
home_network.home_address = lambda: "127.0.0.2"
loopback.AT_HOME = replace(loopback.AT_HOME, networks=("127.0.0.0/8",))
from sitegen import __main__
__main__.main()
"""
"""The program on a machine that may be on no network: 127.0.0.2 stands for its address at home."""


def desk(*words: str) -> list[str]:
    code = ON_ANY_MACHINE.format(tests=str(Path(__file__).parents[1]))
    return [sys.executable, "-c", code, "desk", "--port", "0", *words]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_files(tmp_path / "content", SMALL)
    return tmp_path


def lines_until(stream: int, words: str, seconds: float = 60) -> str:
    """What is told up to these words."""
    told, until = "", time.monotonic() + seconds
    while words not in told and time.monotonic() < until:
        if select.select([stream], [], [], 1)[0]:
            try:
                part = os.read(stream, 65536)
            except OSError:  # the other end of a terminal is gone
                break
            if not part:
                break
            told += part.decode()
    assert words in told, told
    return told


def status(address: str, path: str = "/") -> int:
    line = http.client.HTTPConnection(*address.removeprefix("http://").rstrip("/").split(":"), timeout=20)  # type: ignore[arg-type]
    line.request("GET", path)
    return line.getresponse().status


@pytest.mark.parametrize("sign", [signal.SIGHUP, signal.SIGTERM, signal.SIGINT])
def test_a_signal_ends_it_and_both_addresses(folder: Path, sign: signal.Signals) -> None:
    with subprocess.Popen(desk("--phone"), cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout
        assert running.stderr
        told = lines_until(running.stdout.fileno(), "network only.")
        own, at_home = re.findall(r"http://[\d.]+:\d+/", told)
        assert re.search(r"for one phone and this day: \d{3} \d{3}\n", told)
        assert "not encrypted" in told
        assert "\u2588" not in told  # no square in a pipe
        assert (status(own), status(at_home)) == (200, 403)
        running.send_signal(sign)
        assert running.wait(30) == 0
        assert running.stderr.read() == b"The desk is closed.\n"
    for address in (own, at_home):
        with pytest.raises(OSError, match="refused"):
            status(address)


def test_closing_the_window_of_the_terminal_ends_it(folder: Path) -> None:
    child, terminal = pty.fork()
    if not child:
        os.chdir(folder)
        os.environ["TERM"] = "xterm"
        os.execv(sys.executable, desk("--phone"))
    told = lines_until(terminal, "network only.")
    assert "\u2588\u2588" in told  # the square for the camera
    own = re.search(r"http://127.0.0.1:\d+/", told)
    assert own
    assert status(own[0]) == 200
    os.close(terminal)
    until = time.monotonic() + 30
    while not (found := os.waitpid(child, os.WNOHANG))[0] and time.monotonic() < until:
        time.sleep(0.05)
    if not found[0]:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    assert found == (child, 0)
    with pytest.raises(OSError, match="refused"):
        status(own[0])


def test_without_a_home_network_nothing_is_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    for own, words in ((["203.0.113.7", "2001:db8::7"], "203.0.113.7"), ([], "on no network")):
        monkeypatch.setattr(home_network, "_own_addresses", lambda own=own: iter(own))
        with pytest.raises(WrongUse, match=words):
            home_address()
    monkeypatch.setattr(home_network, "_own_addresses", lambda: iter(["203.0.113.7", "192.168.1.20"]))
    assert home_address() == "192.168.1.20"


def test_the_program_as_it_is_tells_why_a_phone_cannot_come_in_or_how(folder: Path) -> None:
    why_not = ""
    try:
        home_address()
    except WrongUse as error:
        why_not = str(error)
    with subprocess.Popen(
        [*SITEGEN, "desk", "--port", "0", "--phone"], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout
        assert running.stderr
        lines_until(*((running.stderr.fileno(), why_not) if why_not else (running.stdout.fileno(), "network only.")))
        running.send_signal(signal.SIGTERM)
        assert running.wait(60) == (2 if why_not else 0)
