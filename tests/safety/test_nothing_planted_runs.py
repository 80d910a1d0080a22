"""HTML, scripts, template syntax and Markdown tricks in every free text of a collection stay text."""

import html
import json
import os
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from contextlib import suppress
from html.parser import HTMLParser
from pathlib import Path

import pytest
from helpers.from_text import write_files
from playwright.sync_api import Error, sync_playwright

from sitegen.build import Order, build

CHROMIUM = Path("/usr/bin/chromium")
SCHEMES = {"", "http", "https", "mailto", "tel"}
DATA = {"application/json", "application/ld+json"}

PRIVATE = "zq-planted-private"
"""Stands in every private field of the collection, with a number behind it."""

EVIL = (
    '<script>window.planted=1</script><img src=x onerror="window.planted=2"><a href="javascript:window.planted=3">a</a>'
    "{{ 7*7 }}{% for x in y %}</title></style></textarea>-->]]>&lt;script&gt;"
)
"""HTML, a handler, a script address, template syntax, and the ends of everything that can be ended."""

MARKDOWN = (
    "[a](javascript:window.planted=4) ![x](data:text/html,<script>window.planted=5</script>) "
    "[b](vbscript:x) [c](//evil.example/x) <https://evil.example/?q='onmouseover=1> "
    '[d](https://evil.example/ "onmouseover=window.planted=6")\n\n<iframe src=https://evil.example></iframe>\n\n'
    "&#106;avascript:window.planted=7 [e](&#106;avascript:window.planted=8) [f](java\tscript:window.planted=9)\n"
)


def quoted(text: str) -> str:
    """As a double-quoted YAML scalar."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t") + '"'


def hostile() -> str:
    """The files of the collection as one text."""
    evil, marked = quoted(EVIL), quoted(EVIL + "\n\n" + MARKDOWN)
    number = iter(range(1000))

    def private() -> str:
        return f"private: {{buyer: {PRIVATE}-{next(number)}, notes: {{deep: [{PRIVATE}-{next(number)}]}}}}"

    return f"""
=== site.yaml
name: {evil}
address: https://planted.example/sub/
tagline: {evil}
currency: GBP
contact: {{email: {evil}, phone: {evil}, place: {evil}, note: {evil}}}
cautions: [{evil}]
drawings: {evil}
about: {marked}
{private()}
=== species/corn-snake.yaml
name: {evil}
scientific: {evil}
births: eggs
sexes: ZW
litter_size: {{low: 1, usual: 6, high: 28}}
breeding_age: {{female: 30 months, male: 18 months}}
about: {marked}
cautions: [{evil}]
loci:
  amel: {{name: {evil}, inheritance: recessive, about: {marked}, welfare: {{text: {evil}, source: {evil}}}}}
  anery: {{name: anerythristic, inheritance: recessive}}
combinations:
  snow: [amel, anery]
=== animals/dam/animal.yaml
name: {evil}
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {{amel: certain}}
acquired: {{date: 2019-01-01, from: {evil}}}
markers: [{evil}]
line: {evil}
locality: {evil}
weights: {{2024-05-01: 310 g}}
meals: [{{date: 2024-05-01, what: {evil}}}]
tests: [{{locus: anery, result: +/+, laboratory: {evil}, date: 2024-02-01, document: {evil}}}]
about: {marked}
{private()}
=== animals/sire/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: []
stated: {{amel: 66%}}
{private()}
=== litters/2022-a/litter.yaml
name: {evil}
dam: dam
sire: sire
born: 2022-07-01
about: {marked}
young:
  "01":
    name: {evil}
    sex: female
    shows: []
    offer: {{price: 140, state: available, since: 2022-09-01}}
    {private()}
  "02": {{sex: male, shows: [amel], {private()}}}
{private()}
=== projects/evil/project.yaml
name: {evil}
species: corn-snake
goal: {{shows: [amel]}}
about: {marked}
welfare: {evil}
stages:
  first: {{season: 2022, dam: dam, sire: sire, litters: [2022-a], note: {evil}, keep: {{kept: {{shows: [amel]}}}}}}
decisions: [{{date: 2022-08-01, stage: first, text: {evil}}}]
alternatives:
  other: {{name: {evil}, about: {evil}, stages: {{first: {{season: 2030, dam: dam, sire: sire}}}}}}
{private()}
=== projects/evil/updates/2022-07-02-evil.md
# {EVIL}

{EVIL}

{MARKDOWN}
=== pages/about.md
# {EVIL}

