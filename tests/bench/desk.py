"""What a keeper's daily tasks take, by commands and at the desk: ``python tests/bench/desk.py [ANIMALS]``.

Keystrokes are signs typed, with Enter; clicks are taps of a thumb too. Seconds are what the machine takes: from the
first page to the last answer, the person typing without a pause. At a phone each field is tapped, and no key leads to
the next one. The demo is copied; beside it a neutral collection of 300 animals, see many_records.py, tells how long a
page and a save take there. Measured, never asserted.
"""

import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from many_records import write_collection
from playwright.sync_api import Browser, Page, sync_playwright

REPOSITORY = Path(__file__).parents[2]
SITEGEN = [sys.executable, "-m", "sitegen"]
SIZES = {"phone": (390, 844), "desktop": (1280, 800)}
MANY = 12


@dataclass
class Hand:
    """Somebody at a page; counts what is typed and clicked."""

    page: Page
    keys: int = 0
    clicks: int = 0

    def click(self, selector: str) -> None:
        self.page.locator(selector).first.click()
        self.clicks += 1

    def type(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.keys += len(text)

    def press(self, key: str) -> None:
        self.page.keyboard.press(key)
        self.keys += 1

    def wait_until(self, expression: str) -> None:
        while not self.page.evaluate(expression):  # the desk's own policy forbids Playwright's way of waiting
            time.sleep(0.01)


Task = Callable[[Hand, bool], None]
"""Does a task from the first page on; True at a phone."""


def weights(hand: Hand, by_thumb: bool) -> None:
    hand.click('a[href="/round"]')
    for number in range(1, MANY + 1):
        if by_thumb:
            hand.click(f"#w{number}")
        last = hand.page.locator(".seen").nth(number - 1).locator(".last p").first.inner_text()
        hand.type(f"{int(last.split(' g ')[0]) + 2}")
        if not by_thumb:
            hand.press("Enter")
    if by_thumb:
        hand.click("h1")  # the field is left
    hand.wait_until(saved(MANY))


def meals(hand: Hand, by_thumb: bool) -> None:
    hand.click('a[href="/round"]')
    rows = hand.page.locator(".seen:has(.again)")
    for number in range(MANY):
        rows.nth(number).locator(".again label").click()
        hand.clicks += 1
    hand.wait_until(saved(MANY))


def sheds(hand: Hand, by_thumb: bool) -> None:
    hand.click('a[href="/round"]')
    for number in range(3):
        hand.page.locator(".shed label").nth(number).click()
        hand.clicks += 1
    hand.wait_until(saved(3))


def saved(count: int) -> str:
    return (
        f"[...document.querySelectorAll('output')].filter(e => e.textContent.startsWith('Saved, ')).length >= {count}"
    )


TASKS: dict[str, tuple[Task, int, Callable[[str], list[str]]]] = {
    "12 weights": (weights, MANY, lambda name: ["add", "weight", name, "402 g"]),
    "12 meals": (meals, MANY, lambda name: ["add", "meal", name, "adult mouse"]),
    "3 sheds": (sheds, 3, lambda name: ["add", "event", name, "shed"]),
}
"""Each with how many commands do it, and such a command."""


def by_commands(folder: Path, count: int, words: Callable[[str], list[str]]) -> str:
    keys, begun = 0, time.perf_counter()
    names = sorted(path.parent.name for path in folder.glob("content/animals/*/animal.yaml"))[:count]
    for name in names:
        typed = " ".join(["sitegen", *(f'"{each}"' if " " in each else each for each in words(name))])
        keys += len(typed) + 1
        subprocess.run([*SITEGEN, *words(name)], cwd=folder, check=True, capture_output=True)
    return f"{len(names)} commands, {keys} keystrokes, {time.perf_counter() - begun:.1f} s"


def at_the_desk(browser: Browser, folder: Path, task: Task, size: str) -> str:
    with desk(folder) as address:
        page = browser.new_page(viewport=dict(zip(("width", "height"), SIZES[size], strict=True)))  # type: ignore[arg-type]
        page.goto(address)
        hand, begun = Hand(page), time.perf_counter()
        task(hand, size == "phone")
        took = time.perf_counter() - begun
        page.close()
    return f"{hand.clicks} clicks, {hand.keys} keystrokes, {took:.1f} s"


class desk:  # noqa: N801 - used as a word of the language
    """A desk in a process of its own, as its users run it."""

    def __init__(self, folder: Path) -> None:
        self.command = [*SITEGEN, "desk", "--port", "0", "--content", str(folder / "content")]

    def __enter__(self) -> str:
        self.process = subprocess.Popen(self.command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        assert self.process.stdout is not None
        told = self.process.stdout.readline().split()
        return next(word for word in told if word.startswith("http")).removesuffix("/")

    def __exit__(self, *trouble: object) -> None:
        self.process.terminate()
        self.process.wait(30)


def of_many(browser: Browser, folder: Path, n_animals: int) -> None:
    """How long pages and a save take in a large collection."""
    write_collection(folder / "content", n_animals)
    with desk(folder) as address:
        page = browser.new_page()
        for path in ("/", "/round", "/round?what=weights", "/diary", "/animals", "/about"):
            page.goto(address + path)
            times = []
            for _ in range(5):
                begun = time.perf_counter()
                assert page.request.get(address + path).ok
                times.append(1000 * (time.perf_counter() - begun))
            print(f"{n_animals} animals, {path}: {min(times):.0f} ms from the desk")
        begun = time.perf_counter()
        page.goto(address + "/round")
        print(f"{n_animals} animals, /round: {1000 * (time.perf_counter() - begun):.0f} ms until it is shown")
        hand = Hand(page)
        for number in range(1, 6):
            begun = time.perf_counter()
            hand.click(f"#w{number}")
            hand.type("350")
            hand.press("Enter")
            hand.wait_until(f"document.querySelectorAll('output')[{number - 1}].textContent.match(/^(Saved, |350)/)")
            print(f"{n_animals} animals, a save: {1000 * (time.perf_counter() - begun):.0f} ms")


def main() -> None:
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as name:
        chromium = shutil.which("chromium") or shutil.which("chromium-browser")
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        for what, (task, count, words) in TASKS.items():
            folders = [Path(name) / f"{what} {number}" for number in range(1 + len(SIZES))]
            for folder in folders:
                shutil.copytree(REPOSITORY / "content", folder / "content")
            print(f"{what}, by commands: {by_commands(folders[0], count, words)}")
            for size, folder in zip(SIZES, folders[1:], strict=True):
                print(f"{what}, {size}: {at_the_desk(browser, folder, task, size)}")
        of_many(browser, Path(name) / "many", int(sys.argv[1]) if len(sys.argv) > 1 else 300)
        browser.close()


if __name__ == "__main__":
    main()
