"""What may be wrong in a breeder's records, as plain data.

The tree of exceptions, none of which a breeder ever sees as a traceback::

    SitegenError            something the breeder can mend; exit status 1
    +-- ContentError        nothing sound can be built from the records; carries the findings
    +-- ThemeError          a theme's template failed; names template, line, page
    +-- OutputRefused       the output folder holds things this program did not make
    +-- NotWritten          a record cannot be written (content/writing.py)
    +-- CannotEdit          a record cannot be changed without loss (keeper/spots.py)
    +-- InTheWay            something keeps a change from being taken back (keeper/undo.py)
    WrongUse                options that do not fit together; exit status 2
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands: a file of the content folder, and line and column counted from 1.

    ``file`` is relative to the content folder, with forward slashes. Line 0 means the file as a whole.
    """

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


class Level(StrEnum):
    """How grave a finding is."""

    ERROR = "error"
    NOTICE = "notice"


class Kind(StrEnum):
    """Every kind of finding there is; each has one folder of the same name in ``tests/mistakes``."""

    FOLDER_MISSING = "folder-missing"
    FOLDER_EMPTY = "folder-empty"
    FILE_UNREADABLE = "file-unreadable"
    FILE_TOO_LARGE = "file-too-large"
    FILE_UNEXPECTED = "file-unexpected"
    RECORD_MISSING = "record-missing"
    YAML_BROKEN = "yaml-broken"
    YAML_UNSAFE = "yaml-unsafe"
    TEXT_MISLEADING = "text-misleading"
    KEY_UNKNOWN = "key-unknown"
    KEY_TWICE = "key-twice"
    KEY_MISSING = "key-missing"
    VALUE_WRONG = "value-wrong"
    ID_WRONG = "id-wrong"
    FORMAT_OLD = "format-old"
    LANGUAGE_PARTLY = "language-partly"
    SPECIES_UNKNOWN = "species-unknown"
    GENE_UNKNOWN = "gene-unknown"
    ANIMAL_UNKNOWN = "animal-unknown"
    LITTER_UNKNOWN = "litter-unknown"
    SPECIES_CLASH = "species-clash"
    SEX_CLASH = "sex-clash"
    DATE_IMPOSSIBLE = "date-impossible"
    DATE_UNUSUAL = "date-unusual"
    DATE_AHEAD = "date-ahead"
    PARENT_DEAD = "parent-dead"
    BORN_APART = "born-apart"
    ANIMAL_TWICE = "animal-twice"
    WEIGHT_UNUSUAL = "weight-unusual"
    PRICE_UNUSUAL = "price-unusual"
    EMAIL_WRONG = "email-wrong"
    PEDIGREE_CYCLE = "pedigree-cycle"
    PARENTS_CLASH = "parents-clash"
    ID_TWICE = "id-twice"
    ODDS_WRONG = "odds-wrong"
    LINKAGE_WRONG = "linkage-wrong"
    EVIDENCE_CLASH = "evidence-clash"
    OFFER_CLASH = "offer-clash"
    OFFER_UNDATED = "offer-undated"
    WELFARE_UNSOURCED = "welfare-unsourced"
    STAGE_UNKNOWN = "stage-unknown"
    GOAL_UNKNOWN = "goal-unknown"
    BRANCH_WRONG = "branch-wrong"
    PHOTO_UNKNOWN = "photo-unknown"
    OFF_SITE = "off-site"
    FAILED_CLASH = "failed-clash"
    COUNT_IMPOSSIBLE = "count-impossible"
    COUNT_UNUSUAL = "count-unusual"
    LITTER_UNEVEN = "litter-uneven"
    LITTER_OVERDUE = "litter-overdue"
    BIRTH_WORD = "birth-word"
    PRICE_WRONG = "price-wrong"
    PHOTO_UNREADABLE = "photo-unreadable"
    VIDEO_UNREADABLE = "video-unreadable"
    VIDEO_ALONE = "video-alone"
    CONTRADICTION = "contradiction"
    SURPRISE = "surprise"
    FITS_BADLY = "fits-badly"
    ONE_SIRE = "one-sire"
    TOO_TANGLED = "too-tangled"
    LINK_BROKEN = "link-broken"
    OVERCLAIM = "overclaim"
    UNDERCLAIM = "underclaim"
    PROMISE = "promise"
    REVIEW_UNREASONED = "review-unreasoned"
    REVIEW_UNUSED = "review-unused"
    PLAN_TOO_YOUNG = "plan-too-young"
    PLAN_PARENT_GONE = "plan-parent-gone"
    PLAN_NO_REST = "plan-no-rest"
    PLAN_LITTER_UNLISTED = "plan-litter-unlisted"
    PLAN_PROMISED_TWICE = "plan-promised-twice"
    PLAN_TOO_RELATED = "plan-too-related"
    PLAN_NOT_CARRIED = "plan-not-carried"
    PLAN_LOOK_ALIKE = "plan-look-alike"
    PLAN_LETHAL = "plan-lethal"
    PLAN_TOO_SHORT = "plan-too-short"
    PLAN_ALWAYS_SEEN = "plan-always-seen"
    PLAN_WELFARE = "plan-welfare"
    PLAN_NOT_REACHED = "plan-not-reached"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the breeder.

    Attributes:
        level: Error (nothing is published until it is mended) or notice.
        place: Where; None when no file can be named.
        message: What is wrong, one sentence without a full stop.
        nearest: The nearest valid spelling, or nothing.
        width: How many characters from ``place.column`` are meant; 0 if unknown.
        others: Further places that belong to it (contradictions, duplicates).
    """

    level: Level
    kind: Kind
    place: Place | None
    message: str
    expected: str = ""
    nearest: str = ""
    remedy: str = ""
    width: int = 0
    others: tuple[Place, ...] = field(default=())

    @property
    def hint(self) -> str:
        """Expected, nearest and remedy as one line, for machine output."""
        parts = [
            f"expected {self.expected}" if self.expected else "",
            f"nearest: {self.nearest}" if self.nearest else "",
            self.remedy,
        ]
        return "; ".join(part for part in parts if part)


_MEANS = frozenset({"no", "not", "non", "none", "het", "hets", "homo", "super", "all"})
"""Words that turn a meaning round; they are never taken for another word, nor another word for one of them."""


def nearest(word: str, known: Iterable[str]) -> str:
    """The one of the ``known`` spellings that was meant beyond reasonable doubt; an empty string when none was.

    It may differ in capitals and in what stands between its words, or by one slip of the fingers in one word: a letter
    missing, too many, wrong, or two swapped. Never by a whole word, a digit, the first letter of a word (typical and
    atypical, melanistic and amelanistic are opposites), or where a second spelling is as close.

    >>> nearest("Super_glas", ["super glass", "glass"]), nearest("for sale", ["not for sale"])
    ('super glass', '')
    """
    if len(word) > _LONGEST_WORD:
        return ""
    typed = _words(word)
    found: dict[str, str] = {}
    for spelling in known:
        words = _words(spelling)
        if "".join(words) == "".join(typed):
            return spelling
        if _slips(typed, words) == 1:
            found.setdefault("".join(words), spelling)
    near = next(iter(found.values()), "")
    return near if len(found) == 1 and _plain_slip(typed, _words(near)) else ""


_LONGEST_WORD = 100


def _words(text: str) -> list[str]:
    return [word for word in re.split(r"([/+])|[\s_.-]+", text.casefold()) if word]


def _slips(typed: Sequence[str], meant: Sequence[str]) -> int:
    """How many words differ, each by one slip; -1 for anything else."""
    if len(typed) != len(meant):
        return -1
    pairs = [pair for pair in zip(typed, meant, strict=True) if pair[0] != pair[1]]
    return len(pairs) if all(abs(len(a) - len(b)) < 2 and _slip(a, b) for a, b in pairs) else -1


def _slip(typed: str, meant: str) -> tuple[str, str] | None:
    """The letters typed and those meant, where one slip makes the one word of the other."""
    start = _shared(typed, meant)
    end = _shared(typed[start:][::-1], meant[start:][::-1])
    one, other = typed[start : len(typed) - end], meant[start : len(meant) - end]
    swapped = len(one) in (2, 3) and one == other[::-1]
    return (one, other) if swapped or max(len(one), len(other)) == 1 else None


def _shared(one: str, other: str) -> int:
    """How many letters two words share at their beginning."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((at for at, (a, b) in pairs if a != b), min(len(one), len(other)))


