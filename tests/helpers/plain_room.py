"""The naive truth of rooms: every history written out, every young told apart by its number, nothing remembered.

Written from the rules with its own heredity (unlinked autosomal loci, Mendel's tables by picking one allele of each
parent) and without beliefs: a history carries the list of all worlds that agree with it. Only for the tiniest rooms.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product

HALF, ONE, NONE = Fraction(1, 2), Fraction(1), Fraction(0)
Genotype = tuple[str, str]
Genes = tuple[Genotype, ...]


@dataclass(frozen=True)
class PlainGoal:
    """Wanted: two copies at these loci (by number), at least one copy at those; worth so much at each season's end."""

    shows: tuple[int, ...]
    carries: tuple[int, ...] = ()
    count: int = 1
    rewards: tuple[Fraction, ...] = ()

    def meets(self, genes: Genes) -> bool:
        """True for an animal that is the goal."""
        return all(genes[at] == ("a", "a") for at in self.shows) and all("a" in genes[at] for at in self.carries)


@dataclass(frozen=True)
class PlainRoom:
    """A room of recessive loci, each with alleles ``+`` and ``a``."""

    seasons: int
    start: tuple[tuple[str, str, int], ...]
    odds: tuple[Mapping[Genes, Fraction], ...]
    goals: tuple[PlainGoal, ...]
    sizes: Mapping[int, Fraction]
    grown: Mapping[str, int]
    takes: Fraction = ONE
    rest: int = 0
    litters: int = 1
    keep: int = 1
    places: int | None = None


@dataclass(frozen=True)
class Beast:
    name: str
    sex: str
    ready: int
    ours: bool


Weighted = list[tuple[dict[str, Genes], Fraction]]
"""Worlds: the genes of every living animal by name, and the chance."""


def plain_first(room: PlainRoom) -> dict[frozenset[tuple[str, str]], Fraction]:
    """Every first choice to the best that can follow it."""
    beasts = tuple(Beast(name, sex, ready, False) for name, sex, ready in room.start)
    worlds: Weighted = []
    for chosen in product(*(own.items() for own in room.odds)):
        chance = ONE
        for _, share in chosen:
            chance *= share
        worlds.append(({beast.name: genes for beast, (genes, _) in zip(beasts, chosen, strict=True)}, chance))
    return {frozenset(choice): _after(room, 0, beasts, worlds, choice) for choice in _choices(room, 0, beasts)}


def _choices(room: PlainRoom, t: int, beasts: tuple[Beast, ...]) -> Iterator[tuple[tuple[str, str], ...]]:
    ready = [each for each in beasts if each.ready <= t]
    pairs = [(d.name, s.name) for d in ready for s in ready if d.sex == "female" and s.sex == "male"]
    for n in range(room.litters + 1):
        for chosen in combinations(pairs, n):
            if len({dam for dam, _ in chosen}) == n:
                yield chosen


def _value(room: PlainRoom, t: int, beasts: tuple[Beast, ...], worlds: Weighted) -> Fraction:
    if t == room.seasons:
        return NONE
    return max(_after(room, t, beasts, worlds, choice) for choice in _choices(room, t, beasts))


def _after(
    room: PlainRoom, t: int, beasts: tuple[Beast, ...], worlds: Weighted, choice: tuple[tuple[str, str], ...]
) -> Fraction:
    """All litters of the season, then everything that may be kept of them."""
    seen: dict[tuple, Weighted] = {}
    for genes, chance in worlds:
        for what, more, share in _litters(room, t, genes, choice):
            seen.setdefault(what, []).append(({**genes, **more}, chance * share))
    total = NONE
    for what, after in seen.items():
        rested = tuple(
            Beast(b.name, b.sex, t + 1 + room.rest, b.ours) if _bore(b.name, choice, what) else b for b in beasts
        )
        total += max(_end(room, t, kept, after) for kept in _keeps(room, t, rested, choice, what))
    return total


def _bore(name: str, choice: tuple[tuple[str, str], ...], what: tuple) -> bool:
    return any(dam == name and young is not None for (dam, _), young in zip(choice, what, strict=True))


def _litters(
    room: PlainRoom, t: int, genes: dict[str, Genes], choice: tuple[tuple[str, str], ...]
) -> Iterator[tuple[tuple, dict[str, Genes], Fraction]]:
    """What is seen of all litters, the genes of all young, the chance."""
    if not choice:
        yield (), {}, ONE
        return
    (dam, sire), *rest = choice
    for what, more, share in _litters(room, t, genes, tuple(rest)):
        if room.takes < 1:
            yield (None, *what), more, share * (1 - room.takes)
        for size, part in room.sizes.items():
            for young in product(young_of(genes[dam], genes[sire]).items(), repeat=size):
                chance = share * room.takes * part
                for _, own in young:
                    chance *= own
                look = tuple((sex, _look(own)) for (sex, own), _ in young)
                named = {f"{dam} {t} {number}": own for number, ((_, own), _) in enumerate(young)}
                yield (look, *what), {**more, **named}, chance


def young_of(dam: Genes, sire: Genes) -> dict[tuple[str, Genes], Fraction]:
    """One young: (sex, genes) to the chance."""
    found: dict[tuple[str, Genes], Fraction] = {}
    for sex in ("female", "male"):
        for picks in product((0, 1), repeat=2 * len(dam)):
            own = [(dam[at][picks[2 * at]], sire[at][picks[2 * at + 1]]) for at in range(len(dam))]
            key = (sex, tuple((min(pair), max(pair)) for pair in own))
            found[key] = found.get(key, NONE) + Fraction(1, 2 ** (2 * len(dam) + 1))
    return found


def _look(genes: Genes) -> tuple[bool, ...]:
    return tuple(pair == ("a", "a") for pair in genes)


def _keeps(
    room: PlainRoom, t: int, beasts: tuple[Beast, ...], choice: tuple[tuple[str, str], ...], what: tuple
) -> Iterator[tuple[Beast, ...]]:
    """Every set of animals that may be there afterwards; young of earlier seasons may be given up."""
    born = [
        [Beast(f"{dam} {t} {number}", sex, t + room.grown[sex], True) for number, (sex, _) in enumerate(young or ())]
        for (dam, _), young in zip(choice, what, strict=True)
    ]
    fixed = [each for each in beasts if not each.ours]
    young = [each for each in beasts if each.ours]
    per_litter = [[own for n in range(room.keep + 1) for own in combinations(each, n)] for each in born]
    for held in (own for n in range(len(young) + 1) for own in combinations(young, n)):
        for chosen in product(*per_litter):
            fresh = [each for own in chosen for each in own]
            if room.places is None or not (held or fresh) or len(fixed) + len(held) + len(fresh) <= room.places:
                yield (*fixed, *held, *fresh)


def _end(room: PlainRoom, t: int, kept: tuple[Beast, ...], worlds: Weighted) -> Fraction:
    names = [each.name for each in kept]
    total, after = NONE, []
    for genes, chance in worlds:
        own = {name: genes[name] for name in names}
        for goal in room.goals:
            total += chance * goal.rewards[t] * (sum(map(goal.meets, own.values())) >= goal.count)
        after.append((own, chance))
    return total + _value(room, t + 1, kept, after)
