"""How soon pages of the demonstration are there on a phone with a slow line (``tests/bench/first_page.py``).

Largest contentful paint, best of five, since other work on this machine only slows it down; the goal is under 1.5 s.
"""

import shutil
import sys
import tempfile
import threading
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.host import Host
from helpers.slow_line import on_a_slow_line
from playwright.sync_api import sync_playwright

from sitegen.build import Order, build

ROOT = Path(__file__).parents[2]
RUNS = 5
PAGES = ("index.html", "animals/juniper.html", "available.html")


def built(theme: str, folder: Path) -> Path:
    content = folder / "content"
    shutil.copytree(ROOT / "content", content)
    site = content / "site.yaml"
    site.write_text(site.read_text("utf-8").replace("theme: specimen-sheet", f"theme: {theme}"), encoding="utf-8")
    report = build(Order(content, folder / "output", ROOT / "themes"))
    assert report.published is not None, report.findings
    return folder / "output"


def main() -> None:
    print("theme            page                      largest, s  first, kB  all, kB  moved")
    for theme in ("specimen-sheet", "picture-room"):
        with tempfile.TemporaryDirectory() as name, sync_playwright() as play:
            output = built(theme, Path(name))
            server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Host, directory=str(output)))
            threading.Thread(target=server.serve_forever, daemon=True).start()
            browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
            for page in PAGES:
                address = f"http://127.0.0.1:{server.server_port}/{page}"
                runs = [on_a_slow_line(browser, address) for _ in range(RUNS)]
                paint, moved = min(run.paint_s for run in runs), max(run.moved for run in runs)
                first, whole = max(run.first_kb for run in runs), max(run.all_kb for run in runs)
                print(f"{theme:16} {page:24} {paint:10.2f} {first:12.0f} {whole:8.0f} {moved:10.4f}")
            browser.close()
            server.shutdown()


if __name__ == "__main__":
    main()
