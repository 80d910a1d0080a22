"""How what could be said of an animal changed, after it was first said, and because of which records.

Found by replaying the evidence as it arrived. Every change of a chance is here, however small; which of them are worth
telling is for the wording to decide.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction
from itertools import groupby

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.evidence.arrivals import Arrivals, collection_on, evidence_on, family_on, rests_on_days
from sitegen.evidence.asking import Asked
from sitegen.evidence.claims import bare_claims
from sitegen.evidence.gather import gather, young_of
from sitegen.evidence.gathered import Ground, Reason, Source
from sitegen.evidence.history import Arrival, Turn
from sitegen.evidence.kinds import (
    Basis,
    Claim,
    ClaimKind,
    Condition,
    certain_copies,
    chance_of_allele,
    chance_of_copies,
)
from sitegen.evidence.possible import ask_opened
from sitegen.genetics.loci import Genome, Locus
from sitegen.genetics.questions import AnimalId, Posterior, parents_of
from sitegen.lazily import Lazily

_NONE, _ALL = Fraction(0), Fraction(1)
_LOOKS = {Ground.SHOWS_ITSELF, Ground.SHOWS_NOT}
_SEEN = (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)
_CERTAIN = (ClaimKind.SHOWS, ClaimKind.CARRIES, ClaimKind.RULED_OUT)
_FIRST = (*_SEEN, ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG, ClaimKind.RULED_OUT)
"""Of several claims about one allele, the one that tells most comes first."""


class ChangeKind(StrEnum):
    """How a statement changed."""

    PROVED = "proved"
    RULED_OUT = "ruled out"
    COPIES_SETTLED = "number of copies settled"
    BECAME_VISIBLE = "became visible"
    MOVED = "odds moved"


_SETTLED = (ChangeKind.PROVED, ChangeKind.RULED_OUT, ChangeKind.COPIES_SETTLED)


@dataclass(frozen=True, slots=True)
class Change:
    """One change of what could be said of an animal about one allele.

    Attributes:
        day: The day on which the new records began to count.
        before, after: The claims until then and from then on, of what was known on that day; None where there was none.
        chance_before, chance_after: Of having the allele; of two copies where it was certain all along that it has it.
        because: The new records, nearest first; empty where only what is known at other loci did it.
        dated: All records on which this rests carry their day, so that it was so then; else it is what today's records
            tell of that day.
    """

    kind: ChangeKind
    animal: AnimalId
    species: str
    locus: str
    allele: str
    day: dt.date
    before: Claim | None
    after: Claim | None
    chance_before: Fraction
    chance_after: Fraction
    because: tuple[Reason, ...]
    dated: bool = False


Tells = Callable[[Fraction, Fraction], bool]
"""(chance before, chance after), neither of them settled, to whether the difference is worth telling."""


Left = Callable[[dt.date, AnimalId, str], Posterior]
"""(day, animal, locus) to the genotypes that the records of that day leave possible; empty where that is not told."""


def changes_of(
    arrivals: Arrivals,
    turns: Iterable[Turn],
    claims: Mapping[AnimalId, Sequence[Claim]],
    tells: Tells = lambda before, after: True,
    left: Left | None = None,
) -> Mapping[AnimalId, tuple[Change, ...]]:
    """Animal to the changes of what could be said of it, oldest first; only animals of which something changed.

    Those of one day stand in the order of the species' loci. What is said first, on the day from which an animal is
    there, is no change. What is certain rests today, by ``claims``, on what it rested on when it became so. ``tells``
    says which moves of a chance are wanted, ``left`` what the records of a day left open; they are asked without it.
    """
    said: dict[AnimalId, dict[str, Posterior]] = {}
    found: dict[AnimalId, list[Change]] = {}
    left = left or _Left(arrivals, young_of(arrivals.collection))
    for day, on_day in groupby(turns, key=lambda turn: turn.day):
        for change in _Day(arrivals, day, said, tells, left).changes(tuple(on_day)):
            found.setdefault(change.animal, []).append(change)

    def grounded(animal: AnimalId) -> tuple[Change, ...]:
        today = claims.get(animal, ())
        return tuple(_grounded(change, today) for change in found[animal])

    changed = {animal: None for animal in arrivals.collection.animals if animal in found}
    return Lazily(changed, grounded)  # who shows one animal asks for the claims of no other


def _grounded(change: Change, today: Sequence[Claim]) -> Change:
    """What became certain has the basis that it has today, and what hung on something what it hangs on today."""
    after = change.after
    if after is None or not (change.kind is ChangeKind.PROVED or after.condition):
        return change
    for claim in today:
        if (claim.kind, claim.locus, claim.allele) == (after.kind, after.locus, after.allele):
            if after.condition is None:
                return replace(change, after=replace(after, basis=claim.basis, hangs_on=claim.hangs_on))
            return replace(change, after=replace(after, condition=claim.condition or after.condition))
    return change


Key = tuple[AnimalId, str]


@dataclass(slots=True)
class _Left:
    """What the records of earlier days left open, see :mod:`sitegen.evidence.possible`; asked where it matters."""

    arrivals: Arrivals
    young: Mapping[AnimalId, Sequence[AnimalId]]
    opened: dict[tuple[dt.date, str], list[Asked]] = field(default_factory=dict)

    def __call__(self, day: dt.date, animal: AnimalId, locus: str) -> Posterior:
        known = self.opened.setdefault((day, locus), [])
        found = next((asked for asked in known if animal in asked.evidence.collection.animals), None)
        if found is None:
            species = self.arrivals.collection.animals[animal].species
            family = family_on(self.arrivals, day, [animal], self.young)
            found = ask_opened(gather(evidence_on(self.arrivals, species, day, family), {locus}))
            known.append(found)
        return found.posterior(animal, locus)


@dataclass(slots=True)
class _Day:
    """One day's turns; ``said`` is what was known before, and is brought up to date."""

    arrivals: Arrivals
    day: dt.date
    said: dict[AnimalId, dict[str, Posterior]]
    tells: Tells
    left: Left
    arrived: dict[Key, list[Arrival]] = field(default_factory=dict)
    own: dict[Key, list[Arrival]] = field(default_factory=dict)

    def changes(self, turns: Sequence[Turn]) -> Iterator[Change]:
        after: dict[Key, Posterior] = {}
        for turn in turns:
            after.update(turn.answers)
            for key, because in turn.because.items():
                if self._was_there(key[0]):
                    self.arrived.setdefault(key, []).extend(because)
            for each in turn.arrived:
                self.own.setdefault((each.source.animal, each.locus), []).append(each)
                if each.source.ground is Ground.SHOWS_ITSELF and self._was_there(each.source.animal):
                    self.arrived.setdefault((each.source.animal, each.locus), []).append(each)
        touched = [key for key in self.arrived if self._is_touched(key, after.get(key), key in self.own)]
        touched.sort(key=lambda key: self._genome(key[0]).loci.index(self._locus(*key)))
        names = dict.fromkeys(animal for animal, _ in touched)
        before = self._claims(self.day - dt.timedelta(1), touched, names) if touched else {}
        old = {key: self.said[key[0]][key[1]] for key in touched}
        for (animal, locus), posterior in after.items():
            known = self.said.setdefault(animal, {})
            if posterior or locus not in known:
                known[locus] = posterior
        now = self._claims(self.day, touched, names)
        for key in touched:
            yield from self._at(key, (old[key], before[key]), (self.said[key[0]][key[1]], now[key]))

    def _was_there(self, animal: AnimalId) -> bool:
        return self.arrivals.animals[animal] < self.day

    def _is_touched(self, key: Key, posterior: Posterior | None, own: bool) -> bool:
        """True when something was known of an animal that was there, and now something else is, or it is seen."""
        before = self.said.get(key[0], {}).get(key[1])
        if not before:
            return False
        if own and self._is_first_look(key):
            return False
        if posterior is None or own:
            return own and posterior != {}
        return bool(posterior) and self._is_worth_telling(key, before, posterior)

    def _is_first_look(self, key: Key) -> bool:
        """True when it was looked at on no certain day, and nothing stands in its record of an earlier day than this.

        Then it was grown when it was first told of, and how it looks is what was said first.
        """
        animal = self.arrivals.collection.animals[key[0]]
        grounds = {each.source.ground for each in self.own[key]}
        undated = not any(genes.judged.on for genes in animal.genes)
        return grounds <= _LOOKS and undated and self.arrivals.first_day_of(animal) >= self.day

    def _is_worth_telling(self, key: Key, before: Posterior, posterior: Posterior) -> bool:
        moves = (_moved(allele.id, before, posterior) for allele in self._locus(*key).alleles)
        return any(move is not None and self._is_told(*move) for move in moves)

    def _is_told(self, kind: ChangeKind, before: Fraction, after: Fraction) -> bool:
        return kind is not ChangeKind.MOVED or self.tells(before, after)

    def _claims(
        self, day: dt.date, touched: Iterable[Key], names: Mapping[AnimalId, None]
    ) -> dict[Key, tuple[Claim, ...]]:
        """What may be said at these loci, with the records of a day and what is known by now."""
        collection = collection_on(self.arrivals, day, names)
        found: dict[Key, tuple[Claim, ...]] = {}
        for animal, locus in touched:
            record = collection.animals[animal]
            known = {each: self.said.get(each, {}).get(locus, {}) for each in (animal, *parents_of(record))}
            found[animal, locus] = tuple(bare_claims(collection, record, self._locus(animal, locus), known, self.day))
        return found

    def _genome(self, animal: AnimalId) -> Genome:
        return self.arrivals.collection.species[self.arrivals.collection.animals[animal].species].genome

    def _locus(self, animal: AnimalId, locus: str) -> Locus:
        return self._genome(animal).locus(locus)

    def _at(
        self, key: Key, before: tuple[Posterior, Sequence[Claim]], now: tuple[Posterior, Sequence[Claim]]
    ) -> Iterator[Change]:
        animal, locus_id = key
        locus = self._locus(*key)
        for allele in locus.alleles:
            was, is_ = _main(before[1], allele.id, before[0]), _main(now[1], allele.id, now[0])
            told = _kind(allele.id, (before[0], was), (now[0], is_))
            if told and self._is_told(*told):
                kind, chance, chance_now = told
                was = _proven(was, locus, self.day - dt.timedelta(1), self.left)
                settled, is_ = is_, _proven(is_, locus, self.day, self.left)
                if kind in _SETTLED and (
                    not self._is_ruled_out(key, allele.id)
                    if settled is None
                    else is_ is None or is_.condition is not None or is_.copies != settled.copies
                ):
                    kind = ChangeKind.MOVED
                because = occasions(self.arrivals.collection, animal, locus_id, tuple(dict.fromkeys(self.arrived[key])))
                species = self.arrivals.collection.animals[animal].species
                dated = rests_on_days(self.arrivals, animal, locus_id, self.day)
                yield Change(
                    kind, animal, species, locus_id, allele.id, self.day, was, is_, chance, chance_now, because, dated
                )

    def _is_ruled_out(self, key: Key, allele: str) -> bool:
        """True when the records of the day leave no place for an allele, whatever is taken for granted."""
        left = self.left(self.day, *key)
        return bool(left) and chance_of_allele(left, allele) == 0


