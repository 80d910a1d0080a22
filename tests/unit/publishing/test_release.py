import hashlib
import json
import os
import resource
import signal
import subprocess
import sys
import tempfile
import textwrap
import threading
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.findings import OutputRefused
from sitegen.publishing import manifest, release, swap
from sitegen.publishing.release import Later, Made, publish

OLD = {"index.html": b"old start", "animals/juniper/index.html": b"juniper", "same.css": b"css"}
NEW = {"index.html": b"new start", "litters/x/index.html": b"litter", "same.css": b"css"}


@pytest.fixture
def output(tmp_path: Path) -> Path:
    return tmp_path / "output"


@pytest.fixture(params=["exchange", "two renames"])
def either_way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Once with folders exchanged in one step, once as on a system that cannot do so."""
    if request.param == "two renames":
        monkeypatch.setattr(release, "exchange", lambda one, other: False)
    return str(request.param)


def contents(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != manifest.NAME
    }


def left_in_workshop(output: Path) -> list[str]:
    return sorted(path.name for path in (output.parent / ".sitegen" / "release-output").iterdir())


def kept_names(output: Path) -> dict[str, int]:
    """Name to number of each file that is kept of the site before."""
    spare = output.parent / ".sitegen" / "release-output" / "spare"
    return {name: (spare / name).stat().st_ino for name in contents(spare)}


def test_a_first_release_puts_every_file_in_place(output: Path, tmp_path: Path) -> None:
    picture = tmp_path / "stored"
    picture.write_bytes(b"picture")
    report = publish({**OLD, "pictures/1.jpg": picture}, output)
    assert contents(output) == {**OLD, "pictures/1.jpg": b"picture"}
    assert (report.written, report.kept, report.removed) == (4, 0, 0)
    assert left_in_workshop(output) == ["lock", "seen.json"]


def test_missing_folders_above_the_output_are_made(tmp_path: Path) -> None:
    publish(OLD, tmp_path / "a" / "b" / "site")
    assert contents(tmp_path / "a" / "b" / "site") == OLD


@pytest.mark.usefixtures("either_way")
def test_a_second_release_holds_exactly_the_new_files(output: Path) -> None:
    publish(OLD, output)
    same = (output / "same.css").stat()
    report = publish(NEW, output)
    assert contents(output) == NEW
    assert not (output / "animals").exists()
    assert (report.written, report.kept, report.removed) == (2, 1, 1)
    assert same.st_ino == (output / "same.css").stat().st_ino
    assert same.st_mtime_ns == (output / "same.css").stat().st_mtime_ns
    assert left_in_workshop(output) == ["lock", "seen.json", "spare"]
    assert {"same.css": same.st_ino} == kept_names(output)


def test_the_same_site_again_touches_nothing(output: Path) -> None:
    publish(OLD, output)
    folder, listed = output.stat().st_ino, (output / manifest.NAME).stat().st_ino
    report = publish(OLD, output)
    assert (report.written, report.kept, report.removed) == (0, 3, 0)
    assert (folder, listed) == (output.stat().st_ino, (output / manifest.NAME).stat().st_ino)


def test_two_fresh_releases_are_the_same_bytes_manifest_included(tmp_path: Path) -> None:
    publish(OLD, tmp_path / "one")
    publish(dict(reversed(OLD.items())), tmp_path / "two")
    assert (tmp_path / "one" / manifest.NAME).read_bytes() == (tmp_path / "two" / manifest.NAME).read_bytes()


def test_editing_a_published_copy_does_not_reach_the_original(output: Path, tmp_path: Path) -> None:
    picture = tmp_path / "stored"
    picture.write_bytes(b"picture")
    publish({"p.jpg": picture}, output)
    (output / "p.jpg").write_bytes(b"scribble")
    assert picture.read_bytes() == b"picture"


@pytest.mark.usefixtures("either_way")
def test_gitignore_is_carried_over_with_the_breeders_changes(output: Path) -> None:
    output.mkdir()
    (output / ".gitignore").write_text("*\n")
    publish(OLD, output)
    (output / ".gitignore").write_text("*\n!.gitignore\n")
    publish(NEW, output)
    assert contents(output) == {**NEW, ".gitignore": b"*\n!.gitignore\n"}


def test_a_file_deleted_by_hand_is_made_again(output: Path) -> None:
    publish(OLD, output)
    (output / "same.css").unlink()
    report = publish(OLD, output)
    assert contents(output) == OLD
    assert (report.written, report.kept, report.removed) == (1, 2, 0)


@pytest.mark.parametrize(
    ("stranger", "named"),
    [("notes.txt", "notes.txt"), ("animals/juniper/mine.txt", "animals/juniper/mine.txt"), (".htaccess", ".htaccess")],
)
def test_a_file_that_is_not_ours_is_named_and_nothing_changes(output: Path, stranger: str, named: str) -> None:
    publish(OLD, output)
    (output / stranger).write_text("mine")
    with pytest.raises(OutputRefused, match=named):
        publish(NEW, output)
    assert {**OLD, stranger: b"mine"} == contents(output)


def test_an_empty_folder_and_a_link_are_strangers_too(output: Path, tmp_path: Path) -> None:
    publish(OLD, output)
    (output / "drafts").mkdir()
    with pytest.raises(OutputRefused, match="drafts/"):
        publish(NEW, output)
    (output / "drafts").rmdir()
    (tmp_path / "precious").write_bytes(b"css")
    (output / "same.css").unlink()
    (output / "same.css").symlink_to(tmp_path / "precious")
    with pytest.raises(OutputRefused, match=r"same\.css"):
        publish(NEW, output)
    assert (tmp_path / "precious").read_bytes() == b"css"


def test_a_page_changed_by_hand_is_named_and_kept(output: Path) -> None:
    publish(OLD, output)
    (output / "index.html").write_bytes(b"old_start")  # as long as before
    with pytest.raises(OutputRefused, match=r"changed since[^.]*\n +index\.html"):
        publish(NEW, output)
    assert (output / "index.html").read_bytes() == b"old_start"


def test_a_folder_of_somebody_else_is_refused(output: Path) -> None:
    output.mkdir()
    (output / "thesis.doc").write_text("years of work")
    with pytest.raises(OutputRefused, match=r"thesis\.doc"):
        publish(NEW, output)
    assert contents(output) == {"thesis.doc": b"years of work"}


def test_a_manifest_that_lists_a_strangers_file_does_not_hand_it_over(output: Path) -> None:
    output.mkdir()
    (output / "thesis.doc").write_text("years of work")
    (output / manifest.NAME).write_bytes(manifest.written({"thesis.doc": "0" * 64}))
    with pytest.raises(OutputRefused, match=r"thesis\.doc"):
        publish(NEW, output)
    assert (output / "thesis.doc").read_text() == "years of work"


def test_names_that_climb_out_are_refused_before_anything_is_made(output: Path, tmp_path: Path) -> None:
    with pytest.raises(OutputRefused, match="cannot stand"):
        publish({"../evil.html": b"x"}, output)
    assert list(tmp_path.iterdir()) == []


def test_the_workshop_cannot_be_the_output(tmp_path: Path) -> None:
    with pytest.raises(OutputRefused, match="where sitegen works"):
        publish(NEW, tmp_path / ".sitegen")


@pytest.mark.usefixtures("either_way")
def test_a_failure_while_staging_leaves_the_old_site(output: Path, tmp_path: Path) -> None:
    publish(OLD, output)
    with pytest.raises(OutputRefused, match="as it was before"):
        publish({**NEW, "z.jpg": tmp_path / "missing.jpg"}, output)
    assert contents(output) == OLD
    assert left_in_workshop(output) == ["lock", "seen.json"]


def test_a_picture_that_changes_while_it_is_copied_stops_the_release(
    output: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish(OLD, output)
    picture = tmp_path / "p.jpg"
    picture.write_bytes(b"first")
    copy = release._write

    def slow_copy(path: Path, content: bytes | Path) -> None:
        picture.write_bytes(b"second")
        copy(path, content)

    monkeypatch.setattr(release, "_write", slow_copy)
    with pytest.raises(OutputRefused, match="was changed while"):
        publish({**NEW, "p.jpg": picture}, output)
    assert contents(output) == OLD


def test_a_disk_that_takes_no_more_leaves_the_old_site(output: Path) -> None:
    publish(OLD, output)
    program = f"""
        import resource, sys
        from pathlib import Path
        from sitegen.findings import OutputRefused
        from sitegen.publishing.release import publish
        resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
        try:
            publish({{"index.html": b"small", "large.html": b"x" * 200_000}}, Path({str(output)!r}))
        except OutputRefused as refused:
            sys.exit(str(refused))
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, text=True, check=False)
    assert "too large" in done.stderr
    assert "as it was before" in done.stderr
    assert "Traceback" not in done.stderr
    assert contents(output) == OLD
    assert left_in_workshop(output) == ["lock", "seen.json"]
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] != 100_000


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (28, "the disk is full"),
        (30, "can only be read"),
        (13, "no permission"),
        (18, "a disk of its own"),
        (16, "a disk of its own"),
    ],
)
def test_failures_of_the_system_are_told_in_words(
    output: Path, monkeypatch: pytest.MonkeyPatch, number: int, told: str
) -> None:
    publish(OLD, output)

    def failing(one: Path, other: Path) -> bool:
        raise OSError(number, os.strerror(number), str(other))

    monkeypatch.setattr(release, "exchange", failing)
    with pytest.raises(OutputRefused, match=told):
        publish(NEW, output)
    assert contents(output) == OLD


