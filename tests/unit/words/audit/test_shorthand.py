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
        ("#hethypo #cornsnake", "#hethypo"),
        ("#66hethypo", "#66hethypo"),
        ("#hetamelhypo", "#hetamelhypo"),
        ("#posshetstripe", "#posshetstripe"),
        ("hypo het 100%", "hypo het 100%"),
        ("hypo/stripe het", "hypo/stripe het"),
        ("Hypo het, a calm girl.", "Hypo het"),
        ("h. hypo", "h. hypo"),
        ("h. Hypo, a calm girl.", "h. Hypo"),
        ("1.0 Ghost", "Ghost"),
        ("0.1 hypo female, calm", "hypo"),
        ("aa for amel", "aa for amel"),
        ("Aa for hypo", "Aa for hypo"),
        ("She will throw hypos.", "will throw hypos"),
        ("She will produce stunning ghosts!", "will produce stunning ghosts"),
        ("Half the clutch will be hypo.", "Half the clutch will be hypo"),
        ("All her babies will be het anery.", "All her babies will be het anery"),
        ("Her babies will all be het anery.", "Her babies will all be het anery"),
        ("100% of her young will be het amel.", "100% of her young will be het amel"),
        ("A quad het, all told", "quad het"),
        ("Carries hypo with a chance of 2/3.", "Carries hypo with a chance of 2/3"),
        ("carries hypo (about 33 in 100)", "carries hypo"),
        ("She may carry hypo: about 67 in 100 such young do.", "may carry hypo"),
        (
            "About 67 in 100 animals like this one carry hypo and 33 do not.",
            "67 in 100 animals like this one carry hypo",
        ),
        ("Possible het hypo (67 in 100), female, 2023", "Possible het hypo"),
        ("Has hypo for certain.", "Has hypo for certain"),
        ("h e t hypo", "het hypo"),
        ("het h y p o", "het hypo"),
        ("c-a-r-r-i-e-s hypo", "carries hypo"),
        ("DNA-tested: het hypo", "DNA-tested: het hypo"),
    ],
)
def test_every_way_of_writing_is_read(text: str, words: str) -> None:
    findings = about(text)
    if not words:  # some hidden gene of hers fits it
        assert findings == ()
        return
    assert {(finding.level, quoted(finding)) for finding in findings} == {(Level.ERROR, words)}


SUPPORTED = [  # the same ways of writing, of what Sorrel carries
    "#hetamel #hetanery #33hethypo, and what the #hetero life is like",
    "amel het 100%",
    "amel/anery het",
    "Amel het anery.",
    "After 24 h. Hypo young woke up. Every 48 h. hypo siblings eat.",
    "We keep 1.1 hypo here. The room is at 1.0 bar. From a 1.0 anery and a 0.1 amel.",
    "Aa for amel, and the lamps take AA for anery light.",
    "She will throw amels and anerys. She will throw a fit when she is hungry.",
    "Half of her young will be het amel. Half the clutch will be sold, and all her babies will be hypoallergenic.",
    "If all goes well, half the clutch will be hypo. We hope that half the clutch will be hypo.",
    "Half the clutch will be hypo if her sire handed it on.",
    "A triple het. Triple het for amel, anery and motley.",
    "Carries hypo with a chance of 1/3. Carries amel, with a chance of rain today.",
    "May carry hypo: about 33 in 100 such young do. Het hypo (33 in 100).",
    "About 33 in 100 animals like this one carry hypo and 67 do not. About 67 in 100 young of two carriers carry hypo.",
    "She may have hypo young. She has amel eyes for certain.",
    "Type A B C, from the U.S.A., and h.o.t. boxes.",
    "A proven breeder, DNA-tested for hypo, result pending.",
]  # fmt: skip


@pytest.mark.parametrize("text", SUPPORTED)
def test_the_same_ways_of_writing_are_right_where_the_evidence_says_so(text: str) -> None:
    assert [finding.message for finding in about(text)] == []


def test_a_longer_chance_belongs_to_a_verb_only_where_it_says_may() -> None:
    """ "Carries" beside a number in brackets still says that it carries."""
    assert [finding.level for finding in about("She carries hypo: about 33 in 100 such young do.")] == [Level.ERROR]
    assert about("She may carry hypo: about 33 in 100 such young do.") == ()