def _proven(claim: Claim | None, locus: Locus, day: dt.date, left_on: Left) -> Claim | None:
    """A claim of a day as far as the records of that day prove it; None where they did not rule it out."""
    looks = [look for look in locus.shown.values() if claim is not None and look == claim.look]
    if claim is None or claim.kind not in _CERTAIN or len(looks) == 1:  # only one genotype has that look
        return claim
    left = left_on(day, claim.animal, claim.locus)
    if claim.kind is ClaimKind.RULED_OUT:
        return claim if left and chance_of_allele(left, claim.allele) == 0 else None
    if claim.kind is ClaimKind.CARRIES and chance_of_allele(left, claim.allele) != 1:
        return replace(claim, copies=-1, basis=Basis.TAKEN_FOR_GRANTED, condition=Condition())
    return replace(claim, copies=certain_copies(left, claim.allele))


def _main(claims: Sequence[Claim], allele: str, posterior: Posterior) -> Claim | None:
    """The claim that tells most of an allele; a look that two alleles make together tells of both."""
    own = [claim for claim in claims if claim.allele == allele]
    certain = chance_of_allele(posterior, allele) == 1
    own += [claim for claim in claims if claim.kind in _SEEN and claim.allele != allele and certain and not own]
    return min(own, key=lambda claim: _FIRST.index(claim.kind)) if own else None


