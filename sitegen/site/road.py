"""A route to a goal as its pages look at it: the plan, what was computed of it, and the names in it."""

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.content.litters import Litter
from sitegen.content.projects import Holdback, Project, Stage
from sitegen.content.species import Species
from sitegen.plans.roads.kinds import RoadOutlook, StageOutlook, Waits
from sitegen.site.material import Folio
from sitegen.words.inheritance import BirthWords, birth_words
from sitegen.words.road_stages import planned_words, stage_link
from sitegen.words.roads import never_sentence, season_words, why_words
from sitegen.words.speech import Link, Sentence, Target, Words, _, listed, said


@dataclass(frozen=True, slots=True)
class Road:
    """A plan beside what was computed of it.

    Attributes:
        project: The project; its stages are those of this route.
        folio: The page that is written.
        outlook: What was computed; None where it could not be.
        linked: The stages have their places on the page, so that words may lead there.
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
        link = stage_link(self.project.id, stage, self.number(stage))
        return link if self.linked else link.text

    def looked_at(self, stage: Stage) -> StageOutlook | None:
        """What was computed of a stage."""
        return next((each for each in self.outlook.stages if each.id == stage.id), None) if self.outlook else None

    def held(self, name: str) -> tuple[Stage, Holdback] | None:
        """The stage and the young that ``STAGE.HOLDBACK`` means; None for an animal."""
        stage_id, _dot, holdback_id = name.partition(".")
        found = ((s, h) for s in self.project.stages if s.id == stage_id for h in s.keep if h.id == holdback_id)
        return next(found, None) if name not in self.folio.collection.animals else None

    def animals(self, name: str) -> tuple[str, ...]:
        """The animals that a parent's name means; none for young that are not kept yet."""
        if name in self.folio.collection.animals:
            return (name,)
        held = self.held(name)
        return tuple(a for a in held[1].animals if a in self.folio.collection.animals) if held else ()

    def parent(self, name: str) -> Sentence:
        """A parent in words: its name, or which young it is to be."""
        if animals := self.animals(name):
            return listed([self.folio.voice.animal(animal) for animal in animals], either=True)
        held = self.held(name)
        if held is None:
            return said(name)
        stage, holdback = held
        return planned_words(holdback.count, holdback.sex, self.stage_words(stage.id))

    def pair(self, stage: Stage) -> Sentence:
        """The pairing of a stage."""
        return said(_("{dam} with {sire}"), dam=self.parent(stage.dam), sire=self.parent(stage.sire))

    def names(self, ids: Sequence[str]) -> tuple[Link, ...]:
        """Alleles and looks by name, each leading to its gene."""
        return tuple(found for each in ids for found in self._named(each))

    def _named(self, name: str) -> tuple[Link, ...]:
        genome = self.species.genome
        for locus in genome.loci:
            where = f"{self.species.id}/{locus.id}"
            for allele in locus.alleles:
                if allele.id == name:
                    return (Link(allele.name, Target.GENE, where),)
            for look in locus.looks:
                if look.id == name:
                    return (Link(look.name, Target.GENE, where),)
        return ()

    def when(self, season: int) -> str:
        """A season to come: with the month of pairing where it is recorded."""
        outlook = self.outlook
        month = outlook.paired_month if outlook and not outlook.assumed_season else 0
        return season_words(season, month, self.folio.collection.site.language)

    def why(self, stage: StageOutlook) -> Sentence:
        """What decides a stage's earliest season, after "because"; empty when it has none."""
        if stage.earliest is None:
            return ()
        rest = self.project.rest if self.project.rest is not None else self.species.rest
        waits = Waits.TODAY if stage.waits is Waits.REST and rest == 0 else stage.waits
        return why_words(waits, self.parent(stage.waits_for) if stage.waits_for else (), stage.earliest)

    def never(self, stage: StageOutlook) -> Sentence:
        """That a stage cannot be bred any more, and because of whom."""
        animal = self.folio.collection.animals.get(stage.waits_for)
        return never_sentence(self.folio.voice.animal(animal.id) if animal and animal.died else "")

    def litters(self, stage: Stage) -> tuple[Litter, ...]:
        """The litters of a stage, oldest first."""
        found = [self.folio.collection.litters[each] for each in stage.litters if each in self.folio.collection.litters]
        return tuple(sorted(found, key=litter_season))

    def coming(self, looked: StageOutlook) -> Litter | None:
        """The litter of a stage that its earliest season stands for and that is not born yet."""
        stage = next(each for each in self.project.stages if each.id == looked.id)
        unborn = (each for each in self.litters(stage) if each.born is None)
        return next((each for each in unborn if litter_season(each) == looked.earliest), None)


def litter_season(litter: Litter) -> int:
    """The season of a litter: the year of its pairing, else of what else is known of it; 0 when nothing is."""
    dates = (litter.paired, litter.laid, litter.born, litter.expected)
    return next((date.year for date in dates if date), 0)


def next_stage(outlook: RoadOutlook) -> StageOutlook | None:
    """The open stage that can be bred first; of several at the same time the first in the plan."""
    open_ = [stage for stage in outlook.stages if stage.yielded or stage.state.value != "done"]
    can = [(stage.earliest, rank, stage) for rank, stage in enumerate(open_) if stage.earliest is not None]
    return min(can)[2] if can else None
