"""What changed of what is said, found by replaying the records by their dates."""

import datetime as dt
from collections.abc import Mapping, Sequence

from sitegen.content.collection import Collection
from sitegen.evidence.answers import Answers
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.changes import Change, changes_of
from sitegen.evidence.history import history
from sitegen.evidence.kinds import Claim
from sitegen.genetics.questions import AnimalId
from sitegen.words.changes import is_told_otherwise, is_worth_telling
from sitegen.words.speech import Voice


def told_changes(
    collection: Collection, claims: Mapping[AnimalId, Sequence[Claim]]
) -> Mapping[AnimalId, tuple[Change, ...]]:
    """Animal to its changes that are worth telling, oldest first, found by replaying the records by their dates.

    What is told in the same words before and after is no change to a reader.
    """
    arrivals = arrivals_of(collection)
    found = changes_of(arrivals, history(arrivals), claims, is_worth_telling)
    voice = Voice(collection, Answers({}, {}, {}, (), ()), dt.date.max)  # words for a change name no answer of today
    told = {
        animal: tuple(change for change in changes if is_told_otherwise(change, voice))
        for animal, changes in found.items()
    }
    return {animal: changes for animal, changes in told.items() if changes}
