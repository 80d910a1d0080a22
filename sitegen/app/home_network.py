"""The address of this machine on the network at home, found without sending anything."""

import socket
from collections.abc import Iterator
from contextlib import suppress

from sitegen.app.loopback import AT_HOME
from sitegen.findings import WrongUse

_OUTSIDE = ("192.0.2.1", "192.168.0.1", "192.168.1.1", "10.0.0.1", "172.16.0.1", "169.254.0.1", "fd00::1")
"""Where one might send something: the system then says from which of its own addresses."""


def home_address() -> str:
    """An address that only the network at home reaches.

    Raises:
        WrongUse: There is none.
    """
    found = [*_own_addresses()]
    if own := next((each for each in found if AT_HOME.allow(each)), ""):
        return own
    if found:
        raise WrongUse(f"the address of this computer ({found[0]}) is not one of a home network; --phone needs one")
    raise WrongUse("this computer is on no network; --phone needs the one at home")


def _own_addresses() -> Iterator[str]:
    for there in _OUTSIDE:
        family = socket.AF_INET6 if ":" in there else socket.AF_INET
        with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as line:
            line.connect((there, 9))  # of datagrams this only chooses a way
            yield str(line.getsockname()[0])
