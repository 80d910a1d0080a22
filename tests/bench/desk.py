"""What a keeper's daily tasks take, by commands and at the desk: ``python tests/bench/desk.py [ANIMALS]``.

Keystrokes are signs typed, with Enter; clicks are taps of a thumb too. Seconds are what the machine takes: from the
first page to the last answer, the person typing without a pause. At a phone each field is tapped, and no key leads to
the next one. What had no command is done by hand: the file opened in an editor by its name, what is typed and erased,
four keys to save and leave, and a check; cursor keys are not counted. The demo is copied; beside it a neutral
collection of 300 animals, see many_records.py, tells how long a page and a save take there. Measured, never asserted.
"""

import os
import re
import shutil
import statistics
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
MANY, OFFERED = 12, 15
LITTER = "2026-fennel-cinnabar"


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

    def to(self, selector: str, by_thumb: bool) -> None:
        """Go to a field: a thumb taps it; the first one of a page is clicked, others are led to by the tab key."""
        if by_thumb or not self.page.evaluate("document.activeElement.matches('main :is(input, select)')"):
            self.click(selector)
            self.page.locator(selector).first.select_text() if not by_thumb else None
            return
        while not self.page.evaluate("selector => document.activeElement.matches(selector)", selector):
            self.press("Tab")

    def wait_until(self, expression: str) -> None:
        deadline = time.perf_counter() + 120
        while not self.page.evaluate(expression):  # the desk's own policy forbids Playwright's way of waiting
            time.sleep(0.01)
            assert time.perf_counter() < deadline, self.page.locator("main").inner_text()


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


def wrong_sex(hand: Hand, by_thumb: bool) -> None:
    hand.click('a[href="/litters"]')
    hand.click(f'a[href="/litters/{LITTER}"]')
    hand.page.locator('[name="04.sex"]').focus()
    hand.page.locator('[name="04.sex"]').select_option("female")
    hand.clicks += 1 + by_thumb
    hand.keys += not by_thumb
    hand.click("h1")  # the row is left
    hand.wait_until("document.querySelector('#no-04 [data-follows]').textContent.includes('sex female')")


def slip(hand: Hand, by_thumb: bool) -> None:
    hand.click('a[href="/changes"]')
    hand.click("form button")
    hand.page.locator(".said", has_text="Taken back").wait_for()


def project(hand: Hand, by_thumb: bool) -> None:
    for link in ("/projects", "/projects/new", "?species=corn-snake"):
        hand.click(f'a[href="{link}"]')
    hand.to('main [name="name"]', by_thumb)
    hand.type("Grey ladder")
    for look in ("amel", "motley"):
        hand.to(f'main [name="goal"][value="{look}"]', by_thumb)
        if not by_thumb:
            hand.press("Space")
    if by_thumb:
        hand.click("button.first")
    else:
        hand.press("Enter")
    hand.page.locator("h1", has_text="Grey ladder").wait_for()


def offers(hand: Hand, by_thumb: bool) -> None:
    hand.click('a[href="/offers"]')
    for number in range(1, OFFERED + 1):
        price, state = hand.page.locator(f"#p{number}"), hand.page.locator(f"#s{number}")
        hand.to(f"#p{number}", by_thumb)
        for _ in price.input_value() if by_thumb else "":
            hand.press("Backspace")
        hand.type("155")
        wanted = "available" if state.input_value() == "on hold" else "on hold"
        if by_thumb:
            state.focus()
            state.select_option(wanted)
            hand.clicks += 2
        else:
            hand.to(f"#s{number}", by_thumb)
            hand.press(wanted[0])
    hand.click("h1")  # the last field is left
    hand.wait_until(
        f"[...document.querySelectorAll('[data-told]')].filter(e => /state/.test(e.innerText)).length >= {OFFERED}"
    )


@dataclass(frozen=True)
class ByHand:
    """A file in which something is found, erased and typed instead; an empty ``found`` is a file that is new."""

    path: str
    found: str
    erased: str
    typed: str

    def do(self, folder: Path) -> int:
        file = folder / "content" / self.path
        file.parent.mkdir(exist_ok=True)
        text = file.read_text() if self.found else ""
        assert self.found in text
        file.write_text(
            text.replace(self.found, self.found.replace(self.erased, self.typed), 1) if text else self.typed
        )
        return len(f"nano content/{self.path}") + 1 + len(self.erased) + len(self.typed) + 4


