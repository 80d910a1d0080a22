"""Free text that says more, less, or just what the evidence says."""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path
from time import process_time

import pytest
from helpers.from_text import split_files
from helpers.said_texts import MARKED, TEXTS, about, audited, contents, meant, prepared, quoted, told
from hypothesis import example, given, settings

from sitegen.build import Order, build
from sitegen.content.binding import bind_content
from sitegen.content.collection import latest_date
from sitegen.content.folder import read_content
from sitegen.content.texts import FreeText, Of
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.reasons import reasons
from sitegen.findings import Kind, Level, Place
from sitegen.words.audit.seen import seen, sentences
from sitegen.words.audit.whole import audit
from sitegen.words.claims import headline, short_phrase
from sitegen.words.speech import Voice, plain

FIFTEEN_WAYS = """
=== animals/juniper/animal.yaml
about: |
  A striking female, 66% het hypo.
  She is calm today and het for caramel.
=== animals/flint/animal.yaml
about: >-
  Proven het hypo. He is 100 % het for amel
  and a super palmetto. Guaranteed het
  anery, stripe.
=== animals/sorrel/animal.yaml
about: "Snow female with a \\"clean\\" belly.\\nCarries anery for certain; she carries hypo."
acquired: {from: 'a friend''s shop, poss het stripe'}
line: 1/2 het hypo, from two parents
locality: DH ghost from Florida
=== litters/2024-juniper-flint/litter.yaml
about: |
  All of them are 50% het hypo. Young 03 shows anery.

  Every one is homozygous for amel.
=== pages/about.md
# About

Our *Juniper* has two copies of **anery**, and
[the sire](animals/flint.html) is a visual hypo.
"""
WORDS = [  # file, line, and the words from their exact column to their end on that line
    ("animals/juniper/animal.yaml", 8, "66% het hypo"),
    ("animals/juniper/animal.yaml", 9, "het for caramel"),
    ("animals/flint/animal.yaml", 8, "Proven het hypo"),
    ("animals/flint/animal.yaml", 8, "100 % het for amel"),
    ("animals/flint/animal.yaml", 9, "super palmetto"),
    ("animals/flint/animal.yaml", 9, "Guaranteed het"),
    ("animals/sorrel/animal.yaml", 8, "Snow"),
    ("animals/sorrel/animal.yaml", 8, "carries hypo"),
    ("animals/sorrel/animal.yaml", 9, "poss het stripe"),
    ("animals/sorrel/animal.yaml", 10, "1/2 het hypo"),
    ("animals/sorrel/animal.yaml", 11, "DH ghost"),
    ("litters/2024-juniper-flint/litter.yaml", 9, "50% het hypo"),
    ("litters/2024-juniper-flint/litter.yaml", 9, "anery"),
    ("litters/2024-juniper-flint/litter.yaml", 11, "homozygous for amel"),
    ("pages/about.md", 3, "has two copies of **anery"),
    ("pages/about.md", 4, "hypo"),
]


def test_fifteen_ways_to_overclaim_are_all_found_at_their_very_words() -> None:
    files = contents(FIFTEEN_WAYS)
    findings = audited(files)
    found = [(f.place.file, f.place.line, meant(f, files)) for f in findings if f.place]
    assert set(found) == set(WORDS)
    assert {finding.level for finding in findings} == {Level.ERROR}
    assert {finding.kind for finding in findings} == {Kind.OVERCLAIM}


def test_each_overclaim_says_what_the_evidence_supports_and_what_to_do() -> None:
    for finding in audited(contents(FIFTEEN_WAYS)):
        assert finding.expected.startswith("what the evidence supports: ")
        assert re.search(r"“[A-Z].*\.”$|is not known to carry|is not recorded as showing", finding.expected)
        assert "record the evidence" in finding.remedy
        assert "reviewed" in finding.remedy


def test_the_statement_of_the_site_itself_stands_beside_an_overclaim() -> None:
    (finding,) = about("A good eater, 66% het hypo.")
    third = Fraction(2, 3) * Fraction(1, 2)
    assert third == Fraction(1, 3)
    assert "about 33 in 100" in finding.expected
    assert str(third) in finding.expected
    assert finding.nearest == "33% het hypo"


HONEST = """
=== animals/juniper/animal.yaml
about: |
  Our first motley, het anery by a DNA test. An amel through and through.
captions: {}
=== animals/flint/animal.yaml
about: |
  An anery palmetto, 66% het hypo (about 67 in 100). His previous keeper said that he is het caramel.
=== animals/sorrel/animal.yaml
about: |
  Juniper's daughter. Het for amel, anery and motley, and 33% het hypo; whether she carries
  caramel nobody has tested. We do not guarantee anything.
=== litters/2024-juniper-flint/litter.yaml
about: |
  All of them are het amel. 02 shows anery; the others are het for it. Each is 33% het hypo.
=== pages/about.md
# About
Juniper carries anery; Flint is 66% het hypo, which means that 67 of 100 such males carry it.
"""


