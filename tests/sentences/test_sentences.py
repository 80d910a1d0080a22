"""What the program says of small records, word for word; see README.md in this folder."""

import datetime as dt
import re
from fractions import Fraction
from functools import partial
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.small_site import material

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.folder import read_content
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.becoming import becomings, claims_about, near_to
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import ClaimKind
from sitegen.evidence.off_site import for_the_site, has_whole_road
from sitegen.evidence.reasons import reasons
from sitegen.findings import has_errors
from sitegen.keeper.records import as_they_stand, open_records, think_through
from sitegen.keeper.young_rows import describe_young
from sitegen.plans.roads.beside import roads_of
from sitegen.plans.room.harms import harms_of_goal, harms_of_pairing
from sitegen.plans.room.plan import plan_room
from sitegen.plans.today import matters_of
from sitegen.plans.waiting import fits
from sitegen.site.material import Material, folio
from sitegen.site.parts import Span, text_of
from sitegen.site.projects import project_page
from sitegen.words.becoming import becoming_lines
from sitegen.words.care import event_words, lengths_text, meals_text, sheds_text
from sitegen.words.claims import basis_words, headline
from sitegen.words.label_line import label_line
from sitegen.words.numbers import date_text
from sitegen.words.reasons import explanation
from sitegen.words.room import RoomWords, seasons_of
from sitegen.words.speech import Voice, plain
from sitegen.words.today import DayWords

HERE = Path(__file__).parent
TODAY = dt.date(2026, 10, 1)
_CASE = re.compile(
    r"^## (?P<title>.+?)\n(?P<about>.*?)```yaml\n(?P<records>.*?)```\n+```text\n(?P<told>.*?)```\n", re.S | re.M
)
_SHARED = re.compile(r"^# .+?\n.*?```yaml\n(?P<shared>.*?)```\n", re.S)
FILES = sorted(HERE.glob("*.md"))
CASES = [
    (path, match["title"])
    for path in FILES
    if path.name != "README.md"
    for match in _CASE.finditer(path.read_text(encoding="utf-8"))
]


def sentences(root: Path, animals: list[str]) -> str:
    """What is said of the animals, as it stands in the files."""
    content, faults = read_content(root)
    collection, more = bind_content(content)
    assert collection is not None, [str(finding) for finding in (*faults, *more)]
    whole, collection = collection, for_the_site(collection)
    asked = ask(gather(collection))
    answers = answers_of(asked)
    claims = claims_of(collection, answers, partial(reasons, asked), TODAY)
    voice = Voice(collection, answers, TODAY)
    lines: list[str] = []
    for animal in animals:
        lines.append(f"== {animal}")
        if animal.startswith("label lines"):
            room = int(animal.rpartition(" within ")[2]) if "within" in animal else 1000
            told = {name: label_line(record, claims[name], voice) for name, record in collection.animals.items()}
            lines += [f"{name}: {plain(line.within(room))}" for name, line in told.items()]
            continue
        if animal.startswith("daily "):
            lines += daily_lines(collection.published, voice, animal.removeprefix("daily "))
            continue
        if animal.startswith("today "):
            day = dt.date.fromisoformat(animal.removeprefix("today "))
            asks = DayWords(collection, day).lines(matters_of(collection, day))
            fitting = DayWords(collection, day).fits(fits(collection, claims, day), voice)
            told_of_day = [*asks, *fitting]
            lines += [f"{text} [{place.file}:{place.line}]" if place else text for text, place in told_of_day]
            continue
        if animal.startswith("describing "):
            lines += describing_lines(root, *animal.removeprefix("describing ").split(" as "))
            continue
        if animal.startswith("plan"):
            lines += plan_lines(asked, effort=Fraction(animal.rpartition(" at ")[2]))
            continue
        if animal.startswith("project "):
            known = [each for each in collection.projects.values() if has_whole_road(each, collection, whole)]
            told = {project.id: roads_of(asked, project, TODAY) for project in known}
            roads = {name: road for name, road in told.items() if road is not None}
            made = material(collection, answers, claims, {}, TODAY, changes={}, roads=roads)
            lines += road_lines(made, animal.removeprefix("project "))
            continue
        for claim in claims[animal]:
            lines.append(plain(headline(claim, voice)))
            lines += [f"    {plain(sentence)}" for sentence in explanation(claim, voice)]
            if claim.kind is not ClaimKind.NO_CLAIM:
                lines.append(f"    (basis: {basis_words(claim.basis)})")
        if not claims[animal]:
            lines.append("(no claim)")
    return "\n".join(lines) + "\n"


