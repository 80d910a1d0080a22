"""The page "how to read our odds", with an example that really stands on a page of the site."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.site.material import Folio
from sitegen.site.parts import IconArray, Line
from sitegen.site.views import odds_picture
from sitegen.words.claims import is_hidden_recessive
from sitegen.words.method import method_parts
from sitegen.words.speech import Text, Words, _


@dataclass(frozen=True, slots=True)
class OddsPassage:
    """A titled part of a text, with an anchor."""

    id: str
    title: str
    paragraphs: tuple[Line, ...]
    odds: IconArray | None = None


@dataclass(frozen=True, slots=True)
class OddsPage:
    """How to read our odds, and how they are made."""

    passages: tuple[OddsPassage, ...]


_BEST_KNOWN = Fraction(2, 3)
"""The chance that is easiest to explain: the 2/3 of normal-looking young of two carriers."""


def example_claim(folio: Folio) -> Claim | None:
    """The claim that explains best: a hidden recessive, its chance as near as can be to 2/3."""
    claims = (claim for animal in folio.collection.animals for claim in folio.claims(animal) if 0 < claim.chance < 1)
    fitting = [c for c in claims if c.kind is ClaimKind.MAY_CARRY and is_hidden_recessive(c, folio.voice)]

    def far_from_it(claim: Claim) -> tuple[Fraction, bool]:
        return abs(claim.chance - _BEST_KNOWN), claim.basis is Basis.PREVIOUS_KEEPER

    return min(fitting, key=far_from_it, default=None)


def odds_page(folio: Folio) -> OddsPage:
    """How to read our odds, and what they take for granted."""
    claim = example_claim(folio)
    gene: Words = folio.voice.gene(claim) if claim else Text(_("a hidden gene"))
    chance = claim.chance if claim else _BEST_KNOWN
    return OddsPage(
        tuple(
            OddsPassage(
                id=part.id,
                title=part.title,
                paragraphs=folio.lines(part.paragraphs),
                odds=odds_picture(part.chance) if part.chance is not None else None,
            )
            for part in method_parts(gene, chance)
        )
    )
