"""Two hundred generations, names in every script, texts of megabytes, and few open files."""

import json
import os
import resource
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

from helpers.program import SITEGEN, SMALL
from PIL import Image

from sitegen.build import Order, build
from sitegen.evidence.answers import read_known
from sitegen.findings import Kind

THEMES = Path(__file__).parents[2] / "themes"
NAMES = {
    "arabic": "أفعى الذرة", "hebrew": "נחש תירס", "chinese": "玉米蛇",
    "japanese": "コーンスネーク",
    "korean": "옥수수뱀", "thai": "งูข้าวโพด",
    "devanagari": "मक्का साँप", "greek": "Φίδι", "cyrillic": "Маисовый полоз", "emoji": "🐍 Snake",
    "combining": "Zu\u0308lo\u0301 n\u0303", "turkish": "İğüş",
    "vietnamese": "Rắn ngô", "amharic": "እባብ", "old": "𐤍𐤇𐤔",
}  # fmt: skip


def test_two_hundred_generations_are_answered_and_built(content: Callable[[str], Path]) -> None:
    folder = content(SMALL)
    for number in range(200):
        dam = f"dam: g{number - 1:03d}\nsire: m{number:03d}\n" if number else "stated: {amel: certain}\n"
        for name, sex, more in ((f"g{number:03d}", "female", dam), (f"m{number:03d}", "male", "")):
            record = folder / "animals" / name / "animal.yaml"
            record.parent.mkdir()
            record.write_text(f"species: corn-snake\nsex: {sex}\nshows: []\n{more}", encoding="utf-8")
    built = build(Order(folder, folder.parent / "output", THEMES, workers=1))
    assert built.published is not None, built.findings[:3]
    told = json.loads((folder.parent / "output/data/collection.json").read_text("utf-8"))
    chances = {a["id"]: [c["chance"] for c in a["claims"] if c["locus"] == "amel"] for a in told["animals"]}
    assert chances["g001"] == ["1/2"]  # one parent carries it, the other is as wild as its species
    assert chances["g010"] == [f"1/{2**10}"]


def test_names_in_every_script_are_built_with_pages_files_and_pictures(content: Callable[[str], Path]) -> None:
    folder = content(SMALL.replace("name: Small", "name: Small\naddress: https://small.example/"))
    for number, (name, text) in enumerate(NAMES.items()):
        record = folder / "animals" / (text.replace(" ", "-") if name in ("arabic", "chinese", "greek") else name)
        record.mkdir()
        (record / "animal.yaml").write_text(
            f'name: "{text}"\nspecies: corn-snake\nsex: female\nborn: 2020-05-01\nshows: []\nline: "{text}"\n'
            "offer: {price: 90, state: available, since: 2024-05-01}\n", encoding="utf-8",
        )  # fmt: skip
        Image.new("RGB", (400, 300), (number * 9, 80, 120)).save(record / f"2024-05-01 {text}.jpg")
    built = build(Order(folder, folder.parent / "output", THEMES, workers=2))
    assert built.published is not None, built.findings[:3]
    output = folder.parent / "output"
    start = (output / "search.html").read_text("utf-8")
    for text in NAMES.values():
        assert text in start or text.replace("İ", "i̇") in start, text
    shares = [path for path in output.rglob("*.jpg") if "share" in str(path.relative_to(output))]
    assert len(shares) >= len(NAMES)
    assert all(name.isascii() for name in (path.name for path in output.rglob("*.jpg")))


def test_a_text_of_two_megabytes_is_told_and_one_of_nearly_a_megabyte_is_cut_with_a_note(
    content: Callable[[str], Path],
) -> None:
    folder = content(SMALL)
    (folder / "pages").mkdir()
    line = "A **long** text of [links](index.html), *stress* and Juniper who ate well; `code` too.\n\n"
    page = folder / "pages" / "long.md"
    page.write_text("# Long\n\n" + line * (2_000_000 // len(line)), encoding="utf-8")
    known, findings = read_known(folder)
    assert known is None
    assert [(f.kind, f.place and f.place.file) for f in findings] == [(Kind.FILE_TOO_LARGE, "pages/long.md")]
    assert "at most 1,000,000 bytes" in findings[0].expected
    took = []
    for size in (245_000, 980_000):
        page.write_text("# Long\n\n" + line * (size // len(line)), encoding="utf-8")
        began = time.process_time()
        built = build(Order(folder, folder.parent / "output", THEMES, workers=1))
        took.append(time.process_time() - began)
        assert built.published is not None, built.findings[:3]
    assert "The text is longer than this program prints" in (folder.parent / "output/long.html").read_text("utf-8")
    assert took[1] < 8 * took[0] + 1, took  # four times the text, not sixteen times the time


def test_many_photographs_and_pages_need_few_open_files(content: Callable[[str], Path]) -> None:
    folder = content(SMALL)
    for number in range(150):
        record = folder / "animals" / f"a{number:03d}"
        record.mkdir()
        (record / "animal.yaml").write_text("species: corn-snake\nshows: []\n", encoding="utf-8")
        Image.new("RGB", (40, 30), (number, 80, 120)).save(record / "2024-05-01.jpg")
    done = subprocess.run(
        [*SITEGEN, "build", "--workers", "2"], cwd=folder.parent, capture_output=True, text=True,
        timeout=300, check=False, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_NOFILE, (48, 48)),
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert len(os.listdir(folder.parent / "output" / "pictures")) >= 200
