"""The answers of earlier dates, found by replaying the evidence in the order in which it arrived.

Each day on which evidence arrived is a turn; a turn asks again only what the new records can bear on (see
:mod:`sitegen.evidence.regions`). After the last turn everything is as :func:`sitegen.evidence.answers.answers` has it.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import takewhile

from sitegen.evidence.arrivals import Arrivals, arrivals_of, as_of_collection, collection_on
from sitegen.evidence.earlier import Arrival, Turn
from sitegen.evidence.replaying import Replay, Replayed
from sitegen.evidence.standing import groups_of
from sitegen.evidence.timeline import Day, Remembered, timeline
from sitegen.genetics.network import ENTRIES_LIMIT
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.litters import Litter
from sitegen.records.species import Species

__all__ = ["Arrival", "Past", "Turn", "answers_on", "as_of_collection", "collection_on", "history", "replay"]


def replay(collection: Collection) -> tuple[Turn, ...]:
    """Every turn of a collection."""
    return history(arrivals_of(collection))


@dataclass(slots=True)
class Past:
    """Earlier replays of the same records, for the next one.

    Attributes:
        remembered: What was made of single records.
        replayed: Species and loci to the days that were replayed there and what came of them.
    """

    remembered: Remembered = field(default_factory=Remembered)
    replayed: dict[tuple[str, tuple[str, ...]], Replayed] = field(default_factory=dict)


def history(arrivals: Arrivals, limit: int = ENTRIES_LIMIT, past: Past | None = None) -> tuple[Turn, ...]:
    """Every turn of a collection, by day, then by species and by locus or linked group in record order.

    Where young of a species have several possible sires, all its loci are replayed together, since they share which
    it was; elsewhere each locus or linked group by itself.

    Args:
        arrivals: The records, and when they began to count.
        limit: Most table entries of one connected piece of a network; beyond it there is no answer.
        past: Earlier replays with the same limit, and, after this one, what it found. A day before which nothing
            differs is where the replay begins.
    """
    again = past is not None
    past = Past() if past is None else past
    remembered = Remembered()
    replayed: dict[tuple[str, tuple[str, ...]], Replayed] = {}
    for species in arrivals.collection.species.values():
        days = timeline(arrivals, species, past.remembered, remembered)
        groups = groups_of(species)
        rank = {locus.id: rank for rank, locus in enumerate(species.genome.loci)}
        for together in [groups] if _shares_sires(arrivals.collection, species) else [(group,) for group in groups]:
            loci = tuple(locus.id for group in together for locus in group.loci)
            ranks = [rank[locus] for locus in loci]
            own = tuple(at for day in days if (at := day.at(ranks, loci)))
            before = past.replayed.get((species.id, loci))
            before = before if before is not None and before.species is species else None
            known = _alike(before.days, own, ranks, loci) if before is not None else 0
            replayed[species.id, loci] = Replay(species, together, limit, before, again=again).replayed(own, known)
    past.remembered, past.replayed = remembered, replayed
    return tuple(sorted((turn for each in replayed.values() for turn in each.turns), key=lambda turn: turn.day))


def _alike(before: Sequence[Day], now: Sequence[Day], ranks: Sequence[int], loci: Sequence[str]) -> int:
    """How many days at the beginning tell the same."""
    same = (one.is_at(ranks, loci, other) for one, other in zip(before, now, strict=False))
    return sum(1 for _ in takewhile(bool, same))


def _shares_sires(collection: Collection, species: Species) -> bool:
    young: list[Animal | Litter] = [*collection.animals.values(), *collection.litters.values()]
    return any(each.species == species.id and len(each.sires) > 1 for each in young)


def answers_on(turns: Iterable[Turn], day: dt.date) -> Mapping[AnimalId, Mapping[str, Posterior]]:
    """Animal to locus to posterior as they stood at the end of a day; a locus without an answer is left out."""
    found: dict[AnimalId, dict[str, Posterior]] = {}
    for turn in turns:
        if turn.day <= day:
            for (animal, locus), posterior in turn.answers.items():
                found.setdefault(animal, {})[locus] = posterior
    return {animal: {locus: own[locus] for locus in own if own[locus]} for animal, own in found.items()}
