"""The line that tells an editor which schema a record follows; an open convention of editors' language servers."""

import os
from pathlib import Path

SCHEMAS = ".schemas"
"""The folder beside the content folder in which schemas are looked for."""


def schema_file(kind: str) -> str:
    """The file name of the schema of one kind of record: ``animal.schema.json``."""
    return f"{kind}.schema.json"


def modeline(content: Path, path: str, kind: str) -> list[str]:
    """The line for the top of a new record, if a schema of its kind stands beside the content folder.

    Args:
        content: The content folder.
        path: The record, relative to it.
        kind: Its kind: animal, litter, project, species, site.
    """
    schema = content.absolute().parent / SCHEMAS / schema_file(kind)
    if not schema.is_file():
        return []
    address = os.path.relpath(schema, (content.absolute() / path).parent).replace(os.sep, "/")
    return [f"# yaml-language-server: $schema={address}"]
