"""``add`` as a breeder meets it."""

import io
import json
import random
import re
import shutil
from pathlib import Path

import pillow_heif
import pytest
from helpers.keeping import all_files, record, typed
from PIL import Image

REPOSITORY = Path(__file__).parents[4]


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
    before = all_files(snakes)
    done = typed(snakes, *words, status=1 if words[-1] in ("1.400 g", "1,400 g", "1.400") else 2)
    assert told in done.stderr
    assert all_files(snakes) == before
    typed(snakes, "add", "weight", "juniper", "1.400 kg", "--dry-run")


def test_dry_run_shows_the_change_and_makes_none(snakes: Path) -> None:
    before = all_files(snakes)
    done = typed(snakes, "add", "weight", "juniper", "402g", "--on", "2026-05-03", "--dry-run")
    assert "+weights: {2026-05-03: 402 g}" in done.stdout.splitlines()
    assert "--- animals/juniper/animal.yaml" in done.stdout.splitlines()
    shown = json.loads(
        typed(snakes, "add", "meal", "juniper", "mouse", "--on", "2026-05-03", "--dry-run", "--json").stdout
    )
    assert shown["written"] == []
    assert "+  - {date: 2026-05-03, what: mouse}" in shown["diff"]
    assert all_files(snakes) == before


def test_a_day_of_feeding(snakes: Path) -> None:
    typed(snakes, "add", "weight", "juniper", "402g", "--on", "2026-05-03")
    typed(snakes, "add", "weight", "juniper", "14.2oz", "--on", "2026-04-03")
    typed(snakes, "add", "meal", "juniper", "adult mouse", "--on", "2026-05-03")
    typed(snakes, "add", "meal", "juniper", "adult mouse", "--on", "2026-05-10", "--refused")
    text = record(snakes, "animals/juniper/animal.yaml")
    assert "weights: {2026-04-03: 14.2 oz, 2026-05-03: 402 g}\n" in text
    assert (
        "meals:\n  - {date: 2026-05-03, what: adult mouse}\n  - {date: 2026-05-10, what: adult mouse, taken: false}"
        in text
    )
    before = all_files(snakes)
    assert "already" in typed(snakes, "add", "weight", "juniper", "402 g", "--on", "2026-05-03").stdout
    assert "already" in typed(snakes, "add", "meal", "juniper", "adult mouse", "--on", "2026-05-03").stdout
    assert "correct it in" in typed(snakes, "add", "weight", "juniper", "410 g", "--on", "2026-05-03", status=2).stderr
    assert (
        "write 410 g when grams are meant"
        in typed(snakes, "add", "weight", "juniper", "410", "--on", "2026-05-04", status=1).stderr
    )
    assert all_files(snakes) == before


def test_a_round_from_words_a_file_and_pasted_lines(snakes: Path) -> None:
    on = ("--on", "2026-05-03")
    told = typed(snakes, "add", "weight", "juniper", "402g", "Flint", "380 g", *on).stdout
    assert "juniper: 402 g on 2026-05-03. flint: 380 g on 2026-05-03." in told
    (snakes / "round.txt").write_text("\ufeff# shed one\njuniper; 410 g\n2026-05-05 flint 390g\n", encoding="utf-8")
    typed(snakes, "add", "weight", "--file", "round.txt", "--on", "2026-05-04")
    assert "weights: {2026-05-03: 402 g, 2026-05-04: 410 g}" in record(snakes, "animals/juniper/animal.yaml")
    assert "weights: {2026-05-03: 380 g, 2026-05-05: 390 g}" in record(snakes, "animals/flint/animal.yaml")
    typed(snakes, "add", "meal", "juniper", "flint", "adult mouse", *on, "--refused")
    typed(snakes, "add", "meal", "-", *on, pasted="juniper pinkie\nflint refused pinkie\n")
    typed(snakes, "add", "event", "-", *on, pasted="flint shed\n")
    typed(snakes, "add", "length", "-", *on, pasted="flint: 102 cm\r\n")
    flint = record(snakes, "animals/flint/animal.yaml")
    assert flint.count("taken: false") == 2
    assert "what: shed" in flint
    assert "lengths: {2026-05-03: 102 cm}" in flint


