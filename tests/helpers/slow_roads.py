"""The slow truth of roads with branches: every plan of a small road and its chance, in fractions.

Plans that stand alike are one. What the keeper knows of a plan is a set: all worlds (what the parents on record and the
kept young are) that agree with everything that was seen. So a kept young is *known* to be the goal when it is the goal
in every world of that set; and plans are alike only if their sets are equal too. As in inference, how many young there
are speaks for nothing: young are seen alive, and a litter in which few survive says no more or less of its parents.

Written from the rules of the process (plans-reference section 5, and the guide on plans), without any of the program's
modules for plans. ``tests/helpers/played_roads.py`` is the same once more, played out one plan at a time.
"""

import math
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from helpers.road_rules import NONE, ONE, Brood, Composite, Rules, Seen, Young
from helpers.slow_keeper import Keeper, Kept, Public, Standing
from helpers.slow_told import First, Number, Told

GOAL, OTHER = -1, -2
"""Kept young of which it no longer matters more than whether they are the goal."""


class World(NamedTuple):
    """What cannot be seen: which world the founders are, what the kept young are, and whether a goal was ever born."""

    founders: int
    kept: tuple[int, ...] = ()
    born: bool = False


Truth = tuple[int, tuple[int, ...]]
"""A world without what nobody could act on: founders and kept young."""
Worlds = dict[World, Fraction]
_Change = Callable[[tuple[int, ...]], tuple[int, ...]]
Litters = Sequence[Sequence[Seen] | None]
"""For each pairing the young of its only litter; None where it did not take."""
Plans = dict[tuple[Public, int], Worlds]
"""(what is seen, number of the set of worlds that agree with it) to the worlds that are so, with their chances."""


def slow_road(rules: Rules, *, given: Litters = (), told_genotypes: bool = False) -> Told:
    """All that comes of a road.

    Args:
        rules: The road.
        given: What was seen of the first pairings, in their order: all is told of plans in which it is so.
        told_genotypes: Keeps as somebody would who is told the genotypes: of young that look right first those that
            are the goal, then those that hold the most of what is wanted. Nothing is then said of ``known``.
    """
    return _Slow(rules, given, told_genotypes).told()


