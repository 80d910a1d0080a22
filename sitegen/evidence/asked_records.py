"""The records and what inference answers to them: what every command needs that asks about animals, and no more."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.folder import Content, read_content
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.known import Answers
from sitegen.findings import Finding, has_errors, in_order


@dataclass(frozen=True, slots=True)
class Known:
    """Records that are sound, the evidence in them, and its answers.

    Attributes:
        collection: The records.
        asked: The evidence, and what heredity answers to it.
        answers: The answers.
        photos: Path of every photo.
        texts: The records as they are written.
    """

    collection: Collection
    asked: Asked
    answers: Answers
    photos: tuple[str, ...] = field(default=())
    texts: Mapping[str, str] = field(default_factory=dict)


def read_known(content: Path, today: dt.date | None = None) -> tuple[Known | None, tuple[Finding, ...]]:
    """The records, and what inference answers to them; nothing when a record is in error.

    Args:
        content: The content folder.
        today: See :func:`bind_content`.
    """
    read, reading = read_content(content)
    collection, findings = bound_of(read, reading, today)
    return known_of(read, collection, findings) if collection is not None else (None, findings)


def bound_of(
    read: Content, reading: Sequence[Finding], today: dt.date | None = None
) -> tuple[Collection | None, tuple[Finding, ...]]:
    """The records of what was read, with what was found then; nothing when one of them is in error."""
    collection, binding = bind_content(read, today=today) if not has_errors(reading) or read.texts else (None, ())
    return None if has_errors(reading) else collection, in_order([*reading, *binding])


def known_of(read: Content, collection: Collection, findings: Sequence[Finding]) -> tuple[Known, tuple[Finding, ...]]:
    """What inference answers to records, with all findings.

    Args:
        read: What was read.
        collection: The records in it.
        findings: What was found so far.
    """
    asked = ask(gather(collection))
    answers = answers_of(asked)
    found = [*findings, *answers.contradictions, *answers.too_tangled, *answers.notices]
    photos = tuple(photo for photos in read.photos.values() for photo in photos)
    return Known(collection, asked, answers, photos, read.texts), in_order(found)
