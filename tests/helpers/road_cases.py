"""Small roads for the truth of roads: written ones (``roads.yaml`` beside this file), and drawn ones with fixed seeds.

A road is a text of a few lines: genes, the species' figures that matter, animals, goal and stages, as they stand in the
records; the rest is the same for all. Animals without a birthday are old enough.
"""

import datetime as dt
import json
import random
from collections.abc import Mapping
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
_FIGURES = (
    "sexes",
    "litters_a_year",
    "takes",
    "rest",
    "rest_after_failure",
    "breeding_age",
    "breeding_season",
    "linked",
)


@dataclass(frozen=True)
class Road:
    """A small road: its name, and its text as read."""

    name: str
    text: Mapping[str, Any]

    @property
    def as_of(self) -> dt.date:
        """The day from which it is looked at."""
        return dt.date.fromisoformat(str(self.text.get("as_of", TODAY)))

    def records(
        self, order: int = 0, names: Mapping[str, str] | None = None, more: str = ""
    ) -> tuple[Collection, Project]:
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
        files: list[tuple[str, Any]] = [("site.yaml", {"name": "Roads", "format": 2}), ("species/snake.yaml", species)]
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


# Drawn ones.

DRAWN = (
    2, 3, 4, 5, 16, 18, 19, 21, 25, 29, 31, 32, 33, 35, 43, 49, 53, 64, 71, 80, 84, 102, 103, 109, 122, 129, 162, 164,
    169, 185, 186, 187, 204, 258, 272, 281, 290, 294, 420, 472, 507, 524, 525, 641,
)  # fmt: skip
"""Seeds of roads on which the goal is kept in some plans of either stage and not in others; every kind of gene, branch
and figure is among them."""
_GENES: Mapping[str, Any] = {
    "a": "recessive",
    "b": "recessive",
    "t": "dominant",
    "l": "lethal",
    "g": {"inheritance": "incomplete_dominant", "two_copies": "super g"},
    "ms": {
        "alleles": {"m": {"inheritance": "recessive"}, "s": {"inheritance": "recessive"}},
        "compounds": {"m/s": "striped m"},
    },
    "z": {"inheritance": "recessive", "sex_linked": True},
    "h": {"inheritance": "recessive", "hidden_by": ["a"]},
    "p": {"inheritance": "dominant", "penetrance": "3/4"},
}
_TOGETHER = (
    ["a"],
    ["a", "b"],
    ["a", "t"],
    ["a", "l"],
    ["g"],
    ["a", "g"],
    ["ms"],
    ["z"],
    ["a", "z"],
    ["a", "h"],
    ["a", "p"],
)
_LOOKS = {"g": ["g", "super g"], "ms": ["m", "s", "striped m"]}
_ALLELES = {"ms": ["m", "s"]}


@cache
def drawn_road(seed: int) -> Road:
    """A road drawn at random, the same for the same seed; of some seeds nothing comes that a breeder could write."""
    return Road(f"drawn {seed}", _Draw(random.Random(seed)).text())


