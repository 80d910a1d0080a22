"""Law of building again: after any changes, a build over an older one gives what a clean build gives, byte for byte.

``STALE_EDITS`` in the environment sets how many edits are tried; each is one change of a record, a page, a photograph,
the theme or the day, put in or taken out again. Between builds what is kept from one to the next is deleted, cut off,
spoilt, emptied or put back as it was some builds ago, as killed builds and other programs may leave it.
"""

import datetime as dt
import os
import random
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "preview"))

from test_equals_a_clean_build import FILES, FLINT, JUNIPER, LITTER, RECORDS, SWAPS, toggle
from written import write_files

from sitegen.build import Built, Order, build
from sitegen.inferred import Before
from sitegen.publishing import again

EDITS = int(os.environ.get("STALE_EDITS", "24"))
PROJECT = "projects/pale/project.yaml"
MORE = (
    ("site.yaml", "currency: GBP", "currency: GBP\ntagline: Two rooms."),
    ("site.yaml", "currency: GBP", "currency: GBP\nlanguage: de"),
    ("site.yaml", "currency: GBP", "currency: GBP\nready_when: {meals: 1, weight: 20 g}"),
    (LITTER, '"01": {sex: female', '"01": {weights: {2024-08-02: 25 g}, sex: female'),
    (LITTER, '"01": {', '"01": {meals: [{date: 2024-08-20, what: pinky}], about: Eats., '),
    (JUNIPER, "weights:", "line: Riverside\nweights:"),
    (JUNIPER, "born: 2020-06-01", "born: 2020-06-01\nacquired: {date: 2021-01-02, from: a previous keeper}"),
    (LITTER, "born: 2024-07-01", "born: 2024-07-01\nname: The first clutch"),
    (LITTER, '"02": {sex: male', '"02": {name: Wren, sex: male'),
    (LITTER, '"02": {sex: male', '"03": {sex: female, shows: []}\n  "02": {sex: male'),
    ("species/corn-snake.yaml", "{inheritance: recessive, visible_from: 12 months}", "{inheritance: recessive }"),
    (JUNIPER, "born: 2020-06-01", "born: 2020-06-01\noffer: {state: on hold}"),
    (PROJECT, "stages: [", "stages: [{season: 2027, dam: juniper, sire: flint, id: second}, "),
    (PROJECT, "stages: [", "rest: 2\nstages: [{season: 2025, dam: juniper, sire: 2024-x/02, id: third}, "),
    (FLINT, "species: corn-snake", "# a line more\nspecies: corn-snake"),
    (LITTER, "dam: juniper", "# a line more\ndam: juniper"),
    (PROJECT, "species: corn-snake", "# a line more\nspecies: corn-snake"),
    ("pages/about.md", "[Juniper](animals/juniper.html)", "[Juniper](animals/sage.html)"),
)
DAYS = (None, dt.date(2026, 11, 25), dt.date(2025, 2, 1))


def put_photo(content: Path, dice: random.Random) -> None:
    """A photograph of one colour comes, changes or goes."""
    path = content / "animals/juniper" / dice.choice(("2024-05-01.jpg", "2025-05-01.jpg"))
    if path.exists() and dice.random() < 0.5:
        path.unlink()
    else:
        Image.new("RGB", (40, 30), (dice.randrange(256), 90, 90)).save(path, "JPEG")


def change_theme(themes: Path) -> None:
    """A theme of the user's own that builds on the one that comes along says another word, or goes back."""
    block = themes / "own" / "templates" / "free.html"
    plain = '{% extends "field-notes/free.html" %}\n{% block page_class %}mine{% endblock %}\n'
    block.write_text(plain if "yours" in block.read_text("utf-8") else plain.replace("mine", "yours"), "utf-8")


def own_theme(themes: Path) -> Path:
    (themes / "own" / "templates").mkdir(parents=True)
    (themes / "own" / "theme.yaml").write_text("name: own\nversion: 1\nextends: field-notes\n", "utf-8")
    (themes / "own" / "templates" / "free.html").write_text("yours", "utf-8")
    change_theme(themes)
    return themes


