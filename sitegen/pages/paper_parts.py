"""What the buyer's paper and its file for machines have in common beside the claims."""

from collections.abc import Sequence

from sitegen.claims.cautions import Caution, gene_cautions, offer_cautions
from sitegen.pages.animal import not_known_lines
from sitegen.pages.material import Folio
from sitegen.pages.parts import Line
from sitegen.records.animals import Animal
from sitegen.wording.cautions import short_caution
from sitegen.wording.runs import plain
from sitegen.wording.speech import tongue


def text_of(line: Line) -> str:
    """The words of a line alone."""
    return "".join(span.text for span in line)


def not_known_texts(animal: Animal, folio: Folio) -> tuple[str, ...]:
    """What no claim is made about."""
    return tuple(text_of(line) for line in not_known_lines(animal, folio))


def caution_texts(animal: Animal, folio: Folio) -> tuple[str, ...]:
    """The cautions of the animal's genes and of every offer, each in short; also for one that is sold."""
    genes = gene_cautions(folio.collection, folio.claims(animal.id))
    return tuple(dict.fromkeys((*_in_short(genes, folio), *_of_every_offer(animal.species, folio))))


def _of_every_offer(species: str, folio: Folio) -> tuple[str, ...]:
    """The cautions of every offer of a species, in short."""

    def make() -> tuple[str, ...]:
        return _in_short(offer_cautions(folio.collection, species), folio)

    return folio.material.remembered(("cautions in short", species, tongue()), make)


def _in_short(cautions: Sequence[Caution], folio: Folio) -> tuple[str, ...]:
    return tuple(plain(short_caution(caution, folio.voice)) for caution in cautions)
