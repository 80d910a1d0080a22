"""The decision problem of a room in plain numbers, and its exact optimum by dynamic programming over beliefs.

The keeper sees whether a pairing took, and the number, sex and look of its living young; a rule may use nothing else.
The belief is a measure over the joint genotypes of all animals that may still breed, in whole numbers without a common
factor. Three things keep it small, and each is exact:

- An animal that cannot breed within the horizon is remembered only as the goals that it adds to those owned.
- A world in which all goals are owned is worth the same whatever is done, and is left out of the belief.
- Animals of one sex and age are put in the order of what is believed of them.

Where places are limited, young that were kept may be given up later for others (animals of the start never), so there
the first two do not hold and are not used.

Whole numbers: in each season every choice is scaled by the same number, so that values compare as integers; the value
of a measure is homogeneous of degree 1.
"""

import math
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import combinations, product

ONE, NONE = Fraction(1), Fraction(0)
FEMALE, MALE = 0, 1

Genes = Hashable
"""The genotype of an animal at all loci that matter."""
Choice = frozenset[tuple[str, str]]
"""Pairings of a season: (dam, sire)."""


@dataclass(frozen=True)
class Starter:
    """An animal of the start: its name, its sex and the first season (0, 1, ...) in which it may be paired."""

    name: str
    sex: int
    ready: int


@dataclass(frozen=True)
class Aim:
    """A goal: how many kept animals must be so, and what owning them is worth at the end of each season."""

    id: str
    count: int
    rewards: tuple[Fraction, ...]


@dataclass(frozen=True)
class Game:
    """A room in plain numbers.

    Attributes:
        seasons: How many are played.
        start: The animals owned at the start.
        worlds: Their joint genotypes, in their order, to the chance; sums to 1.
        young: What one young of a dam and a sire of such genotypes is: (sex, genotype) to the chance; what the sum
            lacks of 1 is not born alive.
        look: What is seen of a genotype, by sex.
        is_aim: For each goal whether a genotype is it.
        aims: The goals.
        sizes: Number of young of a litter to its chance.
        grown: Seasons from birth to the first pairing, of females and males.
        takes: Chance that a pairing gives a litter.
        rest, rest_after_failure: Seasons that a dam rests after a litter, and after a pairing without one.
        litters: Most pairings of a season; None for as many as there are dams.
        keep: Most young kept of a litter; None for all.
        places: Most animals; None without a limit.
        sire_litters: Most pairings of a sire in a season.
        kinship: Of the animals of the start, themselves included, where relatedness is limited.
        relatedness: Highest kinship of a pair.
        off: Names of animals that are not paired in the first season.
    """

    seasons: int
    start: tuple[Starter, ...]
    worlds: Mapping[tuple[Genes, ...], Fraction]
    young: Callable[[Genes, Genes], Mapping[tuple[int, Genes], Fraction]]
    look: Callable[[int, Genes], Hashable]
    is_aim: Callable[[Genes], tuple[bool, ...]]
    aims: tuple[Aim, ...]
    sizes: Mapping[int, Fraction]
    grown: tuple[int, int] = (1, 1)
    takes: Fraction = ONE
    rest: int = 0
    rest_after_failure: int = 0
    litters: int | None = None
    keep: int | None = None
    places: int | None = None
    sire_litters: int | None = None
    kinship: tuple[tuple[Fraction, ...], ...] = ()
    relatedness: Fraction | None = None
    off: frozenset[str] = frozenset()


Beast = tuple[int, int, bool]
"""Sex, first season in which it may be paired, and whether the plan may give it up."""
World = tuple[tuple[int, ...], tuple[Genes, ...]]
"""How many of each goal are owned (those that are not counted in the genotypes, at most what is wanted), genotypes."""
Pairs = tuple[tuple[int, int], ...]
"""Pairings by the places of dam and sire in a state."""
Seen = tuple[tuple[Hashable, int], ...] | None
"""Of a litter, how many young of each kind came; None for a pairing that did not take."""


@dataclass(frozen=True)
class State:
    """What a keeper knows before a season; ``worlds`` in whole numbers without a common factor."""

    season: int
    beasts: tuple[Beast, ...]
    worlds: tuple[tuple[World, int], ...]
    kinship: tuple[tuple[Fraction, ...], ...] = ()

    @property
    def mass(self) -> int:
        return sum(weight for _, weight in self.worlds)


