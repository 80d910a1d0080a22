"""What a litter's table tells: what its pairing can give, and what becomes of relatives when more is written of young.

For the keeper alone, in English; none of it is ever published. What is claimed is said in the words of
:mod:`sitegen.words.changes`, so that it is as sure as the claim and no surer.
"""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from sitegen.content.litters import Litter
from sitegen.evidence.becoming import Becoming
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.questions import AnimalId
from sitegen.words.changes import statement
from sitegen.words.conditions import is_conditional
from sitegen.words.numbers import both_sides, count_text, in_100, small_number
from sitegen.words.pairings import looks_text
from sitegen.words.speech import Voice, animal_name, claimed_name, listed, plain

_MOST_LOOKS = 8
_LIKELY = (ClaimKind.MAY_CARRY, ClaimKind.ONE_OR_TWO_COPIES)


def what_it_gives(rows: Sequence[tuple[Sequence[str], Fraction]]) -> str:
    """How young of a pairing look, in one sentence: so many of 100 each, the likeliest first, without rare ones."""
    usual = [row for row in rows if row[1] >= Fraction(1, 100)][:_MOST_LOOKS]
    if usual and usual[0][1] == 1:
        return f"As far as is known, all young from parents like these show {plain(looks_text(usual[0][0]))}."
    told = [
        f"{count_text(both_sides(chance)[0])} {'' if number else 'show '}{plain(looks_text(looks))}"
        for number, (looks, chance) in enumerate(usual)
    ]
    rest = "; rarer looks are left out" if len(usual) < len(rows) else ""
    return f"Of 100 young from parents like these about {plain(listed(told))}{rest}." if told else ""


def becoming_lines(
    found: Iterable[Becoming], litter: Litter, described: Sequence[AnimalId], before: Voice, after: Voice
) -> Iterator[str]:
    """What becomes of each; littermates of whom the same is told share a sentence.

    Nothing is told of the young that are described now. ``before`` speaks of the records as they are, ``after`` of them
    as they would be.
    """
    mates = [young for young in litter.young if young not in described]
    alike: dict[tuple[str, bool, AnimalId], list[AnimalId]] = {}
    for each in found:
        if each.animal not in described and (told := _told(each, before, after)):
            is_mate = each.animal in mates
            alike.setdefault((told, is_mate, "" if is_mate else each.animal), []).append(each.animal)
    for (told, is_mate, _), animals in alike.items():
        yield f"{_whom(animals, mates, after) if is_mate else animal_name(after.collection, animals[0])} {told}."


def _told(each: Becoming, before: Voice, after: Voice) -> str:
    """What is claimed after and what was before; empty where both are the same words."""
    claim = each.after or each.before
    assert claim
    name = claimed_name(after.locus(claim), claim)
    was = plain(statement(each.before, before)) if each.before else ""
    will = plain(statement(each.after, after)) if each.after else f"is not known to have {name}"
    if was == will:
        return ""
    if each.before and each.after and each.before.kind is each.after.kind and _is_a_number(each.before, each.after):
        was = in_100(each.before.chance)
    return f"{will}; until now {was or 'nothing was said of it'}"


def _is_a_number(*claims: Claim) -> bool:
    """True where nothing but a chance is told."""
    return all(claim.kind in _LIKELY and not claim.strained and not is_conditional(claim) for claim in claims)


def _whom(animals: Sequence[AnimalId], mates: Sequence[AnimalId], voice: Voice) -> str:
    """Some littermates of the young that are described: all of them, or by their numbers and names."""
    if len(animals) == len(mates) > 1:
        return f"Each of the other {small_number(len(mates))} young"
    own = [voice.collection.animals[each] for each in animals]
    numbers = [each.number for each in own if each.name in ("", each.number)]
    names = [each.name for each in own if each.number not in numbers]
    told = plain(listed([*(f"{'No. ' * (not at)}{number}" for at, number in enumerate(numbers)), *names]))
    return f"Each of {told}" if len(animals) > 1 else told
