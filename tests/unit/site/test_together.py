"""What hangs together, on every page that tells of it and in the files for machines."""

import json
from collections.abc import Mapping
from pathlib import Path

import jsonschema
import pytest
from helpers.from_text import write_files
from helpers.pages import ReadPage

from sitegen.build import Order, build, check
from sitegen.findings import Kind
from sitegen.site.schema import paper_schema

TIED = """
=== site.yaml
name: Tied
language: LANGUAGE
=== species/corn-snake.yaml
name: corn snake
births: eggs
loci:
  anery: {inheritance: recessive}
  charcoal: {inheritance: recessive}
=== animals/d/animal.yaml
{species: corn-snake, sex: female, shows: []}
=== animals/s/animal.yaml
{species: corn-snake, sex: male, shows: [anery]}
=== animals/t/animal.yaml
{species: corn-snake, sex: male, shows: [charcoal]}
=== litters/2026-d/litter.yaml
dam: d
sire: [s, t]
born: 2026-07-01
young:
  "01": {shows: [], offer: {price: 60 EUR, state: available, since: 2026-10-24}}
  "02": {shows: [], offer: {price: 60 EUR, state: available, since: 2026-10-24}}
"""
NEVER = "By our records never both anery and charcoal: it depends on which sire."
CLUTCH = "The two young that may carry anery do so together or not at all; together: about 50 in 100 such clutches."


def built(language: str, folder: Path) -> Path:
    content = write_files(folder / "content", TIED.replace("LANGUAGE", language))
    themes = Path(__file__).parents[3] / "themes"
    assert build(Order(content, folder / "output", themes, workers=1)).published
    return folder / "output"


@pytest.fixture(scope="module")
def english(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built("en-GB", tmp_path_factory.mktemp("tied"))


def text(page: Path) -> str:
    words = " ".join(ReadPage(page.read_text(encoding="utf-8")).text.split())
    return words.replace(" :", ":").replace(" ,", ",")  # after a link


def test_pages_say_it(english: Path) -> None:
    assert CLUTCH in text(english / "litters/2026-d.html")
    for page in ("litters/2026-d/01.html", "litters/2026-d/01-paper.html"):
        assert NEVER in text(english / page)
    assert "Littermates share the doubt about anery and charcoal" in text(english / "litters/2026-d/02.html")


def test_files_for_machines_say_it(english: Path) -> None:
    facts = read(english / "data/collection.json")
    jsonschema.validate(facts, read(english / "data/collection.schema.json"))
    never = [{"carries": ["anery", "charcoal"], "p": "0"}]
    all_or_none = {"young": ["01", "02"], "counts": ["1/2", "0", "1/2"]}
    assert facts["joint"] == {"2026-d/01": never, "2026-d/02": never}
    assert facts["littermates"] == {"2026-d": {"anery": all_or_none, "charcoal": all_or_none}}
    paper = read(english / "litters/2026-d/01-paper.json")
    jsonschema.validate(paper, paper_schema())
    assert paper["together"] == [NEVER]


def read(file: Path) -> Mapping[str, object]:
    found: Mapping[str, object] = json.loads(file.read_text(encoding="utf-8"))
    return found


def test_in_german(tmp_path: Path) -> None:
    output = built("de", tmp_path)
    assert "nie beides, anery und charcoal: es kommt darauf an, wer der Vater ist." in text(
        output / "litters/2026-d/01-paper.html"
    )
    clutch = "Die zwei Jungtiere, die anery tragen könnten, tragen es alle oder keines; alle: etwa 50 von 100 solcher"
    assert clutch in text(output / "litters/2026-d.html")


OURS = (
    NEVER,
    "By our records never two copies of anery without charcoal: it depends on which sire.",
    "By our records anery and charcoal come together or not at all: the two genes are linked.",
    "The chance of anery and charcoal together: about 13 in 100 (1/8); it depends on which sire.",
    "Littermates share the doubt about anery and charcoal: d and s or t 2026 tells how many of them carry.",
)
OF_THE_LITTER = (CLUTCH, "Of the two young that may carry anery, 1 do on average; none at all: about 50 in 100.")


@pytest.mark.parametrize("sentence", OURS)
def test_the_audit_lets_our_own_sentences_of_an_animal_stand(sentence: str, tmp_path: Path) -> None:
    assert found_in(TIED.replace("{shows: [], offer", f'{{about: "{sentence}", shows: [], offer', 1), tmp_path) == set()


@pytest.mark.parametrize("sentence", OF_THE_LITTER)
def test_the_audit_lets_our_own_sentences_of_a_litter_stand(sentence: str, tmp_path: Path) -> None:
    assert found_in(f'{TIED}about: "{sentence}"\n', tmp_path) == set()


def found_in(records: str, folder: Path) -> set[Kind]:
    content = write_files(folder, records.replace("LANGUAGE", "en-GB"))
    findings = check(Order(content, folder / "output", folder / "themes"))
    return {each.kind for each in findings} & {Kind.OVERCLAIM, Kind.UNDERCLAIM, Kind.PROMISE, Kind.CONTRADICTION}
