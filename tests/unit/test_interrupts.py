"""An interrupt ends the command once, wherever it comes."""

import subprocess
import sys

IN_A_FINALIZER = """
import os, signal, sys, time
from sitegen import interrupts

class Closed:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGINT)
        for _ in range(1000):
            pass

interrupts.listen()
try:
    closed = Closed()
    del closed
    for _ in range(200):
        time.sleep(0.01)
    print("went on")
except KeyboardInterrupt:
    print("stopped")
"""
WITH_ANOTHER_FAULT = IN_A_FINALIZER.replace("os.kill(os.getpid(), signal.SIGINT)", "raise ValueError('ours')")


def test_an_interrupt_within_a_finalizer_is_not_forgotten() -> None:
    done = subprocess.run([sys.executable, "-c", IN_A_FINALIZER], capture_output=True, text=True, timeout=60)
    assert (done.stdout, done.stderr) == ("stopped\n", "")


def test_another_fault_there_is_shown_as_ever() -> None:
    done = subprocess.run([sys.executable, "-c", WITH_ANOTHER_FAULT], capture_output=True, text=True, timeout=60)
    assert done.stdout == "went on\n"
    assert "ValueError: ours" in done.stderr