def test_a_round_with_a_wrong_line_changes_nothing(snakes: Path) -> None:
    before = all_files(snakes)
    done = typed(snakes, "add", "weight", "-", pasted="juniper 402 g\n\nflnt 380 g\n", status=1)
    assert 'pasted lines:3:1: error: there is no animal "flnt" in the records' in done.stderr
    assert "nearest: flint" in done.stderr
    assert "no line names an animal" in typed(snakes, "add", "weight", "-", pasted="# none\n", status=2).stderr
    assert "no text" in typed(snakes, "add", "weight", "-", pasted="\udcff", status=2).stderr
    assert "there is no animal" in typed(snakes, "add", "weight", "juniper", "402g", "flnt", "1g", status=2).stderr
    assert all_files(snakes) == before


def test_a_diary_of_several_animals_is_written_in_one_line(snakes: Path) -> None:
    typed(snakes, "add", "event", "juniper", "introduced", "--with", "Flint", "--on", "2026-03-02")
    young = ("2026-juniper-flint/01", "2026-juniper-flint/02")
    words = ("juniper", "flint", *young, "juniper", "shed", "--on", "2026-08-03", "--note", "in: one piece")
    told = typed(snakes, "add", "event", *words).stdout
    assert told.startswith(f"juniper, flint, {young[0]}, {young[1]}: shed on 2026-08-03.")
    assert told.count("changed:") == 3, "young of one litter stand in one file"
    juniper = record(snakes, "animals/juniper/animal.yaml")
    introduced, shed = "{date: 2026-03-02, what: introduced, with: flint}", '{date: 2026-08-03, what: shed, note: "in:'
    assert f'events:\n  - {introduced}\n  - {shed} one piece"}}\n' in juniper
    assert record(snakes, "litters/2026-juniper-flint/litter.yaml").count(shed) == 2
    assert record(snakes, "animals/flint/animal.yaml").count("date: 2026-08-03, what: shed") == 1
    before = all_files(snakes)
    assert "stands there already" in typed(snakes, "add", "event", *words).stdout
    assert all_files(snakes) == before
    typed(snakes, "add", "event", "2026-juniper-flint", "pre-lay", "shed", "--on", "2026-05-04", status=2)
    typed(snakes, "add", "event", "2026-juniper-flint", "pre-lay shed", "--on", "2026-05-04")
    assert "what: prelay-shed}" in record(snakes, "litters/2026-juniper-flint/litter.yaml")
    typed(snakes, "add", "length", "juniper", "102cm", "--on", "2026-08-03")
    assert "lengths: {2026-08-03: 102 cm}\n" in record(snakes, "animals/juniper/animal.yaml")


@pytest.mark.parametrize(
    ("words", "status", "told"),
    [
        (["juniper", "introducd", "--with", "flint"], 2, "nearest: introduced"),
        (["juniper", "weighed"], 2, "write it under weights"),
        (["juniper", "introduced"], 2, "say with which other animal (as a command: --with ANIMAL)"),
        (["juniper", "shed", "--with", "flint"], 2, '"shed" is of one'),
        (["juniper", "introduced", "--with", "juniper"], 1, "its own partner"),
        (["juniper"], 2, "say which animals, and then what happened"),
        (["junipr", "shed"], 2, "nearest: juniper"),
        (["juniper", "shed", "--on", "2099-01-01"], 1, "only what is planned may lie ahead"),
        (["juniper", "shed", "--on", "2001-01-01"], 1, "a date after the birth"),
    ],
)
def test_an_event_that_cannot_be_changes_nothing(words: list[str], status: int, told: str, snakes: Path) -> None:
    before = all_files(snakes)
    done = typed(snakes, "add", "event", *words, status=status)
    assert told in done.stderr + done.stdout
    assert all_files(snakes) == before


def test_an_animal_never_takes_the_place_of_another(snakes: Path) -> None:
    before = all_files(snakes)
    assert "stands there already" in typed(snakes, "add", "animal", "JUNIPER", status=2).stderr
    assert "give another folder name" in typed(snakes, "add", "animal", "Unknown", status=2).stderr
    assert "is a word" in typed(snakes, "add", "young", "2026-juniper-flint", "none", status=1).stderr
    for said, meant in (("50/50", "write 1/2 or 50%"), ("1", "write certain"), ("66", "write 66%")):
        assert meant in typed(snakes, "add", "animal", "Moth", "--stated", f"amel={said}", status=1).stderr
    assert "nearest: amel" in typed(snakes, "add", "animal", "Moth", "--shows", "amle", status=1).stderr
    assert "GENE=certain" in typed(snakes, "add", "animal", "Moth", "--stated", "amel", status=2).stderr
    assert "NAME is missing" in typed(snakes, "add", "animal", status=2).stderr
    assert "Nearest: animal" in typed(snakes, "add", "aminal", status=2).stderr
    assert all_files(snakes) == before


