"""A route to a goal as its pages look at it; and the road in pictures: parents, what was kept, the goal."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.content.branches import needs
from sitegen.content.breeding_years import BreedingYear, breeding_year
from sitegen.content.litters import Litter, living_young
from sitegen.content.off_site import is_off_site
from sitegen.content.projects import Holdback, Project, Stage, is_goal
from sitegen.content.species import Species
from sitegen.genetics.loci import WILD
from sitegen.genetics.observations import showing_alleles
from sitegen.plans.roads.kinds import RoadOutlook, StageOutlook, StageState, Waits
from sitegen.site.material import Folio
from sitegen.site.parts import Line, Plate, words
from sitegen.site.plates import empty_plate, named_plate
from sitegen.words import road_stages as say
from sitegen.words.inheritance import BirthWords, birth_words
from sitegen.words.roads import never_sentence, opened, season_words, why_words
from sitegen.words.speech import Link, Sentence, Target, Words, _, plain, said


@dataclass(frozen=True, slots=True)
class RoadStep:
    """A stage on the picture of the road.

    Attributes:
        when: Its seasons, or the earliest.
        title: ``Stage 2``, leading to its card.
        state: How far it is: ``done``, ``begun``, ``next``, ``later``; empty where nothing could be worked out.
        parents, kept, otherwise: Small pictures with names; young that are still to come have empty plates.
    """

    when: str
    title: Line
    state: str
    parents: tuple[Plate, ...]
    kept: tuple[Plate, ...]
    otherwise: tuple[Plate, ...]
    came: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Road:
    """A plan, with the stages of one route, beside what was computed of it; None where it could not be.

    It is ``linked`` where the stages have their places on the page, so that words may lead there.
    """

    project: Project
    folio: Folio
    outlook: RoadOutlook | None
    linked: bool = True

    @property
    def species(self) -> Species:
        """The species it is about."""
        return self.folio.collection.species[self.project.species]

    @property
    def births(self) -> BirthWords:
        """Clutch or litter."""
        return birth_words(self.species)

    @property
    def year(self) -> BreedingYear:
        """The months of pairing and birth."""
        return breeding_year(self.folio.collection, self.species)

    @property
    def given_up(self) -> bool:
        """True when nothing more is expected."""
        return self.project.state == "given up"

    @property
    def ahead(self) -> RoadOutlook | None:
        """What was computed, where something is still to come."""
        outlook = self.outlook
        return outlook if outlook is not None and outlook.reached is None and not self.given_up else None

    def number(self, stage: str) -> int:
        """Which stage it is, from 1."""
        return next(rank for rank, each in enumerate(self.project.stages, 1) if each.id == stage)

    def stage_words(self, stage: str) -> Words:
        """``stage 2``, leading there if it can."""
        link = say.stage_link(self.project.id, stage, self.number(stage))
        return link if self.linked else link.text

    def looked_at(self, stage: Stage) -> StageOutlook | None:
        """What was computed of a stage."""
        return next((each for each in self.outlook.stages if each.id == stage.id), None) if self.outlook else None

    def still_open(self, stage: Stage) -> StageOutlook | None:
        """What was computed of a stage of which something is still to come."""
        looked = self.looked_at(stage)
        return looked if looked and self.ahead is not None and looked.state is not StageState.DONE else None

    def is_second_way(self, stage: Stage) -> bool:
        """True for a stage that is bred only if an earlier one does not bring what was wanted."""
        return any(use.is_else for use in needs(self.project.stages)[stage.id].values())

    def held(self, name: str) -> tuple[Stage, Holdback] | None:
        """The stage and the young that ``STAGE.HOLDBACK`` means; None for an animal."""
        stage_id, _dot, holdback_id = name.partition(".")
        every = ((s, h) for s in self.project.stages if s.id == stage_id for h in s.holdbacks if h.id == holdback_id)
        return next(every, None) if name not in self.folio.collection.animals else None

    def animals(self, name: str) -> tuple[str, ...]:
        """The animals that a parent's name means; none for young that are not kept yet."""
        if name in self.folio.collection.animals:
            return (name,)
        held = self.held(name)
        return self.kept(held[1]) if held else ()

    def kept(self, held: Holdback) -> tuple[str, ...]:
        """The young that were kept."""
        return tuple(each for each in held.animals if each in self.folio.collection.animals)

    def parent(self, name: str) -> Sentence:
        """A parent in words: its name, or which young it is to be."""
        if animals := self.animals(name):
            return self.folio.voice.animals(animals, either=True)
        held = self.held(name)
        if held is None:
            return said(name)
        stage, holdback = held
        return say.planned_words(holdback.count, holdback.sex, self.stage_words(stage.id))

    def pair(self, stage: Stage) -> Sentence:
        """The pairing of a stage."""
        return said(_("{dam} with {sire}"), dam=self.parent(stage.dam), sire=self.parent(stage.sire))

    def wanted(self, held: Holdback, *, seen: bool = False) -> Sentence:
        """What is to be kept; ``seen``: by what an eye can choose by."""
        carries = () if seen else self.names(held.carries)
        return say.wanted_words(held.count, held.sex, self.shown(held, held.shows), carries)

    def shown(self, held: Holdback, looks: Sequence[str]) -> tuple[Words, ...]:
        """Looks by name; that they are all, where nothing else is to be seen."""
        return (say.nothing_but(self.names(looks)),) if held.only else self.names(looks)

    def names(self, ids: Sequence[str]) -> tuple[Link, ...]:
        """Alleles and looks by name, each leading to its gene."""
        return tuple(found for each in ids for found in self._named(each))

    def _named(self, name: str) -> tuple[Link, ...]:
        genome = self.species.genome
        for locus in genome.loci:
            where = f"{self.species.id}/{locus.id}"
            called = {look.id: look.name for look in locus.looks} | {each.id: each.name for each in locus.alleles}
            if name in called:
                return (Link(called[name], Target.GENE, where),)
        return ()

    def when(self, season: int) -> str:
        """A season to come: with the month of pairing where it is recorded."""
        paired = self.year.pairing_day(season)
        known = self.outlook is not None and not self.outlook.assumed_season
        told = (paired.year, paired.month) if known else (season, 0)
        return season_words(*told, self.folio.collection.site.language)

    def seasons(self, stage: Stage) -> str:
        """When a stage was bred, or can be at the earliest; else the season it was planned for."""
        seasons = list(dict.fromkeys(str(self.season_of(litter)) for litter in self.litters(stage)))
        looked = self.still_open(stage)
        if looked is None:
            return ", ".join(seasons) or str(stage.season)
        if looked.earliest is not None and not self.coming(looked):
            seasons.append(_("from {year}").format(year=looked.earliest))
        return ", ".join(seasons)

    def why(self, stage: StageOutlook) -> str:
        """What decides a stage's earliest season, after "because"; empty when it has none."""
        if stage.earliest is None:
            return ""
        rest = self.project.rest if self.project.rest is not None else self.species.rest
        return why_words(Waits.TODAY if stage.waits is Waits.REST and rest == 0 else stage.waits, stage.earliest)

    def never(self, stage: StageOutlook) -> Sentence:
        """That a stage cannot be bred any more, and because of whom."""
        animal = self.folio.collection.animals.get(stage.waits_for)
        return never_sentence(self.folio.voice.animal(animal.id) if animal and animal.died else "")

    def litters(self, stage: Stage) -> tuple[Litter, ...]:
        """The litters of a stage, oldest first."""
        found = [self.folio.collection.litters[each] for each in stage.litters if each in self.folio.collection.litters]
        return tuple(sorted(found, key=self.season_of))

    def season_of(self, litter: Litter) -> int:
        """The season of a litter; 0 when nothing of it is dated."""
        return self.year.season_of(litter) or 0

    def coming(self, looked: StageOutlook) -> Litter | None:
        """The litter of a stage that its earliest season stands for and that is not born yet."""
        stage = next(each for each in self.project.stages if each.id == looked.id)
        unborn = (each for each in self.litters(stage) if each.born is None and each.failed is None)
        return next((each for each in unborn if self.season_of(each) == looked.earliest), None)

    def harm(self, stage: Stage) -> Line:
        """That young of a stage can have a gene with a known harm; empty where they cannot."""
        dam, sire = (self._alleles(name) for name in (stage.dam, stage.sire))
        found = []
        for locus in self.species.genome.loci:
            made = {locus.genotype(a, b) for a in dam[locus.id] for b in sire[locus.id]}
            shown = {allele for genotype in made for allele in showing_alleles(locus, genotype)}
            if locus.sex_linked:
                shown |= dam[locus.id] | sire[locus.id]
            found += [each.id for each in locus.alleles if each.welfare and each.id in shown]
        return self.folio.line(say.harm_sentence(self.names(found), goal=False))

    def _alleles(self, parent: str) -> dict[str, set[str]]:
        """Locus to the alleles that a parent may have; of young that are not kept yet, those of both their parents."""
        found: dict[str, set[str]] = {locus.id: {WILD} for locus in self.species.genome.loci}
        held = self.held(parent)
        sources = [self._alleles(n) for n in (held[0].dam, held[0].sire)] if held and not self.animals(parent) else []
        for animal in self.animals(parent):
            posteriors = self.folio.voice.answers.posteriors.get(animal, {})
            sources.append({locus: {allele for pair in odds for allele in pair} for locus, odds in posteriors.items()})
        for source in sources:
            for locus, alleles in source.items():
                found[locus] |= alleles
        return found


