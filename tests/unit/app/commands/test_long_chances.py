"""Exact chances of many thousand digits: built, published and taken over by the next keeper."""

import json
import sys
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.program import run
from hypothesis import given
from hypothesis import strategies as st

from sitegen.exact import writable, written

LITTERS, YOUNG = 90, 150
"""None of 13,500 young shows it: the chance has a denominator of about 8,000 digits."""


@pytest.fixture
def many_digits() -> Iterator[None]:
    """This process may write them too, to compare."""
    before = sys.get_int_max_str_digits()
    sys.set_int_max_str_digits(100_000)
    yield
    sys.set_int_max_str_digits(before)


@pytest.fixture
def large_family(tmp_path: Path) -> Path:
    content = tmp_path / "content"
    own = "species: corn-snake\nborn: 2015-01-01\nshows: []\nstated: {amel: 66%}\n"
    files = {
        "site.yaml": "name: Large\ncurrency: GBP\n",
        "species/corn-snake.yaml": "name: corn snake\nloci:\n  amel: {inheritance: recessive}\n",
        "animals/f/animal.yaml": f"{own}sex: female\noffer: {{price: 10, state: available, since: 2026-01-01}}\n",
        "animals/m/animal.yaml": f"{own}sex: male\n",
    }
    for number in range(LITTERS):
        litter = f"dam: f\nsire: m\nborn: 2025-01-01\nothers: [{{count: {YOUNG}, shows: []}}]\n"
        files[f"litters/l{number}/litter.yaml"] = litter
    for path, text in files.items():
        (content / path).parent.mkdir(parents=True, exist_ok=True)
        (content / path).write_text(text, encoding="utf-8")
    return tmp_path


@pytest.mark.usefixtures("many_digits")
def test_a_chance_of_many_digits_is_published_kept_and_taken_over(large_family: Path) -> None:
    assert run(large_family, "build", "--workers", "2").returncode == 0
    paper = large_family / "output/animals/f-paper.json"
    (claim,) = json.loads(paper.read_text(encoding="utf-8"))["claims"]
    # by hand: both may carry it (2/3 each); given 13,500 plain young, q = (3/4)^n: the dam carries it with
    # (2/3)(2/3 q + 1/3) / (1 - (2/3)(2/3)(1 - q)), which is just above 2/5
    n = LITTERS * YOUNG
    exact = Fraction(4 * 3**n + 2 * 4**n, 4 * 3**n + 5 * 4**n)
    assert claim["chance"] == f"{exact.numerator}/{exact.denominator}"
    page = large_family / "output/animals/f.html"
    assert "about 40 in 100" in page.read_text(encoding="utf-8")
    site = large_family / "content/site.yaml"
    site.write_text("name: Larger\ncurrency: GBP\n", encoding="utf-8")
    assert run(large_family, "build").returncode == 0
    assert "Larger" in page.read_text(encoding="utf-8")
    assert run(large_family, "add", "animal", "Q", "--from-paper", str(paper)).returncode == 0
    assert run(large_family, "check").returncode == 0
    told = run(large_family, "why", "q", "amel").stdout
    assert "about 40 in 100" in told


@given(st.lists(st.integers(0, 3), min_size=2, max_size=4), st.integers(1, 900))
def test_odds_that_are_too_long_are_told_to_forty_places_and_nothing_becomes_certain(
    weights: list[int], power: int
) -> None:
    shares = [7 ** (power * weight) for weight in weights]
    odds = {rank: Fraction(share, sum(shares)) for rank, share in enumerate(shares)}
    found = writable(odds)
    assert sum(found.values()) == 1
    assert all(0 < chance < 1 and abs(chance - odds[rank]) < Fraction(4, 10**40) for rank, chance in found.items())
    assert all(len(written(chance)) <= 100 for chance in found.values())
    if all(len(written(chance)) <= 100 for chance in odds.values()):
        assert found == odds
