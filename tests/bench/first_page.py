"""How soon the start page of the demonstration is there on a phone with a slow line (``tests/bench/first_page.py``).

Largest contentful paint, best of five, since other work on this machine only slows it down; the goal is under 1.0 s.
"""

import shutil
import sys
import tempfile
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.slow_line import on_a_slow_line
from playwright.sync_api import sync_playwright

from sitegen.build import Order, build

ROOT = Path(__file__).parents[2]
RUNS = 5


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def built(theme: str, folder: Path) -> Path:
    content = folder / "content"
    shutil.copytree(ROOT / "content", content)
    site = content / "site.yaml"
    site.write_text(site.read_text("utf-8").replace("theme: specimen-sheet", f"theme: {theme}"), encoding="utf-8")
    report = build(Order(content, folder / "output", ROOT / "themes"))
    assert report.published is not None, report.findings
    return folder / "output"


def main() -> None:
    print("theme            largest paint, s   first screen, kB   layout shift")
    for theme in ("specimen-sheet", "picture-room"):
        with tempfile.TemporaryDirectory() as name, sync_playwright() as play:
            output = built(theme, Path(name))
            server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(output)))
            threading.Thread(target=server.serve_forever, daemon=True).start()
            browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
            address = f"http://127.0.0.1:{server.server_port}/index.html"
            runs = [on_a_slow_line(browser, address) for _ in range(RUNS)]
            paint, moved = min(seen["paint"] for seen, _ in runs), max(seen["moved"] for seen, _ in runs)
            print(f"{theme:16} {paint:16.2f} {max(weight for _, weight in runs):18.0f} {moved:14.4f}")
            browser.close()
            server.shutdown()


if __name__ == "__main__":
    main()
