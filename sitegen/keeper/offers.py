"""Where the offer of an animal stands, and since when."""

import datetime as dt
from dataclasses import dataclass

from sitegen.content.animals import OfferState
from sitegen.content.references import same
from sitegen.content.written.animals import STATE_WORDS
from sitegen.findings import WrongUse, nearest
from sitegen.keeper import editing
from sitegen.keeper.desk import Change, Desk
from sitegen.keeper.targets import Target, find_target, litter_file
from sitegen.keeper.usual import OFFERS, orders


@dataclass(frozen=True, slots=True)
class OfferChange:
    """What is to be said of an offer from a day on.

    Attributes:
        state: Where it stands.
        today: Since when, if no day is said and the state changes.
        on: Since when, as said by the breeder.
        price: What is asked, as it is to be written; empty to leave it.
        ready: The earliest day to leave; None to leave it.
    """

    state: OfferState
    today: dt.date
    on: dt.date | None = None
    price: str = ""
    ready: dt.date | None = None


def state_meant(text: str) -> OfferState:
    """The state of an offer that is meant, written with blanks, hyphens or underscores.

    Raises:
        WrongUse: There is no such state; the nearest is offered.
    """
    plain = " ".join(text.lower().replace("_", " ").replace("-", " ").split())
    by_word = {state.value: state for state in OfferState} | STATE_WORDS
    if plain in by_word:
        return by_word[plain]
    near = nearest(plain, by_word)
    close = by_word[near].value if near else ""
    raise WrongUse(
        f'"{text}" is not a state of an offer; expected {", ".join(OfferState)}'
        + (f'; nearest: "{close}"' if close else "")
    )


def set_offer(desk: Desk, named: str, wanted: OfferChange) -> Change:
    """The change that makes the record say so; no file when it says so already.

    Raises:
        WrongUse: There is no such animal.
        ContentError, CannotEdit: Its record cannot be changed.
    """
    target = _where_offered(desk, find_target(desk, named))
    text = before = desk.text(target.file)
    held = editing.standing(editing.plain(text), (*target.keys, "offer"))
    offer = held if isinstance(held, dict) else {}
    for path, value in _entries(wanted, offer):
        if editing.standing(offer, path) != value:
            text = editing.put(text, (*target.keys, "offer", *path), value, orders(target.keys, OFFERS))
    if text == before:
        return Change((), f"{target.shown} is {wanted.state.value} already; nothing to change.")
    return Change((desk.changed(target.file, text),), f"{target.shown}: {_told(wanted, offer)}.")


def _entries(wanted: OfferChange, offer: dict[str, object]) -> list[tuple[tuple[str, ...], str]]:
    """The lines of the offer that are to stand; the day stays where nothing but the price changes."""
    same_state = str(offer.get("state") or "available").replace("-", " ").lower() == wanted.state.value and bool(offer)
    found: list[tuple[tuple[str, ...], str]] = []
    if wanted.price and isinstance(offer.get("price"), dict):
        amount, _, currency = wanted.price.partition(" ")
        found.append((("price", "amount"), amount))
        found += [(("price", "currency"), currency)] if currency else []
    elif wanted.price:
        found.append((("price",), wanted.price))
    if not same_state or "state" not in offer:
        found.append((("state",), wanted.state.value))
    if wanted.on or not same_state:
        found.append((("since",), (wanted.on or wanted.today).isoformat()))
    if wanted.ready:
        found.append((("ready",), wanted.ready.isoformat()))
    return found


def _told(wanted: OfferChange, offer: dict[str, object]) -> str:
    was = f", was {offer['state']}" if offer.get("state") and offer["state"] != wanted.state.value else ""
    price = f", price {wanted.price}" if wanted.price else ""
    since = str(dict(_entries(wanted, offer)).get(("since",), offer.get("since") or ""))
    return f"{wanted.state.value}{f' since {since}' if since else ''}{price}{was}"


def _where_offered(desk: Desk, target: Target) -> Target:
    """The entry in the litter's record, when a young with a record of its own is offered there and not in its own."""
    own = desk.forms.animals.get(target.shown) if not target.keys else None
    if own is None or own.from_litter is None or own.offer is not None:
        return target
    litter, _, number = same(own.from_litter.value).partition("/")
    form = desk.forms.litters.get(litter)
    young = (form.young or {}).get(number) if form else None
    offered_there = young is not None and young.offer is not None
    return Target(target.shown, litter_file(desk, litter), ("young", number)) if offered_there else target