Move = tuple[ChangeKind, Fraction, Fraction]
"""How it changed, the chance before and after."""


def _kind(allele: str, before: tuple[Posterior, Claim | None], now: tuple[Posterior, Claim | None]) -> Move | None:
    """How what is said of an allele changed; None where it did not."""
    seen_before = before[1] is not None and before[1].kind in _SEEN
    has = chance_of_allele(now[0], allele)
    if now[1] is not None and now[1].kind in _SEEN and not seen_before and has:
        return ChangeKind.BECAME_VISIBLE, chance_of_allele(before[0], allele), has
    return _moved(allele, before[0], now[0])


def _moved(allele: str, before: Posterior, now: Posterior) -> Move | None:
    """How the answer for an allele changed; None where it did not."""
    was, is_ = chance_of_allele(before, allele), chance_of_allele(now, allele)
    if was != is_:
        if is_ == _ALL:
            return ChangeKind.PROVED, was, is_
        return (ChangeKind.RULED_OUT if is_ == _NONE else ChangeKind.MOVED), was, is_
    two, two_now = chance_of_copies(before, allele, 2), chance_of_copies(now, allele, 2)
    if two == two_now or was != _ALL:
        return None
    settled = two_now in (_NONE, _ALL)
    return (ChangeKind.COPIES_SETTLED if settled else ChangeKind.MOVED), two, two_now


