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
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.below import folder_in
from sitegen.findings import OutputRefused
from sitegen.photos.store import Kept, Store
from sitegen.publish import manifest, release, swap
from sitegen.publish.release import check_output, publish

OLD = {"index.html": b"old start", "animals/juniper/index.html": b"juniper", "same.css": b"css"}
NEW = {"index.html": b"new start", "litters/x/index.html": b"litter", "same.css": b"css"}


@pytest.fixture
def output(tmp_path: Path) -> Path:
    return tmp_path / "output"


@pytest.fixture(params=["exchange", "two renames"])
def either_way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Once with folders exchanged in one step, once as on a system that cannot do so."""
    if request.param == "two renames":
        monkeypatch.setattr(release, "exchange", lambda one, other, parent: False)
    return str(request.param)


def contents(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != manifest.NAME
    }


def beside(output: Path) -> list[str]:
    """Names of all that lies beside the output folder."""
    return sorted(path.name for path in output.parent.iterdir() if path != output)


@pytest.fixture(autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path_factory.mktemp("cache")))


def test_a_first_release_puts_every_file_in_place(output: Path, tmp_path: Path) -> None:
    picture = Store(tmp_path / "kept").write("pictures", "1.jpg", b"picture")
    report = publish({**OLD, "pictures/1.jpg": picture, "later.html": lambda: b"made"}, output)
    assert contents(output) == {**OLD, "pictures/1.jpg": b"picture", "later.html": b"made"}
    assert (report.written, report.kept, report.removed) == (5, 0, 0)
    assert beside(output) == ["kept"]


@pytest.mark.parametrize("mask", [0o000, 0o022, 0o077, 0o777])
def test_files_and_folders_have_ordinary_modes_whatever_the_umask(output: Path, mask: int) -> None:
    for site in (OLD, NEW):
        usual = os.umask(mask)
        try:
            publish(site, output)
        finally:
            os.umask(usual)
        for path in (output, *output.rglob("*")):
            assert path.stat().st_mode & 0o7777 == (0o755 if path.is_dir() else 0o644), path


def test_a_file_of_an_older_site_with_another_mode_gets_the_ordinary_one_and_keeps_its_time(output: Path) -> None:
    publish(OLD, output)
    os.chmod(output / "same.css", 0o600)
    os.utime(output / "same.css", (10**9, 10**9))
    publish(NEW, output)
    state = (output / "same.css").stat()
    assert (state.st_mode & 0o7777, state.st_mtime) == (0o644, 10**9)


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
    assert beside(output) == []


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
    picture = Store(tmp_path / "kept").write("pictures", "1.jpg", b"picture")
    publish({"p.jpg": picture}, output)
    (output / "p.jpg").write_bytes(b"scribble")
    assert picture.read() == b"picture"


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


@pytest.mark.usefixtures("either_way")
def test_a_failure_while_staging_leaves_the_old_site(output: Path, tmp_path: Path) -> None:
    publish(OLD, output)
    with pytest.raises(OutputRefused, match="as it was before"):
        publish({**NEW, "z.jpg": Kept(tmp_path / "missing.jpg", "0" * 64)}, output)
    assert contents(output) == OLD
    assert beside(output) == []


def test_what_a_maker_raises_leaves_the_old_site(output: Path) -> None:
    def broken() -> bytes:
        raise LookupError("no template")

    publish(OLD, output)
    with pytest.raises(LookupError):
        publish({**NEW, "z.html": broken}, output)
    assert contents(output) == OLD
    assert beside(output) == []


def test_a_picture_that_is_spoilt_before_it_is_published_stops_the_release(output: Path, tmp_path: Path) -> None:
    publish(OLD, output)
    picture = Store(tmp_path / "kept").write("pictures", "1.jpg", b"first")
    picture.path.write_bytes(picture.path.read_bytes()[:-1] + b"?")
    with pytest.raises(OutputRefused, match="changed meanwhile"):
        publish({**NEW, "p.jpg": picture}, output)
    assert contents(output) == OLD
    assert beside(output) == ["kept"]


def test_a_disk_that_takes_no_more_leaves_the_old_site(output: Path) -> None:
    publish(OLD, output)
    program = f"""
        import resource, sys
        from pathlib import Path
        from sitegen.findings import OutputRefused
        from sitegen.publish.release import publish
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
    assert beside(output) == []
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

    def failing(one: str, other: str, parent: int) -> bool:
        raise OSError(number, os.strerror(number), other)

    monkeypatch.setattr(release, "exchange", failing)
    with pytest.raises(OutputRefused, match=told):
        publish(NEW, output)
    assert contents(output) == OLD