def _plain_slip(typed: Sequence[str], meant: Sequence[str]) -> bool:
    """True when the word that differs can hardly be another word: it is long enough, and begins as it should."""
    one, other = next(pair for pair in zip(typed, meant, strict=True) if pair[0] != pair[1])
    letters = _slip(one, other) or ("", "")
    wrong = len(letters[0]) == len(letters[1]) == 1
    return (
        one[0] == other[0]
        and "".join(letters).isalpha()
        and min(len(one), len(other)) >= (5 if wrong else 3)
        and not {one, other} & _MEANS
    )


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by file, the gravest first; the same fault is told once.

    Those without a place come first, then files with errors, then files with notices only. Within a file errors
    come before notices, each by its place.
    """
    unique = dict.fromkeys(findings)
    with_errors = {f.place.file for f in unique if f.place and f.level is Level.ERROR}

    def rank(found: Finding) -> tuple[bool, bool, str, bool, Place, Kind, str]:
        place = found.place or Place("")
        calm = found.place is not None and place.file not in with_errors
        return (
            found.place is not None,
            calm,
            place.file,
            found.level is not Level.ERROR,
            place,
            found.kind,
            found.message,
        )

    return tuple(sorted(unique, key=rank))


def has_errors(findings: Iterable[Finding]) -> bool:
    """True when at least one finding is an error."""
    return any(finding.level is Level.ERROR for finding in findings)


class SitegenError(Exception):
    """Something that the breeder can mend; the base of all that is told without a traceback."""


class ContentError(SitegenError):
    """Nothing sound can be built from the records; ``findings`` says why."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__(f"{len(self.findings)} findings")


class ThemeError(SitegenError):
    """A theme's template failed; the message names template, line and page."""


class OutputRefused(SitegenError):  # noqa: N818 - named for what happened, not for the mechanism
    """The output folder is not ours to change; the message names what stands there."""


class WrongUse(Exception):  # noqa: N818 - named for what happened
    """Options that do not fit together; exit status 2."""
