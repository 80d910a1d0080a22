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


AS_A_CLASS_IS_MADE = """
import os, signal
import click
from sitegen import interrupts
from sitegen.app import commands

class Field:
    def __set_name__(self, owner, name):
        os.kill(os.getpid(), signal.SIGINT)
        for _ in range(1000):
            pass

def make_a_class(group, **options):
    type("Record", (), {"field": Field()})

interrupts.listen()
click.Group.main = make_a_class
commands.main()
"""


def test_an_interrupt_as_a_class_is_made_is_no_fault_of_ours() -> None:
    """Python turns what comes within ``__set_name__`` into a RuntimeError."""
    done = subprocess.run([sys.executable, "-c", AS_A_CLASS_IS_MADE], capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stderr) == (1, "Stopped. Nothing was changed.\n")
