"""What the records prove, kept from one change to the next for as long as the evidence is the same.

Most changes of a breeder's day (a weight, a price, a caption, a page) are no evidence at all. Then everything that was
inferred still holds, and nothing is asked again. When evidence did change, loci where it is the same keep their
answers.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import partial

from sitegen.claims.chains import Chains
from sitegen.claims.changes import Change, changes_of, grounded_today
from sitegen.claims.from_evidence import bare_claims_of_animal, claims_of_animal
from sitegen.claims.grounding import Grounding
from sitegen.claims.kinds import Claim
from sitegen.evidence.answers import answers_of
from sitegen.evidence.arrivals import Arrivals, arrivals_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.by_record import looking_tells, without_lines
from sitegen.evidence.gather import gather
from sitegen.evidence.history import Past, Turn, history
from sitegen.evidence.judging import age_when_judged
from sitegen.evidence.known import Answers
from sitegen.evidence.reasons import reasons
from sitegen.evidence.what_counts import NO_EVIDENCE
from sitegen.genetics.questions import AnimalId
from sitegen.lazily import Lazily
from sitegen.pages.outcomes import litter_pairing
from sitegen.pages.road_answers import roads_of
from sitegen.plans.pairings import Pairing
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.litters import Litter
from sitegen.wording.changes import is_worth_telling


@dataclass(slots=True, eq=False)
class Proven:
    """What was inferred from a collection's evidence, and what is said because of it as far as anybody asked."""

    collection: Collection
    asked: Asked
    answers: Answers
    grounding: Grounding
    pairings: Mapping[str, Pairing]
    _past: Past
    _claims: tuple[dt.date, Mapping[AnimalId, tuple[Claim, ...]]] | None = field(default=None)
    _changes: tuple[object, Mapping[AnimalId, tuple[Change, ...]]] | None = field(default=None)
    _roads: dict[str, tuple[object, ProjectRoads | None]] = field(default_factory=dict)

    def asked_of(self, collection: Collection) -> Asked:
        """The answers beside the records as they are now, which have the same evidence as ``self.collection``."""
        return replace(self.asked, evidence=replace(self.asked.evidence, collection=collection))

    def roads(self, collection: Collection, as_of: dt.date) -> Mapping[str, ProjectRoads]:
        """What the plans of the projects come to; each that did not change since is kept."""
        asked = self.asked_of(collection)
        awaited = tuple(litter.expected for litter in collection.litters.values())

        def of(project: str) -> ProjectRoads | None:
            key = (collection.projects[project], as_of, awaited)
            if project not in self._roads or self._roads[project][0] != key:
                self._roads[project] = (key, roads_of(asked, collection.projects[project], as_of))
            return self._roads[project][1]

        return Lazily(collection.projects, of)

    def claims(self, as_of: dt.date) -> Mapping[AnimalId, tuple[Claim, ...]]:
        """What may be said of every animal as of a day, each worked out when it is asked for."""
        if self._claims is None or self._claims[0] != as_of:
            animals = self.collection.animals
            self._claims = (
                as_of,
                Lazily(animals, lambda animal: claims_of_animal(self.grounding, animals[animal], as_of)),
            )
        return self._claims[1]

    def bare_claims(self, as_of: dt.date) -> Mapping[AnimalId, tuple[Claim, ...]]:
        """The same without what they rest on, which takes longest."""
        chains, animals = self.grounding.chains, self.collection.animals
        return Lazily(animals, lambda animal: bare_claims_of_animal(chains, animals[animal], as_of))

    def changes(self, collection: Collection, as_of: dt.date) -> Mapping[AnimalId, tuple[Change, ...]]:
        """What changed of what is said of every animal; the records are replayed when somebody asks.

        What today's claims rest on is worked out only of the animals that are asked for.

        Args:
            collection: The records as they are now, with the same evidence as ``self.collection``.
            as_of: The day of the statement.
        """
        key = _dated(collection, as_of)
        if self._changes is None or self._changes[0] != key:
            replay, claims = _Replay(collection, self._past), self.claims(as_of)

            def of(animal: AnimalId) -> tuple[Change, ...]:
                found = replay.changes(animal)
                return grounded_today({animal: found}, claims)[animal] if found else ()

            self._changes = (key, Lazily(collection.animals, of))
        return self._changes[1]


