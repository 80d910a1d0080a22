"""Reads the texts and expressions that stand in YAML files beside this module and below it."""

from importlib import resources
from typing import Any

import yaml

from sitegen.content.yaml_tree import LOADER


def written(file: str) -> Any:
    """What stands in ``FILE.yaml``."""
    text = (resources.files("sitegen") / "words" / f"{file}.yaml").read_text("utf-8")
    return yaml.load(text, LOADER)  # noqa: S506 - a safe one


def paragraphs(text: str) -> tuple[str, ...]:
    """The paragraphs of a text, which blank lines part, each on one line."""
    return tuple(" ".join(each.split()) for each in text.split("\n\n") if each)
