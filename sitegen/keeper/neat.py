"""A draft as a record that a person could have written."""

import re

from sitegen.genetics.loci import Sex
from sitegen.keeper.labels import Carried
from sitegen.keeper.rows import Draft

_PLAIN = re.compile(r"[^\W_](?:[\w ./%+()'-]*[\w/%+)'])?")
_MEANS_NOTHING = ("", "~", "null")


def record_text(draft: Draft, stated: tuple[Carried, ...]) -> str:
    """The YAML of a new animal's record.

    Args:
        draft: All its references stand for records.
        stated: What a previous keeper's label says, for an animal whose parents are not recorded.
    """
    lines = [f"name: {quoted(draft.name)}"] if draft.name else []
    lines.append(f"species: {draft.species}")
    if draft.sex and draft.sex is not Sex.UNKNOWN:
        lines.append(f"sex: {draft.sex.value}")
    lines += [f"{key}: {day}" for key, day in (("born", draft.born), ("died", draft.died)) if day]
    lines += [f"dam: {quoted(draft.dam)}"] if draft.dam else []
    lines += [_sire(draft.sires)] if draft.sires else []
    if draft.label.judged:
        lines.append(f"shows: [{', '.join(map(quoted, draft.label.shows))}]")
    if draft.unsure:
        lines.append(f"unsure: [{', '.join(map(quoted, draft.unsure))}]")
    lines += [f"acquired: {{date: {draft.acquired}}}"] if draft.acquired else []
    if stated:
        lines.append(f"stated: {{{', '.join(_stated(carried) for carried in stated)}}}")
    lines += [f"{key}: {quoted(text)}" for key, text in (("line", draft.line), ("locality", draft.locality)) if text]
    if draft.weight and draft.weighed:
        lines.append(f"weights: {{{draft.weighed}: {draft.weight}}}")
    lines += [f"offer: {{{_offer(draft)}}}"] if draft.state else []
    lines += [f"kept: {'true' if draft.kept else 'false'}"] if draft.kept else []
    lines += [f"about: {quoted(draft.about)}"] if draft.about else []
    if draft.private:
        lines += ["private:", *(f"  {quoted(key)}: {quoted(text)}" for key, text in draft.private.items())]
    return "\n".join(lines) + "\n"


def _sire(sires: tuple[tuple[str, str], ...]) -> str:
    if len(sires) == 1:
        return f"sire: {quoted(sires[0][0])}"
    if any(odds for _, odds in sires):
        return f"sire: {{{', '.join(f'{quoted(sire)}: {odds}' for sire, odds in sires)}}}"
    return f"sire: [{', '.join(quoted(sire) for sire, _ in sires)}]"


def _stated(carried: Carried) -> str:
    if carried.copies == 2:
        return f'{quoted(carried.locus)}: {{"{carried.allele}/{carried.allele}": 1}}'
    chance = carried.chance
    assert chance is not None
    percent = {"2/3": "66%", "1/3": "33%"}.get(str(chance), str(chance))
    if chance.denominator in (2, 4, 5, 10, 20, 50, 100) and chance != 1:
        percent = f"{chance * 100}%"
    return f"{quoted(carried.allele)}: {'certain' if chance == 1 else percent}"


def _offer(draft: Draft) -> str:
    assert draft.state is not None
    parts = [f"price: {draft.price}"] if draft.price else []
    parts.append(f"state: {draft.state.value}")
    parts += [f"{key}: {day}" for key, day in (("since", draft.since), ("ready", draft.ready)) if day]
    return ", ".join(parts)


def quoted(text: str) -> str:
    """The text as a YAML value: bare where that is safe anywhere in a record, else in double quotation marks.

    >>> quoted("Old Flint"), quoted("a: b"), quoted("007")
    ('Old Flint', '"a: b"', '007')
    """
    if _PLAIN.fullmatch(text) and text.lower() not in _MEANS_NOTHING and "\n" not in text:
        return text
    return f'"{"".join(_escaped(sign) for sign in text)}"'


def _escaped(sign: str) -> str:
    if sign in ('"', "\\"):
        return f"\\{sign}"
    if sign == "\n":
        return "\\n"
    if sign == " " or sign.isprintable():
        return sign
    return f"\\U{ord(sign):08X}"
