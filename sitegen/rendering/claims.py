"""Sentences and claims as HTML, made by the program, so that no theme can alter their words."""

from markupsafe import Markup, escape

from sitegen.pages.parts import ClaimView, Line
from sitegen.rendering.drawings import draw_icon_array

LEVELS = (2, 3, 4)
"""Levels that a claim's heading may have."""


def draw_line(line: Line) -> Markup:
    """A sentence with its links."""
    return Markup("").join(
        Markup('<a href="{href}">{text}</a>').format(href=span.href, text=span.text) if span.href else escape(span.text)
        for span in line
    )


def draw_claim(claim: ClaimView, level: int = 3) -> Markup:
    """One claim, whole: what is claimed, why, what it rests on, and the picture of the odds.

    Args:
        claim: The claim.
        level: Level of its heading, 2 to 4.

    Raises:
        ValueError: The level is none of these.
    """
    if level not in LEVELS:
        raise ValueError(f"a claim's heading is of level 2, 3 or 4, not {level}")
    said = [Markup("<p>{}</p>\n").format(draw_line(line)) for line in claim.explanation]
    if claim.basis:
        said.append(Markup('<p class="claim-basis">{}</p>\n').format(draw_line(claim.basis)))
    picture = Markup("")
    if claim.odds:
        picture = Markup('<div class="claim-odds">{}</div>\n').format(draw_icon_array(claim.odds))
    return Markup(
        '<article class="claim">\n<div class="claim-words">\n<h{level}>{headline}</h{level}>\n{said}</div>\n'
        "{picture}</article>"
    ).format(level=level, headline=draw_line(claim.headline), said=Markup("").join(said), picture=picture)
