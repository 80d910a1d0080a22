"""Themes: found, checked, sandboxed; what fails names template, line and page."""

from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.pages import theme_of
from helpers.small_site import small_material, whole_site

from sitegen.findings import ThemeError
from sitegen.render.pages import render_page, render_part
from sitegen.render.themes import carried_themes, find_theme, share_style, theme_files

PAGE = whole_site(small_material())[0]


def rendered(folder: Path, start: str, **more: str) -> str:
    return render_part(PAGE, find_theme("mine", theme_of(folder, start, **more)))


def test_a_theme_prints_what_the_page_has(tmp_path: Path) -> None:
    assert rendered(tmp_path, "{{ page.name }} {{ frame.root }}{{ assets.style }}").startswith(
        "Quillmoor Snakes assets/mine-style."
    )


def test_the_users_theme_comes_before_the_carried_one(tmp_path: Path) -> None:
    own = tmp_path / "specimen-sheet"
    own.mkdir()
    theme_of(tmp_path, "own").joinpath("mine").rename(tmp_path / "moved")
    own.rmdir()
    (tmp_path / "moved").rename(own)
    assert render_part(PAGE, find_theme("specimen-sheet", tmp_path)) == "own"
    assert find_theme("specimen-sheet", tmp_path / "nowhere").name == "specimen-sheet"


def test_a_missing_theme_names_those_that_there_are() -> None:
    with pytest.raises(ThemeError, match=r'no theme "specimen-sheat".*nearest: "specimen-sheet"'):
        find_theme("specimen-sheat")
    for name in ("../specimen-sheet", "", ".", "a/b"):
        with pytest.raises(ThemeError, match="there is no theme"):
            find_theme(name)


@pytest.mark.parametrize(
    ("facts", "message"),
    [
        ("version: 99\n", "version is 99; these pages need version: 3"),
        ("name: x\n", "version is missing"),
        ("version: 1\n", "need version: 3; themes/README.md tells what changed"),
        ("version: 3\ncolour: red\n", 'unknown key "colour"'),
        ("- a\n", "expected lines such as"),
        ("version: [\n", r"mine/theme.yaml:2:1: a list is opened"),
        ("version: 3\nextends: mine\n", "circle"),
        ("version: 3\nextends: nothing\n", 'no theme "nothing"'),
    ],
)
def test_a_broken_theme_yaml_is_told(tmp_path: Path, facts: str, message: str) -> None:
    with pytest.raises(ThemeError, match=message):
        find_theme("mine", theme_of(tmp_path, "x", facts))


@pytest.mark.parametrize(
    ("template", "message"),
    [
        ("a\n\n{{ page.nothing }}", r"mine/templates/start\.html:3: .*nothing.*making index\.html from site\.yaml"),
        ("a\n{{ page.name", r"mine/templates/start\.html:2: .*index\.html"),
        ("\n{% include 'missing.html' %}", r"missing\.html"),
        ("{{ page.name.upper() }}", "may call its own macros"),
        ("{{ 2 * 3 }}", "may not compute"),
        ("{{ 'x' ~ page.__class__ }}", "start.html:1"),
        ("{{ page.name|attr('__class__') }}", "start.html:1"),
        ("{{ range(10) }}", "start.html:1"),
        ("{{ ''.__class__.__mro__ }}", "start.html:1"),
        ("{{ page.lead.picture.sorces }}", "start.html:1"),
        ("{% macro m() %}\n{{ m() }}{% endmacro %}{{ m() }}", "start.html"),
    ],
)  # fmt: skip
def test_what_a_template_may_not_do_is_told_with_its_place(tmp_path: Path, template: str, message: str) -> None:
    with pytest.raises(ThemeError, match=message):
        rendered(tmp_path, template)


def test_an_error_in_an_included_template_names_that_template(tmp_path: Path) -> None:
    with pytest.raises(ThemeError, match=r"mine/templates/part\.html:2:"):
        rendered(tmp_path, "{% include 'part.html' %}", part="x\n{{ page.nothing }}")


@pytest.mark.parametrize("path", ["../../secret.html", "/etc/passwd", "..\\secret.html", "theme.yaml"])
def test_templates_read_no_files(tmp_path: Path, path: str) -> None:
    (tmp_path / "secret.html").write_text("secret", "utf-8")
    with pytest.raises(ThemeError):
        rendered(tmp_path, f"{{% include {path!r} %}}")


def test_a_link_out_of_the_theme_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("secret", "utf-8")
    folder = theme_of(tmp_path, "x")
    (folder / "mine/assets/leak.txt").symlink_to(tmp_path / "secret")
    with pytest.raises(ThemeError, match=r"mine/assets/leak\.txt is a link to another place"):
        find_theme("mine", folder)


