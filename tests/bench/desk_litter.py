"""What a clutch of fifteen takes by commands and at the desk: ``python tests/bench/desk_litter.py [ANIMALS]``.

Each young has a sex, a look, a weight, a price and a photograph. Then: how soon a large collection's desk tells what
would follow from a row.

Keystrokes and clicks as in desk.py. A photograph is chosen with two clicks: the row's own field, and the file. By
commands a file is named as a camera names it. Measured, never asserted.
"""

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from desk import REPOSITORY, SITEGEN, SIZES, Hand, desk
from many_records import write_collection
from PIL import Image
from playwright.sync_api import Browser, sync_playwright

YOUNG = 15
CLUTCH = "2026-second"
LOOKS = ("caramel", "", "tessera")
"""What the young are said to look like, in turns; of an empty word nothing was seen."""


def clutch(folder: Path) -> Path:
    """The demo with a clutch of which only the parents and days are known, and a photograph of each young."""
    shutil.copytree(REPOSITORY / "content", folder / "content")
    add = ["add", "litter", "--dam", "fennel", "--sire", "cinnabar", "--laid", "2026-05-20", "--born", "2026-07-20"]
    subprocess.run([*SITEGEN, *add, "--id", CLUTCH], cwd=folder, check=True, capture_output=True)
    for number in range(1, YOUNG + 1):
        image = Image.effect_noise((2000, 1500), 60 + number).convert("RGB")
        exif = image.getexif()
        exif.get_ifd(0x8769)[0x9003] = "2026:07:20 10:00:00"
        image.save(folder / f"IMG_04{number:02}.jpg", quality=85, exif=exif)
    return folder


def said(number: int) -> tuple[str, str, str, str]:
    return ("female", "male")[number % 2], LOOKS[number % 3] or "nothing", f"{9 + number % 4}", f"{60 + 5 * number}"


def by_commands(folder: Path) -> str:
    keys, n_commands, begun = 0, 0, time.perf_counter()
    commands = [["add", "outcome", CLUTCH, "--young", str(YOUNG)]]
    for number in range(1, YOUNG + 1):
        sex, look, weight, price = said(number)
        options = ["--sex", sex, "--shows", look, "--weight", f"{weight}g", "--price", price]
        commands.append(["add", "young", CLUTCH, f"{number:02}", *options])
        commands.append(["add", "photo", f"{CLUTCH}/{number:02}", f"IMG_04{number:02}.jpg"])
    for words in commands:
        keys += len(" ".join(["sitegen", *words])) + 1
        n_commands += 1
        subprocess.run([*SITEGEN, *words], cwd=folder, check=True, capture_output=True)
    return f"{n_commands} commands, {keys} keystrokes, {time.perf_counter() - begun:.1f} s"


def at_the_desk(hand: Hand, folder: Path, address: str, by_thumb: bool) -> None:
    hand.click('#outcome [name="count"]')
    hand.type(str(YOUNG))
    hand.press("Enter")
    hand.page.locator(f'[data-row="{YOUNG}"]').wait_for()
    for number in range(1, YOUNG + 1):
        sex, look, weight, price = said(number)
        row = f'[data-row="{number:02}"]'
        own = [f'{row} [name="{number:02}.{key}"]' for key in ("sex", "weight", "price")]
        fields = [own[0], f'{row} [type=checkbox][value="{look}"]', *own[1:]]
        if by_thumb:
            hand.page.locator(fields[0]).select_option(sex)
            hand.clicks += 2
            hand.click(fields[1])
            hand.click(fields[2])
            hand.type(weight)
            hand.click(fields[3])
            hand.type(price)
        else:
            if number == 1:
                hand.page.locator(fields[0]).focus()
                hand.clicks += 1
            hand.press(sex[0])
            for target in fields[1:]:
                while not hand.page.locator(target).evaluate("each => each === document.activeElement"):
                    hand.press("Tab")
                if target == fields[1]:
                    hand.press("Space")
                else:
                    hand.type(weight if target == fields[2] else price)
            hand.press("Enter")
        hand.page.locator(f"{row} input[type=file]").set_input_files(folder / f"IMG_04{number:02}.jpg")
        hand.clicks += 2
    hand.wait_until(f"document.querySelectorAll('[data-row] img').length === {YOUNG}")
    kept = folder / f"content/litters/{CLUTCH}/litter.yaml"
    hand.click("h1")  # the last row is left
    while f"price: {said(YOUNG)[3]}" not in kept.read_text():
        time.sleep(0.01)


def at_size(browser: Browser, folder: Path, size: str) -> str:
    with desk(folder) as address:
        page = browser.new_page(viewport=dict(zip(("width", "height"), SIZES[size], strict=True)))  # type: ignore[arg-type]
        page.goto(f"{address}/litters/{CLUTCH}")
        hand, begun = Hand(page), time.perf_counter()
        at_the_desk(hand, folder, address, size == "phone")
        took = time.perf_counter() - begun
        page.close()
    shown = len(list((folder / f"content/litters/{CLUTCH}").glob("*.jpg")))
    return f"{hand.clicks} clicks, {hand.keys} keystrokes, {took:.1f} s, {shown} photographs"


def consequences(browser: Browser, folder: Path, n_animals: int) -> None:
    """How long a page takes, and a look that is ticked until what would follow stands there."""
    write_collection(folder / "content", n_animals)
    file = sorted((folder / "content" / "litters").glob("*/litter.yaml"))[-1]
    text = file.read_text().splitlines(keepends=True)
    file.write_text("".join('  "02":\n' if line.startswith('  "02"') else line for line in text))
    with desk(folder) as address:
        page = browser.new_page()
        at = f"{address}/litters/{file.parent.name}"
        page.goto(at)
        times = []
        for _ in range(10):
            begun = time.perf_counter()
            assert page.request.get(at).ok
            times.append(1000 * (time.perf_counter() - begun))
        print(f"{n_animals} animals, a litter's table: {statistics.median(times):.0f} ms, best {min(times):.0f}")
        page.evaluate(
            """() => { window.took = []; const send = window.fetch;
            window.fetch = async (...all) => { const begun = performance.now(); const answer = await send(...all);
              window.took.push(performance.now() - begun); return answer; }; }"""
        )
        for _ in range(20):
            page.locator('[data-row="02"] input[type=checkbox]').first.click()
            page.wait_for_timeout(1200)
        took = json.loads(page.evaluate("JSON.stringify(window.took)"))
        print(f"{n_animals} animals, what would follow: {statistics.median(took):.0f} ms, worst {max(took):.0f}")


def main() -> None:
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as name:
        os.environ["SITEGEN_UNDO"] = f"{name}/undo"
        chromium = shutil.which("chromium") or shutil.which("chromium-browser")
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        print(f"a clutch of {YOUNG}, by commands: {by_commands(clutch(Path(name) / 'commands'))}")
        for size in SIZES:
            print(f"a clutch of {YOUNG}, {size}: {at_size(browser, clutch(Path(name) / size), size)}")
        consequences(browser, Path(name) / "many", int(sys.argv[1]) if len(sys.argv) > 1 else 300)
        browser.close()


if __name__ == "__main__":
    main()
