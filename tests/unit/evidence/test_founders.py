from fractions import Fraction

from helpers.from_text import CORN, bound

from sitegen.evidence.answers import answers


def herd(shows: str) -> str:
    return f"{CORN}\n=== animals/a/animal.yaml\nspecies: corn-snake\n{shows}\nstated: {{banded: 50%}}\n"


def test_a_founder_of_unknown_sex_may_have_one_copy_only() -> None:
    # By hand, ZW: male (1/2) is +/+ or +/banded; female (1/2) is +/W or banded/W, and the last would show it.
    half = Fraction(1, 2)
    seen = half * half + half * half + half * half
    assert answers(bound(herd("shows: []"))).posteriors["a"]["banded"] == {
        ("+", "+"): half * half / seen,
        ("+", "banded"): half * half / seen,
        ("+", "W"): half * half / seen,
    }


def test_one_that_shows_it_has_one_copy() -> None:
    assert answers(bound(herd("shows: [banded]"))).posteriors["a"]["banded"] == {("banded", "W"): Fraction(1)}
