"""Every page of the demo in each theme before the Nu HTML Checker, which knows which element may stand in which."""

import json
import subprocess
from pathlib import Path

import pytest
from helpers.checked_markup import nu_command
from helpers.pages import THEMES

pytestmark = pytest.mark.browser

POLICY = r"(Resource|Inline script) violates Content Security Policy.*"
"""Passed over: pages are read from the disk here, where nothing has an origin that could be ``'self'``, and a block of
JSON is told of as if it would run. ``test_demo_in_chromium.py`` holds the policy in a browser instead."""


@pytest.fixture(scope="module")
def nu() -> list[str]:
    return nu_command()


@pytest.mark.parametrize("theme", THEMES)
def test_the_nu_checker_finds_no_error_and_no_warning(themed: dict[str, Path], theme: str, nu: list[str]) -> None:
    """Source: the Nu HTML Checker of the W3C and the WHATWG, validator.github.io/validator."""
    assert len(list(themed[theme].rglob("*.html"))) > 100
    command = [*nu, "--skip-non-html", "--format", "json", "--filterpattern", POLICY, str(themed[theme])]
    run = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    found = json.loads(run.stderr)["messages"]
    assert [(m["url"], m.get("lastLine"), m["message"], m.get("extract")) for m in found] == []
    assert run.returncode == 0


def test_the_checker_would_tell_of_what_was_wrong_once(tmp_path: Path, nu: list[str]) -> None:
    """A picture before the sources of a ``picture``, as every page had it."""
    head = '<!doctype html>\n<html lang="en"><head><title>x</title></head><body><picture><img src="a.png" alt="">'
    (tmp_path / "page.html").write_text(f'{head}<source srcset="a.avif" type="image/avif"></picture></body></html>')
    run = subprocess.run([*nu, "--format", "json", str(tmp_path)], capture_output=True, text=True, check=False)
    assert [m["message"] for m in json.loads(run.stderr)["messages"] if m["type"] == "error"] != []
    assert run.returncode == 1
