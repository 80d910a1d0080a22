"""Free text that says more, less, or just what the evidence says."""

import re
import string
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path
from time import process_time

import pytest
from helpers.from_text import split_files
from helpers.said_texts import about, audited, contents, meant, prepared
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sitegen.build import Order, build
from sitegen.content.binding import bind_content
from sitegen.content.collection import latest_date
from sitegen.content.folder import read_content
from sitegen.content.texts import FreeText, Of
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.from_evidence import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.reasons import reasons
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.words.audit.sentences import read_text
from sitegen.words.audit.whole import audit
from sitegen.words.claims import headline, short_phrase
from sitegen.words.runs import plain
from sitegen.words.voice import Voice

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


def told(findings: tuple[Finding, ...]) -> list[tuple[Kind, str]]:
    return [(finding.kind, finding.message) for finding in findings]


def quoted(finding: Finding) -> str:
    """The words that the message quotes."""
    match = re.match(r'"(.*?)"', finding.message)
    assert match is not None
    return match[1]


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
    ("text", "words"),
    [
        ("A quiet female, 25% het hypo.", "25% het hypo"),
        ("She is possibly het amel.", "possibly het amel"),
        ("Possible het for anery.", "Possible het for anery"),
        ("66% het amel.", "66% het amel"),
        ("1/4 het hypo", "1/4 het hypo"),
        ("She may carry anery.", "carry anery"),
        ("10% chance of carrying hypo", "10% chance of carrying hypo"),
    ],
)
def test_words_that_say_less_are_a_notice(text: str, words: str) -> None:
    (finding,) = about(text)
    assert (finding.level, finding.kind, quoted(finding)) == (Level.NOTICE, Kind.UNDERCLAIM, words)


def test_an_animal_that_shows_a_gene_is_more_than_het_for_it() -> None:
    (finding,) = about("A motley, het amel.", "juniper")
    assert (finding.kind, quoted(finding)) == (Kind.UNDERCLAIM, "het amel")
    assert "two copies" in finding.expected


def test_what_hangs_on_a_previous_keepers_word_is_not_proven_and_is_to_be_called_so() -> None:
    (finding,) = about("Het caramel.", "flint")
    assert (finding.level, finding.kind) == (Level.NOTICE, Kind.OVERCLAIM)
    assert finding.nearest == "said to carry caramel"
    (finding,) = about("Proven het caramel.", "flint")
    assert finding.level is Level.ERROR


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("66%het hypo", "66%het hypo"),
        ("het. hypo 66%", "het. hypo 66%"),
        ("66 percent het hypo", "66 percent het hypo"),
        ("50-66% het hypo", "50-66% het hypo"),
        ("2 in 3 chance of being het hypo", "2 in 3 chance of being het hypo"),
        ("100% hypo", "100% hypo"),
        ("66% poss. het hypo", "66% poss. het hypo"),
        ("a 66% hypo het", "66% hypo het"),
        ("het hypo", "het hypo"),
        ("hets: hypo", "hets: hypo"),
        ("double het hypo and amel", "double het hypo and amel"),
        ("heterozygous for hypo", "heterozygous for hypo"),
        ("a proven hypo carrier", "proven hypo carrier"),
        ("carrier of hypo", "carrier of hypo"),
        ("She is carrying the hypo gene.", "carrying the hypo"),
        ("proven for hypo", "proven for hypo"),
        ("She is a ghost.", "ghost"),
        ("Ghost at three months", "Ghost"),
        ("This female is a light ghost.", "ghost"),
        ("Sorrel is motley.", "motley"),
        ("She shows amel.", "amel"),
        ("visual stripe", "stripe"),
        ("homozygous motley", "homozygous motley"),
        ("A striped motley with clean lines.", "striped motley"),
        ("100% het", ""),
        ("From Juniper and Flint, 66% het hypo.", "66% het hypo"),
        ("66% het hypo, would suit a beginner.", "66% het hypo"),
        ("Not tested yet, 66% het hypo.", "66% het hypo"),
        ("Her sire Flint is 100% het hypo.", "100% het hypo"),
        ("From a het hypo mother.", "het hypo"),
        ("Her dam, who is het caramel, is calm.", "het caramel"),
        ("Juniper's dam aside, Juniper is het caramel.", "het caramel"),
    ],
)
def test_every_way_of_writing_is_read(text: str, words: str) -> None:
    findings = about(text)
    if not words:  # some hidden gene of hers fits it
        assert findings == ()
        return
    assert {(finding.level, quoted(finding)) for finding in findings} == {(Level.ERROR, words)}


def test_a_name_is_read_as_what_the_animal_is() -> None:
    files = contents("=== animals/sorrel/animal.yaml\nabout: Snow is shy.\n")
    files = {**files, "animals/sorrel/animal.yaml": files["animals/sorrel/animal.yaml"].replace("Sorrel", "Snow")}
    findings = audited(files)
    assert {(meant(finding, files), finding.place and finding.place.line) for finding in findings} == {("Snow", 1)}


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


def test_an_expected_or_unlisted_litter_is_not_judged_by_young_that_do_not_exist() -> None:
    litter = "=== litters/2026-x/litter.yaml\ndam: juniper\nsire: flint\nothers: [{count: 3, shows: [anery]}]\n"
    assert audited(contents(f"{litter}about: All of them are 100% het caramel.\n")) == ()


def test_young_that_are_not_listed_count_where_they_show_it() -> None:
    text = "others: [{count: 2, shows: [anery]}]\nabout: There are two that carry anery.\n"
    assert audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\n{text}")) == ()


