"""The desk's hold on a collection: the records as they stand now, and the one way in which a page changes them.

The files are the truth: they are read anew for each request, so that what was changed by hand meanwhile is seen and
never overwritten. What heredity answers to them is asked again only when they are not what they were.
"""

import datetime as dt
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial

from sitegen.app.preview.live_site import LiveSite, PreviewState
from sitegen.build import Order
from sitegen.content.animals import Animal
from sitegen.content.collection import Collection, latest_date
from sitegen.content.folder import Content
from sitegen.evidence.claims import claims_from
from sitegen.evidence.kinds import Claim
from sitegen.evidence.reasons import reasons
from sitegen.findings import ContentError, Finding, SitegenError, WrongUse, has_errors
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.records import (
    Consequences,
    Proposal,
    Records,
    as_they_stand,
    check_proposal,
    content_after,
    open_records,
    think_through,
)
from sitegen.keeper.undo_record import put_in_place
from sitegen.site.material import with_litter_names
from sitegen.words.label_line import label_line
from sitegen.words.speech import Voice, plain

Propose = Callable[[Records], Proposal]
"""Makes a change of the records as they stand."""


@dataclass(frozen=True)
class Standing:
    """The records at one moment, and what they answer.

    Attributes:
        stands: What is wrong or doubtful in them, and their answers; None where one is in error.
    """

    records: Records
    stands: Consequences

    @cached_property
    def collection(self) -> Collection | None:
        """The bound records; None where one is in error."""
        return with_litter_names(self.stands.known.collection) if self.stands.known else None


@dataclass(frozen=True, slots=True)
class Told:
    """The records with what may be said of them: the claims of each animal, and the voice that says them."""

    records: Records
    collection: Collection
    claims: Mapping[AnimalId, Sequence[Claim]]
    voice: Voice

    def label(self, animal: Animal) -> str:
        """The label line of an animal."""
        return plain(label_line(animal, self.claims[animal.id], self.voice).whole())


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a change that a page asked for.

    Attributes:
        told: What was written, or would be, in words.
        findings: What stands in its way, or is doubtful because of it.
        number: Of the change in the undo record; 0 when nothing was written.
        after: What the records answer after it; None where nobody can tell.
    """

    told: str
    findings: tuple[Finding, ...] = ()
    is_refused: bool = False
    number: int = 0
    after: Consequences | None = None


class Desk:
    """One collection, for one keeper.

    Attributes:
        order: Where the records, themes and pictures are. Nothing is put into its output folder.
        today: Asked anew for each request, since a desk may stand open for days.
        alone: Held while a request is answered: one change after the other, and words have one language at a time.
    """

    def __init__(self, order: Order, today: Callable[[], dt.date]) -> None:
        """Read nothing yet."""
        self.order, self.today = order, today
        self.alone = threading.RLock()
        self._stood: tuple[Content, dt.date, Consequences] | None = None
        self.live = LiveSite(order, today)

    def now(self) -> Standing:
        """The records as they stand.

        Raises:
            ContentError: There is no content folder.
        """
        with self.alone:
            records = open_records(self.order.content, self.today())
            if self._stood is None or self._stood[:2] != (records.content, self.today()):
                self._stood = records.content, self.today(), as_they_stand(records)
            return Standing(records, self._stood[2])

    def told(self) -> Told | None:
        """The records with what may be said of them; None where one is in error."""
        standing = self.now()
        known, collection = standing.stands.known, standing.collection
        if known is None or collection is None:
            return None
        day = latest_date(collection)
        claims = claims_from(known.asked.evidence, known.answers, partial(reasons, known.asked), day)
        return Told(standing.records, collection, claims, Voice(collection, known.answers, day))

    def consider(self, propose: Propose) -> Outcome:
        """What a change would bring; nothing is written to find out."""
        with self.alone:
            standing = self.now()
            try:
                proposal = propose(standing.records)
                found = think_through(standing.records, proposal.files, standing.stands)
            except (SitegenError, WrongUse) as error:
                return refused(error)
            return Outcome(proposal.told, found.findings, has_errors(found.findings), after=found)

    def save(self, propose: Propose) -> Outcome:
        """Make a change, or say why it was not made; it is checked first, evidence included."""
        with self.alone:
            standing = self.now()
            try:
                proposal = propose(standing.records)
                found = check_proposal(standing.records, proposal, standing.stands)
                done = put_in_place(self.order.content, proposal, dt.datetime.now(tz=dt.UTC))
            except (SitegenError, WrongUse) as error:
                return refused(error)
            if proposal.files:
                after = replace(found, findings=found.all_findings)
                self._stood = content_after(standing.records, proposal.files), self.today(), after
            told = " ".join(filter(None, (proposal.told, done.notice)))
            return Outcome(told, found.findings, number=done.number, after=found)

    def site(self) -> PreviewState:
        """The site that the records make now; made when it is asked for."""
        with self.alone:
            return self.live.remake()


def refused(error: SitegenError | WrongUse) -> Outcome:
    """What came of a change that was not made, and why."""
    findings = tuple(error.findings) if isinstance(error, ContentError) else ()
    return Outcome("" if findings else f"{error}", findings, is_refused=True)
