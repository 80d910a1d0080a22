"""Weights in the limit in which what nobody wrote becomes ever rarer: only the likeliest explanation is left.

A weight ``c * e**k`` with e going to 0 is kept as its order k and its coefficient c. A product adds the orders. A sum
keeps the lowest order: all weights are positive, so nothing can cancel, and whatever has a higher order vanishes
beside it. So tables of such weights go through the same products, sums and sweeps as tables of whole numbers, and the
chances that come out are the limits of those for small e, exactly.

Source: definition (leading terms of polynomials with positive coefficients are closed under product and sum).
"""

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import cast


class Lowest:
    """``amount * e**order``, with ``amount`` above 0; the weight 0 is the plain number 0, and any other has order 0.

    To the elimination it is a whole number: :data:`LIMIT` is declared as one, so that tables need no second type.
    """

    __slots__ = ("amount", "order")

    def __init__(self, order: int, amount: int | Fraction = 1) -> None:
        self.order = order
        self.amount = amount

    def __repr__(self) -> str:
        return f"{self.amount}*e^{self.order}"

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Lowest):
            return (self.order, self.amount) == (other.order, other.amount)
        return self.order == 0 and self.amount == other

    def __hash__(self) -> int:
        return hash((self.order, self.amount)) if self.order else hash(self.amount)

    def __index__(self) -> int:
        """The coefficient, for the common divisor of a table: orders are not divided."""
        return int(self.amount)

    @property
    def denominator(self) -> int:
        """That of the coefficient."""
        return self.amount.denominator

    def __add__(self, other: "int | Fraction | Lowest") -> "Lowest":
        if not other:
            return self
        order = order_of(other)
        if order == self.order:
            return Lowest(order, self.amount + _amount_of(other))
        return self if self.order < order else Lowest(order, _amount_of(other))

    __radd__ = __add__

    def __mul__(self, other: "int | Fraction | Lowest") -> "Lowest | int":
        if not other:
            return 0
        return Lowest(self.order + order_of(other), self.amount * _amount_of(other))

    __rmul__ = __mul__

    def __truediv__(self, other: "int | Fraction | Lowest") -> "Lowest":
        return Lowest(self.order - order_of(other), Fraction(self.amount) / _amount_of(other))

    def __floordiv__(self, other: "int | Fraction | Lowest") -> "Lowest":
        return Lowest(self.order - order_of(other), self.amount // _amount_of(other))

    def __rfloordiv__(self, other: "int | Fraction") -> "Lowest | int":
        return Lowest(-self.order, other // self.amount) if other else 0

    def __pow__(self, n: int) -> "Lowest":
        return Lowest(self.order * n, self.amount**n)


LIMIT = cast("Fraction", Lowest(1))
"""The chance of a copy that nobody wrote, on one chromosome, as it goes to 0."""


def order_of(weight: "int | Fraction | Lowest") -> int:
    """How many unwritten copies a weight above 0 stands for."""
    return weight.order if isinstance(weight, Lowest) else 0


def _amount_of(weight: "int | Fraction | Lowest") -> int | Fraction:
    return weight.amount if isinstance(weight, Lowest) else weight


def leading(weights: Sequence[int]) -> Sequence[int]:
    """Coefficients of the weights of lowest order, 0 for all others: what is left of them in the limit."""
    if Lowest not in map(type, weights):
        return weights
    lowest = min(order_of(weight) for weight in weights if weight)
    return [int(weight) if weight and order_of(weight) == lowest else 0 for weight in weights]


def in_least_numbers(weights: Sequence[int]) -> list[int]:
    """The same ratios with the least whole coefficients and orders."""
    divisor = math.gcd(*weights) or 1
    lowest = min(order_of(weight) for weight in weights if weight)
    shared = cast("int", Lowest(lowest, divisor))
    return [weight // shared if weight else 0 for weight in weights]


def times_whole(weights: Sequence[Fraction], denominator: int) -> list[int]:
    """The weights times a common denominator, with whole coefficients."""
    return [
        cast("int", Lowest(weight.order, int(weight.amount * denominator)))
        if isinstance(weight, Lowest)
        else int(weight * denominator)
        for weight in weights
    ]
