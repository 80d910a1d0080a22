"""``start``, ``add``, ``set`` and ``schema`` as a breeder meets them."""

import contextlib
import io
import json
import os
import pty
import random
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from unittest import mock

import pillow_heif
import pytest
from helpers.program import SITEGEN
from PIL import Image

from sitegen.app.commands import main
from sitegen.keeper.new_records import carried

REPOSITORY = Path(__file__).parents[4]


def run(folder: Path, *words: str, status: int = 0) -> subprocess.CompletedProcess[str]:
    """The command in this process, as if in a folder, with nobody at a terminal."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        mock.patch("sys.stdin", io.StringIO()),
        pytest.raises(SystemExit) as ended,
    ):
        main(list(words))
    done = subprocess.CompletedProcess(list(words), int(ended.value.code or 0), out.getvalue(), err.getvalue())
    assert done.returncode == status, done.stdout + done.stderr
    assert "mistake in sitegen" not in done.stderr
    return done


@pytest.fixture
def snakes(tmp_path: Path) -> Path:
    """A collection of two animals and a clutch of three young."""
    run(tmp_path, "start", "mine", "--name", "Mine", "--species", "corn-snake", "--currency", "GBP")
    mine = tmp_path / "mine"
    run(mine, "add", "animal", "Juniper", "--sex", "female", "--born", "2020-07-14", "--shows", "amel, motley")
    run(mine, "add", "animal", "Flint", "--sex", "male", "--born", "2020-06-01", "--shows", "nothing",
        "--stated", "amel=certain")  # fmt: skip
    run(mine, "add", "litter", "--dam", "juniper", "--sire", "Flint", "--laid", "2026-05-20", "--born", "2026-07-18",
        "--young", "3")  # fmt: skip
    return mine


def files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def record(folder: Path, path: str) -> str:
    return (folder / "content" / path).read_text(encoding="utf-8")


# --- start ------------------------------------------------------------------------------------------------------


def test_a_new_collection_builds_at_once(tmp_path: Path) -> None:
    run(tmp_path, "start", "mine", "--name", "Mine", "--species", "corn snake", "--currency", "eur", "--place", "Here")
    assert json.loads(run(tmp_path / "mine", "check", "--json").stdout) == {"findings": []}
    run(tmp_path / "mine", "build")
    assert "Mine" in (tmp_path / "mine" / "output" / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("species", list(carried()))
def test_every_commented_line_of_the_example_may_be_used(species: str, tmp_path: Path) -> None:
    run(tmp_path, "start", "mine", "--name", "Mine", "--species", species, "--currency", "EUR")
    path = tmp_path / "mine" / "content" / "animals" / "example" / "animal.yaml"
    text = path.read_text(encoding="utf-8")
    used = [line.removeprefix("# ") if line.startswith(("# born", "# shows", "# stated", "# acq", "# wei", "# off",
            "# priv")) else line for line in text.splitlines()]  # fmt: skip
    assert len([line for line in used if line not in text.splitlines()]) == 7
    path.write_text("\n".join(used) + "\n", encoding="utf-8")
    run(tmp_path / "mine", "check")


@pytest.mark.parametrize("species", list(carried()))
def test_every_species_file_that_is_carried_is_sound(species: str, tmp_path: Path) -> None:
    run(tmp_path, "start", "mine", "--name", "Mine", "--species", species, "--currency", "EUR")
    assert json.loads(run(tmp_path / "mine", "check", "--json").stdout) == {"findings": []}


def test_a_folder_that_is_not_empty_is_refused(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("dear")
    done = run(tmp_path, "start", "mine", "--name", "M", "--species", "corn-snake", "--currency", "EUR", status=2)
    assert "mine is not empty (letter.txt)" in done.stderr
    assert files(tmp_path) == {"mine/letter.txt": b"dear"}


@pytest.mark.parametrize(
    ("words", "told", "status"),
    [
        (["--species", "corn-snak", "--currency", "EUR"], "nearest: corn-snake", 2),
        (["--species", "corn-snake", "--currency", "EURI"], "is not a currency code", 1),
        (["--currency", "EUR"], "say --name, --species and --currency", 2),
        (["--species", "corn-snake", "--currency", "EUR", "--email", "me"], "is no e-mail address", 2),
    ],
)
def test_a_start_that_cannot_be_writes_nothing(words: list[str], told: str, status: int, tmp_path: Path) -> None:
    assert told in run(tmp_path, "start", "mine", "--name", "M", *words, status=status).stderr
    assert files(tmp_path) == {}


def test_a_way_back_through_a_folder_that_is_not_there_is_no_way_round_the_refusal(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear")
    words = ["--name", "M", "--species", "corn-snake", "--currency", "EUR"]
    assert "is not empty (letter.txt)" in run(tmp_path, "start", "new/../", *words, status=2).stderr
    assert files(tmp_path) == {"letter.txt": b"dear"}


# --- set --------------------------------------------------------------------------------------------------------


def test_set_in_one_line(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    run(snakes, "set", young, "available", "--on", "2026-10-01", "--price", "140", "--ready", "2026-10-10")
    run(snakes, "set", young, "on-hold", "--on", "2026-10-12")
    run(snakes, "set", young, "sold", "--on", "2026-11-02", "--price", "120")
    wanted = '  "03": {offer: {price: 120, state: sold, since: 2026-11-02, ready: 2026-10-10}}\n'
    assert record(snakes, "litters/2026-juniper-flint/litter.yaml").endswith(wanted)
    before = files(snakes)
    assert "already" in run(snakes, "set", young, "sold", "--on", "2026-11-02", "--price", "120").stdout
    assert files(snakes) == before


def test_a_young_with_a_record_of_its_own_is_offered_where_its_offer_stands(snakes: Path) -> None:
    run(snakes, "set", "2026-juniper-flint/01", "available", "--on", "2026-10-01", "--price", "90")
    run(snakes, "add", "animal", "Hazel", "--from-litter", "2026-juniper-flint/01")
    run(snakes, "set", "Hazel", "sold", "--on", "2026-11-01")
    assert "price: 90, state: sold" in record(snakes, "litters/2026-juniper-flint/litter.yaml")
    run(snakes, "add", "animal", "Moth", "--from-litter", "2026-juniper-flint/02")
    run(snakes, "set", "2026-juniper-flint/02", "available", "--on", "2026-11-01", "--price", "80")
    assert "price: 80, state: available" in record(snakes, "animals/moth/animal.yaml")


@pytest.mark.parametrize(
    ("words", "told", "status"),
    [
        (["2026-juniper-flint/03", "sod"], 'nearest: "sold"', 2),
        (["2026-juniper-flint/03", "resrved"], 'nearest: "on hold"', 2),
        (["2026-juniper-flnt/03", "sold"], "nearest: 2026-juniper-flint", 2),
        (["2026-juniper-flint/09", "sold"], "there are 01, 02, 03", 2),
        (["junipr", "sold"], "nearest: juniper", 2),
        (["juniper", "sold", "--price", "12.345"], "2 digits after the point", 1),
        (["juniper", "sold", "--price", "about 12"], "is not a price", 1),
        (["juniper", "sold", "--on", "2019-01-01"], "a date after the birth", 1),
        (["juniper", "sold", "--on", "yesterday"], '"yesterday" is no day', 2),
    ],
)
def test_what_cannot_be_changes_nothing_and_says_why(words: list[str], told: str, status: int, snakes: Path) -> None:
    before = files(snakes)
    assert told in run(snakes, "set", *words, status=status).stderr
    assert files(snakes) == before


# --- add --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["add", "animal", "Old", "Flint"], 'in quotation marks: "Old Flint"'),
        (["add", "weight", "juniper", "3 g", "--on", "31.10.2026"], "nearest: 2026-10-31"),
        (["set", "juniper", "sold", "--on", "2026-13-01"], "write year, month and day: 2026-10-03"),
        (["add", "photo", "juniper", "none.jpg"], "there is no file none.jpg"),
        (["add", "weight", "juniper", "1.400 g"], "can be read in two ways"),
        (["add", "weight", "juniper", "1,400 g"], "can be read in two ways"),
        (["set", "juniper", "available", "--price", "1.400"], "write thousands without a point: 1400"),
    ],
)
def test_what_a_new_user_stumbles_over_says_what_to_write(words: list[str], told: str, snakes: Path) -> None:
    before = files(snakes)
    done = run(snakes, *words, status=1 if words[-1] in ("1.400 g", "1,400 g", "1.400") else 2)
    assert told in done.stderr
    assert files(snakes) == before
    run(snakes, "add", "weight", "juniper", "1.400 kg", "--dry-run")


def test_dry_run_shows_the_change_and_makes_none(snakes: Path) -> None:
    before = files(snakes)
    done = run(snakes, "add", "weight", "juniper", "402g", "--on", "2026-05-03", "--dry-run")
    assert "+weights: {2026-05-03: 402 g}" in done.stdout.splitlines()
    assert "--- animals/juniper/animal.yaml" in done.stdout.splitlines()
    shown = json.loads(
        run(snakes, "add", "meal", "juniper", "mouse", "--on", "2026-05-03", "--dry-run", "--json").stdout
    )
    assert shown["written"] == []
    assert "+  - {date: 2026-05-03, what: mouse}" in shown["diff"]
    assert files(snakes) == before


def test_a_day_of_feeding(snakes: Path) -> None:
    run(snakes, "add", "weight", "juniper", "402g", "--on", "2026-05-03")
    run(snakes, "add", "weight", "juniper", "14.2oz", "--on", "2026-04-03")
    run(snakes, "add", "meal", "juniper", "adult mouse", "--on", "2026-05-03")
    run(snakes, "add", "meal", "juniper", "adult mouse", "--on", "2026-05-10", "--refused")
    text = record(snakes, "animals/juniper/animal.yaml")
    assert "weights: {2026-04-03: 14.2 oz, 2026-05-03: 402 g}\n" in text
    assert (
        "meals:\n  - {date: 2026-05-03, what: adult mouse}\n  - {date: 2026-05-10, what: adult mouse, taken: false}"
        in text
    )
    before = files(snakes)
    assert "already" in run(snakes, "add", "weight", "juniper", "402 g", "--on", "2026-05-03").stdout
    assert "already" in run(snakes, "add", "meal", "juniper", "adult mouse", "--on", "2026-05-03").stdout
    assert "correct it in" in run(snakes, "add", "weight", "juniper", "410 g", "--on", "2026-05-03", status=2).stderr
    assert (
        "write 410 g when grams are meant"
        in run(snakes, "add", "weight", "juniper", "410", "--on", "2026-05-04", status=1).stderr
    )
    assert files(snakes) == before


def test_an_animal_never_takes_the_place_of_another(snakes: Path) -> None:
    before = files(snakes)
    assert "stands there already" in run(snakes, "add", "animal", "JUNIPER", status=2).stderr
    assert "give another folder name" in run(snakes, "add", "animal", "Unknown", status=2).stderr
    assert "is a word" in run(snakes, "add", "young", "2026-juniper-flint", "none", status=1).stderr
    for said, meant in (("50/50", "write 1/2 or 50%"), ("1", "write certain"), ("66", "write 66%")):
        assert meant in run(snakes, "add", "animal", "Moth", "--stated", f"amel={said}", status=1).stderr
    assert "nearest: amel" in run(snakes, "add", "animal", "Moth", "--shows", "amle", status=1).stderr
    assert "GENE=certain" in run(snakes, "add", "animal", "Moth", "--stated", "amel", status=2).stderr
    assert "NAME is missing" in run(snakes, "add", "animal", status=2).stderr
    assert "Nearest: animal" in run(snakes, "add", "aminal", status=2).stderr
    assert files(snakes) == before


def test_names_of_any_script_make_folders(snakes: Path) -> None:
    run(
        snakes,
        "add",
        "animal",
        "Große Jún",
        "--sex",
        "female",
        "--shows",
        "nothing",
        "--stated",
        "anery=certain,hypo=66%",
    )
    text = record(snakes, "animals/große-jún/animal.yaml")
    lines = [
        "name: Große Jún",
        "species: corn-snake",
        "sex: female",
        "shows: []",
        "stated: {anery: certain, hypo: 66%}",
    ]
    assert text.splitlines()[1:] == lines
    assert text.startswith("# yaml-language-server: $schema=../../../.schemas/animal.schema.json\n")
    assert "--id" in run(snakes, "add", "animal", "!!!", status=2).stderr


def test_young_are_filled_in_and_never_changed(snakes: Path) -> None:
    litter = "2026-juniper-flint"
    run(snakes, "add", "young", litter, "1", "--sex", "male", "--shows", "amel")
    run(snakes, "add", "young", litter, "--sex", "female", "--shows", "nothing", "--kept")
    text = record(snakes, f"litters/{litter}/litter.yaml")
    assert (
        '  "01": {sex: male, shows: [amel]}\n  "02":\n  "03":\n  "04": {sex: female, shows: [], kept: true}\n' in text
    )
    before = files(snakes)
    assert "another sex already" in run(snakes, "add", "young", litter, "1", "--sex", "female", status=2).stderr
    assert files(snakes) == before


def test_what_came_of_a_clutch_is_added_and_never_changed(snakes: Path) -> None:
    run(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint", "--paired", "2025-04-01")
    litter = "2025-juniper-flint"
    run(snakes, "add", "outcome", litter, "--laid", "2025-05-20", "--eggs", "7")
    done = run(snakes, "add", "outcome", litter, "--born", "2025-07-18", "--infertile", "2", "--young", "2")
    assert "changed: litters/2025-juniper-flint/litter.yaml" in done.stdout
    whole = (
        "dam: juniper\nsire: flint\npaired: 2025-04-01\nlaid: 2025-05-20\nborn: 2025-07-18\neggs: 7\ninfertile: 2\n"
        'young:\n  "01":\n  "02":\n'
    )
    assert record(snakes, f"litters/{litter}/litter.yaml").endswith(whole)
    before = files(snakes)
    assert "nothing" not in run(snakes, "add", "outcome", litter, "--eggs", "7", "--young", "2").stderr
    told = run(snakes, "add", "outcome", litter, "--eggs", "8", status=2).stderr
    assert f"{litter} has eggs: 7 already; correct it in litters/{litter}/litter.yaml" in told
    assert "lists 2 young already" in run(snakes, "add", "outcome", litter, "--young", "1", status=2).stderr
    assert "nearest: 2025-juniper-flint" in run(snakes, "add", "outcome", "2025-juniper-flin", status=2).stderr
    run(snakes, "add", "outcome", "2025-juniper-flint", "--stillborn", "-1", status=1)
    assert files(snakes) == before
    run(snakes, "add", "young", litter, "1", "--sex", "male")
    run(snakes, "add", "outcome", litter, "--young", "3")
    text = record(snakes, f"litters/{litter}/litter.yaml")
    assert text.endswith('young:\n  "01": {sex: male}\n  "02":\n  "03":\n')


def test_a_second_litter_of_the_same_pair_gets_a_number(snakes: Path) -> None:
    run(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint", "--born", "2026-09-30")
    assert (snakes / "content/litters/2026-juniper-flint-2/litter.yaml").is_file()
    run(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint,example", "--expected", "2027-08", status=1)


def test_photos_are_copied_in_with_the_day_from_their_own_data(snakes: Path) -> None:
    photo = snakes / "IMG_1.jpeg"
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0x9003] = "2026:10:03 12:00:00"
    Image.new("RGB", (40, 30), "red").save(photo, exif=exif)
    Image.new("RGB", (40, 30), "blue").save(snakes / "2026-10-03 b.png")
    Image.new("RGB", (40, 30), "green").save(snakes / "plain.png")
    run(snakes, "add", "photo", "juniper", "IMG_1.jpeg", "2026-10-03 b.png", "--caption", "After a shed: red")
    run(snakes, "add", "photo", "2026-juniper-flint/2", "plain.png", "--date", "2026-11-01")
    folder = snakes / "content/animals/juniper"
    assert sorted(path.name for path in folder.iterdir()) == ["2026-10-03.jpeg", "2026-10-03.png", "animal.yaml"]
    assert (folder / "2026-10-03.jpeg").read_bytes() == photo.read_bytes()
    text = record(snakes, "animals/juniper/animal.yaml")
    assert 'captions: {2026-10-03.jpeg: "After a shed: red", 2026-10-03.png: "After a shed: red"}' in text
    assert (snakes / "content/litters/2026-juniper-flint/02 2026-11-01.png").is_file()
    before = files(snakes)
    assert "already" in run(snakes, "add", "photo", "juniper", "IMG_1.jpeg").stdout
    assert "--date 2026" in run(snakes, "add", "photo", "juniper", "plain.png", status=2).stderr
    assert "not a picture" in run(snakes, "add", "photo", "juniper", "content/site.yaml", status=1).stderr
    assert "there is no file" in run(snakes, "add", "photo", "juniper", "none.jpg", status=2).stderr
    assert files(snakes) == before


def photograph(format: str) -> bytes:
    """A picture of many details, so that its end tells something."""
    image = Image.frombytes("RGB", (120, 90), random.Random(5).randbytes(120 * 90 * 3))
    written = io.BytesIO()
    if format == "HEIF":
        pillow_heif.from_pillow(image).save(written, quality=60)
    else:
        image.save(written, format)
    return written.getvalue()


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP", "AVIF", "TIFF", "GIF", "BMP", "HEIF"])
def test_a_photo_that_ends_early_is_told_and_not_copied(snakes: Path, format: str) -> None:
    whole = photograph(format)
    before = files(snakes)
    for share in (0.3, 0.6, 0.95):
        (snakes / "IMG_7.dat").write_bytes(whole[: int(len(whole) * share)])
        done = run(snakes, "add", "photo", "juniper", "IMG_7.dat", "--date", "2026-11-01", status=1)
        assert "ends too early" in done.stderr
    (snakes / "IMG_7.dat").unlink()
    assert files(snakes) == before


def test_a_photo_of_a_phone_is_taken_as_it_comes(snakes: Path) -> None:
    (snakes / "IMG_8.HEIC").write_bytes(photograph("HEIF"))
    run(snakes, "add", "photo", "juniper", "IMG_8.HEIC", "--date", "2026-11-01")
    assert (snakes / "content/animals/juniper/2026-11-01.heic").is_file()
    run(snakes, "build")
    assert len(list((snakes / "output").rglob("*.avif"))) > 0


def test_a_second_photo_of_a_day_gets_a_number(snakes: Path) -> None:
    for colour in ("red", "blue"):
        Image.new("RGB", (40, 30), colour).save(snakes / "a.png")
        run(snakes, "add", "photo", "juniper", "a.png", "--date", "2026-11-01")
    names = sorted(path.name for path in (snakes / "content/animals/juniper").glob("*.png"))
    assert names == ["2026-11-01 2.png", "2026-11-01.png"]


def test_an_update_of_a_project(tmp_path: Path) -> None:
    shutil.copytree(REPOSITORY / "content", tmp_path / "content")
    words = ["add", "update", "Copper lace", "Wide awake", "--text", "Two of ten.", "--date", "2026-11-01"]
    run(tmp_path, *words)
    path = tmp_path / "content/projects/copper-lace/updates/2026-11-01-wide-awake.md"
    assert path.read_text() == "# Wide awake\n\nTwo of ten.\n"
    assert "stands there already" in run(tmp_path, *words, status=2).stderr
    assert "nearest: copper-lace" in run(tmp_path, "add", "update", "coper-lace", "x", status=2).stderr


def test_a_record_with_a_fault_elsewhere_can_still_be_added_to(snakes: Path) -> None:
    path = snakes / "content/animals/juniper/animal.yaml"
    path.write_text(path.read_text().replace("amel", "amle"))
    run(snakes, "add", "weight", "juniper", "402 g", "--on", "2026-05-03")
    path.write_text("name: [")
    done = run(snakes, "add", "weight", "juniper", "402 g", "--on", "2026-05-03", status=1)
    assert "animals/juniper/animal.yaml:2:1: error" in done.stderr
    assert path.read_text() == "name: ["


def test_without_records_the_folder_is_named(tmp_path: Path) -> None:
    assert "there is no content folder here" in run(tmp_path, "set", "juniper", "sold", status=1).stderr


# --- on a terminal ----------------------------------------------------------------------------------------------


def at_terminal(folder: Path, words: Sequence[str], answers: Sequence[str]) -> tuple[int, str]:
    """What is shown when somebody sits there and types the answers."""
    try:
        pid, terminal = pty.fork()
    except OSError as none_left:
        pytest.skip(f"no terminal can be made on this machine: {none_left}")
    if pid == 0:  # pragma: no cover - another process
        os.chdir(folder)
        os.execv(sys.executable, [*SITEGEN, *words])
    shown, left = b"", list(answers)
    while select.select([terminal], [], [], 30)[0]:
        try:
            read = os.read(terminal, 4096)
        except OSError:
            break
        if not read:
            break
        shown += read
        if left and shown.endswith((b"? ", b": ")):
            os.write(terminal, f"{left.pop(0)}\n".encode())
    os.close(terminal)
    _, status = os.waitpid(pid, 0)
    assert not left
    return os.waitstatus_to_exitcode(status), shown.decode()


def test_questions_are_asked_again_until_the_answer_can_be_used(tmp_path: Path) -> None:
    answers = ["Mine", "cor", "corn-snak", "corn-snake", "EURO", "EUR", "me", "", "Here"]
    status, shown = at_terminal(tmp_path, ["start", "mine"], answers)
    assert status == 0, shown
    assert shown.count("nearest: corn-snake") == 2
    assert "an address such as you@example.org" in shown
    answers = [
        "Hazel",
        "femal",
        "female",
        "14.7.2021",
        "2021-07-14",
        "?",
        "amle",
        "amel",
        "",
        "",
        "?",
        "anrey=1/2",
        "anery=1/2",
    ]
    status, shown = at_terminal(tmp_path / "mine", ["add", "animal"], answers)
    assert status == 0, shown
    assert "motley, stripe, striped-motley, tessera" in shown
    assert "amel, ultra, anery" in shown
    assert record(tmp_path / "mine", "animals/hazel/animal.yaml").splitlines()[1:] == [
        "name: Hazel", "species: corn-snake", "sex: female", "born: 2021-07-14", "shows: [amel]",
        "stated: {anery: 1/2}",
    ]  # fmt: skip
    status, shown = at_terminal(tmp_path / "mine", ["add", "weight"], ["hazle", "hazel", "310g"])
    assert status == 0, shown


# --- a fault of our own ---------------------------------------------------------------------------------------


def told_of_a_fault(folder: Path, at: str, *words: str) -> str:
    """What is said when the program itself fails at a place."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        mock.patch("sitegen.content.writing._written", []),
        mock.patch(at, side_effect=ValueError("shares do not sum to 1")),
        pytest.raises(SystemExit) as ended,
    ):
        main(list(words))
    assert ended.value.code == 1
    assert "Traceback" not in err.getvalue()
    assert "Please report it with these words: ValueError: shares do not sum to 1" in err.getvalue()
    return err.getvalue()


