"""How the answer for one animal came about, in the order in which the records began to count.

First what it and its ancestors alone told when it came, then, from that day on, what the replay of all records tells
(:mod:`sitegen.evidence.history`); :mod:`sitegen.evidence.steps` goes the same way in the order of kinship. Words and a
picture together helped readers of Bayesian networks with some kinds of question: Nyberg EP et al. (2025), arXiv
2511.16961.
"""

import datetime as dt
from collections.abc import Callable, Hashable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.evidence.arrivals import Arrivals, arrivals_of, evidence_on, families_of
from sitegen.evidence.asking import ask
from sitegen.evidence.changes import Tells, occasions
from sitegen.evidence.gather import Reader, gather
from sitegen.evidence.gathered import Evidence, Ground, Reason, reached
from sitegen.evidence.history import Key, Turn, history
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, chance_of_allele, chance_of_copies, chance_of_showing
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId, Posterior, parents_of

WITH_ODDS = (ClaimKind.MAY_CARRY, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.TOO_YOUNG)
_CERTAIN = (ClaimKind.CARRIES, ClaimKind.RULED_OUT)
_FIRM = (Basis.OWN_RECORDS, Basis.DNA_TEST, Basis.PROVEN_BY_YOUNG)
_RELATIVES = (Ground.SIBLINGS, Ground.YOUNG)


@dataclass(frozen=True, slots=True)
class Stair:
    """One step.

    Attributes:
        day: The day on which the new records began to count; the very first where they have no date; None of what the
            animal and its ancestors alone told at first.
        posterior: The answer with them.
        because: The new records that bear on it, nearest first.
        further: What was known by then of other relatives counts too.
    """

    day: dt.date | None
    posterior: Posterior
    because: tuple[Reason, ...] = ()
    further: bool = False


@dataclass(frozen=True, eq=False)
class Replay:
    """One family's records, with their history, which is worked out when it is first asked for."""

    arrivals: Arrivals

    @cached_property
    def turns(self) -> tuple[Turn, ...]:
        """The history of the family."""
        return history(self.arrivals)

    @cached_property
    def told(self) -> Mapping[Key, list[Turn]]:
        """Animal and locus to the turns at which the answer differed."""
        found: dict[Key, list[Turn]] = {}
        for turn in self.turns:
            for key in turn.answers:
                found.setdefault(key, []).append(turn)
        return found

    @cached_property
    def _known(self) -> dict[Hashable, Posterior]:
        return {}

    @cached_property
    def _readers(self) -> Mapping[str, Mapping[str, Reader]]:
        """Species and locus to what reads its records: what many say alike is one object."""
        species = self.arrivals.collection.species.values()
        return {each.id: {locus.id: Reader(each, locus) for locus in each.genome.loci} for each in species}

    def stairs(self, animal: AnimalId, locus: str, moves: Callable[[Posterior, Posterior], bool]) -> Iterator[Stair]:
        """The steps to the answer of today at which it moved, the first one included; a day without answer has none."""
        first, *later = self.told[animal, locus]
        before = self._alone(animal, locus, first.day)
        if before:
            yield Stair(None, before)
        for turn in (first, *later):
            answer, because = turn.answers[animal, locus], turn.because[animal, locus]
            if not answer or (before and not moves(before, answer)):
                continue
            if turn is first:
                line = self._line(animal)
                because = tuple(each for each in turn.arrived if each.locus == locus and each.source.animal not in line)
            told = occasions(self.arrivals.collection, animal, locus, because)
            near = tuple(reason for reason in told if reason.ground in _RELATIVES) if turn is first else told
            further = turn is first and (len(near) < len(told) or self._is_told_more(animal, locus, turn.day))
            yield Stair(turn.day, answer, near, further)
            before = answer

    def _alone(self, animal: AnimalId, locus: str, day: dt.date) -> Posterior:
        """What was known on its first day of an animal by itself and its ancestors.

        Littermates of whom the same is known share it.
        """
        evidence, record = self._of_line(animal, locus, day), self.arrivals.collection.animals[animal]
        own = evidence.loci[record.species, locus].said[animal].observations
        shared = record.litter if len(evidence.loci) == 1 and record.litter else animal
        key = shared, locus, day, record.sex, record.sires, tuple(id(seen.likelihood) for seen in own)
        if key not in self._known:
            self._known[key] = ask(evidence).posterior(animal, locus)
        return self._known[key]

    def _is_told_more(self, animal: AnimalId, locus: str, day: dt.date) -> bool:
        """True when other relatives had told something of its parents before its first day."""
        for parent in parents_of(self.arrivals.collection.animals[animal]):
            key = parent, locus, day
            if key not in self._known:
                self._known[key] = ask(self._of_line(parent, locus, day)).posterior(parent, locus)
            if (then := self._by(parent, locus, day)) and then != self._known[key]:
                return True
        return False

    def _of_line(self, animal: AnimalId, locus: str, day: dt.date) -> Evidence:
        """What was known on a day of an animal and its ancestors; of all loci where they share who a sire is."""
        species = self.arrivals.collection.animals[animal].species
        records = evidence_on(self.arrivals, species, day, self._line(animal))
        bred: list[Animal | Litter] = [*records.animals.values(), *records.litters.values()]
        litters = {key: replace(each, others=()) for key, each in records.litters.items()}
        wanted = None if any(len(each.sires) > 1 for each in bred) else {locus}
        return gather(replace(records, litters=litters), wanted, self._readers[species])

    def _by(self, animal: AnimalId, locus: str, day: dt.date) -> Posterior:
        """The answer for an animal before a day; empty where there was none."""
        turns = (turn for turn in reversed(self.told.get((animal, locus), ())) if turn.day < day)
        return next((turn.answers[animal, locus] for turn in turns), {})

    def _line(self, animal: AnimalId) -> Mapping[AnimalId, None]:
        return reached((animal,), lambda each: parents_of(self.arrivals.collection.animals[each]))


