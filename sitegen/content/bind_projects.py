"""From the written form of a project, and its dated notes, to :class:`~sitegen.content.projects.Project`."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from sitegen.content.declaration import Group, Written
from sitegen.content.gene_names import GeneNames
from sitegen.content.photo_records import PhotoRecord, Photos
from sitegen.content.projects import (
    ALTERNATIVE,
    HOLDBACK,
    STAGE,
    Alternative,
    Decision,
    Goal,
    Holdback,
    Project,
    Stage,
    Until,
    Update,
)
from sitegen.content.references import KnownRecords, same
from sitegen.content.report import At, Report
from sitegen.content.site import titled
from sitegen.content.values import above_zero, parse_date
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, is_blank
from sitegen.findings import Kind, Place, nearest
from sitegen.genetics.loci import Sex, look_id

_ID = re.compile(r"^\w[\w-]*$")
SEASONS = range(1970, 2201)
"""Years that can be seasons."""


@dataclass(slots=True)
class ProjectBinder:
    """Reads one project.

    ``kept`` holds the holdbacks of the stages of a route read so far, as ``STAGE.HOLDBACK``, ``elsewhere`` those of
    other routes, and ``stages`` the names of all stages; ``relatedness_limit`` is that of the site.
    """

    known: KnownRecords
    names: GeneNames
    report: Report
    relatedness_limit: Fraction | None = None
    kept: dict[str, int] = field(default_factory=dict)
    elsewhere: set[str] = field(default_factory=set)
    stages: list[str] = field(default_factory=list)

    def project(
        self, project_id: str, species: str, form: Written, photos: Photos, updates: tuple[Update, ...]
    ) -> Project:
        """The project; stages that cannot be used are left out and told."""
        goal = form.goal
        if goal is None:
            self.report.missing(
                form.at("goal"),
                "this project has no goal",
                "goal: {shows: [amel], carries: [anery]}",
                "say what the goal animal shows",
            )
        captions = photos.captions(form.captions, self.report)
        noted = [replace(photos, paths=tuple(photo.path for photo in update.photos), videos=()) for update in updates]
        every = replace(photos, paths=(*photos.paths, *(path for each in noted for path in each.paths)))
        off = every.off_site(form.off_site, self.report)
        stages = self._stages(form.stages)
        alternatives = self._alternatives(form.alternatives)
        limit = form.relatedness_limit.value if form.relatedness_limit else self.relatedness_limit
        return form.record(
            Project,
            id=project_id,
            name=form.name.value if form.name else project_id,
            species=species,
            goal=self.goal(goal),
            stages=stages,
            state=form.state.value.value if form.state else "planned",
            place=form.start,
            updates=tuple(
                replace(update, photos=own.records({}, off=off)) for update, own in zip(updates, noted, strict=True)
            ),
            photos=photos.records(captions, off=off),
            horizon=self._horizon(form.horizon, stages),
            relatedness_limit=limit,
            decisions=self._decisions(form),
            alternatives=alternatives,
        )

    def goal(self, form: Written | None) -> Goal:
        """What a form with ``shows`` and ``carries`` asks for; nothing for none."""
        if form is None:
            return Goal(())
        return Goal(self._looks(form.shows), self._alleles(form.carries), form.start)

    def _looks(self, written: tuple[At[str], ...]) -> tuple[str, ...]:
        """Look ids, one a locus: two looks of a locus stand for what both alleles show together."""
        by_locus = self.names.looks_by_locus(written, self.report)
        return tuple(
            (self.names.one_look(entries, self.report, "wanted") or entries[0][0]).id for entries in by_locus.values()
        )

    def _alleles(self, written: tuple[At[str], ...]) -> tuple[str, ...]:
        """Allele ids; a combination stands for its parts."""
        found: list[str] = []
        for text in written:
            spelling = look_id(text.value)
            looks = () if spelling in self.names.alleles else self.names.looks.get(spelling, ())
            parts = [At(look.id, text.place, text.width) for look in looks if look.id in self.names.alleles]
            for part in parts or [text]:
                if pair := self.names.find_allele(part, self.report):
                    found.append(pair[1])
        return tuple(dict.fromkeys(found))

    def _horizon(self, written: At[int] | None, stages: tuple[Stage, ...]) -> int | None:
        """The last season; None, and a finding, when no stage could end by then."""
        if written is None:
            return None
        last = max((stage.season for stage in stages), default=0)
        if written.value not in SEASONS:
            tell_no_season(written, "the last year you plan for", self.report)
            return None
        if written.value < last:
            self.report.error(
                Kind.DATE_IMPOSSIBLE,
                written,
                f"the horizon {written.value} lies before the last stage, which is planned for {last}",
                expected=f"{last} or later",
                remedy="write a later horizon, or correct the season of the stage",
            )
            return None
        return written.value

    def _decisions(self, form: Written) -> tuple[Decision, ...]:
        """What was decided, oldest first; a stage of any route may be meant."""
        known = list(dict.fromkeys(self.stages))
        found = []
        for entry in form.decisions:
            stage = same(entry.stage.value) if entry.stage else ""
            if entry.stage and stage not in known:
                near = nearest(stage, known)
                self.report.unknown(
                    Kind.STAGE_UNKNOWN,
                    entry.stage,
                    f'this project has no stage "{entry.stage.value}"',
                    f"one of {', '.join(known)}" if known else "no stage, since the project has none yet",
                    near,
                    "correct the name, or leave the line out",
                )
                stage = ""
            found.append(entry.record(Decision, place=entry.start, stage=stage))
        return tuple(sorted(found, key=lambda decision: (decision.date, decision.place)))

    def _alternatives(self, tree: Node | None) -> tuple[Alternative, ...]:
        """Other routes. Each stands alone, so that what the main one keeps is not known in it."""
        found = []
        for name, form in self._named(ALTERNATIVE, tree, "route"):
            stages = self._stages(form.stages)
            if is_blank(form.stages):
                self.report.missing(
                    form.at("stages"),
                    f"the alternative {name} has no stages",
                    "stages: all pairings of this route, written as those of the project",
                    "add its stages, or delete the alternative",
                )
            title = form.name.value if form.name else name.replace("-", " ")
            found.append(form.record(Alternative, id=name, name=title, stages=stages, place=form.start))
        return tuple(found)

    def _stages(self, tree: Node | None) -> tuple[Stage, ...]:
        self.elsewhere |= set(self.kept)
        self.kept = {}
        stages = []
        for name, form in self._named(STAGE, tree, "stage"):
            self.stages.append(name)
            stage = self._stage(name, form)
            if stage is not None:
                stages.append(stage)
        return tuple(stages)

    def _stage(self, name: str, form: Written) -> Stage | None:
        season = form.season
        if season.value not in SEASONS:
            tell_no_season(season, "the year in which the young are to be born", self.report)
        dam, sire = self._parent(form.dam, season.value), self._parent(form.sire, season.value)
        taken: set[str] = set()
        keep, otherwise = (
            tuple(self._holdback(kept, entry) for kept, entry in self._named(HOLDBACK, tree, "holdback", taken))
            for tree in (form.keep, form.otherwise)
        )
        self.kept |= {f"{name}.{holdback.id}": season.value for holdback in (*keep, *otherwise)}
        if otherwise and not keep:
            self.report.error(
                Kind.BRANCH_WRONG,
                form.at("else"),
                f"stage {name} says what is kept else, and not what is kept first",
                expected="keep: what is wanted, and else: what is kept of a litter that did not bring it",
                remedy="write under keep what the stage is bred for; or write keep instead of else",
            )
        if form.until and not otherwise:
            self.report.error(
                Kind.BRANCH_WRONG,
                form.at("until"),
                f"until says when stage {name} stops for what is kept else, and nothing is kept else",
                expected="until only beside else",
                remedy="add else, or delete the line; tries says how many seasons a stage is tried",
            )
        litters = [self.known.find_litter(text, self.report) for text in form.litters]
        if dam is None or sire is None:
            return None
        return form.record(
            Stage,
            id=name,
            dam=dam,
            sire=sire,
            litters=tuple(litter for litter in litters if litter),
            keep=keep,
            otherwise=otherwise,
            until=form.until.value.value if form.until else Until.TRIES.value,
            place=form.start,
            tries=above_zero(
                form.tries,
                1,  # as the remedy says: without a bound, what is kept else would be told as used in vain
                self.report,
                "a pairing that is tried in no season gives nothing",
                "the number of seasons in which it is tried at most: 1 or more",
                "write 1, or leave the line out",
            )
            if form.tries
            else None,
            dam_place=form.dam.place,
            sire_place=form.sire.place,
        )

    def _parent(self, written: At[str], season: int) -> str | None:
        """An animal's id, or ``STAGE.HOLDBACK`` of an earlier stage."""
        spelling = same(written.value)
        if spelling in self.kept:
            if self.kept[spelling] >= season:
                self.report.error(
                    Kind.DATE_IMPOSSIBLE,
                    written,
                    f"{spelling} is born in the season {self.kept[spelling]} and cannot breed in {season}",
                    expected="a later season",
                    remedy="correct the season of one of the two stages",
                )
            return spelling
        if "." not in spelling:
            return self.known.find_animal(written, self.report)
        self._no_such_holdback(written, spelling)
        return None

    def _no_such_holdback(self, written: At[str], spelling: str) -> None:
        if spelling in self.elsewhere:
            self.report.error(
                Kind.STAGE_UNKNOWN,
                written,
                f'"{spelling}" is kept back on another route, and each route stands alone',
                expected="an animal, or what an earlier stage of this route keeps back",
                remedy="name the animal that was kept, or write the stage again in this route",
            )
            return
        near = nearest(spelling, self.kept)
        self.report.unknown(
            Kind.STAGE_UNKNOWN,
            written,
            f'no earlier stage keeps back "{written.value}"',
            f"one of {', '.join(self.kept)}" if self.kept else "an animal, since no earlier stage keeps any back",
            near,
            "name it under keep or else of an earlier stage",
        )

    def _holdback(self, name: str, form: Written) -> Holdback:
        animals = [self.known.find_animal(text, self.report) for text in form.animals]
        sex = form.sex.value if form.sex else Sex.UNKNOWN
        count, at_least = form.count.value if form.count else 1, form.at_least.value if form.at_least else 1
        if form.at_least and not 0 < at_least <= count:
            self.report.wrong(
                form.at_least,
                f"{at_least} cannot be enough where {count} are to be kept",
                f"a number from 1 to {count}" if count > 1 else "1, as when the line is left out",
                "correct at_least or count, or delete the line",
            )
            at_least = 1
        return form.record(
            Holdback,
            id=name,
            shows=self._looks(form.shows),
            carries=self._alleles(form.carries),
            sex="" if sex is Sex.UNKNOWN else sex.value,
            at_least=at_least,
            animals=tuple(animal for animal in animals if animal),
            place=form.start,
        )

    def _named(
        self, group: Group, tree: Node | None, what: str, taken: set[str] | None = None
    ) -> Iterable[tuple[str, Written]]:
        """Forms with their ids, from a group by id or a list of entries that name theirs; ``taken`` are names in use.

        Entries of a list without a name have their number, counted on from those in use.
        """
        if tree is None or is_blank(tree):
            return
        pairs: list[tuple[Scalar | None, Node]] = []
        if isinstance(tree, Entries):
            pairs = list(tree.entries)
        elif isinstance(tree, Items):
            pairs = [(None, item) for item in tree.items]
        else:
            self.report.wrong(
                tree,
                f"a group of entries was expected here, each a {what}",
                f"a name for each {what}, and its lines below it",
                "write the entries by name",
            )
        taken = set() if taken is None else taken
        for number, (key, node) in enumerate(pairs, start=1 + len(taken)):
            entry = group.read(Entries((), node.place) if is_blank(node) else node, self.report)
            if entry is None:
                continue
            at: At[str] | Scalar | Place = entry.id or key or entry.start
            name = entry.id.value if entry.id else key.text if key else str(number)
            if not _ID.match(name) or name in taken:
                self.report.error(
                    Kind.ID_TWICE if name in taken else Kind.ID_WRONG,
                    at,
                    f'"{name}" is the name of another {what}' if name in taken else f'"{name}" cannot name a {what}',
                    expected="a short name of letters, digits and hyphens that no other has",
                    remedy="choose another name",
                )
            taken.add(name)
            yield name, entry