def test_a_fault_of_our_own_asks_for_a_report_and_says_truly_what_was_changed(snakes: Path) -> None:
    before = files(snakes)
    words = ("add", "weight", "juniper", "310 g", "--on", "2026-10-03")
    assert "Nothing was changed" in told_of_a_fault(snakes, "sitegen.app.commands.changing.check_proposal", *words)
    assert "Nothing was changed" in told_of_a_fault(snakes, "sitegen.app.commands.check.check", "check")
    assert files(snakes) == before
    told = told_of_a_fault(snakes, "sitegen.app.commands.changing.tell", *words)
    assert "animals/juniper/animal.yaml" in told
    assert "Nothing was changed" not in told
    assert files(snakes) != before


# --- ended in the middle ----------------------------------------------------------------------------------------


def test_a_command_that_is_ended_at_any_moment_leaves_the_old_record_or_the_new_one(snakes: Path) -> None:
    """``set`` and ``add`` by turns, ended at random moments between their start and their end."""
    chance = random.Random(7)
    states = ["available", "sold"]
    litter = "content/litters/2026-juniper-flint/litter.yaml"
    started = time.perf_counter()
    subprocess.run([*SITEGEN, "check"], cwd=snakes, stdout=subprocess.DEVNULL, check=True)
    usual = time.perf_counter() - started
    written = 0
    for moment in range(14):
        before = files(snakes)
        words = (
            ["set", "2026-juniper-flint/01", states[moment // 2 % 2], "--on", f"2026-11-{moment + 1:02d}"]
            if moment % 2
            else ["add", "animal", f"Snake {moment}", "--sex", "male"]
        )
        told = json.loads(run(snakes, *words, "--dry-run", "--json").stdout)
        added = [line[1:] for line in told["diff"].splitlines() if line.startswith("+") and not line.startswith("+++")]
        process = subprocess.Popen([*SITEGEN, *words], cwd=snakes, stdout=subprocess.DEVNULL)
        time.sleep(chance.uniform(0, 1.1 * usual))
        process.send_signal(signal.SIGKILL)
        process.wait()
        after = {path: raw for path, raw in files(snakes).items() if ".sitegen-" not in path}
        before = {path: raw for path, raw in before.items() if ".sitegen-" not in path}
        changed = {path for path in after if after[path] != before.get(path)}
        assert set(before) <= set(after)
        assert changed <= ({litter} if moment % 2 else {f"content/animals/snake-{moment}/animal.yaml"})
        for path in changed:
            assert all(line in after[path].decode() for line in added)
        written += bool(changed)
    run(snakes, "set", "2026-juniper-flint/02", "sold", "--on", "2026-11-20")
    run(snakes, "check")
    assert not [path for path in files(snakes / "content/litters") if ".sitegen-" in path]
    assert written < 14
