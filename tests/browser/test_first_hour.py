"""The guide's story of a first hour, walked in Chromium: what it says that the desk says is on the page."""

import datetime as dt
import re
from pathlib import Path

import pytest
from helpers.at_the_desk import at_the_desk
from helpers.first_hour import DAY, first_hour
from PIL import Image
from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

REPOSITORY = Path(__file__).parents[2]
GUIDE = REPOSITORY / "sitegen" / "guide" / "first-hour.md"


def test_the_story_is_true(browser: Browser, tmp_path: Path) -> None:
    text = GUIDE.read_text("utf-8")
    quoted = re.findall(r"^> (.+)$", text.partition("\n## ")[2], re.MULTILINE)
    pressed = re.findall(r"\*\*(.+?)\.?\*\*", text)
    with at_the_desk(tmp_path / "my-snakes" / "content", dt.date.fromisoformat(DAY)) as keeper:
        page = browser.new_page()
        page.on("pageerror", lambda error: pytest.fail(str(error)))
        seen = ""
        for _ in first_hour(page, keeper.address):
            shown = page.locator("body").inner_text()
            seen += shown
            while quoted and quoted[0] in shown:
                quoted.pop(0)
        page.close()
    assert quoted == []
    done = Path(first_hour.__code__.co_filename).read_text("utf-8")
    assert [each for each in pressed if f'"{each}"' not in done and each not in seen] == []
    content = keeper.content
    assert "amel: 66%" in (content / "animals/flint/animal.yaml").read_text()
    assert "on hold" not in (content / "litters/2026-juniper-flint/litter.yaml").read_text()


def test_its_pictures_are_there_and_small() -> None:
    pictures = re.findall(r"!\[.+\]\((.+)\)", GUIDE.read_text("utf-8"))
    assert len(pictures) == 6
    for each in pictures:
        file = (GUIDE.parent / each).resolve()
        assert file.stat().st_size <= 60_000
        with Image.open(file) as picture:
            assert picture.format == "JPEG"
