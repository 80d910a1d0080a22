"""Replays some loci of one species day by day; each day asks again only what its records can bear on."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.evidence.earlier import About, Arrival, Done, Earlier, Noting, Turn
from sitegen.evidence.leaves import Leaves
from sitegen.evidence.regions import Answered, Asked, Node, Region, questions, regions
from sitegen.evidence.standing import Group, OwnEvidence, Sires, Standing, tally_at
from sitegen.evidence.timeline import Day, Known, Told
from sitegen.genetics.factors import Choice
from sitegen.genetics.network import answer_all
from sitegen.genetics.questions import AnimalId, Impossible, Posterior, TooTangled
from sitegen.genetics.transmission import Transmission
from sitegen.records.species import Species


@dataclass(frozen=True, slots=True)
class _End:
    """What is known by the end of a day beside the answers.

    Attributes:
        day: The day.
        sires: Which sires are still possible, and how likely.
        forgotten: Answers that were put in question and not asked again since.
    """

    day: dt.date
    sires: Sires
    forgotten: frozenset[tuple[AnimalId, str]]


@dataclass(frozen=True, slots=True)
class Replayed:
    """A replay at some loci.

    Attributes:
        species: The species, as it was.
        done: Its days.
        ends: What else was known by the end of a day, for each day on which that changed.
    """

    species: Species
    done: tuple[Done, ...]
    ends: tuple[_End, ...]

    @property
    def days(self) -> tuple[Day, ...]:
        """What arrived."""
        return tuple(done.day for done in self.done)

    @property
    def turns(self) -> tuple[Turn, ...]:
        """What it taught."""
        return tuple(turn for done in self.done for turn in done.turns)


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


class Replay:
    """Some loci of one species that are replayed together, day by day."""

    def __init__(
        self, species: Species, groups: tuple[Group, ...], limit: int, before: Replayed | None, *, again: bool
    ) -> None:
        """Makes ready.

        Args:
            species: The species.
            groups: The loci that are replayed.
            limit: Most table entries of one connected piece of a network.
            before: An earlier replay of the same loci.
            again: They will be replayed again, so what is asked is kept.
        """
        self.species = species
        self.limit = limit
        self.before = before
        self.again = again
        self.read: set[AnimalId] = set()
        self.asked: dict[About, tuple[Asked, Answered]] = {}
        self.known: Mapping[About, tuple[Asked, Answered]] = {}
        self.standing = Standing(groups, posteriors=Noting(self.read) if again else {})
        self.leaves = Leaves(self.standing)
        self.rank = {locus.id: rank for rank, locus in enumerate(species.genome.loci)}
        self.said: dict[tuple[AnimalId, str], Posterior] = {}
        self.forgotten: set[tuple[AnimalId, str]] = set()
        self.passing: dict[int, Transmission] = {}

    def replayed(self, days: tuple[Day, ...], known: int) -> Replayed:
        """These days, of which the first ``known`` are as they were before."""
        before = self.before.done if self.before is not None else ()
        if self.before is not None and known == len(days) == len(before):
            return self.before
        done = list(before[:known])
        ends = [_End(dt.date.min, {}, frozenset())]
        if self.before is not None and known:
            ends = [end for end in self.before.ends if end.day <= done[-1].day.day]
            self._resume(done, ends[-1])
        loci = tuple(locus.id for group in self.standing.groups for locus in group.loci)
        earlier = Earlier(before[known:], days[known:], ([self.rank[locus] for locus in loci], loci), self.said)
        asked_before = {each.day.day: each.asked for each in before[known:]}
        plain = self.before is not None and len(self.before.ends) == 1
        for day in days[known:]:
            stands = earlier.standing(day, self.said) if plain and len(ends) == 1 else None
            if stands is not None:
                self._take_over(stands)
                done.append(stands)
                continue
            self.known = asked_before.get(day.day, {})
            done.append(self._done(day))
            if self.before is not None:
                earlier.learnt(done[-1].turns, day.day, self.said)
            self.forgotten = {key for key in self.forgotten if key not in self.standing.posteriors}
            if self.standing.sires != ends[-1].sires or self.forgotten != ends[-1].forgotten:
                ends.append(_End(day.day, dict(self.standing.sires), frozenset(self.forgotten)))
        return Replayed(self.species, tuple(done), tuple(ends))

    def _done(self, day: Day) -> Done:
        """Replays a day."""
        self.read.clear()
        self.leaves.opened.clear()
        self.leaves.opened.update(known.member.id for known in day.animals if known.before is not None)
        self.asked = {}
        turns = tuple(self._answered(day.day, self._arrive(day)))
        if not self.again:
            return Done(day, turns, frozenset(), frozenset(), {})
        plain = all(group.is_plain for group in self.standing.groups)
        opened = self.leaves.opened if plain else self.leaves.opened | self.read  # whose sex may have been looked at
        return Done(day, turns, frozenset(self.read), frozenset(opened), self.asked)

    def _take_over(self, done: Done) -> None:
        """A day that came to the same before."""
        for known in done.day.animals:
            self.standing.add_member(known.member)
            self._store(known)
        for told in done.day.told:
            self.standing.add_tally(told.key, told.by_locus)
        for turn in done.turns:
            self.said.update(turn.answers)
            self.standing.posteriors.update(turn.answers)

    def _resume(self, done: Iterable[Done], end: _End) -> None:
        """As it stood at the end of these days."""
        for each in done:
            self._take_over(each)
        self.forgotten = set(end.forgotten)
        for key in self.forgotten:
            self.standing.posteriors.pop(key, None)
        self.standing.sires.update(end.sires)

    def _store(self, known: Known) -> None:
        if known.phases:
            self.standing.phases[known.member.id] = known.phases
        for group in self.standing.groups:
            for locus in group.loci:
                self.standing.own[known.member.id, locus.id] = known.own[self.rank[locus.id]]

    def _arrive(self, day: Day) -> _New:
        """Takes the records of a day in."""
        new = _New()
        for known in day.animals:
            self._take_in(known, new)
        for told in day.told:
            self._count(told, new)
        return new

    def _take_in(self, known: Known, new: _New) -> None:
        """Somebody who is new, or of whom something new is known."""
        animal = known.member.id
        before = self.standing.members.get(animal)
        self.standing.add_member(known.member)
        for number, group in enumerate(self.standing.groups):
            own = {locus.id: known.own[self.rank[locus.id]] for locus in group.loci}
            if before is None:
                told = [Arrival(locus, source) for locus, each in own.items() for source in each.sources.values()]
                new.seed(("animal", number, animal), told)
                continue
            arrived = [each for locus in own for each in self._arrived(animal, locus, own[locus])]
            kept = all(_goes_on(self.standing.own.get((animal, locus)), own[locus]) for locus in own)
            new_sex = before.sex is not known.member.sex and group.hangs_on_sex
            if not kept or new_sex or self._excluded(animal, list(own), own):
                new.doubtful[number, animal] = None
                new.seed(("animal", number, animal), arrived)
            elif arrived and not self._tells_nothing(animal, number, own):
                new.seed(("animal", number, animal), arrived)
            else:
                new.quiet += arrived
        self._store(known)

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

    def _count(self, told: Told, new: _New) -> None:
        """Young that are not listed."""
        self.standing.add_tally(told.key, told.by_locus)
        for number, group in enumerate(self.standing.groups):
            known = [(locus.id, told.by_locus[locus.id]) for locus in group.loci if locus.id in told.by_locus]
            if known:
                new.seed(("tally", number, told.key), [Arrival(locus, counted.source) for locus, counted in known])

    def _answered(self, day: dt.date, new: _New) -> Iterator[Turn]:
        """Asks what the new records bear on; then what is left of the new animals."""
        for number, animal in new.doubtful:
            self._forget(number, animal)
        alone = {node: self._alone(node) for node in new.seeds}
        bearing = {node: new.seeds[node] for node, known in alone.items() if known is None}
        yield from self._asked_again(day, bearing)
        quiet = [*new.quiet, *(each for node, told in new.seeds.items() if node not in bearing for each in told)]
        first: dict[tuple[AnimalId, str], Posterior] = {}
        left: list[Node] = []
        for node, known in alone.items():
            key = node[2], self.standing.groups[node[1]].loci[0].id
            if known is None or node[0] != "animal" or key in self.said:
                continue
            posterior = self._alone(node) if bearing else known  # its parents' answers may have changed since
            if posterior is None:
                left.append(node)
            else:
                self.standing.posteriors[key] = self.said[key] = first[key] = posterior
        if quiet or first:
            yield Turn(day, self.species.id, tuple(quiet), first)
        yield from self._asked_again(day, {node: new.seeds[node] for node in left})

    def _alone(self, node: Node) -> Posterior | None:
        """The answer about a new animal on whom nobody else hangs; None where a record bears on others.

        For young that are not listed and tell nothing of anybody it is empty.
        """
        kind, number, name = node
        if kind == "tally":
            tally = tally_at(self.standing, number, name)
            return {} if tally is not None and self.leaves.tally_tells_nothing(tally, number) else None
        if (name, self.standing.groups[number].loci[0].id) in self.said:
            return None
        return self.leaves.posterior(self.standing.members[name], number)

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
            answered = self._answer(several)
            for region in several:
                region.answered = answered
            failed |= dict.fromkeys(answered.failed)
        return failed

    def _answer(self, several: Sequence[Region]) -> Answered:
        """What is said of regions that are asked together; from the replay before where the same was asked."""
        wanted = tuple(each for region in several for each in region.animals())
        choices = tuple(dict.fromkeys(choice for region in several for choice in region.choices.values()))
        asked, about = questions(self.standing, several), (wanted, choices)
        known = self.known.get(about)
        answered = known[1] if known is not None and known[0] == asked else self._solve(asked, wanted, choices)
        if self.again:
            self.asked[about] = asked, answered
        return answered

    def _solve(self, asked: Asked, wanted: Iterable[tuple[int, AnimalId]], choices: Iterable[Choice]) -> Answered:
        like = [self.passing.get(number) for number in asked]
        answers = dict(
            zip(asked, answer_all([posed.question for posed in asked.values()], self.limit, like), strict=True)
        )
        self.passing.update((number, each.transmission) for number, each in answers.items())
        posteriors: dict[tuple[AnimalId, str], Posterior] = {}
        for number, animal in wanted:
            speaker = asked[number].speakers.get(animal)
            for locus in self.standing.groups[number].loci:
                if speaker is not None:
                    posteriors[animal, locus.id] = posteriors[speaker, locus.id]
                    continue
                found = answers[number].of(animal, locus.id)
                posteriors[animal, locus.id] = {} if isinstance(found, Impossible | TooTangled) else found
        sires: dict[Choice, Mapping[AnimalId, Fraction]] = {}
        for choice in choices:
            for each in answers.values():
                try:
                    told = each.sires(choice[1])
                except KeyError:
                    continue
                if not isinstance(told, Impossible | TooTangled):
                    sires[choice] = told
                    break
        failed = {(n, f.members[0]): None for n, each in answers.items() for f in each.failures if f.members}
        return Answered(posteriors, sires, tuple(failed))

    def _changed(self, region: Region) -> dict[tuple[AnimalId, str], Posterior]:
        """Keeps the answers of a region; gives those that are new or differ."""
        changed: dict[tuple[AnimalId, str], Posterior] = {}
        differ: dict[tuple[int, int], bool] = {}
        answered = region.answered
        for number, animal in region.animals():
            for locus in self.standing.groups[number].loci:
                self._keep((animal, locus.id), answered.posteriors[animal, locus.id], changed, differ)
        for number, animal in region.quiet:
            if ("animal", number, animal) not in region.nodes:
                posterior = self.leaves.quiet_posterior(self.standing.members[animal], number)
                self._keep((animal, self.standing.groups[number].loci[0].id), posterior, changed, differ)
        for choice in region.choices.values():
            if choice in answered.sires:
                self.standing.sires[choice] = answered.sires[choice]
        return changed

    def _keep(
        self,
        key: tuple[AnimalId, str],
        posterior: Posterior,
        changed: dict[tuple[AnimalId, str], Posterior],
        differ: dict[tuple[int, int], bool],
    ) -> None:
        """Keeps an answer; ``differ`` remembers which two do, since animals that are alike share theirs."""
        before = self.said.get(key)
        same = id(before), id(posterior)
        if same not in differ:
            differ[same] = before != posterior
        if differ[same]:
            self.said[key] = changed[key] = posterior
        self.standing.posteriors[key] = self.said[key]

    def _forget(self, number: int, animal: AnimalId) -> None:
        """Nothing counts as certain any more in the animal's family, so that all of it is asked again.

        Where sires tie loci together, at every locus.
        """
        family = self.standing.family_of(animal)
        self.leaves.opened.update(family)
        choices = [choice for choice, young in self.standing.listed.items() if family.keys() & young]
        choices += [choice for choice, keys in self.standing.counted.items() if self.standing.counted_in(keys, family)]
        groups = self.standing.groups if choices else (self.standing.groups[number],)
        for name in family:
            for group in groups:
                for locus in group.loci:
                    if self.standing.posteriors.pop((name, locus.id), None) is not None:
                        self.forgotten.add((name, locus.id))
        for choice in choices:
            self.standing.sires.pop(choice, None)


def _goes_on(before: OwnEvidence | None, now: OwnEvidence) -> bool:
    """True when everything that was known of an animal still stands, so that more is known or the same."""
    if before is None:
        return True
    return before.prior == now.prior and all(seen in now.observations for seen in before.observations)
