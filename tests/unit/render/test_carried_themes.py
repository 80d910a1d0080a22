"""The carried themes: sound markup, strict policy, readable colours, and names that stay names."""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import html5lib
import pytest
from helpers.pages import THEMES, ReadPage, leads_to
from helpers.small_site import animal, collection, photo, small_material, whole_site
from markupsafe import escape

from sitegen.content.collection import Collection
from sitegen.genetics.loci import Sex
from sitegen.render.machine import machine_files
from sitegen.render.pages import render_page
from sitegen.render.themes import Theme, carried_themes, find_theme, theme_files
from sitegen.site.facts import published_facts
from sitegen.site.material import Material
from sitegen.site.parts import text_of
from sitegen.site.share import every_share

OWN_STYLES = {"specimen-sheet": "style.css", "picture-room": "more.css"}
"""What each theme's own style sheet is called."""


@pytest.fixture(scope="module", params=THEMES)
def theme(request: pytest.FixtureRequest) -> Theme:
    return find_theme(request.param)


@pytest.fixture(scope="module")
def style(theme: Theme) -> str:
    """The rules of the theme itself."""
    return (carried_themes() / theme.name / "assets" / OWN_STYLES[theme.name]).read_text("utf-8")


def built(material: Material, theme: Theme) -> dict[str, str]:
    return {page.address: render_page(page, theme).decode() for page in whole_site(material)}


@pytest.fixture(scope="module")
def pages(theme: Theme) -> dict[str, str]:
    return built(small_material(), theme)


def empty() -> Collection:
    records = collection()
    return replace(records, animals={}, litters={}, projects={}, pages={})


@pytest.fixture(params=["small", "without pictures", "empty"])
def any_site(request: pytest.FixtureRequest, theme: Theme) -> dict[str, str]:
    return {
        "small": lambda: built(small_material(), theme),
        "without pictures": lambda: built(small_material(pictured=False), theme),
        "empty": lambda: built(small_material(empty()), theme),
    }[request.param]()


def test_every_page_is_well_formed(any_site: dict[str, str]) -> None:
    faults = {address: ReadPage(html).faults for address, html in any_site.items()}
    assert {address: found for address, found in faults.items() if found} == {}
    assert all(html.startswith('<!doctype html>\n<html lang="en">') for html in any_site.values())


def test_a_standards_parser_finds_no_error(any_site: dict[str, str]) -> None:
    """Source: the parsing rules of HTML, by html5lib in its strict mode, which stops at the first error."""
    for html in any_site.values():
        html5lib.HTMLParser(strict=True).parse(html)


def test_every_kind_of_page_has_a_template(theme: Theme) -> None:
    assert {page.template for page in whole_site(small_material())} <= set(theme.templates)


def test_each_page_of_an_offer_has_four_plain_lines_unfolded_and_the_rest_in_place(theme: Theme) -> None:
    seen = 0
    for page in whole_site(small_material()):
        told = getattr(page.content, "cautions", ())
        if not told or page.template not in ("animal.html", "litter.html", "start.html", "comparison.html"):
            continue
        open_, _, folded = render_page(page, theme).decode().rpartition('<details class="folded">')
        short = [each.short for each in told if each.short]
        assert len(short) == 4, page.address
        lines = [line for each in told for line in each.lines]
        assert all(escape(text_of(each)) in open_ for each in short), page.address
        assert all(escape(text_of(each)) in open_ + folded for each in lines), page.address
        seen += 1
    assert seen > 4


def test_no_id_stands_twice_on_a_page(any_site: dict[str, str]) -> None:
    for address, html in any_site.items():
        ids = ReadPage(html).ids
        assert len(ids) == len(set(ids)), address


def test_no_link_leads_nowhere(pages: dict[str, str], theme: Theme) -> None:
    material = small_material()
    files = set(pages) | set(theme_files(theme)) | set(machine_files(material, tuple))
    files |= set(every_share(material))
    files |= {variant.file_name for pictures in material.pictures.values() for variant in pictures.variants}
    ids = {address: set(ReadPage(html).ids) for address, html in pages.items()}
    for address, html in pages.items():
        for link in ReadPage(html).links():
            aim = leads_to(address, link, "/snakes/")
            if aim is None:
                assert link.startswith(("mailto:", "https://quillmoor.example/snakes/", "data:image/")), (address, link)
                continue
            assert aim[0] in files, (address, link)
            assert not aim[1] or aim[1] in ids[aim[0]], (address, link)