def edits(content: Path, themes: Path, dice: random.Random) -> Iterator[tuple[dt.date | None, Callable[[], None]]]:
    """Endless edits; the day that counts after each, and what takes a change of a record back."""
    day = None
    while True:
        chance, back = dice.random(), lambda: None
        if chance < 0.8:
            change = dice.choice((*SWAPS, *MORE) if chance < 0.7 else FILES)
            toggle(content, change)
            back = partial(toggle, content, change)
        elif chance < 0.88:
            put_photo(content, dice)
        elif chance < 0.94:
            change_theme(themes)
        else:
            day = dice.choice(DAYS)
        yield day, back


KEPT = ("ledger.json", "built.json", "seen.json", "inferred/??/*")


def spoil(folders: tuple[Path, ...], older: dict[Path, bytes], dice: random.Random) -> bool:
    """Does something to one of the files that are kept from build to build; False when there is none."""
    found = sorted(path for folder in folders for name in KEPT for path in folder.rglob(name) if path.is_file())
    if not found:
        return False
    path = dice.choice(found)
    if not (content := path.read_bytes()):
        return False  # it was emptied before
    match dice.randrange(5):
        case 0:
            path.unlink()
        case 1:
            path.write_bytes(content[: dice.randrange(len(content))])
        case 2:
            at = dice.randrange(len(content))
            path.write_bytes(content[:at] + bytes([content[at] ^ 1]) + content[at + 1 :])
        case 3:
            path.write_bytes(b"")
        case _:
            path.write_bytes(older.get(path, content))
    older.setdefault(path, content)
    return True


def files_of(output: Path) -> dict[str, bytes]:
    found = {path.relative_to(output).as_posix(): path.read_bytes() for path in output.rglob("*") if path.is_file()}
    return {name: content for name, content in found.items() if not name.startswith(".")}


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("workers", [1, 2])
def test_a_build_over_an_older_one_is_a_clean_build(
    tmp_path: Path, seed: int, workers: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(again, "_LATE_NS", 0)  # no pause between an edit and the next build
    dice = random.Random(seed)
    content, themes = write_files(tmp_path / "content", RECORDS), own_theme(tmp_path / "themes")
    toggle(content, ("site.yaml", "currency: GBP", "currency: GBP\ntheme: own"))
    site = tmp_path / "site" / "output"
    made = total = compared = spoilt = taken = doubted = 0
    older: dict[Path, bytes] = {}
    ordinary = Before.of

    def counted(*told: Any) -> Before:
        nonlocal taken, doubted
        before = ordinary(*told)
        taken += before.inferred is not None
        doubted += bool(before.doubts)
        return before

    monkeypatch.setattr("sitegen.build.Before.of", counted)

    def built(output: Path, day: dt.date | None, workers: int) -> Built:
        return build(Order(content, output, themes, output.parent / "store", day, workers))

    built(site, None, workers)
    for number, (day, back) in zip(range(EDITS // 4), edits(content, themes, dice), strict=False):
        if dice.random() < 0.3:
            spoilt += spoil((site.parent,), older, dice)
        for _ in range(dice.choice((1, 1, 2))):  # the second time nothing has changed
            over = built(site, day, workers)
        clean = built(tmp_path / f"clean-{number}" / "output", day, 1)
        assert over.findings == clean.findings
        assert (over.published is None) == (clean.published is None)
        if over.published is not None and clean.published is not None:
            assert files_of(site) == files_of(tmp_path / f"clean-{number}" / "output")
            assert (over.n_pages, over.pictures_made + over.pictures_kept) == (
                clean.n_pages, clean.pictures_made + clean.pictures_kept,
            )  # fmt: skip
            made, total, compared = made + over.published.made, total + clean.published.made, compared + 1
        else:
            back()  # most states are to be sound
    assert compared > EDITS // 12
    assert made < total
    assert spoilt or EDITS < 40
    assert taken or EDITS < 40
    assert doubted or EDITS < 100
