"""``sitegen routes PROJECT``: which animals and crosses lead to a project's goal."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import replace

import click

from sitegen.app.commands.completing import projects
from sitegen.app.commands.options import Call, known_or_told, shared
from sitegen.app.console import Console
from sitegen.content.collection import Collection, latest_date
from sitegen.content.projects import Project
from sitegen.content.species import Species
from sitegen.evidence.answers import Answers
from sitegen.evidence.offers import allele_cautions
from sitegen.findings import SitegenError, WrongUse, nearest
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.outlook import outlook
from sitegen.plans.roads.routes import MOST_YOUNG, horizon_of, quickly, search, worked_out_by
from sitegen.plans.roads.routes_cast import is_certainly
from sitegen.plans.roads.routes_kinds import Bounds, Found, Route, Worth
from sitegen.plans.roads.routes_machine import routes_json
from sitegen.plans.roads.routes_odds import goal_alleles
from sitegen.plans.roads.routes_stages import as_record
from sitegen.plans.roads.routes_ways import MOST_OF_A_KIND
from sitegen.words import route_search as words
from sitegen.words.buying import short_caution
from sitegen.words.inheritance import birth_words
from sitegen.words.speech import Sentence, Voice, animal_name, plain


@click.command(name="routes", epilog="Example:  sitegen routes river-mist --horizon 2036")
@click.argument("project", shell_complete=projects)
@shared
@click.option(
    "--generations", type=click.IntRange(1, 4), default=3, show_default=True, help="Most generations to the goal."
)
@click.option(
    "--horizon",
    type=click.IntRange(1970, 2200),
    help="The last season that counts; else the project's own, or ten after the first that is still open.",
)
@click.option("--most", type=click.IntRange(min=1), default=8, show_default=True, help="Tell so many routes at most.")
@click.option("--as-record", "letter", metavar="LETTER", help="Print the stages of one route as a record, only that.")
def command(call: Call, project: str, generations: int, horizon: int | None, most: int, letter: str | None) -> int:
    """Search the collection for routes to the goal of PROJECT: which animals, which crosses, what to keep.

    A project is named by its folder, or by its name.
    """
    console = call.console
    known, status = known_or_told(call)
    if known is None:
        return status
    chosen = _nearest_project(known.collection, project)
    as_of = call.date or latest_date(known.collection)
    bounds = Bounds(
        generations=generations,
        horizon=horizon or horizon_of(known.asked, chosen, as_of),
        relatedness=chosen.relatedness_limit,
    )
    roads = Roads(known.asked, chosen.species)
    exact = worked_out_by(roads, chosen, as_of, bounds.horizon)
    with console.progress("Routes") as report:
        quick = quickly(roads, chosen, as_of, bounds.horizon)
        found = search(known.asked, chosen, as_of, quick, bounds, report, exact)
    if letter is not None:
        console.show_result(as_record(_lettered(found, letter).stages).rstrip("\n"))
    elif call.as_json:
        console.show_json(routes_json(chosen, found))
    else:
        _Telling(console, roads, known.answers, chosen, as_of, found, most).tell()
    return status


def _nearest_project(collection: Collection, named: str) -> Project:
    """The project that is meant.

    Raises:
        WrongUse: There is none such; the nearest is offered.
    """
    wanted = named.strip().removesuffix("/").lower()
    names: dict[str, Project] = {}
    for each in collection.projects.values():
        names.setdefault(each.id, each)
        names.setdefault(each.name.lower(), each)
    if wanted in names:
        return names[wanted]
    if not names:
        raise WrongUse("there is no project in the records; write one in projects/NAME/project.yaml with its goal")
    close = nearest(wanted, names)
    raise WrongUse(f'there is no project "{named}" in the records' + (f"; nearest: {close}" if close else ""))


def _lettered(found: Found, letter: str) -> Route:
    """The route of a letter.

    Raises:
        WrongUse: There is none of that letter.
    """
    letters = {words.letter(number): route for number, route in enumerate(found.routes)}
    if letter.upper() in letters:
        return letters[letter.upper()]
    there = f"there are {', '.join(letters)}" if letters else "none was found"
    raise WrongUse(f"there is no route {letter}; {there}")


class _Telling:
    """Tells what was found."""

    def __init__(
        self,
        console: Console,
        roads: Roads,
        answers: Answers,
        project: Project,
        as_of: dt.date,
        found: Found,
        most: int,
    ) -> None:
        self.console, self.asked, self.as_of, self.found, self.roads = console, roads.asked, as_of, found, roads
        self.collection: Collection = self.asked.evidence.collection
        self.voice = Voice(self.collection, answers, as_of)
        self.species: Species = self.collection.species[project.species]
        self.own = project
        self.project = replace(project, horizon=found.bounds.horizon, state="under way")
        self.told: Mapping[str, Route] = {words.letter(n): route for n, route in enumerate(found.routes[:most])}

    def tell(self) -> None:
        found = self.found
        self._say(words.head_sentence(self.own, self.species, found))
        self._say(self._already())
        for caution in self._cautions():
            self._say(caution)
        if found.cannot_live:
            self._say(words.cannot_live_sentence())
        elif found.nobody_has:
            self._say(words.nobody_sentence(found.nobody_has, self.species.genome))
        elif not found.routes:
            self._say(words.none_sentence(found))
        else:
            self._table()
            for letter, route in self.told.items():
                self.console.show_result("")
                self._route(letter, route)
            self.console.show_result("")
            self._say(words.record_sentence(next(iter(self.told))))
        self.console.show_result(f"\n{words.untried_title()}")
        for sentence in self._untried():
            self._say(sentence, "  ")

    def _say(self, sentence: Sentence, indent: str = "") -> None:
        if sentence:
            self.console.show_result(indent + plain(sentence))

    def _already(self) -> Sentence:
        sure = [each for each in self.found.already if is_certainly(self.asked, self.own, each)]
        perhaps = [each for each in self.found.already if each not in sure]
        names = [[animal_name(self.collection, each) for each in group] for group in (sure, perhaps)]
        return words.already_sentence(names[0], names[1])

    def _cautions(self) -> Iterator[Sentence]:
        """What is known to harm animals with a gene of the goal."""
        for locus in self.species.genome.loci:
            for allele in goal_alleles(locus, self.own.goal):
                for caution in allele_cautions(self.species.id, locus, allele):
                    yield short_caution(caution, self.voice)

    def _table(self) -> None:
        horizon = self.found.bounds.horizon
        rows = [
            words.table_row(letter, route.worth, route.young, route.generations, route.inbreeding, horizon)
            for letter, route in self.told.items()
        ]
        rows += self._own_plan(horizon)
        columns = words.table_columns(horizon, birth_words(self.species).litters)
        self.console.show_table(words.table_title(horizon), columns, rows, right=(1, 2, 4, 5))
        if len(self.told) < len(self.found.routes):
            self._say(words.more_sentence(len(self.found.routes) - len(self.told)))

    def _own_plan(self, horizon: int) -> list[tuple[str, ...]]:
        """The project's own stages in the same table; nothing when they lead nowhere any more."""
        if not self.own.stages or self.own.state in ("reached", "given up"):
            return []
        try:
            road = outlook(self.asked, self.project, self.as_of, roads=self.roads)
        except SitegenError:
            return []
        if road.reached is not None or not road.by_season:
            return []
        open_ = [stage for stage in self.own.stages[:-1] for kept in stage.keep if not kept.animals]
        young = sum(kept.count for stage in self.own.stages[:-1] for kept in stage.keep if not kept.animals)
        closest = max((stage.inbreeding for stage in road.stages), default=road.inbreeding)
        generations = len({stage.id for stage in open_}) + 1
        worth = Worth(road.median, road.by_season[-1].by, road.litters, road.kept, road.method)
        return [words.table_row(words.plan_name(), worth, young, generations, closest, horizon)]

    def _route(self, letter: str, route: Route) -> None:
        self.console.show_result(words.route_title(letter))
        road = outlook(self.asked, self.project, self.as_of, stages=route.stages, roads=self.roads)
        for number, stage in enumerate(route.stages, 1):
            self._say(words.pairing_sentence(number, stage, route.stages, self.collection), "  ")
            told = words.stage_outlook(road, stage)
            last = number == len(route.stages)
            for kept in told.holdbacks if not last else ():
                for sentence in words.keep_sentences(kept, stage, self.species):
                    self._say(sentence, "     ")
            self._say(words.goal_sentence(told.goal_each, last=last), "     ")
        for sentence in (
            *words.end_sentences(route, road, self.species),
            *words.alike_sentences(route, self.collection),
        ):
            self._say(sentence, "  ")

    def _untried(self) -> Iterator[Sentence]:
        if self.found.shapes:
            yield from words.effort_sentences(self.found)
            yield from words.bounds_sentences(self.found.bounds, MOST_OF_A_KIND, MOST_YOUNG)
        yield from words.left_out_sentences(self.found.left_out, self.collection)
