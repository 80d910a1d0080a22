"""The answers of earlier dates, found by replaying the evidence in the order in which it arrived.

Each day on which evidence arrived is a turn; a turn asks again only what the new records can bear on (see
:mod:`sitegen.evidence.regions`). After the last turn everything is as :func:`sitegen.evidence.answers.answers` has it.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from sitegen.evidence.arrivals import Arrivals, arrivals_of, as_of_collection, collection_on
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Source
from sitegen.evidence.leaves import Leaves
from sitegen.evidence.regions import Node, Region, questions, regions
from sitegen.evidence.standing import OwnEvidence, Standing, groups_of, own_evidence, tally_at
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import ENTRIES_LIMIT, answer_all
from sitegen.genetics.questions import AnimalId, Impossible, LinkedQuestion, Member, Observation, Posterior, TooTangled
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.kept import Kept
from sitegen.records.litters import Litter
from sitegen.records.report import Report
from sitegen.records.species import Species

__all__ = ["Arrival", "Turn", "answers_on", "as_of_collection", "collection_on", "history", "replay"]


@dataclass(frozen=True, slots=True)
class Arrival:
    """A piece of evidence that began to count: at which locus, and its record."""

    locus: str
    source: Source


@dataclass(frozen=True, slots=True)
class Turn:
    """What one day's records taught one group of animals that they bear on.

    Attributes:
        day: From which day on it is known.
        species: Id of the species.
        arrived: The records that arrived, in record order.
        answers: (animal, locus) to its answer from that day on, where it is new or differs; empty where there is
            none, because the records contradict each other or are too tangled.
    """

    day: dt.date
    species: str
    arrived: tuple[Arrival, ...]
    answers: Mapping[tuple[AnimalId, str], Posterior]


def replay(collection: Collection) -> tuple[Turn, ...]:
    """Every turn of a collection."""
    return history(arrivals_of(collection))


def history(arrivals: Arrivals, limit: int = ENTRIES_LIMIT, kept: Kept | None = None) -> tuple[Turn, ...]:
    """Every turn of a collection, by day, then by species in record order.

    Args:
        arrivals: The records, and when they began to count.
        limit: Most table entries of one connected piece of a network; beyond it there is no answer.
        kept: What was known of single animals when earlier states of the same records were replayed.
    """
    everyone, kept = arrivals.collection.species.values(), kept or Kept()
    kept.begin()
    turns = [turn for species in everyone for turn in _Replay.of(arrivals, species, limit, kept).turns()]
    return tuple(sorted(turns, key=lambda turn: turn.day))


def answers_on(turns: Iterable[Turn], day: dt.date) -> Mapping[AnimalId, Mapping[str, Posterior]]:
    """Animal to locus to posterior as they stood at the end of a day; a locus without an answer is left out."""
    found: dict[AnimalId, dict[str, Posterior]] = {}
    for turn in turns:
        if turn.day <= day:
            for (animal, locus), posterior in turn.answers.items():
                found.setdefault(animal, {})[locus] = posterior
    return {animal: {locus: own[locus] for locus in own if own[locus]} for animal, own in found.items()}


@dataclass(slots=True)
class _New:
    """What arrived on one day.

    Attributes:
        seeds: Nodes to start from, each with its records.
        quiet: Records that tell nothing of anybody.
        doubtful: (group, animal) whose odds are not as before, so that nothing certain in its family stands.
    """

    seeds: dict[Node, list[Arrival]] = field(default_factory=dict)
    quiet: list[Arrival] = field(default_factory=list)
    doubtful: dict[tuple[int, AnimalId], None] = field(default_factory=dict)

    def seed(self, node: Node, arrived: Iterable[Arrival] = ()) -> None:
        self.seeds.setdefault(node, []).extend(arrived)


_Own = tuple[dict[str, OwnEvidence], tuple[Mapping[str, str], ...]]


@dataclass(slots=True)
class _Replay:
    """One species, day by day."""

    arrivals: Arrivals
    species: Species
    limit: int
    standing: Standing
    bred: Mapping[AnimalId, tuple[Litter, ...]]
    leaves: Leaves
    kept: Kept
    said: dict[tuple[AnimalId, str], Posterior] = field(default_factory=dict)

    @classmethod
    def of(cls, arrivals: Arrivals, species: Species, limit: int, kept: Kept) -> "_Replay":
        collection = arrivals.collection
        bred: dict[AnimalId, tuple[Litter, ...]] = {}
        for litter in collection.litters.values():
            for parent in dict.fromkeys((litter.dam, *(sire for sire, _ in litter.sires))):
                if parent:
                    bred[parent] = (*bred.get(parent, ()), litter)
        own = [animal.id for animal in collection.animals.values() if animal.species == species.id]
        standing = Standing(groups_of(species), {animal: rank for rank, animal in enumerate(own)})
        return cls(arrivals, species, limit, standing, bred, Leaves(standing), kept)

    def turns(self) -> Iterator[Turn]:
        animals: dict[dt.date, list[Animal]] = {}
        litters: dict[dt.date, list[Litter]] = {}
        for animal in self.arrivals.collection.animals.values():
            if animal.species == self.species.id:
                for day in self.arrivals.days_of_animal(animal):
                    animals.setdefault(day, []).append(animal)
        for litter in self.arrivals.collection.litters.values():
            if litter.species == self.species.id:
                for day in {self.arrivals.litters[litter.id], *self.arrivals.days_of_litter(litter)}:
                    litters.setdefault(day, []).append(litter)
        for day in sorted({*animals, *litters}):
            new = self._arrive(day, animals.get(day, []), litters.get(day, []))
            yield from self._answered(day, new)

    def _arrive(self, day: dt.date, animals: Sequence[Animal], litters: Sequence[Litter]) -> _New:
        """Takes the records of a day in."""
        new = _New()
        before = dict(self.standing.members)
        sexes = self._sexes(animals, litters)
        changed = {animal.id: animal for animal in animals}
        everyone = self.arrivals.collection.animals
        changed.update({name: everyone[name] for name in sexes if name in before})
        for animal in sorted(changed.values(), key=lambda each: self.standing.rank[each.id]):
            sex = sexes.get(animal.id) or (before[animal.id].sex if animal.id in before else animal.sex)
            self._take_in(replace(animal, sex=sex), day, new, is_new=animal.id not in before)
        for litter in litters:
            self._count(litter, day, new)
        return new

    def _sexes(self, animals: Sequence[Animal], litters: Sequence[Litter]) -> dict[AnimalId, Sex]:
        """The parents of unknown sex whose sex is known by these young."""
        found: dict[AnimalId, Sex] = {}
        bred: list[Animal | Litter] = [*animals, *litters]
        for young in bred:
            used = [(young.dam, Sex.FEMALE), *((sire, Sex.MALE) for sire, _ in young.sires)]
            for parent, sex in used:
                if parent and self.arrivals.collection.animals[parent].sex is Sex.UNKNOWN:
                    known = self.standing.members.get(parent)
                    if known is None or known.sex is Sex.UNKNOWN:
                        found.setdefault(parent, sex)
        return found

    def _take_in(self, animal: Animal, day: dt.date, new: _New, *, is_new: bool) -> None:
        """Somebody who is new, or of whom something new is known."""
        known = self.standing.members.get(animal.id)
        member = Member(animal.id, animal.sex, animal.dam, animal.sires, animal.litter, animal.each_its_own_sire)
        self.standing.add_member(member)
        own, phases = self._own(animal, day)
        if phases:
            self.standing.phases[animal.id] = phases
        for number, group in enumerate(self.standing.groups):
            loci = [locus.id for locus in group.loci]
            arrived = [each for locus in loci for each in self._arrived(animal.id, locus, own[locus])]
            kept = all(_goes_on(self.standing.own.get((animal.id, locus)), own[locus]) for locus in loci)
            new_sex = known is not None and known.sex is not animal.sex and group.hangs_on_sex
            if is_new:
                new.seed(("animal", number, animal.id), arrived)
            elif not kept or new_sex or self._excluded(animal.id, loci, own):
                new.doubtful[number, animal.id] = None
                new.seed(("animal", number, animal.id), arrived)
            elif arrived and not self._tells_nothing(animal.id, number, own):
                new.seed(("animal", number, animal.id), arrived)
            else:
                new.quiet += arrived
        self.standing.own.update({(animal.id, locus): evidence for locus, evidence in own.items()})

    def _own(self, animal: Animal, day: dt.date) -> _Own:
        """What is known on a day of the animal alone, by locus, and its known chromosomes."""
        collection = self.arrivals.collection
        known = {litter.id: litter for litter in self.bred.get(animal.id, ())}
        if animal.litter in collection.litters:
            known[animal.litter] = collection.litters[animal.litter]
        reads = (self.species, collection.animals[animal.id], *known.values())
        days = (self.arrivals.animals[animal.id], *(self.arrivals.litters[litter] for litter in known))
        make = partial(self._own_of, animal, day, known)
        return self.kept.of(animal.id, str(day), reads, make, Report(), (animal.sex, days))

    def _own_of(self, animal: Animal, day: dt.date, known: Mapping[str, Litter], report: Report) -> _Own:
        """The same from the record of the animal and those of its own litter and the litters that it bred."""
        collection = self.arrivals.collection
        litters = {
            litter.id: replace(self.arrivals.litter_on(litter, day), young=(), others=())
            for litter in known.values()
            if self.arrivals.litters[litter.id] <= day
        }
        past = self.arrivals.animal_on(animal, day, litters.values())
        alone = replace(collection, species={self.species.id: self.species}, animals={animal.id: past}, litters=litters)
        evidence = gather(alone)
        phases = next(
            (
                unit.question.phases[animal.id]
                for unit in evidence.units
                if isinstance(unit.question, LinkedQuestion) and animal.id in unit.question.phases
            ),
            (),
        )
        own = {
            locus: own_evidence(*_lasting(at.question.observations, at.sources), at.question.priors.get(animal.id))
            for (_, locus), at in evidence.loci.items()
        }
        return own, phases

    def _arrived(self, animal: AnimalId, locus: str, own: OwnEvidence) -> Iterator[Arrival]:
        """The observations that were not there before."""
        before = self.standing.own.get((animal, locus), OwnEvidence()).observations
        return (Arrival(locus, own.sources[seen.key]) for seen in own.observations if seen not in before)

    def _tells_nothing(self, animal: AnimalId, number: int, own: Mapping[str, OwnEvidence]) -> bool:
        """True when what is new of an animal could not be otherwise, or is as likely in any case."""
        group = self.standing.groups[number]
        if self.standing.is_settled(animal, group):
            return True
        locus = group.loci[0].id
        before = self.standing.own.get((animal, locus), OwnEvidence()).observations
        new = [seen for seen in own[locus].observations if seen not in before]
        return self.leaves.tells_nothing(animal, number, new)

    def _excluded(self, animal: AnimalId, loci: Sequence[str], own: Mapping[str, OwnEvidence]) -> bool:
        """True when something that was certain cannot be any more."""
        for locus in loci:
            posterior = self.standing.posteriors.get((animal, locus), {})
            if not any(all(seen.likelihood.get(g) for seen in own[locus].observations) for g in posterior):
                return True
        return False

    def _count(self, litter: Litter, day: dt.date, new: _New) -> None:
        """Young of a litter that are not listed, as far as they are not counted yet."""
        for rank, others in enumerate(litter.others):
            key = f"{litter.id} others {rank}"
            past = self.arrivals.litter_on(replace(litter, others=(others,)), day)
            if key in self.standing.tallies or not past.others:
                continue
            species = {self.species.id: self.species}
            alone = replace(self.arrivals.collection, species=species, animals={}, litters={litter.id: past})
            by_locus = {
                locus: (replace(tally, key=key), at.sources[tally.key])
                for (_, locus), at in gather(alone).loci.items()
                for tally in at.question.tallies
            }
            if not by_locus:
                continue
            self.standing.add_tally(key, by_locus)
            for number, group in enumerate(self.standing.groups):
                told = [Arrival(locus.id, by_locus[locus.id][1]) for locus in group.loci if locus.id in by_locus]
                if told:
                    new.seed(("tally", number, key), told)

    def _answered(self, day: dt.date, new: _New) -> Iterator[Turn]:
        """Asks what the new records bear on; then what is left of the new animals."""
        for number, animal in new.doubtful:
            self._forget(number, animal)
        bearing = {node: arrived for node, arrived in new.seeds.items() if self._bears(node)}
        yield from self._asked_again(day, bearing)
        quiet = [*new.quiet, *(each for node, told in new.seeds.items() if node not in bearing for each in told)]
        first, left = self._alone([node for node in new.seeds if node not in bearing and node[0] == "animal"])
        if quiet or first:
            yield Turn(day, self.species.id, tuple(quiet), first)
        yield from self._asked_again(day, {node: new.seeds[node] for node in left})

    def _bears(self, node: Node) -> bool:
        """True when a new record can bear on others."""
        kind, number, name = node
        if kind == "tally":
            tally = tally_at(self.standing, number, name)
            return tally is None or not self.leaves.tally_tells_nothing(tally, number)
        known = (name, self.standing.groups[number].loci[0].id) in self.said
        return known or self.leaves.posterior(self.standing.members[name], number) is None

    def _alone(self, nodes: Sequence[Node]) -> tuple[dict[tuple[AnimalId, str], Posterior], list[Node]]:
        """The answers about new animals that nobody else hangs on, and those that have to be asked after all."""
        found: dict[tuple[AnimalId, str], Posterior] = {}
        left: list[Node] = []
        for kind, number, name in nodes:
            key = name, self.standing.groups[number].loci[0].id
            if key in self.said:
                continue
            posterior = self.leaves.posterior(self.standing.members[name], number)
            if posterior is None:
                left.append((kind, number, name))
            else:
                self.standing.posteriors[key] = self.said[key] = found[key] = posterior
        return found, left

    def _asked_again(self, day: dt.date, seeds: Mapping[Node, Sequence[Arrival]]) -> Iterator[Turn]:
        """Asks everything that hangs together with these records; where that fails, the whole family."""
        found = regions(self.leaves, seeds)
        failed = self._ask(found)
        if failed:
            for number, animal in failed:
                self._forget(number, animal)
            found = regions(self.leaves, seeds)
            self._ask(found)
        for region in found:
            arrived = dict.fromkeys(each for seed in region.seeds for each in seeds[seed])
            changed = self._changed(region)
            if arrived or changed:
                yield Turn(day, self.species.id, tuple(arrived), changed)

    def _ask(self, found: Sequence[Region]) -> dict[tuple[int, AnimalId], None]:
        """Gives every region its answers, and one animal of each family at each group that has none.

        Loci that a choice of sire ties together are asked together, the others one by one.
        """
        together = [[region] for region in found if region.choices]
        for number in range(len(self.standing.groups)):
            here = [region for region in found if not region.choices and region.group == number]
            together += [here] if here else []
        failed: dict[tuple[int, AnimalId], None] = {}
        for several in together:
            asked = questions(self.standing, several)
            answers = dict(zip(asked, answer_all(list(asked.values()), self.limit), strict=True))
            for region in several:
                region.answers = answers
            failed |= {(n, f.members[0]): None for n, each in answers.items() for f in each.failures if f.members}
        return failed

    def _changed(self, region: Region) -> dict[tuple[AnimalId, str], Posterior]:
        """Keeps the answers of a region; gives those that are new or differ."""
        changed: dict[tuple[AnimalId, str], Posterior] = {}
        for number, animal in region.animals():
            for locus in self.standing.groups[number].loci:
                found = region.answers[number].of(animal, locus.id)
                posterior = {} if isinstance(found, Impossible | TooTangled) else found
                self._keep((animal, locus.id), posterior, changed)
        for number, animal in region.quiet:
            if ("animal", number, animal) not in region.nodes:
                posterior = self.leaves.quiet_posterior(self.standing.members[animal], number)
                self._keep((animal, self.standing.groups[number].loci[0].id), posterior, changed)
        for choice in region.choices.values():
            for each in region.answers.values():
                try:
                    sires = each.sires(choice[1])
                except KeyError:
                    continue
                if not isinstance(sires, Impossible | TooTangled):
                    self.standing.sires[choice] = sires
                    break
        return changed

    def _keep(
        self, key: tuple[AnimalId, str], posterior: Posterior, changed: dict[tuple[AnimalId, str], Posterior]
    ) -> None:
        self.standing.posteriors[key] = posterior
        if self.said.get(key) != posterior:
            self.said[key] = changed[key] = posterior

    def _forget(self, number: int, animal: AnimalId) -> None:
        """Nothing counts as certain any more in the animal's family, so that all of it is asked again.

        Where sires tie loci together, at every locus.
        """
        family = self.standing.family_of(animal)
        choices = [choice for choice, young in self.standing.listed.items() if family.keys() & young]
        choices += [choice for choice, keys in self.standing.counted.items() if self.standing.counted_in(keys, family)]
        groups = self.standing.groups if choices else (self.standing.groups[number],)
        for name in family:
            for group in groups:
                for locus in group.loci:
                    self.standing.posteriors.pop((name, locus.id), None)
        for choice in choices:
            self.standing.sires.pop(choice, None)


def _lasting(
    observations: Sequence[Observation], sources: Mapping[str, Source]
) -> tuple[tuple[Observation, ...], dict[str, Source]]:
    """The observations under names that do not change when another record joins them."""
    kept: list[Observation] = []
    named: dict[str, Source] = {}
    for seen in observations:
        source = sources[seen.key]
        key = f"{seen.member} {source.ground.value} {source.places[0]}"
        while key in named:
            key += "'"
        named[key] = source
        kept.append(replace(seen, key=key))
    return tuple(kept), named


def _goes_on(before: OwnEvidence | None, now: OwnEvidence) -> bool:
    """True when everything that was known of an animal still stands, so that more is known or the same."""
    if before is None:
        return True
    return before.prior == now.prior and all(seen in now.observations for seen in before.observations)
