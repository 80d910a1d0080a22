"""JSON Schemas say of every name what it means."""

from collections.abc import Iterator
from typing import Any

from sitegen.content.written_records import KINDS, json_schemas


def fields(schema: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for title, part in [("", schema), *schema.get("$defs", {}).items()]:
        for name, field in part.get("properties", {}).items():
            yield title, name, field


def test_every_kind_of_file_has_a_schema_that_refuses_unknown_names() -> None:
    schemas = json_schemas()
    assert list(schemas) == ["site", "species", "animal", "litter", "project"]
    for schema in schemas.values():
        parts = [schema, *schema.get("$defs", {}).values()]
        assert all(part["additionalProperties"] is False for part in parts)


def test_every_name_is_described_and_is_one_the_records_accept() -> None:
    for kind, schema in json_schemas().items():
        assert set(schema["properties"]) == set(KINDS[kind].names)
        for title, name, field in fields(schema):
            assert field.get("description"), (kind, title, name)


def test_only_what_must_be_written_is_required() -> None:
    required = {kind: schema.get("required", []) for kind, schema in json_schemas().items()}
    assert required == {"site": [], "species": [], "animal": ["species"], "litter": [], "project": ["species"]}
