"""Denials are claims too: who says "does not carry" says more than "not known to carry" (design 3.2)."""

import pytest
from helpers.said_texts import about, audited, contents

from sitegen.findings import Kind, Level

FALSE = [  # Sorrel carries amel, anery and motley, and may carry hypo and caramel
    ("She does not carry hypo.", "does not carry hypo"),
    ("She doesn’t carry caramel.", "doesn’t carry caramel"),
    ("She is not het for hypo.", "is not het for hypo"),
    ("Not het amel.", "Not het amel"),
    ("She isn't a carrier of hypo.", "isn't a carrier of hypo"),
    ("She carries no hypo.", "carries no hypo"),
    ("Free of hypo and caramel.", "Free of hypo and caramel"),
    ("She is clear of caramel.", "clear of caramel"),
    ("She has no copy of anery.", "no copy of anery"),
    ("No het hypo in her.", "No het hypo"),
    ("Het caramel can be excluded.", "Het caramel can be excluded"),
    ("She is neither het caramel nor het stripe.", "neither het caramel"),
    ("No hidden genes.", "No hidden genes"),
    ("A plain female: no hets, no worries.", "no hets"),
    ("She is genetically clean.", "genetically clean"),
    ("She carries nothing.", "carries nothing"),
    ("She does **not** c\u200barry hypo.", "does not carry hypo"),
]


@pytest.mark.parametrize(("text", "words"), FALSE)
def test_a_denial_of_what_may_be_so_is_an_overclaim(text: str, words: str) -> None:
    found = about(text)
    assert {(finding.level, finding.kind) for finding in found} == {(Level.ERROR, Kind.OVERCLAIM)}
    assert found[0].message.startswith(f'"{words}')
    assert "what the evidence supports: “" in found[0].expected


@pytest.mark.parametrize(
    ("animal", "text"),
    [("juniper", "She does not carry caramel."), ("umber", "No hidden genes."), ("umber", "He carries no stripe.")],
)
def test_a_denial_that_nothing_speaks_against_is_a_notice_and_the_right_words_are_offered(
    animal: str, text: str
) -> None:
    (finding,) = about(text, animal)
    assert (finding.level, finding.kind) == (Level.NOTICE, Kind.OVERCLAIM)
    assert 'write "not known to carry ' in finding.remedy
    assert "is not known to carry" in finding.expected


FOUNDED = [
    ("sorrel", "She does not carry tessera."),  # dominant: it would be seen
    ("juniper", "She does not carry stripe."),  # motley fills both places
    ("juniper", "She is not het hypo by a test."),
]


@pytest.mark.parametrize(("animal", "text"), FOUNDED)
def test_a_founded_denial_is_right(animal: str, text: str) -> None:
    tested = "tests: [{locus: anery, result: +/anery}, {locus: hypo, result: +/+}]"
    files = {
        path: written.replace("tests: [{locus: anery, result: +/anery}]", tested)
        for path, written in contents().items()
    }
    path = f"animals/{animal}/animal.yaml"
    assert audited({**files, path: files[path] + f"about: {text}\n"}) == ()


SILENT = [
    "She is not known to carry hypo, and no hidden genes are known of her.",
    "She does not carry caramel, as far as anybody knows.",
    "Does she not carry hypo? If she does not carry hypo, her young will tell.",
    "Nobody can say that she does not carry hypo.",
    "She may not carry hypo. Perhaps she does not carry it; perhaps not het hypo at all.",
    "Her previous keeper said that she does not carry caramel.",
    "She is not 100% het hypo, she is not proven het hypo, and not a proven hypo carrier.",
    "A clean belly, a clean box, clean lines and a clear eye; free of mites.",
    "No hets were bought this year. No known hets.",
    "She carries nothing but her age. She carries no grudge.",
]  # fmt: skip


@pytest.mark.parametrize("text", SILENT)
def test_what_only_looks_like_a_denial_stays_silent(text: str) -> None:
    assert [finding.message for finding in about(text)] == []