def test_a_promise_without_a_gene_is_a_notice() -> None:
    findings = audited(contents("=== pages/terms.md\nAll genetics guaranteed.\n\nOur animals are 100% proven.\n"))
    assert [(f.level, f.kind, quoted(f)) for f in findings] == [
        (Level.NOTICE, Kind.PROMISE, "guaranteed"),
        (Level.NOTICE, Kind.PROMISE, "100% proven"),
    ]


def test_names_of_two_species_are_not_mixed_up() -> None:
    assert told(about("Sorrel is het albino.")) == []
    (finding,) = about("Het stripe and het caramel? The former: 100% het stripe.", "umber")
    assert "Umber" in finding.message


def test_an_answer_that_is_missing_is_not_judged() -> None:
    clash = "=== animals/rue/animal.yaml\nspecies: corn-snake\nshows: []\nname: Rue\n"
    assert told(audited(contents(clash + "about: A calm male.\n"))) == []


@pytest.mark.parametrize(
    ("text", "whom"),
    [
        ("03 is 100% het hypo.", "No. 03 of 2024-juniper-flint"),
        ("No. 2 is 100% het hypo.", "No. 02 of 2024-juniper-flint"),
        ("The dam is het hypo.", "Juniper"),
        ("Flint (100% het hypo) is the sire.", "Flint"),
    ],
)
def test_whoever_is_named_in_a_text_about_a_litter_is_meant(text: str, whom: str) -> None:
    (finding,) = audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\nabout: {text}\n"))
    assert f"says more of {whom} than" in finding.message


def test_all_means_all_only_where_no_look_narrows_it() -> None:
    def findings(text: str) -> int:
        return len(audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\nabout: {text}\n")))

    assert findings("All of them are homozygous for anery.") == 1
    assert findings("All the anery ones are homozygous for anery.") == 0
    assert (
        findings("All the anery ones are het anery and het stripe.") == 1
    )  # stripe: more than any young of the litter


DEMO = Path(__file__).parents[3] / "content"


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


OVERCLAIMS = (
    "het hypo; Proven het hypo; 2/3 het hypo; Het ghost; She carries hypo; 100% het hypo and stripe; 10% het hypo; "
    "poss het amel; Homozygous for amel; Proven het caramel; het caramel; 10% het anery; super palmetto"
)


@pytest.mark.parametrize("animal", ["juniper", "flint", "sorrel"])
@pytest.mark.parametrize("text", OVERCLAIMS.split("; "))
def test_the_nearest_words_that_are_offered_are_right_themselves(text: str, animal: str) -> None:
    for finding in about(text, animal):
        if finding.nearest:
            assert told(about(f"A calm animal, {finding.nearest}.", animal)) == []


def test_a_site_that_overclaims_is_not_built(tmp_path: Path) -> None:
    content = Path(__file__).parents[2] / "mistakes" / "overclaim" / "content"
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

WORDS_OF_TEXTS = (
    *re.findall(r"\S+", """
    het hets 66% 100% 2/3 poss possible double dh super visual carries carrier proven guaranteed homozygous for the a of
    and or not no never amel anery hypo snow ghost palmetto motley stripe she he it is Juniper Flint Sorrel's dam sire
    mother young from x , . ? ! ; : ( ) “ ” " ' * _ [x](animals/flint.html) # - says keeper said if
    """),
    "\n",
    "\n\n",
)  # fmt: skip
TEXTS = st.lists(st.sampled_from(WORDS_OF_TEXTS), max_size=25).map(" ".join) | st.text(
    st.sampled_from(string.ascii_letters + string.digits + "%/ ,.*[]()_#\n“”’é")
)

MARKED = st.lists(
    st.sampled_from(
        [
            *("het", " ", "amel", "*", "**", "_", "~~", "`", "``", "[", "](", "x)", "]", "<", ">", "\\", "|", "\n"),
            *(
                "&#101;",
                "&shy;",
                "> ",
                "- ",
                "# ",
                "    ",
                "1. ",
                "---",
                "[x]: y",
                "\u200b",
                "é",
                "\t",
                "|-|-|\n",
                '"t"',
            ),
        ]
    )
).map("".join)
"""Marks of Markdown in any order."""


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
    opening = read_text(text).sentences[:1]
    said_first = read_text(text).plain[slice(*opening[0])] if opening else ""
    for kind, message in Counter(told(before)) - moved:  # only a look that opens the text counts there alone
        assert kind is Kind.OVERCLAIM
        assert message.split('"')[1] in " ".join(said_first.split())


def test_the_order_of_records_changes_nothing() -> None:
    files = contents(FIFTEEN_WAYS)
    turned = dict(reversed(list(files.items())))
    assert audited(turned) == audited(files)


@given(st.text() | TEXTS | MARKED)
def test_sentences_cover_every_word_once_and_every_sign_is_written_somewhere(text: str) -> None:
    read = read_text(text)
    assert len(read.plain) == len(read.spans)
    assert all(0 <= start < end <= len(text) for start, end in read.spans)
    ends = [0]
    for start, end in read.sentences:
        assert ends[-1] <= start < end <= len(read.plain)
        assert not read.plain[ends[-1] : start].strip()
        ends.append(end)
    assert not read.plain[ends[-1] :].strip()


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


def test_the_trades_word_for_what_was_is_no_claim_of_what_is() -> None:
    """As the reasons write it; the bare word beside it is more than the evidence."""
    moved = "From its parents alone it would be “66% het”; these young make it about 20 in 100."
    assert about(moved, "flint") == ()
    assert {finding.level for finding in about("It is 66% het amel.", "flint")} == {Level.ERROR}
