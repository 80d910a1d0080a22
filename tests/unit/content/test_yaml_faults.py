"""Characters that cannot be seen are told where nothing needs them.

Sources: Unicode UAX 9 (directions), UTS 39 section 3.1 and DerivedCoreProperties.txt (Default_Ignorable_Code_Point),
UTS 51 (joiners, selectors and tags of pictures), UAX 14 (U+200B and U+00AD as places for a line to break).
"""

import pytest

from sitegen.content.yaml_faults import hidden_findings
from sitegen.content.yaml_tree import parse_tree
from sitegen.findings import Kind, Level

NEEDLESS = [
    "h\u200bet",
    "h\u200c\u200cet",
    "h\u200det",
    "h\u00adet",
    "he\u2060t",
    "\ufeffhet",
    "het\u200b amel",
    "h\u3164et",
    "h\u115fet",
    "h\ufe0fet",
    "h\U000e0101et",
    "h\U000e0065et",
    "h\u034fet",
    "h\u200eet",
    "h\u061cet",
    "h\u180eet",
    "не\u200bт",
    "h\u2063et",
]
NEEDED = [
    "Straßen\u00adbahn",
    "amel\u00adanistic",
    "می\u200cخواهم",
    "क्\u200dष",
    "👨\u200d👩\u200d👧",
    "❤\ufe0f",
    "葛\U000e0100",
    "1\ufe0f\u20e3",
    "🏴\U000e0067\U000e0062\U000e0073\U000e0063\U000e0074\U000e007f",
    "سعيد\u200f (het)",
    "ภาษา\u200bไทย",
    "ᠮᠣᠩ\u180eᠠ",
    "café",
    "plain",
]


@pytest.mark.parametrize("text", NEEDLESS)
def test_what_is_not_seen_and_not_needed_is_a_notice_at_its_place(text: str) -> None:
    (finding,) = hidden_findings(f"Calm.\nA {text} one", file="pages/about.md")
    assert (finding.level, finding.kind) == (Level.NOTICE, Kind.TEXT_MISLEADING)
    assert "cannot be seen and is needed by nothing: U+" in finding.message
    assert finding.place is not None
    assert finding.place.line == 2
    _, findings = parse_tree(f"about: A {text} one\n", "a.yaml")
    assert {Kind.TEXT_MISLEADING} == {each.kind for each in findings}


@pytest.mark.parametrize("text", NEEDED)
def test_what_a_script_needs_is_left_alone(text: str) -> None:
    assert hidden_findings(f"A {text} one", file="pages/about.md") == ()


def test_a_character_that_turns_the_text_around_stays_an_error() -> None:
    turned, needless = hidden_findings("h\u200bet \u202elema", file="pages/about.md")
    assert (turned.level, needless.level) == (Level.ERROR, Level.NOTICE)
