"""Fonts and colours of share pictures come from the theme, or from the one it builds on."""

from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.findings import ThemeError
from sitegen.render.share_style import share_style
from sitegen.render.themes import carried_themes, find_theme

OWN = "=== own/theme.yaml\nname: own\nversion: 1\nextends: field-notes\n=== own/assets/style.css\nbody {}\n"
COLOURS = "paper: '#ffffff'\ncard: '#ffffff'\nink: '#000000'\nsoft: '#444444'\naccent: '#aa0000'\n"


def test_every_carried_theme_has_a_style() -> None:
    for theme in sorted(path.parent.name for path in carried_themes().glob("*/theme.yaml")):
        assert share_style(find_theme(theme)).roman


def test_a_theme_without_its_own_takes_that_of_its_base(tmp_path: Path) -> None:
    write_files(tmp_path, OWN)
    assert share_style(find_theme("own", tmp_path)) == share_style(find_theme("field-notes"))


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
