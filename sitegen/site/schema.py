"""Words of which the schemas of the files for machines are made (JSON Schema, draft 2020-12)."""

from collections.abc import Iterable
from enum import StrEnum
from typing import Any

Plain = dict[str, object]
Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
TEXT: Schema = {"type": "string"}
TEXTS: Schema = {"type": "array", "items": TEXT}
MAYBE: Schema = {"type": ["string", "null"]}
CHANCE: Schema = {"type": "string", "pattern": r"^(0|1|[1-9]\d*/[1-9]\d*)$"}
DAY: Schema = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
DATE: Schema = {"type": "string", "pattern": r"^\d{4}(-\d{2}(-\d{2})?)?$"}
"""A day, a month or a year."""


def described(schema: Schema, description: str) -> Schema:
    """The same with words on what it means."""
    return {**schema, "description": description}


def one_of(words: Iterable[StrEnum]) -> Schema:
    """One of these words."""
    return {"enum": [word.value for word in words]}


def an_array(items: Schema) -> Schema:
    """A list of such items."""
    return {"type": "array", "items": items}


def an_object(properties: Schema, description: str = "", *, optional: tuple[str, ...] = ()) -> Schema:
    """An object that has these properties and no others."""
    told = {"description": description} if description else {}
    required = [key for key in properties if key not in optional]
    return {"type": "object", **told, "properties": properties, "required": required, "additionalProperties": False}


def by_name(items: Schema) -> Schema:
    """An object that has such an item under any name."""
    return {"type": "object", "additionalProperties": items}


def maybe(schema: Schema) -> Schema:
    """Such a value, or null."""
    return {**schema, "type": [schema["type"], "null"]}
