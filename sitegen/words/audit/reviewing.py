"""What a breeder has marked as reviewed: words that stay as they are, each with the reason."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from sitegen.content.texts import Review
from sitegen.findings import Finding, Kind, Level
from sitegen.words.audit.seen import seen


def _scope(file: str) -> str:
    """The record whose ``reviewed`` speaks for a file: the site's for pages and species, a project's for its notes."""
    if file.startswith(("pages/", "species/")):
        return "site.yaml"
    folder, is_note, _ = file.partition("/updates/")
    return f"{folder}/project.yaml" if is_note else file


@dataclass(slots=True)
class Reviewed:
    """The reviews by file, and which of them were needed."""

    reviews: Sequence[Review]
    _by_file: dict[str, list[tuple[Review, re.Pattern[str]]]] = field(default_factory=dict)
    _used: set[Review] = field(default_factory=set)

    def __post_init__(self) -> None:
        for review in self.reviews:
            pattern = r"\s+".join(re.escape(word) for word in seen(review.words, struck=True).text.split())
            if review.reason and pattern:
                entry = (review, re.compile(pattern, re.IGNORECASE))
                self._by_file.setdefault(review.place.file, []).append(entry)

    def covers(self, file: str, plain: str, start: int, end: int) -> bool:
        """True when reviewed words overlap ``plain[start:end]`` of a text of that file, both as they are seen."""
        for review, pattern in self._by_file.get(_scope(file), ()):
            if any(match.start() < end and start < match.end() for match in pattern.finditer(plain)):
                self._used.add(review)
                return True
        return False

    def findings(self) -> Iterator[Finding]:
        """Reviews that give no reason, and reviews that nothing asks about; to be called last."""
        for review in self.reviews:
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
