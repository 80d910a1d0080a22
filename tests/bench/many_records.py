"""Neutral collections of any size as content folders, for measurements: invented letters and numbers, no breeder's.

Some animals have a folder of their own, most are young listed in their litters, a few of those are kept and bred from.
Genotypes are drawn by Mendel's rules, so that what is recorded of young never contradicts their parents. Seeded: the
same number gives the same files.
"""

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from PIL import Image, ImageFilter

RECESSIVE = ("alder", "birch", "hazel")
GENES = (*RECESSIVE, "cedar")
"""The three recessives, and one incomplete dominant."""
YOUNG_A_LITTER = (6, 14)
FIRST_YEAR = 2005
SIZES = (100, 1_000, 3_000, 10_000)

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
SITE = "name: A Collection\nlanguage: en-GB\ncurrency: GBP\n"
"""No public address: with one, a share picture is drawn for every animal, which is measured by pictures.py."""
NOTE = (
    "Came as a yearling and settled well. It feeds on thawed mice of the usual size and has never refused one for "
    "longer than three weeks before a slough."
    "\n\n  Lays in the moss box; **calm** to handle, see [how we keep](about.html)."
)


@dataclass(frozen=True, slots=True)
class _Adult:
    """Somebody to breed from: since when, and how many copies of each gene it truly has."""

    id: str
    since: int
    copies: Mapping[str, int]