def test_everything_is_escaped(tmp_path: Path) -> None:
    from dataclasses import replace  # noqa: PLC0415 - only here

    nasty = replace(PAGE, content=replace(PAGE.content, name="<script>{{ 1 }}</script>"))  # type: ignore[type-var]
    theme = find_theme("mine", theme_of(tmp_path, "{{ page.name }}"))
    assert render_part(nasty, theme) == "&lt;script&gt;{{ 1 }}&lt;/script&gt;"


def test_a_theme_may_build_on_another_and_change_one_block(tmp_path: Path) -> None:
    facts = "version: 3\nextends: specimen-sheet\n"
    start = '{% extends "specimen-sheet/start.html" %}{% block news %}MY NEWS{% endblock %}'
    theme = find_theme("mine", theme_of(tmp_path, start, facts))
    made = render_page(PAGE, theme).decode()
    assert "MY NEWS" in made
    assert "On offer now" in made
    assert [name for name in theme_files(theme) if name.endswith(".woff2")]
    for page in whole_site(small_material()):
        assert render_page(page, theme)


def test_more_rules_go_on_where_the_style_sheet_of_the_other_theme_ends(tmp_path: Path) -> None:
    folder = theme_of(tmp_path, "x", "version: 3\nextends: specimen-sheet\n")
    (folder / "mine/assets/style.css").rename(folder / "mine/assets/more.css")
    theme = find_theme("mine", folder)
    carried = (carried_themes() / "specimen-sheet/assets/style.css").read_bytes()
    assert theme_files(theme)[theme.style] == carried + b"\np { margin: 0 }"
    assert not [name for name in theme_files(theme) if name.endswith("more.css")]


def test_style_sheet_names_change_with_their_content(tmp_path: Path) -> None:
    folder = theme_of(tmp_path, "x")
    before = find_theme("mine", folder)
    (folder / "mine/assets/style.css").write_text("p { margin: 1px }", "utf-8")
    after = find_theme("mine", folder)
    assert before.style != after.style
    assert set(theme_files(after)) == {after.style}


def test_the_carried_themes_are_found_in_a_checkout() -> None:
    assert (carried_themes() / "specimen-sheet/theme.yaml").is_file()


OWN = "=== own/theme.yaml\nname: own\nversion: 3\nextends: specimen-sheet\n=== own/assets/style.css\nbody {}\n"
COLOURS = "paper: '#ffffff'\ncard: '#ffffff'\nink: '#000000'\nsoft: '#444444'\naccent: '#aa0000'\n"


def test_every_carried_theme_has_a_style() -> None:
    for theme in sorted(path.parent.name for path in carried_themes().glob("*/theme.yaml")):
        assert share_style(find_theme(theme)).roman


def test_a_theme_without_its_own_takes_that_of_its_base(tmp_path: Path) -> None:
    write_files(tmp_path, OWN)
    assert share_style(find_theme("own", tmp_path)) == share_style(find_theme("specimen-sheet"))


def test_a_theme_of_ones_own(tmp_path: Path) -> None:
    write_files(tmp_path, OWN + f"=== own/share.yaml\nroman: [assets/a.ttf]\nitalic: [assets/a.ttf]\n{COLOURS}")
    (tmp_path / "own/assets/a.ttf").write_bytes(b"font")
    found = share_style(find_theme("own", tmp_path))
    assert (found.roman, found.paper) == ((b"font",), "#ffffff")


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("roman: [", "own/share.yaml:2:1: a list is opened"),
        ("roman: [a.ttf]", "expected exactly the keys"),
        (f"roman: [theme.yaml]\nitalic: []\n{COLOURS}", "written as a list of files"),
        (f"roman: [assets/none.ttf]\nitalic: [assets/none.ttf]\n{COLOURS}", 'no font file "assets/none.ttf"'),
        (f"roman: [../../secret]\nitalic: [../../secret]\n{COLOURS}", 'no font file "../../secret"'),
        (f"roman: [/etc/passwd]\nitalic: [/etc/passwd]\n{COLOURS}", 'no font file "/etc/passwd"'),
        (f"roman: [theme.yaml]\nitalic: [theme.yaml]\n{COLOURS.replace('#444444', 'red')}", "soft is no colour"),
    ],
)
def test_what_is_wrong_is_told_with_its_file(tmp_path: Path, written: str, told: str) -> None:
    themes = tmp_path / "a" / "themes"
    write_files(themes, OWN + f"=== own/share.yaml\n{written}\n")
    (tmp_path / "secret").write_text("nothing to see")
    with pytest.raises(ThemeError, match=r"own/share\.yaml") as caught:
        share_style(find_theme("own", themes))
    assert told in str(caught.value)
