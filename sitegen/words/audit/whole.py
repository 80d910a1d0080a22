"""The audit of free text: everything the breeder wrote in words, read against what the evidence supports."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from sitegen.content.collection import Collection, latest_date
from sitegen.content.texts import FreeText, Of
from sitegen.evidence.kinds import Claim
from sitegen.evidence.known import Answers
from sitegen.findings import Finding, in_order
from sitegen.genetics.questions import AnimalId
from sitegen.words.audit.context import Standing, as_denied, promises, standing
from sitegen.words.audit.judging import Judge, Judgement, Verdict
from sitegen.words.audit.lexicon import lexicon_of
from sitegen.words.audit.placing import Placing
from sitegen.words.audit.reviewing import Reviewed
from sitegen.words.audit.seen import AS_WRITTEN
from sitegen.words.audit.sentences import ReadText, read_text
from sitegen.words.audit.shorthand import Says, Shorthand, Statement
from sitegen.words.audit.subjects import NamedThere, Subjects
from sitegen.words.audit.telling import Spot, finding_of, name_finding, promise_finding
from sitegen.words.voice import Voice

_LABELS = ("name",)
_OPENING = ("captions", "about")
_PROSE = ("about", "welfare", "page", "update")
"""Texts that pages print as Markdown; the others are printed as they are written."""
_WORTH_READING = re.compile(
    r"het|carr|prove|guarant|homo|super|visual|cop(?:y|ies)|%|per\s?cent|\d\s?/\s?\d|\d\s+in\s+\d|\bdh\b|\bth\b"
    r"|hidden|clean|clear|free|negative|recessiv|without|shows|showing|display|express|\bis\b|['’]s\b|100",
    re.IGNORECASE,
)
"""A text without any of this, and without a gene's name, claims nothing."""


def audit(
    collection: Collection,
    answers: Answers,
    claims: Mapping[AnimalId, tuple[Claim, ...]],
    texts: Mapping[str, str],
    as_of: dt.date | None = None,
) -> tuple[Finding, ...]:
    """Every statement of the breeder's own words that says more than the evidence (an error) or less (a notice).

    Args:
        collection: The records, with their free texts.
        answers: What inference has to say of them; a gene without an answer is not judged.
        claims: What the site says of every animal.
        texts: The files as they stand, to point at the words.
        as_of: The day of the statement; the latest date of the records if not given.
    """
    voice = Voice(collection, answers, as_of or latest_date(collection))
    reading = _Audit(voice, Judge(collection, answers, claims, voice.as_of), texts)
    found = [finding for free in collection.texts for finding in reading.of_text(free)]
    return in_order([*found, *reading.reviewed.findings()])


@lru_cache(maxsize=50_000)
def _is_found(pattern: re.Pattern[str], text: str) -> bool:
    """True when the text holds what the pattern says; remembered, since most texts stay as they are."""
    return pattern.search(text) is not None