def test_links_are_relative_everywhere_but_on_the_page_not_found(pages: dict[str, str]) -> None:
    for address, html in pages.items():
        rooted = [link for link in ReadPage(html).links() if link.startswith("/")]
        assert bool(rooted) == (address == "404.html"), (address, rooted)


def test_the_policy_stands_first_and_nothing_needs_more_than_it_allows(any_site: dict[str, str]) -> None:
    policy = (
        "default-src 'none'; img-src 'self' data:; style-src 'self'; font-src 'self'; script-src 'self'; "
        "media-src 'self'; base-uri 'none'; form-action 'none'"
    )
    for address, html in any_site.items():
        read = ReadPage(html)
        in_head = [(tag, facts) for tag, facts in read.elements if tag not in ("html", "head")]
        assert in_head[0] == ("meta", {"http-equiv": "Content-Security-Policy", "content": policy}), address
        assert in_head[1:3] == [
            ("meta", {"name": "referrer", "content": "no-referrer"}),
            ("meta", {"charset": "utf-8"}),
        ]
        assert html.encode().index(b"charset") < 1_024  # where a browser looks for it: HTML, 13.2.3.2
        assert not read.of("style")
        assert not [
            facts for _tag, facts in read.elements if "style" in facts or any(k.startswith("on") for k in facts)
        ]
        for facts, text in read.scripts:
            assert facts.get("type") == "application/ld+json" or (facts["src"] and not text)


def test_every_picture_has_its_size_and_its_text(any_site: dict[str, str]) -> None:
    for address, html in any_site.items():
        for facts in ReadPage(html).of("img"):
            assert {"src", "alt", "width", "height"} <= set(facts), address
            beside_its_name = facts.get("class") in ("blur", "thumb")  # the words for it stand there
            assert facts["alt"] or beside_its_name, address


def test_each_page_has_one_title_and_one_first_heading_and_a_way_past_the_navigation(any_site: dict[str, str]) -> None:
    for address, html in any_site.items():
        read = ReadPage(html)
        assert (len(read.of("h1")), len(read.of("main"))) == (1, 1), address
        told = [svg for svg in read.of("svg") if svg.get("aria-hidden") != "true"]
        assert len(read.of("title")) == 1 + len(told), address
        assert {"class": "skip", "href": "#content"} in read.of("a")
        levels = [int(tag[1]) for tag, _facts in read.elements if re.fullmatch("h[1-6]", tag)]
        assert all(later - earlier <= 1 for earlier, later in pairwise(levels)), (address, levels)


def test_same_pages_same_bytes(pages: dict[str, str], theme: Theme) -> None:
    assert built(small_material(), theme) == pages


def test_pages_that_show_drawings_say_so(pages: dict[str, str]) -> None:
    with_pictures = [a for a, html in pages.items() if "pictures/" in html.split("<main", 1)[1]]
    assert len(with_pictures) > 5
    assert all("All pictures are drawings." in ReadPage(pages[address]).text for address in with_pictures)


def test_an_empty_collection_says_so(theme: Theme) -> None:
    pages = {address: ReadPage(html).text for address, html in built(small_material(empty()), theme).items()}
    assert "Nothing is available now." in pages["available.html"]
    assert "No animal is recorded yet." in pages["collection.html"]
    assert "No litter is recorded yet." in pages["litters.html"]


def test_records_without_an_answer_deny_nothing(theme: Theme) -> None:
    pages = {address: ReadPage(html).text for address, html in built(small_material(answered=False), theme).items()}
    told = "\n".join(pages.values())
    assert "Looks normal" not in pages["animals/juniper.html"]  # who shows something by the records
    assert "No hidden gene is known." not in told
    assert "No animal here is known to have it." not in told
    assert "none here" not in told
    assert "Nothing is claimed yet: our records do not give one answer." in pages["animals/juniper.html"]
    assert re.search(r"Of \d+ animals our records do not give one answer yet\.", pages["genes/corn-snake/amel.html"])


NASTY = "<script>alert(1)</script>{{ 7 * 7 }}{% raw %}\"'&"


def nasty() -> Material:
    records = collection()
    site = replace(records.site, name=NASTY, tagline=NASTY, about=NASTY, drawings=NASTY)
    animals = {k: replace(a, name=NASTY, line=NASTY, about=NASTY) for k, a in records.animals.items()}
    litters = {k: replace(found, name=NASTY, about=NASTY) for k, found in records.litters.items()}
    pages = {k: replace(page, title=NASTY, text=NASTY) for k, page in records.pages.items()}
    return small_material(replace(records, site=site, animals=animals, litters=litters, pages=pages))


