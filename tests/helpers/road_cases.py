"""Small roads for the truth of roads: written ones (``roads.yaml`` beside this file), and drawn ones with fixed seeds.

A road is a text of a few lines: genes, the species' figures that matter, animals, goal and stages, as they stand in the
records; the rest is the same for all. Animals without a birthday are old enough.
"""

import datetime as dt
import json
import random
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from helpers.from_text import content_of

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.projects import Project
from sitegen.findings import Level

TODAY = dt.date(2026, 10, 1)
"""Paired in March and born in July: the first season that can be bred is 2027."""
WRITTEN = Path(__file__).with_name("roads.yaml")
_LOCI = {
    "recessive": {"inheritance": "recessive"},
    "dominant": {"inheritance": "dominant"},
    "lethal": {"inheritance": "dominant", "two_copies_lethal": True},
}
_FIGURES = ("sexes", "litters_a_year", "takes", "rest", "rest_after_failure", "breeding_age", "breeding_season", "linked")


@dataclass(frozen=True)
class Road:
    """A small road: its name, and its text as read."""

    name: str
    text: Mapping[str, Any]

    @property
    def as_of(self) -> dt.date:
        """The day from which it is looked at."""
        return dt.date.fromisoformat(str(self.text.get("as_of", TODAY)))

    def records(self, order: int = 0, names: Mapping[str, str] | None = None, more: str = "") -> tuple[Collection, Project]:
        """The collection and the project.

        Args:
            order: A seed by which records stand in another order; 0 as written.
            names: Other names of animals.
            more: Further files, as text.
        """
        files = _renamed(self._files(), names or {})
        if order:
            random.Random(order).shuffle(files)
        text = "\n".join(f"=== {path}\n{json.dumps(own, default=str)}" for path, own in files) + "\n" + more
        collection, findings = bind_content(content_of(text))
        wrong = [finding for finding in findings if finding.level is Level.ERROR]
        assert collection is not None, wrong
        assert not wrong, (self.name, wrong)
        return collection, collection.projects["road"]

    def _files(self) -> list[tuple[str, Any]]:
        own = self.text
        sizes = own.get("sizes", [2, 2, 2])
        species = {
            "name": "snake",
            "sexes": "ZW",
            "breeding_season": {"paired": 3, "born": 7},
            "litter_size": dict(zip(("low", "usual", "high"), sizes, strict=True)),
            "loci": {key: _LOCI[each] if isinstance(each, str) else each for key, each in own["loci"].items()},
        } | {key: own[key] for key in _FIGURES if key in own}
        project = {"species": "snake"} | {key: own[key] for key in ("goal", "stages", "horizon", "rest") if key in own}
        files: list[tuple[str, Any]] = [("site.yaml", {"name": "Roads"}), ("species/snake.yaml", species)]
        files += [(f"animals/{key}/animal.yaml", {"species": "snake", **each}) for key, each in own["animals"].items()]
        files += [(f"litters/{key}/litter.yaml", each) for key, each in own.get("litters", {}).items()]
        return [*files, ("projects/road/project.yaml", project)]


def _renamed(files: list[tuple[str, Any]], names: Mapping[str, str]) -> list[tuple[str, Any]]:
    def renamed(own: Any) -> Any:
        if isinstance(own, dict):
            return {names.get(key, key): renamed(each) for key, each in own.items()}
        if isinstance(own, list):
            return [renamed(each) for each in own]
        return names.get(own, own) if isinstance(own, str) else own

    found = []
    for path, own in files:
        parts = [names.get(part, part) for part in path.split("/")]
        found.append(("/".join(parts), renamed(own)))
    return found


@cache
def written_roads() -> Mapping[str, Road]:
    """The roads of the file, by name."""
    found = {}
    for each in yaml.safe_load_all(WRITTEN.read_text(encoding="utf-8")):
        name = each.pop("road")
        assert name not in found, name
        found[name] = Road(name, each)
    return found
