"""Whatever stands in a content folder, reading and binding it gives findings with places, never a traceback."""

import datetime as dt
import tempfile
from pathlib import Path
from typing import Any

import yaml
from helpers.from_text import CORN, split_files
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content, read_content
from sitegen.content.written_records import KINDS, json_schemas
from sitegen.findings import Finding, has_errors
from sitegen.plans.today import matters_of
from sitegen.words.today import DayWords

PATHS = {
    "site": "site.yaml",
    "species": "species/corn-snake.yaml",
    "animal": "animals/juniper/animal.yaml",
    "litter": "litters/2026-juniper-flint/litter.yaml",
    "project": "projects/ladder/project.yaml",
    "plan": "plan.yaml",
    "waiting": "waiting.yaml",
}
OTHERS = ("animals/flint/animal.yaml", "projects/ladder/updates/2026-07-20-pips.md", "pages/10-about.md")
WORDS = (
    "corn-snake", "juniper", "flint", "2026-juniper-flint", "2026-juniper-flint/01", "amel", "+/amel", "snow", "all",
    "motley", "motley/stripe", "banded", "certain", "unknown", "66%", "1/2", "2/3", "female", "male", "2024-05-01",
    "2021", "310 g", "18 months", "140 EUR", "-1", "true", "first.sons", "first", "01", "recessive", "ZW", "", "No",
    "9" * 5000, "9999-12-31", "9998", "99999999 years", "1/" + "9" * 5000, "9" * 40 + ".5 EUR", "999999999",
)  # fmt: skip
NAMES = tuple(
    dict.fromkeys(
        name
        for schema in json_schemas().values()
        for part in (schema, *schema.get("$defs", {}).values())
        for name in part["properties"]
    )
)

leaves = st.one_of(st.sampled_from(WORDS), st.none(), st.integers(-3, 3000), st.text(max_size=6))
trees = st.recursive(
    leaves,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.sampled_from((*NAMES, *WORDS)), inner, max_size=4)
    ),
    max_leaves=12,
)


def records(kind: str) -> st.SearchStrategy[dict[str, Any]]:
    """A group with names that this kind of record knows, and anything in it."""
    names = st.sampled_from(KINDS[kind].names)
    return st.dictionaries(names, trees, max_size=7)


def check(content: Content, findings: tuple[Finding, ...]) -> None:
    collection, told = bind_content(content)
    assert (collection is None) == has_errors(told)
    for finding in (*findings, *told):
        assert finding.message
        assert finding.remedy
        assert finding.place is None or finding.place.line >= 0
    for finding in told:
        assert finding.place is not None
        assert finding.place.file == "" or any(path.startswith(finding.place.file) for path in content.texts)
    if collection:  # and whatever it says, a day can be asked of it
        for day in (dt.date(1900, 1, 1), dt.date(2026, 11, 29), dt.date(2199, 12, 31)):
            lines = list(DayWords(collection, day).lines(matters_of(collection, day)))
            assert lines
            assert all(text.endswith(".") for text, _ in lines)


@given(st.lists(st.tuples(st.sampled_from((*PATHS.values(), *OTHERS)), st.text(max_size=60)), max_size=4))
@settings(deadline=None, max_examples=150)
def test_any_text(files: list[tuple[str, str]]) -> None:
    check(Content(dict(files)), ())


@given(st.fixed_dictionaries({}, optional={kind: records(kind) for kind in PATHS}), st.booleans())
@settings(deadline=None, max_examples=120, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_any_record_of_known_names(written: dict[str, dict[str, Any]], sound_species: bool) -> None:
    texts = {PATHS[kind]: yaml.safe_dump(tree, allow_unicode=True) for kind, tree in written.items()}
    texts["animals/flint/animal.yaml"] = "species: corn-snake\nsex: male\n"
    if sound_species:
        texts |= split_files(CORN)
    check(Content(texts), ())


@given(st.lists(st.tuples(st.sampled_from((*PATHS.values(), *OTHERS)), st.binary(max_size=40)), max_size=4))
@settings(deadline=None, max_examples=60)
def test_any_bytes_on_the_disk(files: list[tuple[str, bytes]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for path, raw in files:
            target = Path(folder) / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(raw)
        content, findings = read_content(Path(folder))
        check(content, findings)
