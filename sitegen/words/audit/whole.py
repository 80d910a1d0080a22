"""The audit of free text: everything the breeder wrote in words, read against what the evidence supports."""

import datetime as dt
import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, islice

from sitegen.content.collection import Collection, latest_date
from sitegen.content.texts import FreeText, Of, Review
from sitegen.evidence.answers import Answers
from sitegen.evidence.kinds import Claim
from sitegen.findings import Finding, Kind, Level, Place, in_order
from sitegen.genetics.questions import AnimalId
from sitegen.words.audit.context import Meant, as_denied, how_meant, promises
from sitegen.words.audit.judging import Judge, Quotation, Verdict, finding_of, name_finding, promise_finding
from sitegen.words.audit.lexicon import lexicon_of
from sitegen.words.audit.off_site import named_in_ids, named_in_text, patterns_of, shown_texts
from sitegen.words.audit.seen import seen, sentences
from sitegen.words.audit.shorthand import Says, Shorthand, Statement
from sitegen.words.audit.subjects import ReadSentence, Subjects
from sitegen.words.speech import Voice

_LABELS = ("name",)
_OPENING = ("captions", "about")
_PROSE = ("about", "welfare", "page", "update")
"""Texts that pages print as Markdown; the others are printed as they are written."""
_WORTH_READING = re.compile(
    r"(?i)het|carr|prove|guarant|homo|super|visual|cop(?:y|ies)|%|per\s?cent|\d\s?/\s?\d|\d\s+in\s+\d|\bdh\b|\bth\b"
    r"|trag|kopie|erbig|kein|frei|nicht|zeig|wild|clutch|\bwill\b|\bh\.|\baa\b|\d\.\d|hidden|clean|clear|free|negative|recessiv|without|shows|showing|display|express|\bis\b|['’]s\b|100"
)
"""A text without any of this, and without a gene's name, claims nothing."""
_NAME_WORDS = re.compile(r"[^\W\d_]+(?:[ '’-][^\W\d_]+){0,2}")
_LABEL_WORDS = re.compile(
    r"(?i)\b(?:het|hets|super|visual|homo\w*|poss\w*|pos|carrier|proven|female|male|girl|boy|snake|boa|corn|python|gecko|adult"
    r"|young|hatchling|baby|pair|project|for sale|and|with|x)\b"
)
_OF_OTHERS = re.compile(
    r"(?i)\b(?:hatch\w*|born|pipp\w*|young|clutch|litter|offspring|sons?|daughters?|siblings?|brothers?|sisters?|sired"
    r"|produced|gave|came|parents?|mother|father|kept back)\b"
)


def audit(
    collection: Collection,
    answers: Answers,
    claims: Mapping[AnimalId, tuple[Claim, ...]],
    texts: Mapping[str, str],
    as_of: dt.date | None = None,
) -> tuple[Finding, ...]:
    """Every statement of the breeder's own words that says more than the evidence (an error) or less (a notice).

    And every word that names what is kept off the site (a notice). A gene without an answer is not judged. ``texts``
    are the files as they stand, to point at the words.
    """
    voice = Voice(collection, answers, as_of or latest_date(collection))
    reading = _Audit(voice, claims, texts)
    found = [finding for free in collection.texts for finding in reading.of_text(free)]
    if patterns := patterns_of(collection):
        found += [finding for free in shown_texts(collection) for finding in reading.naming(free, patterns[0])]
        found += named_in_ids(collection, patterns[1])
    return in_order([*found, *reading.reviewed.findings()])


