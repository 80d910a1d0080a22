"""The page "how to read our odds", with an example that really stands on a page of the site."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.site.material import Folio, Material
from sitegen.site.parts import IconArray, Line
from sitegen.words.claims import is_hidden_recessive
from sitegen.words.method import method_parts
from sitegen.words.numbers import Edge, about_in_100, both_sides, count_text, in_100
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


def example_claim(material: Material) -> Claim | None:
    """The claim that explains best: a hidden recessive, its chance as near as can be to 2/3."""
    claims = [claim for animal in material.collection.animals for claim in material.claims.get(animal, ())]
    fitting = [
        claim
        for claim in claims
        if claim.kind is ClaimKind.MAY_CARRY and 0 < claim.chance < 1 and is_hidden_recessive(claim, material.voice)
    ]
    return (
        min(fitting, key=lambda claim: (abs(claim.chance - _BEST_KNOWN), claim.basis is Basis.PREVIOUS_KEEPER))
        if fitting
        else None
    )


def odds_picture(chance: Fraction) -> IconArray:
    """A chance as a picture of a hundred."""
    count = about_in_100(chance)
    filled = count if isinstance(count, int) else {Edge.FEWER_THAN_1: 1, Edge.MORE_THAN_99: 99}[count]
    yes, no = both_sides(chance)
    described = _("A hundred marks in ten rows: {yes} filled, {no} open.")
    return IconArray(filled, in_100(chance), described.format(yes=count_text(yes), no=count_text(no)))


def odds_page(folio: Folio) -> OddsPage:
    """How to read our odds, and what they take for granted."""
    claim = example_claim(folio.material)
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