def occasions(collection: Collection, animal: AnimalId, locus: str, arrived: Sequence[Arrival]) -> tuple[Reason, ...]:
    """The new records at a locus that bear on an animal, as reasons: its own, tests of others, then by litter.

    A reason with ground ``YOUNG`` is about young of the animal, with ``SIBLINGS`` about other young of its parents,
    with ``SHOWS_ITSELF`` about other relatives. Its detail has the number of young that were looked at (``count``), and
    where some of them show a look of the locus, that look: then it names these young, and ``showing`` is their number.
    """
    here = [each.source for each in arrived if each.locus == locus]
    own = [source.reason() for source in here if source.animal == animal]
    others = [source for source in here if source.animal != animal]
    tests = [source.reason() for source in others if source.ground is Ground.DNA_TEST]
    looked: dict[tuple[Ground, bool, str], list[Source]] = {}
    for source in others:
        if source.ground in (*_LOOKS, Ground.YOUNG):
            litter = source.litter or collection.animals[source.animal].litter
            young = collection.animals[source.animal] if source.animal else collection.litters.get(litter)
            key = *_kin(collection.animals[animal], young), litter or source.animal
            looked.setdefault(key, []).append(source)
    told = [
        reason
        for wanted in (Ground.YOUNG, Ground.SIBLINGS, Ground.SHOWS_ITSELF)
        for (ground, perhaps, litter), sources in looked.items()
        if ground is wanted
        for reason in _looked_at(sources, ground, litter if litter in collection.litters else "", perhaps=perhaps)
    ]
    return tuple(dict.fromkeys((*own, *tests, *told)))


def _kin(animal: Animal, young: Animal | Litter | None) -> tuple[Ground, bool]:
    """What another animal, or young that are not listed, are to the animal; True where it is only a possible sire."""
    if young is None:
        return Ground.SHOWS_ITSELF, False
    if animal.id in parents_of(young):
        return Ground.YOUNG, animal.id != young.dam and len(young.sires) > 1
    shared = _sure_parents(young) & _sure_parents(animal)
    return (Ground.SIBLINGS if shared else Ground.SHOWS_ITSELF), False


def _sure_parents(young: Animal | Litter) -> set[AnimalId]:
    """The recorded parents without those that are only possible."""
    return {parent for parent in parents_of(young) if parent == young.dam or len(young.sires) == 1}


def _looked_at(sources: Sequence[Source], ground: Ground, litter: str, *, perhaps: bool) -> Iterator[Reason]:
    """Young of one litter that were looked at: a reason for each look that some show; one for all where none does."""
    once: dict[AnimalId | int, Source] = {}
    for source in sources:
        once.setdefault(source.animal or len(once), source)  # an animal that was judged twice is one young
    showing: dict[tuple[str, ...], list[Source]] = {}
    for source in once.values():
        if looks := tuple(value for name, value in source.detail if name == "look"):
            showing.setdefault(looks, []).append(source)
    counted = (("count", str(_number(once.values()))), *((("perhaps", "its own"),) if perhaps else ()))
    if not showing:
        yield Reason(ground, (), litter, tuple(dict.fromkeys(source.places[0] for source in sources)), counted)
    for looks, young in showing.items():
        named = tuple(source.animal for source in young if source.animal)
        detail = (*counted, ("showing", str(_number(young))), *(("look", look) for look in looks))
        yield Reason(ground, named, litter, tuple(source.places[0] for source in young), detail)


def _number(sources: Iterable[Source]) -> int:
    return sum(int(dict(source.detail).get("count", "1")) for source in sources)
