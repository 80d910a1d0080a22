"""The schemas of the files for machines (JSON Schema, draft 2020-12), published as they stand in this folder."""

import json
from importlib import resources
from typing import Any

Plain = dict[str, object]
Schema = dict[str, Any]


def facts_schema() -> Schema:
    """The schema of the published facts."""
    return _schema("collection")


def paper_schema() -> Schema:
    """The schema of the file beside a buyer's paper."""
    return _schema("paper")


def _schema(name: str) -> Schema:
    schema: Schema = json.loads((resources.files("sitegen") / "site" / f"{name}.schema.json").read_text("utf-8"))
    return schema