@dataclass(slots=True)
class _Herd:
    """What has been written so far."""

    n_animals: int
    dice: random.Random
    files: dict[str, str] = field(default_factory=dict)
    adults: dict[str, list[_Adult]] = field(default_factory=lambda: {"female": [], "male": []})
    paired: list[tuple[str, str, str, int, str]] = field(default_factory=list)
    count: int = 0
    years: int = 0

    def year(self, year: int, last: int) -> None:
        for sex in self.adults:
            for _ in range(max(2, self.n_animals // 250)):
                self._founder(sex, year)
        for _ in range(max(2, self.n_animals // 200)):
            if self.count < self.n_animals:
                self._litter(year, last)

    def _founder(self, sex: str, year: int) -> None:
        name, dice = f"f{self.count:05d}", self.dice
        carried = ["alder", "hazel"] if not self.count else dice.sample(RECESSIVE, 2)
        copies = dict.fromkeys(GENES, 0)
        stated = []
        for gene in carried:
            word, chance = dice.choice((("certain", 1.0), ("66%", 2 / 3), ("50%", 0.5)))
            stated.append(f"{gene}: {word}")
            copies[gene] = int(dice.random() < chance)
        copies["cedar"] = int(self.count % 5 == 3)
        weighed = "".join(
            f"  {FIRST_YEAR + year - 2}-{month:02d}-01: {250 + 20 * month + dice.randint(0, 19)} g\n"
            for month in (3, 6, 9)
        )
        self.files[f"animals/{name}/animal.yaml"] = (
            f"name: Name {name}\nspecies: corn-snake\nsex: {sex}\nborn: {FIRST_YEAR + year - 3}-06-01\n"
            f"acquired: {{date: {FIRST_YEAR + year - 2}-02-01, from: a previous keeper}}\n"
            f"shows: [{', '.join(_looks(copies))}]\nstated: {{{', '.join(stated)}}}\n"
            f"weights:\n{weighed}about: |\n  {NOTE}\n"
        )
        self.adults[sex].append(_Adult(name, year, copies))
        self.count += 1

    def _litter(self, year: int, last: int) -> None:
        dice = self.dice
        dam, sire = (
            dice.choice([adult for adult in group if adult.since <= year][-max(3, self.n_animals // 20) :])
            for group in self.adults.values()
        )
        litter, born = f"l{self.count:05d}", f"{FIRST_YEAR + year}-07-{dice.randint(1, 28):02d}"
        rows, shown = [], []
        for number in range(1, dice.randint(*YOUNG_A_LITTER) + 1):
            sex = dice.choice(("female", "male"))
            copies = {gene: _passed(dam.copies[gene], dice) + _passed(sire.copies[gene], dice) for gene in GENES}
            shown += _looks(copies)
            kept = number == 1
            state = "kept: true" if kept else f"offer: {_offer(year, last, dice)}"
            rows.append(f'  "{number:02d}": {{sex: {sex}, shows: [{", ".join(_looks(copies))}], {state}}}\n')
            if kept:
                self.adults[sex].append(_Adult(f"{litter}/01", year + 4, copies))
            self.count += 1
        laid = f"{FIRST_YEAR + year}-05-{dice.randint(1, 12):02d}"
        self.files[f"litters/{litter}/litter.yaml"] = (
            f"dam: {dam.id}\nsire: {sire.id}\nlaid: {laid}\nborn: {born}\neggs: {len(rows) + 1}\ninfertile: 1\n"
            f"young:\n{''.join(rows)}about: |\n  All out within *two days*, and all fed by the end of August.\n"
        )
        if shown:
            self.paired.append((litter, dam.id, sire.id, FIRST_YEAR + year, shown[-1]))


def _passed(copies: int, dice: random.Random) -> int:
    """How many of the two possible copies a parent passes on."""
    return int(dice.random() < copies / 2)


def _looks(copies: Mapping[str, int]) -> Iterator[str]:
    yield from (gene for gene in RECESSIVE if copies[gene] == 2)
    if copies["cedar"]:
        yield "super cedar" if copies["cedar"] == 2 else "cedar"


def _offer(year: int, last: int, dice: random.Random) -> str:
    """Young of the last two years may still be had, the others are sold."""
    day = f"{FIRST_YEAR + year}-10-{dice.randint(1, 28):02d}"
    price = dice.randrange(60, 300, 10)
    recent = dice.choice(("available", "available", "on hold", "sold"))
    state = recent if year > last - 2 else "sold"
    return f"{{price: {price}, state: {state}, since: {day}}}"


def many_records(n_animals: int, seed: int = 1) -> Mapping[str, str]:
    """Path below the content folder to text, for about that many animals."""
    herd = _grown(n_animals, seed, last=_grown(n_animals, seed, last=0).years)
    pages = {"pages/about.md": "# About\n\nWe keep and write down.\n"}
    return {"site.yaml": SITE, "species/corn-snake.yaml": SPECIES, **pages, **dict(_projects(herd)), **herd.files}


def _grown(n_animals: int, seed: int, last: int) -> _Herd:
    """The herd when it has so many animals."""
    herd = _Herd(n_animals, random.Random(seed))
    while herd.count < n_animals:
        herd.years += 1
        herd.year(herd.years, last)
    return herd


def _projects(herd: _Herd) -> Iterator[tuple[str, str]]:
    """Three roads to a look, each with a pairing that was made and gave it."""
    for number, (litter, dam, sire, year, look) in enumerate(herd.paired[-3:], 1):
        yield (
            f"projects/p{number}/project.yaml",
            f"name: Road {number}\nspecies: corn-snake\ngoal: {{shows: [{look}]}}\nstages:\n"
            f"  - {{season: {year}, dam: {dam}, sire: {sire}, id: first, litters: [{litter}]}}\n",
        )


def write_collection(folder: Path, n_animals: int, seed: int = 1, n_photos: int = 0) -> Path:
    """The content folder with those files; the first ``n_photos`` animals with a folder have a photograph in it."""
    files = many_records(n_animals, seed)
    for path, text in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    if n_photos:
        _draw_photos(folder, sorted(path for path in files if path.startswith("animals/"))[:n_photos])
    return folder


def _draw_photos(folder: Path, records: list[str]) -> None:
    shapes = Image.effect_noise((160, 120), 150).filter(ImageFilter.GaussianBlur(2)).resize((4000, 3000))
    for number, record in enumerate(records):
        image = Image.merge("RGB", (shapes, shapes.rotate(180), shapes)).rotate(number % 4 * 90, expand=True)
        image.save((folder / record).parent / "2024-05-01.jpg", "JPEG", quality=90)
