"""Milliseconds from saving a record to the changed page: ``python tests/bench/preview.py [ANIMALS ...]``.

The preview runs as its users run it, in a process of its own; a client waits for the change as a browser does, then
asks for the page; the first save waits until the site is there. The collections are neutral, see many_records.py, and
have no photographs. Medians over 20 saves. Goals: 60 ms at 1,000 animals (limit 150), 120 ms at 10,000 (limit 300).
Measured, never asserted.

Evidence is changed in three ways: the stated chance of the oldest founder, proven by its young to carry the gene;
that of an early founder whose answer is open, so that those of its descendants change with it; and for which gene a
young of the last litter but one was not surely judged. With each a text in the same record changes, by which the new
page is known.
"""

import http.client
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from many_records import RECESSIVE, write_collection

SIZES = (100, 1_000)
SAVES = 20
FOUNDER, PAGE = "animals/f00000/animal.yaml", "/animals/f00000.html"
Change = tuple[str, str, tuple[str, str], str, str]
"""What it is, the file, what is replaced by what, what shows on the page by then, the page."""


class Client:
    """A browser that has one page open."""

    def __init__(self, port: int, page: str) -> None:
        self.port = port
        self.page = page
        self.tag = ""

    def get(self, path: str) -> bytes:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=600)
        connection.request("GET", path)
        body = connection.getresponse().read()
        connection.close()
        return body

    def load(self) -> bytes:
        html = self.get(self.page)
        self.tag = re.search(rb'data-state="([0-9a-f-]+)"', html)[1].decode()
        return html

    def wait(self) -> None:
        while b'"changed"' not in self.get(f"/_preview/after/{self.tag}.js"):
            pass


def measure(client: Client, content: Path, path: str, change: tuple[str, str], shown: str) -> list[float]:
    """Milliseconds of each save.

    ``{n}`` in the change is another number each time, and shows in the page; ``{gene}`` is another gene.
    """
    file, times = content / path, []
    plain = file.read_text("utf-8")
    for number in range(SAVES):
        time.sleep(0.3)
        text = re.sub(change[0], change[1].format(n=400 + number, gene=RECESSIVE[number % 3]), plain)
        assert text != plain
        html = b""
        start = time.perf_counter()
        file.write_text(text, "utf-8")
        while shown.format(n=400 + number).encode() not in html:
            client.wait()
            html = client.load()
        times.append(1000 * (time.perf_counter() - start))
    file.write_text(plain, "utf-8")
    client.wait()
    client.load()
    return times


CHANGES: tuple[Change, ...] = (
    ("a weight", FOUNDER, ("weights:\n", "weights:\n  2021-01-01: {n} g\n"), "{n}", PAGE),
    ("a text", FOUNDER, ("settled well", "settled well {n}"), "settled well {n}", PAGE),
    ("a name", FOUNDER, ("name: Name f00000", "name: Name {n}"), "Name {n}", PAGE),
    (
        "evidence: proven",
        FOUNDER,
        (r"(?s)alder: certain(.*)settled well", r"alder: {n}/1000\1settled well {n}"),
        "settled well {n}",
        PAGE,
    ),
)


def evidence(content: Path) -> tuple[Change, Change]:
    """A founder whose stated chance is open, and a young of the last litter but one."""
    open_, parents = (
        r"stated: \{(\w+): \d+%",
        {word for path in content.glob("litters/*/*") for word in parents_in(path)},
    )
    founder = next(
        path
        for path in sorted(content.glob("animals/*/animal.yaml"))
        if re.search(open_, path.read_text("utf-8")) and path.parent.name in parents
    )
    litter = sorted(content.glob("litters/*/litter.yaml"))[-2]
    name, young = founder.parent.name, litter.parent.name
    number = re.search(r'"(\d\d)": \{sex: \w+, shows: \[\]', litter.read_text("utf-8"))[1]
    stated = r"stated: {{\1: {n}/1000\2settled well {n}"
    return (
        (
            "evidence: open",
            f"animals/{name}/animal.yaml",
            (rf"(?s){open_}(.*)settled well", stated),
            "settled well {n}",
            f"/animals/{name}.html",
        ),
        (
            "evidence: young",
            f"litters/{young}/litter.yaml",
            (
                rf'"{number}": \{{sex: (\w+), shows: \[\]',
                f'"{number}": {{{{sex: \\1, shows: [], unsure: [{{gene}}], about: Seen {{n}}',
            ),
            "Seen {n}",
            f"/litters/{young}/{number}.html",
        ),
    )


def parents_in(litter: Path) -> list[str]:
    return re.findall(r"(?m)^(?:dam|sire): (\S+)", litter.read_text("utf-8"))


def main() -> None:
    sizes = [int(size) for size in sys.argv[1:]] or SIZES
    print(f"{'animals':>8}  {'files':>6}  {'first':>7}  change            median    best   worst  ms")
    for size in sizes:
        with tempfile.TemporaryDirectory() as name:
            content = write_collection(Path(name) / "content", size)
            command = [sys.executable, "-m", "sitegen", "preview", "--port", "0", "--content", str(content),
                       "--output", str(Path(name) / "output")]  # fmt: skip
            with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as preview:
                try:
                    start = time.perf_counter()
                    port = int(re.search(rb":(\d+)/", preview.stdout.readline())[1])
                    report(content, Client(port, ""), start)
                finally:
                    preview.kill()


def report(content: Path, client: Client, start: float) -> None:
    n_files = sum(1 for path in content.rglob("*") if path.is_file())
    n_animals = sum(text.count("sex:") for text in (p.read_text() for p in content.rglob("*.yaml")))
    first = sound_after(client, start)
    for what, path, change, shown, page in (*CHANGES, *evidence(content)):
        client.page = page
        client.load()
        times = measure(client, content, path, change, shown)
        print(f"{n_animals:8}  {n_files:6}  {first:6.1f}s  {what:16} {statistics.median(times):7.0f} {min(times):7.0f}"
              f" {max(times):7.0f}", flush=True)  # fmt: skip


def sound_after(client: Client, start: float) -> float:
    """Seconds until a page of the site is served, and no page of trouble in its place."""
    client.page = PAGE
    while True:
        html = client.get(PAGE)
        if b"data-state" in html and b"data-trouble" not in html and b"Name f00000" in html:
            return time.perf_counter() - start
        time.sleep(0.05)


if __name__ == "__main__":
    main()
