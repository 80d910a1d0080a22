"""``sitegen import`` and ``sitegen export`` with their exit status and output."""

import json
import shlex
from pathlib import Path

import pytest
from helpers.program import run
from helpers.sheets import folder

from sitegen.app.commands.import_ import command

ROWS = "name,sex,genetics\nRuby,0.1,Snow het hypo 66% het caramel\nFlint,1.0,normal\n"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    folder(tmp_path)
    (tmp_path / "a.csv").write_text(ROWS)
    return tmp_path


def test_dry_run_shows_every_record_and_writes_none(small: Path) -> None:
    done = run(small, "import", "a.csv", "--dry-run")
    assert done.returncode == 0, done.stderr
    assert "animals/ruby/animal.yaml" in done.stdout
    assert "    stated: {hypo: certain, caramel: 66%}" in done.stdout
    assert "without --dry-run it would be 2 records" in done.stdout
    assert not (small / "content/animals").exists()


def test_the_example_of_the_help_text_runs(small: Path) -> None:
    (small / "my-snakes.csv").write_text(ROWS)
    assert command.epilog is not None
    done = run(small, *shlex.split(command.epilog.partition("sitegen ")[2]))
    assert (done.returncode, done.stderr) == (0, "")


def test_import_check_import_again_export(small: Path) -> None:
    first = run(small, "import", "a.csv")
    assert (first.returncode, first.stderr) == (0, "")
    assert first.stdout.endswith("2 records written.\n")
    assert run(small, "check").returncode == 0
    again = run(small, "import", "a.csv")
    assert (again.returncode, again.stderr) == (0, "")
    assert "2 have a record already" in again.stdout
    assert "Nothing was written." in again.stdout
    done = run(small, "export", "--to", "all.xlsx")
    assert done.returncode == 0, done.stderr
    assert run(small, "import", "all.xlsx").returncode == 0
    refused = run(small, "export", "--to", "all.xlsx")
    assert refused.returncode == 1
    assert "--replace" in refused.stderr
    assert run(small, "export", "--to", "all.xlsx", "--replace").returncode == 0


def test_imported_records_are_bound_to_their_schema_as_added_ones_are(small: Path) -> None:
    assert run(small, "schema", "--to", ".schemas").returncode == 0
    assert run(small, "import", "a.csv").returncode == 0
    assert run(small, "add", "animal", "Bo").returncode == 0
    lines = {path.read_text().split("\n")[0] for path in small.glob("content/animals/*/animal.yaml")}
    assert lines == {"# yaml-language-server: $schema=../../../.schemas/animal.schema.json"}
    assert "2 have a record already" in run(small, "import", "a.csv").stdout


def test_a_row_that_is_not_understood_is_told_and_the_status_is_1(small: Path) -> None:
    (small / "a.csv").write_text(ROWS + "Bo,m,Snow het hyppo\n")
    done = run(small, "import", "a.csv")
    assert done.returncode == 1
    assert 'a.csv:4:3: error: row 4, genetics "Snow het hyppo": "hyppo" is not understood' in done.stderr
    assert "nearest: hypo" in done.stderr
    assert "add --partly to take the 2 rows" in done.stdout
    assert not (small / "content/animals").exists()
    partly = run(small, "import", "a.csv", "--partly")
    assert partly.returncode == 1
    assert "2 records written." in partly.stdout
    assert (small / "content/animals/flint/animal.yaml").is_file()


def test_machine_output_is_all_there_is_on_standard_output(small: Path) -> None:
    facts = json.loads(run(small, "import", "a.csv", "--json", "--dry-run").stdout)
    assert (facts["rows"], facts["written"], len(facts["records"])) == (2, 0, 2)
    assert run(small, "import", "a.csv", "--json").returncode == 0
    exported = json.loads(run(small, "export", "--json").stdout)
    assert ["Flint", "Ruby"] == [animal["name"] for animal in exported["animals"]]
    broken = run(small, "import", "nothing.csv", "--json")
    assert (broken.returncode, len(json.loads(broken.stdout)["findings"])) == (1, 1)


def test_export_without_a_file_goes_to_standard_output(small: Path) -> None:
    run(small, "import", "a.csv")
    done = run(small, "export")
    assert done.stdout.startswith("id,name,species,sex")
    assert 3 == len(done.stdout.splitlines())


@pytest.mark.parametrize(
    ("words", "status", "told"),
    [
        (("import",), 2, "FILE"),
        (("import", "none.csv"), 1, "no such file"),
        (("import", "a.csv", "--species", "boa"), 1, 'no species "boa"'),
        (("import", "a.csv", "--content", "none"), 1, "no content folder"),
        (("import", "a.csv", "--columns", "none.yaml"), 1, "no such file"),
        (("imprt",), 2, "Nearest: import"),
        (("export", "--to", "all.ods"), 2, ".csv or .xlsx"),
        (("export", "--to", "a.csv"), 1, "there already"),
        (("export", "--to", "content/site.yaml/all.csv"), 1, "content/site.yaml: "),
    ],
)
def test_what_cannot_be_done_is_told_without_a_traceback(
    small: Path, words: tuple[str, ...], status: int, told: str
) -> None:
    done = run(small, *words)
    assert done.returncode == status, done
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert "mistake in sitegen" not in done.stderr
    assert ROWS == (small / "a.csv").read_text()
