"""The demo in each theme, served on this machine, and one browser for all that look at it."""

import functools
import http.server
import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from helpers.host import Host
from helpers.pages import THEMES
from helpers.program import built
from playwright.sync_api import Browser, sync_playwright

REPOSITORY = Path(__file__).parents[2]
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="session")
def themed(demo: Path, made_once: Callable[[str, Callable[[Path], None]], Path]) -> dict[str, Path]:
    """Theme to the demo site made with it."""

    def make(theme: str, folder: Path) -> None:
        content = shutil.copytree(REPOSITORY / "content", folder / "content")
        lines = [line for line in (content / "site.yaml").read_text("utf-8").splitlines() if "theme:" not in line[:6]]
        (content / "site.yaml").write_text("\n".join([*lines, f"theme: {theme}", ""]), "utf-8")
        built(content, folder / "output", REPOSITORY / "themes")

    others = {theme: made_once(theme, functools.partial(make, theme)) / "output" for theme in THEMES[1:]}
    return {THEMES[0]: demo, **others}


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Chromium, started once for all tests of this folder; in CI a missing one is a failure."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        if os.environ.get("CI"):
            pytest.fail("CI needs Chromium: apt-get install chromium")
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium, args=QUIET)
        yield running
        running.close()


@pytest.fixture(scope="package")
def hosts(themed: dict[str, Path]) -> Iterator[dict[str, str]]:
    """Theme to the address of a server of its demo."""
    servers = {}
    for theme, folder in themed.items():
        handler = functools.partial(Host, directory=str(folder))
        servers[theme] = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
        threading.Thread(target=servers[theme].serve_forever, daemon=True).start()
    yield {theme: f"http://127.0.0.1:{server.server_port}/" for theme, server in servers.items()}
    for server in servers.values():
        server.shutdown()
        server.server_close()
