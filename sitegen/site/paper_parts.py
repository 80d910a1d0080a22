"""What the buyer's paper and its file for machines share, the same for littermates of whom the same is told."""

from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.evidence.cautions import gene_cautions, offer_cautions
from sitegen.site.animal import not_known_lines
from sitegen.site.claim_views import ClaimViews, combination_sentence, shows_sentence, unlinked_views
from sitegen.site.family import dam_words, sires_words
from sitegen.site.material import Folio, once_an_animal
from sitegen.site.parts import Line
from sitegen.site.relatedness import inbreeding_lines
from sitegen.words.buying import short_caution
from sitegen.words.speech import plain


@dataclass(frozen=True, slots=True)
class PaperParts:
    """What claims tell on a paper, without links.

    Attributes:
        in_words: What the animal shows.
        claims: The claims.
        combination: The trade name of what it shows together; empty when no name fits.
        dam, sires: Its parents by name.
        relatedness: How they are related.
        not_known: What no claim is made about.
        cautions: The cautions of the animal's genes and of every offer, each in short; also for one that is sold.
    """

    in_words: str
    claims: ClaimViews
    combination: str
    dam: str
    sires: str
    relatedness: tuple[str, ...]
    not_known: tuple[str, ...]
    cautions: tuple[str, ...]


@once_an_animal
def paper_parts(animal: Animal, folio: Folio) -> PaperParts:
    """What claims tell on the paper of an animal."""
    cautions = (
        *gene_cautions(folio.collection, folio.claims(animal.id)),
        *offer_cautions(folio.collection, animal.species),
    )
    return PaperParts(
        in_words=plain(shows_sentence(animal, folio)),
        claims=unlinked_views(animal, folio),
        combination=plain(combination_sentence(animal, folio)),
        dam=plain(dam_words(animal, folio)),
        sires=plain(sires_words(animal, folio)),
        relatedness=tuple(text_of(line) for line in inbreeding_lines(animal, folio)),
        not_known=tuple(text_of(line) for line in not_known_lines(animal, folio)),
        cautions=tuple(dict.fromkeys(plain(short_caution(caution, folio.voice)) for caution in cautions)),
    )


def text_of(line: Line) -> str:
    """The words of a line alone."""
    return "".join(span.text for span in line)
