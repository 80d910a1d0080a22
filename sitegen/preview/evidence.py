"""What the records prove, kept from one change to the next for as long as the evidence is the same.

Most changes of a breeder's day (a weight, a price, a caption, a page) are no evidence at all. Then everything that was
inferred still holds, and nothing is asked again. When evidence did change, loci where it is the same keep their
answers.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from functools import partial

from sitegen.claims.chains import Chains
from sitegen.claims.changes import Change, changes_of, grounded_today
from sitegen.claims.from_evidence import claims_of_animal
from sitegen.claims.grounding import Grounding
from sitegen.claims.kinds import Claim
from sitegen.evidence.answers import answers_of
from sitegen.evidence.arrivals import Arrivals, arrivals_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.history import Turn, history
from sitegen.evidence.judging import age_when_judged
from sitegen.evidence.known import Answers
from sitegen.evidence.reasons import reasons
from sitegen.findings import Place
from sitegen.genetics.questions import AnimalId
from sitegen.lazily import Lazily
from sitegen.pages.outcomes import litter_pairing
from sitegen.pages.road_answers import roads_of
from sitegen.plans.pairings import Pairing
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.kept import Kept
from sitegen.records.litters import Litter
from sitegen.wording.changes import is_worth_telling

_NO_EVIDENCE = {
    Animal: frozenset({"name", "weights", "meals", "photos", "offer", "kept", "about"}),
    Litter: frozenset({"name", "eggs", "infertile", "stillborn", "expected", "photos", "about"}),
}
"""Fields that prove nothing by themselves. Their dates can tell how old an animal was when it was judged; that is
compared apart."""


@dataclass(slots=True, eq=False)
class Proven:
    """What was inferred from a collection's evidence, and what is said because of it as far as anybody asked."""

    collection: Collection
    asked: Asked
    answers: Answers
    grounding: Grounding
    pairings: Mapping[str, Pairing]
    _kept: Kept
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

    def changes(self, collection: Collection, as_of: dt.date) -> Mapping[AnimalId, tuple[Change, ...]]:
        """What changed of what is said of every animal; the records are replayed when somebody asks.

        What today's claims rest on is worked out only of the animals that are asked for.

        Args:
            collection: The records as they are now, with the same evidence as ``self.collection``.
            as_of: The day of the statement.
        """
        key = _dated(collection, as_of)
        if self._changes is None or self._changes[0] != key:
            replay, claims = _Replay(collection, self._kept), self.claims(as_of)

            def of(animal: AnimalId) -> tuple[Change, ...]:
                found = replay.changes(animal)
                return grounded_today({animal: found}, claims)[animal] if found else ()

            self._changes = (key, Lazily(collection.animals, of))
        return self._changes[1]


@dataclass(slots=True)
class _Replay:
    """The records replayed by their dates, once somebody asks what changed."""

    collection: Collection
    kept: Kept
    _arrivals: Arrivals | None = None
    _turns: tuple[Turn, ...] = ()
    _all: Mapping[AnimalId, tuple[Change, ...]] | None = None

    def changes(self, animal: AnimalId) -> tuple[Change, ...]:
        """What changed of an animal. Of the first one that is asked for it is found alone: its page is waited for."""
        if self._arrivals is None:
            self._arrivals = arrivals_of(self.collection)
            self._turns = history(self._arrivals, kept=self.kept)
            return changes_of(self._arrivals, self._turns, {}, is_worth_telling, only=animal).get(animal, ())
        if self._all is None:
            self._all = changes_of(self._arrivals, self._turns, {}, is_worth_telling)
        return self._all.get(animal, ())


def proven(collection: Collection, before: Proven | None = None) -> Proven:
    """What the collection's evidence proves: as before when the evidence is the same, else asked now."""
    unchanged = species_unchanged(before.collection, collection) if before else frozenset()
    if before is not None and list(before.collection.species) == list(collection.species) == sorted(unchanged):
        return before
    asked = ask(gather(collection), before=before.asked if before else None, unchanged=unchanged)
    answers = answers_of(asked)
    grounding = Grounding(Chains(collection, answers, partial(reasons, asked)))
    litters = collection.litters
    pairings = Lazily(litters, lambda litter: litter_pairing(asked, litters[litter]))
    return Proven(collection, asked, answers, grounding, pairings, before._kept if before else Kept())


def species_unchanged(before: Collection, after: Collection) -> frozenset[str]:
    """The species of which both collections prove the same, whatever else changed in their records."""
    if list(before.animals) != list(after.animals) or list(before.litters) != list(after.litters):
        return frozenset()
    changed = {
        species
        for key, animal in before.animals.items()
        if animal != (now := after.animals[key]) and _of_animal(before, animal) != _of_animal(after, now)
        for species in (animal.species, now.species)
    }
    changed |= {
        species
        for key, litter in before.litters.items()
        if litter != (then := after.litters[key]) and _bare(litter) != _bare(then)
        for species in (litter.species, then.species)
    }
    same = {species for species, record in before.species.items() if after.species.get(species) == record}
    return frozenset(same - changed)


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


def _bare(value: object) -> object:
    """A record as plain data: without the fields that prove nothing, and of each place only the file."""
    if isinstance(value, Place):
        return value.file
    if isinstance(value, tuple):
        return tuple(_bare(item) for item in value)
    if isinstance(value, Mapping):
        return [(key, _bare(item)) for key, item in value.items()]
    if is_dataclass(value) and not isinstance(value, type):
        left_out = _NO_EVIDENCE.get(type(value), frozenset())
        return [_bare(getattr(value, each.name)) for each in fields(value) if each.name not in left_out]
    return value
