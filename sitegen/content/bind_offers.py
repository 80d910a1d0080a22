"""Offers and prices."""

from decimal import Decimal
from functools import lru_cache
from typing import Any

from babel.numbers import get_currency_precision, get_currency_symbol, list_currencies

from sitegen.content.animals import Offer, OfferState
from sitegen.content.report import At, Report
from sitegen.content.values import Money
from sitegen.content.written.animals import OfferForm, PriceForm
from sitegen.content.written.forms import filled, is_blank
from sitegen.content.written.values import SIGNS, read_amount
from sitegen.content.yaml_tree import Entries, Node, Scalar
from sitegen.findings import Kind


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


def bind_offer(form: OfferForm | None, currency: str | None, report: Report) -> Offer | None:
    """The offer.

    Args:
        form: As written; None for no offer.
        currency: That of site.yaml, for prices that name none; empty when it names none, None when what it
            says could not be read.
        report: Takes what is wrong.
    """
    if form is None:
        return None
    _check_sale(form, report)
    return Offer(
        state=form.state.value if form.state else OfferState.AVAILABLE,
        place=form.start,
        price=_price(form.price, currency, report),
        since=form.since.value if form.since else None,
        ready=form.ready.value if form.ready else None,
    )


def _check_sale(form: OfferForm, report: Report) -> None:
    """Tells a sale without a date: what became known before it and what after it cannot be told apart."""
    if form.state and form.state.value is OfferState.SOLD and form.key("since") is None:
        report.notice(
            Kind.OFFER_UNDATED,
            form.state,
            "this offer is sold, and the day of the sale is not recorded",
            expected="since: the day it was sold, or since: unknown",
            remedy="add since",
        )


def _price(tree: Node | None, currency: str | None, report: Report) -> Money | None:
    if tree is None or is_blank(tree):
        return None
    written: Any = None
    code: At[str] | None = None
    if isinstance(tree, Scalar):
        written = read_amount(tree, report)
    elif isinstance(tree, Entries):
        form = filled(PriceForm, tree, report)
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
