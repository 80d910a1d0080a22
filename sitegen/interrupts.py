"""An interrupt (Ctrl-C) or the wish of the system that we end: it ends the command once, and at no moment that hurts.

The first signal raises ``KeyboardInterrupt`` in the main thread; later ones are ignored, so that nothing disturbs the
tidying up. While signals are held back they are only noted. A contrast to ``try``/``finally`` alone, in which a second
signal, or one that comes as the ``finally`` begins, skips the rest.
"""

import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


class _State:
    """What this process was told so far."""

    held = False
    noted = False
    raised = False


def listen() -> None:
    """From now on SIGINT and SIGTERM end the command as described above."""
    if threading.current_thread() is not threading.main_thread():
        return
    _State.noted, _State.raised = False, False
    for number in (signal.SIGINT, signal.SIGTERM):
        if signal.getsignal(number) is not signal.SIG_IGN:  # whoever starts us in the background may not want it
            signal.signal(number, _told)
    signal.signal(signal.SIGALRM, _told)
    sys.unraisablehook = _raised_where_nothing_can_be


def _raised_where_nothing_can_be(unraisable: "sys.UnraisableHookArgs") -> None:
    """Raise an interrupt again that came within a finalizer or a callback of ``os.fork``.

    Python prints and forgets what is raised there: the command would go on as if nobody had asked it to end, below
    lines that look like a fault of ours. A timer, because what this function itself raises is forgotten as well.
    """
    if isinstance(unraisable.exc_value, KeyboardInterrupt):
        _State.raised = False
        signal.setitimer(signal.ITIMER_REAL, 0.001)
    else:
        sys.__unraisablehook__(unraisable)


def has_come() -> bool:
    """True when an interrupt was raised in this command, whatever became of it."""
    return _State.raised


def listen_no_more() -> None:
    """Ignore both: everything is done and told."""
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGALRM):
        signal.signal(number, signal.SIG_IGN)


def _told(number: int, frame: FrameType | None) -> None:
    if _State.held:
        _State.noted = True
    elif not _State.raised:
        _State.raised = True
        raise KeyboardInterrupt


@contextmanager
def held_back() -> Iterator[None]:
    """Within it a signal is noted, and raised at its end."""
    before, _State.held = _State.held, True
    try:
        yield
    finally:
        _State.held = before
    _raise_noted()


@contextmanager
def let_through() -> Iterator[None]:
    """Within it, inside of :func:`held_back`, a signal is raised at once."""
    _State.held = False
    try:
        _raise_noted()
        yield
    finally:
        _State.held = True


def _raise_noted() -> None:
    if _State.noted and not _State.held and not _State.raised:
        _State.raised = True
        raise KeyboardInterrupt
