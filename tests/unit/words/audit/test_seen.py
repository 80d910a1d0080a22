"""What a reader sees is what is audited: spellings that look like an overclaim are found, innocent ones are not.

Sorrel may carry hypo (1/3), and Rue, of two parents that are het amel, may carry amel (2/3).
Look-alikes: Unicode Technical Standard 39; invisible characters: DerivedCoreProperties.txt.
"""

import unicodedata

import pytest
from helpers.said_texts import MARKED, TEXTS, audited, contents, meant
from hypothesis import given
from hypothesis import strategies as st

from sitegen.findings import Finding, Kind, Level
from sitegen.words.audit.seen import ALL_LOOKS, FOREIGN_LOOKS, LATIN_LOOKS, folded, seen, sentences

FAMILY = """
=== animals/oak/animal.yaml
species: corn-snake
sex: male
name: Oak
shows: []
stated: {amel: certain}
=== animals/elm/animal.yaml
species: corn-snake
sex: female
name: Elm
shows: []
stated: {amel: certain}
=== animals/rue/animal.yaml
species: corn-snake
sex: male
name: Rue
dam: elm
sire: oak
shows: []
"""


def found(text: str, key: str = "about") -> tuple[tuple[Finding, ...], dict[str, str]]:
    lines = "\n".join(f"    {line}" for line in text.split("\n"))
    written = f"{key}: |2\n{lines}\n" if key == "about" else f"captions:\n  2025-01-01.jpg: |2\n{lines}\n"
    files = dict(contents(f"{FAMILY}{written}"))
    if key == "name":
        files["animals/rue/animal.yaml"] = files["animals/rue/animal.yaml"].replace("name: Rue\n", "")
    return audited(files), files


SPELLINGS = {
    "plain": "100% het amel",
    "capitals": "100% HET AMEL",
    # what cannot be seen
    "zero width space in a word": "100% h\u200bet amel",
    "zero width joiner in the gene": "100% het am\u200del",
    "zero width non-joiner": "100% het a\u200cmel",
    "soft hyphen": "100% h\u00adet am\u00adel",
    "word joiner": "100% he\u2060t amel",
    "zero width no-break space": "100% het\ufeff amel",
    "variation selector": "100% h\ufe0fet amel",
    "a high variation selector": "100% het am\U000e0101el",
    "tags": "100% h\U000e0065et amel",
    "Hangul filler": "100% h\u3164et amel",
    "combining grapheme joiner": "100% h\u034fet amel",
    "left-to-right mark": "100% h\u200eet amel",
    "Mongolian vowel separator": "100% h\u180eet amel",
    "combining long stroke": "100% h\u0336e\u0336t\u0336 amel",
    "marks upon marks": "100% h\u0301\u0302et a\u0308mel",
    "accents": "100% hét ämel",
    "no-break spaces": "100\u00a0%\u202fhet\u2003amel",
    "ideographic space": "100%\u3000het\u3000amel",
    # letters that look alike
    "Cyrillic е": "100% hеt amel",
    "Cyrillic а and е": "100% het аmеl",
    "Cyrillic shha and te": "100% һeт amel",
    "all capitals Cyrillic": "100% НЕТ amel",
    "all capitals Greek": "100% ΗΕΤ amel",
    "Greek alpha": "100% het αmel",
    "Armenian ho": "100% հet amel",
    "Cherokee": "100% ᎻᎬᎢ amel",
    "Lisu": "100% ꓧꓰꓔ ꓮꓟꓰꓡ",
    "palochka": "100% het ameӏ",
    "fullwidth": "１００％ ｈｅｔ ａｍｅｌ",
    "mathematical bold": "100% 𝐡𝐞𝐭 𝐚𝐦𝐞𝐥",
    "mathematical script": "100% 𝒽ℯ𝓉 𝒶𝓂ℯ𝓁",
    "Fraktur": "100% 𝔥𝔢𝔱 𝔞𝔪𝔢𝔩",
    "double-struck": "𝟙𝟘𝟘% 𝕙𝕖𝕥 𝕒𝕞𝕖𝕝",
    "small capitals": "100% ʜᴇᴛ ᴀᴍᴇʟ",
    "letters in circles": "100% ⓗⓔⓣ ⓐⓜⓔⓛ",
    "letters in black squares": "100% 🅷🅴🆃 🅰🅼🅴🅻",
    "raised letters": "100% ʰᵉᵗ ᵃᵐᵉˡ",
    "Latin letters with strokes": "100% ħɇŧ amel",
    "script a of phonetics": "100% het ɑmel",
    "capital I for l": "100% het ameI",
    "one for l": "100% het ame1",
    "a footnote behind the gene": "100% het amel¹",
    "a trade mark behind the gene": "100% het Amel™",
    "underscores": "100%_het_amel",
    # numbers
    "letters O for zeros": "1OO% het amel",
    "Cyrillic О for zeros": "1ОО% het amel",
    "Arabic-Indic digits": "١٠٠٪ het amel",
    "Devanagari digits": "१००% het amel",
    "raised digits": "¹⁰⁰% het amel",
    "small percent sign": "100﹪ het amel",
    "per cent": "100 per cent het amel",
    "in words": "one hundred percent het amel",
    "a hundred": "a hundred per cent het amel",
    "Prozent": "100 Prozent het amel",
    "Roman": "C% het amel",
    "Roman as one sign": "Ⅽ% het amel",
    "pct": "100 pct het amel",
    "three quarters": "¾ het amel",
    "nine tenths in words": "nine tenths het amel",
    "out of": "100 out of 100 chance of being het amel",
    "ninety-nine": "ninety-nine percent het amel",
    # Markdown
    "emphasis in a word": "100% h**e**t amel",
    "emphasis around": "***100%*** *het* __amel__",
    "code": "`100%` `het` `amel`",
    "a link": "100% [het](https://example.org/a_b?het=no) [amel](pages/care.html 'a title')",
    "a link in angle brackets": "100% [het](<pages/a b.html>) amel",
    "a link by reference": "100% [het][x] amel\n\n[x]: pages/care.html",
    "numeric entity": "100% h&#101;t amel",
    "hexadecimal entity": "100% het &#x61;mel",
    "named entities": "100&percnt;&nbsp;h&shy;et amel",
    "backslashes": "100\\% het\\_amel",
    "struck doubt": "100% ~~not~~ het amel",
    "struck possibility": "~~possibly~~ het amel",
    "a heading": "# 100% het amel",
    "a heading with a line": "100% het amel\n=====",
    "a line break in the phrase": "100%\nhet\namel",
    "a hard line break": "100% het\\\namel",
    "two blanks at the end of the line": "100% het  \namel",
    "quoted block": "> 100%\n> het amel",
    "a list item over two lines": "- 100% het\n  amel",
    "a nested list": "- calm\n  1. 100% **het** amel",
    "a table row": "| odds | gene |\n|---|---|\n| 100% het | amel |",
    "a table cell": "| a | b |\n|---|---|\n| y | 100% h*e*t amel |",
    "a code block": "```\n100% het amel\n```",
    "the title of a link": "[Rue](animals/rue.html '100% het amel')",
    "a picture's words": "![100% het amel](rue.jpg)",
}


