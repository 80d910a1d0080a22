"""Weights and meals, a line each."""

import datetime as dt
import re

from sitegen.findings import WrongUse
from sitegen.keeper import editing
from sitegen.keeper.desk import Change, Desk
from sitegen.keeper.spelling import Value
from sitegen.keeper.targets import Target, find_target
from sitegen.keeper.usual import DATES, orders

_WEIGHT = re.compile(r"^(\d+(?:[.,]\d+)?)\s*([a-zA-Z]+)$")


def weight_text(written: str) -> str:
    """A weight as records write it, a blank before the unit; anything else as it is, for the record's own check.

    >>> weight_text("402g")
    '402 g'
    """
    match = _WEIGHT.match(written.strip())
    return f"{match[1].replace(',', '.')} {match[2].lower()}" if match else written.strip()


def add_weight(desk: Desk, named: str, weight: str, on: dt.date) -> Change:
    """A weight on a day.

    Raises:
        WrongUse: There is no such animal, or another weight of that day stands there.
        ContentError, CannotEdit: Its record cannot be changed.
    """
    target, text = _record(desk, named)
    day, wanted = on.isoformat(), weight_text(weight)
    held = _held(text, (*target.keys, "weights"))
    there = held.get(day) if isinstance(held, dict) else None
    if there == wanted:
        return Change((), f"{target.shown} weighed {wanted} on {day}: that stands there already.")
    if there is not None:
        raise WrongUse(
            f"{target.shown} has a weight of {day} already: {there}; correct it in {target.file}, or give another day"
        )
    changed = editing.put(text, (*target.keys, "weights", day), wanted, orders(target.keys, DATES))
    return Change((desk.changed(target.file, changed),), f"{target.shown}: {wanted} on {day}.")


def add_meal(desk: Desk, named: str, what: str, on: dt.date, refused: bool) -> Change:
    """A meal taken or refused on a day.

    Raises:
        WrongUse: There is no such animal.
        ContentError, CannotEdit: Its record cannot be changed.
    """
    target, text = _record(desk, named)
    entry: dict[str, Value] = {"date": on.isoformat(), "what": what.strip()}
    if refused:
        entry["taken"] = False
    path = (*target.keys, "meals")
    told = f"{what.strip()} {'refused' if refused else 'taken'} on {on.isoformat()}"
    held = _held(text, path)
    if isinstance(held, list) and editing.plain_value(entry) in held:
        return Change((), f"{target.shown}, {told}: that stands there already.")
    changed = editing.append(text, path, entry, orders(target.keys))
    return Change((desk.changed(target.file, changed),), f"{target.shown}: {told}.")


def _record(desk: Desk, named: str) -> tuple[Target, str]:
    target = find_target(desk, named)
    return target, desk.text(target.file)


def _held(text: str, path: tuple[str, ...]) -> object:
    return editing.standing(editing.plain(text), path)