@dataclass(slots=True)
class _Replay:
    """The records replayed by their dates, once somebody asks what changed."""

    collection: Collection
    past: Past
    _arrivals: Arrivals | None = None
    _turns: tuple[Turn, ...] = ()
    _all: Mapping[AnimalId, tuple[Change, ...]] | None = None

    def changes(self, animal: AnimalId) -> tuple[Change, ...]:
        """What changed of an animal. Of the first one that is asked for it is found alone: its page is waited for."""
        if self._arrivals is None:
            self._arrivals = arrivals_of(self.collection)
            self._turns = history(self._arrivals, past=self.past)
            return changes_of(self._arrivals, self._turns, {}, is_worth_telling, only=animal).get(animal, ())
        if self._all is None:
            self._all = changes_of(self._arrivals, self._turns, {}, is_worth_telling)
        return self._all.get(animal, ())


def proven(collection: Collection, before: Proven | None = None) -> Proven:
    """What the collection's evidence proves: as before when the evidence is the same, else asked now.

    Loci whose evidence is the same keep their answers. Where records contradict each other everything is read anew,
    so that each finding names the line on which a record stands now.
    """
    if before is not None and is_unchanged(before.collection, collection):
        return before
    asked, answers = _asked(collection, before)
    if before is not None and (answers.clashes or answers.knots):
        asked, answers = _asked(collection, None)
    grounding = Grounding(Chains(collection, answers, partial(reasons, asked)))
    if before is not None and (same := _the_same(before, collection, asked)):
        grounding.chains.remember(before.grounding.chains, same)
    litters = collection.litters
    pairings = Lazily(litters, lambda litter: litter_pairing(asked, litters[litter]))
    return Proven(collection, asked, answers, grounding, pairings, before._past if before else Past())


def _asked(collection: Collection, before: Proven | None) -> tuple[Asked, Answers]:
    if before is None:
        asked = ask(gather(collection))
        return asked, answers_of(asked)
    asked = ask(gather(collection, before.asked.evidence), before=before.asked)
    return asked, answers_of(asked, (before.asked, before.answers))


def _the_same(before: Proven, collection: Collection, asked: Asked) -> frozenset[tuple[str, str]]:
    """Species and locus where all that chains of evidence are followed by is as it was before."""
    then = before.collection.animals
    if [each.sex for each in then.values()] != [each.sex for each in collection.animals.values()] or list(then) != list(
        collection.animals
    ):
        return frozenset()
    known = {id(heredity) for heredity in before.asked.heredity}
    return frozenset(
        (unit.species, locus)
        for unit, heredity in asked.units()
        if id(heredity) in known
        for locus in unit.loci
        if looking_tells(collection.species[unit.species].genome.locus(locus))
    )


def is_unchanged(before: Collection, after: Collection) -> bool:
    """True when both collections prove the same, whatever else changed in their records."""
    return (
        list(before.species.items()) == list(after.species.items())
        and list(before.animals) == list(after.animals)
        and list(before.litters) == list(after.litters)
        and all(
            animal is (now := after.animals[key])
            or animal == now
            or _of_animal(before, animal) == _of_animal(after, now)
            for key, animal in before.animals.items()
        )
        and all(
            litter is (then := after.litters[key]) or litter == then or _bare(litter) == _bare(then)
            for key, litter in before.litters.items()
        )
    )


def _of_animal(collection: Collection, animal: Animal) -> object:
    """What an animal's record proves: its fields, and which genes it was too young to be judged for."""
    alleles = [allele for locus in collection.species[animal.species].genome.loci for allele in locus.alleles]
    ages = [age_when_judged(collection, animal, genes.judged) for genes in animal.genes]
    too_young = [
        [allele.id for allele in alleles if age is not None and age < allele.visible_from_months] for age in ages
    ]
    return _bare(animal), too_young


def _dated(collection: Collection, as_of: dt.date) -> object:
    """The dates that decide when an animal could be judged; nothing where every gene can be judged at birth."""
    genomes = [species.genome for species in collection.species.values()]
    if not any(allele.visible_from_months for genome in genomes for locus in genome.loci for allele in locus.alleles):
        return None
    return as_of, [
        (
            [weighing.date for weighing in animal.weights],
            [meal.date for meal in animal.meals],
            [photo.date for photo in animal.photos],
            animal.offer and animal.offer.since,
        )
        for animal in collection.animals.values()
    ]


def _bare(value: Animal | Litter) -> object:
    """A record as plain data: without the fields that prove nothing, and of each place only the file."""
    left_out = NO_EVIDENCE[type(value)]
    return [without_lines(getattr(value, each.name)) for each in fields(value) if each.name not in left_out]