class _Slow:
    def __init__(self, rules: Rules, given: Litters, told_genotypes: bool) -> None:
        self.rules = rules
        self.keeper = Keeper(rules)
        self.given = given
        self.told_genotypes = told_genotypes
        self.composites: list[Composite] = []
        self.is_goal: list[bool] = []
        self.numbers: dict[tuple[Composite, bool], int] = {}
        self.founders = [tuple(self.number(each, is_goal=False) for each in own) for own, _ in rules.worlds]
        self.place = {name: at for at, name in enumerate(rules.founders)}
        self.sets: list[frozenset[Truth]] = []
        self.set_numbers: dict[frozenset[Truth], int] = {}
        self.after_sight: dict[Hashable, int] = {}
        self.broods: dict[tuple[int, int], dict[Seen, list[tuple[int, Fraction, bool]]]] = {}
        self.result = Told()

    def number(self, own: Composite, *, is_goal: bool) -> int:
        """A short name of an animal: what it is, and whether it is the goal."""
        if (own, is_goal) not in self.numbers:
            self.numbers[own, is_goal] = len(self.composites)
            self.composites.append(own)
            self.is_goal.append(is_goal)
        return self.numbers[own, is_goal]

    def set_number(self, worlds: frozenset[Truth]) -> int:
        if worlds not in self.set_numbers:
            self.set_numbers[worlds] = len(self.sets)
            self.sets.append(worlds)
        return self.set_numbers[worlds]

    def told(self) -> Told:
        rules = self.rules
        start = Public(tuple(Standing() for _ in rules.stages))
        worlds: Worlds = {World(at): chance for at, (_, chance) in enumerate(rules.worlds)}
        plans: Plans = {(start, self.set_number(frozenset((at, ()) for at in range(len(rules.worlds))))): worlds}
        for stage in rules.stages:
            self.result.bred[stage.id] = {}
        for season in range(rules.first, rules.last + 1):
            plans = self.season(plans, season)
        self.at_the_end(plans)
        return self.result

    # A season.

    def season(self, plans: Plans, season: int) -> Plans:
        by_public: dict[Public, Plans] = {}
        for (public, worlds), own in plans.items():
            by_public.setdefault(public, {})[public, worlds] = own
        later: Plans = {}
        for public, own_plans in by_public.items():
            pairings = list(self.keeper.pairings(public, season))
            tried = self.keeper.tried(public, pairings)
            own = {(tried, worlds): shares for (_, worlds), shares in own_plans.items()}
            for number, (at, dam, sire) in enumerate(pairings):
                if season == self.rules.first and number < len(self.given):
                    own = self.given_pairing(own, at, dam, sire, season, self.given[number])
                else:
                    own = self.pairing(own, at, dam, sire, season)
            for key, shares in own.items():
                _add_all(later.setdefault(key, {}), shares)
        ended: Plans = {}
        for (public, worlds), shares in later.items():
            self.ending(ended, public, worlds, shares)
        self.count(ended, season)
        self.young_told(ended, season)
        calm: Plans = {}
        for (public, worlds), shares in ended.items():
            _add_all(calm.setdefault((public._replace(young=0, new=0), worlds), {}), shares)
        return calm

    # A pairing, its litters and their young.

    def pairing(self, plans: Plans, at: int, dam: str | int, sire: str | int, season: int) -> Plans:
        rules = self.rules
        failed: Plans = {}
        if rules.takes < 1:
            for (public, worlds), shares in plans.items():
                rested = self.keeper.rested(public, dam, season + 1 + rules.rest_after_failure, season)
                _add_all(failed.setdefault((rested, worlds), {}), shares, 1 - rules.takes)
        took: Plans = {}
        for (public, worlds), shares in plans.items():
            if not public.stages[at].bore:
                self.count_first(shares, at, dam, sire)
            rested = self.keeper.rested(public, dam, season + 1 + rules.rest, season)
            bore = tuple(each._replace(bore=True) if rank == at else each for rank, each in enumerate(rested.stages))
            _add_all(took.setdefault((rested._replace(stages=bore), worlds), {}), shares, rules.takes)
        for _ in range(rules.species.litters_a_year):
            took = self.litter(took, at, dam, sire, season)
        for key, shares in failed.items():
            _add_all(took.setdefault(key, {}), shares)
        return took

    def count_first(self, shares: Worlds, at: int, dam: str | int, sire: str | int) -> None:
        for slot in self.rules.slots:
            if slot.stage != at:
                continue
            told = self.result.first.setdefault((self.rules.stages[at].id, slot.own.id), First())
            unseen = (*slot.own.carries, *slot.own.shows)
            for world, share in shares.items():
                chance = share * self.rules.takes
                brood = self.brood_of((world.founders, world.kept), dam, sire)
                young = [
                    each
                    for each in brood.young
                    if self.rules.looks_right(slot, each.seen) and slot.sex in ("", each.seen.sex)
                ]
                right = sum((each.chance for each in young), NONE)
                numbers = {n: _born(self.rules, brood, n) for n in range(max(self.rules.sizes) + 1)}
                mean = sum((n * own for n, own in numbers.items()), NONE)
                told.litters += chance
                told.young += chance * mean
                told.right += chance * mean * right
                for n, own in numbers.items():
                    told.squared += chance * own * (n * right * (1 - right) + (n * right) ** 2)
                    told.enough += chance * own * _at_least(slot.own.count, n, right)
                for name in dict.fromkeys((*unseen, "")):
                    alleles = {each for each in slot.own.carries if name in ("", each)}
                    looks = {each for each in slot.own.shows if name in ("", each)}
                    having = sum(
                        (
                            each.chance
                            for each in young
                            if alleles <= self.rules.holds(each.own) and looks <= self.rules.shown(each.own)
                        ),
                        NONE,
                    )
                    told.has[name] = told.has.get(name, NONE) + chance * mean * having

    def given_pairing(
        self, plans: Plans, at: int, dam: str | int, sire: str | int, season: int, young: Sequence[Seen] | None
    ) -> Plans:
        """The same where it is given what came of it: only plans in which it is so, their chances anew."""
        took = young is not None
        rest = self.rules.rest if took else self.rules.rest_after_failure
        found: Plans = {}
        for (public, worlds), shares in plans.items():
            rested = self.keeper.rested(public, dam, season + 1 + rest, season)
            bore = tuple(each._replace(bore=took) if rank == at else each for rank, each in enumerate(rested.stages))
            rested = rested._replace(stages=bore, young=public.young + len(young or ()))
            _add_all(found.setdefault((rested, worlds), {}), shares)
        if young is None:
            return found
        before = len(next(iter(plans))[0].kept)
        for each in young:
            found = self.one_young(found, at, dam, sire, season, None, each)
        after: Plans = {}
        for (public, worlds), shares in found.items():
            self.after_litter(after, public, worlds, shares, at, before)
        total = sum((sum(shares.values(), NONE) for shares in after.values()), NONE)
        return {key: {world: share / total for world, share in shares.items()} for key, shares in after.items()}

    def own(self, truth: Truth, parent: str | int) -> int:
        """What a parent is in a world."""
        founders, kept = truth
        return self.founders[founders][self.place[parent]] if isinstance(parent, str) else kept[parent]

    def brood_of(self, truth: Truth, dam: str | int, sire: str | int) -> Brood:
        return self.rules.brood(self.composites[self.own(truth, dam)], self.composites[self.own(truth, sire)])

    def litter(self, plans: Plans, at: int, dam: str | int, sire: str | int, season: int) -> Plans:
        before = {key: len(key[0].kept) for key in plans}
        after: Plans = {}
        for key, own in plans.items():
            public, worlds = key
            for n_young in range(max(self.rules.sizes) + 1):
                for ranks in self.ranks(n_young):
                    shares: Worlds = {}
                    for world, share in own.items():
                        brood = self.brood_of((world.founders, world.kept), dam, sire)
                        chance = self.chance_of(brood, n_young, ranks, at)
                        if chance:
                            shares[world] = share * chance
                    if not shares:
                        continue
                    litter: Plans = {(public._replace(young=public.young + n_young), worlds): shares}
                    for rank, count in ranks:
                        for _ in range(count):
                            litter = self.one_young(litter, at, dam, sire, season, rank)
                    for (kept, set_of), own_shares in litter.items():
                        self.after_litter(after, kept, set_of, own_shares, at, before[key])
        return after

    def sight(self, key: Hashable, made: Callable[[], frozenset[Truth]]) -> int:
        """The set of worlds that agree with one more thing that was seen."""
        if self.told_genotypes:
            return 0
        if key not in self.after_sight:
            self.after_sight[key] = self.set_number(made())
        return self.after_sight[key]

    def one_young(
        self,
        plans: Plans,
        at: int,
        dam: str | int,
        sire: str | int,
        season: int,
        rank: int | None,
        given: Seen | None = None,
    ) -> Plans:
        after: Plans = {}
        for (public, worlds), own in plans.items():
            places: dict[Seen, Kept | None] = {}
            keys: dict[Seen, tuple[Public, int]] = {}
            for world, share in own.items():
                pair = self.own((world.founders, world.kept), dam), self.own((world.founders, world.kept), sire)
                for seen, young in self.by_sight(pair, at, rank).items():
                    if given not in (None, seen):
                        continue
                    if seen not in keys:
                        places[seen] = place = self.keeper.place_of(public, at, seen, season)
                        keys[seen] = self.after_young(public, worlds, place, seen, dam, sire)
                    place = places[seen]
                    shares = after.setdefault(keys[seen], {})
                    for number, chance, is_goal in young:
                        kept = world.kept
                        if place is not None:
                            kept = (*kept, self.as_kept(number, place.slot))
                        _add(shares, World(world.founders, kept, world.born or is_goal), share * chance)
        return after

    def as_kept(self, number: int, slot: int) -> int:
        if slot >= 0 and self.rules.is_parent(slot):
            return number
        return GOAL if self.is_goal[number] else OTHER

    def after_young(
        self, public: Public, worlds: int, place: Kept | None, seen: Seen, dam: str | int, sire: str | int
    ) -> tuple[Public, int]:
        if place is not None:
            public = public._replace(kept=(*public.kept, place))

        def agreeing() -> Iterator[Truth]:
            for truth in self.sets[worlds]:
                pair = self.own(truth, dam), self.own(truth, sire)
                for number, _, _ in self.by_sight(pair, 0, None).get(seen, ()):
                    yield truth if place is None else (truth[0], (*truth[1], self.as_kept(number, place.slot)))

        key = ("young", worlds, dam, sire, seen, place.slot if place else None)
        return public, self.sight(key, lambda: frozenset(agreeing()))

    def after_litter(self, after: Plans, public: Public, worlds: int, shares: Worlds, at: int, before: int) -> None:
        """Now the litter is seen whole: says what `else` keeps of it, and which goals of the unwanted sex are kept."""
        filled = self.keeper.keep_is_filled(public, at)
        kept, stay = list(public.kept[:before]), list(range(before))
        for n, each in enumerate(public.kept[before:], start=before):
            if each.slot >= 0 and not (filled and self.rules.slots[each.slot].is_else):
                kept.append(each._replace(perhaps=()))
                stay.append(n)
        for number in range(len(self.rules.slots)):
            for n, each in enumerate(public.kept[before:], start=before):
                room = self.rules.slots[number].own.count - sum(k.slot == number and k.beside for k in kept)
                if n not in stay and number in each.perhaps and room:
                    kept.append(Kept(number, beside=True))
                    stay.append(n)
        idle = [each.beside and n >= before for each, n in zip(kept, stay, strict=True)]
        told = public._replace(kept=tuple(kept), new=public.new + len(kept) - before)

        def change(own: tuple[int, ...]) -> tuple[int, ...]:
            return tuple(self.at_rest(own[n]) if done else own[n] for n, done in zip(stay, idle, strict=True))

        self.moved(after, told, worlds, shares, ("litter", tuple(stay), tuple(idle)), change)

    def moved(self, after: Plans, public: Public, worlds: int, shares: Worlds, key: Hashable, change: _Change) -> None:
        """Puts plans into others, whose kept young are changed likewise in every world."""
        seen = self.sight((key, worlds), lambda: frozenset((f, change(kept)) for f, kept in self.sets[worlds]))
        own = after.setdefault((public, seen), {})
        for world, share in shares.items():
            _add(own, world._replace(kept=change(world.kept)), share)

    def by_sight(
        self, pair: tuple[int, int], at: int, rank: int | None
    ) -> Mapping[Seen, list[tuple[int, Fraction, bool]]]:
        """A pair's young by what can be seen of them: (composite, chance, is it the goal)."""
        key = (*pair, at if rank is not None else None, rank)
        if key not in self.broods:
            brood = self.rules.brood(*(self.composites[each] for each in pair))
            young = [each for each in brood.young if rank is None or self.rank_of(each, at) == rank]
            whole = sum((each.chance for each in young), NONE)
            found: dict[Seen, list[tuple[int, Fraction, bool]]] = {}
            for each in young:
                number = self.number(each.own, is_goal=each.is_goal)
                found.setdefault(each.seen, []).append((number, each.chance / whole, each.is_goal))
            self.broods[key] = found
        return self.broods[key]

    # Told the genotypes: the litter in another order.

    def rank_of(self, young: Young, at: int) -> int:
        """0 for the goal; then the fewer, the more of what the stage's holdbacks want unseen it holds."""
        if young.is_goal:
            return 0
        wanted = [allele for slot in self.rules.slots if slot.stage == at for allele in slot.own.carries]
        return 1 + len(set(wanted)) - len(set(wanted) & self.rules.holds(young.own))

    def ranks(self, n_young: int) -> Iterator[tuple[tuple[int | None, int], ...]]:
        """How many young of each rank; as born where nobody is told."""
        if not self.told_genotypes:
            yield ((None, n_young),)
            return
        ranks = 2 + max(len({a for slot in self.rules.slots for a in slot.own.carries}), 0)
        for counts in _sums(n_young, ranks):
            yield tuple(enumerate(counts))

    def chance_of(self, brood: Brood, n_young: int, ranks: tuple[tuple[int | None, int], ...], at: int) -> Fraction:
        chance = _born(self.rules, brood, n_young)
        if not self.told_genotypes or not chance:
            return chance
        left = n_young
        for rank, count in ranks:
            share = sum((each.chance for each in brood.young if self.rank_of(each, at) == rank), NONE)
            chance *= math.comb(left, count) * share**count
            left -= count
        return chance

    # The end of a season.

    def ending(self, after: Plans, public: Public, worlds: int, shares: Worlds) -> None:
        stages, over = list(public.stages), public.ended
        for at in range(len(stages)):
            how, ends = self.keeper.how_ended(public, at)
            if how:
                stages[at] = stages[at]._replace(how=how)
                over = over or ends
        public = public._replace(stages=tuple(stages), ended=over)
        slots = [self.rules.slots[each.slot] for each in public.kept]
        let_go = {n for n, slot in enumerate(slots) if over and slot.is_else and not slot.is_goal}
        stay = sorted(set(range(len(public.kept))) - let_go, key=lambda n: (public.kept[n].slot, n))
        ends = tuple("over" if over else each.how for each in stages)
        idle = [not self.rules.is_parent(public.kept[n].slot, ends) or public.kept[n].beside for n in stay]
        kept = tuple(
            Kept(public.kept[n].slot, public.kept[n].beside) if done else public.kept[n]
            for n, done in zip(stay, idle, strict=True)
        )

        def change(own: tuple[int, ...]) -> tuple[int, ...]:
            return tuple(self.at_rest(own[n]) if done else own[n] for n, done in zip(stay, idle, strict=True))

        key = ("end", tuple(stay), tuple(idle))
        self.moved(after, public._replace(kept=kept), worlds, shares, key, change)

    def at_rest(self, number: int) -> int:
        if number < 0:
            return number
        return GOAL if self.is_goal[number] else OTHER

    # What is told.

    def goals(self, kept: tuple[int, ...]) -> list[bool]:
        return [own == GOAL or (own >= 0 and self.is_goal[own]) for own in kept]

    def count(self, plans: Plans, season: int) -> None:
        born = kept = known = NONE
        for (_, worlds), shares in plans.items():
            total = sum(shares.values(), NONE)
            if not self.told_genotypes:
                by_place = zip(*(self.goals(own) for _, own in self.sets[worlds]), strict=True)
                known += total if any(all(goals) for goals in by_place) else NONE
            born += sum((share for world, share in shares.items() if world.born), NONE)
            kept += sum((share for world, share in shares.items() if any(self.goals(world.kept))), NONE)
        self.result.born[season], self.result.kept[season], self.result.known[season] = born, kept, known
        for at, stage in enumerate(self.rules.stages):
            bred = sum((sum(own.values(), NONE) for (public, _), own in plans.items() if public.stages[at].tries), NONE)
            self.result.bred[stage.id][season] = bred

    def young_told(self, plans: Plans, season: int) -> None:
        chances = [(public, sum(own.values(), NONE)) for (public, _), own in plans.items()]
        for told, of in (
            (self.result.young, lambda public: public.young),
            (self.result.new, lambda public: public.new),
            (self.result.held, lambda public: len(public.kept)),
        ):
            numbers: dict[int, Fraction] = {}
            for public, chance in chances:
                numbers[of(public)] = numbers.get(of(public), NONE) + chance
            mean = sum((number * chance for number, chance in numbers.items()), NONE)
            square = sum((number**2 * chance for number, chance in numbers.items()), NONE)
            told[season] = Number(mean, square - mean**2, numbers)

    def at_the_end(self, plans: Plans) -> None:
        for at, stage in enumerate(self.rules.stages):
            ended: dict[str, Fraction] = {}
            through = NONE
            for (public, _), own in plans.items():
                if how := public.stages[at].how.removesuffix(" of else"):
                    ended[how] = ended.get(how, NONE) + sum(own.values(), NONE)
                places = [n for n, each in enumerate(public.kept) if self.rules.slots[each.slot].stage == at]
                for world, share in own.items():
                    goals = self.goals(world.kept)
                    through += share if any(goals[n] for n in places) else NONE
            self.result.ended[stage.id] = ended
            self.result.kept_of[stage.id] = through


def _add(shares: Worlds, world: World, chance: Fraction) -> None:
    shares[world] = shares[world] + chance if world in shares else chance


def _add_all(shares: Worlds, more: Worlds, part: Fraction = ONE) -> None:
    for world, share in more.items():
        _add(shares, world, share * part)


@cache
def _born(rules: Rules, brood: Brood, n_young: int) -> Fraction:
    """Chance of that number of living young in a litter."""
    living = brood.living
    return sum(
        (
            chance * math.comb(size, n_young) * living**n_young * (1 - living) ** (size - n_young)
            for size, chance in rules.sizes.items()
            if size >= n_young
        ),
        NONE,
    )


def _at_least(count: int, n: int, share: Fraction) -> Fraction:
    """Chance of at least so many among n, where each is so with that share."""
    return sum((math.comb(n, k) * share**k * (1 - share) ** (n - k) for k in range(count, n + 1)), NONE)


def _sums(whole: int, parts: int) -> Iterator[tuple[int, ...]]:
    """All ways to write a number as so many numbers, in order."""
    if parts == 1:
        yield (whole,)
        return
    for first in range(whole + 1):
        for rest in _sums(whole - first, parts - 1):
            yield (first, *rest)
