"""Law of the preview: after any changes, every file is the one that a clean build makes."""

import random
from datetime import date
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.app.preview.live_site import LiveSite
from sitegen.build import Order, build

THEMES = Path(__file__).parents[2] / "themes"

RECORDS = """
=== site.yaml
name: A Collection
address: https://collection.example/
currency: GBP
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {inheritance: recessive}
  late: {inheritance: recessive, visible_from: 12 months}
  tessera: {inheritance: dominant}
combinations:
  snow: [amel, anery]
=== species/boa.yaml
name: sand boa
births: live
loci:
  pale: {inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2020-06-01
shows: [amel]
stated: {anery: 66%}
weights: {2023-05-01: 410 g}
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2020-07-01
shows: [tessera]
stated: {amel: certain}
=== animals/moss/animal.yaml
species: boa
sex: female
shows: []
stated: {pale: 50%}
=== litters/2024-x/litter.yaml
dam: juniper
sire: flint
born: 2024-07-01
young:
  "01": {sex: female, shows: [amel], offer: {price: 90, state: available, since: 2024-09-01}}
  "02": {sex: male, shows: [], kept: true}
others: [{count: 3, shows: []}]
=== projects/pale/project.yaml
species: corn-snake
goal: {shows: [amel]}
stages: [{season: 2023, dam: juniper, sire: flint, id: first, litters: [2024-x]}]
=== pages/about.md
# About

We keep [Juniper](animals/juniper.html).
"""

JUNIPER, FLINT, LITTER = "animals/juniper/animal.yaml", "animals/flint/animal.yaml", "litters/2024-x/litter.yaml"
Change = tuple[str, str, str]
SWAPS: tuple[Change, ...] = (
    (JUNIPER, "name: Juniper", "name: Juno"),
    (JUNIPER, "weights: {2023-05-01: 410 g}", "weights: {2023-05-01: 410 g, 2025-02-03: 500 g}"),
    (JUNIPER, "shows: [amel]", "# a line more\nshows: [amel]\nabout: Calm since the spring."),
    (JUNIPER, "stated: {anery: 66%}", "stated: {anery: certain}"),
    (FLINT, "stated: {amel: certain}", "stated: {amel: certain, anery: 50%}"),
    (FLINT, "shows: [tessera]", "shows: [tessera]\ncopies: {tessera: 50%}"),
    (
        FLINT,
        "shows: [tessera]",
        "shows: [tessera]\ntests: [{locus: anery, result: +/anery, date: 2025-03-01, laboratory: Saltby}]",
    ),
    (JUNIPER, "stated: {anery: 66%}", "stated: {anery: 66%, late: 50%}"),
    (JUNIPER, "shows: [amel]", "shows: [amel]\nunsure: [late]"),
    (LITTER, '"02": {sex: male, shows: []', '"02": {shows: []'),
    (FLINT, "born: 2020-07-01", "born: 2020-07-02\nmeals: [{date: 2025-01-01, what: mouse}]"),
    (FLINT, "sex: male", "sex: mail"),
    (LITTER, "price: 90", "price: 95"),
    (LITTER, "state: available", "state: on hold"),
    (LITTER, "shows: [], kept: true", "shows: [tessera], kept: true"),
    (LITTER, "others: [{count: 3, shows: []}]", "others: [{count: 3, shows: []}, {count: 1, shows: [late]}]"),
    (LITTER, "sire: flint", "sire: flnt"),
    (LITTER, "born: 2024-07-01", "born: 2023-07-01"),
    ("animals/moss/animal.yaml", "shows: []", "shows: [pale]"),
    ("species/corn-snake.yaml", "name: corn snake", "name: corn snake\nscientific: Pantherophis guttatus"),
    ("species/corn-snake.yaml", "visible_from: 12 months", "visible_from: 30 months"),
    ("site.yaml", "name: A Collection", "name: A Small Collection"),
    ("site.yaml", "currency: GBP", "currency: GBP\ncontact: {place: Saltby}"),
    ("projects/pale/project.yaml", "goal: {shows: [amel]}", "goal: {shows: [tessera]}"),
    ("pages/about.md", "We keep", "We kept and keep"),
)
FILES: tuple[tuple[str, str], ...] = (
    ("animals/sage/animal.yaml", "species: corn-snake\nsex: male\nshows: [anery]\nborn: 2022-01-01\n"),
    ("pages/care.md", "# Care\n\nWarm at one end.\n"),
    (
        "litters/2025-y/litter.yaml",
        "dam: juniper\nsire: [flint, 2024-x/02]\nborn: 2025-07-01\nyoung: {'01': {shows: []}}\n",
    ),
    ("animals/broken/animal.yaml", "species: corn-snake\n  sex: ["),
    ("animals/wren/animal.yaml", "from_litter: 2024-x/02\nspecies: corn-snake\nsex: male\nshows: [anery]\n"),
)


