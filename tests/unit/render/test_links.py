"""Links in texts that lead nowhere."""

from dataclasses import replace

from helpers.small_site import collection, small_material, whole_site

from sitegen.findings import Kind, Level
from sitegen.render.links import broken_links


def test_a_sound_site_has_none() -> None:
    assert broken_links(whole_site(small_material())) == ()


def test_a_link_to_no_page_names_record_and_nearest() -> None:
    records = collection()
    text = "[x](animals/junipr.html) [y](https://example.org/nowhere) [z](#here) [f](data/collection.json)"
    about = {**records.pages, "about": replace(records.pages["about"], text=text)}
    pages = whole_site(small_material(replace(records, pages=about)))
    (found,) = broken_links(pages, ["data/collection.json"])
    assert (found.level, found.kind) == (Level.NOTICE, Kind.LINK_BROKEN)
    assert found.place is not None
    assert found.place.file == "pages/about.md"
    assert found.nearest == "animals/juniper.html"
