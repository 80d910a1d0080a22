"""The guide: its tables are those of the program, its topics can be found, its links lead somewhere."""

import datetime as dt
import re
from pathlib import Path

import pytest
from helpers.from_text import CORN, bound, told
from helpers.guide_tables import filled

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.words.planning import plan_findings

GUIDE = Path(__file__).parents[2] / "sitegen" / "guide"
PAGES = sorted(GUIDE.glob("*.md"))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_the_tables_of_the_guide_are_those_of_the_program(page: Path, request: pytest.FixtureRequest) -> None:
    text = page.read_text(encoding="utf-8")
    made = filled(text)
    if request.config.getoption("--rewrite-expected"):
        page.write_text(made, encoding="utf-8")
        text = made
    assert made == text, "run pytest --rewrite-expected tests/docs/test_guide.py"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_links_of_the_guide_lead_to_what_is_there(page: Path) -> None:
    for target in re.findall(r"\]\(([^)]+)\)", page.read_text(encoding="utf-8")):
        file, _, anchor = target.partition("#")
        if not file.startswith("http"):
            led_to = page.parent / file if file else page
            assert led_to.exists(), target
            text = led_to.read_text(encoding="utf-8") if led_to.suffix == ".md" else ""
            headings = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
            anchors = {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}
            assert not anchor or anchor in anchors, target


PAIR = """
=== animals/sage/animal.yaml
species: corn-snake
sex: female
born: 2021-07-01
shows: [tessera]
stated: {amel: certain}
=== animals/cumin/animal.yaml
species: corn-snake
sex: male
born: 2021-07-01
shows: []
stated: {amel: certain}
"""


def test_the_road_with_branches_is_sound_as_it_is_written() -> None:
    (example,) = re.findall(r"```yaml\n# content/(projects\S+)\n(.+?)```", (GUIDE / "plans.md").read_text(), re.DOTALL)
    text = f"{CORN}{PAIR}=== {example[0]}\n{example[1]}"
    assert told(text) == []
    (project,) = bound(text).projects.values()
    assert [kept.id for kept in project.stages[0].holdbacks] == ["goal", "daughters", "sons"]
    assert plan_findings(ask(gather(bound(text))), dt.date(2026, 10, 31)) == ()
