"""The words that follow from how a species is born: clutch or litter, hatched or born."""

from dataclasses import dataclass

from sitegen.content.species import Births, Species
from sitegen.words.speech import _, told_alike


@dataclass(frozen=True, slots=True)
class BirthWords:
    """Words for one way of being born.

    Attributes:
        litter, litters: ``clutch`` or ``litter``.
        one, many: ``hatchling`` or ``newborn``.
        came: ``hatched`` or ``born``, for a date.
        none_yet: What is said of a litter before its young are here.
    """

    litter: str
    litters: str
    one: str
    many: str
    came: str
    none_yet: str


def birth_words(species: Species) -> BirthWords:
    """The words that fit a species."""
    return _words(species.births)


@told_alike
def _words(births: Births) -> BirthWords:
    if births is Births.EGGS:
        return BirthWords(
            _("clutch"), _("clutches"), _("hatchling"), _("hatchlings"), _("hatched"), _("Nothing has hatched yet.")
        )
    return BirthWords(
        _("litter"), _("litters"), _("newborn"), _("newborns"), _("born"), _("No young have been born yet.")
    )
