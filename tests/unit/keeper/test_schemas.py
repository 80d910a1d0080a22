"""Every record of the demonstration, and every record that commands write, follows its schema."""

import datetime as dt
import subprocess
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from helpers.program import SITEGEN
from ruamel.yaml import YAML

from sitegen.content.folder import Content
from sitegen.content.report import Report
from sitegen.content.written_records import forms_of_content
from sitegen.findings import WrongUse
from sitegen.keeper.new_records import carried
from sitegen.keeper.records import open_records
from sitegen.keeper.schemas import schema_change, schemas_for

REPOSITORY = Path(__file__).parent.parent.parent.parent
CONTENT = REPOSITORY / "content"
RECORDS = sorted(
    path.relative_to(CONTENT).as_posix() for path in CONTENT.rglob("*.yaml") if not path.name.startswith(".")
)
KINDS = {
    "species": "species", "animals": "animal", "litters": "litter", "projects": "project", "site.yaml": "site",
    "plan.yaml": "plan", "waiting.yaml": "waiting",
}  # fmt: skip


def as_editor_reads(path: Path) -> Any:
    """The record as an editor's language server reads it: YAML 1.2, days as text."""

    def plain(value: Any) -> Any:
        if isinstance(value, dict):
            return {str(plain(key)): plain(each) for key, each in value.items()}
        if isinstance(value, list):
            return [plain(each) for each in value]
        return value.isoformat() if isinstance(value, dt.date) else value

    return plain(YAML(typ="safe", pure=True).load(path.read_text(encoding="utf-8")))


@pytest.fixture(scope="module")
def demo_schemas() -> dict[str, dict[str, Any]]:
    return schemas_for(open_records(CONTENT).forms)


def faults(schema: dict[str, Any], record: Any) -> list[str]:
    validator = jsonschema.Draft202012Validator(schema)
    return [f"{list(e.absolute_path)}: {e.message}" for e in validator.iter_errors(record)]


def test_the_schemas_are_schemas(demo_schemas: dict[str, dict[str, Any]]) -> None:
    for schema in demo_schemas.values():
        jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("path", RECORDS)
def test_every_record_of_the_demonstration_follows_its_schema(
    path: str, demo_schemas: dict[str, dict[str, Any]]
) -> None:
    kind = KINDS[path.split("/")[0]]
    assert faults(demo_schemas[kind], as_editor_reads(CONTENT / path)) == []


def test_the_records_that_start_writes_follow_their_schemas(tmp_path: Path) -> None:
    words = ["start", "mine", "--name", "Mine", "--species", "kenyan-sand-boa", "--currency", "EUR", "--place", "Here"]
    subprocess.run([*SITEGEN, *words], cwd=tmp_path, check=True, capture_output=True)
    content = tmp_path / "mine" / "content"
    schemas = schemas_for(open_records(content).forms)
    records = {p.relative_to(content).as_posix(): as_editor_reads(p) for p in content.rglob("*.yaml")}
    assert sorted(records) == ["animals/example/animal.yaml", "site.yaml", "species/kenyan-sand-boa.yaml"]
    assert {path: faults(schemas[KINDS[path.split("/")[0]]], record) for path, record in records.items()} == {
        path: [] for path in records
    }


@pytest.mark.parametrize(
    ("record", "meant"),
    [
        ({"species": "corn-snake", "shows": ["amle"]}, "shows"),
        ({"species": "corn-snake", "shows": ["albino"]}, "shows"),  # a look of the other species
        ({"species": "corn-snake", "stated": {"amle": "66%"}}, "stated"),
        ({"species": "corn-snake", "unsure": ["amle"]}, "unsure"),
        ({"species": "corn-snake", "tests": [{"locus": "amle", "result": "+/+"}]}, "tests"),
        ({"species": "cornsnake"}, "species"),
        ({"species": "corn-snake", "sexx": "male"}, ""),
        ({"species": "corn-snake", "offer": {"state": "gone"}}, "offer"),
    ],
)
def test_a_schema_knows_the_genes_of_the_species_file(
    record: dict[str, Any], meant: str, demo_schemas: dict[str, dict[str, Any]]
) -> None:
    found = faults(demo_schemas["animal"], record)
    assert found
    assert any(meant in fault for fault in found)


