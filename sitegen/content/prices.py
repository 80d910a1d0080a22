"""Offers, and prices as people write them."""

import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from typing import Any, ClassVar

from babel.numbers import get_currency_precision, get_currency_symbol, list_currencies

from sitegen.content.declaration import AsWritten, Leaf, Written, group_of, key_only, keyed
from sitegen.content.report import At, Report
from sitegen.content.values import DAY, TEXT, PartialDate, words_of
from sitegen.content.yaml_tree import Entries, Node, Scalar, is_blank
from sitegen.findings import Kind, Place


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency (ISO 4217 code)."""

    amount: Decimal
    currency: str


SIGNS = {"€": "EUR", "£": "GBP", "$": "$", "euro": "EUR", "euros": "EUR", "pound": "GBP", "pounds": "GBP",
         "dollar": "$", "dollars": "$"}  # fmt: skip
"""Signs and words of money, to the currency code; ``$`` is the sign of several, and is looked up later."""
_PRICE = re.compile(r"([A-Za-z]{2,7}|[€£$])?\s*(-?\d[\d., '\u2019\u00a0\u202f]*?)(?:[.,]-+)?\s*([A-Za-z]{2,7}|[€£$])?")
_GROUPED = re.compile(
    r"(-?\d{1,3})((?P<by>[., '\u2019\u00a0\u202f])\d{3}(?:(?P=by)\d{3})*)(?:(?!(?P=by))[.,](\d{1,2}))?"
)


def read_amount(node: Scalar, report: Report) -> tuple[Decimal, str] | None:
    """A price: an amount and its currency; the currency is empty when only the number is written.

    The cents may stand behind a comma, and thousands may be parted, where no other reading is possible: ``1,400`` is
    told. ``1.400`` is taken as it is, since some currencies have three digits behind the point.
    """
    text = node.text.strip()
    match = _PRICE.fullmatch(text)
    amount = _amount(match[2]) if match and not (match[1] and match[3]) else None
    unit = (match[1] or match[3] or "") if match else ""
    if amount is not None and (len(unit) < 5 or unit.lower() in SIGNS):
        return amount, SIGNS.get(unit.lower(), unit)
    number = match[2] if match else ""
    two = re.fullmatch(r"-?\d{1,3},\d{3}", number)
    report.error(
        Kind.PRICE_WRONG,
        node,
        f'"{text}" can be read in two ways: {number.replace(",", "")} or {number.replace(",", ".")}'
        if two
        else f'"{text}" is not a price',
        expected="an amount, or an amount and a currency code: 140 or 140 EUR",
        remedy="write thousands without a comma, and cents behind a point"
        if two
        else "write the currency as three capital letters, or once for all in site.yaml",
    )
    return None


def _amount(number: str) -> Decimal | None:
    """The number of a price; None where it is none, or where a comma may part thousands or a fraction."""
    if re.fullmatch(r"-?\d{1,12}(?:\.\d{1,6}|,\d{1,2})?", number):
        return Decimal(number.replace(",", "."))
    grouped = _GROUPED.fullmatch(number)
    if grouped is None or (grouped["by"] in ".," and len(grouped[2]) == 4 and not grouped[4]):
        return None
    whole = re.sub(r"\D", "", grouped[2])
    return Decimal(f"{grouped[1]}{whole}.{grouped[4] or 0}") if grouped[4] else Decimal(f"{grouped[1]}{whole}")


class OfferState(StrEnum):
    """Where an offer stands, in trade words."""

    AVAILABLE = "available"
    ON_HOLD = "on hold"
    SOLD = "sold"
    NOT_FOR_SALE = "not for sale"


STATE_WORDS = {"for sale": OfferState.AVAILABLE, "reserved": OfferState.ON_HOLD, "hold": OfferState.ON_HOLD,
               "nfs": OfferState.NOT_FOR_SALE}  # fmt: skip
"""How else the state of an offer is written."""
_AMOUNT = {"type": ["number", "string"]}
ASKED = AsWritten(
    {
        "oneOf": [
            _AMOUNT,
            {
                "additionalProperties": False,
                "properties": {"amount": _AMOUNT, "currency": {"type": "string"}},
                "required": ["amount"],
                "type": "object",
            },
        ]
    }
)
"""A price as it is written: an amount, an amount with a currency, or both by name."""


@dataclass(frozen=True, slots=True)
class Price:
    """A price in a currency of its own."""

    amount: ClassVar = key_only(Leaf(read_amount, "an amount", _AMOUNT), "The amount, in digits.", needed=True)
    currency: ClassVar = key_only(TEXT, "The currency, three capital letters (ISO 4217).")


PRICE = group_of(Price, "a price")


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """An animal offered for sale.

    Buyer and paid price never stand here.
    """

    place: Place
    state: OfferState = keyed(
        words_of(OfferState, also=STATE_WORDS),
        "available, on hold, sold or not for sale; available when it is left out.",
        usual=OfferState.AVAILABLE,
    )
    price: Money | None = keyed(ASKED, "The price: 140, 140 EUR, or {amount: 140, currency: EUR}.")
    since: PartialDate | None = keyed(DAY, "Since when the offer stands so.")
    ready: PartialDate | None = keyed(DAY, "The earliest day on which the animal may leave.")
    until: PartialDate | None = keyed(DAY, "The last day for which it is on hold; never published.")


OFFER = group_of(Offer, "an offer")


@lru_cache(maxsize=1)
def currencies() -> frozenset[str]:
    """Every currency code there is or was. Source: the Unicode locale data that Babel carries."""
    return frozenset(list_currencies())


def check_currency(written: At[str], report: Report) -> str:
    """The currency code in capitals; empty, and a finding, when there is no such currency."""
    code = SIGNS.get(written.value.lower(), written.value.upper())
    if code in currencies():
        return code
    report.error(
        Kind.PRICE_WRONG,
        written,
        f'"{written.value}" is not a currency code',
        expected="three capital letters of ISO 4217, such as EUR, GBP or USD",
        remedy="write the code of the currency",
    )
    return ""


def _dollars(currency: str | None) -> str:
    """The dollar that ``$`` means: that of site.yaml, else the one whose sign it is everywhere.

    Source: Unicode locale data, where other dollars are CA$, A$, NZ$ outside their own countries.
    """
    return currency if currency and get_currency_symbol(currency, locale="en").endswith("$") else "USD"


def bind_offer(form: Written | None, currency: str | None, report: Report) -> Offer | None:
    """The offer, if one is written.

    ``currency`` is that of site.yaml, for prices that name none; empty when it names none, None when what it says could
    not be read.
    """
    if form is None:
        return None
    _check_sale(form, report)
    return form.record(Offer, place=form.start, price=bind_price(form.price, currency, report))


def _check_sale(form: Written, report: Report) -> None:
    """Tells a sale without a date: what became known before it and what after it cannot be told apart."""
    if form.state and form.state.value is OfferState.SOLD and form.key("since") is None:
        report.notice(
            Kind.OFFER_UNDATED,
            form.state,
            "this offer is sold, and the day of the sale is not recorded",
            expected="since: the day it was sold, or since: unknown",
            remedy="add since",
        )


def bind_price(tree: Node | None, currency: str | None, report: Report) -> Money | None:
    """The price; None where none is written or it cannot be read. ``currency`` is as for an offer."""
    if tree is None or is_blank(tree):
        return None
    written: Any = None
    code: At[str] | None = None
    if isinstance(tree, Scalar):
        written = read_amount(tree, report)
    elif isinstance(tree, Entries):
        form = PRICE.read(tree, report)
        written, code = (form.amount.value, form.currency) if form else (None, None)
    else:
        report.error(
            Kind.PRICE_WRONG, tree, "a list is not a price", expected="140 or 140 EUR", remedy="write one price"
        )
    if written is None:
        return None
    amount, own = written
    if code and own and SIGNS.get(code.value.lower(), code.value.upper()) != own.upper():
        report.error(
            Kind.PRICE_WRONG,
            code,
            f"the amount is in {own}, and the currency is {code.value}",
            expected="one currency",
            remedy="delete the one that is wrong",
        )
        return None
    named = code or (At(own, tree.place, tree.width) if own else None)
    chosen = (
        _dollars(currency) if named and named.value == "$" else check_currency(named, report) if named else currency
    )
    if chosen == "":
        if named is None:
            _without_currency(tree, report)
        return None
    return _payable(amount, chosen, tree, report) if chosen else None


def _payable(amount: Decimal, currency: str, tree: Node, report: Report) -> Money | None:
    """The amount, if somebody can pay it."""
    digits = get_currency_precision(currency)
    if amount < 0:
        report.error(
            Kind.PRICE_WRONG,
            tree,
            f"the price is below zero: {amount}",
            expected="an amount of 0 or more",
            remedy="delete the minus sign",
        )
    elif -int(amount.as_tuple().exponent) > digits:  # also 1.400, which is more likely 1400
        report.error(
            Kind.PRICE_WRONG,
            tree,
            f"{amount} {currency} cannot be paid: {currency} has {digits} digits after the point",
            expected=f"at most {digits} digits after the point",
            remedy="round the price, or write thousands without a point: 1400",
        )
    else:
        return Money(amount, currency)
    return None


def _without_currency(tree: Node, report: Report) -> None:
    report.error(
        Kind.PRICE_WRONG,
        tree,
        "this price has no currency",
        expected="a currency here (140 EUR), or once for all in site.yaml (currency: EUR)",
        remedy="add a line such as currency: EUR to site.yaml",
    )
