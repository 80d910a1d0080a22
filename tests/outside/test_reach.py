"""What other programs read of the built demo, held against the standards and a reader of feeds."""

import json
import re
from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import feedparser
import jsonschema
import pytest
from helpers.pages import ReadPage
from helpers.schema_org_terms import ITEM_AVAILABILITY, PROPERTIES
from helpers.small_site import material
from lxml import etree
from PIL import Image

from sitegen.content.collection import latest_date
from sitegen.evidence.answers import read_known
from sitegen.evidence.claims import claims_of
from sitegen.evidence.reasons import reasons
from sitegen.site.share import every_share

ATOM = "{http://www.w3.org/2005/Atom}"
SITE = "https://quillmoor.example/"
HERE = Path(__file__).parent

# How often each element stands. Source: RFC 4287, sections 4.1.1 and 4.1.2 ("MUST contain exactly one", "MUST NOT
# contain more than one"; a feed without an author needs one in every entry).
FEED_ONCE = ("id", "title", "updated", "author")
FEED_AT_MOST_ONCE = ("generator", "icon", "logo", "rights", "subtitle")
ENTRY_ONCE = ("id", "title", "updated")
ENTRY_AT_MOST_ONCE = ("content", "published", "rights", "source", "summary")
KNOWN = {*FEED_ONCE, *FEED_AT_MOST_ONCE, *ENTRY_ONCE, *ENTRY_AT_MOST_ONCE, "link", "category", "contributor", "entry"}
# Source: RFC 3339, section 5.6, with the capitals that RFC 4287, section 3.3, asks for.
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)")


def feeds(demo: Path) -> list[Path]:
    found = [demo / "available.xml", demo / "journal.xml", *sorted((demo / "projects").glob("*.xml"))]
    assert len(found) == 5
    return found


def page_of(demo: Path, link: str) -> str:
    """The HTML of the page that a public address leads to; its anchor is checked to be there."""
    assert link.startswith(SITE)
    path, _, fragment = link.removeprefix(SITE).partition("#")
    html = (demo / (unquote(path) or "index.html")).read_text("utf-8")
    assert not fragment or unquote(fragment) in ReadPage(html).ids, link
    return html


def test_feeds_hold_what_the_standard_asks_for(demo: Path) -> None:
    for path in feeds(demo):
        feed = etree.fromstring(path.read_bytes())
        assert feed.tag == f"{ATOM}feed"
        of_feed = Counter(child.tag.removeprefix(ATOM) for child in feed)
        assert set(of_feed) <= KNOWN
        assert [of_feed[name] for name in FEED_ONCE] == [1] * len(FEED_ONCE)
        assert all(of_feed[name] <= 1 for name in FEED_AT_MOST_ONCE)
        assert feed.findtext(f"{ATOM}author/{ATOM}name")
        own = [link.get("href") for link in feed.findall(f"{ATOM}link") if link.get("rel") == "self"]
        assert own == [SITE + path.relative_to(demo).as_posix()]
        for entry in feed.findall(f"{ATOM}entry"):
            of_entry = Counter(child.tag.removeprefix(ATOM) for child in entry)
            assert set(of_entry) <= KNOWN - {"entry", "subtitle"}
            assert [of_entry[name] for name in ENTRY_ONCE] == [1] * len(ENTRY_ONCE)
            assert all(of_entry[name] <= 1 for name in ENTRY_AT_MOST_ONCE)
            # Section 4.1.3.3: escaped HTML has no child elements.
            content = entry.find(f"{ATOM}content")
            assert content is not None
            assert content.get("type") == "html"
            assert len(content) == 0
        # Section 4.2.6: ids are IRIs, and no two entries of one feed that tell different things share one.
        ids = [element.text or "" for element in feed.iter(f"{ATOM}id")]
        assert len(ids) == len(set(ids))
        assert all(re.fullmatch(r"urn:uuid:[0-9a-f-]{36}", each) for each in ids)
        for name in ("updated", "published"):
            moments = [element.text or "" for element in feed.iter(f"{ATOM}{name}")]
            assert moments
            assert all(MOMENT.fullmatch(moment) for moment in moments)
        told = [entry.findtext(f"{ATOM}updated") or "" for entry in feed.findall(f"{ATOM}entry")]
        assert told == sorted(told, reverse=True)
        assert feed.findtext(f"{ATOM}updated") == told[0]