@pytest.mark.usefixtures("either_way")
def test_a_file_added_in_the_last_moment_brings_the_old_site_back(output: Path) -> None:
    publish(OLD, output)

    def intrude() -> bytes:
        (output / "late.txt").write_text("mine")
        return b"late"

    with pytest.raises(OutputRefused, match=r"late\.txt"):
        publish({**NEW, "z.html": intrude}, output)
    assert contents(output) == {**OLD, "late.txt": b"mine"}
    assert beside(output) == []


# Each point at which a release may be killed: the call that ends the process instead, and what stands then.
KILLED = {
    "before the folder is made": ("os.mkdir", 1, OLD),
    "while folders are made": ("os.mkdir", 3, OLD),
    "while files are written": ("release.write_file", 2, OLD),
    "before the list is put": ("os.replace", 1, OLD),
    "before the exchange": ("release.exchange", 1, OLD),
    "after the exchange": ("release.remember_written", 1, NEW),
    "while the old site is cleared": ("os.unlink", 2, NEW),
    "when the old site is nearly cleared": ("os.rmdir", 2, NEW),
}


@pytest.mark.parametrize("moment", KILLED)
def test_a_killed_release_leaves_the_old_site_or_the_new_one_whole(output: Path, moment: str) -> None:
    function, calls, expected = KILLED[moment]
    publish({**OLD, "more.html": b"more"}, output)
    publish(OLD, output)
    program = f"""
        import os, signal
        from pathlib import Path
        from sitegen.publish import release
        ordinary, calls = {function}, []
        def deadly(*args, **named):
            calls.append(args)
            if len(calls) == {calls}:
                os.kill(os.getpid(), signal.SIGKILL)
            return ordinary(*args, **named)
        {function} = deadly
        release.publish({NEW!r}, Path({str(output)!r}))
    """
    (Path(os.environ["SITEGEN_CACHE"]) / "releases").mkdir(exist_ok=True)
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert contents(output) == expected
    third = {"index.html": b"third"}
    report = publish(third, output)
    assert contents(output) == third
    assert report.set_aside == ()
    assert beside(output) == []


def test_killed_between_two_renames_the_old_site_comes_back(output: Path) -> None:
    publish(OLD, output)
    program = f"""
        import os, signal
        from pathlib import Path
        from sitegen.publish import release
        release.exchange = lambda *names: False
        ordinary, calls = os.rename, []
        def deadly(*args, **named):
            calls.append(args)
            if len(calls) == 2:
                os.kill(os.getpid(), signal.SIGKILL)
            return ordinary(*args, **named)
        os.rename = deadly
        release.publish({NEW!r}, Path({str(output)!r}))
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert not output.exists()
    with pytest.raises(OutputRefused):
        publish({**NEW, "z.jpg": Kept(output.parent / "missing", "0" * 64)}, output)
    assert contents(output) == OLD
    assert beside(output) == []


def test_what_a_killed_release_left_with_a_strangers_file_in_it_is_left_and_told(output: Path) -> None:
    publish(OLD, output)
    program = f"""
        import os, signal
        from pathlib import Path
        from sitegen.publish import release
        release.remember_written = lambda name: os.kill(os.getpid(), signal.SIGKILL)
        release.publish({NEW!r}, Path({str(output)!r}))
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], capture_output=True, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr
    (left,) = beside(output)
    (output.parent / left / "animals" / "late.txt").write_text("mine")
    report = publish(OLD, output)
    assert contents(output) == OLD
    (aside,) = report.set_aside
    assert aside == output.parent / left
    assert (aside / "animals" / "late.txt").read_text() == "mine"
    assert publish(OLD, output).set_aside == (aside,), "told until somebody takes it away"


@pytest.mark.parametrize("as_link", [False, True])
def test_a_folder_that_only_looks_like_what_a_killed_release_leaves_is_not_touched(
    output: Path, tmp_path: Path, as_link: bool
) -> None:
    publish(OLD, output)
    planted = tmp_path / ".output-0123456789abcdef.sitegen"
    place = tmp_path / "precious" if as_link else planted
    place.mkdir()
    (place / "thesis.doc").write_text("years of work")
    (place / manifest.NAME).write_bytes(manifest.written({"thesis.doc": hashlib.sha256(b"years of work").hexdigest()}))
    if as_link:
        planted.symlink_to(place)
    before = {path.name: path.read_bytes() for path in place.iterdir()}
    for _ in range(2):
        assert publish(NEW, output).set_aside == (planted,)
        assert {path.name: path.read_bytes() for path in place.iterdir()} == before


