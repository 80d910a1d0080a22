"""The history of a collection, and its records as they stood on a day."""

import datetime as dt

from sitegen.content.collection import Collection
from sitegen.evidence.arrivals import arrivals_of, collection_on
from sitegen.evidence.history import Turn, history


def replay(collection: Collection) -> tuple[Turn, ...]:
    """Every turn of a collection."""
    return history(arrivals_of(collection))


def as_of_collection(collection: Collection, day: dt.date) -> Collection:
    """The records of all animals and litters as they stood on a day."""
    return collection_on(arrivals_of(collection), day, collection.animals)