def toggle(content: Path, change: Change | tuple[str, str]) -> None:
    """Put something in, or take it out again."""
    file = content / change[0]
    if len(change) == 3:
        _, plain, changed = change
        text = file.read_text("utf-8")
        file.write_text(text.replace(changed, plain) if changed in text else text.replace(plain, changed), "utf-8")
    elif file.exists():
        file.unlink()
        if change[0].count("/") == 2:
            file.parent.rmdir()
    else:
        file.parent.mkdir(exist_ok=True)
        file.write_text(change[1], "utf-8")


def clean_build(content: Path, folder: Path, day: date | None) -> dict[str, bytes] | None:
    output = folder / "clean" / "output"
    if build(Order(content, output, THEMES, date=day)).published is None:
        return None
    files = {path.relative_to(output).as_posix(): path.read_bytes() for path in output.rglob("*") if path.is_file()}
    return {name: content for name, content in files.items() if not name.startswith(".")}


def served(site: LiveSite) -> dict[str, bytes] | None:
    if not site.state.is_sound:
        return None
    made = site.state.good
    assert made is not None
    wanted = [*made.site.pages, *made.others()]
    return {address: content for address in wanted if (content := made.find(address)) is not None}


def assert_as_built(content: Path, folder: Path, site: LiveSite, day: date | None = None) -> bool:
    """True when there is a site, and it was compared."""
    expected, actual = clean_build(content, folder, day), served(site)
    assert (expected is None) == (actual is None)
    if expected is None or actual is None:
        return False
    assert sorted(expected) == sorted(actual)
    assert [name for name in expected if expected[name] != actual[name]] == []
    return True


@pytest.mark.parametrize("seed", range(4))
def test_after_any_changes_every_file_is_that_of_a_clean_build(tmp_path: Path, seed: int) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    dice = random.Random(seed)
    site = LiveSite(Order(content, tmp_path / "output", THEMES))
    site.remake()
    n_compared = 0
    for step in range(14):
        change = dice.choice(SWAPS) if dice.random() < 0.75 else dice.choice(FILES)
        toggle(content, change)
        made = site.remake().good
        assert made is not None
        for address in dice.sample(sorted(made.site.pages), 3):
            made.find(address)  # some pages are looked at in between, most are not
        if step % 2:
            n_compared += assert_as_built(content, tmp_path, site)
        if not site.state.is_sound:
            toggle(content, change)
    assert n_compared >= 3
    assert not (tmp_path / "output").exists()


@pytest.mark.parametrize("change", [*SWAPS, *FILES], ids=lambda change: f"{change[0]} {change[-1][:30]}")
def test_after_each_change_every_file_is_that_of_a_clean_build(
    tmp_path: Path, change: Change | tuple[str, str]
) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    site = LiveSite(Order(content, tmp_path / "output", THEMES))
    site.remake()
    assert served(site)
    toggle(content, change)
    site.remake()
    assert_as_built(content, tmp_path, site)
    toggle(content, change)
    site.remake()
    assert assert_as_built(content, tmp_path, site)


def test_after_a_folder_is_renamed_every_file_is_that_of_a_clean_build(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    site = LiveSite(Order(content, tmp_path / "output", THEMES))
    site.remake()
    old, new = content / "animals/moss", content / "animals/fern"
    for before, after in ((old, new), (new, old)):
        before.rename(after)
        site.remake()
        assert assert_as_built(content, tmp_path, site)


def test_evidence_after_evidence_in_one_record_is_that_of_a_clean_build(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    site = LiveSite(Order(content, tmp_path / "output", THEMES))
    site.remake()
    record, stated = content.absolute() / JUNIPER, "anery: 66%"
    for then in ("anery: 50%", "anery: certain", "anery: certain, tessera: 50%", "late: 50%"):
        record.write_text(record.read_text("utf-8").replace(stated, then), "utf-8")
        stated = then
        made = site.remake().good
        assert made is not None
        for address in ("litters/2024-x/02.html", "animals/juniper.html"):
            made.find(address)  # asked first, one after the other, before everything else
        assert_as_built(content, tmp_path, site)
