"""Projects with any road that could be computed for them, over the small hand-built site."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from functools import cache

from hypothesis import strategies as st

from helpers.small_site import AS_OF, HERE, small_material
from sitegen.content.projects import Alternative, Decision, Goal, Holdback, Project, Stage
from sitegen.content.values import PartialDate
from sitegen.genetics.by_eye import Expected
from sitegen.plans.roads.kinds import (
    Ancestry,
    Counted,
    Ending,
    HoldbackOutlook,
    LitterResult,
    ProjectRoads,
    Range,
    Rival,
    RoadOutlook,
    SeasonChance,
    SeasonLoad,
    Setback,
    StageOutlook,
    StageState,
    Waits,
)
from sitegen.site.material import Folio, Material, folio
from sitegen.site.parts import Line, Span
from sitegen.site.projects import ProjectPage, project_page

TINY = Fraction(1, 2**750)
DRAWS = 20_000

chances = st.one_of(
    st.sampled_from([Fraction(0), Fraction(1), TINY, 1 - TINY, Fraction(1, 4), Fraction(1, 64)]),
    st.fractions(0, 1, max_denominator=10_000),
)
sexes = st.sampled_from(["", "female", "male"])


def project(**more: object) -> Project:
    """A project of two stages over the small site: Juniper with Flint, then her daughter back to Flint."""
    daughters = Holdback(
        id="daughters", shows=("amel",), carries=("hypo",), count=1, sex="female", animals=(), place=HERE
    )
    goal = Holdback(id="goal", shows=("amel", "hypo"), carries=(), count=1, sex="", animals=(), place=HERE)
    stages = (
        Stage(
            id="first",
            season=2026,
            dam="juniper",
            sire="flint",
            litters=("2026-x",),
            keep=(daughters,),
            place=HERE,
            note="Begin.",
        ),
        Stage(
            id="second", season=2028, dam="first.daughters", sire="flint", litters=(), keep=(goal,), place=HERE, tries=3
        ),
    )
    other = Alternative(
        id="sooner",
        name="A season sooner",
        stages=(replace(stages[0], litters=(), keep=(goal,)),),
        place=HERE,
        about="Less *waiting*.",
    )
    decisions = (
        Decision(date=PartialDate(2026, 8, 1), text="We wait a year.", place=HERE, stage="first"),
        Decision(date=PartialDate(2026, 9, 1), text="We go on.", place=HERE),
    )
    plain = Project(
        id="sun",
        name="Sunglow",
        species="corn-snake",
        goal=Goal(("amel", "hypo")),
        stages=stages,
        state="under way",
        place=HERE,
        started=PartialDate(2025, 11, 1),
        about="The *long* road.",
        horizon=2034,
        decisions=decisions,
        alternatives=(other,),
        relatedness_limit=Fraction(1, 8),
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def by_seasons(first: int, *kept: Fraction) -> tuple[SeasonChance, ...]:
    """Chances by season where whatever is born is kept and known."""
    return tuple(SeasonChance(first + rank, share, share, share) for rank, share in enumerate(kept))


def held(hold: Holdback, right: Fraction, carries: Fraction | None, drawn: int = 0) -> HoldbackOutlook:
    """What is told of young of which so many look right, in litters of 13."""
    unseen = hold.carries if carries is not None else ()
    return HoldbackOutlook(
        hold.id, False, hold.id == "goal", hold.count, hold.sex, hold.animals, right, right * 13,
        1 - (1 - right) ** 13, unseen, carries, dict.fromkeys(unseen, carries or Fraction(0)), drawn,
    )  # fmt: skip


def road(plan: Project | None = None, **more: object) -> RoadOutlook:
    """A road as one would be computed for :func:`project`: its first stage begun, its goal there in half by 2031."""
    plan = plan or project()
    looks = (
        Expected(("amel",), Fraction(1, 4), {"hypo": Fraction(2, 3)}),
        Expected((), Fraction(3, 4), {"amel": Fraction(2, 3)}),
    )
    tail = Fraction(3, 4) ** 5
    came = Counted("daughters", ("amel",), "female", 5, 0, Fraction(5, 4), tail, Fraction(1))
    first, second = plan.stages[0], plan.stages[-1]
    stages = (
        StageOutlook(
            first.id, StageState.BEGUN, first.season, 2027, Waits.TODAY, "", ("juniper",), ("flint",), looks,
            tuple(held(hold, Fraction(1, 8), Fraction(1, 2)) for hold in first.keep),
            ((2027, Fraction(1)),), None, {Ending.KEPT: Fraction(9, 10)},
            (LitterResult("2026-x", dt.date(2026, 7, 17), (came,)),), Fraction(0), False,
        ),
        StageOutlook(
            second.id, StageState.LATER, second.season, 2030, Waits.DAM_AGE, second.dam, (second.dam,), ("flint",),
            looks, tuple(held(hold, Fraction(1, 16), None, DRAWS) for hold in second.keep),
            ((2030, Fraction(3, 5)), (2031, Fraction(9, 10))), Fraction(8, 9),
            {Ending.GOAL: Fraction(8, 10), Ending.STUCK: Fraction(1, 10)}, (), Fraction(1, 8), True,
        ),
    )[: len(plan.stages)]  # fmt: skip
    loads = tuple(
        SeasonLoad(year, Range(Fraction(13), 6, 20), Range(Fraction(1, 2), 0, 1), Range(Fraction(3, 2), 1, 2))
        for year in range(2027, 2035)
    )
    plain = RoadOutlook(
        stages, None, 2034, by_seasons(2027, *(Fraction(n, 10) for n in (0, 0, 0, 3, 5, 6, 7, 8))), 2031, loads,
        Fraction(5, 2), Fraction(1, 8), (Ancestry("Saltby", Fraction(3, 4)), Ancestry("", Fraction(1, 4))), (),
        DRAWS, Fraction(35, 10_000),
    )  # fmt: skip
    return replace(plain, **more)  # type: ignore[arg-type]


@cache
def _small() -> Material:
    return small_material()


def with_roads(
    plan: Project, main: RoadOutlook, *others: RoadOutlook, rivals: tuple[Rival, ...] = ()
) -> tuple[Material, Folio]:
    """The small site with this project, and the folio of its page; another route is 1/20 better, give or take 1."""
    small = _small()
    routes = {each.id: found for each, found in zip(plan.alternatives, others, strict=False)}
    gains = dict.fromkeys(routes, (Fraction(1, 20), Fraction(1, 200)))
    records = replace(small.collection, projects={plan.id: plan})
    made = replace(small, collection=records, roads={plan.id: ProjectRoads(main, routes, gains, rivals)})
    return made, folio(made, f"projects/{plan.id}.html")


# Any road.


def _drawn(draws: int) -> st.SearchStrategy[Fraction]:
    """A share of so many plans, none and all among them."""
    return st.one_of(st.sampled_from([0, draws]), st.integers(0, draws)).map(lambda count: Fraction(count, draws))


@st.composite
def holdbacks(draw: st.DrawFn, hold: Holdback, draws: int, *, is_else: bool) -> HoldbackOutlook:
    drawn = draw(st.sampled_from([0, draws]))
    share = _drawn(draws) if drawn else chances
    right = draw(share)
    return HoldbackOutlook(
        hold.id, is_else, hold.id == "goal", hold.count, hold.sex, hold.animals, right,
        right * draw(st.integers(1, 30)), draw(share) if right else Fraction(0), hold.carries,
        draw(share) if hold.carries and right else None, {allele: draw(share) for allele in hold.carries}, drawn,
    )  # fmt: skip


@st.composite
def any_seasons(draw: st.DrawFn, first: int, draws: int) -> tuple[SeasonChance, ...]:
    n = draw(st.integers(1, 12))
    born = sorted(draw(st.lists(_drawn(draws), min_size=n, max_size=n)))
    kept = sorted(share * draw(st.sampled_from([0, 1, 1])) for share in born)
    known = sorted(share * draw(st.sampled_from([0, 1, 1])) for share in kept)
    return tuple(SeasonChance(first + i, *shares) for i, shares in enumerate(zip(born, kept, known, strict=True)))


@st.composite
def any_ended(draw: st.DrawFn, draws: int) -> dict[Ending, Fraction]:
    counts = [draw(st.integers(0, draws)) for _ in Ending]
    whole = max(draws, sum(counts))
    return {way: Fraction(count, whole) for way, count in zip(Ending, counts, strict=True) if count}


@st.composite
def any_load(draw: st.DrawFn, season: int) -> SeasonLoad:
    low = draw(st.integers(0, 20))
    one = Range(draw(chances) * 20, low, low + draw(st.integers(0, 9)))
    return SeasonLoad(season, one, one, one)


@st.composite
def any_counted(draw: st.DrawFn) -> Counted:
    n_young = draw(st.integers(0, 20))
    came = draw(st.integers(0, n_young))
    share = draw(chances)
    from_binomial = _binomial(n_young, share)
    few, many = sum(from_binomial[: came + 1], Fraction(0)), sum(from_binomial[came:], Fraction(0))
    kind = draw(st.sampled_from(["daughters", "goal"]))
    looks = draw(st.sampled_from([(), ("amel",), ("amel", "hypo")]))
    return Counted(kind, looks, draw(sexes), n_young, came, share * n_young, few, many)


def _binomial(n: int, share: Fraction) -> list[Fraction]:
    odds = [Fraction(1)]
    for _ in range(n):
        odds = [a * (1 - share) + b * share for a, b in zip([*odds, Fraction(0)], [Fraction(0), *odds], strict=True)]
    return odds


@st.composite
def any_stage(draw: st.DrawFn, stage: Stage, draws: int) -> StageOutlook:
    state = draw(st.sampled_from(list(StageState)))
    never = state is not StageState.DONE and draw(st.integers(0, 5)) == 0
    earliest = None if never else draw(st.integers(2024, 2040))
    waits = Waits.NEVER if never else draw(st.sampled_from([w for w in Waits if w is not Waits.NEVER]))
    looks = (Expected(("amel",), draw(chances), {"hypo": draw(chances)}), Expected((), draw(chances), {}))
    results = tuple(
        LitterResult(litter, dt.date(2026, 7, 17), tuple(draw(st.lists(any_counted(), max_size=3))))
        for litter in stage.litters
    )
    done = state is StageState.DONE
    bred = sorted(draw(st.lists(_drawn(draws), min_size=1, max_size=4)))
    return StageOutlook(
        stage.id, state, stage.season, earliest, waits, draw(st.sampled_from(["", stage.dam, stage.sire])),
        (stage.dam,), (stage.sire,), looks,
        tuple(draw(holdbacks(hold, draws, is_else=hold in stage.otherwise)) for hold in stage.holdbacks),
        () if done else tuple((2027 + rank, share) for rank, share in enumerate(bred)),
        draw(st.one_of(st.none(), _drawn(draws))), draw(any_ended(draws)), results, Fraction(0), draw(st.booleans()),
    )  # fmt: skip


@st.composite
def any_road(draw: st.DrawFn, plan: Project) -> RoadOutlook:
    draws = draw(st.sampled_from([20, 20_000]))
    found = draw(any_seasons(2027, draws))
    reached = draw(st.one_of(st.none(), st.none(), st.integers(2024, 2026)))
    by_half = next((each.season for each in found if each.kept >= Fraction(1, 2)), None)
    setback = Setback(
        "first", "daughters", "hypo", draw(st.sampled_from([("juniper",), ("juniper", "sorrel")])),
        draw(st.one_of(st.none(), st.integers(2027, 2031))), draw(st.one_of(st.none(), st.integers(0, 4))),
    )  # fmt: skip
    ahead = reached is None
    return RoadOutlook(
        tuple(draw(any_stage(stage, draws)) for stage in plan.stages), reached,
        found[-1].season, found if ahead else (), by_half if ahead else None,
        tuple(draw(any_load(each.season)) for each in found) if ahead else (), draw(chances) * 9,
        draw(st.sampled_from([Fraction(0), Fraction(1, 8), Fraction(3, 8)])),
        draw(st.sampled_from([(), (Ancestry("Saltby", Fraction(1)),)])),
        draw(st.sampled_from([(), (setback,)])),
        draws, Fraction(1, 2 * draws), draw(st.booleans()),
        draw(st.sampled_from([(), ("flint",), ("flint", "juniper")])),
    )  # fmt: skip


@st.composite
def any_project(draw: st.DrawFn) -> tuple[Project, RoadOutlook, RoadOutlook]:
    """A plan, its road, and the road of its other route."""
    state = draw(st.sampled_from(["under way", "planned", "reached", "given up"]))
    kept = draw(st.sampled_from([(), ("sorrel",)]))
    plain = project(state=state)
    first = plain.stages[0]
    first = replace(
        first,
        litters=draw(st.sampled_from([(), ("2026-x",)])),
        keep=(replace(first.keep[0], animals=kept, count=draw(st.integers(1, 3)), sex=draw(sexes)),),
        otherwise=draw(st.sampled_from([(), (replace(first.keep[0], id="sons", sex="male", only=True),)])),
        until=draw(st.sampled_from(["tries", "else"])),
        tries=draw(st.sampled_from([None, 1, 3])),
    )
    plan = replace(plain, stages=(first, *plain.stages[1:]))
    other = replace(plan, stages=plan.alternatives[0].stages)
    return plan, draw(any_road(plan)), draw(any_road(other))


def lines_of(model: object) -> Iterator[str]:
    """The words of every line in a page's model."""
    if isinstance(model, tuple) and model and all(isinstance(span, Span) for span in model):
        yield words_of(model)
    elif isinstance(model, tuple):
        for item in model:
            yield from lines_of(item)
    elif is_dataclass(model):
        for each in fields(model):
            yield from lines_of(getattr(model, each.name))


def words_of(line: Line) -> str:
    """The words of a line."""
    return "".join(span.text for span in line)


__all__ = ["AS_OF", "any_project", "lines_of", "project", "road", "with_roads", "words_of"]


# Pages


def page(
    main: RoadOutlook | None = None, *others: RoadOutlook, rivals: tuple[Rival, ...] = (), **more: object
) -> ProjectPage:
    plan = project(**more)
    return project_page(plan, with_roads(plan, main or road(plan), *others, rivals=rivals)[1])


def told(lines: tuple[Line, ...]) -> list[str]:
    return [words_of(line) for line in lines]


def hrefs(line: Line) -> list[str]:
    return [span.href for span in line if span.href]
