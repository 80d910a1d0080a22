"""In which order the lines of a record usually stand, so that a new one finds its neighbours."""

from sitegen.keeper.editing import Order, by_name, last, like

ANIMAL = (
    "name", "species", "sex", "from_litter", "born", "died", "dam", "sire", "acquired", "shows", "unsure", "judged",
    "copies", "stated", "tests", "haplotypes", "markers", "line", "locality", "weights", "meals", "kept", "offer",
    "captions", "about", "reviewed", "private",
)  # fmt: skip
LITTER = (
    "name", "species", "dam", "sire", "mixed_sires", "paired", "laid", "expected", "born", "eggs", "infertile",
    "stillborn", "young", "others", "confirmed", "captions", "about", "reviewed", "private",
)  # fmt: skip
PROJECT = (
    "name", "species", "state", "started", "goal", "horizon", "rest", "relatedness_limit", "welfare", "stages",
    "alternatives", "decisions", "captions", "about", "reviewed", "private",
)  # fmt: skip
OFFER = ("price", "state", "since", "ready")


def orders(keys: tuple[str, ...], inner: Order = last) -> tuple[Order, ...]:
    """The orders on the way to a value of an animal: in its record, or in its litter's.

    Args:
        keys: The names that lead to the animal within the record.
        inner: The order within the group that holds the value.
    """
    outer = (like(LITTER), last) if keys else ()
    return (*outer, like(ANIMAL), inner)


DATES = by_name
OFFERS = like(OFFER)