def test_feeds_are_what_their_schema_says(demo: Path) -> None:
    schema = etree.RelaxNG(etree.parse(HERE / "atom.rng"))
    for path in feeds(demo):
        feed = etree.fromstring(path.read_bytes())
        schema.assertValid(feed)
        # Appendix B, the rules beside the grammar: an entry without an author needs one in its feed, and one without
        # content a link to its page; no two links of one kind and type.
        assert feed.find(f"{ATOM}author") is not None
        for held in (feed, *feed.iter(f"{ATOM}entry")):
            links = Counter((link.get("rel"), link.get("type")) for link in held.findall(f"{ATOM}link"))
            assert links["alternate", "text/html"] == 1
            assert set(links.values()) == {1}
    for spoil in ("id", "title", "updated"):
        spoilt = etree.fromstring((demo / "journal.xml").read_bytes())
        spoilt.remove(spoilt.find(f"{ATOM}{spoil}"))
        assert not schema.validate(spoilt), "the schema can refuse"


def test_a_reader_of_feeds_finds_nothing_wrong(demo: Path) -> None:
    for path in feeds(demo):
        read = feedparser.parse(path.read_bytes())
        assert not read.bozo, read.get("bozo_exception")
        assert read.version == "atom10"
        assert len(read.entries) >= 2
        for entry in read.entries:
            html = page_of(demo, entry.link)
            assert entry.title
            assert entry.author_detail.name if "author_detail" in entry else read.feed.author == "Quillmoor Snakes"
            # What the reader leaves of it after taking out what might run is all of it.
            assert re.sub(r"\s+", "", ReadPage(f"<div>{entry.content[0].value}</div>").text)
            assert "<title>" in html
            for picture in re.findall(r'<img[^>]* src="([^"]+)"', entry.content[0].value):
                assert (demo / picture.removeprefix(SITE)).is_file()


def test_every_feed_is_found_from_the_pages(demo: Path) -> None:
    for path in feeds(demo):
        address = path.relative_to(demo).as_posix()
        page = demo / (address.replace(".xml", ".html"))
        links = [facts for facts in ReadPage(page.read_text("utf-8")).of("link") if facts.get("rel") == "alternate"]
        assert path.name in [link["href"].rpartition("/")[2] for link in links]
        assert all(link["type"] == "application/atom+xml" and link["title"] for link in links)


def test_the_site_map_is_what_its_schema_says_and_names_pages_that_are_there(demo: Path) -> None:
    schema = etree.XMLSchema(etree.parse(HERE / "sitemap.xsd"))
    read = etree.fromstring((demo / "sitemap.xml").read_bytes())
    schema.assertValid(read)
    facts = json.loads((demo / "data/collection.json").read_text("utf-8"))
    space = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
    days = {}
    for url in read:
        link = url.findtext(f"{space}loc") or ""
        canonical = [f["href"] for f in ReadPage(page_of(demo, link)).of("link") if f.get("rel") == "canonical"]
        assert canonical == [link]
        days[link.removeprefix(SITE)] = url.findtext(f"{space}lastmod")
    known = [date.fromisoformat(day) for day in days.values() if day]
    assert max(known) <= date.fromisoformat(facts["as_of"])
    # Young that were last weighed, fed and photographed in different years have different days.
    assert len(set(known)) > 10
    assert days["about.html"] is None  # nobody wrote down when


def nodes(value: object) -> Iterator[dict[str, Any]]:
    """Every object of a JSON-LD text that has a type."""
    if isinstance(value, list):
        for each in value:
            yield from nodes(each)
    if isinstance(value, dict):
        if "@type" in value:
            yield value
        for each in value.values():
            yield from nodes(each)


def blocks(demo: Path) -> dict[str, Any]:
    found = {}
    for path in sorted(demo.rglob("*.html")):
        scripts = ReadPage(path.read_text("utf-8")).scripts
        texts = [text for facts, text in scripts if facts.get("type") == "application/ld+json"]
        assert len(texts) <= 1, path
        if texts:
            found[path.relative_to(demo).as_posix()] = json.loads(texts[0])
    return found