class _Audit:
    """One run over all texts."""

    def __init__(self, voice: Voice, claims: Mapping[AnimalId, tuple[Claim, ...]], files: Mapping[str, str]) -> None:
        collection = voice.collection
        lexicons = {species.id: lexicon_of(species) for species in collection.species.values()}
        self._voice, self._files = voice, files
        self._judge = Judge(voice, claims)
        self._subjects = Subjects(collection)
        self._shorthand = {species: Shorthand(lexicon) for species, lexicon in lexicons.items()}
        self._gene = re.compile("|".join(lexicon.name for lexicon in lexicons.values()) or r"(?!)", re.IGNORECASE)
        self._placing: Placing | None = None
        self.reviewed = Reviewed(collection.reviews)

    def of_text(self, free: FreeText) -> Iterator[Finding]:
        """The findings of one text."""
        text = seen(free.text, struck=free.key not in _PROSE)
        names_count = free.key in (*_LABELS, *_OPENING)
        if not (_WORTH_READING.search(text.text) or (names_count and self._gene.search(text.text))):
            return
        for number, (start, end) in enumerate(sentences(text.text)):
            read = ReadSentence(free, text, start, end, self._subjects.names(text, start, end))
            covered: list[tuple[int, int]] = []
            for species in self._species(read):
                for statement in self._statements(read, species, first=not number):
                    covered.append((statement.start, statement.end))
                    yield from self._of_statement(read, statement, species)
            for first, last in promises(text.text, read.span):
                apart = not any(first < to and at < last for at, to in covered)
                if apart and not self.reviewed.covers(free.place.file, text.text, first, last):
                    yield promise_finding(self._quotation(read, first, last))

    def naming(self, free: FreeText, off_site: re.Pattern[str]) -> Iterator[Finding]:
        """Where a text names what is kept off the site."""
        for match in off_site.finditer(free.text):
            if not self.reviewed.covers(free.place.file, free.text, *match.span()):
                yield named_in_text(match[0], *Placing(free, self._files).find(*match.span()))

    def _species(self, read: ReadSentence) -> tuple[str, ...]:
        """The species whose names count in a sentence: that of the record, and those of the animals named in it."""
        collection, free = self._voice.collection, read.free
        named = [animal for _, _, animals in read.names for animal in animals]
        record = collection.animals.get(free.id) if free.of is Of.ANIMAL else collection.litters.get(free.id)
        first = [record.species] if record else []
        return tuple(dict.fromkeys([*first, *(collection.animals[animal].species for animal in named)]))

    def _statements(self, read: ReadSentence, species: str, *, first: bool) -> Iterator[Statement]:
        """What a sentence states of genes; an animal's name is a statement only where the animal is named.

        A gene's name that begins a caption, or the first sentence about an animal, says what the animal is, unless the
        sentence is about others.
        """
        plain, own, key = read.text.text, read.free.of is Of.ANIMAL, read.free.key
        opens = own and (key == "captions" or (key == "about" and first)) and not _OF_OTHERS.search(plain, *read.span)
        label = own and key in _LABELS
        names = [] if label else read.names
        begins = [start for start, _, _ in names]
        for statement in self._shorthand[species].read(plain, *read.span, names=begins, label=label, opens=opens):
            named = any(start <= statement.start and statement.end <= end for start, end, _ in names)
            if not (named and statement.says is Says.SHOWS):
                yield statement

    def _of_statement(self, read: ReadSentence, statement: Statement, species: str) -> Iterator[Finding]:
        """The findings of one statement, one for each gene that is not as the evidence says."""
        free, plain = read.free, read.text.text
        meant = how_meant(plain, read.span, statement, after_as=free.key == "from")
        if meant is Meant.NOT_CLAIMED:
            return
        if meant is Meant.DENIED:
            statement = as_denied(plain, read.span, statement)
        elif meant is Meant.PERHAPS and statement.says is Says.CARRIES:
            statement = replace(statement, says=Says.MAY_CARRY)
        elif meant is Meant.PERHAPS and statement.says is not Says.MAY_CARRY:
            return
        wrong = list(self._judge.judge(statement, self._subjects.whose(read, statement), species))
        if not wrong or self.reviewed.covers(free.place.file, plain, statement.start, statement.end):
            return
        quotation = self._quotation(read, statement.start, statement.end)
        if self._only_a_name(free, plain, statement) and wrong[0].verdict is Verdict.MORE:
            yield name_finding(wrong[0], quotation, self._voice)
            return
        for judgement in wrong:
            yield finding_of(judgement, quotation, self._voice)

    def _only_a_name(self, free: FreeText, plain: str, statement: Statement) -> bool:
        """True for an animal's own name of up to three plain words, one of which is also the name of a look.

        "Snow" and "Old Ghost" are called so; "Snow female", "Snow 03" and "Amel motley" are labels and claim something.
        A name is no statement, so it is a notice: nobody should have to rename an animal to publish.
        """
        rest = f"{plain[: statement.start]} {plain[statement.end :]}"
        return (
            free.of is Of.ANIMAL
            and free.key in _LABELS
            and statement.says is Says.SHOWS
            and len(statement.genes) == 1
            and _NAME_WORDS.fullmatch(plain.strip()) is not None
            and not _LABEL_WORDS.search(plain)
            and not self._gene.search(rest)
        )

    def _quotation(self, read: ReadSentence, start: int, end: int) -> Quotation:
        words = read.text.text[start:end]
        end -= len(words) - len(words.rstrip())
        first, last = read.text.written(start, end)
        written = read.free.text[first:last]
        words = (
            written if len(written) == end - start and max(written) < "\u0180" else words
        )  # "trägt" as it is written
        if self._placing is None or self._placing.text is not read.free:
            self._placing = Placing(read.free, self._files)
        place, width = self._placing.find(first, last)
        return Quotation(" ".join(words.split()), place, width)


# What a breeder has marked as reviewed: words that stay as they are, each with the reason.


def _scope(file: str) -> str:
    """The record whose ``reviewed`` speaks for a file: the site's for pages and species, a project's for its notes."""
    if file.startswith(("pages/", "species/")):
        return "site.yaml"
    folder, is_note, _ = file.partition("/updates/")
    return f"{folder}/project.yaml" if is_note else file


