"""A year of a room of twelve, entered by commands, each on its day; and what three days of it ask."""

import datetime as dt
import re
import shlex
import shutil
from pathlib import Path

import pytest
from helpers.keeping import typed

from sitegen.app.commands import options

ADULTS = {
    "Sage": ("corn-snake", "female", 412), "Fern": ("corn-snake", "female", 388), "Rue": ("corn-snake", "female", 365),
    "Moss": ("corn-snake", "female", 251), "Flint": ("corn-snake", "male", 344), "Basalt": ("corn-snake", "male", 371),
    "Chalk": ("corn-snake", "male", 320), "Slate": ("corn-snake", "male", 335),
    "Agate": ("kenyan-sand-boa", "female", 545), "Pumice": ("kenyan-sand-boa", "female", 502),
    "Jasper": ("kenyan-sand-boa", "male", 118), "Ochre": ("kenyan-sand-boa", "male", 109),
}  # fmt: skip
"""Name to species, sex, and grams in January."""
ROUNDS = ("2026-01-03", "2026-04-03", "2026-06-19")
"""Days on which all are weighed, each five grams heavier than before; Fern lost a sixth by June."""
YEAR = """
2026-04-04  add litter --dam sage --sire flint --paired 2026-04-04
2026-04-06  add event 2026-sage-flint copulation
2026-04-11  add litter --dam rue --sire basalt --paired 2026-04-11
2026-04-12  add litter --dam fern --sire chalk --paired 2026-04-12
2026-04-18  add litter --dam agate --sire jasper --paired 2026-04-18
2026-04-20  add event sage flint shed
2026-05-16  add event 2026-sage-flint prelay-shed
--- 2026-05-20
2026-05-28  add outcome 2026-sage-flint --laid 2026-05-28 --eggs 14 --infertile 2
2026-06-06  add meal moss 'hopper mouse' --refused
2026-06-08  add outcome 2026-fern-chalk --failed not-gravid
2026-06-13  add meal moss 'hopper mouse' --refused
2026-06-20  add meal moss 'hopper mouse' --refused
--- 2026-06-21
2026-06-22  add event moss vet --note 'weighed, a smaller mouse next time'
2026-06-27  add meal moss 'pinkie mouse'
2026-06-30  add outcome 2026-rue-basalt --failed slugs
2026-07-29  add outcome 2026-sage-flint --born 2026-07-29 --young 4
2026-08-29  add weight 2026-sage-flint/01 '9 g'
2026-08-29  add weight 2026-sage-flint/02 '8 g'
2026-09-24  add outcome 2026-agate-jasper --born 2026-09-24 --young 3
2026-10-03  set 2026-sage-flint/01 available --price 70
2026-10-03  set 2026-sage-flint/02 available --price 70 --ready 2026-10-20
2026-10-10  set 2026-sage-flint/01 on-hold --until 2026-10-24
--- 2026-11-02
"""

ASKED = {
    "2026-05-20": """\
Rue and Basalt 2026: eggs are likely between 5 May and 16 June 2026.
Fern and Chalk 2026: eggs are likely between 6 May and 17 June 2026.
Sage and Flint 2026: eggs are likely between 25 May and 31 May 2026.
Moss is too light to be paired from 1 April 2027 on: 256 g on 3 April 2026, 300 g asked.
""",
    "2026-06-21": """\
Rue and Basalt 2026 is late: eggs were likely by 18 June 2026; about 10 in 100 come later still. \
Ask a veterinarian about Rue, and write down what came.
Moss has refused the last three meals, since 6 June 2026. Ask a veterinarian.
Fern has lost weight: 393 g on 3 April 2026, 333 g on 19 June 2026. Ask a veterinarian.
Moss is too light to be paired from 1 April 2027 on: 261 g on 19 June 2026, 300 g asked.
""",
    "2026-11-02": """\
The hold of No. 01 of Sage and Flint 2026 ended on 24 October 2026.
No. 01 of Sage and Flint 2026 is on hold and ready to go.
No. 02 of Sage and Flint 2026 has been ready to go since 20 October 2026.
Moss is too light to be paired from 1 April 2027 on: 261 g on 19 June 2026, 300 g asked.
No. 03 and 04 of Sage and Flint 2026 are to be weighed; no weight is recorded.
Agate, Basalt, Chalk, Fern, Flint, Jasper, Moss, Ochre, Pumice, Rue, Sage and Slate are to be weighed, \
last on 19 June 2026.
No. 01 and 02 of Sage and Flint 2026 are to be weighed, last on 29 August 2026.
No. 01, 02 and 03 of Agate and Jasper 2026 are to be weighed; no weight is recorded.
""",
}  # fmt: skip
"""What ``today`` says, without the places."""


def test_the_year(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    day = dt.date(2026, 1, 3)
    monkeypatch.setattr(options, "clock", lambda: day)
    typed(tmp_path, "start", "room", "--name", "Room", "--species", "corn-snake", "--species", "kenyan-sand-boa",
          "--currency", "GBP", "--language", "en-GB")  # fmt: skip
    room = tmp_path / "room"
    shutil.rmtree(room / "content" / "animals" / "example")
    lines = [
        f"{ROUNDS[0]}  add animal {name} --species {species} --sex {sex} --born 2021-07-01 --shows nothing"
        for name, (species, sex, _) in ADULTS.items()
    ]
    for number, on in enumerate(ROUNDS):
        for name, (_, _, grams) in ADULTS.items():
            lost = 65 if (name, number) == ("Fern", 2) else 0
            lines.append(f"{on}  add weight {name} '{grams + 5 * number - lost} g'")
    lines += YEAR.strip().splitlines()
    told = {}
    for line in sorted(lines, key=lambda each: each.removeprefix("--- ")[:10]):
        day = dt.date.fromisoformat(line.removeprefix("--- ")[:10])
        if line.startswith("---"):
            told[str(day)] = re.sub(r" \([a-z]+/[^)]+:\d+\)$", "", typed(room, "today").stdout, flags=re.MULTILINE)
        else:
            typed(room, *shlex.split(line[10:]))
    assert len(lines) - len(told) == 12 + 3 * 12 + 22, "commands for the animals, their weights, and all else"
    assert told == ASKED
    records = [path.read_text() for path in (room / "content").glob("*/*/*.yaml")]
    n_lines = sum(1 for text in records for line in text.splitlines() if line.strip() and not line.startswith("#"))
    assert n_lines == 116, "so many lines of records came of them"