def next_stage(outlook: RoadOutlook) -> StageOutlook | None:
    """The open stage that can be bred first; of several at the same time the first in the plan."""
    open_ = [stage for stage in outlook.stages if stage.state is not StageState.DONE]
    can = [(stage.earliest, rank, stage) for rank, stage in enumerate(open_) if stage.earliest is not None]
    return min(can)[2] if can else None


# The road in pictures.


def road_steps(road: Road) -> tuple[RoadStep, ...]:
    """The stages in their order, each with its parents and what was kept, or is to be."""
    return tuple(_step(stage, road) for stage in road.project.stages)


def _step(stage: Stage, road: Road) -> RoadStep:
    looked = road.looked_at(stage)
    filled = bool(stage.keep) and all(len(road.kept(held)) >= held.count for held in stage.keep)
    kept = [plate for held in stage.keep for plate in _held(held, road)]
    if not stage.keep and stage is road.project.stages[-1]:
        kept.append(empty_plate(words(_("the goal"))))
    return RoadStep(
        when=road.seasons(stage),
        title=road.folio.line(opened(said("{stage}", stage=road.stage_words(stage.id)))),
        state=looked.state.value if looked else "",
        parents=tuple(plate for name in (stage.dam, stage.sire) for plate in _parent(name, road)),
        kept=tuple(kept),
        otherwise=() if filled else tuple(plate for held in stage.otherwise for plate in _held(held, road)),
        came=road.folio.lines(list(_came(stage, road))),
    )