class Reviewed:
    """The reviews, and which of them were needed."""

    def __init__(self, reviews: Sequence[Review]) -> None:
        self._reviews = reviews
        self._used: set[Review] = set()
        self._patterns: list[tuple[Review, re.Pattern[str]]] = []
        for review in reviews:
            pattern = r"\s+".join(re.escape(word) for word in seen(review.words, struck=True).text.split())
            if review.reason and pattern:
                self._patterns.append((review, re.compile(pattern, re.IGNORECASE)))

    def covers(self, file: str, plain: str, start: int, end: int) -> bool:
        """True when reviewed words overlap ``plain[start:end]`` of a text of that file, both as they are seen."""
        scope = _scope(file)
        for review, pattern in self._patterns:
            if review.place.file != scope:
                continue
            if any(match.start() < end and start < match.end() for match in pattern.finditer(plain)):
                self._used.add(review)
                return True
        return False

    def findings(self) -> Iterator[Finding]:
        """Reviews that give no reason, and reviews that nothing asks about; to be called last."""
        for review in self._reviews:
            if not review.reason:
                yield Finding(
                    Level.ERROR,
                    Kind.REVIEW_UNREASONED,
                    review.place,
                    f'"{review.words}" is marked as reviewed without a reason',
                    expected='words and the reason: {"66% het hypo": the name under which she was sold to us}',
                    remedy="write why the words are right as they stand, or delete the line",
                    width=review.width,
                )
            elif review not in self._used:
                yield Finding(
                    Level.NOTICE,
                    Kind.REVIEW_UNUSED,
                    review.place,
                    f'nothing asks about "{review.words}"',
                    expected="words of this record's texts that say more or less than the evidence",
                    remedy="delete the line, or copy the words as they stand in the text",
                    width=review.width,
                )


# Where words of a value stand in their file.

_IN_DOUBLE = re.compile(r"\\(?:x[\da-fA-F]{2}|u[\da-fA-F]{4}|U[\da-fA-F]{8}|.)|[^\"]", re.DOTALL)
_IN_SINGLE = re.compile(r"''|[^']")
"""What is written for one sign of a value in quotation marks."""
_BLANK_ESCAPES = frozenset(" \tntr_NLPvf\n")


class Placing:
    """Finds words of one text in its file.

    A value that YAML folded, indented or quoted is followed sign by sign, blanks left out, because folding changes
    nothing but blanks. A text is followed through its file once, however much is asked of it.
    """

    def __init__(self, text: FreeText, files: Mapping[str, str]) -> None:
        """Follow the text; a file that is not at hand places nothing."""
        self.text = text
        self._raw = files.get(text.place.file, "")
        self._lines = [0, *(match.end() for match in re.finditer("\n", self._raw))]
        self._before = [0, *accumulate(not sign.isspace() for sign in text.text)]
        line = min(text.place.line, len(self._lines))
        at = self._lines[line - 1] + text.place.column - 1
        known = line == text.place.line and 0 <= at < len(self._raw)
        signs = _visible(self._raw, at, whole=text.key in ("page", "update")) if known else ()
        self._offsets = list(islice(signs, self._before[-1]))

    def find(self, start: int, end: int) -> tuple[Place, int]:
        """The place of ``text.text[start:end]`` and how many signs of that line are meant.

        The place of the whole value, and no width, where the words cannot be found.
        """
        first, last = self._before[start], self._before[end] - 1
        if last < first or last >= len(self._offsets):
            return self.text.place, 0
        at, to = self._offsets[first], self._offsets[last] + 1
        line = bisect_right(self._lines, at)
        line_end = self._lines[line] - 1 if line < len(self._lines) else len(self._raw)
        width = len(self._raw[at : min(to, line_end)].rstrip())
        return Place(self.text.place.file, line, at - self._lines[line - 1] + 1), width


def _visible(raw: str, at: int, *, whole: bool) -> Iterator[int]:
    """Position of each sign of a value that is not a blank, however the value is written."""
    mark = "" if whole else raw[at]
    if mark and mark in "'\"":
        sign = _IN_SINGLE if mark == "'" else _IN_DOUBLE
        at += 1
        while match := sign.match(raw, at):
            if not _is_blank(match[0]):
                yield at
            at = match.end()
        return
    if mark and mark in "|>":
        at = raw.find("\n", at) + 1
    for offset in range(at, len(raw)):
        if not raw[offset].isspace():
            yield offset


def _is_blank(written: str) -> bool:
    r"""True for a sign of a quoted value that cannot be seen, such as ``\n`` or ``\u00a0``."""
    if written[0] != "\\":
        return written.isspace()
    if len(written) > 2:
        return chr(int(written[2:], 16)).isspace()
    return written[1:] in _BLANK_ESCAPES
