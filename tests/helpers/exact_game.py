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
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

from helpers.exact_kinds import (
    FEMALE,
    MALE,
    ONE,
    Beast,
    Choice,
    Chooser,
    Game,
    Genes,
    Keeper,
    Pairs,
    Seen,
    State,
    TooLargeError,
    World,
)
from helpers.exact_litters import Litters


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
        self.last = game.seasons - 1
        keep = max(game.sizes) if game.keep is None else min(game.keep, max(game.sizes))
        n_dams = sum(each.sex == FEMALE for each in game.start)
        self.most_litters = game.litters if game.litters is not None else 10**9
        # Dams that a season can have: those of the start and all young that could have been kept by then.
        self._litters_of = []
        dams = n_dams
        for _ in range(game.seasons):
            own = min(self.most_litters, dams)
            self._litters_of.append(own)
            dams += own * keep
        most_kept = sum(self._litters_of) * keep
        self.room = None if game.places is None else max(0, game.places - len(game.start))
        if self.room is not None and self.room >= most_kept:
            self.room = None
        self.for_good = self.room is None
        self.caps = tuple(aim.count for aim in game.aims)
        whole = math.lcm(1, *(r.denominator for aim in game.aims for r in aim.rewards))
        self.unit = whole
        self.rewards = [[int(r * whole) for r in aim.rewards] for aim in game.aims]
        self.later = [[sum(own[t:]) for t in range(game.seasons + 1)] for own in self.rewards]
        self._memo: dict[State, int] = {}
        self._worth: dict[tuple[int, ...], int] = {}
        self.litters = Litters(game, told=told, for_good=self.for_good, fewer=keeper is not None)
        self._after = [1] * (game.seasons + 1)
        for t in range(game.seasons - 1, -1, -1):
            self._after[t] = self._after[t + 1] * self.litters.whole ** self._litters_of[t]

    # What there is.

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
        spare = self.litters.whole ** (self._litters_of[t] - len(pairs))
        seen_at_once = self.litters.keep == self.litters.most_young or (len(self.caps) == 1 and self.litters.obvious)
        if t == self.last and self.for_good and not self.keeper and seen_at_once:
            return spare * self._last_without_choice(state, pairs)
        grown = tuple(not self.for_good or t + self.game.grown[sex] <= self.last for sex in (FEMALE, MALE))
        tables = []
        for dam, sire in pairs:
            parents = {(own[1][dam], own[1][sire]) for own, _ in state.worlds}
            tables.append({pair: self.litters.row(*pair, grown) for pair in parents})
        last_of = self._parents_alone(state, pairs) if t == self.last and self.for_good else None
        seen_of = [dict.fromkeys(seen for row in table.values() for seen in row) for table in tables]
        total = 0
        for seen in product(*seen_of):
            ways = list(product(*(self.litters.ways(one) for one in seen)))
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
            whole = self.litters.whole ** len(pairs)
            for (counts, genes), weight in state.worlds:
                missed = 1
                if counts[0]:
                    missed = 0
                else:
                    for dam, sire in pairs:
                        missed *= self.litters.misses(genes[dam], genes[sire])
                total += weight * (whole - missed)
            return total * rewards[0]
        for (counts, genes), weight in state.worlds:
            sums = {counts: weight}
            for dam, sire in pairs:
                grown: dict[tuple[int, ...], int] = {}
                for gain, part in self.litters.gain(genes[dam], genes[sire]).items():
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
            kinship = with_young(state.kinship, stays, parents_of)
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


def _entries(tables: Sequence[Mapping], seen: Sequence[Seen], way: Sequence[tuple[Hashable, ...]]) -> list[dict]:
    """For each litter what its parents' genotypes give, when this was seen and young of these kinds are kept."""
    return [
        {genes: entry[kinds] for genes, row in table.items() if (entry := row.get(one)) and kinds in entry}
        for table, one, kinds in zip(tables, seen, way, strict=True)
    ]


def with_young(
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


def myopic_choices(game: Game) -> list[Choice]:
    """The first choices of a rule that wants the most goals owned at the end of this season, all that are as good."""
    aims = tuple(replace(aim, rewards=(max(aim.rewards, default=ONE),)) for aim in game.aims)
    found = Solver(replace(game, seasons=1, aims=aims)).first()
    best = max(found.values())
    return [choice for choice, value in found.items() if value == best]
