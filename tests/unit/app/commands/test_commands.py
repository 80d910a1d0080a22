"""The command line as a whole process would see it: exit status, standard output, standard error."""

import json
import subprocess
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.program import SITEGEN, SMALL, run


@pytest.fixture
def small(content: Callable[[str], Path]) -> Path:
    return content(SMALL).parent


def test_why_all_gives_two_thirds_to_a_normal_young_of_two_carriers(small: Path) -> None:
    # Source: unaffected full sibling of an affected, both parents carriers: 2/3; published-checks (teaching sets).
    done = run(small, "why", "--all", "--json")
    assert done.returncode == 0, done.stderr
    answers = json.loads(done.stdout)
    assert answers["animals"]["2022-a/01"]["amel"] == {"+/+": "1/3", "+/amel": "2/3"}
    assert answers["animals"]["2022-a/02"]["amel"] == {"amel/amel": "1"}
    assert answers["animals"]["2022-a/01"]["anery"] == {"+/+": "1"}
    assert answers["contradictions"] == []
    assert answers["too_tangled"] == []
    assert answers["inbreeding"]["2022-a/01"] == "0"


def test_the_size_of_a_usual_litter_is_told_with_where_it_comes_from(small: Path) -> None:
    species = small / "content" / "species" / "corn-snake.yaml"
    text = "".join(
        each for each in species.read_text(encoding="utf-8").splitlines(True) if not each.startswith("litter_size")
    )
    told = {
        "": "We have not written down how many young",
        "litter_size: {low: 3, usual: 5, high: 7}\n": "3 to 7 living young, most often 5.",
        "litter_size: {low: 3, usual: 5, high: 7}\nsources: {litter_size: Brume 2001}\n": "most often 5 (Brume 2001).",
    }
    for lines, sentence in told.items():
        species.write_text(f"{text}{lines}", encoding="utf-8")
        done = run(small, "odds", "2022-a/01", "2022-a/02", "--want", "amel")
        assert sentence in " ".join(done.stdout.split()), done.stdout + done.stderr


def test_no_share_of_females_is_told_where_warmth_decides_the_sex(small: Path) -> None:
    species = small / "content" / "species" / "corn-snake.yaml"
    text = "".join(
        each for each in species.read_text(encoding="utf-8").splitlines(True) if not each.startswith("sexes")
    )
    species.write_text(f"{text}sexes: temperature\n", encoding="utf-8")
    asked = ("odds", "2022-a/01", "2022-a/02", "--want", "amel")
    done = run(small, *asked, "--sex", "female")
    assert (done.returncode, done.stdout) == (2, "")
    assert "the warmth of the eggs decides the sex of a" in " ".join(done.stderr.split())
    assert run(small, *asked).returncode == 0


def test_odds_are_a_mixture_over_the_parents(small: Path) -> None:
    done = run(small, "odds", "2022-a/01", "2022-a/02", "--json", "--young", "4", "--want", "amel")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["young"]["amel"] == {"+/amel": "2/3", "amel/amel": "1/3"}
    assert Fraction(found["want"]["at_least"]["p"]) == Fraction(2, 3) * (1 - Fraction(1, 2) ** 4)
    assert found["kinship"] == "1/4"
    assert sum(Fraction(count) for count in found["want"]["counts"]) == 1


def test_why_in_words_goes_down_to_the_records(small: Path) -> None:
    done = run(small, "why", "2022-a/01", "amel")
    assert done.returncode == 0, done.stderr
    assert "about 67 in 100" in done.stdout
    assert "litters/2022-a/litter.yaml:5" in done.stdout
    assert "\x1b" not in done.stdout


def test_check_of_sound_records_is_clean(small: Path) -> None:
    done = run(small, "check", "--json")
    assert (done.returncode, json.loads(done.stdout)) == (0, {"findings": []})


