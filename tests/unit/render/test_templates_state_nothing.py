"""What stands in a template are headings, labels and buttons: every sentence that states a fact comes with the page."""

from pathlib import Path

import pytest
from helpers.words_of_the_product import literals, templates

from sitegen.site.paper import PaperWords
from sitegen.words.labels import BUTTONS, HEADINGS, LABELS, Labels

PLACES = {
    **dict.fromkeys(("h1", "h2", "h3", "h4"), HEADINGS),
    **dict.fromkeys(("th", "dt", "label", "option", "span", "aria-label", "argument"), LABELS),
    **dict.fromkeys(("a", "button", "summary"), BUTTONS),
}
"""Element, attribute or ``argument`` of a macro, to the words that may stand there. A paragraph is none of them."""
DECLARED = HEADINGS | LABELS | BUTTONS
every_template = pytest.mark.parametrize(
    "template", list(templates()), ids=lambda path: f"{path.parts[-3]}/{path.name}"
)


@every_template
def test_no_word_stands_in_a_template_past_the_catalogue(template: Path) -> None:
    assert [literal for literal in literals(template) if not literal.said] == []


@every_template
def test_every_word_of_a_template_is_declared_for_where_it_stands(template: Path) -> None:
    said = [literal for literal in literals(template) if literal.said]
    assert [each for each in said if each.words not in PLACES.get(each.place, ())] == []


@every_template
def test_no_word_of_a_template_stands_where_something_is_missing(template: Path) -> None:
    """An ``else`` with words of its own would claim something: that a page has no litter, that nothing is known."""
    assert [literal for literal in literals(template) if literal.otherwise] == []


def test_no_heading_label_or_button_is_a_sentence() -> None:
    assert [words for words in DECLARED if words.endswith((".", "!", "?", ":")) or ". " in words] == []
    denials = {words for words in DECLARED if {"no", "not", "none", "nothing", "never"} & set(words.lower().split())}
    assert denials == {"No longer here", "Not listed one by one"}  # each above a list of just such animals


def test_nothing_is_declared_that_no_carried_template_says() -> None:
    assert {literal.words for path in templates() for literal in literals(path) if literal.said} == DECLARED


def test_the_short_words_of_pages_are_no_sentences_either() -> None:
    for words in (Labels(), PaperWords()):
        told = [getattr(words, name) for name in words.__slots__]
        assert [each for each in told if each.endswith(".")] == []


@pytest.mark.parametrize(
    ("template", "fault"),
    [
        ("<p>Nobody is here.</p>", ("p", False, False)),
        ('<p>{{ "Nobody is here"|say }}</p>', ("p", True, False)),
        ('{% for a in page.b %}x{% else %}<h2>{{ "Here"|say }}</h2>{% endfor %}', ("h2", True, True)),
        ('<h2 title="It is proven">{{ page.a }}</h2>', ("title", False, False)),
        ('{{ plate(page.a, "No picture was taken") }}', ("argument", False, False)),
        ('<p>{% if page.a %}{{ "It is so" }}{% endif %}</p>', ("p", False, False)),
    ],
)
def test_a_statement_in_a_template_would_be_found(tmp_path: Path, template: str, fault: tuple[str, bool, bool]) -> None:
    path = tmp_path / "page.html"
    path.write_text(template, "utf-8")
    assert [(each.place, each.said, each.otherwise) for each in literals(path)][-1:] == [fault]
