"""The words of a drawn pedigree: its legend, and its description for those who do not see it."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sitegen.words.speech import _


class Fill(StrEnum):
    """What fills the region of one gene in a symbol."""

    SHOWS = "shows"
    CARRIES = "carries"
    MAY_CARRY = "may carry"
    OPEN = "open"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class PedigreeWords:
    """Legend and description.

    Attributes:
        title: Of the drawing, with the place ``name``.
        not_recorded: Below the symbol of a parent of whom nothing is recorded.
        no_parents: Said when there is nothing but the animal to draw.
        shapes: What square, circle and diamond mean.
        regions: Number of genes (one, two, three or four) to where the region of each lies, with the place ``gene``.
        fills: What fills a region.
        asked, died, related, twice, undrawn: The other marks and notes.
        said, said_shapes, said_died, said_related: The same in the description.
    """

    title: str
    not_recorded: str
    no_parents: str
    shapes: tuple[str, str, str]
    regions: tuple[tuple[str, ...], ...]
    fills: Mapping[Fill, str]
    asked: str
    died: str
    related: str
    twice: str
    undrawn: str
    said: Mapping[Fill, str]
    said_shapes: Mapping[str, str]
    said_died: str
    said_related: str


def pedigree_words() -> PedigreeWords:
    """The words in the language of the site."""
    return PedigreeWords(
        title=_("Pedigree of {name}: parents and grandparents"),
        not_recorded=_("not recorded"),
        no_parents=_("Its parents are not recorded."),
        shapes=(_("male"), _("female"), _("sex not known")),
        regions=(
            (_("{gene}"),),
            (_("left: {gene}"), _("right: {gene}")),
            (_("upper left: {gene}"), _("upper right: {gene}"), _("lower left: {gene}"), _("lower right: {gene}")),
        ),
        fills={
            Fill.SHOWS: _("filled: shows it"),
            Fill.CARRIES: _("crossed lines: has it unseen, or is said to"),
            Fill.MAY_CARRY: _("single lines: may have it unseen"),
            Fill.OPEN: _("open: not known to have it"),
            Fill.UNKNOWN: _("question mark: not known"),
        },
        asked=_("arrow: the animal of this paper"),
        died=_("stroke: has died"),
        related=_("double line: the two are related"),
        twice=_("An animal in two places is drawn twice."),
        undrawn=_("Genes beyond these four are told above and not drawn."),
        said={
            Fill.SHOWS: _("shows it"),
            Fill.CARRIES: _("has it unseen, or is said to"),
            Fill.MAY_CARRY: _("may have it unseen"),
            Fill.OPEN: _("not known to have it"),
            Fill.UNKNOWN: _("nothing is known"),
        },
        said_shapes={"square": _("male"), "circle": _("female"), "diamond": _("sex not known")},
        said_died=_("has died"),
        said_related=_("A double line joins mates that are related."),
    )