@dataclass(slots=True)
class _Audit:
    """One run over all texts."""

    voice: Voice
    judge: Judge
    files: Mapping[str, str]
    subjects: Subjects = field(init=False)
    reviewed: Reviewed = field(init=False)
    shorthand: dict[str, Shorthand] = field(init=False)
    _named: re.Pattern[str] = field(init=False)
    _placing: Placing | None = None

    def __post_init__(self) -> None:
        collection = self.voice.collection
        self.subjects = Subjects(collection)
        self.reviewed = Reviewed(collection.reviews)
        lexicons = {species.id: lexicon_of(species) for species in collection.species.values()}
        self.shorthand = {species: Shorthand(lexicon) for species, lexicon in lexicons.items()}
        self._named = re.compile("|".join(lexicon.name for lexicon in lexicons.values()) or r"(?!)", re.IGNORECASE)

    def of_text(self, free: FreeText) -> Iterator[Finding]:
        """The findings of one text."""
        labelled = free.key in (*_LABELS, *_OPENING)
        if _is_found(AS_WRITTEN, free.text) and not self._is_worth_reading(free.text, labelled=labelled):
            return
        text = read_text(free.text, struck=free.key not in _PROSE)
        if not self._is_worth_reading(text.plain, labelled=labelled):
            return
        for number, sentence in enumerate(text.sentences):
            covered: list[tuple[int, int]] = []
            names = self.subjects.names(text, *sentence)
            for species in self._species(free, names):
                for statement in self._statements(free, text, sentence, species, names, first=not number):
                    covered.append((statement.start, statement.end))
                    yield from self._of_statement(free, text, sentence, statement, species, names)
            for start, end in promises(text.plain, sentence):
                apart = not any(start < last and first < end for first, last in covered)
                if apart and not self.reviewed.covers(free.place.file, text.plain, start, end):
                    yield promise_finding(self._spot(free, text, start, end))

    def _is_worth_reading(self, text: str, *, labelled: bool) -> bool:
        return _is_found(_WORTH_READING, text) or (labelled and _is_found(self._named, text))

    def _species(self, free: FreeText, names: list[NamedThere]) -> tuple[str, ...]:
        """The species whose names count in a sentence: that of the record, and those of the animals named in it."""
        collection = self.voice.collection
        named = [animal for _, _, animals in names for animal in animals]
        record = collection.animals.get(free.id) if free.of is Of.ANIMAL else collection.litters.get(free.id)
        first = [record.species] if record else []
        return tuple(dict.fromkeys([*first, *(collection.animals[animal].species for animal in named)]))

    def _statements(
        self,
        free: FreeText,
        text: ReadText,
        sentence: tuple[int, int],
        species: str,
        names: list[NamedThere],
        *,
        first: bool,
    ) -> Iterator[Statement]:
        """What a sentence states of genes; an animal's name is a statement only where the animal is named."""
        own = free.of is Of.ANIMAL
        opens = own and (free.key == "captions" or (free.key == "about" and first)) and _opens(text.plain, sentence)
        label = own and free.key in _LABELS
        names = [] if label else names
        begins = [start for start, _, _ in names]
        for statement in self.shorthand[species].read(text.plain, *sentence, names=begins, label=label, opens=opens):
            named = any(start <= statement.start and statement.end <= end for start, end, _ in names)
            if not (named and statement.says is Says.SHOWS):
                yield statement

    def _of_statement(
        self,
        free: FreeText,
        text: ReadText,
        sentence: tuple[int, int],
        statement: Statement,
        species: str,
        names: list[NamedThere],
    ) -> Iterator[Finding]:
        """The findings of one statement, one for each gene that is not as the evidence says."""
        meant = standing(text.plain, sentence, statement, after_as=free.key == "from")
        if meant is Standing.NOT_CLAIMED:
            return
        if meant is Standing.DENIED:
            statement = as_denied(text.plain, sentence, statement)
        elif meant is Standing.PERHAPS and statement.says is Says.CARRIES:
            statement = Statement(statement.start, statement.end, Says.MAY_CARRY, statement.genes)
        elif meant is Standing.PERHAPS and statement.says is not Says.MAY_CARRY:
            return
        whose = self.subjects.whose(free, text, sentence, statement, names)
        wrong: list[Judgement] = list(self.judge.judge(statement, whose, species))
        where = (free.place.file, text.plain, statement.start, statement.end)
        if wrong and not self.reviewed.covers(*where):
            spot = self._spot(free, text, statement.start, statement.end)
            if self._only_a_name(free, text.plain, statement) and wrong[0].verdict is Verdict.MORE:
                yield name_finding(wrong[0], spot, self.voice)
                return
            for judgement in wrong:
                yield finding_of(judgement, spot, self.voice)

    def _only_a_name(self, free: FreeText, plain: str, statement: Statement) -> bool:
        """True for an animal's own name of up to three plain words, one of which is also the name of a look.

        "Snow" and "Old Ghost" are called so; "Snow female", "Snow 03" and "Amel motley" are labels and claim something.
        """
        rest = f"{plain[: statement.start]} {plain[statement.end :]}"
        return (
            free.of is Of.ANIMAL
            and free.key in _LABELS
            and statement.says is Says.SHOWS
            and len(statement.genes) == 1
            and _NAME_WORDS.fullmatch(plain.strip()) is not None
            and not _LABEL_WORDS.search(plain)
            and not self._named.search(rest)
        )

    def _spot(self, free: FreeText, text: ReadText, start: int, end: int) -> Spot:
        words = text.plain[start:end]
        end -= len(words) - len(words.rstrip())
        if self._placing is None or self._placing.text is not free:
            self._placing = Placing(free, self.files)
        place, width = self._placing.find(*text.written(start, end))
        return Spot(" ".join(words.split()), place, width)


_NAME_WORDS = re.compile(r"[^\W\d_]+(?:[ '’-][^\W\d_]+){0,2}")
_LABEL_WORDS = re.compile(
    r"\b(?:het|hets|super|visual|homo\w*|poss\w*|pos|carrier|proven|female|male|girl|boy|snake|boa|corn|python|gecko|adult"
    r"|young|hatchling|baby|pair|project|for sale|and|with|x)\b",
    re.IGNORECASE,
)


_OF_OTHERS = re.compile(
    r"\b(?:hatch\w*|born|pipp\w*|young|clutch|litter|offspring|sons?|daughters?|siblings?|brothers?|sisters?|sired"
    r"|produced|gave|came|parents?|mother|father|kept back)\b",
    re.IGNORECASE,
)


def _opens(plain: str, sentence: tuple[int, int]) -> bool:
    """True when a gene's name at the beginning of a sentence can only be about the animal itself."""
    return not _OF_OTHERS.search(plain, *sentence)