@pytest.mark.parametrize("how", SPELLINGS)
def test_an_overclaim_is_found_however_it_is_spelled(how: str) -> None:
    findings, files = found(SPELLINGS[how])
    assert [(finding.level, finding.kind) for finding in findings] == [(Level.ERROR, Kind.OVERCLAIM)]
    (finding,) = findings
    assert "says more of Rue than" in finding.message
    words = meant(finding, files)
    assert words.strip()
    assert finding.place is not None
    assert finding.place.line > files["animals/rue/animal.yaml"].split("\n").index("about: |2")


MARKED_ONLY = ("a table", "a link", "struck")


@pytest.mark.parametrize("how", [how for how in SPELLINGS if not how.startswith(MARKED_ONLY)])
def test_a_caption_is_read_the_same_way(how: str) -> None:
    findings, _ = found(SPELLINGS[how], "captions")
    assert (Level.ERROR, Kind.OVERCLAIM) in [(finding.level, finding.kind) for finding in findings]


def test_words_between_tildes_are_withdrawn_only_where_the_page_strikes_them() -> None:
    """A caption is printed as it is written, tildes and all."""
    assert found("~~100% het amel~~ No longer.")[0] == ()
    assert len(found("~~100% het amel~~ No longer.", "captions")[0]) == 1


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Calm. 100% h**e**t amel, shy", "100% h**e**t amel"),
        ("Calm. 100% h\u200bet am\u00adel, shy", "100% h\u200bet am\u00adel"),
        ("Calm. 100% h&#101;t amel, shy", "100% h&#101;t amel"),
        ("A [calm](het_amel.html) one, 100% het ame**l**", "100% het ame**l"),
        ("| het amel? | b |\n|---|---|\n| x \\| y | is 100% het amel |", "100% het amel"),
        ("- one\n  - two, 100% het amel", "100% het amel"),
        ("> 🐍🐍 ١٠٠٪ het amel", "١٠٠٪ het amel"),
    ],
)
def test_the_place_is_that_of_the_written_words(text: str, words: str) -> None:
    findings, files = found(text)
    assert [meant(finding, files) for finding in findings if finding.level is Level.ERROR] == [words]


