"""Whether the records support a statement, or say less or more than it."""

import pytest
from helpers.said_texts import about, audited, contents, quoted, told

from sitegen.findings import Kind, Level

OVERCLAIMS = (
    "het hypo; Proven het hypo; 2/3 het hypo; Het ghost; She carries hypo; 100% het hypo and stripe; 10% het hypo; "
    "poss het amel; Homozygous for amel; Proven het caramel; het caramel; 10% het anery; super palmetto"
)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("A quiet female, 25% het hypo.", "25% het hypo"),
        ("She is possibly het amel.", "possibly het amel"),
        ("Possible het for anery.", "Possible het for anery"),
        ("66% het amel.", "66% het amel"),
        ("1/4 het hypo", "1/4 het hypo"),
        ("She may carry anery.", "may carry anery"),
        ("10% chance of carrying hypo", "10% chance of carrying hypo"),
    ],
)
def test_words_that_say_less_are_a_notice(text: str, words: str) -> None:
    (finding,) = about(text)
    assert (finding.level, finding.kind, quoted(finding)) == (Level.NOTICE, Kind.UNDERCLAIM, words)


def test_an_animal_that_shows_a_gene_is_more_than_het_for_it() -> None:
    (finding,) = about("A motley, het amel.", "juniper")
    assert (finding.kind, quoted(finding)) == (Kind.UNDERCLAIM, "het amel")
    assert "two copies" in finding.expected


def test_what_hangs_on_a_previous_keepers_word_is_not_proven_and_is_to_be_called_so() -> None:
    (finding,) = about("Het caramel.", "flint")
    assert (finding.level, finding.kind) == (Level.NOTICE, Kind.OVERCLAIM)
    assert finding.nearest == "said to carry caramel"
    (finding,) = about("Proven het caramel.", "flint")
    assert finding.level is Level.ERROR


HEARD = """
=== animals/moss/animal.yaml
species: corn-snake
shows: []
unsure: [caramel]
stated: {caramel: {caramel/caramel: 1}}
"""
"""A previous keeper's word that she has two copies; nobody judged by eye."""


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("She may carry caramel.", None),
        ("Possible het caramel.", None),
        ("Het caramel.", Level.NOTICE),
        ("Has two copies of caramel.", Level.NOTICE),
        ("Has two copies of caramel for certain.", Level.ERROR),
        ("Carries caramel for certain.", Level.ERROR),
        ("Tested: carries caramel.", Level.ERROR),
    ],
)
def test_two_copies_by_a_previous_keepers_word(text: str, level: Level | None) -> None:
    """To doubt another's word says no less than the evidence; to leave the doubt out is a notice, proof an error."""
    found = audited(contents(f"{HEARD}about: '{text}'\n"))
    assert [finding.level for finding in found] == ([level] if level else [])


def test_an_expected_or_unlisted_litter_is_not_judged_by_young_that_do_not_exist() -> None:
    litter = "=== litters/2026-x/litter.yaml\ndam: juniper\nsire: flint\nothers: [{count: 3, shows: [anery]}]\n"
    assert audited(contents(f"{litter}about: All of them are 100% het caramel.\n")) == ()


def test_young_that_are_not_listed_count_where_they_show_it() -> None:
    text = "others: [{count: 2, shows: [anery]}]\nabout: There are two that carry anery.\n"
    assert audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\n{text}")) == ()


def test_an_answer_that_is_missing_is_not_judged() -> None:
    clash = "=== animals/rue/animal.yaml\nspecies: corn-snake\nshows: []\nname: Rue\n"
    assert told(audited(contents(clash + "about: A calm male.\n"))) == []


@pytest.mark.parametrize("animal", ["juniper", "flint", "sorrel"])
@pytest.mark.parametrize("text", OVERCLAIMS.split("; "))
def test_the_nearest_words_that_are_offered_are_right_themselves(text: str, animal: str) -> None:
    for finding in about(text, animal):
        if finding.nearest:
            assert told(about(f"A calm animal, {finding.nearest}.", animal)) == []