class _Draw:
    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.loci = dice.choice(_TOGETHER)
        self.looks = [look for key in self.loci for look in _LOOKS.get(key, [key])]
        self.alleles = [each for key in self.loci for each in _ALLELES.get(key, [key])]

    def text(self) -> dict[str, Any]:
        dice = self.dice
        takes = dice.choice(["1", "1", "2/3"])
        ages = dice.choice([{}, {}, {"female": "20 months", "male": "8 months"}])
        stages = self.stages(2 if ages else 1)
        return {
            "loci": {key: _GENES[key] for key in self.loci},
            "sizes": dice.choice([[1, 1, 1], [2, 2, 2], [1, 1, 2], [0, 1, 2]]),
            "takes": takes,
            "rest": dice.choice([0, 0, 0, 1]),
            "litters_a_year": dice.choice([1, 1, 1, 1, 2]),
            "breeding_age": ages,
            "animals": {name: self.animal(sex) for name, sex in _ANIMALS.items()},
            "goal": self.goal(),
            "stages": stages,
            "horizon": dice.choice([2029, 2029, 2030]),
        }

    def animal(self, sex: str) -> dict[str, Any]:
        """Something is shown, stated, or wild, at each locus."""
        shows, stated = [], {}
        for key in self.loci:
            allele = self.dice.choice(_ALLELES.get(key, [key]))
            if key in ("l", "t", "g", "p") or (key == "z" and sex == "female"):
                shows += self.dice.choice([[key], [key], []])
            elif (how := self.dice.choice(["shows", "certain", "certain", "66%", "50%", ""])) == "shows":
                shows.append(allele)
            elif how:
                stated[allele] = how
        unsure = ["h"] if "h" in self.loci and "a" in shows else []
        return {"sex": sex, "shows": [look for look in shows if look not in unsure], "stated": stated, "unsure": unsure}

    def goal(self) -> dict[str, Any]:
        shows = [self.dice.choice(self.looks)]
        carries = [each for each in self.alleles if each not in shows and self.dice.random() < 0.5]
        if self.dice.random() < 0.2:
            return {"carries": carries or [self.alleles[0]]}
        return {"shows": shows, "carries": carries}

    def holdback(self, sex: str, most: int = 2) -> dict[str, Any]:
        dice = self.dice
        found: dict[str, Any] = {"sex": sex} if sex else {}
        if dice.random() < 0.3:
            found["shows"] = [dice.choice(self.looks)]
        if dice.random() < 0.4:
            found["carries"] = [dice.choice(self.alleles)]
        if dice.random() < 0.2:
            found["only"] = True
        found["count"] = dice.randint(1, most)
        found["at_least"] = dice.randint(1, found["count"])
        return found

    def aim(self) -> dict[str, Any]:
        """What the road ends with: often the goal by its looks, of one sex or of either."""
        dice = self.dice
        return {"goal": {"shows": [dice.choice(self.looks)]} | dice.choice([{}, {}, {"sex": "male"}, {"count": 2}])}

    def stages(self, grown: int) -> dict[str, Any]:
        dice = self.dice
        tries = dice.choice([1, 1, 2])
        first: dict[str, Any] = {"season": 2027, "dam": "mum", "sire": "dad", "tries": tries}
        later = 2026 + tries + grown
        kind = dice.choice(["else", "else", "until", "siblings", "back", "turns", "wait", "both"])
        if kind in ("else", "until"):
            first |= {"keep": self.aim(), "else": {"d": self.holdback("female"), "s": self.holdback("male", 1)}}
            if kind == "until":
                first["until"] = "else"
            second = {
                "season": later,
                "dam": "one.d",
                "sire": dice.choice(["one.s", "dad", "uncle"]),
                "keep": self.aim(),
            }
        elif kind == "both":
            first |= {"keep": {"d": self.holdback("female")}, "else": {"e": self.holdback("female", 1)}}
            second = {"season": later, "dam": dice.choice(["one.d", "one.e"]), "sire": "uncle", "keep": self.aim()}
        elif kind == "siblings":
            first |= {"keep": {"d": self.holdback("female", 1), "s": self.holdback("male", 1)}}
            second = {"season": 2026 + 1 + grown, "dam": "one.d", "sire": "one.s", "keep": self.aim()}
        elif kind == "back":
            first |= {"keep": {"d": self.holdback(dice.choice(["", "female"]))}}
            second = {"season": 2026 + 1 + grown, "dam": "one.d", "sire": "dad", "keep": self.aim()}
        elif kind == "turns":
            first |= {"keep": {"s": self.holdback("male")}}
            second = {"season": 2028, "dam": "aunt", "sire": "one.s", "keep": self.aim()}
        else:
            second = {"season": 2027, "dam": dice.choice(["mum", "aunt"]), "sire": "dad"}
        if "keep" in second and dice.random() < 0.3:
            second["tries"] = 1
        return {"one": first, "two": second}


_ANIMALS = {"mum": "female", "dad": "male", "aunt": "female", "uncle": "male"}


def all_roads() -> tuple[Road, ...]:
    """The written and the drawn ones."""
    return (*written_roads().values(), *(drawn_road(seed) for seed in DRAWN))
