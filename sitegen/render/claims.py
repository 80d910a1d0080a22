"""Sentences and claims as HTML, made by the program, so that no theme can alter their words."""

from markupsafe import Markup

from sitegen.render.drawings import draw_icon_array
from sitegen.render.html import escaped, ready
from sitegen.site.parts import ClaimView, Line

LEVELS = (2, 3, 4)
"""Levels that a claim's heading may have."""


def draw_line(line: Line) -> Markup:
    """A sentence with its links."""
    return ready(_html(line))


def _html(line: Line) -> str:
    return "".join(
        [
            f'<a href="{escaped(span.href)}">{escaped(span.text)}</a>' if span.href else escaped(span.text)
            for span in line
        ]
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
    said = [f"<p>{_html(line)}</p>\n" for line in claim.explanation]
    if claim.basis:
        said.append(f'<p class="claim-basis">{_html(claim.basis)}</p>\n')
    picture = f'<div class="claim-odds">{draw_icon_array(claim.odds)}</div>\n' if claim.odds else ""
    return ready(
        f'<article class="claim">\n<div class="claim-words">\n<h{level}>{_html(claim.headline)}</h{level}>\n'
        f"{''.join(said)}</div>\n{picture}</article>"
    )
