"""A site speaks the language of its ``site.yaml``."""

from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL

import sitegen
from sitegen.build import Order, build
from sitegen.content.site import SAID_IN
from sitegen.findings import ThemeError
from sitegen.render.catalogues import catalogue_of
from sitegen.words.numbers import average_text, in_100
from sitegen.words.speech import spoken


def site(folder: Path, language: str, themes: Path | None = None, theme: str = "") -> Path:
    text = SMALL.replace(
        "currency: GBP", f"currency: EUR\nlanguage: {language}" + (f"\ntheme: {theme}" if theme else "")
    )
    content = write_files(folder / "content", text)
    built = build(Order(content, folder / "output", themes or folder / "themes"))
    assert built.published is not None, [str(finding) for finding in built.findings]
    return folder / "output"


def test_a_german_site_says_its_claims_in_german(tmp_path: Path) -> None:
    output = site(tmp_path, "de")
    page = (output / "litters" / "2022-a" / "01.html").read_text("utf-8")
    assert '<html lang="de"' in page
    assert "etwa 67 von 100 solchen Jungtieren tragen es, 33 nicht" in page
    assert "carry it" not in page
    assert "1. Juli 2022" in page


def test_a_country_takes_the_words_of_its_language(tmp_path: Path) -> None:
    assert "etwa 67 von 100" in (site(tmp_path, "de-AT") / "litters" / "2022-a" / "01.html").read_text("utf-8")


def test_languages_are_told_and_english_needs_no_catalogue() -> None:
    catalogues = {path.stem for path in Path(sitegen.__file__).parent.glob("words/locale/*.po")}
    assert {"en", *catalogues} == set(SAID_IN) >= {"en", "de"}
    assert catalogue_of("en-GB") is None
    assert catalogue_of("xx") is None


def test_the_language_ends_where_it_was_set() -> None:
    from fractions import Fraction  # noqa: PLC0415

    with spoken(catalogue_of("de")):
        assert (in_100(Fraction(2, 3)), average_text(Fraction(7, 2))) == ("etwa 67 von 100", "3,5")
        assert in_100(Fraction(1, 1000)) == "weniger als 1 von 100"
    assert (in_100(Fraction(2, 3)), average_text(Fraction(7, 2))) == ("about 67 in 100", "3.5")


def test_changing_the_language_makes_every_page_anew(tmp_path: Path) -> None:
    english = (site(tmp_path, "en") / "genes.html").read_text("utf-8")
    german = (site(tmp_path, "de") / "genes.html").read_text("utf-8")
    assert "How it is inherited" in english
    assert "Wie es vererbt wird" in german
    assert "How it is inherited" not in german


def test_a_theme_brings_words_of_its_own(tmp_path: Path) -> None:
    theme = tmp_path / "themes" / "mine"
    write_files(
        theme,
        """
=== theme.yaml
name: mine
version: 3
extends: specimen-sheet
=== templates/not_found.html
{% extends "base.html" %}
{% block main %}<h1>{{ "Gone fishing"|say }}</h1>{% endblock %}
=== locale/de.po
msgid ""
msgstr "Content-Type: text/plain; charset=utf-8\\n"

msgid "Gone fishing"
msgstr "Beim Angeln"
""",
    )
    output = site(tmp_path, "de", tmp_path / "themes", "mine")
    assert "Beim Angeln" in (output / "404.html").read_text("utf-8")
    assert "Wie es vererbt wird" in (output / "genes.html").read_text("utf-8")
    (theme / "locale" / "de.po").write_text('msgid "open\n', encoding="utf-8")
    with pytest.raises(ThemeError, match=r"mine/locale/de\.po"):
        site(tmp_path, "de", tmp_path / "themes", "mine")


def test_a_theme_alters_no_sentence_of_the_program_and_reaches_none(tmp_path: Path) -> None:
    """Its own catalogue answers for its own words; a claim said through it is no word of a template."""
    claim = "May carry {gene}: {chance} {such} do, {others} do not{brackets}."
    write_files(
        tmp_path / "themes" / "mine",
        f"""
=== theme.yaml
{{name: mine, version: 3, extends: specimen-sheet}}
=== templates/not_found.html
{{% extends "base.html" %}}
{{% block main %}}<h1>{{{{ "Nothing is available now."|say }}}} {{{{ "The collection"|say }}}}</h1>{{% endblock %}}
=== locale/de.po
msgid ""
msgstr "Content-Type: text/plain; charset=utf-8\\n"

msgid "{claim}"
msgstr "Beweisbar {{gene}}.{{chance}}{{such}}{{others}}{{brackets}}"
""",
    )
    output = site(tmp_path, "de", tmp_path / "themes", "mine")
    page = (output / "litters" / "2022-a" / "01.html").read_text("utf-8")
    assert "etwa 67 von 100" in page
    assert "Beweisbar" not in page
    assert "<h1>Nothing is available now. Der Bestand</h1>" in (output / "404.html").read_text("utf-8")


def test_drawings_are_told_of_in_the_language_of_the_site(tmp_path: Path) -> None:
    page = (site(tmp_path, "de\ndrawings: true") / "index.html").read_text("utf-8")
    assert "Die Bilder auf diesen Seiten sind Zeichnungen, keine Fotos." in page
