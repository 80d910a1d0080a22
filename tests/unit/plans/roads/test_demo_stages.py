"""Two stages of the demonstration, derived by hand beside what the program says."""

import datetime as dt
from fractions import Fraction
from functools import cache
from math import comb
from pathlib import Path

from helpers.drawn import near
from helpers.outlooks import outlook

from sitegen.content.binding import bind_content
from sitegen.content.folder import read_content
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.plans.roads.kinds import StageOutlook

CONTENT = Path(__file__).parents[4] / "content"
TODAY = dt.date(2026, 10, 25)
HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)
WEIGHTS = {n: Fraction(n - 4, 7) if n <= 11 else Fraction(24 - n, 13) for n in range(5, 24)}
"""Of the number of young of a clutch, in proportion.

A clutch of 6 to 28, usually 13, has 47/3 young on average: triangular weights 1..8 up to 13, then 15/16..1/16. Five
clutches with 52 young count beside it as 5 more: (5 * 47/3 + 52) / 10 is 0.832 of it, so few, usual and many are 5, 11
and 23, and the weights rise by sevenths and fall by thirteenths.
"""


@cache
def asked() -> Asked:
    collection, findings = bind_content(read_content(CONTENT)[0])
    assert collection is not None, findings
    return ask(gather(collection))


def stage(project: str, at: int) -> StageOutlook:
    return outlook(asked(), asked().evidence.collection.projects[project], TODAY).stages[at]


def at_most(k: int, n: int, q: Fraction) -> Fraction:
    return sum((comb(n, j) * q**j * (1 - q) ** (n - j) for j in range(k + 1)), Fraction(0))


def test_the_first_pairing_of_copper_lace() -> None:
    # Fennel is caramel; Flint is a tessera, and his plain young prove that he has one copy. Two amelanistic
    # young of 2024 prove today that both carry amelanistic.
    first = stage("copper-lace", 0)
    rows = {row.looks: row for row in first.looks}
    # tessera 1/2 and amelanistic 1/4, independent of each other:
    assert rows["amel", "tessera"].chance == QUARTER * HALF == Fraction(1, 8)
    assert rows["tessera",].chance == Fraction(3, 4) * HALF == Fraction(3, 8)
    # Of young without amel 2/3 carry it; all young carry caramel, because Fennel has two.
    assert rows["tessera",].carries == {"amel": Fraction(2, 3), "caramel": 1}
    sons, daughters = first.holdbacks
    # A son that shows tessera: 1/2 * 1/2; he may be amelanistic as well, so he has amel with 3/4 all in all.
    assert sons.right == QUARTER
    assert sons.each["caramel"] == 1
    assert sons.carries == (Fraction(3, 4) if "amel" in sons.unseen else 1)
    # A daughter that shows both: 1/2 * 1/8; caramel is certain.
    assert (daughters.right, daughters.carries) == (Fraction(1, 16), 1)
    mean = sum(n * weight for n, weight in WEIGHTS.items()) / sum(WEIGHTS.values())
    assert daughters.expected == mean / 16


def test_what_the_first_clutch_of_copper_lace_gave() -> None:
    (litter,) = stage("copper-lace", 0).litters
    assert litter.as_of == dt.date(2024, 7, 16)
    sons, daughters, goal = litter.counted
    # Eight young were sexed; on the day before each was a male tessera with 1/4: two were expected and two came.
    assert (sons.n_young, sons.came, sons.expected) == (8, 2, 2)
    assert sons.as_few == at_most(2, 8, QUARTER)
    assert sons.as_many == 1 - at_most(1, 8, QUARTER)
    # The word of Fennel's keeper made her a carrier for certain, Flint was one with 2/3: 2/3 * 1/16 for an amelanistic
    # tessera daughter.
    assert (daughters.n_young, daughters.came) == (8, 1)
    assert daughters.expected == 8 * Fraction(2, 3) * Fraction(1, 16)
    assert daughters.as_many == Fraction(2, 3) * (1 - at_most(0, 8, Fraction(1, 16)))
    # Nobody knew of caramel on Flint's side: no butter tessera could come, and none did.
    assert (goal.came, goal.expected, goal.as_few, goal.as_many) == (0, 0, 1, 1)


def test_the_second_pairing_of_river_mist() -> None:
    # Every young of the first pairing carries anery and diffused for certain: 1/4 * 1/4 of theirs show both. None is
    # kept yet, so what they give is drawn: shares of the young of first litters, and of first litters.
    first, second = (stage("river-mist", at) for at in (0, 1))
    assert {row.looks: row.carries for row in first.looks} == {(): {"anery": 1, "diffused": 1}}
    (goal,) = second.holdbacks
    assert second.looks == ()
    assert goal.drawn > 0
    sixteenth = Fraction(1, 16)
    assert near(goal.right, sixteenth, goal.drawn * 12)  # a clutch has more than 12 young on average
    none = sum(weight * (1 - sixteenth) ** n for n, weight in WEIGHTS.items()) / sum(WEIGHTS.values())
    assert near(goal.in_one_litter, 1 - none, goal.drawn)
    # Siblings: 1/4.
    assert second.inbreeding == QUARTER
