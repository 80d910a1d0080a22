"""How closely the parents of an animal or a litter are related, in words."""

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.evidence.descent import Related
from sitegen.site.material import Folio
from sitegen.site.parts import Line
from sitegen.words.relations import litter_sentence, parents_sentence


def inbreeding_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """How an animal's parents are related; empty when not both are recorded."""
    related = folio.material.answers.relations.get(animal.id)
    return (folio.line(parents_sentence(related, animal.id, folio.voice)),) if related else ()


def _of_young(litter: Litter, folio: Folio) -> Related | None:
    """How the parents of the young are related; None when neither a young nor the plan of the pairing tells it."""
    relations, plan = folio.material.answers.relations, folio.material.pairings.get(litter.id)
    known = next((relations[young] for young in litter.young if young in relations), None)
    return plan.related if known is None and plan else known


def litter_lines(litter: Litter, folio: Folio) -> tuple[Line, ...]:
    """How a litter's parents are related; empty when not both are recorded or nothing is known."""
    related = _of_young(litter, folio)
    if related is None or litter.dam is None or not litter.sires:
        return ()
    return (folio.line(litter_sentence(related, litter.young, folio.voice)),)
