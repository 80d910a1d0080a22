"""An offer as it is changed in a table: price, state and days, with the day and the buyer of what was sold."""

import datetime as dt
from collections.abc import Mapping

from sitegen.content.prices import OfferState
from sitegen.findings import WrongUse
from sitegen.keeper.entries import price_values, state_meant, where_offered
from sitegen.keeper.lookup import find_animal
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Dropped, Proposal, Records, changed

FIELDS = ("price", "state", "ready", "until")
"""The keys of an offer that a table shows."""


def offered_fields(offer: object) -> dict[str, str]:
    """What stands there of an offer, as a table shows it; empty for what does not."""
    held = offer if isinstance(offer, Mapping) else {}
    price = held.get("price")
    if isinstance(price, Mapping):
        price = f"{price.get('amount', '')} {price.get('currency', '')}".strip()
    state = state_meant(str(held.get("state") or OfferState.AVAILABLE)).value if held else ""
    days = {key: str(held.get(key) or "") for key in ("ready", "until")}
    return {"price": str(price or ""), "state": state, **days}


def change_offer(
    records: Records, named: str, shown: Mapping[str, str], said: Mapping[str, str], on: dt.date, buyer: str = ""
) -> Proposal:
    """The change that a row of the table asks for.

    ``shown`` is what the table showed of ``FIELDS``, ``said`` what is said there now; an empty field takes its line
    away. A change of state is of the day ``on``. The buyer goes under ``private``, which is never published.

    Raises:
        WrongUse: There is no such animal or state, or the record says something else by now than the table showed.
        ContentError, CannotEdit: The record cannot be changed.
    """
    place = where_offered(records, find_animal(records, named))
    held = records.held(place, "offer")
    stands = offered_fields(held)
    fresh = {key: said[key].strip() for key in FIELDS if said[key].strip() not in (shown[key], stands[key])}
    for key in fresh:
        if stands[key] != shown[key]:
            now = stands[key] or "empty"
            raise WrongUse(f"{key} of {place.shown} was changed meanwhile and is {now} now; load the page again")
    values = _values(held if isinstance(held, dict) else {}, fresh, on)
    if buyer.strip():
        values["private", "buyer"] = buyer.strip()
    files = changed(records, place, values)
    return Proposal(files, f"{place.shown}: {_told(fresh, buyer)}." if files else f"{place.shown} stands so already.")


def _values(held: dict[str, object], fresh: Mapping[str, str], on: dt.date) -> dict[tuple[str, ...], Value | Dropped]:
    values: dict[tuple[str, ...], Value | Dropped] = {}
    for key, text in fresh.items():
        if key == "price" and text:
            values |= price_values(text, held)
        elif key == "state":
            values["offer", "state"] = state_meant(text or OfferState.AVAILABLE).value
            values["offer", "since"] = on.isoformat()
        else:
            values["offer", key] = text or Dropped()
    state = fresh.get("state") or str(held.get("state") or "")
    if "until" in held and state_meant(state or OfferState.AVAILABLE) is not OfferState.ON_HOLD:
        values["offer", "until"] = Dropped()  # only a hold has a last day
    if fresh and not held and "state" not in fresh:
        values["offer", "state"] = OfferState.AVAILABLE.value
        values["offer", "since"] = on.isoformat()
    return values


def _told(fresh: Mapping[str, str], buyer: str) -> str:
    parts = [f"{key} {text}" if text else f"no {key} any more" for key, text in fresh.items()]
    return ", ".join([*parts, *(["the buyer under private"] if buyer.strip() else [])])
