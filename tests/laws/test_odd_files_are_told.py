"""Files as they are found on real disks, and files made to harm: each is told in words, quickly, and stays as it is.

The corpus stands beside the property tests in ``test_any_record_is_told.py``: those draw shapes nobody thought of,
these are shapes that somebody met.
"""

import contextlib
import io
import os
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers import program
from helpers.from_text import write_files
from helpers.pace import pace
from PIL import Image

LIMIT_S = 2
SOUND = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
=== animals/odd/animal.yaml
species: corn-snake
=== litters/2022-a/litter.yaml
dam: juniper
born: 2022-07-01
young:
  "01": {sex: female, shows: []}
"""
HEAD = b"species: corn-snake\n"

RECORDS: dict[str, bytes] = {
    "empty": b"",
    "blank lines": b"\n\n   \n",
    "only a comment": b"# nothing yet",
    "only a mark": b"\xef\xbb\xbf",
    "utf-8 with a mark": b"\xef\xbb\xbf" + HEAD,
    "utf-16": HEAD.decode().encode("utf-16"),
    "utf-32": HEAD.decode().encode("utf-32"),
    "latin-1": HEAD + "name: Ger\u00e4t".encode("latin-1"),
    "old mac line ends": HEAD.replace(b"\n", b"\r") + b"sex: male\r",
    "windows line ends": HEAD.replace(b"\n", b"\r\n") + b"sex: male\r\n",
    "mixed line ends": b"species: corn-snake\r\nsex: male\nborn: 2020\r",
    "tabs": HEAD + b"private:\n\tnotes: tab\n",
    "zero bytes": HEAD + b"name: a\x00b\n",
    "control codes": HEAD + b"name: \x1b[2Jx\x07\n",
    "a photograph": b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01" + bytes(range(256)) * 40,
    "an archive": b"PK\x03\x04" + b"\0" * 200,
    "html": b"<!DOCTYPE html><html><body>404</body></html>",
    "a list": b"- species: corn-snake\n- sex: male\n",
    "one word": b"corn-snake",
    "a number": b"42",
    "half a file": HEAD + b"weights: {2024-05-01: 310 g, 2025-05-",
    "half a quotation": HEAD + b'name: "Old Fl',
    "two documents": HEAD + b"---\nspecies: corn-snake\n",
    "three dots": HEAD + b"...\nsex: male\n",
    "conflict marks": b"<<<<<<< HEAD\n" + HEAD + b"=======\nspecies: boa\n>>>>>>> theirs\n",
    "keys twice": HEAD + b"sex: male\nsex: female\n",
    "an anchor": HEAD + b"name: &a Old\nabout: *a\n",
    "a merge": b"base: &b {sex: male}\n<<: *b\n" + HEAD,
    "a bomb of aliases": b"a: &a [x,x,x,x,x,x,x,x,x]\n"
    + b"".join(b"%c: &%c [%s]\n" % (n, n, b",".join([b"*%c" % (n - 1)] * 9)) for n in range(98, 107)),
    "a tag": HEAD + b"name: !!python/object/apply:os.system ['true']\n",
    "a tag of its own": HEAD + b"name: !secret x\n",
    "a directive": b"%YAML 9.9\n---\n" + HEAD,
    "a complex key": b"? [a, b]\n: c\n" + HEAD,
    "deep flow": HEAD + b"private: " + b"[" * 3000 + b"]" * 3000,
    "deep flow, open": HEAD + b"private: " + b"{a: " * 3000,
    "deep blocks": HEAD + b"private:\n" + b"".join(b" " * n + b"a:\n" for n in range(1, 900)),
    "a long line": HEAD + b"about: " + b"x" * 900_000,
    "many lines": HEAD + b"about: |\n" + b"  x\n" * 100_000,
    "many keys": HEAD + b"weights: {" + b", ".join(b"%d-01-01: 3 g" % n for n in range(1000, 4000)) + b"}",
    "many unknown keys": HEAD + b"".join(b"k%d: 1\n" % n for n in range(1500)),
    "too large": HEAD + b"# " + b"long " * 300_000,
    "a huge number": HEAD + b"weights: {2024-05-01: " + b"9" * 5000 + b" g}",
    "a huge fraction": HEAD + b"stated: {amel: 1/" + b"9" * 5000 + b"}",
    "a fraction of nothing": HEAD + b"stated: {amel: 1/0}",
    "a huge power": HEAD + b"stated: {amel: 1e999999999}",
    "dates that are none": HEAD + b"born: 2021-02-30\ndied: 0000-00-00\n",
    "a time": HEAD + b"born: 2021-07-14T12:00:00Z\n",
    "sixty": HEAD + b"name: 12:30:45\nsex: no\n",
    "its own mother": HEAD + b"dam: odd\nsire: odd\n",
    "a way out": HEAD + b"dam: ../../../etc/passwd\n",
    "a brace in a name": HEAD + b"name: '{{ 7 * 7 }}{% raw %}'\n",
    "markup": HEAD + b"name: <script>alert(1)</script>\nabout: '[x](javascript:alert(1))'\n",
    "turned text": HEAD + "name: \u202eevil\u2066\n".encode(),
    "many accents": HEAD + ("name: a" + "\u0301" * 5000 + "\n").encode(),
    "pictures": HEAD + ("name: " + "\U0001f40d" * 500 + "\n").encode(),
}


@contextlib.contextmanager
def quick() -> Iterator[None]:
    """The work takes less than the limit, whatever else the machine does; what waits for ever is ended."""

    def waited_too_long(number: int, frame: object) -> None:
        raise TimeoutError("this never ends")

    before = signal.signal(signal.SIGALRM, waited_too_long)
    signal.alarm(30)
    started = time.process_time()
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
    took = time.process_time() - started
    assert took < LIMIT_S or took < LIMIT_S * pace()


def files(root: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}


def run(folder: Path, *words: str) -> tuple[int, str]:
    """A command in this process; its status and all that it said."""
    with quick():
        done = program.run(folder, *words)
    assert "mistake in sitegen" not in done.stderr, done.stderr
    assert "Traceback" not in done.stderr
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize("name", RECORDS)
def test_an_odd_record_is_told_and_stays_as_it_is(name: str, tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", SOUND)
    record = content / "animals/odd/animal.yaml"
    record.write_bytes(RECORDS[name])
    before = files(content)
    status, told = run(tmp_path, "check")
    assert (status == 1) == ("error" in told)
    assert not status or "animals/odd/animal.yaml" in told
    assert files(content) == before
    status, told = run(tmp_path, "add", "weight", "odd", "310 g", "--on", "2024-06-01")
    if status:
        assert told
        assert files(content) == before
    else:  # only this file, and only more in it than before
        after = files(content)
        assert after.keys() == before.keys()
        assert {path for path in after if after[path] != before[path]} == {record}
        assert len(after[record]) > len(before[record])
        assert b"2024-06-01: 310 g" in after[record]
    run(tmp_path, "export", "--to", "all.csv")


@pytest.mark.parametrize("name", RECORDS)
@pytest.mark.parametrize(
    "path", ["site.yaml", "species/corn-snake.yaml", "litters/2022-a/litter.yaml", "projects/p/project.yaml"]
)
def test_an_odd_file_in_any_place_is_told(path: str, name: str, tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", SOUND)
    (content / path).parent.mkdir(parents=True, exist_ok=True)
    (content / path).write_bytes(RECORDS[name])
    before = files(content)
    status, told = run(tmp_path, "check")
    assert (status == 1) == ("error" in told)
    run(tmp_path, "set", "2022-a/01", "sold", "--on", "2023-01-01", "--dry-run")
    assert files(content) == before


@pytest.mark.parametrize("name", RECORDS)
def test_an_odd_sheet_an_odd_columns_file_and_an_odd_paper_are_told(name: str, tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", SOUND)
    before = files(content)
    (tmp_path / "odd.csv").write_bytes(RECORDS[name])
    (tmp_path / "odd.xlsx").write_bytes(RECORDS[name])
    (tmp_path / "good.csv").write_text("name,sex\nBo,f\n")
    run(tmp_path, "import", "odd.csv", "--dry-run")
    assert run(tmp_path, "import", "odd.xlsx", "--dry-run")[0] == 1
    run(tmp_path, "import", "good.csv", "--dry-run", "--columns", "odd.csv")
    assert run(tmp_path, "add", "animal", "--from-paper", "odd.csv")[0] in (1, 2)
    assert files(content) == before


def test_what_is_no_file_is_told_and_not_waited_for(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", SOUND)
    os.mkfifo(content / "animals" / "odd" / "2024-05-01.jpg")
    os.mkfifo(content / "pages.md")
    (content / "animals" / "pipe").mkdir()
    os.mkfifo(content / "animals" / "pipe" / "animal.yaml")
    (content / "animals" / "folder" / "animal.yaml").mkdir(parents=True)
    (content / "animals" / "away").symlink_to("/")
    (content / "animals" / "round").symlink_to(content / "animals")
    (content / "animals" / "gone").symlink_to("nothing")
    for words in (("check",), ("add", "weight", "juniper", "3 g", "--on", "2024-06-01", "--dry-run")):
        run(tmp_path, *words)
    assert run(tmp_path, "import", "content/animals/pipe/animal.yaml")[0] == 1
    os.mkfifo(tmp_path / "pipe.jpg")
    assert run(tmp_path, "add", "photo", "juniper", "pipe.jpg")[0] in (1, 2)
    assert run(tmp_path, "add", "animal", "--from-paper", "pipe.jpg")[0] in (1, 2)


@pytest.mark.parametrize(
    "name",
    ["a b", "\u00dcber", "a\nb", "-x", "con", "x" * 200, "a'b\"c", "%2e%2e", "\u202e", "\udcff", "A&B", ".hidden"],
)
def test_a_folder_of_any_name_is_told_or_taken(name: str, tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", SOUND)
    folder = content / "animals" / name
    folder.mkdir()
    (folder / "animal.yaml").write_bytes(HEAD)
    status, told = run(tmp_path, "check")
    assert (status == 1) == ("error" in told)
    assert "\x1b" not in told
    run(tmp_path, "export")
    run(tmp_path, "add", "weight", name, "3 g", "--dry-run")


def _picture(form: str, **more: object) -> bytes:
    raw = io.BytesIO()
    Image.new("RGB", (40, 30), "tan").save(raw, form, **more)
    return raw.getvalue()


def test_odd_photographs_are_told_and_the_site_is_made_without_them(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", SOUND)
    jpeg, png = _picture("JPEG"), _picture("PNG")
    wide = png[:16] + (60_000).to_bytes(4) * 2 + png[24:]
    odd = {
        "empty.jpg": b"", "text.jpg": b"no picture", "half.jpg": jpeg[: len(jpeg) // 2], "half.png": png[:-30],
        "wide.png": wide, "renamed.jpg": png, "trailing.jpg": jpeg + b"x" * 9000, "zero.webp": b"\0" * 4000,
        "noise.avif": bytes(range(256)) * 20, "anim.gif": _picture("GIF"), "riff.webp": b"RIFF\xff\xff\xff\x7fWEBPVP8 ",
    }  # fmt: skip
    for name, raw in odd.items():
        (content / "animals/odd" / name).write_bytes(raw)
    before = files(content)
    status, told = run(tmp_path, "check")
    for name in ("empty.jpg", "text.jpg", "wide.png", "zero.webp", "noise.avif"):
        assert f"animals/odd/{name}" in told
    assert (status == 1) == ("error" in told)
    assert files(content) == before