Step = list[str] | ByHand
NO_04 = "sex: male\n    shows: [caramel]\n    offer: {price: 95"
TO_FEMALE = ByHand(f"litters/{LITTER}/litter.yaml", NO_04, "male", "female")
BACK = ByHand(f"litters/{LITTER}/litter.yaml", NO_04.replace("male", "female", 1), "female", "male")
LADDER = "name: Grey ladder\nspecies: corn-snake\nstate: planned\ngoal: {shows: [amel, motley]}\n"


def each_animal(count: int, *words: str) -> Callable[[Path], list[Step]]:
    """Those words of so many animals, whose name stands for ``NAME``."""

    def steps(folder: Path) -> list[Step]:
        names = sorted(path.parent.name for path in folder.glob("content/animals/*/animal.yaml"))[:count]
        return [[name if word == "NAME" else word for word in words] for name in names]

    return steps


def each_offer(folder: Path) -> list[Step]:
    found = []
    for file in sorted(folder.glob("content/litters/*/litter.yaml")):
        numbers = re.findall(r'^  "(\d+)":', file.read_text(), re.MULTILINE)
        found += [f"{file.parent.name}/{number}" for number in numbers]
    return [["set", name, "on-hold", "--price", "155"] for name in found[:OFFERED]]


TASKS: dict[str, tuple[Task, Callable[[Path], list[Step]]]] = {
    "12 weights": (weights, each_animal(MANY, "add", "weight", "NAME", "402 g")),
    "12 meals": (meals, each_animal(MANY, "add", "meal", "NAME", "adult mouse")),
    "3 sheds": (sheds, each_animal(3, "add", "event", "NAME", "shed")),
    "a wrong sex": (wrong_sex, lambda folder: [TO_FEMALE]),
    "a slip taken back": (slip, lambda folder: [BACK]),
    "a project": (project, lambda folder: [ByHand("projects/grey-ladder/project.yaml", "", "", LADDER)]),
    "price and state of 15 offers": (offers, each_offer),
}
"""Each with what does the same without the desk."""


def by_commands(folder: Path, steps: list[Step]) -> str:
    keys, commands, begun = 0, 0, time.perf_counter()
    for step in steps:
        words = ["check"] if isinstance(step, ByHand) else step
        keys += step.do(folder) if isinstance(step, ByHand) else 0
        keys += len(" ".join(["sitegen", *(f'"{each}"' if " " in each else each for each in words)])) + 1
        commands += 1 + isinstance(step, ByHand)
        done = subprocess.run([*SITEGEN, *words], cwd=folder, check=False, capture_output=True, text=True)
        assert not done.returncode, done.stderr
    return f"{commands} commands, {keys} keystrokes, {time.perf_counter() - begun:.1f} s"


def at_the_desk(browser: Browser, folder: Path, task: Task, size: str) -> str:
    with desk(folder) as address:
        page = browser.new_page(viewport=dict(zip(("width", "height"), SIZES[size], strict=True)))  # type: ignore[arg-type]
        page.goto(address)
        if task is slip:
            wrong_sex(Hand(page), False)
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
        saves, hand = [], Hand(page)
        for number in range(1, 21):
            begun = time.perf_counter()
            hand.click(f"#w{number}")
            hand.type("350")
            hand.press("Enter")
            hand.wait_until(f"document.querySelectorAll('output')[{number - 1}].textContent.match(/^(Saved, |350)/)")
            saves.append(1000 * (time.perf_counter() - begun))
        print(f"{n_animals} animals, a save: {statistics.median(saves):.0f} ms, worst {max(saves):.0f}")


def main() -> None:
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as name:
        os.environ["SITEGEN_UNDO"] = f"{name}/undo"
        chromium = shutil.which("chromium") or shutil.which("chromium-browser")
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        for what, (task, steps) in TASKS.items():
            folders = [Path(name) / f"{what} {number}" for number in range(1 + len(SIZES))]
            for folder in folders:
                shutil.copytree(REPOSITORY / "content", folder / "content")
            if task is slip:
                TO_FEMALE.do(folders[0])
            print(f"{what}, by commands: {by_commands(folders[0], steps(folders[0]))}")
            for size, folder in zip(SIZES, folders[1:], strict=True):
                print(f"{what}, {size}: {at_the_desk(browser, folder, task, size)}")
        of_many(browser, Path(name) / "many", int(sys.argv[1]) if len(sys.argv) > 1 else 300)
        browser.close()


if __name__ == "__main__":
    main()
