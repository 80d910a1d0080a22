"""How a project is written: ``projects/ID/project.yaml``."""

from enum import StrEnum
from typing import Annotated, Any, ClassVar

from sitegen.content.report import At
from sitegen.content.written.animals import TEXT_BY_NAME, SexWord
from sitegen.content.written.forms import LISTED, Form, described, entries_of, part, raw, required
from sitegen.content.written.values import Chance, Day, SureDay, SureText, SureWhole, Text, Texts, Whole, word_reader


class ProjectState(StrEnum):
    """How far a project is."""

    PLANNED = "planned"
    UNDER_WAY = "under way"
    REACHED = "reached"
    GIVEN_UP = "given up"


class GoalForm(Form):
    """What the goal animal shows and carries."""

    what: ClassVar[str] = "a goal"

    shows: Texts = described("Looks to be shown.")
    carries: Texts = described("Genes to be carried.")


class HoldbackForm(Form):
    """Young to be kept from a stage."""

    what: ClassVar[str] = "an entry of keep"

    id: Text = described("A short name for the kept young; needed when keep is a list.")
    shows: Texts = described("Looks they must show.")
    carries: Texts = described("Genes they must carry.")
    count: Whole = described("How many are to be kept; 1 when left out.")
    sex: SexWord = described("Of which sex; either when left out.")
    animals: Texts = described("Those that were kept: an animal's folder or LITTER/YOUNG.")


class StageForm(Form):
    """One pairing of a project."""

    what: ClassVar[str] = "a stage"

    id: Text = described("A short name for the stage; needed when stages is a list.")
    season: SureWhole = required("The year.")
    dam: SureText = required("The mother: an animal, LITTER/YOUNG, or STAGE.HOLDBACK of an earlier stage.")
    sire: SureText = required("The father, likewise.")
    litters: Texts = described("Litters that came of it.")
    tries: Whole = described("Seasons in which it is tried at most; as many as it takes when left out.")
    keep: Annotated[Any, *entries_of(HoldbackForm)] = described("What is kept back, as a list or by name.")
    note: Text = described("A line of text.")


class DecisionForm(Form):
    """What was decided, and why."""

    what: ClassVar[str] = "an entry of decisions"

    date: SureDay = required("The day.")
    stage: Text = described("The stage it is about.")
    text: SureText = required("What was decided and why.")


class AlternativeForm(Form):
    """Another route to the same goal."""

    what: ClassVar[str] = "an alternative"

    id: Text = described("A short name for the route; needed when alternatives is a list.")
    name: Text = described("What the route is called; its short name when left out.")
    about: Text = described("What speaks for it and against it, Markdown.")
    stages: Annotated[Any, *entries_of(StageForm)] = described("Its pairings, all of them, as a list or by name.")


class ProjectForm(Form):
    """A project of several seasons."""

    what: ClassVar[str] = "a project's record"

    name: Text = described("What the project is called; its folder name when left out.")
    species: SureText = required("The species: the name of its file in species.")
    state: Annotated[
        At[ProjectState] | None,
        *word_reader(ProjectState, meant={"finished": "reached", "done": "reached", "running": "under way"}),
    ] = described("planned, under way, reached or given up; planned when left out.")
    started: Day = described("When it began.")
    goal: Annotated[GoalForm | None, part(GoalForm)] = described("What the goal animal shows and carries.")
    stages: Annotated[Any, *entries_of(StageForm)] = described("The pairings, as a list or by name.")
    alternatives: Annotated[Any, *entries_of(AlternativeForm)] = described(
        "Other routes to the same goal, as a list or by name; told beside the main one."
    )
    horizon: Whole = described("The last season you plan for.")
    rest: Whole = described("Seasons in which a dam rests after a litter; that of the species when left out.")
    relatedness_limit: Chance = described(
        "The highest inbreeding coefficient of young that you accept, such as 1/8; that of site.yaml when left out."
    )
    welfare: Text = described("Your note on a gene of the project that has a welfare note.")
    decisions: Annotated[tuple[Annotated[DecisionForm | None, part(DecisionForm)], ...] | None, LISTED] = described(
        "What was decided and why, each with its date."
    )
    captions: Annotated[Any, *raw(TEXT_BY_NAME)] = described("A line of text by photo file name.")
    about: Text = described("Free text, Markdown.")
    reviewed: Annotated[Any, *raw(TEXT_BY_NAME)] = described(
        "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: Annotated[Any, *raw({})] = described("Anything that is never published.")
