"""Files for machines."""

import datetime as dt
import json
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from helpers.small_site import HERE, collection, small_material, whole_site

from sitegen.content.animals import Offer
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.render.machine import atom, data_block, machine_files, sitemap
from sitegen.site.facts import published_facts
from sitegen.site.feeds import every_feed
from sitegen.site.material import Material, folio
from sitegen.site.parts import Page

NAMESPACE = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def test_the_site_map_names_every_page_but_what_is_for_print_and_the_one_for_what_is_missing() -> None:
    pages = whole_site(small_material())
    read = ElementTree.fromstring(sitemap(pages, "https://quillmoor.example/snakes/"))
    assert read.tag == f"{NAMESPACE}urlset"
    locations = [url.findtext(f"{NAMESPACE}loc") for url in read]
    assert locations == [
        f"https://quillmoor.example/snakes/{'' if page.address == 'index.html' else page.address}"
        for page in pages
        if page.address != "404.html"
        and not page.address.endswith("-paper.html")
        and not page.address.startswith("print/")
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


NS = "{http://www.w3.org/2005/Atom}"
SITE = "https://quillmoor.example/snakes/"


def read(address: str, material: Material | None = None) -> ElementTree.Element:
    return ElementTree.fromstring(atom(every_feed(material or small_material())[address]()))


def entries(address: str, material: Material | None = None) -> dict[str, ElementTree.Element]:
    return {entry.findtext(f"{NS}title") or "": entry for entry in read(address, material).iter(f"{NS}entry")}


def test_there_is_a_feed_of_offers_of_the_journal_and_of_each_project() -> None:
    assert list(every_feed(small_material())) == ["available.xml", "journal.xml", "projects/sun.xml"]


def test_without_a_public_address_there_is_none() -> None:
    material = small_material()
    site = replace(material.collection.site, address="")
    assert every_feed(replace(material, collection=replace(material.collection, site=site))) == {}


def test_offers_have_the_day_since_when_they_stand_so() -> None:
    found = entries("available.xml")
    days = {title: entry.findtext(f"{NS}updated") for title, entry in found.items()}
    assert days == {
        "Sold: No. 04 of Juniper and Flint 2026": "2026-10-09T12:00:00Z",
        "Available: No. 01 of Juniper and Flint 2026": "2026-10-01T12:00:00Z",
        # No day is recorded for this one: the newest day of its record is that of its birth.
        "On hold: No. 02 of Juniper and Flint 2026": "2026-07-18T12:00:00Z",
    }
    assert read("available.xml").findtext(f"{NS}updated") == "2026-10-09T12:00:00Z"


def test_an_offer_without_any_day_is_left_out() -> None:
    records = collection()
    offer = Offer(state=OfferState.AVAILABLE, place=HERE)
    nothing = replace(records.animals["flint"], id="alone", name="Alone", offer=offer)
    made = entries("available.xml", small_material(replace(records, animals={**records.animals, "alone": nothing})))
    assert "Available: Alone" not in made


def test_names_stay_when_anything_that_is_told_changes() -> None:
    records = collection()
    young = records.animals["2026-x/01"]
    sold = replace(young, name="Sunny", offer=Offer(state=OfferState.SOLD, place=HERE, since=PartialDate(2026, 10, 20)))
    changed = small_material(replace(records, animals={**records.animals, young.id: sold}))
    before = entries("available.xml")["Available: No. 01 of Juniper and Flint 2026"]
    after = entries("available.xml", changed)["Sold: Sunny"]
    assert before.findtext(f"{NS}id") == after.findtext(f"{NS}id")
    assert (before.findtext(f"{NS}updated"), after.findtext(f"{NS}updated")) == (
        "2026-10-01T12:00:00Z", "2026-10-20T12:00:00Z",
    )  # fmt: skip
    for address in every_feed(small_material()):
        assert read(address).findtext(f"{NS}id") == read(address, changed).findtext(f"{NS}id")


def test_names_stay_when_the_site_moves_to_https_and_no_name_stands_twice() -> None:
    material = small_material()
    plain = replace(material.collection.site, address=material.collection.site.address.replace("https", "http"))
    moved = replace(material, collection=replace(material.collection, site=plain))
    ids = [[e.text for e in read(a, m).iter(f"{NS}id")] for m in (material, moved) for a in every_feed(material)]
    half = len(ids) // 2
    assert ids[:half] == ids[half:]
    for feed in ids:
        assert len(feed) == len(set(feed))


def test_every_link_and_picture_is_public() -> None:
    for address in every_feed(small_material()):
        for entry in read(address).iter(f"{NS}entry"):
            html = entry.findtext(f"{NS}content") or ""
            for mark in ('href="', 'src="'):
                for part in html.split(mark)[1:]:
                    assert part.startswith((SITE, "mailto:")), (address, part[:60])


def test_a_project_tells_its_notes_and_its_litters() -> None:
    found = entries("projects/sun.xml")
    assert set(found) == {"First pips", "Juniper and Flint 2026: hatched"}
    link = found["First pips"].find(f"{NS}link")
    assert link is not None
    assert link.get("href") == f"{SITE}projects/sun.html#note-2026-07-20-first-pips"
    assert "<p>All eight.</p>" in (found["First pips"].findtext(f"{NS}content") or "")


def test_what_stands_in_records_stays_words() -> None:
    nasty = "<script>alert(1)</script>]]>&amp;\x08\ufffe"
    records = collection()
    animals = {k: replace(a, name=nasty) for k, a in records.animals.items()}
    note = replace(records.projects["sun"].updates[0], title=nasty, text=nasty + "\n\n[x](javascript:alert(1))")
    projects = {"sun": replace(records.projects["sun"], name=nasty, updates=(note,))}
    site = replace(records.site, name=nasty, tagline=nasty)
    material = small_material(replace(records, animals=animals, projects=projects, site=site))
    for address in every_feed(material):
        for entry in read(address, material).iter(f"{NS}entry"):  # it is XML at all
            assert "<script" not in (entry.findtext(f"{NS}content") or "")
            assert 'href="javascript' not in (entry.findtext(f"{NS}content") or "")


def test_days_that_lie_ahead_are_not_told_as_past() -> None:
    records = collection()
    late = replace(
        records.animals["2026-x/01"], offer=Offer(state=OfferState.AVAILABLE, place=HERE, since=PartialDate(2027, 1, 1))
    )
    material = small_material(replace(records, animals={**records.animals, late.id: late}))
    for address in ("available.xml", "journal.xml"):
        for moment in read(address, material).iter(f"{NS}updated"):
            assert dt.date.fromisoformat((moment.text or "")[:10]) <= material.as_of


@pytest.mark.parametrize("address", ["available.xml", "journal.xml", "projects/sun.xml"])
def test_the_same_records_make_the_same_bytes(address: str) -> None:
    assert atom(every_feed(small_material())[address]()) == atom(every_feed(small_material())[address]())
