"""Which days of an earlier replay of the same loci stand: those on which nothing looked at is otherwise now."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass

from sitegen.evidence.gathered import Source
from sitegen.evidence.regions import Answered, Asked
from sitegen.evidence.timeline import Day
from sitegen.genetics.factors import Choice
from sitegen.genetics.questions import AnimalId, Posterior, parents_of

Key = tuple[AnimalId, str]
"""Animal and locus."""

About = tuple[tuple[tuple[int, AnimalId], ...], tuple[Choice, ...]]
"""The (group, animal) and the choices of sire about which something is asked."""


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
    answers: Mapping[Key, Posterior]


@dataclass(frozen=True, slots=True)
class Done:
    """A day that was replayed.

    Attributes:
        day: What arrived.
        turns: What it taught.
        read: Whose answers were looked at for that; nobody's where nobody will replay it again.
        opened: Those of whom more was: what is known of them alone, who their parents are and their young.
        asked: What was asked about whom, and what came back; empty where nobody will replay it again.
    """

    day: Day
    turns: tuple[Turn, ...]
    read: frozenset[AnimalId]
    opened: frozenset[AnimalId]
    asked: Mapping[About, tuple[Asked, Answered]]


class Earlier:
    """An earlier replay, gone through side by side with a new one."""

    def __init__(
        self,
        before: Sequence[Done],
        now: Sequence[Day],
        at: tuple[Sequence[int], Sequence[str]],
        said: Mapping[Key, Posterior],
    ) -> None:
        """Makes ready.

        Args:
            before: The days of the earlier replay that are to come.
            now: Those of the new one.
            at: Numbers and names of the loci.
            said: The answers so far, in both.
        """
        self._waiting = list(reversed(before))
        self._then = dict(said)
        self._otherwise: set[Key] = set()
        self._same: dict[dt.date, Done] = {}
        olds, news = {done.day.day: done for done in before}, {day.day: day for day in now}
        differing: list[Day] = []
        for date in olds.keys() | news.keys():
            old, new = olds.get(date), news.get(date)
            if old is not None and new is not None and old.day.is_at(*at, new):
                self._same[date] = old
            else:
                differing += [each for each in (old.day if old else None, new) if each is not None]
        self._differing = _named(differing)

    def standing(self, day: Day, said: Mapping[Key, Posterior]) -> Done | None:
        """The same day of the earlier replay where it would come to the same; None where that is not sure."""
        self._go_on(said, day.day, including=False)
        done = self._same.get(day.day)
        if done is None or not done.opened.isdisjoint(self._differing):
            return None
        return done if not any(name in done.read for name, _ in self._otherwise) else None

    def learnt(self, turns: Iterable[Turn], day: dt.date, said: Mapping[Key, Posterior]) -> None:
        """A day was replayed anew."""
        self._go_on(said, day, including=True)
        self._compare({key for turn in turns for key in turn.answers}, said)

    def _go_on(self, said: Mapping[Key, Posterior], day: dt.date, *, including: bool) -> None:
        """The earlier replay goes on to a day."""
        while self._waiting and (self._waiting[-1].day.day < day or (including and self._waiting[-1].day.day == day)):
            for turn in self._waiting.pop().turns:
                self._then.update(turn.answers)
                self._compare(turn.answers.keys(), said)

    def _compare(self, keys: Set[Key], said: Mapping[Key, Posterior]) -> None:
        for key in keys:
            then, now = self._then.get(key), said.get(key)
            if then is now or then == now:
                self._otherwise.discard(key)
            else:
                self._otherwise.add(key)


def _named(days: Iterable[Day]) -> frozenset[AnimalId]:
    """Of whom these days tell something: the animals, and the parents of them and of young that are not listed."""
    found: set[AnimalId] = set()
    for day in days:
        for known in day.animals:
            found.update((known.member.id, *parents_of(known.member)))
        for told in day.told:
            for counted in told.by_locus.values():
                found.update(parents_of(counted.tally))
    return frozenset(found)


class Noting(dict[Key, Posterior]):
    """Answers that note whose were looked at."""

    def __init__(self, read: set[AnimalId]) -> None:
        super().__init__()
        self._read = read

    def get(self, key: Key, default: Posterior | None = None) -> Posterior | None:  # type: ignore[override]
        """As of any mapping."""
        self._read.add(key[0])
        return super().get(key, default)

    def __getitem__(self, key: Key) -> Posterior:
        self._read.add(key[0])
        return super().__getitem__(key)
