"""Whatever stands in projects, plans and seasons are told in words, without a fault of our own."""

import datetime as dt

from helpers.from_text import content_of
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.binding import bind_content
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.findings import Level
from sitegen.plans.season import season_plan
from sitegen.plans.season_machine import season_json
from sitegen.words.planning import conflict_sentence, plan_findings, serves_words, verdict_words, weight_words

SPECIES = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
rest: 1
breeding_age: {female: 30 months, male: 18 months}
breeding_weight: {female: 300 g}
loci:
  amel: {inheritance: recessive, not_the_same_as: [ultra]}
  ultra: {inheritance: recessive}
  tessera: {inheritance: dominant, two_copies_lethal: true, welfare: {text: Harm., source: own records}}
  banded: {inheritance: recessive, sex_linked: true}
  late: {inheritance: incomplete_dominant, two_copies: super late, penetrance: 1/2, hidden_by: [amel]}
linked:
  - {loci: [amel, ultra], recombination: 1/10}
"""
GENES = ("amel", "ultra", "tessera", "banded", "late")
DAMS, SIRES = ("juniper", "fennel", "l/01"), ("flint", "basalt", "l/02")

genes = st.lists(st.sampled_from(GENES), max_size=2, unique=True).map(", ".join)
extra = st.sampled_from(
    (
        "", "died: 2025-05-01", "offer: {state: sold, since: 2025-05-01}", "offer: {state: on hold, since: 2025-05-01}",
        "weights: {2026-01-01: 200 g}", "weights: {2026-01-01: 400 g}",
    )
)  # fmt: skip
born = st.sampled_from(("2019-07-01", "2024-07-01", "2025", "unknown"))


@st.composite
def herds(draw: st.DrawFn) -> str:
    text = SPECIES
    for name in ("juniper", "fennel", "flint", "basalt"):
        sex = "female" if name in DAMS else "male"
        text += f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {draw(st.sampled_from((sex, 'unknown')))}\n"
        text += f"born: {draw(born)}\nshows: [{draw(genes)}]\n{draw(extra)}\n"
    paired = draw(st.sampled_from(("2024-03-01", "2026-03-01")))
    sire = draw(st.sampled_from(("flint", "[flint, basalt]", "basalt")))
    text += f"=== litters/l/litter.yaml\ndam: juniper\nsire: {sire}\npaired: {paired}\n"
    text += f'young: {{"01": {{sex: female, shows: [{draw(genes)}]}}, "02": {{sex: male, shows: [{draw(genes)}]}}}}\n'
    for project in draw(st.sampled_from((("p",), ("p", "q")))):
        state = draw(st.sampled_from(("planned", "under way", "reached", "given up")))
        text += f"=== projects/{project}/project.yaml\nspecies: corn-snake\nstate: {state}\n"
        text += draw(st.sampled_from(("", "rest: 2\n", "relatedness_limit: 1/16\n", "welfare: We know.\n")))
        text += f"goal: {{shows: [{draw(genes)}], carries: [{draw(genes)}]}}\nstages:\n{draw(stages())}"
        if draw(st.booleans()):
            text += f"alternatives:\n  other:\n    stages:\n{draw(stages())}"
    return text


@st.composite
def stages(draw: st.DrawFn) -> str:
    season, text = 2026, ""
    dams, sires = list(DAMS), list(SIRES)
    for number in range(draw(st.integers(1, 3))):
        season += draw(st.integers(1, 3))
        keep = {"keep": "goal: {count: 2}, " if draw(st.booleans()) else "", "else": ""}
        for name, sex in (("d", "female"), ("s", "male")):
            filled = draw(st.sampled_from(("", "", f", animals: l/0{1 if name == 'd' else 2}")))
            more = draw(st.sampled_from(("", ", only: true", ", count: 3, at_least: 2")))
            branch = draw(st.sampled_from(("keep", "else"))) if keep["keep"] else "keep"
            keep[branch] += f"{name}: {{shows: [{draw(genes)}], carries: [{draw(genes)}], sex: {sex}{filled}{more}}}, "
        until = draw(st.sampled_from(("tries: 1", "tries: 2", "until: else", "until: tries"))) if keep["else"] else ""
        held = f"keep: {{{keep['keep']}}}, else: {{{keep['else']}}}, {until}"
        dam, sire = draw(st.sampled_from(dams)), draw(st.sampled_from(sires))
        litters = draw(st.sampled_from(("", "litters: l, "))) if dam == "juniper" else ""
        text += f"      a{number}: {{season: {season}, dam: {dam}, sire: {sire}, {litters}{held}}}\n"
        dams.append(f"a{number}.d")
        sires.append(f"a{number}.s")
    return text


@settings(max_examples=100, deadline=None)
@given(herds(), st.sampled_from((None, 2026, 2027, 2030)))
def test_any_plan_is_told(text: str, season: int | None) -> None:
    collection, findings = bind_content(content_of(text))
    for told in findings:
        assert told.message
        assert told.expected
        assert told.remedy
        assert told.place is not None
    if collection is None:
        return
    today = dt.date(2026, 10, 31)
    for finding in plan_findings(ask(gather(collection)), today):
        assert finding.place is not None
        assert finding.place.file.startswith("projects/")
        assert finding.place.line
        assert finding.message
        assert finding.expected
        assert finding.remedy
        assert finding.level in Level
    plan = season_plan(collection, today, season)
    for breeder in plan.breeders:
        words = [*map(verdict_words, breeder.verdicts), *map(serves_words, breeder.serves)]
        assert all(words)
        weight_words(breeder, collection)
    for conflict in plan.conflicts:
        assert conflict_sentence(conflict, plan, collection).startswith(f"{conflict.season}: ")
    assert set(season_json(plan)) >= {"seasons", "animals", "conflicts"}