def test_an_old_workshop_beside_the_output_is_not_touched(output: Path, tmp_path: Path) -> None:
    """As older versions of the program made it; a stranger may have sent it with links in it."""
    precious = tmp_path / "precious"
    precious.mkdir()
    (precious / "thesis.doc").write_text("years of work")
    (precious / manifest.NAME).write_bytes(
        manifest.written({"thesis.doc": hashlib.sha256(b"years of work").hexdigest()})
    )
    shop = tmp_path / ".sitegen" / "release-output"
    shop.mkdir(parents=True)
    for name in ("next", "before", "spare", "lock", "seen.json", "manifest.aside"):
        (shop / name).symlink_to(precious if name in ("next", "before", "spare") else precious / "thesis.doc")
    publish(OLD, output)
    publish(NEW, output)
    assert contents(precious) == {"thesis.doc": b"years of work"}
    assert len(list(shop.iterdir())) == 6


def test_two_releases_at_once_the_second_is_told_to_wait(output: Path) -> None:
    publish(OLD, output)
    with swap.only_one(output), pytest.raises(OutputRefused, match="another build"):
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


def exchanged(folder: Path, other: str = "x2") -> bool:
    with folder_in(folder) as handle:
        return swap.exchange("x1", other, handle)


def _can_exchange(folder: Path) -> bool:
    for name in ("x1", "x2"):
        (folder / name).mkdir()
    return exchanged(folder)


def test_exchange_swaps_two_folders_and_tells_of_missing_ones(tmp_path: Path) -> None:
    if not _can_exchange(tmp_path):
        pytest.skip("this system cannot exchange folders in one step")
    (tmp_path / "x1" / "a").touch()
    assert exchanged(tmp_path)
    assert (tmp_path / "x2" / "a").exists()
    with pytest.raises(FileNotFoundError):
        exchanged(tmp_path, "nowhere")


def test_the_manifest_lists_every_file_with_its_hash(output: Path) -> None:
    publish(OLD, output)
    told = json.loads((output / manifest.NAME).read_text())
    assert list(told["files"]) == sorted(OLD)
    assert [hashlib.sha256(OLD[name]).hexdigest() for name in sorted(OLD)] == list(told["files"].values())


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
@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_after_any_sites_exactly_the_last_one_stands(sites: list[dict[str, bytes]], made_later: bool) -> None:
    with tempfile.TemporaryDirectory() as name:
        output = Path(name) / "output"
        before: dict[str, bytes] = {}
        for site in sites:
            times = {file: (output / file).stat().st_mtime_ns for file in before}
            later = {file: partial(bytes, content) for file, content in site.items()}
            report = publish(later if made_later else site, output)
            assert contents(output) == site
            assert {path for path in output.rglob("*") if path.is_dir() and not any(path.iterdir())} == set()
            assert report.set_aside == ()
            assert beside(output) == []
            for file in {file for file in before if file in site and before[file] == site[file] != b""}:
                assert (output / file).stat().st_mtime_ns == times[file]
            before = site


def test_where_files_have_no_second_names_they_are_copied_with_their_times(
    output: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*names: object, **more: object) -> None:
        raise OSError(1, "no second names here")

    monkeypatch.setattr(os, "link", none)
    publish(OLD, output)
    os.utime(output / "same.css", (10**9, 10**9))
    publish(NEW, output)
    assert contents(output) == NEW
    assert (output / "same.css").stat().st_mtime == 10**9
    assert beside(output) == []


# Folders that may be an output folder at all.


def test_a_new_folder_beside_the_content_is_fine(tmp_path: Path) -> None:
    check_output(tmp_path / "output", [tmp_path / "content"])
    assert not (tmp_path / "output").exists()


def test_a_link_is_refused_even_to_a_sound_folder(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "output").symlink_to(tmp_path / "real")
    with pytest.raises(OutputRefused, match="is a link"):
        check_output(tmp_path / "output")


def test_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "output").write_text("mine")
    with pytest.raises(OutputRefused, match="is a file"):
        check_output(tmp_path / "output")


@pytest.mark.parametrize(
    ("output", "reason"),
    [
        ("content", "itself"),
        ("content/site", "lies inside"),
        ("content/../content/x", "lies inside"),
        (".", "holds the folder"),
    ],
)
def test_output_and_content_must_lie_apart(tmp_path: Path, output: str, reason: str) -> None:
    (tmp_path / "content").mkdir()
    with pytest.raises(OutputRefused, match=reason):
        check_output(tmp_path / output, [tmp_path / "content"])


def test_a_source_reached_through_a_link_counts_as_what_it_is(tmp_path: Path) -> None:
    (tmp_path / "content").mkdir()
    (tmp_path / "other-name").symlink_to(tmp_path / "content")
    with pytest.raises(OutputRefused, match="lies inside"):
        check_output(tmp_path / "content" / "out", [tmp_path / "other-name"])


def test_root_home_and_what_is_above_home_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home = tmp_path / "people" / "keeper"
    home.mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    for place in (Path("/"), home, home.parent):
        with pytest.raises(OutputRefused, match="not a folder for a site"):
            check_output(place)
    check_output(home / "site")
