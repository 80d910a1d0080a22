"""The machine form of a plan for the room: what ``plan --json`` prints. Numbers are decimal strings."""

from collections.abc import Mapping, Sequence
from typing import Any

from sitegen.exact import written
from sitegen.plans.room.kinds import (
    BuyingPlan,
    HoldbackPlan,
    NotTried,
    OtherChoice,
    Pair,
    RoomPairing,
    RoomPlan,
)

Json = dict[str, Any]


def room_json(plan: RoomPlan) -> Json:
    """The plan for one species."""
    found: Json = {
        "species": plan.species,
        "season": plan.season,
        "last": plan.last,
        "pairings": [_pairing(each) for each in plan.pairings],
        "resting": list(plan.resting),
        "goals": {
            goal: {
                told: {str(each.season): _number(getattr(each, told)) for each in seasons}
                for told in ("born", "kept", "known", "error")
            }
            for goal, seasons in plan.goals.items()
        },
        "value": _number(plan.value),
        "value_error": _number(plan.value_error),
        "weights": _number(plan.weights),
        "draws": plan.draws,
        "places": {
            str(each.season): {"mean": _number(each.mean, 1), "low": each.low, "high": each.high}
            for each in plan.places
        },
        "keep": {str(each.season): _number(each.keep, 1) for each in plan.places},
        "next_best": [_other(each) for each in plan.next_best],
        "order": "sure" if plan.sure else "within-0.01",
        "tried": plan.tried,
        "not_tried": [_not_tried(each) for each in plan.not_tried],
    }
    more = {
        "owned": list(plan.owned),
        "unreachable": list(plan.unreachable),
        "short": plan.short,
        "closer": plan.closer and _other(plan.closer),
        "tests": [
            {
                "animal": each.animal,
                "locus": each.locus,
                "worth": _number(each.worth),
                "error": _number(each.error),
                "price": written(each.price),
            }
            for each in plan.tests
        ],
    }
    return found | {key: value for key, value in more.items() if value}


def rooms_json(plans: Sequence[RoomPlan]) -> Json:
    """The plan as it is asked for: of one species as it is; of several what can be put together, and each whole."""
    found = [room_json(plan) for plan in plans]
    if len(found) < 2:
        return dict(*found)
    return {
        "pairings": [each for own in found for each in own["pairings"]],
        "resting": [each for own in found for each in own["resting"]],
        "goals": {goal: told for own in found for goal, told in own["goals"].items()},
        "species": {own["species"]: own for own in found},
    }


def holdback_json(plan: HoldbackPlan) -> Json:
    """Which young to keep back."""
    return {
        "litter": plan.litter,
        "keep": [each.animal for each in plan.young if each.keep],
        "free": [each.animal for each in plan.young if not each.keep],
        "as_good": dict(plan.as_good),
        "unsexed": list(plan.unsexed),
        "stays": list(plan.stays),
        "undecided": dict(plan.undecided),
        "young": {
            each.animal: {
                "gain": _number(each.gain),
                "error": _number(each.error),
                "serves": _numbers(each.serves),
                "carries": _numbers(each.carries),
                **({} if each.kinship is None else {"kinship": written(each.kinship)}),
            }
            for each in plan.young
        },
        "draws": plan.draws,
    }


def buying_json(plan: BuyingPlan) -> Json:
    """What animals that might be bought would add."""
    return {
        "buy": [
            {
                "animal": each.animal.animal.name or each.animal.animal.id,
                "sex": each.animal.animal.sex.value,
                "shows": [seen.look for genes in each.animal.animal.genes for seen in genes.judged.seen],
                "stated": [own.locus for genes in each.animal.animal.genes for own in genes.stated],
                "gain": _number(each.gain),
                "error": _number(each.error),
                "goals": _numbers(each.goals),
                **({"price": str(each.animal.price.amount)} if each.animal.price else {}),
            }
            for each in plan.purchases
        ],
        "draws": plan.draws,
    }


def _pairing(pairing: RoomPairing) -> Json:
    learns: dict[str, list[str]] = {}
    for lesson in pairing.learns:
        learns.setdefault(lesson.animal, []).append(lesson.allele)
    return {
        **_pair(pairing.pair),
        "serves": _numbers(pairing.serves),
        "learns": learns,
        "alone": _number(pairing.alone),
        "alone_error": _number(pairing.alone_error),
        "born": _numbers(pairing.born),
        "young": _number(pairing.young, 1),
        "kinship": written(pairing.kinship),
    }


def _pair(pair: Pair) -> Json:
    return {"dam": pair[0], "sire": pair[1]}


def _other(choice: OtherChoice) -> Json:
    return {
        "pairings": [_pair(each) for each in choice.pairings],
        "value": _number(choice.value),
        "value_error": _number(choice.value_error),
        "goals": _numbers(choice.goals),
    }


def _not_tried(left: NotTried) -> str:
    named = [*left.animals, *(" x ".join(pair) for pair in left.pairs), *([str(left.count)] if left.count else [])]
    return f"{left.why}: {', '.join(named)}" if named else left.why.value


def _numbers(told: Mapping[str, float]) -> Json:
    return {key: _number(value) for key, value in told.items()}


def _number(value: float, places: int = 4) -> str:
    """A number with so many places; one that rounds to nothing has no sign."""
    return f"{round(value, places) + 0.0:.{places}f}"
