"""What the records prove, kept from one change to the next for as long as the evidence is the same.

Most changes of a breeder's day (a weight, a price, a caption, a page) are no evidence at all. Then everything that was
inferred still holds, and nothing is asked again. When evidence did change, loci where it is the same keep their
answers.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from functools import cache, partial

from sitegen.claims.chains import Chains
from sitegen.claims.changes import Change
from sitegen.claims.from_evidence import bare_claims_of_animal, claims_of_animal
from sitegen.claims.grounding import Grounding
from sitegen.claims.kinds import Claim
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.judging import age_when_judged
from sitegen.evidence.known import Answers
from sitegen.evidence.reasons import reasons
from sitegen.evidence.what_counts import NO_EVIDENCE
from sitegen.findings import Place
from sitegen.genetics.questions import AnimalId
from sitegen.lazily import Lazily
from sitegen.pages.outcomes import litter_pairing
from sitegen.pages.replayed import told_changes
from sitegen.pages.road_answers import roads_of
from sitegen.plans.pairings import Pairing
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.litters import Litter


@dataclass(slots=True, eq=False)
class Proven:
    """What was inferred from a collection's evidence, and what is said because of it as far as anybody asked."""

    collection: Collection
    asked: Asked
    answers: Answers
    grounding: Grounding
    pairings: Mapping[str, Pairing]
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
            claims = self.claims(as_of)
            replayed = cache(lambda: told_changes(collection, claims))
            self._changes = (key, Lazily(collection.animals, lambda animal: replayed().get(animal, ())))
        return self._changes[1]


def proven(collection: Collection, before: Proven | None = None) -> Proven:
    """What the collection's evidence proves: as before when the evidence is the same, else asked now."""
    if before is not None and is_unchanged(before.collection, collection):
        return before
    asked = ask(gather(collection))
    answers = answers_of(asked)
    grounding = Grounding(Chains(collection, answers, partial(reasons, asked)))
    litters = collection.litters
    pairings = Lazily(litters, lambda litter: litter_pairing(asked, litters[litter]))
    return Proven(collection, asked, answers, grounding, pairings)


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
    return [_without_lines(getattr(value, each.name)) for each in fields(value) if each.name not in left_out]


def _without_lines(value: object) -> object:
    """The same as plain data, of each place only the file: where in its file a record stands proves nothing."""
    if isinstance(value, Place):
        return value.file
    if isinstance(value, tuple):
        return tuple(_without_lines(item) for item in value)
    if isinstance(value, Mapping):
        return [(key, _without_lines(item)) for key, item in value.items()]
    if is_dataclass(value) and not isinstance(value, type):
        return [_without_lines(getattr(value, each.name)) for each in fields(value)]
    return value