Chooser = Callable[[State, Sequence[Pairs]], Pairs]
Keeper = Callable[[State, Pairs, object, int], int]
"""Of so many ways to keep young after these were seen, the number of one."""


class Solver:
    """The optimum of a game, or the value of a rule.

    Args:
        game: The game.
        told: The keeper is told all genotypes: an upper bound.
        chooser: Which pairings a rule makes; the best ones if not given.
        keeper: Which young it keeps; the best ones for what follows if not given.
        most: Worlds gone through after which it gives up with :class:`TooLargeError`.
    """

    def __init__(
        self,
        game: Game,
        *,
        told: bool = False,
        chooser: Chooser | None = None,
        keeper: Keeper | None = None,
        most: int = 10**9,
    ) -> None:
        self.game, self.told, self.chooser, self.keeper = game, told, chooser, keeper
        self.most, self.work = most, 0
        self.most_young = max(game.sizes)
        self.keep = self.most_young if game.keep is None else min(game.keep, self.most_young)
        self.last = game.seasons - 1
        n_dams = sum(each.sex == FEMALE for each in game.start)
        self.most_litters = game.litters if game.litters is not None else 10**9
        # Dams that a season can have: those of the start and all young that could have been kept by then.
        self._litters_of = []
        dams = n_dams
        for _ in range(game.seasons):
            own = min(self.most_litters, dams)
            self._litters_of.append(own)
            dams += own * self.keep
        most_kept = sum(self._litters_of) * self.keep
        self.room = None if game.places is None else max(0, game.places - len(game.start))
        if self.room is not None and self.room >= most_kept:
            self.room = None
        self.for_good = self.room is None
        self.caps = tuple(aim.count for aim in game.aims)
        whole = math.lcm(1, *(r.denominator for aim in game.aims for r in aim.rewards))
        self.unit = whole
        self.rewards = [[int(r * whole) for r in aim.rewards] for aim in game.aims]
        self.later = [[sum(own[t:]) for t in range(game.seasons + 1)] for own in self.rewards]
        self._young_whole = 1
        self._memo: dict[State, int] = {}
        self._young: dict[tuple[Genes, Genes], dict[tuple[int, Genes], Fraction]] = {}
        self._rows: dict[tuple[Genes, Genes, tuple[bool, bool]], dict] = {}
        self._worth: dict[tuple[int, ...], int] = {}
        self._missed: dict[tuple[Genes, Genes], int] = {}
        self._gains: dict[tuple[Genes, Genes], dict[tuple[int, ...], int]] = {}
        self._prepare()
        self._litter_whole = (
            game.takes.denominator
            * math.lcm(*(each.denominator for each in game.sizes.values()))
            * self._young_whole**self.most_young
        )
        self._after = [1] * (game.seasons + 1)
        for t in range(game.seasons - 1, -1, -1):
            self._after[t] = self._after[t + 1] * self._litter_whole ** self._litters_of[t]

    # What there is.

    def _prepare(self) -> None:
        """All genotypes that can come, so that one common denominator serves all young."""
        females = {own[at] for own in self.game.worlds for at, s in enumerate(self.game.start) if s.sex == FEMALE}
        males = {own[at] for own in self.game.worlds for at, s in enumerate(self.game.start) if s.sex == MALE}
        while True:
            fresh = [(d, s) for d in females for s in males if (d, s) not in self._young]
            if not fresh:
                break
            for pair in fresh:
                found = dict(self.game.young(*pair))
                self._young[pair] = found
                for sex, genes in found:
                    (females if sex == FEMALE else males).add(genes)
        self._young_whole = math.lcm(1, *(c.denominator for own in self._young.values() for c in own.values()))
        self.has_sex_in_genes = any(
            {(FEMALE, g) for s, g in own if s == MALE} != {(FEMALE, g) for s, g in own if s == FEMALE}
            for own in self._young.values()
        )
        goals: dict[Hashable, set] = {}
        for own in self._young.values():
            for sex, genes in own:
                goals.setdefault(self.game.look(sex, genes), set()).add(self.game.is_aim(genes))
        self.plain = self.told or all(len(own) == 1 for own in goals.values())

    def start(self) -> tuple[State, int, int]:
        """The state at the start, what its worlds were multiplied by, and the value of what is left out of it."""
        game = self.game
        whole = math.lcm(*(chance.denominator for chance in game.worlds.values()))
        beasts = tuple((each.sex, each.ready, False) for each in game.start)
        worlds: dict[World, int] = {}
        for genes, chance in game.worlds.items():
            counts = tuple(min(cap, sum(game.is_aim(own)[at] for own in genes)) for at, cap in enumerate(self.caps))
            key = (counts, genes)
            worlds[key] = worlds.get(key, 0) + int(chance * whole)
        return State(0, beasts, tuple(worlds.items()), game.kinship), whole, 0

    def first(self) -> dict[Choice, Fraction]:
        """Every first-season choice to the value of the best (or of the rule) after it."""
        state, whole, _ = self.start()
        scale = whole * self._after[0] * self.unit
        if self.told:
            raise ValueError("a keeper who is told the genotypes chooses by them")
        names = [each.name for each in self.game.start]
        found: dict[Choice, Fraction] = {}
        for pairs in self.choices(state):
            choice = frozenset((names[dam], names[sire]) for dam, sire in pairs)
            found[choice] = Fraction(self._after_choice(state, pairs), scale)
        return found

    def value(self) -> Fraction:
        """The value of the game, or of the rule."""
        state, whole, _ = self.start()
        scale = whole * self._after[0] * self.unit
        if self.told:
            parts = (self._solve(State(0, state.beasts, ((world, 1),), state.kinship)) * w for world, w in state.worlds)
            return Fraction(sum(parts), scale)
        return Fraction(self._solve(state), scale)

    # Choices.

    def choices(self, state: State) -> list[Pairs]:
        """Every set of pairings that is allowed, the empty one first."""
        t = state.season
        names = [each.name for each in self.game.start]
        ready = [at for at, own in enumerate(state.beasts) if own[1] <= t]
        if t == 0 and self.game.off:
            ready = [at for at in ready if names[at] not in self.game.off]
        dams = [at for at in ready if state.beasts[at][0] == FEMALE]
        sires = [at for at in ready if state.beasts[at][0] == MALE]
        limit = self.game.relatedness
        found: list[Pairs] = []
        for n in range(min(len(dams), self._litters_of[t]) + 1):
            for chosen in combinations(dams, n):
                for mates in product(sires, repeat=n):
                    if self.game.sire_litters is not None and any(
                        mates.count(each) > self.game.sire_litters for each in mates
                    ):
                        continue
                    pairs = tuple(zip(chosen, mates, strict=True))
                    if limit is None or all(state.kinship[dam][sire] <= limit for dam, sire in pairs):
                        found.append(pairs)
        return found

    # The recursion.

    def _solve(self, state: State) -> int:
        """The value of a state, times its mass, the scales of all seasons from its own on, and the unit of rewards."""
        if state.season > self.last or not state.worlds:
            return 0
        found = self._memo.get(state)
        if found is None:
            options = self.choices(state)
            if self.chooser is None and self._more_never_hurts(state.season):
                most = max(map(len, options))
                options = [own for own in options if len(own) == most]
            if self.chooser:
                found = self._after_choice(state, self.chooser(state, options))
            else:
                bound = state.mass * self._after[state.season] * sum(own[state.season] for own in self.later)
                found = -1
                for pairs in reversed(options):
                    found = max(found, self._after_choice(state, pairs))
                    if found == bound:
                        break
            self._memo[state] = found
        return found

    def _count(self, n: int) -> None:
        self.work += n
        if self.work > self.most:
            raise TooLargeError

    def _more_never_hurts(self, t: int) -> bool:
        """True where one more pairing costs nothing: nobody is bound to keep its young or to look at them."""
        free = self.game.sire_litters is None and self.game.relatedness is None
        return free and not self.keeper and (t == self.last or not (self.game.rest or self.game.rest_after_failure))

    def _after_choice(self, state: State, pairs: Pairs) -> int:
        """The value of a state when these pairings are made."""
        t = state.season
        self._count(len(state.worlds))
        spare = self._litter_whole ** (self._litters_of[t] - len(pairs))
        seen_at_once = self.keep == self.most_young or (len(self.caps) == 1 and self.plain)
        if t == self.last and self.for_good and not self.keeper and seen_at_once:
            return spare * self._last_without_choice(state, pairs)
        grown = tuple(not self.for_good or t + self.game.grown[sex] <= self.last for sex in (FEMALE, MALE))
        tables = []
        for dam, sire in pairs:
            parents = {(own[1][dam], own[1][sire]) for own, _ in state.worlds}
            tables.append({pair: self._row(*pair, grown) for pair in parents})
        last_of = self._parents_alone(state, pairs) if t == self.last and self.for_good else None
        seen_of = [dict.fromkeys(seen for row in table.values() for seen in row) for table in tables]
        total = 0
        for seen in product(*seen_of):
            ways = list(product(*(self._ways(one) for one in seen)))
            young = [at for at, own in enumerate(state.beasts) if own[2]]
            held = [tuple(young)]
            if self.room is not None:
                held = [own for n in range(len(young) + 1) for own in combinations(young, n)]
                all_ = [
                    (own, way) for own in held for way in ways if len(own) + sum(len(each) for each in way) <= self.room
                ]
            else:
                all_ = [(held[0], way) for way in ways]
            if self.keeper and len(all_) > 1:
                all_ = [all_[self.keeper(state, pairs, seen, len(all_))]]
            if last_of is not None:
                total += max(self._kept_last(last_of, tables, seen, way) for _, way in all_)
            else:
                total += max(self._kept(state, pairs, tables, seen, own, way) for own, way in all_)
        return spare * total

    def _last_without_choice(self, state: State, pairs: Pairs) -> int:
        """The last season where all young are kept, or where it can be seen which are the goal."""
        total = 0
        rewards = [own[self.last] for own in self.rewards]
        if self.caps == (1,):
            whole = self._litter_whole ** len(pairs)
            for (counts, genes), weight in state.worlds:
                missed = 1
                if counts[0]:
                    missed = 0
                else:
                    for dam, sire in pairs:
                        missed *= self._misses(genes[dam], genes[sire])
                total += weight * (whole - missed)
            return total * rewards[0]
        for (counts, genes), weight in state.worlds:
            sums = {counts: weight}
            for dam, sire in pairs:
                grown: dict[tuple[int, ...], int] = {}
                for gain, part in self._gain(genes[dam], genes[sire]).items():
                    for own, share in sums.items():
                        key = tuple(min(cap, a + b) for cap, a, b in zip(self.caps, own, gain, strict=True))
                        grown[key] = grown.get(key, 0) + share * part
                sums = grown
            for own, share in sums.items():
                total += share * sum(r for r, cap, n in zip(rewards, self.caps, own, strict=True) if n >= cap)
        return total

    @staticmethod
    def _parents_alone(state: State, pairs: Pairs) -> dict[tuple, int]:
        """What is believed of the parents alone: (goals owned, genotypes of each pair) to the weight."""
        found: dict[tuple, int] = {}
        for (counts, genes), weight in state.worlds:
            key = (counts, tuple([(genes[dam], genes[sire]) for dam, sire in pairs]))
            found[key] = found.get(key, 0) + weight
        return found

    def _kept_last(
        self, worlds: Mapping[tuple, int], tables: Sequence[Mapping], seen: Sequence[Seen], way: Sequence
    ) -> int:
        """The value of the last season when young of these kinds are kept."""
        self._count(len(worlds))
        total = 0
        rows = _entries(tables, seen, way)
        for (counts, parents), weight in worlds.items():
            parts = [(counts, weight)]
            for own, row in zip(parents, rows, strict=True):
                entries = row.get(own)
                if not entries:
                    break
                parts = [
                    (had if gain is None else self._sum(had, gain), share * part)
                    for had, share in parts
                    for _, gain, part in entries
                ]
            else:
                for had, share in parts:
                    if (worth := self._worth.get(had)) is None:
                        worth = self._worth[had] = sum(
                            own[self.last] for own, cap, n in zip(self.rewards, self.caps, had, strict=True) if n >= cap
                        )
                    total += share * worth
        return total

    def _kept(
        self,
        state: State,
        pairs: Pairs,
        tables: Sequence[Mapping],
        seen: Sequence[Seen],
        held: tuple[int, ...],
        way: Sequence[tuple[Hashable, ...]],
    ) -> int:
        """The value when of each litter young of these kinds are kept, and of earlier young these places."""
        game, t = self.game, state.season
        beasts = list(state.beasts)
        for (dam, _), one in zip(pairs, seen, strict=True):
            rests = game.rest_after_failure if one is None else game.rest
            beasts[dam] = (FEMALE, t + 1 + rests, beasts[dam][2])
        stays = [at for at, own in enumerate(beasts) if (own[2] and at in held) or (not own[2])]
        if self.for_good:
            stays = [at for at in stays if beasts[at][1] <= self.last]
        else:
            stays = [at for at in stays if beasts[at][2] or beasts[at][1] <= self.last]
        fresh: list[Beast] = []
        parents_of: list[tuple[int, int]] = []
        for pair, kinds in zip(pairs, way, strict=True):
            for kind in kinds:
                sex = kind[0]
                ready = t + 1 + game.seasons if sex is None else t + game.grown[sex]
                if not self.for_good or ready <= self.last:
                    fresh.append((sex or 0, ready, not self.for_good))
                    parents_of.append(pair)
        self._count(len(state.worlds))
        child: dict[World, int] = {}
        all_stay = len(stays) == len(beasts)
        rows = [
            (
                dam,
                sire,
                {genes: entry[kinds] for genes, row in table.items() if (entry := row.get(one)) and kinds in entry},
            )
            for (dam, sire), table, one, kinds in zip(pairs, tables, seen, way, strict=True)
        ]
        for (counts, genes), weight in state.worlds:
            parts = [(genes if all_stay else tuple([genes[at] for at in stays]), counts, weight)]
            for dam, sire, row in rows:
                entries = row.get((genes[dam], genes[sire]))
                if not entries:
                    break
                parts = [
                    (own + more, had if gain is None else self._sum(had, gain), share * part)
                    for own, had, share in parts
                    for more, gain, part in entries
                ]
            else:
                for own, had, share in parts:
                    key = (had, own)
                    child[key] = child.get(key, 0) + share
        now, rest = 0, self._after[t + 1]
        todo: dict[World, int] = {}
        for world, weight in child.items():
            counts = world[0]
            if not self.for_good:
                n_start = sum(not beasts[at][2] for at in stays)
                for own in world[1][n_start:] if self._young_last(beasts, stays) else ():
                    counts = tuple(map(min, self.caps, map(int.__add__, counts, map(int, game.is_aim(own)))))
            met = [n >= cap for n, cap in zip(counts, self.caps, strict=True)]
            if self.for_good and all(met):
                now += weight * sum(own[t] for own in self.later) * rest
                continue
            now += weight * sum(own[t] for own, yes in zip(self.rewards, met, strict=True) if yes) * rest
            todo[world] = weight
        if t == self.last or not todo:
            return now
        after = [beasts[at] for at in stays] + fresh
        sexes = {own[0] for own in after if own[1] <= self.last}
        if self.for_good and len(sexes) < 2:
            for (counts, _), weight in todo.items():
                met = [n >= cap for n, cap in zip(counts, self.caps, strict=True)]
                now += weight * sum(own[t + 1] for own, yes in zip(self.later, met, strict=True) if yes) * rest
            return now
        kinship: tuple[tuple[Fraction, ...], ...] = ()
        if game.relatedness is not None:
            kinship = _with_young(state.kinship, stays, parents_of)
        child_state, factor = self._canonical(t + 1, after, todo, kinship)
        return now + factor * self._solve(child_state)

    def _sum(self, had: tuple[int, ...], gain: tuple[int, ...]) -> tuple[int, ...]:
        """Goals owned, no more than are wanted."""
        return tuple(map(min, self.caps, map(int.__add__, had, gain)))

    @staticmethod
    def _young_last(beasts: Sequence[Beast], stays: Sequence[int]) -> bool:
        """True, since animals of the start stand before young; a check of that order."""
        flags = [beasts[at][2] for at in stays]
        assert flags == sorted(flags)
        return True

    def _canonical(
        self, t: int, beasts: Sequence[Beast], worlds: Mapping[World, int], kinship: tuple[tuple[Fraction, ...], ...]
    ) -> tuple[State, int]:
        """The state, its animals in the order of what is believed of them, and the common factor of its weights."""
        factor = math.gcd(*worlds.values())
        marks: list[list[tuple[Genes, int]]] = []
        for at in range(len(beasts)):
            sums: dict[Genes, int] = {}
            for (_, genes), weight in worlds.items():
                sums[genes[at]] = sums.get(genes[at], 0) + weight // factor
            marks.append(sorted(sums.items()))
        own = [(young, sex, max(ready, t)) for sex, ready, young in beasts]
        order = sorted(range(len(beasts)), key=lambda at: (own[at], marks[at]))
        after = tuple((own[at][1], own[at][2], own[at][0]) for at in order)
        sums_: dict[World, int] = {}
        for (counts, genes), weight in worlds.items():
            sums_[counts, tuple(genes[at] for at in order)] = weight // factor
        kin = tuple(tuple(kinship[a][b] for b in order) for a in order) if kinship else ()
        return State(t, after, tuple(sorted(sums_.items())), kin), factor

    # Litters.

    def _kind(self, sex: int, genes: Genes, grown: tuple[bool, bool]) -> Hashable:
        """What is seen of a young; its sex not where it no longer matters."""
        known = sex if any(grown) or self.has_sex_in_genes else None
        return (known, self.game.look(sex, genes), genes) if self.told else (known, self.game.look(sex, genes))

    def _row(self, dam: Genes, sire: Genes, grown: tuple[bool, bool]) -> dict:
        """What a pair of such genotypes can bring.

        Seen to kinds kept to a list of (genotypes of the kept young that may breed, goals of the others, weight).
        """
        key = (dam, sire, grown)
        found = self._rows.get(key)
        if found is not None:
            return found
        game, whole = self.game, self._young_whole
        by_kind: dict[Hashable, dict[Genes, int]] = {}
        for (sex, genes), chance in self._young[dam, sire].items():
            own = by_kind.setdefault(self._kind(sex, genes, grown), {})
            own[genes] = own.get(genes, 0) + int(chance * whole)
        shares = {kind: sum(own.values()) for kind, own in by_kind.items()}
        dead = whole - sum(shares.values())
        sizes_whole = math.lcm(*(each.denominator for each in game.sizes.values()))
        takes, of = game.takes.numerator, game.takes.denominator
        none_yet = (0,) * len(self.caps)
        found = {}
        if takes < of:
            found[None] = {(): [((), None, (of - takes) * sizes_whole * whole**self.most_young)]}
        kinds = sorted(by_kind, key=repr)
        for alive in range(self.most_young + 1):
            chance = sum(
                int(share * sizes_whole) * math.comb(n, alive) * dead ** (n - alive) * whole ** (self.most_young - n)
                for n, share in game.sizes.items()
                if n >= alive
            )
            if not chance:
                continue
            for counts in _splits(alive, len(kinds)):
                ways = math.factorial(alive) // math.prod(map(math.factorial, counts))
                seen = tuple((kind, n) for kind, n in zip(kinds, counts, strict=True) if n)
                entry = found.setdefault(seen, {})
                for kept in self._ways(seen):
                    left = math.prod(shares[kind] ** (n - kept.count(kind)) for kind, n in seen)
                    sums: dict[tuple[tuple[Genes, ...], tuple[int, ...]], int] = {
                        ((), none_yet): chance * takes * ways * left
                    }
                    for kind in kept:
                        longer: dict[tuple[tuple[Genes, ...], tuple[int, ...]], int] = {}
                        breeds = not self.for_good or (kind[0] is not None and grown[kind[0]])
                        for (own, gain), part in sums.items():
                            for genes, share in by_kind[kind].items():
                                more = (*own, genes) if breeds else own
                                aims = game.is_aim(genes) if self.for_good else none_yet
                                now = (more, tuple(map(int.__add__, gain, map(int, aims))))
                                longer[now] = longer.get(now, 0) + part * share
                        sums = longer
                    entry[kept] = [(own, gain if any(gain) else None, part) for (own, gain), part in sums.items()]
        self._rows[key] = found
        return found

    def _ways(self, seen: Seen) -> list[tuple[Hashable, ...]]:
        """The ways to keep young of a litter, by kind; as many as may be kept where places have no limit."""
        if seen is None:
            return [()]
        return _ways(seen, self.keep, self.for_good and not self.keeper)

    def _misses(self, dam: Genes, sire: Genes) -> int:
        """Weight of the litters of the last season without the one goal."""
        found = self._missed.get((dam, sire))
        if found is None:
            found = self._missed[dam, sire] = self._gain(dam, sire).get((0,), 0)
        return found

    def _gain(self, dam: Genes, sire: Genes) -> dict[tuple[int, ...], int]:
        """In the last season, the goals that a litter adds, to the weight."""
        found = self._gains.get((dam, sire))
        if found is None:
            found = {}
            for kept_by in self._row(dam, sire, (False, False)).values():
                best: dict[tuple[int, ...], int] = {}
                top = -1
                for row in kept_by.values():
                    value = sum(sum(gain or ()) * part for _, gain, part in row)
                    if value > top:
                        top, best = value, {}
                        for _, gain, part in row:
                            own = gain or (0,) * len(self.caps)
                            best[own] = best.get(own, 0) + part
                for gain, part in best.items():
                    found[gain] = found.get(gain, 0) + part
            self._gains[dam, sire] = found
        return found


