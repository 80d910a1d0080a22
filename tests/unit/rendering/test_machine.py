"""Files for machines."""

import json
from dataclasses import replace
from xml.etree import ElementTree

from small_site import small_material

from sitegen.pages.facts import published_facts
from sitegen.pages.whole_site import whole_site
from sitegen.rendering.machine import data_block, machine_files, sitemap

NAMESPACE = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def test_the_site_map_names_every_page_but_papers_and_the_one_for_what_is_missing() -> None:
    pages = whole_site(small_material())
    read = ElementTree.fromstring(sitemap(pages, "https://quillmoor.example/snakes/"))
    assert read.tag == f"{NAMESPACE}urlset"
    locations = [url.findtext(f"{NAMESPACE}loc") for url in read]
    assert locations == [
        f"https://quillmoor.example/snakes/{page.address}"
        for page in pages
        if page.address != "404.html" and not page.address.endswith("-paper.html")
    ]


def test_addresses_in_the_site_map_are_escaped() -> None:
    page = replace(whole_site(small_material())[0], address="animals/a&b ä.html", changed="2026-07-18")
    made = sitemap([page], "https://x.example/").decode()
    assert "<loc>https://x.example/animals/a%26b%20%C3%A4.html</loc><lastmod>2026-07-18</lastmod>" in made


def test_without_a_public_address_there_is_no_site_map() -> None:
    material = small_material()
    facts = published_facts(material)
    pages = whole_site(material)
    assert list(machine_files(pages, "", facts)) == ["data/collection.json", "robots.txt"]
    with_address = machine_files(pages, "https://x.example/", facts)
    papers = machine_files(pages, "", facts, {"animals/x-paper.json": {"format": "sitegen paper"}})
    assert json.loads(papers["animals/x-paper.json"]) == {"format": "sitegen paper"}
    assert b"Sitemap: https://x.example/sitemap.xml" in with_address["robots.txt"]
    assert json.loads(with_address["data/collection.json"]) == json.loads(json.dumps(facts))


def test_nothing_in_json_ld_can_end_its_element() -> None:
    text = json.dumps({"name": "</script><script>alert(1)</script>&\u2028"}, ensure_ascii=False)
    block = data_block(text)
    assert not set("<>&\u2028") & set(block)
    assert json.loads(block) == json.loads(text)