def test_structured_data_uses_terms_of_the_vocabulary(demo: Path) -> None:
    found = blocks(demo)
    assert len(found) > 100
    types = Counter()
    for address, block in found.items():
        assert block["@context"] == "https://schema.org"
        for node in nodes(block):
            types[node["@type"]] += 1
            own = {key for key in node if not key.startswith("@")}
            assert own <= PROPERTIES[node["@type"]], (address, node["@type"], own - PROPERTIES[node["@type"]])
    assert set(types) == set(PROPERTIES), "a type that is not used, or one that is not in the table"


def test_offers_say_what_the_pages_say(demo: Path) -> None:
    facts = json.loads((demo / "data/collection.json").read_text("utf-8"))
    by_page = {animal["page"]: animal for animal in facts["animals"]}
    states = Counter()
    for address, block in blocks(demo).items():
        for product in nodes(block):
            if product["@type"] != "Product":
                continue
            offer, recorded = product["offers"], by_page[address]["offer"]
            states[recorded["state"]] += 1
            assert offer.get("availability") == recorded["availability"]
            assert offer.get("price") == recorded["price"]
            assert offer.get("priceCurrency") == recorded["currency"]
            if "availability" in offer:
                assert offer["availability"].removeprefix("https://schema.org/") in ITEM_AVAILABILITY
            if "price" in offer:
                # Source: schema.org, price: digits and a full stop; priceCurrency: ISO 4217.
                assert re.fullmatch(r"\d+(\.\d+)?", offer["price"])
                assert re.fullmatch(r"[A-Z]{3}", offer["priceCurrency"])
            assert offer["url"] == product["url"] == SITE + address
    assert states.keys() == {"available", "on hold", "sold"}


def test_crumbs_lead_to_pages(demo: Path) -> None:
    for address, block in blocks(demo).items():
        for crumbs in nodes(block):
            if crumbs["@type"] == "BreadcrumbList":
                items = crumbs["itemListElement"]
                assert [item["position"] for item in items] == list(range(1, len(items) + 1))
                for item in items:
                    page_of(demo, item["item"])
                assert items[-1]["item"] == SITE + address


def test_cards_are_whole_and_their_pictures_have_the_size_that_is_told(demo: Path) -> None:
    """Source: ogp.me, basic metadata: title, type, image and url on every page that has a card."""
    sizes = Counter()
    for path in sorted(demo.rglob("*.html")):
        metas = ReadPage(path.read_text("utf-8")).of("meta")
        card = {facts["property"].removeprefix("og:"): facts["content"] for facts in metas if "property" in facts}
        if not card or "image" not in card:
            continue
        assert {"title", "type", "url", "image:alt"} <= set(card), path
        with Image.open(demo / card["image"].removeprefix(SITE)) as picture:
            assert picture.size == (int(card["image:width"]), int(card["image:height"])), path
            sizes[picture.size] += 1
    assert sizes[1200, 630] > 50


@pytest.mark.parametrize("name", ["collection", "paper"])
def test_files_of_data_are_what_the_schema_beside_them_says(demo: Path, name: str) -> None:
    schema = json.loads((demo / f"data/{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    files = [demo / "data/collection.json"] if name == "collection" else sorted(demo.rglob("*-paper.json"))
    assert files
    for path in files:
        jsonschema.Draft202012Validator(schema).validate(json.loads(path.read_text("utf-8")))
    if name == "collection":
        told = json.loads(files[0].read_text("utf-8"))
        assert (demo / "data" / told["$schema"]).is_file()
        datetime.fromisoformat(told["as_of"])


def test_nothing_private_reaches_anybody(demo: Path) -> None:
    """Every private word of the demo begins alike; share pictures are looked at before they become pixels."""
    content = HERE.parent.parent / "content"
    planted = {
        word for path in content.rglob("*.yaml") for word in re.findall(r"zq-private-[\w-]+", path.read_text("utf-8"))
    }
    assert len(planted) > 5
    for path in demo.rglob("*"):
        if path.is_file():
            assert b"zq-private" not in path.read_bytes(), path
    known, _findings = read_known(content)
    assert known is not None
    as_of = latest_date(known.collection)
    claims = claims_of(known.collection, known.answers, partial(reasons, known.asked), as_of)
    cards = every_share(material(known.collection, known.answers, claims, {}, as_of, changes={}))
    assert len(cards) > 50
    for card in cards.values():
        assert "zq-private" not in str(card)
