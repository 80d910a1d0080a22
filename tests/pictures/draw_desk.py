"""Takes the pictures of the guide's first hour anew: ``python tests/pictures/draw_desk.py``, in about a minute."""

import datetime as dt
import os
import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from helpers.at_the_desk import at_the_desk  # noqa: E402 - the tests' own folder is named first
from helpers.first_hour import DAY, first_hour  # noqa: E402

WANTED = ("animal", "follows", "round", "offer", "site", "changes")


def main() -> None:
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        os.environ["SITEGEN_UNDO"] = f"{name}/undo"
        chromium = shutil.which("chromium") or shutil.which("chromium-browser")
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        with at_the_desk(Path(name) / "my-snakes" / "content", dt.date.fromisoformat(DAY)) as keeper:
            page = browser.new_page(locale="en-GB", timezone_id="Europe/London")
            for part in first_hour(page, keeper.address):
                if part in WANTED:
                    page.screenshot(path=HERE / f"desk-{part}.jpg", type="jpeg", quality=55)
        browser.close()


if __name__ == "__main__":
    main()