def test_an_honest_text_gives_no_finding() -> None:
    assert told(audited(contents(HONEST.replace("captions: {}\n", "")))) == []


@pytest.mark.parametrize(
    ("name", "level"),
    [
        ("Snow", Level.NOTICE),
        ("Ghost", Level.NOTICE),
        ("Old Ghost", Level.NOTICE),
        ("Snow female", Level.ERROR),
        ("Snow 3", Level.ERROR),
        ("Super Ghost", Level.ERROR),
        ("Snow Ghost", Level.ERROR),
        ("Ghost het hypo", Level.ERROR),
    ],
)
def test_a_name_that_is_only_a_name_is_a_notice_and_a_label_is_an_error(name: str, level: Level) -> None:
    """A title "Snow" can be taken for a claim, so it is asked about; it does not keep the site from being made."""
    path = "animals/sorrel/animal.yaml"
    files = contents()
    found = audited({**files, path: files[path].replace("Sorrel", name)})
    assert {level} == {finding.level for finding in found}, found
    assert {Kind.OVERCLAIM} == {finding.kind for finding in found}


def test_a_caption_and_an_entry_of_a_litter_are_read_against_their_animal() -> None:
    files = dict(contents())
    path = "litters/2024-juniper-flint/litter.yaml"
    files[path] = files[path].replace(
        '"03": {sex: female, shows: []}', '"03": {sex: female, shows: [], name: Ghost 66% het hypo}'
    )
    words = [meant(finding, files) for finding in audited(files)]
    assert words == ["Ghost", "66% het hypo"] or set(words) == {"Ghost", "66% het hypo"}
    assert all("Ghost 66% het hypo" in finding.message for finding in audited(files))


DEMO = Path(__file__).parents[4] / "content"


def test_the_sentences_that_the_site_makes_itself_are_right_as_text() -> None:
    content, _ = read_content(DEMO)
    collection, _ = bind_content(content)
    assert collection is not None
    asked = ask(gather(collection))
    answers, as_of = answers_of(asked), latest_date(collection)
    claims = claims_of(collection, answers, partial(reasons, asked), as_of)
    voice = Voice(collection, answers, as_of)
    texts = []
    for each in claims.values():
        for claim in each:
            texts += [
                FreeText(Of.ANIMAL, claim.animal, "about", plain(sentence), Place("nowhere", 1, 1))
                for sentence in (headline(claim, voice), short_phrase(claim, voice))
            ]
    assert len(texts) > 300
    said = audit(replace(collection, texts=tuple(texts)), answers, claims, {}, as_of)
    assert told(said) == []


def test_a_site_that_overclaims_is_not_built(tmp_path: Path) -> None:
    content = Path(__file__).parents[3] / "mistakes" / "overclaim" / "content"
    built = build(Order(content, tmp_path / "output", DEMO.parent / "themes"))
    assert Kind.OVERCLAIM in {finding.kind for finding in built.findings}
    assert built.published is None
    assert not (tmp_path / "output").exists()


# --- reviews


def test_reviewed_words_are_left_as_they_are_and_others_are_not() -> None:
    review = 'reviewed: {"66%  HET hypo": the name of her old pedigree}\n'
    files = contents(f"=== animals/sorrel/animal.yaml\nabout: 66% het hypo, het caramel.\n{review}")
    assert [meant(finding, files) for finding in audited(files)] == ["het caramel"]


def test_a_review_of_the_site_speaks_for_pages_and_one_of_a_project_for_its_notes() -> None:
    page = "=== pages/about.md\nAll is guaranteed.\n=== site.yaml\nname: X\nreviewed: {guaranteed: by law here}\n"
    assert told(audited(contents(page))) == []
    project = "=== projects/lace/project.yaml\nspecies: corn-snake\ngoal: {shows: [amel]}\n"
    note = "=== projects/lace/updates/2025-01-01-note.md\nJuniper is het hypo.\n"
    reviewed = "reviewed: {het hypo: a joke of ours}\n"
    assert told(audited(contents(project + reviewed + note))) == []
    assert len(audited(contents(project + note))) == 1


