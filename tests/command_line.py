"""The command line as a whole process, and a small collection to try it on."""

import subprocess
from pathlib import Path

from on_a_day import SITEGEN

SMALL = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {low: 1, usual: 6, high: 28}
breeding_age: {female: 30 months, male: 18 months}
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
combinations:
  snow: [amel, anery]
=== animals/dam/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {amel: certain}
=== animals/sire/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: []
stated: {amel: certain}
=== litters/2022-a/litter.yaml
dam: dam
sire: sire
born: 2022-07-01
young:
  "01": {sex: female, shows: []}
  "02": {sex: male, shows: [amel]}
"""


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*SITEGEN, *words], cwd=folder, capture_output=True, text=True, timeout=120, check=False)
