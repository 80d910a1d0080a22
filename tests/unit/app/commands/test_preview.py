"""The first answer of the preview, asked for at the very moment at which its address is told."""

import json
import os
import signal
import subprocess
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL


@pytest.mark.parametrize(("fault", "status"), [("", 200), ("shows: [", 500)], ids=["sound", "in error"])
def test_the_first_page_is_right_when_the_address_is_told(tmp_path: Path, fault: str, status: int) -> None:
    write_files(tmp_path / "content", SMALL)
    for number in range(80):
        write_files(tmp_path / "content", f"=== animals/a{number}/animal.yaml\nspecies: corn-snake\nshows: []\n")
    if fault:
        write_files(tmp_path / "content", f"=== animals/broken/animal.yaml\nspecies: corn-snake\n{fault}\n")
    process = subprocess.Popen(
        [*SITEGEN, "preview", "--port", "0", "--json"], cwd=tmp_path, text=True, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, env={**os.environ, "SITEGEN_CACHE": str(tmp_path / "cache")},
    )  # fmt: skip
    try:
        assert process.stdout is not None
        told = ""
        while not told.rstrip().endswith("}"):
            told += process.stdout.readline()
        address = json.loads(told)["address"]
        try:
            with urllib.request.urlopen(address, timeout=30) as reply:
                found, headers, page = reply.status, reply.headers, reply.read()
        except urllib.error.HTTPError as reply:
            found, headers, page = reply.code, reply.headers, reply.read()
    finally:
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=30)
    assert found == status
    assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
    assert b"there is no content folder" not in page
    assert (b"Something is to be mended" if fault else b"<title>Small") in page
    assert not (tmp_path / "output").exists()
