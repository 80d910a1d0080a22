"""Where one het ends and the next begins."""

from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound

from sitegen.words.audit.lexicon import lexicon_of
from sitegen.words.audit.shorthand import Says, Shorthand


def read(text: str) -> list[tuple[tuple[str, ...], Says, Fraction]]:
    shorthand = Shorthand(lexicon_of(bound(CORN).species["corn-snake"]))
    found = shorthand.read(text, 0, len(text), names=(), label=True, opens=True)
    return [
        (tuple(allele for gene in each.genes for _, allele in gene.carried), each.says, each.chance) for each in found
    ]


CERTAIN, TWO_THIRDS = Fraction(1), Fraction(2, 3)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "het hypo 66% het caramel",
            [(("hypo",), Says.CARRIES, CERTAIN), (("caramel",), Says.CARRIES, TWO_THIRDS)],
        ),
        (
            "het hypo 66% poss het caramel",
            [(("hypo",), Says.CARRIES, CERTAIN), (("caramel",), Says.CARRIES, TWO_THIRDS)],
        ),
        ("het hypo 66%", [(("hypo",), Says.CARRIES, TWO_THIRDS)]),
        ("het hypo (66%)", [(("hypo",), Says.CARRIES, TWO_THIRDS)]),
        ("ph hypo", [(("hypo",), Says.MAY_CARRY, CERTAIN)]),
        ("66% ph hypo", [(("hypo",), Says.CARRIES, TWO_THIRDS)]),
    ],
)
def test_each_het_has_its_own_number(text: str, expected: list[object]) -> None:
    assert expected == read(text)