def describing_lines(root: Path, young: str, looks: str) -> list[str]:
    """What a litter's table tells before a young is kept that is said to look so."""
    records, (litter, _, number) = open_records(root), young.partition("/")
    before = as_they_stand(records)
    proposal = describe_young(records, litter, {number: {"shows": looks}}, TODAY, TODAY)
    found = think_through(records, proposal.files, before)
    if has_errors(found.findings) or found.known is None or before.known is None:
        return [each.message for each in found.findings]
    record = before.known.collection.litters[litter]
    states = [before.known, found.known]
    near = near_to(record, found.known.collection)
    told = becomings(*(claims_about(known, near, TODAY) for known in states))
    voices = [Voice(known.collection, known.answers, TODAY) for known in states]
    return [*(each.message for each in found.findings), *becoming_lines(told, record, [young], *voices)]


def daily_lines(collection: Collection, voice: Voice, name: str) -> list[str]:
    """What is said of the daily records of an animal, or of a litter's diary, to the public."""
    if litter := collection.litters.get(name):
        return [f"{date_text(event.date, 'en-GB')}: {plain(event_words(event, voice))}" for event in litter.events]
    animal, site = collection.animals[name], collection.site
    told = (meals_text(animal.meals, site), lengths_text(animal.lengths, site), sheds_text(animal.events, site))
    return [each for each in told if each]


def plan_lines(asked: Asked, effort: Fraction) -> list[str]:
    """What is said of the plan of the whole room."""
    collection, wishes = asked.evidence.collection, asked.evidence.collection.wishes
    assert wishes is not None
    (species,) = collection.species.values()
    plan = plan_room(asked, species.id, wishes, TODAY, effort=float(effort))
    words = RoomWords(collection, wishes, species)
    harms = {each.pair: harms_of_pairing(asked, each.pair) for each in plan.pairings}
    goals = {each.id: harms_of_goal(species.genome, each.goal) for each in wishes.goals}
    told = [*words.warnings(harms, goals), *words.sheet(plan)]
    told += [words.pairing(each, plan) for each in plan.pairings]
    told += [*words.tests(plan), *words.limits(plan), *(words.season(each, plan) for each in seasons_of(plan))]
    return told


def road_lines(made: Material, project: str) -> list[str]:
    """What is said of a project: the road in pictures, where it stands, then of each stage, then of the whole road."""
    page = project_page(made.collection.projects[project], folio(made, f"projects/{project}.html"))
    found = [page.harm] if page.harm else []
    for step in page.road:
        before, after, other = (
            ", ".join(text_of(plate.caption) for plate in plates)
            for plates in (step.parents, step.kept, step.otherwise)
        )
        end = f" or else {other}" if other else ""
        found.append((Span(f"[{step.when}] "), *step.title, Span(f": {before} > {after}{end}")))
        found += [(Span("    "), *line) for line in step.came]
    found += [*page.now, *page.rivals]
    for stage in page.stages:
        found += [(Span(f"{stage.title}: "), *stage.pairing)]
        parts = [stage.harm, stage.why, *stage.course, *(row.luck for result in stage.results for row in result.rows)]
        for wanted in stage.wanted:
            parts += [wanted.title, *wanted.kept, *wanted.statements, *wanted.unseen]
        found += [(Span("    "), *part) for part in parts if part]
    for row in page.seasons.rows if page.seasons else ():
        cells = [f"{number} ({range_})" if range_ else number for number, range_ in row.cells]
        found.append((Span(f"{row.season}: {', '.join(cells)}"),))
    found += [*(page.seasons.lines if page.seasons else ()), *page.wrong, *page.goal_lines, *page.assumptions]
    return [text_of(line) for line in found]


@pytest.mark.parametrize(("path", "title"), CASES, ids=[f"{path.stem}: {title}" for path, title in CASES])
def test_the_sentences_come_out_word_for_word(path, title, tmp_path, request):
    text = path.read_text(encoding="utf-8")
    shared = _SHARED.search(text)
    assert shared, f"{path.name} begins with a block of shared records"
    case = next(match for match in _CASE.finditer(text) if match["title"] == title)
    root = write_files(tmp_path, f"{shared['shared']}\n{case['records']}")
    expected = case["told"]
    actual = sentences(root, re.findall(r"^== (.+)$", expected, re.M))
    if request.config.getoption("--rewrite-expected"):
        start, end = case.span("told")
        path.write_text(text[:start] + actual + text[end:], encoding="utf-8")
        return
    assert expected == actual


def test_there_are_cases():
    assert len(CASES) >= 20
