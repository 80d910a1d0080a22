"""Milliseconds from saving a record to the changed page: ``python tests/bench/preview.py [ANIMALS ...]``.

The preview runs as its users run it, in a process of its own; a client waits for the change as a browser does, then
asks for the page. The collections are neutral, see many_records.py, and have no photographs. Medians over 20 saves.
Goals: 60 ms at 1,000 animals (limit 150), 120 ms at 10,000 (limit 300). Measured, never asserted.
"""

import http.client
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from many_records import write_collection

SIZES = (100, 1_000)
SAVES = 20
FOUNDER, PAGE = "animals/f00000/animal.yaml", "/animals/f00000.html"


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
    """Milliseconds of each save. ``{n}`` in the change is another number each time, and shows in the page."""
    file, times = content / path, []
    plain = file.read_text("utf-8")
    for number in range(SAVES):
        time.sleep(0.3)
        text = re.sub(change[0], change[1].format(n=400 + number), plain)
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


CHANGES = (
    ("a weight", FOUNDER, ("weights:\n", "weights:\n  2021-01-01: {n} g\n"), "{n}", PAGE),
    ("a text", FOUNDER, ("settled well", "settled well {n}"), "settled well {n}", PAGE),
    ("a name", FOUNDER, ("name: Name f00000", "name: Name {n}"), "Name {n}", PAGE),
    ("evidence", FOUNDER, ("alder: certain(.*)", r"alder: {n}/1000\1\nline: {n}"), "{n}", PAGE),
)


def main() -> None:
    sizes = [int(size) for size in sys.argv[1:]] or SIZES
    print(f"{'animals':>8}  {'files':>6}  {'first':>7}  change      median    best   worst  ms")
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
    first = None
    for what, path, change, shown, page in CHANGES:
        client.page = page
        while first is None:
            if b"data-state" in client.get(page):
                first = time.perf_counter() - start
            else:
                time.sleep(0.05)
        client.load()
        times = measure(client, content, path, change, shown)
        print(f"{n_animals:8}  {n_files:6}  {first:6.1f}s  {what:10} {statistics.median(times):7.0f} {min(times):7.0f}"
              f" {max(times):7.0f}", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
