"""``plan.yaml``: the limits and wishes of the keeper for the plan of the whole room. It is never published."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import ClassVar

from sitegen.content.animals import STATED, Animal
from sitegen.content.bind_projects import SEASONS, ProjectBinder, tell_no_season
from sitegen.content.declaration import AsWritten, Leaf, ListOf, Written, group_of, key_only, keyed
from sitegen.content.genes import Binder, Genes
from sitegen.content.prices import ASKED, Money, bind_price
from sitegen.content.projects import Goal, Project, ProjectState
from sitegen.content.references import KnownRecords, same
from sitegen.content.report import At, Report
from sitegen.content.species import BoundSpecies
from sitegen.content.values import (
    ANYTHING,
    CHANCE,
    DAY,
    NAME,
    SEX,
    TEXT,
    TEXTS,
    WHOLE,
    YES,
    PartialDate,
    above_zero,
    read_whole,
)
from sitegen.content.yaml_tree import Entries, Node, Scalar, as_text_map, entries_of, is_blank
from sitegen.exact import parse_fraction
from sitegen.findings import Kind, Place, nearest
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.observations import looks_of
from sitegen.genetics.questions import AnimalId

WISHES_FILE = "plan.yaml"


def read_weight(node: Scalar, report: Report) -> Fraction | None:
    """How much a goal counts: a number above 0."""
    weight = parse_fraction(node.text)
    if not weight:
        what = "a goal that counts nothing is no goal" if weight == 0 else f'"{node.text}" is no weight of a goal'
        report.wrong(node, what, "a number above 0, such as 3, 1 or 1/2", "write a number, or delete the goal")
    return weight or None


_WEIGHT = Leaf(read_weight, "a number", {"type": ["string", "number"]})


@dataclass(frozen=True, slots=True, kw_only=True)
class WishedGoal:
    """A goal of the plan: what so many animals are to show and carry, and how much it counts beside the others.

    ``project`` is the one whose goal it is, or empty.
    """

    id: str
    species: str = keyed(TEXT, "Its species; may be left out where there is only one.")
    shows: ClassVar = key_only(TEXTS, "Looks to be shown.")
    carries: ClassVar = key_only(TEXTS, "Genes to be carried.")
    count: int = keyed(WHOLE, "How many such animals are wanted; 1 when left out.", usual=1)
    weight: Fraction = keyed(_WEIGHT, "How much it counts beside the others; 1 when left out.", usual=Fraction(1))
    goal: Goal
    project: str = ""
    place: Place = field(compare=False)


GOAL = group_of(WishedGoal, "a goal of the plan", name="WishedGoal")


@dataclass(frozen=True, slots=True)
class WishedTests:
    """A DNA test that could be bought: what one costs, and species to the loci that it can be had for."""

    price: Money = keyed(ASKED, "What one test costs.", needed=True)
    loci: Mapping[str, tuple[str, ...]] = keyed(TEXTS, "The genes that are tested for.", needed=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class WishedAnimal:
    """An animal that could be bought: a founder that is not there, with what would be known of it, and its price."""

    species: ClassVar = key_only(NAME, "The species: the name of its file in species.", needed=True)
    name: ClassVar = key_only(TEXT, "What you call it.")
    sex: ClassVar = key_only(SEX, "female or male.", needed=True)
    born: ClassVar = key_only(DAY, "When it was born or hatched; taken as grown when left out.")
    shows: ClassVar = key_only(TEXTS, "The looks that are seen; [] for none. Left out: not judged.")
    unsure: ClassVar = key_only(TEXTS, "Loci that were not judged, or all.")
    stated: ClassVar = key_only(STATED, "What its keeper states, as in an animal's record.")
    price: Money | None = keyed(ASKED, "What it costs.", usual=None)
    animal: Animal


BUY = group_of(WishedAnimal, "an animal to buy")
_PLACES = AsWritten({"anyOf": [WHOLE.json, {"additionalProperties": WHOLE.json, "type": "object"}]})
_GOALS = AsWritten(
    {"additionalProperties": {"anyOf": [_WEIGHT.json, GOAL.json_schema(), {"type": "null"}]}, "type": "object"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """Limits and wishes for the plan of the whole room; never published. A limit is None where there is none.

    Attributes:
        season, last: First and last season; None for the next one, and for that in which its young are grown.
        litters: At most so many a season.
        keep: At most so many young of a litter.
        places: Animals of all species together.
        places_by_species: Animals of each species that has places of its own.
        sooner: Early seasons count more.
        without: Animals that are not bred.
        relatedness: The highest inbreeding coefficient of young; that of site.yaml where nothing is written.
        tests, buy: DNA tests that could be had, and animals that could be bought; ``budget`` is for one of them.
    """

    season: int | None = keyed(WHOLE, "The first season that is planned, a year of birth; the next one when left out.")
    last: int | None = keyed(
        WHOLE, "The last season; when left out, the one in which young of the first can have young themselves."
    )
    litters: int | None = keyed(WHOLE, "At most so many litters a season; no limit when left out.")
    keep: int | None = keyed(WHOLE, "At most so many young kept of a litter; no limit when left out.")
    places: int | None = keyed(_PLACES, "Places for animals, or by species: {corn-snake: 12}; no limit when left out.")
    places_by_species: Mapping[str, int] = field(default_factory=dict)
    goals: tuple[WishedGoal, ...] = keyed(
        _GOALS,
        "What is wanted: a project with its weight, or a name with species, shows, carries, count and weight. All open "
        "projects when left out.",
        usual=(),
    )
    sooner: bool = keyed(YES, "true: early seasons count more (3/6, 2/6, 1/6 over three); else all on the last.")
    without: tuple[AnimalId, ...] = keyed(TEXTS, "Animals that are not bred this time.")
    relatedness: Fraction | None = keyed(
        CHANCE, "The highest inbreeding coefficient of young, such as 1/8; that of site.yaml when left out."
    )
    tests: WishedTests | None = keyed(group_of(WishedTests, "tests"), "DNA tests that could be had.")
    buy: tuple[WishedAnimal, ...] = keyed(ListOf(BUY), "Animals that could be bought; at most 12.")
    budget: Money | None = keyed(ASKED, "Money for one animal; --buy leaves out what costs more.", usual=None)
    private: ClassVar = key_only(ANYTHING, "Notes of your own; like everything in this file they are never published.")
    place: Place = field(default=Place(WISHES_FILE), compare=False)
    season_place: Place | None = field(default=None, compare=False)


WISHES = group_of(Wishes, WISHES_FILE)
_MOST_TO_BUY = 12


def open_goals(projects: Mapping[str, Project]) -> tuple[WishedGoal, ...]:
    """The goals of all projects that are planned or under way, each with weight 1."""
    open_states = (ProjectState.PLANNED, ProjectState.UNDER_WAY)
    return tuple(_of_project(each, each.place) for each in projects.values() if each.state in open_states)


def _of_project(project: Project, place: Place, weight: Fraction = Fraction(1), count: int = 1) -> WishedGoal:
    return WishedGoal(
        id=project.id, species=project.species, goal=project.goal, count=count, weight=weight, project=project.id,
        place=place,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class WishesBinder:
    """Reads the wishes; ``named`` are all projects, ``projects`` those that could be bound."""

    known: KnownRecords
    projects: Mapping[str, Project]
    named: Collection[str]
    currency: str | None
    relatedness: Fraction | None
    report: Report

    def wishes(self, form: Written) -> Wishes:
        """The wishes; what cannot be used is told and left out."""
        places, by_species = self._places(form.places)
        limits = {
            name: above_zero(getattr(form, name), None, self.report, message, "a number from 1 on", remedy)
            for name, message, remedy in (
                ("litters", "with no litter there is nothing to plan", "write 1 or more; no line means no limit"),
                ("keep", "if nothing is kept of any litter, no goal is reached", "write 1 or more; no line: no limit"),
            )
        }
        seasons = self._seasons(form)
        budget = bind_price(form.budget, self.currency, self.report)
        if budget and not any(each.price for each in form.buy):
            self.report.notice(
                Kind.PRICE_WRONG,
                form.budget,
                "the budget leaves nothing out, since no animal under buy has a price",
                expected="buy with a price for each animal",
                remedy="write prices, or delete the budget",
            )
        return form.record(
            Wishes,
            **limits,
            **seasons,
            places=places,
            places_by_species=by_species,
            goals=tuple(self._goals(form.goals)),
            without=self._without(form.without),
            relatedness=form.relatedness.value if form.relatedness else self.relatedness,
            tests=self._tests(form.tests),
            buy=self._buy(form.buy, budget),
            budget=budget,
            place=form.start,
            season_place=form.season.place if form.season else None,
        )

    def _seasons(self, form: Written) -> dict[str, int | None]:
        first, last = form.season, form.last
        for written, what in ((first, "the first year you plan for"), (last, "the last year you plan for")):
            if written and written.value not in SEASONS:
                tell_no_season(written, what, self.report)
        if first and last and last.value < first.value:
            self.report.error(
                Kind.DATE_IMPOSSIBLE,
                last,
                f"the last season, {last.value}, lies before the first one, {first.value}",
                expected=f"{first.value} or later",
                remedy="correct one of the two years",
                others=(first.place,),
            )
        return {"season": first.value if first else None, "last": last.value if last else None}

    def _places(self, tree: Node | None) -> tuple[int | None, dict[str, int]]:
        if tree is None or is_blank(tree):
            return None, {}
        if isinstance(tree, Scalar):
            return self._above_zero(tree), {}
        found = {}
        for name, node in as_text_map(tree, self.report):
            species, number = self.known.find_species(name.named, self.report), self._above_zero(node)
            if species and number:
                found[species] = number
        return None, found

    def _above_zero(self, node: Scalar) -> int | None:
        number = read_whole(node, self.report)
        written = None if number is None else At(number, node.place, node.width)
        message = "with no place for any animal nothing can be planned"
        return above_zero(written, None, self.report, message, "a number from 1 on", "write how many animals have room")

    def _goals(self, tree: Node | None) -> Iterator[WishedGoal]:
        for name, node in [] if tree is None else entries_of(tree, self.report):
            if isinstance(node, Scalar) and not node.blank:
                weight = read_weight(node, self.report)
                if (project := self._project(name)) and weight:
                    yield _of_project(project, name.place, weight)
                continue
            form = GOAL.read(Entries((), name.place) if is_blank(node) else node, self.report)
            if form is not None and (goal := self._goal(name, form)):
                yield goal

    def _goal(self, name: Scalar, form: Written) -> WishedGoal | None:
        """A goal with looks of its own, or that of the project whose name it has."""
        message = "a goal that wants no animal is no goal"
        count = above_zero(form.count, 1, self.report, message, "a number from 1 on", "write how many are wanted")
        weight = form.weight.value if form.weight else Fraction(1)
        if not form.shows and not form.carries:
            project = self._project(name)
            return _of_project(project, name.place, weight, count) if project else None
        if same(name.text) in self.named:
            self.report.error(
                Kind.ID_TWICE,
                name,
                f'"{name.text}" is a project, and looks of its own stand here beside those of its goal',
                expected="a name that no project has, or no shows and carries",
                remedy="choose another name, or delete shows and carries",
            )
            return None
        message = f"of which species the goal {name.text} is, nobody says"
        species = self.known.species_meant(form.species, name.place, message, self.report)
        if species is None:
            return None
        goal = ProjectBinder(self.known, species.names, self.report).goal(form)
        return WishedGoal(
            id=same(name.text), species=species.species.id, goal=goal, count=count, weight=weight, place=name.place
        )

    def _project(self, name: Scalar) -> Project | None:
        """The project that is named; None, and a finding, when there is none or it was given up."""
        spelling = same(name.text)
        project = self.projects.get(spelling)
        if project is None and spelling not in self.named:
            near = nearest(spelling, self.named)
            self.report.unknown(
                Kind.GOAL_UNKNOWN,
                name,
                f'there is no project "{name.text}", and nothing says what this goal shows or carries',
                f"one of {', '.join(self.named)}, or a goal with shows or carries"
                if self.named
                else "shows or carries",
                near,
                f"say what it is: {name.text}: {{shows: [amel], weight: 1}}",
            )
        if project is not None and project.state == ProjectState.GIVEN_UP:
            self.report.error(
                Kind.GOAL_UNKNOWN,
                name,
                f"the project {project.name} was given up, and the plan is to reach it",
                expected="a project that is planned, under way or reached",
                remedy="delete the line; or, if you go on with it, correct state in the project's record",
                others=(project.place,),
            )
            return None
        return project

    def _without(self, written: Sequence[At[str]]) -> tuple[AnimalId, ...]:
        found: dict[AnimalId, At[str]] = {}
        for text in written:
            animal = self.known.find_animal(text, self.report)
            if animal in found:
                self.report.error(
                    Kind.ID_TWICE,
                    text,
                    f"{animal} stands twice under without",
                    expected="each animal once",
                    remedy="delete one; was another animal meant?",
                    others=(found[animal],),
                )
            elif animal:
                found[animal] = text
        return tuple(found)

    def _tests(self, form: Written | None) -> WishedTests | None:
        if form is None:
            return None
        price = bind_price(form.price, self.currency, self.report)
        found: dict[str, list[str]] = {}
        bound = [species for species in self.known.species.values() if species]
        for text in form.loci:
            known = [own for own in bound if own.names.find_locus(text, Report())]
            for own in known or bound[:1]:  # where no species knows it, the first one says so
                locus = own.names.find_locus(text, self.report)
                if locus is not None:
                    found.setdefault(own.species.id, []).append(locus.id)
        loci = {species: tuple(dict.fromkeys(each)) for species, each in found.items()}
        return WishedTests(price, loci) if price else None

    def _buy(self, forms: Sequence[Written], budget: Money | None) -> tuple[WishedAnimal, ...]:
        if len(forms) > _MOST_TO_BUY:
            message = f"{len(forms)} animals to buy are more than are compared"
            self.report.wrong(forms[_MOST_TO_BUY].start, message, f"at most {_MOST_TO_BUY}", "delete some")
        found = []
        for number, form in enumerate(forms, 1):
            price = bind_price(form.price, self.currency, self.report)
            if price and budget and price.currency != budget.currency:
                self.report.error(
                    Kind.PRICE_WRONG,
                    form.price,
                    f"this price is in {price.currency} and the budget in {budget.currency}",
                    expected="one currency",
                    remedy=f"write it in {budget.currency}",
                )
            species = self.known.find_species(form.species, self.report)
            bound = self.known.species.get(species) if species else None
            if form.sex.value is Sex.UNKNOWN:
                self.report.wrong(form.sex, "an animal is bought for its sex too", "female or male", "write its sex")
            elif bound is not None:
                found.append(WishedAnimal(animal=self._founder(number, bound, form), price=price))
        return tuple(found)

    def _founder(self, number: int, species: BoundSpecies, form: Written) -> Animal:
        """The animal as a record of its own would tell it; its id has a space, so no animal on record has it."""
        binder = Binder(species.names, form.sex.value, self.report)
        genes = Genes(binder.judged(form, None), binder.stated(form.stated))
        self._check_stated(genes, species.species.genome)
        born: At[PartialDate] | None = form.born
        return Animal(
            id=f"buy {number}",
            species=species.species.id,
            name=form.name.value if form.name else "",
            sex=form.sex.value,
            born=born.value if born else None,
            genes=(genes,),
            place=form.start,
        )

    def _check_stated(self, genes: Genes, genome: Genome) -> None:
        """Tells a look that is seen although what is stated rules it out: a hypothetical animal must be possible."""
        for seen in genes.judged.seen:
            locus = genome.locus(seen.locus)
            for stated in genes.stated:
                closed = not stated.quoted or len(locus.alleles) == 1  # a stated word leaves other alleles open
                showing = any(looks_of(locus, genotype).get(seen.look) for genotype in stated.odds)
                if stated.locus == seen.locus and closed and not showing:
                    self.report.error(
                        Kind.EVIDENCE_CLASH,
                        stated.place,
                        f"it shows {seen.as_written}, and none of what is stated of {locus.id} shows that",
                        expected="what is seen under shows, what is carried unseen under stated",
                        remedy="delete one of the two",
                        others=(seen.place,),
                    )
