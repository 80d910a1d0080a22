"""One preview from beginning to end: serve, watch, make anew, tell."""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.app.preview.server import PreviewServer
from sitegen.app.preview.watching import changes
from sitegen.app.preview.workshop import State, Workshop

Tell = Callable[[State, float], None]
"""Told of each state, and the seconds that it took."""


@dataclass(slots=True)
class Session:
    """Runs until it is stopped.

    Attributes:
        workshop: Makes the states.
        server: Shows them.
        tell: Told of every state that stays.
        stop: Ends the session when it is set.
    """

    workshop: Workshop
    server: PreviewServer
    tell: Tell
    stop: threading.Event = field(default_factory=threading.Event)

    def run(self) -> None:
        """Serve and follow the changes until ``stop`` is set or an interrupt comes. The first state is made before."""
        serving = threading.Thread(target=self.server.serve_forever, args=(0.1,), daemon=True)
        serving.start()
        try:
            for changed in changes(self._folders(), self.stop):
                if not changed or self._concerns(changed):  # nothing: whatever the system forgot to tell is found now
                    self._remake()
        finally:
            self.stop.set()
            self.workshop.close()
            self.server.shutdown()
            self.server.server_close()

    def _folders(self) -> list[Path]:
        """What is watched, as the system names it."""
        order = self.workshop.order
        return [order.content.absolute(), order.themes.absolute()]

    def _concerns(self, changed: frozenset[Path]) -> bool:
        """False when only files changed that editors keep for themselves."""
        return any(not (path.name.startswith((".", "~$")) or path.name.endswith("~")) for path in changed)

    def _remake(self) -> None:
        started, before = time.perf_counter(), self.workshop.state
        state = self.workshop.remake()
        if state is not before:
            self.tell(state, time.perf_counter() - started)
