"""``remove`` as a breeder meets it."""

import json
from pathlib import Path

from helpers.keeping import all_files, typed


def test_what_was_removed_comes_back_with_undo(snakes: Path) -> None:
    typed(snakes, "add", "animal", "Hazel", "--sex", "female")
    before = all_files(snakes)
    shown = typed(snakes, "remove", "Hazel", "--dry-run").stdout
    assert "--- animals/hazel/animal.yaml\n+++ /dev/null" in shown
    assert all_files(snakes) == before
    done = typed(snakes, "remove", "Hazel")
    assert done.stdout == "hazel: taken out of the records.\n  removed: animals/hazel/animal.yaml\n"
    assert done.stderr == "sitegen undo brings it back.\n"
    assert not (snakes / "content/animals/hazel").exists()
    done = typed(snakes, "undo")
    assert done.stdout == "Taken back: hazel: taken out of the records.\n  new:     animals/hazel/animal.yaml\n"
    assert done.stderr == ""
    assert all_files(snakes) == before


def test_what_others_name_stays_and_each_is_told_with_its_line(snakes: Path) -> None:
    before = all_files(snakes)
    told = typed(snakes, "remove", "juniper", status=1).stderr
    assert "litters/2026-juniper-flint/litter.yaml:2:6: error: this names juniper" in told
    assert "Nothing was changed." in told
    found = json.loads(typed(snakes, "remove", "juniper", "--json", status=1).stdout)
    assert [(each["file"], each["line"]) for each in found["findings"]] == [
        ("litters/2026-juniper-flint/litter.yaml", 2)
    ]
    assert all_files(snakes) == before


def test_a_young_that_is_sold_stays(snakes: Path) -> None:
    typed(snakes, "set", "2026-juniper-flint/03", "sold", "--on", "2026-11-02")
    told = typed(snakes, "remove", "2026-juniper-flint/03", status=1).stderr
    assert "it is sold, so a buyer may hold a paper that rests on this record" in told
    assert "sitegen set 2026-juniper-flint/03 not-for-sale" in told
    typed(snakes, "set", "2026-juniper-flint/03", "not-for-sale")
    typed(snakes, "remove", "2026-juniper-flint/03")
    typed(snakes, "check")
