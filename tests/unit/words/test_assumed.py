"""What a plan takes for granted, word for word: with its source, with the mark of custom, as our own, or as unknown."""

from fractions import Fraction

import pytest
from helpers.from_text import bound

from sitegen.plans.assumed import taken_for_granted
from sitegen.words.assumed import granted_sentences
from sitegen.words.sources import source_words
from sitegen.words.speech import plain

OWN = "A figure without a source beside it is our own."


def told(species: str, *, rest: str = "") -> list[str]:
    """The sentences on a species that bears live young, for a plan that may ask for another rest."""
    project = f"=== projects/p/project.yaml\nspecies: s\n{rest}\ngoal: {{shows: [a]}}\n"
    genes = "births: live\nloci: {a: {inheritance: recessive}}"
    collection = bound(f"=== species/s.yaml\n{species}\n{genes}\n{project}")
    own = collection.species["s"]
    granted = taken_for_granted(own, collection, collection.projects["p"])
    return [plain(each) for each in granted_sentences(granted, own, "en-GB")]


def test_nothing_is_known() -> None:
    assert told("name: s") == [
        "We have not written down how often a pairing gives a litter. We take it that each one does.",
        "We have not written down how many litters a dam has in a season. We take one.",
        "We have not written down how many young a litter has. We take 4 to 20, most often 10.",
        "We have not written down when this kind is bred. We take March for pairing and July for the young.",
        "We have not written down how long a dam rests. She may have young in every season of this sum.",
        "We have not written down whether a dam rests after a pairing that did not take. We take it that she does not.",
        "We have not written down from which age on this kind is bred. We take the season after birth.",
    ]


@pytest.mark.parametrize(
    ("line", "at", "expected"),
    [
        ("takes: 9/10", 0, "A pairing is taken to give a litter in about 90 in 100 cases, and none in the other 10."),
        ("takes: 1", 0, "Each pairing is taken to give a litter."),
        ("litters_a_year: 1", 1, "A dam has one litter in a season."),
        ("litters_a_year: 5", 1, "A dam has 5 litters in a season."),
        ("litter_size: {low: 2, usual: 2, high: 2}", 2, "A litter is taken to have 2 living young."),
        (
            "litter_size: {low: 2, usual: 3, high: 9}",
            2,
            "A litter is taken to have 2 to 9 living young, most often 3.",
        ),
        ("breeding_season: {paired: October, born: May}", 3, "Pairing is in October, and the young come in May."),
        ("rest: 0", 4, "A dam may have young in every season."),
        ("rest: 1", 4, "A dam rests for 1 season after she had young."),
        ("rest: 2", 4, "A dam rests for 2 seasons after she had young."),
        ("rest_after_failure: 0", 5, "After a pairing that did not take a dam needs no rest."),
        ("rest_after_failure: 1", 5, "After a pairing that did not take a dam rests for 1 season."),
        ("rest_after_failure: 2", 5, "After a pairing that did not take a dam rests for 2 seasons."),
        ("breeding_age: 2 years", 6, "Females are paired from 2 years on and males from 2 years on."),
        (
            "breeding_age: {female: 30 months}",
            6,
            "Females are paired from 30 months on and males from the season after birth on.",
        ),
    ],
)
def test_a_figure_stands_with_its_source(line: str, at: int, expected: str) -> None:
    key = line.partition(":")[0]
    found = told(line)
    assert (found[at], found[-1]) == (expected, OWN)
    sourced = told(f"{line}\nsources: {{{key}: Somebody 2015}}")
    assert sourced[at] == expected.replace(".", " (Somebody 2015).")
    assert OWN not in sourced
    custom = told(f'{line}\nsources: {{{key}: "Common practice, no source."}}')
    assert custom[at] == expected.replace(".", " (breeders’ custom, no published source).")
    others = [*range(at), *range(at + 1, 7)]
    assert [found[each] for each in others] == [told("name: s")[each] for each in others]


def test_a_rest_that_the_project_asks_for_is_told_as_its_own() -> None:
    assert told("rest: 2", rest="rest: 1")[4:] == [
        "A dam rests for 1 season after she had young (as this project asks).",
        "We have not written down whether a dam rests after a pairing that did not take. We take it that she does not.",
        "We have not written down from which age on this kind is bred. We take the season after birth.",
    ]


def test_a_source_that_only_names_custom_beside_a_work_is_told_as_it_stands() -> None:
    mixed = "females: Somebody 2015; males: common practice, no source"
    assert plain(source_words(mixed)) == f" ({mixed})"
    assert source_words("") == ()


def test_a_chance_keeps_both_sides() -> None:
    assert "about 67 in 100 cases, and none in the other 33" in told(f"takes: {Fraction(2, 3)}")[0]


def test_own_litters_that_count_in_a_figure_are_told_with_what_they_were_weighed_against() -> None:
    litters = "".join(
        f"=== litters/{year}/litter.yaml\nspecies: s\ndam: mum\npaired: {year}-03-01\n"
        + (
            "failed: {date: 2022-06-01, what: slugs}\n"
            if year == 2022
            else f"born: {year}-07-01\nothers: [{{count: 3}}]\n"
        )
        for year in (2020, 2021, 2022, 2023)
    )
    figures = "takes: 9/10\nlitter_size: {low: 2, usual: 3, high: 9}\nsources: {litter_size: Somebody 2015}"
    mum = f"=== animals/mum/animal.yaml\nspecies: s\nsex: female\n{litters}"
    collection = bound(f"=== species/s.yaml\nbirths: live\n{figures}\nloci: {{}}\n{mum}")
    own = collection.species["s"]
    found = [plain(each) for each in granted_sentences(taken_for_granted(own, collection), own, "en-GB")]
    assert found[0] == (
        "A pairing is taken to give a litter in about 83 in 100 cases, and none in the other 17. Our own 4 pairings, "
        "of which 3 took, count in it; about 90 in 100 counts as 5 more."
    )
    assert found[2] == (
        "A litter is taken to have 2 to 8 living young, most often 3. Our own 3 litters with 9 young count in it; the "
        "usual 3 (Somebody 2015) counts as 5."
    )


def test_what_is_remembered_or_doubtful_says_so() -> None:
    assert plain(source_words("from memory: Somebody 1990")) == " (from memory, not looked up: Somebody 1990)"
    assert plain(source_words("doubtful: keepers disagree")) == " (doubtful: keepers disagree)"
    assert plain(source_words("From memory")) == " (from memory, not looked up)"
    assert plain(source_words("common practice, no source.")) == " (breeders’ custom, no published source)"


def test_where_warmth_decides_the_sex_no_share_of_females_is_promised() -> None:
    words = "The warmth of the eggs decides the sex. We take half females; it may be quite another share."
    assert words in told("sexes: temperature")
    assert words not in told("sexes: ZW")