def test_a_misspelt_gene_is_told_with_its_place_and_the_nearest(small: Path) -> None:
    record = small / "content/animals/dam/animal.yaml"
    record.write_text(record.read_text().replace("shows: []", "shows: [amle]"))
    done = run(small, "check")
    assert done.returncode == 1
    assert "animals/dam/animal.yaml:4:9: error:" in done.stdout
    assert "nearest: amel" in done.stdout
    (finding,) = json.loads(run(small, "check", "--json").stdout)["findings"]
    assert (finding["file"], finding["line"], finding["column"]) == ("animals/dam/animal.yaml", 4, 9)
    assert finding["level"] == "error"


def test_a_build_with_an_error_leaves_the_output_as_it_was(small: Path) -> None:
    assert run(small, "build").returncode == 0
    before = {path: path.read_bytes() for path in (small / "output").rglob("*") if path.is_file()}
    assert any(path.name == "index.html" for path in before)
    record = small / "content/animals/dam/animal.yaml"
    record.write_text(record.read_text() + "dam: nobody\n")
    done = run(small, "build")
    assert done.returncode == 1
    assert "nobody" in done.stderr
    assert before == {path: path.read_bytes() for path in (small / "output").rglob("*") if path.is_file()}


def test_the_same_records_give_the_same_bytes_whatever_the_hash_seed(small: Path, tmp_path: Path) -> None:
    sites = []
    for seed in ("1", "2"):
        output = tmp_path / f"site-{seed}"
        subprocess.run(
            [*SITEGEN, "build", "--output", str(output)],
            cwd=small, env={"PYTHONHASHSEED": seed, "PATH": "/usr/bin"}, capture_output=True, timeout=120, check=True,
        )  # fmt: skip
        sites.append({p.relative_to(output): p.read_bytes() for p in sorted(output.rglob("*")) if p.is_file()})
    assert sites[0] == sites[1]


def test_contradicting_records_are_named_and_nothing_is_built(small: Path) -> None:
    sire = small / "content/animals/sire/animal.yaml"
    sire.write_text(sire.read_text().replace("stated: {amel: certain}", "tests: [{locus: amel, result: +/+}]"))
    done = run(small, "why", "--all", "--json")
    assert done.returncode == 1
    answers = json.loads(done.stdout)
    (clash,) = answers["contradictions"]
    assert (clash["species"], clash["loci"]) == ("corn-snake", ["amel"])
    assert {record["file"] for record in clash["records"]} >= {
        "animals/sire/animal.yaml",
        "litters/2022-a/litter.yaml",
    }
    assert "amel" not in answers["animals"]["2022-a/01"]
    assert answers["animals"]["2022-a/01"]["anery"] == {"+/+": "1"}
    built = run(small, "build")
    assert built.returncode == 1
    assert not (small / "output").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("why", "damm"), "nearest: dam"),
        (("why", "dam", "amle"), "nearest: amel"),
        (("why",), "name one animal"),
        (("biuld",), "Nearest: build"),
        (("odds", "dam"), "SIRE"),
        (("build", "--date", "soon"), "date"),
    ],
)
def test_wrong_use_is_told_with_status_2(small: Path, words: tuple[str, ...], told: str) -> None:
    done = run(small, *words)
    assert done.returncode == 2, done
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_a_pair_that_cannot_be_is_told(small: Path) -> None:
    done = run(small, "odds", "sire", "dam")
    assert done.returncode in (1, 2)
    assert "name the dam first" in done.stderr


@pytest.mark.parametrize("command", ["build", "check", "why"])
def test_without_a_content_folder_there_is_one_clear_message(tmp_path: Path, command: str) -> None:
    done = run(tmp_path, command, *(["--all"] if command == "why" else []))
    assert done.returncode == 1
    told = done.stdout + done.stderr
    assert "content" in told
    assert told.count("error:") == 1
    assert "Traceback" not in told


def test_help_names_every_command(tmp_path: Path) -> None:
    done = run(tmp_path, "--help")
    assert done.returncode == 0
    for command in ("build", "check", "odds", "why"):
        assert command in done.stdout
