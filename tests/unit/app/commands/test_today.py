"""``today`` as a keeper meets it."""

import json
from pathlib import Path

from helpers.keeping import all_files, typed

from sitegen.plans.today import Asks


def test_it_tells_a_line_each_with_its_record_and_changes_nothing(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    typed(snakes, "add", "weight", "juniper", "441 g", "--on", "2026-08-01")
    typed(snakes, "add", "weight", young, "8 g", "--on", "2026-08-01")
    typed(snakes, "set", young, "on-hold", "--on", "2026-10-12", "--until", "2026-10-26")
    before = all_files(snakes)
    lines = typed(snakes, "today", "--date", "2026-10-27").stdout.splitlines()
    assert all_files(snakes) == before
    assert lines[0].startswith("The hold of No. 03 of Juniper and Flint 2026 ended on October 26, 2026. (litters/")
    assert [line for line in lines if not line.endswith(")") or ".yaml:" not in line] == [
        "Example and Flint are to be weighed; no weight is recorded."
    ], "a line of several records names none"
    told = json.loads(typed(snakes, "today", "--date", "2026-10-27", "--json").stdout)
    assert list(told) == ["day", *Asks]
    (hold,) = told["holds"]
    assert hold == {
        "id": young, "what": "The hold of No. 03 of Juniper and Flint 2026 ended on October 26, 2026.",
        "since": "2026-10-26", "file": "litters/2026-juniper-flint/litter.yaml", "line": hold["line"],
    }  # fmt: skip
    assert {each["id"] for each in told["weigh"]} >= {young, "flint"}
    assert "juniper" not in {each["id"] for each in told["weigh"]}


def test_a_day_with_nothing_to_do_says_so_and_a_faulty_record_is_told_instead(snakes: Path) -> None:
    assert typed(snakes, "today", "--date", "2026-08-01").stdout == "Nothing is due on August 1, 2026.\n"
    (snakes / "content" / "animals" / "flint" / "animal.yaml").write_text("sex: male\n", encoding="utf-8")
    done = typed(snakes, "today", "--date", "2026-08-01", status=1)
    assert "species" in done.stderr
    assert not done.stdout
    assert not typed(snakes, "today", "--json", status=1).stdout


def test_who_waits_for_what_can_go_is_told_in_the_terminal_alone(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    typed(snakes, "add", "young", young.partition("/")[0], "03", "--sex", "female", "--shows", "amel")
    typed(snakes, "set", young, "available", "--price", "90", "--on", "2026-10-12")
    typed(snakes, "add", "waiting", "Quill from the fair", "--shows", "amel", "--sex", "female", "--up-to", "100",
          "--since", "2026-05-03", "--contact", "quill@example.org", "--wants", "a calm one")  # fmt: skip
    told = "No. 03 of Juniper and Flint 2026 fits what Quill from the fair waits for (since May 3, 2026): shows amel"
    lines = typed(snakes, "today", "--date", "2026-10-27").stdout.splitlines()
    assert lines[-1].startswith(told)
    assert lines[-1].endswith("In their words: “a calm one”. (waiting.yaml:5)")
    assert "Quill" not in typed(snakes, "today", "--date", "2026-10-27", "--json").stdout
    typed(snakes, "set", young, "sold", "--on", "2026-10-20")
    assert "Quill" not in typed(snakes, "today", "--date", "2026-10-27").stdout


def test_what_cannot_go_yet_is_told_nobody(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    typed(snakes, "set", young, "available", "--price", "90", "--on", "2026-10-12", "--ready", "2026-12-01")
    typed(snakes, "add", "waiting", "Quill", "--species", "corn-snake", "--since", "2026-05-03")
    assert "Quill" not in typed(snakes, "today", "--date", "2026-10-27").stdout
    assert "may fit" not in typed(snakes, "today", "--date", "2026-12-01").stdout
    assert (
        "fits what Quill waits for (since May 3, 2026). (waiting.yaml:5)"
        in typed(snakes, "today", "--date", "2026-12-01").stdout
    )
