"""What changed of what is said, found by replaying the records by their dates."""

from collections.abc import Mapping, Sequence

from sitegen.claims.changes import Change, changes_of
from sitegen.claims.kinds import Claim
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.history import history
from sitegen.genetics.questions import AnimalId
from sitegen.records.collection import Collection
from sitegen.wording.changes import is_worth_telling


def told_changes(
    collection: Collection, claims: Mapping[AnimalId, Sequence[Claim]]
) -> Mapping[AnimalId, tuple[Change, ...]]:
    """Animal to its changes that are worth telling, oldest first, found by replaying the records by their dates."""
    arrivals = arrivals_of(collection)
    return changes_of(arrivals, history(arrivals), claims, is_worth_telling)
