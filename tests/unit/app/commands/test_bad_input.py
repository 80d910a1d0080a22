"""Bad input: one clear message, exit status 1, and nothing in the output is harmed."""

import io
import json
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.program import SMALL, run
from PIL import Image

RECORD = "content/animals/dam/animal.yaml"


def break_yaml(home: Path) -> None:
    (home / RECORD).write_text("species: corn-snake\nshows: [amel\n")


def dam_that_is_none(home: Path) -> None:
    (home / RECORD).write_text("species: corn-snake\nsex: female\nborn: 2018-06-01\nshows: []\ndam: damn\nstated: {}\n")


def price_without_currency(home: Path) -> None:
    (home / "content/site.yaml").write_text("name: Small\n")
    (home / RECORD).write_text((home / RECORD).read_text() + "offer: {price: 140, state: available}\n")


def gene_that_is_none(home: Path) -> None:
    (home / RECORD).write_text((home / RECORD).read_text().replace("shows: []", "shows: [amol]"))


FAULTS = [
    (break_yaml, "yaml-broken", RECORD),
    (dam_that_is_none, "animal-unknown", RECORD),
    (price_without_currency, "price-wrong", RECORD),
    (gene_that_is_none, "gene-unknown", RECORD),
]


@pytest.fixture
def home(content: Callable[[str], Path]) -> Path:
    return content(SMALL).parent


@pytest.mark.parametrize(("spoil", "kind", "file"), FAULTS)
def test_each_gives_one_clear_message_and_leaves_the_site(
    home: Path, spoil: Callable[[Path], None], kind: str, file: str
) -> None:
    assert run(home, "build").returncode == 0
    before = {path: path.read_bytes() for path in (home / "output").rglob("*") if path.is_file()}
    spoil(home)
    checked = run(home, "check", "--json")
    assert checked.returncode == 1
    errors = [finding for finding in json.loads(checked.stdout)["findings"] if finding["level"] == "error"]
    assert [(finding["kind"], f"content/{finding['file']}") for finding in errors] == [(kind, file)]
    assert errors[0]["hint"]
    built = run(home, "build")
    assert built.returncode == 1
    assert built.stderr.count("error:") == 1
    assert "Traceback" not in built.stderr
    assert before == {path: path.read_bytes() for path in (home / "output").rglob("*") if path.is_file()}


def test_photographs_that_cannot_be_read_are_told_each_and_the_others_are_built(home: Path) -> None:
    folder, whole = home / "content/animals/dam", io.BytesIO()
    Image.effect_noise((900, 600), 60).convert("RGB").save(whole, "JPEG")
    header = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    bomb = b"".join(
        struct.pack(">I", len(held)) + kind + held + struct.pack(">I", zlib.crc32(kind + held))
        for kind, held in ((b"IHDR", header), (b"IDAT", zlib.compress(bytes(1000))), (b"IEND", b""))
    )
    for name, content in {
        "2024-05-01.jpg": whole.getvalue(),
        "2024-05-02.jpg": b"no picture",
        "2024-05-03.jpg": whole.getvalue()[:20_000],
        "2024-05-04.png": b"\x89PNG\r\n\x1a\n" + bomb,
        "2024-05-05.png": whole.getvalue(),  # a JPEG by another name is read by its content
        "2024-05-06.jpg": b"",
    }.items():
        (folder / name).write_bytes(content)
    built = run(home, "build")
    assert built.returncode == 1
    assert "Traceback" not in built.stderr
    told = json.loads(run(home, "build", "--json").stdout)
    assert {finding["file"].rpartition("/")[2]: finding["message"].split(",")[0] for finding in told["findings"]} == {
        "2024-05-02.jpg": "this file is not a picture",
        "2024-05-03.jpg": "this photo is damaged or ends too early: part of the picture is missing",
        "2024-05-04.png": "this photo has more than 120 million pixels",
        "2024-05-06.jpg": "this photo is an empty file",
    }
    assert told["pictures"]["kept"] == 6  # three widths in two formats; both photos have the same bytes
    page = (home / "output/animals/dam.html").read_text("utf-8")
    assert page.count("<picture") == 3  # the newest leads, and both stand in the strip
    assert "left out" in built.stdout + built.stderr


def test_an_empty_content_folder_is_told_once(tmp_path: Path) -> None:
    (tmp_path / "content").mkdir()
    done = run(tmp_path, "build")
    assert done.returncode == 1
    assert done.stderr.count("error:") == 1
    assert not (tmp_path / "output").exists()


def test_all_faults_of_all_files_come_in_one_run(home: Path) -> None:
    (home / "content/animals/sire/animal.yaml").write_text("species: corn-snake\nsex: mael\nshows: [amol]\nnmae: x\n")
    (home / RECORD).write_text((home / RECORD).read_text().replace("2018-06-01", "2018-13-01"))
    errors = json.loads(run(home, "check", "--json").stdout)["findings"]
    assert {(finding["file"], finding["line"]) for finding in errors if finding["level"] == "error"} >= {
        ("animals/dam/animal.yaml", 3),
        ("animals/sire/animal.yaml", 2),
        ("animals/sire/animal.yaml", 3),
        ("animals/sire/animal.yaml", 4),
    }
