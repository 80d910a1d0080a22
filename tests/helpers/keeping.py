"""The commands that change records, as a breeder types them, and a small collection to try them on."""

import contextlib
import io
import subprocess
from pathlib import Path
from unittest import mock

import pytest

from sitegen.app.commands import main


def typed(folder: Path, *words: str, status: int = 0, pasted: str = "") -> subprocess.CompletedProcess[str]:
    """The command in this process, as if in a folder, with nobody at a terminal; it can read what is ``pasted``."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        mock.patch("sys.stdin", io.TextIOWrapper(io.BytesIO(pasted.encode("utf-8", "surrogateescape")))),
        pytest.raises(SystemExit) as ended,
    ):
        main(list(words))
    done = subprocess.CompletedProcess(list(words), int(ended.value.code or 0), out.getvalue(), err.getvalue())
    assert done.returncode == status, done.stdout + done.stderr
    assert "mistake in sitegen" not in done.stderr
    return done


def new_snakes(folder: Path) -> Path:
    """A collection of two animals and a clutch of three young."""
    typed(folder, "start", "mine", "--name", "Mine", "--species", "corn-snake", "--currency", "GBP")
    mine = folder / "mine"
    typed(mine, "add", "animal", "Juniper", "--sex", "female", "--born", "2020-07-14", "--shows", "amel, motley")
    typed(mine, "add", "animal", "Flint", "--sex", "male", "--born", "2020-06-01", "--shows", "nothing",
          "--stated", "amel=certain")  # fmt: skip
    typed(mine, "add", "litter", "--dam", "juniper", "--sire", "Flint", "--laid", "2026-05-20", "--born", "2026-07-18",
          "--young", "3")  # fmt: skip
    return mine


def all_files(folder: Path) -> dict[str, bytes]:
    """The bytes of every file below a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def record(folder: Path, path: str) -> str:
    """The text of a record of a collection."""
    return (folder / "content" / path).read_text(encoding="utf-8")