def test_what_stands_in_records_stays_words(theme: Theme) -> None:
    for address, html in built(nasty(), theme).items():
        read = ReadPage(html)
        assert read.faults == [], address
        assert [f for f, text in read.scripts if f.get("type") != "application/ld+json" and not f.get("src")] == []
        assert "alert(1)" in read.text
        assert "{{ 7 * 7 }}" in read.text
        assert "49" not in read.of("h1")


def test_three_hundred_animals_and_long_names_are_printed(theme: Theme) -> None:
    long = "Ratonneau-Wollgraswindröschen " * 8
    records = collection()
    many = {
        f"a{n:03d}": animal(f"a{n:03d}", f"{long}{n}", Sex.FEMALE, "amel", photos=(photo("x.jpg", 2024),))
        for n in range(300)
    }
    material = small_material(replace(records, animals={**records.animals, **many}))
    page = ReadPage(built(material, theme)["collection.html"])
    assert page.faults == []
    assert page.text.count(long.strip()) >= 300
    assert len([facts for facts in page.of("img") if facts.get("loading") == "lazy"]) >= 300


# Colours

PAIRS = {
    "ink": ("paper", "card", "wash"),
    "soft": ("paper", "card", "wash"),
    "accent": ("paper", "card", "wash"),
}
LINES = {"line": ("paper", "card", "wash"), "accent": ("paper", "card")}


def schemes(style: str) -> Iterator[dict[str, str]]:
    """The colours of the light and the dark scheme."""
    blocks = re.findall(r":root \{(.*?)\}", style, re.DOTALL)[:2]
    light = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", blocks[0]))
    yield light
    yield {**light, **dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", blocks[1]))}


def luminance(colour: str) -> float:
    """Source: WCAG 2.2, relative luminance."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Source: WCAG 2.2, contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_agrees_with_known_values() -> None:
    """Source: published values for black, #767676 and #777777 on white."""
    assert round(contrast("#000000", "#ffffff"), 1) == 21.0
    assert round(contrast("#767676", "#ffffff"), 3) == 4.542
    assert round(contrast("#777777", "#ffffff"), 3) == 4.478


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
def test_words_and_lines_stand_out_enough(style: str, scheme: int) -> None:
    colours = list(schemes(style))[scheme]
    words = {(f, b): contrast(colours[f], colours[b]) for f, backs in PAIRS.items() for b in backs}
    assert {pair: ratio for pair, ratio in words.items() if ratio < 4.5} == {}
    lines = {(f, b): contrast(colours[f], colours[b]) for f, backs in LINES.items() for b in backs}
    assert {pair: ratio for pair, ratio in lines.items() if ratio < 3} == {}


def test_colours_stand_in_one_place(style: str) -> None:
    rules = re.sub(r":root \{.*?\}", "", style, flags=re.DOTALL)
    assert set(re.findall(r"#[0-9a-f]{3,8}\b", rules)) <= {"#000"}


def test_the_style_sheet_asks_for_nothing_outside_and_for_nothing_missing(style: str, theme: Theme) -> None:
    wanted = re.findall(r'url\("?([^")]+)"?\)', style)
    assert wanted
    assert {f"assets/{path}" for path in wanted} <= set(theme_files(theme))
    assert "@import" not in style


def test_the_font_comes_with_its_licence(theme: Theme) -> None:
    files = theme_files(theme)
    licences = [data.decode() for name, data in files.items() if "/OFL" in name]
    fonts = [name.rpartition("/")[2] for name in files if name.endswith(".woff2")]
    families = {re.sub("-(roman|italic|bold).*", "", font) for font in fonts}
    assert len(licences) == len(families)
    assert all("SIL OPEN FONT LICENSE Version 1.1" in licence for licence in licences)


def test_the_stylesheet_answers_to_dark_print_and_reduced_motion(theme: Theme, style: str) -> None:
    for wanted in ("prefers-color-scheme: dark", "@media print"):
        assert wanted in style
    assert "prefers-reduced-motion" in theme_files(theme)[theme.style].decode()


def test_facts_do_not_name_photo_files(theme: Theme) -> None:
    material = small_material()
    facts = str(published_facts(material))
    assert not [path for path in material.pictures if path in facts]
    pages = built(material, theme)
    assert not [path for path in material.pictures for html in pages.values() if path in html]


def test_the_theme_is_small(theme: Theme) -> None:
    assert sum(len(data) for data in theme_files(theme).values()) < 400_000
    assert Path(theme.style).name.startswith(f"{theme.name}-style.")
