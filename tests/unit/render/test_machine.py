"""Files for machines."""

import json
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from helpers.small_site import small_material, whole_site

from sitegen.render.machine import data_block, machine_files, sitemap
from sitegen.site.facts import published_facts
from sitegen.site.material import folio
from sitegen.site.parts import Page

NAMESPACE = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def test_the_site_map_names_every_page_but_papers_and_the_one_for_what_is_missing() -> None:
    pages = whole_site(small_material())
    read = ElementTree.fromstring(sitemap(pages, "https://quillmoor.example/snakes/"))
    assert read.tag == f"{NAMESPACE}urlset"
    locations = [url.findtext(f"{NAMESPACE}loc") for url in read]
    assert locations == [
        f"https://quillmoor.example/snakes/{'' if page.address == 'index.html' else page.address}"
        for page in pages
        if page.address != "404.html" and not page.address.endswith("-paper.html")
    ]


def test_addresses_in_the_site_map_are_escaped() -> None:
    page = replace(whole_site(small_material())[0], address="animals/a&b ä.html", changed="2026-07-18")
    made = sitemap([page], "https://x.example/").decode()
    assert "<loc>https://x.example/animals/a%26b%20%C3%A4.html</loc><lastmod>2026-07-18</lastmod>" in made


def test_without_a_public_address_there_is_no_site_map_and_no_feed() -> None:
    material = small_material()
    records = material.collection
    plain = replace(material, collection=replace(records, site=replace(records.site, address="")))
    assert list(machine_files(plain, tuple)) == [
        "data/collection.json",
        "data/collection.schema.json",
        "robots.txt",
        "data/paper.schema.json",
        *(paper.replace(".html", ".json") for paper in folio(plain, "index.html").addresses.papers.values()),
    ]
    made = {address: make() for address, make in machine_files(material, lambda: whole_site(material)).items()}
    assert set(made) - set(machine_files(plain, tuple)) == {
        "sitemap.xml", "available.xml", "journal.xml", "projects/sun.xml",
    }  # fmt: skip
    assert b"Sitemap: https://quillmoor.example/snakes/sitemap.xml" in made["robots.txt"]
    assert b"Sitemap" not in machine_files(plain, tuple)["robots.txt"]()
    assert json.loads(made["data/collection.json"]) == json.loads(json.dumps(published_facts(material)))


def test_nothing_is_made_before_it_is_asked_for() -> None:
    def fail() -> tuple[Page, ...]:
        raise AssertionError("the pages were made")

    made = machine_files(small_material(), fail)
    assert made["robots.txt"]()
    with pytest.raises(AssertionError, match="the pages were made"):
        made["sitemap.xml"]()


def test_nothing_in_json_ld_can_end_its_element() -> None:
    text = json.dumps({"name": "</script><script>alert(1)</script>&\u2028"}, ensure_ascii=False)
    block = data_block(text)
    assert not set("<>&\u2028") & set(block)
    assert json.loads(block) == json.loads(text)