def _entries(tables: Sequence[Mapping], seen: Sequence[Seen], way: Sequence[tuple[Hashable, ...]]) -> list[dict]:
    """For each litter what its parents' genotypes give, when this was seen and young of these kinds are kept."""
    return [
        {genes: entry[kinds] for genes, row in table.items() if (entry := row.get(one)) and kinds in entry}
        for table, one, kinds in zip(tables, seen, way, strict=True)
    ]


class TooLargeError(Exception):
    """More to be gone through than was allowed."""


@cache
def _splits(n: int, kinds: int) -> list[tuple[int, ...]]:
    """Every way to split a number over so many kinds."""
    if kinds == 0:
        return [()] if n == 0 else []
    return [(first, *rest) for first in range(n + 1) for rest in _splits(n - first, kinds - 1)]


@cache
def _ways(seen: tuple[tuple[Hashable, int], ...], keep: int, most: bool) -> list[tuple[Hashable, ...]]:
    """Kinds of kept young, at most so many; exactly as many as can be where ``most``."""
    found = []
    for counts in product(*(range(n + 1) for _, n in seen)):
        n_kept = sum(counts)
        if n_kept > keep or (most and n_kept < min(keep, sum(n for _, n in seen))):
            continue
        found.append(tuple(kind for (kind, _), n in zip(seen, counts, strict=True) for _ in range(n)))
    return found