def tell_no_season(written: At[int], what: str, report: Report) -> None:
    """Tells a year that is none; ``what`` it should have been."""
    report.wrong(written, f"{written.value} is not a season", "a year such as 2026", f"write {what}")


def bind_updates(
    texts_by_path: Mapping[str, str], photos: tuple[str, ...], drawings: bool, report: Report
) -> tuple[Update, ...]:
    """The dated notes of a project, oldest first; photos whose name begins like a note belong to it."""
    found = []
    for path, text in texts_by_path.items():
        stem = path.rsplit("/", 1)[-1].removesuffix(".md")
        match = re.match(r"^(\d{4}-\d{2}-\d{2})(?:[-_ ]+(.*))?$", stem)
        date = parse_date(match[1]) if match else None
        if match is None or date is None:
            report.error(
                Kind.ID_WRONG,
                Place(path, 1, 1),
                "the name of this note does not begin with its date",
                expected="a name such as 2026-07-20-first-pips.md",
                remedy="rename the file",
            )
            continue
        title, body = titled(text, match[2] or stem)
        own = tuple(photo for photo in photos if photo.rsplit("/", 1)[-1].startswith(match[1]))
        pictures: tuple[PhotoRecord, ...] = Photos(own, drawings).records({})
        found.append(Update(date, title, body, Place(path, 1, 1), pictures))
    return tuple(sorted(found, key=lambda update: (update.date, update.place)))