@pytest.mark.usefixtures("either_way")
def test_a_file_added_in_the_last_moment_brings_the_old_site_back(
    output: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish(OLD, output)
    stage = release._stage

    def stage_and_intrude(*args: object) -> None:
        stage(*args)  # type: ignore[arg-type]
        (output / "late.txt").write_text("mine")

    monkeypatch.setattr(release, "_stage", stage_and_intrude)
    with pytest.raises(OutputRefused, match=r"late\.txt"):
        publish(NEW, output)
    assert contents(output) == {**OLD, "late.txt": b"mine"}
    assert left_in_workshop(output) == ["lock", "seen.json"]


# Each point at which a release may be killed: the function of release.py that ends the process, how, and what stands.
KILLED = {
    "before anything is written": ("_stage", 1, OLD),
    "while files are written": ("_write", 2, OLD),
    "before the exchange": ("_put_in_place", 1, OLD),
    "after the exchange": ("keep_names", 1, NEW),
}


@pytest.mark.parametrize("moment", KILLED)
def test_a_killed_release_leaves_the_old_site_or_the_new_one_whole(output: Path, moment: str) -> None:
    function, calls, expected = KILLED[moment]
    publish({**OLD, "more.html": b"more"}, output)
    publish(OLD, output)  # now names are kept
    program = f"""
        import os, signal
        from pathlib import Path
        from sitegen.publishing import release
        ordinary, calls = release.{function}, []
        def deadly(*args, **named):
            calls.append(args)
            if len(calls) == {calls}:
                os.kill(os.getpid(), signal.SIGKILL)
            return ordinary(*args, **named)
        release.{function} = deadly
        release.publish({NEW!r}, Path({str(output)!r}))
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert contents(output) == expected
    assert "next" in left_in_workshop(output)
    third = {"index.html": b"third"}
    report = publish(third, output)
    assert contents(output) == third
    assert report.set_aside == ()
    assert left_in_workshop(output) == ["lock", "seen.json"]


def test_killed_between_two_renames_the_old_site_comes_back(output: Path) -> None:
    publish(OLD, output)
    output.rename(output.parent / ".sitegen" / "release-output" / "before")
    with pytest.raises(OutputRefused):
        publish({**NEW, "z.jpg": output.parent / "missing"}, output)
    assert contents(output) == OLD


def test_what_a_killed_release_left_with_a_strangers_file_in_it_is_set_aside(output: Path) -> None:
    publish(OLD, output)
    left = output.parent / ".sitegen" / "release-output" / "next"
    publish(OLD, left.parent / "elsewhere")
    (left.parent / "elsewhere").rename(left)
    (left / "animals" / "late.txt").write_text("mine")
    report = publish(NEW, output)
    assert contents(output) == NEW
    (aside,) = report.set_aside
    assert contents(aside) == {"animals/late.txt": b"mine"}


def test_two_releases_at_once_the_second_is_told_to_wait(output: Path) -> None:
    publish(OLD, output)
    lock = output.parent / ".sitegen" / "release-output" / "lock"
    with swap.only_one(lock, output), pytest.raises(OutputRefused, match="another build"):
        publish(NEW, output)
    assert contents(output) == OLD
    publish(NEW, output)
    assert contents(output) == NEW


def test_a_visitor_meets_a_whole_site_at_every_moment(output: Path, tmp_path: Path) -> None:
    if not _can_exchange(tmp_path):
        pytest.skip("this system cannot exchange folders in one step")
    publish(OLD, output)
    met: list[str] = []
    done = threading.Event()

    def visit() -> None:
        while not done.is_set():
            met.append("there" if output.is_dir() else "missing")

    visitor = threading.Thread(target=visit)
    visitor.start()
    for _ in range(10):
        publish(NEW, output)
        publish(OLD, output)
    done.set()
    visitor.join()
    assert set(met) == {"there"}


def _can_exchange(folder: Path) -> bool:
    for name in ("x1", "x2"):
        (folder / name).mkdir()
    return swap.exchange(folder / "x1", folder / "x2")


def test_exchange_swaps_two_folders_and_tells_of_missing_ones(tmp_path: Path) -> None:
    if not _can_exchange(tmp_path):
        pytest.skip("this system cannot exchange folders in one step")
    (tmp_path / "x1" / "a").touch()
    assert swap.exchange(tmp_path / "x1", tmp_path / "x2")
    assert (tmp_path / "x2" / "a").exists()
    with pytest.raises(FileNotFoundError):
        swap.exchange(tmp_path / "x1", tmp_path / "nowhere")


def test_the_manifest_lists_every_file_with_its_hash(output: Path) -> None:
    publish(OLD, output)
    told = json.loads((output / manifest.NAME).read_text())
    assert list(told["files"]) == sorted(OLD)
    assert [hashlib.sha256(OLD[name]).hexdigest() for name in sorted(OLD)] == list(told["files"].values())


@pytest.mark.parametrize("after", range(3))
def test_a_release_killed_while_it_clears_the_old_site_leaves_what_the_next_can_clear(
    output: Path, monkeypatch: pytest.MonkeyPatch, after: int
) -> None:
    publish(OLD, output)
    left, unlink = [after], os.unlink

    def dying(path: str) -> None:
        if "/next/" in path:
            if not left[0]:
                raise KeyboardInterrupt
            left[0] -= 1
        unlink(path)

    with monkeypatch.context() as patch:
        patch.setattr(os, "unlink", dying)
        with pytest.raises(KeyboardInterrupt):
            publish(NEW, output)
    assert contents(output) == NEW
    assert publish(NEW, output).set_aside == ()
    assert left_in_workshop(output) == ["lock", "seen.json"]


SITES = st.lists(
    st.dictionaries(
        st.sampled_from(["a.html", "b.html", "c/d.html", "c/e/f.html", "g/h.html"]),
        st.sampled_from([b"one", b"two", b"three", b""]),
        min_size=1,
    ),
    min_size=2,
    max_size=6,
)


@given(SITES, st.booleans())
@settings(deadline=None)
def test_what_is_kept_of_the_site_before_is_never_seen_in_the_next(
    sites: list[dict[str, bytes]], made_later: bool
) -> None:
    with tempfile.TemporaryDirectory() as name:
        output = Path(name) / "output"
        for site in sites:
            later = {file: Later(partial(Made, content)) for file, content in site.items()}
            report = publish(later if made_later else site, output)
            assert contents(output) == site
            assert {path for path in output.rglob("*") if path.is_dir() and not any(path.iterdir())} == set()
            assert report.set_aside == ()
            numbers = {file: (output / file).stat().st_ino for file in site}
            if "spare" in left_in_workshop(output):
                assert kept_names(output).items() <= numbers.items()  # the same files: they take the room of names


def test_a_strangers_file_among_what_is_kept_is_set_aside(output: Path) -> None:
    publish(OLD, output)
    publish(NEW, output)
    (output.parent / ".sitegen/release-output/spare/late.txt").write_text("mine")
    report = publish(OLD, output)
    assert contents(output) == OLD
    (aside,) = report.set_aside
    assert contents(aside) == {"late.txt": b"mine"}


def test_a_file_kept_under_a_name_of_ours_that_is_not_the_published_one_is_not_taken(output: Path) -> None:
    publish(OLD, output)
    publish(NEW, output)
    kept = output.parent / ".sitegen/release-output/spare/same.css"
    kept.unlink()
    kept.write_bytes(b"another")
    third = {**NEW, "index.html": b"third"}
    publish(third, output)
    assert contents(output) == third


def test_a_folder_that_somebody_closed_among_what_is_kept_is_not_published(output: Path) -> None:
    site = {**OLD, "closed/a.html": b"a"}
    publish(site, output)
    usual = (output / "closed").stat().st_mode
    publish({**site, "index.html": b"second"}, output)
    (output.parent / ".sitegen/release-output/spare/closed").chmod(0o500)
    third = {**site, "index.html": b"third"}
    publish(third, output)
    assert contents(output) == third
    assert (output / "closed").stat().st_mode == usual


def test_where_files_have_no_second_names_nothing_is_kept(output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*names: object) -> None:
        raise OSError(1, "no second names here")

    monkeypatch.setattr(os, "link", none)
    publish(OLD, output)
    publish(NEW, output)
    assert contents(output) == NEW
    assert left_in_workshop(output) == ["lock", "seen.json"]
