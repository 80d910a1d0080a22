"""The demo in each theme, served on this machine, and a browser."""

import functools
import http.server
import os
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.pages import THEMES
from playwright.sync_api import Browser, sync_playwright

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]


@pytest.fixture(scope="session")
def themed(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Theme to the demo site made with it."""
    from sitegen.build import Order, build  # noqa: PLC0415 - only tests that need it pay for it

    repository = Path(__file__).parents[2]
    sites = {THEMES[0]: demo}
    for theme in THEMES[1:]:
        folder = tmp_path_factory.mktemp(theme)
        content = shutil.copytree(repository / "content", folder / "content")
        lines = [line for line in (content / "site.yaml").read_text("utf-8").splitlines() if "theme:" not in line[:6]]
        (content / "site.yaml").write_text("\n".join([*lines, f"theme: {theme}", ""]), "utf-8")
        order = Order(content=content, output=folder / "output", themes=repository / "themes")
        report = build(order)
        assert report.published is not None, [str(finding) for finding in report.findings]
        sites[theme] = folder / "output"
    return sites


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Chromium; in CI a missing one is a failure."""
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("CI needs Chromium: apt-get install chromium")
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield chromium
        chromium.close()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        return


@pytest.fixture(scope="module")
def hosts(themed: dict[str, Path]) -> Iterator[dict[str, str]]:
    """Theme to the address of a server of its demo."""
    servers = {}
    for theme, folder in themed.items():
        handler = functools.partial(_Quiet, directory=str(folder))
        servers[theme] = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
        threading.Thread(target=servers[theme].serve_forever, daemon=True).start()
    yield {theme: f"http://127.0.0.1:{server.server_port}/" for theme, server in servers.items()}
    for server in servers.values():
        server.shutdown()
        server.server_close()
