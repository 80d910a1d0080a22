"""When a share of drawn plans agrees with an exact chance."""

import math
from fractions import Fraction

ERRORS = 4
"""Standard errors that a drawn share may be off. Seeds are fixed, so that a right program passes always or never."""


def near(share: Fraction, exact: Fraction, draws: int) -> bool:
    """Whether a share of so many draws lies within four standard errors of its chance; none and all only exactly."""
    if exact in (0, 1):
        return share == exact
    return abs(share - exact) <= ERRORS * math.sqrt(exact * (1 - exact) / draws)
