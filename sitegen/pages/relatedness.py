"""How closely the parents of an animal or a litter are related, in words."""

from fractions import Fraction

from sitegen.pages.material import Folio
from sitegen.pages.parts import Line
from sitegen.records.animals import Animal
from sitegen.records.litters import Litter
from sitegen.wording.relations import litter_sentence, parents_sentence


def inbreeding_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """How an animal's parents are related; empty when not both are recorded."""
    coefficient = folio.material.answers.inbreeding.get(animal.id)
    if coefficient is None or not animal.dam or not animal.sires:
        return ()
    return (folio.line(parents_sentence(coefficient)),)


def _of_young(litter: Litter, folio: Folio) -> Fraction | None:
    """The inbreeding coefficient of the young; None when neither a young nor the plan of the pairing tells it."""
    inbreeding, plan = folio.material.answers.inbreeding, folio.material.pairings.get(litter.id)
    known = next((inbreeding[young] for young in litter.young if young in inbreeding), None)
    return plan.kinship if known is None and plan else known


def litter_lines(litter: Litter, folio: Folio) -> tuple[Line, ...]:
    """How a litter's parents are related; empty when not both are recorded or nothing is known."""
    coefficient = _of_young(litter, folio)
    if coefficient is None or litter.dam is None or not litter.sires:
        return ()
    return (folio.line(litter_sentence(coefficient)),)
