import hashlib
import json
import os
import time
from pathlib import Path

import pytest

from sitegen.below import folder_in
from sitegen.findings import OutputRefused
from sitegen.publish import manifest
from sitegen.publish.release import publish


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def listed_in(folder: Path) -> dict[str, str] | None:
    with folder_in(folder) as handle:
        return manifest.read(handle)


def survey(folder: Path) -> manifest.Standing:
    with folder_in(folder) as handle:
        return manifest.survey(folder, handle)


@pytest.mark.parametrize(
    "name",
    [
        "",
        "/etc/passwd",
        "../up.html",
        "a/../../up.html",
        "a//b",
        "./a",
        "a/",
        "a\\b",
        "a\nb",
        "a\0b",
        "x" * 256,
        manifest.NAME,
        ".gitignore",
    ],
)
def test_names_that_leave_or_confuse_the_folder_are_refused(name: str) -> None:
    assert not manifest.is_sound(name)
    with pytest.raises(OutputRefused, match="cannot stand"):
        manifest.check_names([name, "index.html"])


def test_ordinary_names_pass_and_dot_names_that_hosts_ask_for() -> None:
    manifest.check_names(["index.html", "animals/juniper/index.html", ".nojekyll", ".well-known/x", "a..b"])


def test_a_name_cannot_be_file_and_folder_at_once() -> None:
    with pytest.raises(OutputRefused, match="both a file 'a'"):
        manifest.check_names(["a", "a/b/c"])


def test_what_is_written_is_read_and_is_the_same_in_any_order(tmp_path: Path) -> None:
    files = {"b.html": digest(b"b"), "a/ä.html": digest(b"a")}
    assert manifest.written(files) == manifest.written(dict(reversed(files.items())))
    (tmp_path / manifest.NAME).write_bytes(manifest.written(files))
    assert files == listed_in(tmp_path)


def one(name: object, told: object) -> bytes:
    return json.dumps({"made by": "sitegen", "format": 1, "files": {name: told}}).encode()


HASH = "0" * 64
NONSENSE = {
    "nothing": b"",
    "half": b"{",
    "a list": b"[]",
    "no files": b'{"format": 1}',
    "a list of files": b'{"format": 1, "files": []}',
    "another form": b'{"format": 2, "files": {}}',
    "a form that is true": b'{"format": true, "files": {}}',
    "no text": b"\xff\xfe",
    "nested deeply": b'{"format": 1, "files": ' + b"[" * 100_000,
    "nested deeply and closed": b'{"format": 1, "files": ' + b"[" * 50_000 + b"]" * 50_000 + b"}",
    "a name that climbs": one("../precious", HASH),
    "a name that climbs later": one("a/../../precious", HASH),
    "a whole path": one("/etc/passwd", HASH),
    "an empty name": one("", HASH),
    "its own name": one(manifest.NAME, HASH),
    "a name of half a letter": b'{"format": 1, "files": {"\\ud800": "' + HASH.encode() + b'"}}',
    "a name that is deep": one("/".join("a" * 2000), HASH),
    "a hash that is short": one("a.html", "0" * 63),
    "a hash that is long": one("a.html", "0" * 65),
    "a hash in capitals": one("a.html", "A" * 64),
    "a hash that is a number": one("a.html", 5),
    "a name twice": b'{"format": 1, "files": {"a": "' + HASH.encode() + b'", "a": "' + HASH.encode() + b'"}}',
    "files twice": b'{"format": 1, "files": {}, "files": {}}',
    "file and folder": json.dumps({"format": 1, "files": {"a": HASH, "a/b": HASH}}).encode(),
    "a number without end": b'{"format": ' + b"1" * 10_000 + b', "files": {}}',
}


@pytest.mark.parametrize("what", [*NONSENSE, "too large", "a link", "a link to nowhere", "a folder", "a pipe"])
def test_a_manifest_that_is_nonsense_is_told_and_nothing_changes(tmp_path: Path, what: str) -> None:
    output, outside = tmp_path / "output", tmp_path / "outside.json"
    output.mkdir()
    (output / "index.html").write_bytes(b"page")
    own = output / manifest.NAME
    outside.write_bytes(manifest.written({"index.html": digest(b"page")}))
    match what:
        case "too large":
            with own.open("wb") as file:
                file.truncate(200_000_000)
        case "a link":
            own.symlink_to(outside)
        case "a link to nowhere":
            own.symlink_to(tmp_path / "none")
        case "a folder":
            own.mkdir()
        case "a pipe":
            os.mkfifo(own)
        case _:
            own.write_bytes(NONSENSE[what])
    began = time.process_time()
    with pytest.raises(OutputRefused, match=r"cannot be understood: .+ Nothing was changed"):
        publish({"index.html": b"another"}, output)
    assert time.process_time() - began < 2
    assert (output / "index.html").read_bytes() == b"page"
    assert sorted(path.name for path in output.iterdir()) == sorted(("index.html", manifest.NAME))
    assert outside.read_bytes() == manifest.written({"index.html": digest(b"page")})
    assert sorted(path.name for path in tmp_path.iterdir()) == ["output", "outside.json"]


def test_a_survey_finds_what_is_ours(tmp_path: Path) -> None:
    files = {"a/b.html": digest(b"page"), "gone.html": digest(b"gone"), "lost.html": digest(b"lost")}
    (tmp_path / manifest.NAME).write_bytes(manifest.written(files))
    (tmp_path / "a").mkdir()
    (tmp_path / "a/b.html").write_bytes(b"page")
    (tmp_path / "lost.html").write_bytes(b"")
    (tmp_path / ".gitignore").write_text("*")
    found = survey(tmp_path)
    assert found.files == {"a/b.html": digest(b"page")}
    assert found.carried == (".gitignore",)
    assert list(found.states) == ["a/b.html"]


def test_a_folder_that_is_a_link_is_not_entered(tmp_path: Path) -> None:
    output, outside = tmp_path / "output", tmp_path / "outside"
    outside.mkdir()
    (outside / "b.html").write_bytes(b"page")
    output.mkdir()
    (output / manifest.NAME).write_bytes(manifest.written({"a/b.html": digest(b"page")}))
    (output / "a").symlink_to(outside)
    with pytest.raises(OutputRefused, match="did not make"):
        publish({"index.html": b"page"}, output)
    assert (outside / "b.html").read_bytes() == b"page"


def test_a_long_list_of_strangers_is_cut_and_counted(tmp_path: Path) -> None:
    for number in range(8):
        (tmp_path / f"{number}.txt").write_text("mine")
    with pytest.raises(OutputRefused, match="and 3 more"):
        survey(tmp_path)