INNOCENT = [  # about Rue, who may carry amel (67 in 100)
    "Ein schönes Männchen, ruhig und größer als seine Geschwister; möglicherweise 66% het amel.",
    "Hätte er amel, wäre er rot. Er häutet sich über Nacht.",
    "Heterodon und Hétérodon sind andere Gattungen. L’hétérozygotie se discute.",
    "Un mâle calme, « très doux », 66 % het amel – né chez nous.",
    "Красивый самец, спокойный. Нет, он не амел.",
    "НЕТ AMEL, говорим мы, и это правда.",
    "Это хет, как говорят у нас: 66% het amel.",
    "Όμορφο αρσενικό, ήρεμο και τρώει καλά.",
    "ΗΕΤ ήταν μια λέξη χωρίς νόημα.",
    "Rue’s dam — Elm’s line — is “calm”; he’s 2⁄3 het amel.",
    "66\u00a0% het amel, 66％ het amel, ⅔ het amel, sixty-six percent het amel.",
    "two thirds het amel; a 2 in 3 chance of being het amel",
    "Two in three such young carry amel, about 67 in 100.",
    "He eats one hundred percent of what he gets, and 100 % of his sheds came off whole.",
    "Han är lugn och äter bra. Een rustig dier; het dier eet goed.",
    "Spokojny samiec, łagodny, żywy; świetnie je.",
    "Sakin bir erkek, ışıkta parlak.",
    "他很安静，吃得很好。66% het amel。",
    "هو هادئ ويأكل جيدا.",
    "Il mange bien. C'est l'été, et il est né un 14 juillet.",
    "Fed 🐭 weekly 👍🏽, shed 👨\u200d👩\u200d👧 approved, ❤\ufe0f.",
    "H2O in his bowl, 10 µm filter, β-carotene none, 3×2 m², F1 and CB21.",
    "T-позитивный не значит T+. IT-отдел, ДНК-тест не делали.",
    "~~100% het amel~~ 66% het amel: corrected on the day we saw her litter.",
    "He is ~~het amel for certain~~ perhaps het amel.",
    "Hi-het-too is a band; heath and hetman are words; cheто is none.",
    "Hamelin is a town (Hameln), and caramelised is what his back looks like, ‘camel’ not.",
    "`het` is short for heterozygous, as every *Hét* and **hetman** knows.",
    "See [his dam](animals/elm.html '66% het'), or <https://example.org/100%25-het-amel>.",
    "| gene | of 100 |\n|---|---|\n| amel | 67 |",
    "1. calm\n2. eats\n3. 66% het amel",
    "Naïve, coöperative, façade; Ærø, Straße, Łódź, Đuro, İzmir.",
]  # fmt: skip


@pytest.mark.parametrize("text", INNOCENT)
def test_an_innocent_sentence_of_any_language_stays_silent(text: str) -> None:
    findings, files = found(text)
    assert [(meant(finding, files), finding.message) for finding in findings] == []


def test_names_with_accents_and_in_other_scripts_are_still_known() -> None:
    files = {path: text.replace("Rue", "Zoë Жанна") for path, text in contents(FAMILY).items()}
    page = {"pages/about.md": "Zoë Жанна is 100% het amel. Zoe\u0308 Жанна is 66% het amel.\n"}
    (finding,) = audited({**files, **page})
    assert "Zoë Жанна" in finding.message


def test_each_look_alike_is_another_letter_than_the_one_it_looks_like() -> None:
    """The table holds nothing that NFKD does already, and no letter twice."""
    for table in (LATIN_LOOKS, FOREIGN_LOOKS):
        for look, letter in table.items():
            assert letter.isascii()
            assert not look.isascii()
            assert not unicodedata.normalize("NFKD", look).isascii()
    assert all(unicodedata.name(look).startswith("LATIN") or look == "℮" for look in LATIN_LOOKS)
    assert not any(unicodedata.name(chr(look)).startswith("LATIN") for look in ALL_LOOKS)


@pytest.mark.parametrize("text", ["plain words, 66% het", "Juniper’s first – and last – clutch (2/3)."])
def test_plain_text_is_seen_as_it_is_written(text: str) -> None:
    looks = seen(text)
    assert looks.text.rstrip() == text
    assert looks.spans[: len(text)] == tuple((at, at + 1) for at in range(len(text)))
    assert folded(text) == text


@given(st.text() | TEXTS | MARKED)
def test_sentences_cover_every_word_once_and_every_sign_is_written_somewhere(text: str) -> None:
    read = seen(text)
    assert len(read.text) == len(read.spans)
    assert all(0 <= start < end <= len(text) for start, end in read.spans)
    ends = [0]
    for start, end in sentences(read.text):
        assert ends[-1] <= start < end <= len(read.text)
        assert not read.text[ends[-1] : start].strip()
        ends.append(end)
    assert not read.text[ends[-1] :].strip()
