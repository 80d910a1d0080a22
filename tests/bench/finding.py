"""How the page of what is available stands on a phone, with 150 offers (``tests/bench/finding.py``).

Phone: 390 x 844, processor four times slower. Blocking: the part of each long task beyond 50 ms, from the start to a
second after loading, and while a choice is made.
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.many_offers import write_offers
from playwright.sync_api import Page, sync_playwright

from sitegen.build import Order, build

ROOT = Path(__file__).parents[2]
RUNS = 3
WATCH = """
window.blocked = 0;
new PerformanceObserver(l => l.getEntries().forEach(e => window.blocked += e.duration - 50))
  .observe({type: 'longtask', buffered: true});
"""
FIRST = "document.querySelector('[data-list] > li').getBoundingClientRect().top + scrollY"


def looked_at(page: Page, address: str) -> tuple[float, ...]:
    """Top of the first animal, height of the page in screens, ms blocked while loading and while choosing, kB."""
    page.goto(address)
    page.wait_for_timeout(1500)
    loading = page.evaluate("window.blocked")
    top, high = page.evaluate(FIRST), page.evaluate("document.documentElement.scrollHeight")
    name = page.evaluate("document.querySelector('select[name=gene], select[name=carries]').name")
    page.evaluate(
        "id => { const f = document.querySelector('select[name=' + id + ']'); f.value = 'amelanistic';"
        " f.dispatchEvent(new Event('change', {bubbles: true})); }",
        name,
    )
    page.wait_for_timeout(800)
    return top, high / 844, loading, page.evaluate("window.blocked") - loading


def main() -> None:
    print("theme            first animal, px  screens  blocked loading, ms  blocked choosing, ms  kB")
    for theme in ("specimen-sheet", "picture-room"):
        with tempfile.TemporaryDirectory() as name, sync_playwright() as play:
            folder = Path(name)
            content = write_offers(folder / "content", 150, theme)
            report = build(Order(content, folder / "output", ROOT / "themes"))
            assert report.published is not None, report.findings
            browser = play.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
            context = browser.new_context(viewport={"width": 390, "height": 844}, device_scale_factor=3, is_mobile=True)
            context.add_init_script(WATCH)
            page = context.new_page()
            context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
            file = folder / "output" / "available.html"
            runs = [looked_at(page, file.as_uri()) for _ in range(RUNS)]
            top, screens, loading, choosing = (min(found) for found in zip(*runs, strict=True))
            size = len(file.read_bytes()) / 1000
            print(f"{theme:16} {top:16.0f} {screens:8.1f} {loading:20.0f} {choosing:21.0f} {size:5.0f}")
            browser.close()


if __name__ == "__main__":
    main()
