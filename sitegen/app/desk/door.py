"""Lets one phone in for one day: a code that is shown at the computer and typed once, then a key that the phone keeps.

Codes are few, so hardly any can be tried: each wrong one is followed by a longer pause, and the fifth ends the code.
All is kept in memory alone; a desk that is started anew knows no key.
"""

import datetime as dt
import hmac
import secrets
import threading
from collections.abc import Callable
from enum import StrEnum

from sitegen.render.drawings import QUIET, dark_path, matrix

MOST_WRONG = 5


class Came(StrEnum):
    """What came of a code that was typed on a phone."""

    IN = "in"
    WRONG = "wrong"
    TOO_SOON = "too soon"
    NO_CODE = "no code"


class Door:
    """Whom the desk lets in from the network.

    Attributes:
        address: What the phone opens.
    """

    def __init__(self, now: Callable[[], dt.datetime]) -> None:
        """Make the first code; ``now`` is asked for pauses and for the end of the day."""
        self.address, self._now = "", now
        self._alone = threading.Lock()
        self.make_code()

    def make_code(self) -> None:
        """Make a new code; a phone that was let in before is out."""
        with self._alone:
            self._code, self._key = f"{secrets.randbelow(1_000_000):06}", ""
            self._n_wrong, self._not_before = 0, self._now()
            self._day = self._now().date()

    def shut(self) -> None:
        """Let nobody in, and who is in out."""
        with self._alone:
            self._code = self._key = ""

    @property
    def code(self) -> str:
        """The code that lets somebody in now; empty where none does."""
        return self._code if self._is_today() else ""

    @property
    def spaced_code(self) -> str:
        """The code as one reads it out."""
        return f"{self.code[:3]} {self.code[3:]}".strip()

    @property
    def square(self) -> tuple[str, int]:
        """The address as a square that a phone's camera reads: the path of its dark parts, and its width."""
        rows = matrix(self.address)
        return dark_path(rows), len(rows) + 2 * QUIET

    @property
    def is_used(self) -> bool:
        """Whether a phone was let in and still is."""
        return bool(self._key) and self._is_today()

    def try_code(self, typed: str) -> tuple[Came, str]:
        """What comes of a code, and the phone's key when it is the right one."""
        with self._alone:
            if not self.code:
                return Came.NO_CODE, ""
            if self._now() < self._not_before:
                return Came.TOO_SOON, ""  # not even looked at, so that nothing is learned by haste
            if hmac.compare_digest("".join(typed.split()).encode(), self._code.encode()):
                self._code, self._key = "", secrets.token_urlsafe(32)
                return Came.IN, self._key
            self._n_wrong += 1
            self._not_before = self._now() + dt.timedelta(seconds=2**self._n_wrong)
            if self._n_wrong == MOST_WRONG:
                self._code = ""
                return Came.NO_CODE, ""
            return Came.WRONG, ""

    def knows(self, key: str) -> bool:
        """Tell whether this is the key of the phone that is in."""
        return self.is_used and hmac.compare_digest(key.encode(), self._key.encode())

    def seconds_left(self) -> int:
        """Until the day, and with it the key, is over."""
        now = self._now()
        midnight = dt.datetime.combine(now.date() + dt.timedelta(days=1), dt.time(), now.tzinfo)
        return int((midnight - now).total_seconds())

    def _is_today(self) -> bool:
        return self._day == self._now().date()
