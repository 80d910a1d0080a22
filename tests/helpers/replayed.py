"""The history of a collection, and its records as they stood on a day."""

import datetime as dt
from collections.abc import Iterable, Mapping

from sitegen.content.collection import Collection
from sitegen.evidence.arrivals import arrivals_of, collection_on
from sitegen.evidence.history import Turn, history
from sitegen.genetics.questions import AnimalId, Posterior


def replay(collection: Collection) -> tuple[Turn, ...]:
    """Every turn of a collection."""
    return history(arrivals_of(collection))


def as_of_collection(collection: Collection, day: dt.date) -> Collection:
    """The records of all animals and litters as they stood on a day."""
    return collection_on(arrivals_of(collection), day, collection.animals)


def answers_on(turns: Iterable[Turn], day: dt.date) -> Mapping[AnimalId, Mapping[str, Posterior]]:
    """Animal to locus to posterior as they stood at the end of a day; a locus without an answer is left out."""
    found: dict[AnimalId, dict[str, Posterior]] = {}
    for turn in turns:
        if turn.day <= day:
            for (animal, locus), posterior in turn.answers.items():
                found.setdefault(animal, {})[locus] = posterior
    return {animal: {locus: own[locus] for locus in own if own[locus]} for animal, own in found.items()}
