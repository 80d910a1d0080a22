"""The ways of writing a statement, and where one het ends and the next begins."""

from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound
from helpers.said_texts import about, quoted

from sitegen.findings import Level
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


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("66%het hypo", "66%het hypo"),
        ("het. hypo 66%", "het. hypo 66%"),
        ("66 percent het hypo", "66 percent het hypo"),
        ("50-66% het hypo", "50-66% het hypo"),
        ("2 in 3 chance of being het hypo", "2 in 3 chance of being het hypo"),
        ("100% hypo", "100% hypo"),
        ("66% poss. het hypo", "66% poss. het hypo"),
        ("a 66% hypo het", "66% hypo het"),
        ("het hypo", "het hypo"),
        ("hets: hypo", "hets: hypo"),
        ("double het hypo and amel", "double het hypo and amel"),
        ("heterozygous for hypo", "heterozygous for hypo"),
        ("a proven hypo carrier", "proven hypo carrier"),
        ("carrier of hypo", "carrier of hypo"),
        ("She is carrying the hypo gene.", "carrying the hypo"),
        ("proven for hypo", "proven for hypo"),
        ("She is a ghost.", "ghost"),
        ("Ghost at three months", "Ghost"),
        ("This female is a light ghost.", "ghost"),
        ("Sorrel is motley.", "motley"),
        ("She shows amel.", "amel"),
        ("visual stripe", "stripe"),
        ("homozygous motley", "homozygous motley"),
        ("A striped motley with clean lines.", "striped motley"),
        ("100% het", ""),
        ("From Juniper and Flint, 66% het hypo.", "66% het hypo"),
        ("66% het hypo, would suit a beginner.", "66% het hypo"),
        ("Not tested yet, 66% het hypo.", "66% het hypo"),
        ("Her sire Flint is 100% het hypo.", "100% het hypo"),
        ("From a het hypo mother.", "het hypo"),
        ("Her dam, who is het caramel, is calm.", "het caramel"),
        ("Juniper's dam aside, Juniper is het caramel.", "het caramel"),
    ],
)
def test_every_way_of_writing_is_read(text: str, words: str) -> None:
    findings = about(text)
    if not words:  # some hidden gene of hers fits it
        assert findings == ()
        return
    assert {(finding.level, quoted(finding)) for finding in findings} == {(Level.ERROR, words)}
