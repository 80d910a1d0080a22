"""Every kind of daily record is planted with words, a number and a day of its own, and searched for in every byte of
the site: each is found where ``public`` shows it, and nowhere else.
"""

import datetime as dt
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import run

from sitegen.app.commands import options
from sitegen.content.events import EventKind
from sitegen.content.public import USUALLY, Public

NEVER = ("vet", "quarantined", "moved", "note", "quarantine", "permits", "private", "until")
"""Kinds that no word of ``public`` shows, the note of a shed among them."""
DAY = {kind: f"{11 + number}" for number, kind in enumerate((*Public, *NEVER))}
SIGNS: dict[str, tuple[str, ...]] = {
    "weights": ("7171", "7,171"), "lengths": ("8282", "828.2"), "meals": ("zq-meal", "zq-earlier"),
    "sheds": ("shed on record",), "diary": ("copulation seen",), **{kind: (f"zq-{kind}",) for kind in NEVER},
}  # fmt: skip
"""What would tell of each kind, beside its day."""
_EVENTS = [(kind.value, kind.value) for kind in EventKind if kind.value in NEVER]
DAILY = "\n".join((
    f"weights: {{2026-03-{DAY['weights']}: 7171 g}}",
    f"lengths: {{2026-03-{DAY['lengths']}: 8282 mm}}",
    f"meals: [{{date: 2026-02-03, what: zq-earlier}}, {{date: 2026-03-{DAY['meals']}, what: zq-meal}}]",
    f"quarantine: {{since: 2026-03-{DAY['quarantine']}, until: 2027-03-{DAY['quarantine']}, note: zq-quarantine}}",
    f"events: [{{date: 2026-03-{DAY['sheds']}, what: shed, note: zq-note}}, "
    + ", ".join(f"{{date: 2026-03-{DAY[kind]}, what: {what}, note: zq-{kind}}}" for kind, what in _EVENTS) + "]",
    f"private: {{permits: [{{kind: zq-permits, number: zq-permits, valid_until: 2026-03-{DAY['permits']}}}],",
    "  other: zq-private}",
))  # fmt: skip
RECORDS = """
=== site.yaml
name: Small
address: https://small.example/
currency: GBP
language: en-GB
ready_when: {{meals: 5, weight: 9 kg}}
{public}
=== species/corn-snake.yaml
name: corn snake
breeding_weight: {{female: 5 kg}}
loci:
  amel: {{name: amelanistic, inheritance: recessive}}
  late: {{name: late, inheritance: recessive, visible_from: 1 month}}
=== animals/dam/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {{amel: certain, late: certain}}
{daily}
=== animals/sire/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
stated: {{amel: certain, late: certain}}
=== animals/young/animal.yaml
species: corn-snake
from_litter: 2026-a/01
shows: [late]
offer: {{price: 140, state: available, since: 2026-02-01, until: 2027-03-{until}}}
{daily}
=== litters/2026-a/litter.yaml
dam: dam
sire: sire
born: 2026-01-05
young: {{"01": {{sex: female, shows: []}}}}
events:
  - {{date: 2025-03-{day}, what: copulation, note: zq-note}}
  - {{date: 2025-03-10, what: note, note: zq-note}}
=== projects/hope/project.yaml
species: corn-snake
state: under way
goal: {{shows: [amel]}}
stages:
  first: {{season: 2027, dam: dam, sire: sire, keep: {{goal: {{shows: [amel]}}}}}}
"""


def leaving(folder: Path, public: str, daily: str = DAILY) -> list[tuple[str, bytes]]:
    write_files(folder / "content", RECORDS.format(public=public, daily=daily, day=DAY["diary"], until=DAY["until"]))
    done = run(folder, "build")
    assert done.returncode == 0, done.stderr
    return [(str(path), path.read_bytes()) for path in sorted((folder / "output").rglob("*")) if path.is_file()]


def told(kind: str, files: list[tuple[str, bytes]]) -> list[tuple[str, str]]:
    """The files that tell of a kind, by its words, its numbers or its day."""
    day = DAY[kind]
    days = [*(f"{year}-03-{day}" for year in (2025, 2026, 2027)), f"{day} Mar"]
    texts = [(name, raw) for name, raw in files if not name.endswith((".woff2", ".jpg", ".avif"))]
    return [(name, sign) for name, raw in texts for sign in (*SIGNS[kind], *days) if sign.encode() in raw]


@pytest.mark.parametrize(
    ("public", "shown"),
    [("", USUALLY), ("public: []", ()), *((f"public: [{kind}]", (kind,)) for kind in Public)],
)
def test_each_kind_is_in_no_byte_unless_it_is_shown(public: str, shown: tuple[Public, ...], tmp_path: Path) -> None:
    files = leaving(tmp_path, public)
    assert len(files) > 30
    for kind in (*Public, *NEVER):
        found = told(kind, files)
        assert bool(found) == (kind in shown), (kind, found[:5])
    assert not [name for name, raw in files if b"zq-earlier" in raw], "meals are a line on how many, and the last"
    page = next(raw.decode() for name, raw in files if name.endswith("2026-a/01.html"))
    assert "not ready yet" in page
    assert ("the rest of our own rule" in page) == (not {Public.MEALS, Public.WEIGHTS} <= set(shown))
    paper = next(raw.decode() for name, raw in files if name.endswith("2026-a/01-paper.html"))
    assert "None recorded" not in paper, "of what is not shown nothing is said, also not that there is none"


def test_records_that_are_not_shown_change_no_byte(tmp_path: Path) -> None:
    """Nothing but what an offer lacks and when a parent is heavy enough may rest on them; here neither does."""
    with_them, without = (
        {path.removeprefix(str(tmp_path / name)): raw for path, raw in leaving(tmp_path / name, "public: []", daily)}
        for name, daily in (("a", DAILY), ("b", ""))
    )
    assert with_them == without


def test_no_page_tells_what_a_day_asks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    late = """
=== litters/2026-b/litter.yaml
dam: dam
sire: sire
expected: 2026-08-03
"""
    records = RECORDS.format(public="weigh_every: 9 days", daily=DAILY, day="12", until="13")
    write_files(tmp_path / "content", records + late)
    made = []
    for day in (dt.date(2026, 8, 3), dt.date(2026, 8, 4), dt.date(2027, 8, 4)):
        monkeypatch.setattr(options, "clock", lambda day=day: day)
        done = run(tmp_path, "build")
        assert done.returncode == 0
        assert ("2026-b is late" in done.stderr) == (day > dt.date(2026, 8, 3)), "the keeper is told of it"
        files = sorted(path for path in (tmp_path / "output").rglob("*") if path.is_file())
        made.append({path: path.read_bytes() for path in files})
    assert made[0] == made[1] == made[2]
    assert run(tmp_path, "today", "--date", "2026-08-04").stdout.startswith("2026-b is late")