def test_texts_of_a_species_are_read_where_they_name_an_animal() -> None:
    gold = "  gold: {inheritance: recessive, about: Sorrel is het hypo., welfare: {text: Flint shows hypo.}}\n"
    path, other = "species/corn-snake.yaml", "species/sand-boa.yaml"
    corn = contents()
    corn = {**corn, path: corn[path] + "about: Juniper is het caramel.\n", other: corn[other] + gold}
    found = audited(corn)
    assert {(finding.place and finding.place.file, quoted(finding)) for finding in found} == {
        ("species/corn-snake.yaml", "het caramel"),
        ("species/sand-boa.yaml", "het hypo"),
        ("species/sand-boa.yaml", "hypo"),
    }
    reviewed = "=== site.yaml\nname: X\nreviewed: {het caramel: a joke, het hypo: another, shows hypo: a third}\n"
    assert told(audited({**corn, **dict(split_files(reviewed))})) == []


def test_a_review_without_reason_does_not_count_and_one_that_is_not_needed_is_told() -> None:
    files = contents("=== animals/sorrel/animal.yaml\nabout: 66% het hypo\nreviewed:\n  66% het hypo:\n  het amel: x\n")
    found = {finding.kind: finding for finding in audited(files)}
    assert set(found) == {Kind.OVERCLAIM, Kind.REVIEW_UNREASONED, Kind.REVIEW_UNUSED}
    assert found[Kind.REVIEW_UNREASONED].level is Level.ERROR
    assert found[Kind.REVIEW_UNUSED].level is Level.NOTICE
    assert meant(found[Kind.REVIEW_UNREASONED], files) == "66% het hypo"
    assert meant(found[Kind.REVIEW_UNUSED], files) == "het amel"


# --- places


@pytest.mark.parametrize(
    ("written", "line", "column"),
    [
        ("about: het hypo", 8, 8),
        ("about: 'it''s  het hypo'", 8, 16),
        ('about: "caf\\u00e9 \\"x\\" het hypo"', 8, 25),
        ("about: a long\n  plain text, het hypo", 9, 15),
        ("about: >-\n\n  folded\n  text, het hypo", 11, 9),
        ("about: |2-\n    deep\n  text, het hypo", 10, 9),
        ("about: |\n  tab\there, het hypo", 9, 13),
        ("about: «zwölf» het hypo", 8, 16),
    ],
)
def test_the_place_is_exact_however_the_text_is_written(written: str, line: int, column: int) -> None:
    files = contents(f"=== animals/sorrel/animal.yaml\n{written}\n")
    (finding,) = audited(files)
    assert (finding.place and (finding.place.line, finding.place.column)) == (line, column)
    assert meant(finding, files) == "het hypo"


# --- laws


@settings(max_examples=150, deadline=None)
@given(TEXTS | MARKED)
def test_no_text_stops_the_audit_and_every_place_is_in_the_file(text: str) -> None:
    files = contents(f"=== pages/about.md\n{text}\n")
    for finding in (*about(text), *audited(files)):
        assert finding.place is not None
        assert finding.width > 0


@settings(max_examples=150, deadline=None)
@given(TEXTS | MARKED)
@example("amel , Sorrel's amel")
def test_a_neutral_sentence_changes_no_finding(text: str) -> None:
    before = about(text)
    after = about(f"{text}\n\nShe likes the warm end of her box.")
    assert [(finding.place, *told((finding,))) for finding in after] == [
        (finding.place, *told((finding,))) for finding in before
    ]
    moved = Counter(told(about(f"She likes the warm end of her box.\n\n{text}")))
    assert moved <= Counter(told(before))  # how often each is told, for the same may be said twice
    opening = list(sentences(seen(text).text))[:1]
    said_first = seen(text).text[slice(*opening[0])] if opening else ""
    for kind, message in Counter(told(before)) - moved:  # only a look that opens the text counts there alone
        assert kind is Kind.OVERCLAIM
        assert message.split('"')[1] in " ".join(said_first.split())


def test_the_order_of_records_changes_nothing() -> None:
    files = contents(FIFTEEN_WAYS)
    turned = dict(reversed(list(files.items())))
    assert audited(turned) == audited(files)


def test_a_thousand_animals_with_texts_take_well_under_a_second() -> None:
    text = "A calm female with clean lines. She carries what her dam carried; 33% het hypo, from Juniper and Flint. "
    record = "=== animals/a{0}/animal.yaml\nname: Ash {0}\nspecies: corn-snake\nsex: female\nshows: []\nabout: {1}\n"
    one, many = (
        contents(
            "".join(record.format(n, text * 3) for n in range(count))
            + "=== animals/x/animal.yaml\nspecies: corn-snake\n"
        )
        for count in (100, 1000)
    )
    spent = []
    for files in (one, many):
        from_start = _timed(files)
        spent.append(from_start)
    assert spent[1] < 3
    assert spent[1] < 20 * max(spent[0], 0.01)


def _timed(files: Mapping[str, str]) -> float:
    run = prepared(files)
    start = process_time()
    run()
    return process_time() - start
