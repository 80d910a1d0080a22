"""The breeder's Markdown: what it may become, and what not."""

from dataclasses import replace

import pytest
from helpers.small_site import collection, small_material, whole_site

from sitegen.findings import Kind, Level
from sitegen.render.prose import LONGEST, broken_links, links_in, note_of, prose
from sitegen.site.parts import Prose


def html(text: str, source: str = "animals/juniper.html", **more: object) -> str:
    return str(prose(Prose(text, source, **more)))  # type: ignore[arg-type]


def test_raw_html_is_printed_as_it_is_written() -> None:
    assert html("a <script>alert(1)</script> b") == "<p>a &lt;script&gt;alert(1)&lt;/script&gt; b</p>\n"
    assert "<div" not in html('<div onclick="x">\n\nhello\n\n</div>')
    assert "<img" not in html("<img src=x onerror=alert(1)>")


@pytest.mark.parametrize(
    "link",
    [
        "javascript:alert(1)", "JavaScript:alert(1)", "data:text/html,x", "vbscript:x", "file:///etc/passwd",
        "//elsewhere.example/x", "&#106;avascript:alert(1)", "java%73cript%3Aalert(1)", "\\\\host\\share",
    ],
)  # fmt: skip
def test_links_of_other_schemes_are_no_links(link: str) -> None:
    assert "<a" not in html(f"[x](<{link}>)")


@pytest.mark.parametrize(
    "link", ["https://example.org/", "http://example.org/a?b=c", "mailto:a@example.org", "tel:+441"]
)
def test_links_out_of_the_site_say_noopener(link: str) -> None:
    assert html(f"[x]({link})") == f'<p><a href="{link}" rel="noopener">x</a></p>\n'


def test_links_within_the_site_are_written_from_its_root_and_become_relative() -> None:
    assert 'href="flint.html"' in html("[x](animals/flint.html)")
    assert 'href="../litters/2026-x.html#young"' in html("[x](litters/2026-x.html#young)")
    assert 'href="../care.html"' in html("[x](/care.html)")
    assert 'href="#below"' in html("[x](#below)")
    assert 'href="../etc/passwd"' in html("[x](../../../etc/passwd)")


def test_a_link_to_a_promoted_young_finds_its_page() -> None:
    moved = {"animals/sorrel.html": "litters/2026-x/03.html"}
    assert 'href="../litters/2026-x/03.html"' in html("[x](animals/sorrel.html)", moved=moved)


def test_on_the_page_not_found_links_start_at_the_root_of_the_host() -> None:
    assert 'href="/snakes/care.html"' in html("[x](care.html)", "404.html", rooted="/snakes/")


def test_headings_stand_below_that_of_the_page() -> None:
    assert html("# A\n\n## B") == "<h2>A</h2>\n<h3>B</h3>\n"
    assert html("## A\n\n### B") == "<h2>A</h2>\n<h3>B</h3>\n"
    assert str(prose(Prose("# A\n\n###### F", "x.html"), 4)) == "<h5>A</h5>\n<h6>F</h6>\n"


def test_tables_stand_in_a_region_that_can_scroll() -> None:
    made = html("| a | b |\n|---|---|\n| 1 | 2 |")
    assert made.startswith('<div class="table-wrap" role="region"')
    assert "<td>1</td>" in made


def test_pictures_cannot_be_written_into_texts() -> None:
    assert "<img" not in html("![x](https://example.org/pixel.gif)")


def test_a_text_without_end_is_cut_and_says_so() -> None:
    made = html("word " * LONGEST)
    assert len(made) < 2 * LONGEST
    assert "longer than this program prints" in made


def test_deep_nesting_ends() -> None:
    assert html(">" * 500 + " deep").count("<blockquote>") < 50


def test_links_of_a_text_for_checking() -> None:
    text = "[a](animals/flint.html#x) [b](https://example.org) [c](#d) [e](/care.html) [f](animals/flint.html)"
    assert links_in(text) == ("animals/flint.html", "care.html")


def test_a_sound_site_has_none() -> None:
    assert broken_links([note_of(page) for page in whole_site(small_material())]) == ()


def test_a_link_to_no_page_names_record_and_nearest() -> None:
    records = collection()
    text = "[x](animals/junipr.html) [y](https://example.org/nowhere) [z](#here) [f](data/collection.json)"
    about = {**records.pages, "about": replace(records.pages["about"], text=text)}
    pages = whole_site(small_material(replace(records, pages=about)))
    (found,) = broken_links([note_of(page) for page in pages], ["data/collection.json"])
    assert (found.level, found.kind) == (Level.NOTICE, Kind.LINK_BROKEN)
    assert found.place is not None
    assert found.place.file == "pages/about.md"
    assert found.nearest == "animals/juniper.html"
