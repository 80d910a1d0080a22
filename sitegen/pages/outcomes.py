"""What was expected of a litter, beside what came."""

from sitegen.pages.material import Folio
from sitegen.pages.models import Outcome
from sitegen.records.litters import Litter


def outcome(litter: Litter, folio: Folio) -> Outcome | None:
    """What the pairing could give, and what it gave; None when that cannot be told."""
    return None
