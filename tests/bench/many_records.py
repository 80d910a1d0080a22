"""Neutral collections of any size as content folders, for measurements: invented letters and numbers, no breeder's.

Some animals have a folder of their own, most are young listed in their litters, a few of those are kept and bred from.
Seeded: the same number gives the same files.
"""

import random
from collections.abc import Mapping
from pathlib import Path

GENES = ("alder", "birch", "cedar", "hazel")

SPECIES = """name: corn snake
scientific: Pantherophis guttatus
sexes: ZW
litter_size: {low: 6, usual: 14, high: 28}
breeding_age: {female: 30 months, male: 18 months}
loci:
  alder: {inheritance: recessive}
  birch: {inheritance: recessive}
  cedar: {inheritance: incomplete_dominant, two_copies: super cedar}
  hazel: {inheritance: recessive}
"""


def many_records(n_animals: int, seed: int = 1) -> Mapping[str, str]:
    """Path below the content folder to text, for about that many animals."""
    dice = random.Random(seed)
    files = {
        "site.yaml": "name: A Collection\naddress: https://collection.example/\nlanguage: en-GB\ncurrency: GBP\n",
        "species/corn-snake.yaml": SPECIES,
        "pages/about.md": "# About\n\nWe keep and write down.\n",
    }
    females, males = [], []
    count = year = 0
    while count < n_animals:
        year += 1
        for sex, adults in (("female", females), ("male", males)):
            for _ in range(max(2, n_animals // 250)):
                name = f"f{count:05d}"
                files[f"animals/{name}/animal.yaml"] = _founder(name, sex, year, dice)
                adults.append((name, year))
                count += 1
        for _ in range(max(2, n_animals // 200)):
            if count >= n_animals:
                break
            dam, sire = (dice.choice([n for n, since in group if since <= year][-n_animals // 20 :])
                         for group in (females, males))  # fmt: skip
            litter = f"l{count:05d}"
            n_young = dice.randint(6, 14)
            rows = []
            for number in range(1, n_young + 1):
                sex = dice.choice(("female", "male"))
                state = dice.choice(("kept: true", "offer: {price: 90, state: available}", "offer: {state: sold}"))
                rows.append(f'  "{number:02d}": {{sex: {sex}, {state}}}\n')
                if number == 1:
                    (females if sex == "female" else males).append((f"{litter}/{number:02d}", year + 4))
            files[f"litters/{litter}/litter.yaml"] = (
                f"dam: {dam}\nsire: {sire}\nborn: {2005 + year}-07-{dice.randint(1, 28):02d}\nyoung:\n" + "".join(rows)
            )
            count += n_young
    return files


def _founder(name: str, sex: str, year: int, dice: random.Random) -> str:
    stated = ", ".join(f"{gene}: {dice.choice(('certain', '66%', '50%'))}" for gene in dice.sample(GENES, 2))
    return (
        f"name: Name {name}\nspecies: corn-snake\nsex: {sex}\nborn: {2000 + year}-06-01\n"
        f"stated: {{{stated}}}\nweights: {{{2002 + year}-05-01: {300 + dice.randint(0, 200)} g}}\n"
        f"about: Came as a yearling and settled well.\n"
    )


def write_collection(folder: Path, n_animals: int, seed: int = 1) -> Path:
    """The content folder with those files."""
    for path, text in many_records(n_animals, seed).items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    return folder
