"""A claim in two lines: the statement; its reasons and basis as one smaller line; what has no room folds."""

import re

from sitegen.render.prose import ROOM, draw_claim, draw_statement
from sitegen.site.parts import ClaimView, IconArray, words

LONG = "x" * ROOM


def claim(*reasons: str, odds: IconArray | None = None) -> ClaimView:
    told = tuple(words(reason) for reason in reasons)
    return ClaimView("may carry", words("hypo"), words("May carry hypo."), told, words("Basis: our own records."), odds)


def unfolded(html: str) -> str:
    return re.sub(r"<details.*?</details>", "", html, flags=re.DOTALL)


def test_reasons_that_fit_a_line_stand_there_whole() -> None:
    short = claim("His dam shows it.", "He does not.", "Not proven.")
    assert draw_claim(short, 3, "More reasons") == draw_claim(short)
    assert "<details" not in draw_claim(short)


def test_long_reasons_fold_but_the_deciding_one_what_is_not_proven_and_the_basis() -> None:
    drawn = draw_claim(claim("His dam shows it.", LONG, "He <does> not.", "Not proven."), 3, "More reasons")
    stays = unfolded(drawn)
    for words_of in ("May carry hypo.", "His dam shows it.", "Not proven.", "Basis: our own records."):
        assert words_of in stays
    assert LONG not in stays
    assert f"<summary>More reasons</summary>\n<p>{LONG}</p>\n<p>He &lt;does&gt; not.</p>\n</details>" in drawn


def test_without_a_label_nothing_folds_and_nothing_is_lost_by_folding() -> None:
    long = claim("One.", LONG, "Three.", "Four.")
    assert "<details" not in draw_claim(long)
    for reason in ("One.", LONG, "Three.", "Four."):
        assert draw_claim(long).count(f"<p>{reason}</p>") == draw_claim(long, 3, "More").count(f"<p>{reason}</p>") == 1
    assert "<details" not in draw_claim(claim(LONG, LONG), 3, "More")


def test_a_statement_is_the_sentence_with_its_odds_small() -> None:
    assert draw_statement(claim("Not proven.")) == '<p class="statement"><span>May carry hypo.</span></p>'
    drawn = draw_statement(claim(odds=IconArray(33, "t", "d")))
    assert drawn.startswith('<p class="statement"><svg class="dots"')