def _parent(name: str, road: Road) -> Iterator[Plate]:
    animals, held = road.animals(name), road.held(name)
    yield from (_small(animal, road) for animal in animals)
    if not animals:
        yield _empty(held[1], road) if held else empty_plate(words(name))


def _held(held: Holdback, road: Road) -> Iterator[Plate]:
    """The young that were kept; where there are none yet, one empty plate."""
    goal = is_goal(held, road.project.goal)
    yield from (replace(_small(each, road), note=_("the goal") if goal else "") for each in road.kept(held))
    if not road.kept(held):
        yield empty_plate(words(_("the goal"))) if goal else _empty(held, road)


def _empty(held: Holdback, road: Road) -> Plate:
    """``two females``: young that are not kept yet."""
    return empty_plate(words(plain(say.wanted_words(held.count, held.sex, (), ()))))


def _small(animal: str, road: Road) -> Plate:
    """An animal with the shortest name that is clear beside its parents."""
    if is_off_site(animal):
        return empty_plate(words(_("not shown")))
    record = road.folio.collection.animals[animal]
    shown = replace(named_plate(record, road.folio), note="")
    if record.number and record.name in ("", record.number):
        return replace(shown, caption=words(_("No. {number}").format(number=record.number), shown.href))
    return shown


def _came(stage: Stage, road: Road) -> Iterator[Sentence]:
    for litter in road.litters(stage):
        if litter.born:
            yield say.came_words(litter.id, living_young(litter))
        elif litter.failed:
            yield say.came_to_nothing(litter.id, litter.failed.what)
        else:
            yield said(_("a {litter} is on its way"), litter=road.births.litter)


def reached_with(road: Road) -> tuple[str, ...]:
    """The animals that were kept as the goal."""
    wanted = set(road.project.goal.shows)
    held = [h for stage in road.project.stages for h in stage.holdbacks if wanted <= set(h.shows)]
    return tuple(dict.fromkeys(animal for h in held for animal in road.kept(h)))