{MARKDOWN}
"""


class Marks(HTMLParser):
    """Every start tag with its attributes."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_data(self, data: str) -> None:
        self.words.append(data)


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hostile collection, built."""
    folder = tmp_path_factory.mktemp("planted")
    content = write_files(folder / "content", hostile())
    built = build(Order(content, folder / "output", folder / "themes"))
    assert built.published is not None, [str(finding) for finding in built.findings]
    return folder / "output"


def pages(planted: Path) -> Iterator[tuple[Path, Marks]]:
    for path in sorted(planted.rglob("*.html")):
        yield path, Marks(path.read_text("utf-8"))


def test_the_planted_text_is_there_to_be_read(planted: Path) -> None:
    readable = [path.name for path, page in pages(planted) if any("window.planted=1" in words for words in page.words)]
    assert {"dam.html", "about.html", "evil.html", "index.html"} <= set(readable)


def test_no_script_no_handler_no_frame_stands_in_any_page(planted: Path) -> None:
    for path, page in pages(planted):
        for tag, attributes in page.tags:
            assert tag not in {"iframe", "object", "embed", "base"}, (path, tag)
            sends = (
                attributes.keys() & {"action", "formaction", "method", "target"} if tag in {"form", "button"} else ()
            )
            assert not sends, (path, attributes)
            assert not [name for name in attributes if name.startswith("on") or name in {"style", "srcdoc"}], path
            if tag == "script":
                own = re.fullmatch(r"(\.\./|/sub/)*assets/[\w.-]+\.js", attributes.get("src", ""))
                assert own or attributes.get("type") in DATA, (path, attributes)


def test_no_page_may_send_a_form_anywhere(planted: Path) -> None:
    for path, page in pages(planted):
        policies = [a["content"] for _tag, a in page.tags if a.get("http-equiv") == "Content-Security-Policy"]
        assert len(policies) == 1, path
        assert {"default-src 'none'", "form-action 'none'", "base-uri 'none'"} <= set(policies[0].split("; ")), path


def test_every_address_is_a_web_page_a_letter_or_a_call(planted: Path) -> None:
    for path, page in pages(planted):
        for tag, attributes in page.tags:
            for name in ("href", "src", "action", "formaction", "data", "xlink:href"):
                address = re.sub(r"[\x00-\x20]", "", attributes.get(name, "")).lower()
                scheme = match[1] if (match := re.match(r"([a-z][a-z0-9+.-]*):", address)) else ""
                tiny_picture = tag in {"img", "source"} and address.startswith("data:image/")
                assert scheme in SCHEMES or tiny_picture, (path, tag, address)


def test_template_syntax_in_a_record_is_text(planted: Path) -> None:
    for path, _page in pages(planted):
        text = html.unescape(path.read_text("utf-8"))
        assert "{{ 7*7 }}" in text or "7*7" not in text, path
        assert EVIL.split("{{")[0] + "49" not in text, path


def test_files_for_machines_are_well_formed_and_hold_it_as_data(planted: Path) -> None:
    found = 0
    for path in sorted(planted.rglob("*")):
        if path.suffix == ".json" and path.is_file():
            json.loads(path.read_text("utf-8"))
            found += 1
        elif path.suffix in {".xml", ".atom", ".svg"}:
            ET.fromstring(path.read_text("utf-8"))
            found += 1
    assert found >= 3
    for path, page in pages(planted):
        text = path.read_text("utf-8")
        for block in re.findall(r'<script type="application/(?:ld\+)?json"[^>]*>(.*?)</script>', text, re.DOTALL):
            assert "<" not in block, path
            json.loads(block)
        assert page.tags, path


def test_nothing_private_stands_in_any_file(planted: Path) -> None:
    for path in sorted(planted.rglob("*")):
        assert PRIVATE not in str(path)
        if path.is_file():
            assert PRIVATE.encode() not in path.read_bytes(), path


def test_no_path_of_this_machine_stands_in_any_file(planted: Path) -> None:
    folder = str(planted.parent).encode()
    for path in sorted(planted.rglob("*")):
        if path.is_file():
            content = path.read_bytes()
            assert folder not in content, path
            assert b"animal.yaml" not in content, path


@pytest.mark.browser
def test_in_a_real_browser_nothing_planted_runs(planted: Path) -> None:
    if not CHROMIUM.exists() and not os.environ.get("CI"):
        pytest.skip("there is no Chromium here")
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        page = browser.new_page()
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        dialogs: list[str] = []
        page.on("dialog", lambda dialog: dialogs.append(dialog.message))
        for path, _marks in pages(planted):
            page.goto(path.as_uri(), wait_until="load")
            assert page.evaluate("window.planted") is None, path
            for link in page.query_selector_all("a[href*='planted'], a[href*='evil']"):
                href = link.get_attribute("href") or ""
                assert href.startswith(("http", "mailto:", "tel:", "#")) or ":" not in href, (path, href)
        # the policy itself: a script put into a page, as a careless theme might, does not run
        with suppress(Error):
            page.evaluate("""() => {
                const script = document.createElement('script');
                script.textContent = 'window.planted = 10';
                document.body.append(script);
            }""")
        assert page.evaluate("window.planted") is None
        assert not dialogs
        assert not [url for url in asked if not url.startswith(("file:", "data:"))], asked
        browser.close()
