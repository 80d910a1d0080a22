"""Sentences and claims as HTML, made by the program, so that no theme can alter their words."""

from markupsafe import Markup, escape

from sitegen.pages.parts import ClaimView, Line, Span
from sitegen.rendering.drawings import draw_icon_array

LEVELS = (2, 3, 4)
"""Levels that a claim's heading may have."""


def draw_line(line: Line) -> Markup:
    """A sentence with its links."""
    return Markup("".join(map(_run, line)))  # noqa: S704 - each run is escaped


def _run(span: Span) -> str:
    """A run of a sentence, escaped."""
    text = escape(span.text)
    return f'<a href="{escape(span.href)}">{text}</a>' if span.href else text


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
    said = [f"<p>{draw_line(line)}</p>\n" for line in claim.explanation]
    if claim.basis:
        said.append(f'<p class="claim-basis">{draw_line(claim.basis)}</p>\n')
    picture = f'<div class="claim-odds">{draw_icon_array(claim.odds)}</div>\n' if claim.odds else ""
    return Markup(  # noqa: S704 - sentences and drawing are escaped, the level is a number
        f'<article class="claim">\n<div class="claim-words">\n<h{level}>{draw_line(claim.headline)}</h{level}>\n'
        f"{''.join(said)}</div>\n{picture}</article>"
    )