@pytest.mark.parametrize("look", ["amel", "amelanistic", "snow", "ultramel", "striped motley", "motley/stripe"])
def test_a_schema_takes_every_name_that_the_species_file_writes(
    look: str, demo_schemas: dict[str, dict[str, Any]]
) -> None:
    assert faults(demo_schemas["animal"], {"species": "corn-snake", "shows": [look]}) == []


def _project(**stage: Any) -> dict[str, Any]:
    pairing = {"season": 2026, "dam": "juniper", "sire": "flint", **stage}
    routes = {"other": {"name": "Other", "stages": [{"id": "a", **pairing}]}}
    return {"species": "corn-snake", "goal": {"shows": "amel"}, "stages": {"a": pairing}, "alternatives": routes}


def test_a_schema_describes_the_stages_of_a_project_to_the_last_key(demo_schemas: dict[str, dict[str, Any]]) -> None:
    schema = demo_schemas["project"]
    sound = {"tries": 2, "keep": {"sons": {"shows": ["amel"], "carries": "anery", "sex": "male"}, "rest": None}}
    assert faults(schema, _project(**sound)) == []
    assert faults(schema, _project(keep={"sons": {"shows": ["amle"]}}))
    assert faults(schema, _project(keep=[{"id": "sons", "carries": ["amle"]}]))
    assert faults(schema, _project(triess=2))


def test_a_schema_describes_the_wishes(demo_schemas: dict[str, dict[str, Any]]) -> None:
    goal = {"species": "corn-snake", "shows": ["amel"], "carries": "anery", "weight": "1/2", "count": 2}
    bought = {"species": "corn-snake", "shows": [], "stated": {"amel": "66%"}, "sex": "male", "price": "180 EUR"}
    sound = {"season": 2027, "places": {"corn-snake": 3}, "goals": {"ladder": 3, "own": goal, "steps": None}}
    schema = demo_schemas["plan"]
    assert faults(schema, sound | {"buy": [bought], "tests": {"price": 60, "loci": ["amel"]}, "places": 18}) == []
    assert faults(schema, sound) == []
    for wrong in ({"goals": {"own": goal | {"shows": ["amle"]}}}, {"buy": [{"sex": "male"}]}, {"litter": 3}):
        assert faults(schema, wrong)


def test_a_schema_describes_who_waits(demo_schemas: dict[str, dict[str, Any]]) -> None:
    sound = {"since": "2026-05-03", "species": "corn-snake", "shows": "snow", "carries": ["hypo"], "up_to": 140}
    schema = demo_schemas["waiting"]
    assert faults(schema, {"people": {"A. from the fair": sound, "B": None}}) == []
    assert faults(schema, {"people": {"A": sound | {"shows": ["amle"]}}})
    assert faults(schema, {"people": {"A": {"phone": "1"}}})


@pytest.mark.parametrize("month", ["March", 3, "Marhc", 13])
def test_a_schema_knows_the_months(month: str | int, demo_schemas: dict[str, dict[str, Any]]) -> None:
    season = {"breeding_season": {"paired": month, "born": "July"}}
    assert bool(faults(demo_schemas["species"], season)) is (month in ("Marhc", 13))


def test_a_file_that_is_not_ours_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "animal.schema.json").write_text("{}")
    with pytest.raises(WrongUse, match=r"animal\.schema\.json was not written by sitegen"):
        schema_change(open_records(CONTENT), tmp_path)


def test_schemas_are_written_again_only_when_they_changed(tmp_path: Path) -> None:
    first = schema_change(open_records(CONTENT), tmp_path)
    for file in first.files:
        (tmp_path / file.path).write_bytes(file.after)
    assert len(first.files) == len(KINDS) + len(["paper"])
    assert schema_change(open_records(CONTENT), tmp_path).files == ()


def test_an_editor_takes_super_before_an_incomplete_dominant() -> None:
    files = {"species/leopard-gecko.yaml": carried()["leopard-gecko"]}
    schema = schemas_for(forms_of_content(Content(files), Report()))["animal"]
    for look, sound in (("super lemon frost", True), ("super-snow", True), ("super blizzard", False)):
        record = {"species": "leopard-gecko", "shows": [look]}
        assert jsonschema.Draft202012Validator(schema).is_valid(record) is sound, look
