"""What is to be built, what came of it, and whether it stands already; light to import, for when all is done."""

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from sitegen.findings import Finding
from sitegen.publishing.again import built_before, state_of
from sitegen.publishing.places import check_output
from sitegen.publishing.release import ReleaseReport


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be built, from where, to where.

    Attributes:
        content, output, themes: The three folders.
        store: Where pictures are kept from build to build; ``.sitegen`` beside the output if not given.
        date: The day of the statement; the latest date in the records if not given.
        today: The day it is, after which nothing can have happened; no page says it. Not looked at if not given.
        workers: Number of processes for pages and pictures; 0 for one a processor.
        keep_going: Leave out records that have errors, with all that hangs on them, and build the rest.
    """

    content: Path
    output: Path
    themes: Path
    store: Path | None = None
    date: dt.date | None = None
    today: dt.date | None = None
    workers: int = 0
    keep_going: bool = False


@dataclass(frozen=True, slots=True)
class Built:
    """What came of it. ``published`` is None when an error stood in the way; the output is then as it was.

    An error among the findings of a site that was published is a photo that was left out of it, or a record:
    ``left_out`` then names all that is missing. ``why_not`` says why no part of faulty records could be built.
    """

    findings: tuple[Finding, ...]
    published: ReleaseReport | None = None
    n_pages: int = 0
    pictures_made: int = 0
    pictures_kept: int = 0
    left_out: tuple[str, ...] = ()
    why_not: str = ""


def state_of_order(order: Order) -> str:
    """A name for the present state of everything that is to be built from; empty when nothing is certain.

    Raises:
        OutputRefused: The output folder can be none.
    """
    sources = (order.content, order.themes)
    check_output(order.output, sources)
    return state_of(sources, order.date)


def as_it_stands(order: Order, state: str) -> Built | None:
    """What came of the build that made the site from this very state, when it stands as it was made.

    Raises:
        OutputRefused: The output folder holds something that is not ours.
    """
    before = built_before(state, order.output, (order.content, order.themes))
    if before is None:
        return None
    numbers = before[1].numbers
    return Built(before[1].findings, before[0], numbers["n_pages"], numbers["pictures_made"], numbers["pictures_kept"])
