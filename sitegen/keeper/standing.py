"""The records that stand, and what they would say with others beside them."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.folder import Content, read_content
from sitegen.evidence.answers import Answers, answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.findings import ContentError, Finding, has_errors, in_order


@dataclass(frozen=True, slots=True)
class Standing:
    """Sound records and their answers."""

    content: Content
    collection: Collection
    answers: Answers
    findings: tuple[Finding, ...]
    today: dt.date | None = None


def read_standing(folder: Path, today: dt.date | None = None) -> Standing:
    """The records of a content folder, after which day nothing has happened.

    Raises:
        ContentError: One of them is in error, so that nothing can be put beside them.
    """
    content, reading = read_content(folder)
    if has_errors(reading) and not content.texts:
        raise ContentError(reading)
    standing, findings = standing_of(content, today)
    if standing is None or has_errors(reading):
        raise ContentError(in_order([*reading, *findings]))
    return standing


def standing_of(content: Content, today: dt.date | None = None) -> tuple[Standing | None, tuple[Finding, ...]]:
    """Content as bound and answered; None, with what is wrong, when a record is in error."""
    collection, findings = bind_content(content, today=today)
    if collection is None:
        return None, findings
    answers = answers_of(ask(gather(collection)))
    told = (*findings, *answers.contradictions, *answers.too_tangled, *answers.notices)
    return Standing(content, collection, answers, told, today), told


def beside(standing: Standing, records: Mapping[str, str]) -> tuple[Standing | None, tuple[Finding, ...]]:
    """The records with new ones among them, and what is told only because of the new ones.

    A contradiction, or a knot, of the old records alone is not told again.
    """
    content = standing.content
    both = Content({**content.texts, **records}, content.photos, content.unreadable)
    together, findings = standing_of(both, standing.today)
    old = {(finding.kind, finding.place, finding.message) for finding in standing.findings}
    return together, tuple(f for f in findings if (f.kind, f.place, f.message) not in old)
