"""A collection with many animals on offer, in the species of the demonstration and with its drawings.

Genotypes are drawn by Mendel's rules, so that what is recorded of young never contradicts their parents. Seeded: the
same number gives the same files.
"""

import random
import shutil
from collections.abc import Iterator
from pathlib import Path

DEMO = Path(__file__).parents[2] / "content"
PAIRS = 14
SITE = (
    "name: A Collection\nlanguage: {language}\ncurrency: GBP\ntheme: {theme}\ncontact: {{email: letters@example.org}}\n"
)
GENES = {"corn-snake": ("amel", "anery", "caramel", "hypo"), "kenyan-sand-boa": ("albino", "anery")}
STATED = {"certain": 1.0, "66%": 2 / 3, "50%": 0.5}


def write_offers(folder: Path, n_offers: int = 160, theme: str = "specimen-sheet", language: str = "en-GB") -> Path:
    """The content folder of a collection with about so many animals on offer, most with a picture."""
    dice = random.Random(7)
    pictures = sorted(path for path in (DEMO / "litters").glob("*/[0-9][0-9] 20*.jpg"))
    shutil.copytree(DEMO / "species", folder / "species")
    (folder / "site.yaml").write_text(SITE.format(theme=theme, language=language), "utf-8")
    for pair in range(PAIRS):
        species = "kenyan-sand-boa" if pair % 4 == 3 else "corn-snake"
        parents = [_parent(folder, f"{sex}{pair}", sex, species, dice) for sex in ("female", "male")]
        litter = folder / "litters" / f"2026-{pair:02d}"
        litter.mkdir(parents=True)
        rows = list(_young(parents, n_offers // PAIRS + (pair < n_offers % PAIRS), pair, dice))
        born = f"2026-07-{dice.randint(1, 28):02d}"
        head = f"dam: female{pair}\nsire: male{pair}\nborn: {born}\nyoung:\n"
        (litter / "litter.yaml").write_text(head + "".join(rows), "utf-8")
        for number in range(1, len(rows) + 1):
            if number % 9:
                shutil.copy(dice.choice(pictures), litter / f"{number:02d} 2026-10-17.jpg")
    return folder


def _parent(folder: Path, name: str, sex: str, species: str, dice: random.Random) -> dict[str, int]:
    """Writes a parent; how many copies of each gene it truly has."""
    copies, stated, shown = dict.fromkeys(GENES[species], 0), [], []
    for gene in dice.sample(GENES[species], 2):
        if dice.random() < 0.4:
            copies[gene] = 2
            shown.append(gene)
        else:
            word, chance = dice.choice(list(STATED.items()))
            stated.append(f"{gene}: {word}")
            copies[gene] = int(dice.random() < chance)
    place = folder / "animals" / name
    place.mkdir(parents=True)
    (place / "animal.yaml").write_text(
        f"name: {name.capitalize()}\nspecies: {species}\nsex: {sex}\nborn: 2021-06-01\nshows: [{', '.join(shown)}]\n"
        f"stated: {{{', '.join(stated)}}}\n",
        "utf-8",
    )
    return copies


def _young(parents: list[dict[str, int]], count: int, pair: int, dice: random.Random) -> Iterator[str]:
    dam, sire = parents
    for number in range(1, count + 1):
        copies = {gene: (dice.random() < dam[gene] / 2) + (dice.random() < sire[gene] / 2) for gene in dam}
        shows = ", ".join(gene for gene, n in copies.items() if n == 2)
        state = "on hold" if number % 10 == 7 else "available"
        ready = f", ready: 2026-12-{pair + 1:02d}" if pair % 2 else ""
        yield (
            f'  "{number:02d}": {{sex: {dice.choice(("female", "male"))}, shows: [{shows}], '
            f"offer: {{price: {dice.randrange(40, 300, 5)}, state: {state}, since: 2026-10-01{ready}}}}}\n"
        )