def test_names_of_any_script_make_folders(snakes: Path) -> None:
    typed(
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
    assert "--id" in typed(snakes, "add", "animal", "!!!", status=2).stderr


def test_young_are_filled_in_and_never_changed(snakes: Path) -> None:
    litter = "2026-juniper-flint"
    typed(snakes, "add", "young", litter, "1", "--sex", "male", "--shows", "amel")
    typed(snakes, "add", "animal", "Hazel", "--from-litter", f"{litter}/02")
    told = typed(snakes, "add", "young", litter, "--sex", "female", "--shows", "nothing", "--kept").stdout
    assert f"{litter}/03 is filled in now" in told, "the next of which nothing is said; 02 has a record of its own"
    assert f"{litter}/04 is listed now" in typed(snakes, "add", "young", litter, "--sex", "male").stdout
    text = record(snakes, f"litters/{litter}/litter.yaml")
    young = (
        '"01": {sex: male, shows: [amel]}',
        '"02":',
        '"03": {sex: female, shows: [], kept: true}',
        '"04": {sex: male}',
    )
    assert "".join(f"  {line}\n" for line in young) in text
    before = all_files(snakes)
    assert "another sex already" in typed(snakes, "add", "young", litter, "1", "--sex", "female", status=2).stderr
    assert all_files(snakes) == before


def test_what_came_of_a_clutch_is_added_and_never_changed(snakes: Path) -> None:
    typed(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint", "--paired", "2025-04-01")
    litter = "2025-juniper-flint"
    typed(snakes, "add", "outcome", litter, "--laid", "2025-05-20", "--eggs", "7")
    done = typed(snakes, "add", "outcome", litter, "--born", "2025-07-18", "--infertile", "2", "--young", "2")
    assert "changed: litters/2025-juniper-flint/litter.yaml" in done.stdout
    whole = (
        "dam: juniper\nsire: flint\npaired: 2025-04-01\nlaid: 2025-05-20\nborn: 2025-07-18\neggs: 7\ninfertile: 2\n"
        'young:\n  "01":\n  "02":\n'
    )
    assert record(snakes, f"litters/{litter}/litter.yaml").endswith(whole)
    before = all_files(snakes)
    assert "nothing" not in typed(snakes, "add", "outcome", litter, "--eggs", "7", "--young", "2").stderr
    told = typed(snakes, "add", "outcome", litter, "--eggs", "8", status=2).stderr
    assert f"{litter} has eggs: 7 already; correct it in litters/{litter}/litter.yaml" in told
    assert "lists 2 young already" in typed(snakes, "add", "outcome", litter, "--young", "1", status=2).stderr
    assert "nearest: 2025-juniper-flint" in typed(snakes, "add", "outcome", "2025-juniper-flin", status=2).stderr
    typed(snakes, "add", "outcome", "2025-juniper-flint", "--stillborn", "-1", status=1)
    assert all_files(snakes) == before
    typed(snakes, "add", "young", litter, "1", "--sex", "male")
    typed(snakes, "add", "outcome", litter, "--young", "3")
    text = record(snakes, f"litters/{litter}/litter.yaml")
    assert text.endswith('young:\n  "01": {sex: male}\n  "02":\n  "03":\n')


def test_that_a_clutch_failed_is_added_in_one_line_and_only_where_nothing_came(snakes: Path) -> None:
    typed(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint", "--paired", "2025-04-01")
    litter, before = "2025-juniper-flint", all_files(snakes)
    failed = ("add", "outcome", litter, "--failed", "slugs", "--on", "2025-06-03")
    dry = typed(snakes, *failed, "--dry-run").stdout
    assert "+failed: {date: 2025-06-03, what: slugs}" in dry
    assert all_files(snakes) == before
    typed(snakes, *failed)
    text = record(snakes, f"litters/{litter}/litter.yaml")
    assert text.endswith("paired: 2025-04-01\nfailed: {date: 2025-06-03, what: slugs}\n")
    assert "all that stands there already" in typed(snakes, *failed).stdout
    after = all_files(snakes)
    again = typed(snakes, "add", "outcome", litter, "--failed", "stillborn", "--on", "2025-06-03", status=2).stderr
    assert f"another failed already; correct it in litters/{litter}/litter.yaml" in again
    born = typed(snakes, "add", "outcome", litter, "--born", "2025-07-18", status=1).stderr
    assert "says that it failed (slugs)" in born
    assert "is the day of --failed" in typed(snakes, "add", "outcome", litter, "--on", "2025-06-03", status=2).stderr
    assert all_files(snakes) == after


def test_the_folder_of_a_litter_is_called_by_the_year_in_which_its_young_come(snakes: Path) -> None:
    species = snakes / "content/species/corn-snake.yaml"
    species.write_text(re.sub("(?m)^(breeding_season: ).*", r"\1{paired: December, born: July}", species.read_text()))
    typed(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint", "--paired", "2024-12-10")
    assert "paired: 2024-12-10" in record(snakes, "litters/2025-juniper-flint/litter.yaml")


def test_a_second_litter_of_the_same_pair_gets_a_number(snakes: Path) -> None:
    typed(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint", "--born", "2026-09-30")
    assert (snakes / "content/litters/2026-juniper-flint-2/litter.yaml").is_file()
    typed(snakes, "add", "litter", "--dam", "juniper", "--sire", "flint,example", "--expected", "2027-08", status=1)


def test_photos_are_copied_in_with_the_day_from_their_own_data(snakes: Path) -> None:
    photo = snakes / "IMG_1.jpeg"
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0x9003] = "2026:10:03 12:00:00"
    Image.new("RGB", (40, 30), "red").save(photo, exif=exif)
    Image.new("RGB", (40, 30), "blue").save(snakes / "2026-10-03 b.png")
    Image.new("RGB", (40, 30), "green").save(snakes / "plain.png")
    typed(snakes, "add", "photo", "juniper", "IMG_1.jpeg", "2026-10-03 b.png", "--caption", "After a shed: red")
    typed(snakes, "add", "photo", "2026-juniper-flint/2", "plain.png", "--date", "2026-11-01")
    folder = snakes / "content/animals/juniper"
    assert sorted(path.name for path in folder.iterdir()) == ["2026-10-03.jpeg", "2026-10-03.png", "animal.yaml"]
    assert (folder / "2026-10-03.jpeg").read_bytes() == photo.read_bytes()
    text = record(snakes, "animals/juniper/animal.yaml")
    assert 'captions: {2026-10-03.jpeg: "After a shed: red", 2026-10-03.png: "After a shed: red"}' in text
    assert (snakes / "content/litters/2026-juniper-flint/02 2026-11-01.png").is_file()
    before = all_files(snakes)
    assert "already" in typed(snakes, "add", "photo", "juniper", "IMG_1.jpeg").stdout
    assert "--date 2026" in typed(snakes, "add", "photo", "juniper", "plain.png", status=2).stderr
    assert "not a picture" in typed(snakes, "add", "photo", "juniper", "content/site.yaml", status=1).stderr
    assert "there is no file" in typed(snakes, "add", "photo", "juniper", "none.jpg", status=2).stderr
    assert all_files(snakes) == before


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
    before = all_files(snakes)
    for share in (0.3, 0.6, 0.95):
        (snakes / "IMG_7.dat").write_bytes(whole[: int(len(whole) * share)])
        done = typed(snakes, "add", "photo", "juniper", "IMG_7.dat", "--date", "2026-11-01", status=1)
        assert "ends too early" in done.stderr
    (snakes / "IMG_7.dat").unlink()
    assert all_files(snakes) == before


def test_a_photo_of_a_phone_is_taken_as_it_comes(snakes: Path) -> None:
    (snakes / "IMG_8.HEIC").write_bytes(photograph("HEIF"))
    typed(snakes, "add", "photo", "juniper", "IMG_8.HEIC", "--date", "2026-11-01")
    assert (snakes / "content/animals/juniper/2026-11-01.heic").is_file()
    typed(snakes, "build")
    assert len(list((snakes / "output").rglob("*.avif"))) > 0


def test_a_second_photo_of_a_day_gets_a_number(snakes: Path) -> None:
    for colour in ("red", "blue"):
        Image.new("RGB", (40, 30), colour).save(snakes / "a.png")
        typed(snakes, "add", "photo", "juniper", "a.png", "--date", "2026-11-01")
    names = sorted(path.name for path in (snakes / "content/animals/juniper").glob("*.png"))
    assert names == ["2026-11-01 2.png", "2026-11-01.png"]


def test_an_update_of_a_project(tmp_path: Path) -> None:
    shutil.copytree(REPOSITORY / "content", tmp_path / "content")
    words = ["add", "update", "Copper lace", "Wide awake", "--text", "Two of ten.", "--date", "2026-11-01"]
    typed(tmp_path, *words)
    path = tmp_path / "content/projects/copper-lace/updates/2026-11-01-wide-awake.md"
    assert path.read_text() == "# Wide awake\n\nTwo of ten.\n"
    assert "stands there already" in typed(tmp_path, *words, status=2).stderr
    assert "nearest: copper-lace" in typed(tmp_path, "add", "update", "coper-lace", "x", status=2).stderr


def test_a_project_is_sound_at_once_and_photographs_stand_beside_it(snakes: Path) -> None:
    typed(snakes, "add", "project", "Étoile 2", "--goal", "amel, motley", "--goal", "tessera")
    text = record(snakes, "projects/étoile-2/project.yaml")
    own = "name: Étoile 2\nspecies: corn-snake\nstate: planned\ngoal: {shows: [amel, motley, tessera]}\n"
    assert text.endswith(own)
    Image.new("RGB", (40, 30), "red").save(snakes / "a.png")
    typed(snakes, "add", "photo", "Étoile 2", "a.png", "--date", "2026-10-01", "--caption", "The pair")
    assert (snakes / "content/projects/étoile-2/2026-10-01.png").is_file()
    assert "captions: {2026-10-01.png: The pair}" in record(snakes, "projects/étoile-2/project.yaml")
    typed(snakes, "check")
    typed(snakes, "build")
    assert "The pair" in (snakes / "output/projects/étoile-2.html").read_text()
    before = all_files(snakes)
    assert "nearest: amel" in typed(snakes, "add", "project", "Snow", "--goal", "amle", status=1).stderr
    assert "stands there already" in typed(snakes, "add", "project", "Étoile-2", "--goal", "amel", status=2).stderr
    assert "--goal is missing; sitegen desk" in typed(snakes, "add", "project", "Snow", status=2).stderr
    assert all_files(snakes) == before


def test_a_record_with_a_fault_elsewhere_can_still_be_added_to(snakes: Path) -> None:
    path = snakes / "content/animals/juniper/animal.yaml"
    path.write_text(path.read_text().replace("amel", "amle"))
    typed(snakes, "add", "weight", "juniper", "402 g", "--on", "2026-05-03")
    path.write_text("name: [")
    done = typed(snakes, "add", "weight", "juniper", "402 g", "--on", "2026-05-03", status=1)
    assert "animals/juniper/animal.yaml:2:1: error" in done.stderr
    assert path.read_text() == "name: ["


def test_without_records_the_folder_is_named(tmp_path: Path) -> None:
    assert "there is no content folder here" in typed(tmp_path, "set", "juniper", "sold", status=1).stderr


@pytest.mark.parametrize(
    ("words", "missing"),
    [
        (["young"], "LITTER is missing"),
        (["litter"], "--dam and --sire are missing"),
        (["outcome", "--eggs", "3"], "LITTER is missing"),
        (["weight"], "ANIMAL and WEIGHT are missing"),
        (["length", "juniper"], "LENGTH is missing"),
        (["meal", "juniper"], "WHAT is missing"),
        (["photo", "juniper"], "FILES is missing"),
        (["update", "river-mist"], "TITLE is missing"),
        (["decision"], "PROJECT and TEXT are missing"),
    ],
)
def test_what_is_missing_is_told_with_the_form_that_asks_for_it(words: list[str], missing: str, snakes: Path) -> None:
    told = typed(snakes, "add", *words, status=2).stderr
    assert f"{missing}; sitegen desk asks for" in told


def test_a_text_of_several_lines_is_a_block_in_the_record(snakes: Path) -> None:
    typed(snakes, "add", "animal", "Sorrel", "--acquired", "2024", "--from", "an old friend\nof ours", "--line", "A\nB")
    text = record(snakes, "animals/sorrel/animal.yaml")
    assert "acquired:\n  date: 2024\n  from: |-\n    an old friend\n    of ours\nline: |-\n  A\n  B\n" in text
