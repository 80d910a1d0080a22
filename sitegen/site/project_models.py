"""The pages of projects: all that their templates can see."""

from dataclasses import dataclass

from sitegen.site.models import OutcomeRow
from sitegen.site.parts import CautionView, Field, IconArray, Line, LitterRow, Plate, Prose


@dataclass(frozen=True, slots=True)
class ProjectRow:
    """A project in the list of projects: ``now`` says where it stands, ``odds`` draws the chance that ``now`` tells."""

    name: Line
    state: str
    goal: Line
    species: str
    latest: str
    picture: Plate | None
    now: tuple[Line, ...] = ()
    odds: IconArray | None = None


@dataclass(frozen=True, slots=True)
class ProjectsPage:
    """All projects."""

    rows: tuple[ProjectRow, ...]


@dataclass(frozen=True, slots=True)
class UpdateView:
    """A dated note on a project."""

    id: str
    date: str
    title: str
    text: Prose
    plates: tuple[Plate, ...]


@dataclass(frozen=True, slots=True)
class RoadMark:
    """A mark on the picture of the road, in the middle of its year.

    ``kind``: ``born`` (a litter), ``open`` (the earliest season), ``planned``, ``median``, ``reached``.
    """

    year: int
    kind: str


@dataclass(frozen=True, slots=True)
class RoadLane:
    """One line of the picture: a stage, or the goal. From ``since`` on it may happen, up to the last year; 0: never."""

    label: str
    marks: tuple[RoadMark, ...]
    since: int = 0


@dataclass(frozen=True, slots=True)
class RoadTimeline:
    """The road over the years, for a drawing.

    Attributes:
        title, description: Its text alternatives.
        first, last: The years at its ends.
        today: The day of the statement in thousandths of a year after the beginning of ``first``; before 0 or beyond
            the end it is not drawn.
        today_label: The word at that line.
        lanes: From the top.
        legend: The kinds of marks that are used (and ``today``), each with what it means.
    """

    title: str
    description: str
    first: int
    last: int
    today: int
    today_label: str
    lanes: tuple[RoadLane, ...]
    legend: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class RoadEvent:
    """What happened in a year, or can happen then at the earliest: the road as a list. ``kind`` as in ``RoadMark``."""

    year: str
    kind: str
    words: Line
    notes: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class ChanceBar:
    """A season of the chart. ``by`` and ``before`` are thousandths; 0 and 1000 only if exactly so."""

    season: str
    by: int
    before: int
    count: str


@dataclass(frozen=True, slots=True)
class ChanceChart:
    """Chance by season as bars, for a drawing."""

    title: str
    description: str
    bars: tuple[ChanceBar, ...]


@dataclass(frozen=True, slots=True)
class ChanceRow:
    """A season of the table beside the chart."""

    season: str
    by: str
    then: str


@dataclass(frozen=True, slots=True)
class Chances:
    """The chance of the goal by season."""

    lines: tuple[Line, ...]
    chart: ChanceChart
    rows: tuple[ChanceRow, ...]


@dataclass(frozen=True, slots=True)
class WantedView:
    """Young to be kept from a stage: three statements on what can be seen, then what cannot, then who was kept."""

    title: Line
    statements: tuple[Line, ...]
    unseen: tuple[Line, ...]
    kept: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class ResultRow:
    """A wanted kind in a litter: how many were expected of how many judged young, how many came, how usual that is."""

    kind: Line
    expected: str
    came: str
    luck: Line


@dataclass(frozen=True, slots=True)
class ResultView:
    """A litter of a stage beside what was expected of it."""

    litter: LitterRow
    rows: tuple[ResultRow, ...]
    note: Line


@dataclass(frozen=True, slots=True)
class DecisionView:
    """What was decided on a day, in the breeder's words; ``stage`` names the stage it is about."""

    date: str
    text: str
    stage: Line = ()


@dataclass(frozen=True, slots=True)
class StageView:
    """One stage.

    Attributes:
        id: Its anchor.
        title, season, state: ``Stage 2 of 3``, when, how far.
        pairing: Who with whom.
        parents: Their photos; a parent that is not kept yet has an empty plate.
        why: Why not before; empty for a stage that is done.
        note: The breeder's note.
        wanted: What is to be kept.
        looks_heading, looks: What the young can look like, by eye, for a stage that is still open.
        looks_note: What the table leaves out.
        looks_folded: The words under which a long table is folded away; empty for a short one.
        further: The goal itself, the chance that the stage gives all, how often it is tried.
        results: Its litters.
        decisions: What was decided about it.
    """

    id: str
    title: str
    season: str
    state: str
    pairing: Line
    parents: tuple[Plate, ...]
    why: Line
    note: str
    wanted: tuple[WantedView, ...]
    looks_heading: str
    looks: tuple[OutcomeRow, ...]
    looks_note: tuple[Line, ...]
    looks_folded: str
    further: tuple[Line, ...]
    results: tuple[ResultView, ...]
    decisions: tuple[DecisionView, ...]


@dataclass(frozen=True, slots=True)
class RouteRow:
    """One measure of the routes side by side; ``values`` in the order of their names."""

    label: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RouteView:
    """Another route: its name, the breeder's words on it, its pairings."""

    name: str
    about: Prose
    steps: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Routes:
    """The routes to one goal side by side."""

    names: tuple[str, ...]
    rows: tuple[RouteRow, ...]
    note: Line
    others: tuple[RouteView, ...]


@dataclass(frozen=True, slots=True)
class ProjectPage:
    """One project.

    Attributes:
        now, odds: Where it stands, with a picture of the chance by the horizon.
        latest: The newest note, leading to it.
        timeline, events: The road as a picture and as a list.
        stages: One card each.
        chances: By season; None where nothing is predicted.
        routes: Beside the other routes; None without any.
        cast: The animals, each with what it is here.
        wrong: What went wrong, and what it cost.
        decisions: Those that are not about one stage.
        welfare, harms: The breeder's note on genes that may harm, and those genes' own cautions.
        goal_lines: Relatedness and ancestry of the goal animal.
        assumptions: What the numbers take for granted.
        index: The longer parts of the page in their order, each a link to its place.
    """

    name: str
    kicker: Line
    goal: Line
    label: tuple[Field, ...]
    lead: Plate | None
    now: tuple[Line, ...]
    odds: IconArray | None
    latest: Line
    about: Prose
    timeline: RoadTimeline | None
    events: tuple[RoadEvent, ...]
    stages: tuple[StageView, ...]
    chances: Chances | None
    routes: Routes | None
    cast: tuple[Plate, ...]
    wrong: tuple[Line, ...]
    decisions: tuple[DecisionView, ...]
    welfare: Prose
    harms: tuple[CautionView, ...]
    goal_lines: tuple[Line, ...]
    assumptions: tuple[Line, ...]
    updates: tuple[UpdateView, ...]
    plates: tuple[Plate, ...]
    index: tuple[Line, ...]