def _with_young(
    kinship: tuple[tuple[Fraction, ...], ...], stays: Sequence[int], parents: Sequence[tuple[int, int]]
) -> tuple[tuple[Fraction, ...], ...]:
    """Kinship of those that stay and of young of these parents (Malecot 1948)."""
    n = len(kinship)
    whole = [list(row) for row in kinship]
    for dam, sire in parents:
        row = [(whole[dam][at] + whole[sire][at]) / 2 for at in range(len(whole))]
        for at, own in enumerate(whole):
            own.append(row[at])
        whole.append([*row, (1 + kinship[dam][sire]) / 2])
    places = [*stays, *range(n, len(whole))]
    return tuple(tuple(whole[a][b] for b in places) for a in places)


def optimum(game: Game, most: int = 10**9) -> dict[Choice, Fraction]:
    """Every first-season choice to the best that can follow it."""
    return Solver(game, most=most).first()


def iter_states(solver: Solver) -> Iterator[State]:
    """The states that a solver met."""
    yield from solver._memo


def myopic_choices(game: Game) -> list[Choice]:
    """The first choices of a rule that wants the most goals owned at the end of this season, all that are as good."""
    aims = tuple(replace(aim, rewards=(max(aim.rewards, default=ONE),)) for aim in game.aims)
    found = Solver(replace(game, seasons=1, aims=aims)).first()
    best = max(found.values())
    return [choice for choice, value in found.items() if value == best]
