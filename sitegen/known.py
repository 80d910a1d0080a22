"""The records and what inference answers to them: what every command needs that asks about animals, and no more."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.known import Answers
from sitegen.findings import Finding, has_errors, in_order
from sitegen.reading.content import Content
from sitegen.reading.folder import read_content
from sitegen.records.binding import bind_content
from sitegen.records.collection import Collection


@dataclass(frozen=True, slots=True)
class Known:
    """Records that are sound, the evidence in them, and its answers."""

    collection: Collection
    asked: Asked
    answers: Answers
    photos: tuple[str, ...] = field(default=())
    texts: Mapping[str, str] = field(default_factory=dict)


def read_known(
    content: Path, bound: Callable[[Collection], None] = lambda collection: None
) -> tuple[Known | None, tuple[Finding, ...]]:
    """The records, and what inference answers to them; nothing when a record is in error.

    Args:
        content: The content folder.
        bound: Called with the sound records before anything is inferred.
    """
    return known_of(*read_content(content), bound)


def known_of(
    read: Content, reading: Sequence[Finding], bound: Callable[[Collection], None] = lambda collection: None
) -> tuple[Known | None, tuple[Finding, ...]]:
    """As :func:`read_known`, of what was read already, with what was found then."""
    collection, binding = bind_content(read) if not has_errors(reading) or read.texts else (None, ())
    if collection is None or has_errors(reading):
        return None, in_order([*reading, *binding])
    bound(collection)
    asked = ask(gather(collection))
    answers = answers_of(asked)
    findings = [*reading, *binding, *answers.contradictions, *answers.too_tangled, *answers.notices]
    photos = tuple(photo for photos in read.photos.values() for photo in photos)
    return Known(collection, asked, answers, photos, read.texts), in_order(findings)
