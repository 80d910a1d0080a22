"""What a litter's table says of its young, one row each, and the change that makes the record say it."""

import datetime as dt
from collections.abc import Mapping

from sitegen.content.animals import Animal
from sitegen.content.references import same
from sitegen.findings import WrongUse
from sitegen.genetics.loci import Sex
from sitegen.keeper.entries import quantity_text
from sitegen.keeper.lookup import find_litter, find_number
from sitegen.keeper.new_records import SEES_NOTHING, split
from sitegen.keeper.record_text import Value, in_usual_order
from sitegen.keeper.records import Dropped, Proposal, RecordPlace, Records, changed

FIELDS = ("sex", "shows", "weight", "kept", "price")
NOTHING = "nothing"
"""Said under ``shows`` of a young that was looked at and shows none of the genes; an empty word is not judged."""
Row = Mapping[str, str]
"""Field to what is said; empty for nothing."""
_Values = dict[tuple[str, ...], Value | Dropped]


def row_as_it_stands(young: Animal, day: dt.date, currency: str) -> Row:
    """What the record says of a young; the weight is that of the day, the price names a currency that is not usual."""
    judged, asked = young.genes[0].judged, young.offer.price if young.offer else None
    looks = ", ".join(sorted({seen.look for seen in judged.seen}))  # in whatever order they were written
    weights = [f"{each.grams} g" for each in young.weights if str(each.date) == day.isoformat()]
    price = f"{asked.amount:f} {'' if asked.currency == currency else asked.currency}".strip() if asked else ""
    return {
        "sex": "" if young.sex is Sex.UNKNOWN else young.sex.value,
        "shows": looks or (NOTHING if judged.written else ""),
        "weight": weights[-1] if weights else "",
        "kept": "yes" if young.kept else "",
        "price": price,
    }


def describe_young(
    records: Records, litter_named: str, rows: Mapping[str, Row], day: dt.date, today: dt.date
) -> Proposal:
    """The change that makes a litter's record say what is said of some of its young.

    ``rows`` are numbers of young to the fields that are to be changed; an empty word takes out what stands there. The
    weights are of ``day``; what is priced for the first time is available since ``today``.

    Raises:
        WrongUse: No such litter or young, or something both shown and not seen.
        ContentError, CannotEdit: The record cannot be changed.
    """
    litter = find_litter(records, litter_named)
    values: _Values = {}
    for number, row in rows.items():
        if not find_number(records, litter.shown, number):
            raise WrongUse(f"{litter.shown} lists no young {number}; load the page again")
        held = records.held(litter, "young", number)
        own = _values(number, row, day, today, isinstance(held, dict) and "offer" in held)
        values |= {("young", number, *keys): value for keys, value in own.items()} if held else _whole(number, own)
    files = changed(records, RecordPlace(litter.shown, litter.file), values)
    said = [f"No. {number}: {', '.join(_told(*each) for each in row.items())}" for number, row in rows.items() if row]
    return Proposal(files, "; ".join(said) + "." if files else "All of that stands there already.")


def _whole(number: str, own: _Values) -> _Values:
    """The whole entry of a young of which nothing is written yet."""
    entry: dict[str, Value] = {}
    for (first, *rest), value in own.items():
        if not isinstance(value, Dropped):
            inner = entry.get(first)
            entry[first] = {**(inner if isinstance(inner, dict) else {}), rest[0]: value} if rest else value
    return {("young", number): in_usual_order("animal", entry)} if entry else {}


def _values(number: str, row: Row, day: dt.date, today: dt.date, is_offered: bool) -> _Values:
    found: _Values = {}
    for name, said in row.items():
        match name:
            case "shows":
                found["shows",] = _looks(number, said)
            case "weight":
                found["weights", day.isoformat()] = quantity_text(said) or Dropped()
            case "price":
                found["offer", "price"] = said or Dropped()
                if said and not is_offered:
                    found |= {("offer", "state"): "available", ("offer", "since"): today.isoformat()}
            case "kept":
                found["kept",] = True if said else Dropped()
            case _:
                found[name,] = said or Dropped()
    return found


def _looks(number: str, said: str) -> Value | Dropped:
    looks = split([said])
    seen = [look for look in looks if same(look).lower() not in SEES_NOTHING]
    if seen and len(seen) < len(looks):
        raise WrongUse(f"No. {number} cannot show nothing and {', '.join(seen)}; take one of them away")
    return seen if looks else Dropped()


def _told(name: str, said: str) -> str:
    if name == "shows" and not said:
        return "not judged"
    return name if name == "kept" and said else f"{name} {said}" if said else f"{name} taken out"
