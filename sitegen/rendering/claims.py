"""Sentences and claims as HTML, made by the program, so that no theme can alter their words."""

from functools import lru_cache

from markupsafe import Markup, escape

from sitegen.pages.parts import ClaimView, Line
from sitegen.rendering.drawings import draw_icon_array

LEVELS = (2, 3, 4)
"""Levels that a claim's heading may have."""


def draw_line(line: Line) -> Markup:
    """A sentence with its links."""
    return Markup(_html(line))  # noqa: S704 - each run is escaped


def _html(line: Line) -> str:
    return "".join([_run(span.text, span.href) for span in line])


@lru_cache(maxsize=8192)
def _run(text: str, href: str) -> str:
    """A run of a sentence, escaped; most stand on several pages that are made one after the other."""
    escaped = str(escape(text))
    return f'<a href="{escape(href)}">{escaped}</a>' if href else escaped


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
    said = [f"<p>{_html(line)}</p>\n" for line in claim.explanation]
    if claim.basis:
        said.append(f'<p class="claim-basis">{_html(claim.basis)}</p>\n')
    picture = f'<div class="claim-odds">{draw_icon_array(claim.odds)}</div>\n' if claim.odds else ""
    return Markup(  # noqa: S704 - sentences and drawing are escaped, the level is a number
        f'<article class="claim">\n<div class="claim-words">\n<h{level}>{_html(claim.headline)}</h{level}>\n'
        f"{''.join(said)}</div>\n{picture}</article>"
    )
