"""Content folders and collections from the text of small records."""

from pathlib import Path

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.folder import Content
from sitegen.findings import Finding, Kind, Level


def split_files(text: str) -> dict[str, str]:
    """Path to contents of a text in which ``=== path`` stands before each file."""
    files: dict[str, list[str]] = {}
    path = ""
    for line in text.strip().splitlines():
        if line.startswith("=== "):
            path = line[4:].strip()
            files[path] = []
        else:
            files[path].append(line)
    return {name: "\n".join(lines).strip("\n") + "\n" for name, lines in files.items()}


def write_files(root: Path, text: str) -> Path:
    """Write those files below ``root``."""
    for path, contents in split_files(text).items():
        target = root / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(contents, encoding="utf-8")
    return root


PAIR = """
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020-07-14
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-08
"""
LITTER = """
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2026-07-18
young:
  "01": {sex: male, shows: [amel], offer: {price: 140 EUR, state: available, ready: 2026-10-01}}
  02: {sex: female, shows: [], kept: true}
  3:
others: [{count: 4, shows: []}, {count: 1, shows: [amel, motley], sex: female}]
"""
PROMOTED = """
=== animals/tansy/animal.yaml
name: Tansy
species: corn-snake
from_litter: 2026-juniper-flint/02
shows: [hypo]
weights: {2026-09-01: 11 oz}
offer: {state: sold, price: {amount: 99.50, currency: usd}}
=== animals/grandchild/animal.yaml
species: corn-snake
dam: 2026-juniper-flint/02
"""
CORN = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
breeding_age: {female: 30 months, male: 18 months}
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
  hypo: {inheritance: recessive}
  caramel: {inheritance: recessive}
  tessera: {name: tessera, inheritance: dominant}
  palmetto: {name: palmetto, inheritance: incomplete_dominant, two_copies: super palmetto}
  motley-stripe:
    alleles:
      motley: {name: motley, inheritance: recessive}
      stripe: {name: stripe, inheritance: recessive}
    compounds: {motley/stripe: striped motley}
  banded: {inheritance: recessive, sex_linked: true}
combinations:
  snow: [amel, anery]
"""


def content_of(text: str, **photos: tuple[str, ...]) -> Content:
    """The files of a text as content, with photo file names by folder (``animals__juniper``)."""
    by_folder = {key.replace("__", "/"): names for key, names in photos.items()}
    return Content(split_files(text), {f: tuple(f"{f}/{name}" for name in names) for f, names in by_folder.items()})


def bound(text: str, **photos: tuple[str, ...]) -> Collection:
    """The collection; it is a mistake of the test when there is none."""
    collection, findings = bind_content(content_of(text, **photos))
    assert collection is not None, findings
    return collection


def told(text: str, **photos: tuple[str, ...]) -> list[Finding]:
    """All findings."""
    return list(bind_content(content_of(text, **photos))[1])


def kinds(text: str) -> list[tuple[Kind, Level]]:
    """What is told of records of corn snakes: kinds of findings and their levels."""
    return [(finding.kind, finding.level) for finding in told(CORN + text)]