def replays_of(collection: Collection) -> Mapping[AnimalId, Replay]:
    """Animal to the history of its family."""
    families = map(Replay, families_of(arrivals_of(collection)))
    return {animal: replay for replay in families for animal in replay.arrivals.collection.animals}


def chance_of(claim: Claim, locus: Locus, posterior: Posterior) -> Fraction:
    """What a claim's chance counts, in another answer for its animal; of what is certain, that it has the allele."""
    match claim.kind:
        case ClaimKind.ONE_OR_TWO_COPIES:
            return chance_of_copies(posterior, claim.allele, 2)
        case ClaimKind.TOO_YOUNG:
            return chance_of_showing(locus, posterior, claim.allele)
    return chance_of_allele(posterior, claim.allele)


def staircase(claim: Claim, locus: Locus, replay: Replay, tells: Tells) -> tuple[Stair, ...]:
    """The steps at which a claim's chance moved, the first one included; empty where it never did.

    Nothing is told where the odds of today are not told, or what is certain hangs on a word or on what is taken for
    granted. Networks are asked only where the animal's chance moved, or its littermates or young are among the reasons.
    ``tells`` says which moves are wanted.
    """
    firm = claim.kind in WITH_ODDS or (claim.kind in _CERTAIN and claim.basis in _FIRM)
    if not firm or claim.strained or claim.condition or not claim.allele:
        return ()
    told = replay.told.get((claim.animal, claim.locus), [])
    moved = {chance_of(claim, locus, turn.answers[claim.animal, claim.locus]) for turn in told}
    if len(moved) < 2 and not any(reason.ground in _RELATIVES for reason in claim.reasons):
        return ()

    def moves(before: Posterior, after: Posterior) -> bool:
        return tells(chance_of(claim, locus, before), chance_of(claim, locus, after))

    steps = tuple(replay.stairs(claim.animal, claim.locus, moves))
    return steps if len(steps) > 1 else ()
