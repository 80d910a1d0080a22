"""The season in words, and doubts about plans."""

import datetime as dt

import pytest
from helpers.from_text import bound

from sitegen.content.collection import Collection
from sitegen.content.values import PartialDate
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex
from sitegen.plans.readiness import Hindrance, Readiness, Weighed
from sitegen.plans.season import Breeder, Serves
from sitegen.words.planning import caution_sentence, plan_findings, serves_words, verdict_words, weight_words


@pytest.mark.parametrize(
    ("verdict", "words"),
    [
        (Readiness(2027, (), 2027), "yes"),
        (Readiness(2027, (Hindrance.TOO_YOUNG,), 2029), "no: too young until 2029"),
        (Readiness(2027, (Hindrance.RESTING,), 2028), "no: rests until 2028"),
        (
            Readiness(2027, (Hindrance.RESTING, Hindrance.TOO_LIGHT), 2028),
            "no: rests until 2028; too light at the last weighing",
        ),
        (Readiness(2027, (Hindrance.HAS_LITTER,), 2029), "no: has a litter this season"),
        (Readiness(2028, (Hindrance.MUST_GAIN,), 2028), "yes; if heavy enough by then"),
        (Readiness(2027, (Hindrance.NO_WEIGHT,), 2027), "yes; no weight recorded"),
        (Readiness(2027, (Hindrance.NO_BIRTH,), 2027), "yes; birth not recorded, taken as old enough"),
    ],
)
def test_an_animal_in_a_season(verdict: Readiness, words: str) -> None:
    assert verdict_words(verdict) == words


def test_a_stage_of_an_alternative_is_only_perhaps() -> None:
    assert serves_words(Serves("p", "first", 2027)) == "2027 p, first"
    assert serves_words(Serves("p", "first", 2027, "b")) == "2027 p, first, on another route"


@pytest.fixture
def collection() -> Collection:
    return bound("=== species/corn-snake.yaml\nname: corn snake\n")


@pytest.mark.parametrize(
    ("weight", "words"),
    [
        (Weighed(420, PartialDate(2026, 9, 1), 300), "420 g on 2026-09-01"),
        (Weighed(291, PartialDate(2026, 9, 1), 300), "291 g on 2026-09-01, 300 g asked"),
        (Weighed(None, None, 300), ""),
    ],
)
def test_a_weight_is_told_with_its_day(weight: Weighed, words: str, collection: Collection) -> None:
    verdicts = Readiness(2027, (), 2027), Readiness(2028, (), 2028)
    breeder = Breeder("a", Sex.FEMALE, "corn-snake", verdicts, weight, None, ())
    assert weight_words(breeder, collection) == words


def test_what_the_tables_cannot_tell_is_said() -> None:
    assert "veterinarian" in caution_sentence()


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("litters_a_year: 1", "as corn snake has it under litters_a_year"),
        ("rest: 0", "as is taken where corn snake has none under litters_a_year"),
    ],
)
def test_a_limit_that_nobody_wrote_is_told_as_taken(line: str, expected: str) -> None:
    project = "species: corn-snake\ngoal: {shows: [amel]}\nstages: {only: {season: 2027, dam: juniper, sire: flint}}\n"
    text = "".join(
        f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nborn: 2020-07-01\nshows: [amel]\n"
        for name, sex in (("juniper", "female"), ("flint", "male"))
    )
    species = f"=== species/corn-snake.yaml\n{line}\nloci: {{amel: {{inheritance: recessive}}}}\n"
    records = f"{species}{text}=== projects/p/project.yaml\n{project}=== projects/q/project.yaml\n{project}"
    (finding,) = plan_findings(ask(gather(bound(records))), dt.date(2026, 10, 31))
    assert finding.expected == f"at most one litter from her in a season, {expected}"
