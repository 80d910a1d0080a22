"""The slow truth of roads: every litter, every size, every young in its turn, in fractions, nothing merged but equals.

Written from the rules alone, without any module of ``sitegen.plans.roads``. Only for unlinked autosomal loci and
parents of the start whose genotypes are independent.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from sitegen.content.projects import Goal, Holdback, Stage
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.loci import Genotype, Locus
from sitegen.genetics.observations import looks_of

ONE, HALF = Fraction(1), Fraction(1, 2)
Genotypes = tuple[Genotype, ...]


@dataclass
class Rules:
    """What the process knows of a species and a project; ages in seasons, so that no calendar is needed."""

    loci: tuple[Locus, ...]
    goal: Goal
    stages: tuple[Stage, ...]
    founders: dict[str, dict[Genotypes, Fraction]]
    first: int
    last: int
    sizes: tuple[int, int, int] = (1, 1, 2)
    grown: dict[str, int] = field(default_factory=lambda: {"female": 1, "male": 1})
    a_year: int = 1
    takes: Fraction = ONE
    rest: int = 0


@dataclass(frozen=True)
class Young:
    """A kept young and the season of its birth."""

    genotypes: Genotypes
    born: int


@dataclass(frozen=True)
class World:
    """A road: the founders, the kept young by stage and holdback, tries, stages that had a litter, and resting dams."""

    founders: tuple[tuple[str, Genotypes], ...]
    kept: tuple[tuple[Young, ...], ...]
    tries: tuple[int, ...]
    bore: tuple[bool, ...]
    rests: tuple[tuple[str, int], ...] = ()


@dataclass
class Told:
    """What came of it."""

    then: dict[int, Fraction]
    done: dict[tuple[str, int], Fraction]
    litters: Fraction = Fraction(0)
    kept: Fraction = Fraction(0)


def plain_road(rules: Rules) -> Told:
    return _Plain(rules).told()


class _Plain:
    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self.slots = [(stage, own) for stage in rules.stages for own in stage.keep]
        self.place = {(stage.id, own.id): at for at, (stage, own) in enumerate(self.slots)}
        self.told_ = Told({}, {})
        self.sizes = litter_sizes(*rules.sizes)

    def told(self) -> Told:
        rules = self.rules
        names = sorted(rules.founders)
        now: dict[World, Fraction] = {}
        for choice in product(*(rules.founders[name].items() for name in names)):
            chance = ONE
            for _, share in choice:
                chance *= share
            founders = tuple((name, own) for name, (own, _) in zip(names, choice, strict=True))
            world = World(founders, ((),) * len(self.slots), (0,) * len(rules.stages), (False,) * len(rules.stages))
            now[world] = now.get(world, Fraction(0)) + chance
        reached = Fraction(0)
        for season in range(rules.first, rules.last + 1):
            self.told_.then[season] = Fraction(0)
            later: dict[World, Fraction] = {}
            for world, chance in now.items():
                for after, share in self._season(world, season, chance):
                    later[after] = later.get(after, Fraction(0)) + share
            now = later
            reached += self.told_.then[season]
            for at, stage in enumerate(rules.stages):
                here = sum((share for world, share in now.items() if self._done(world, at)), Fraction(0))
                self.told_.done[stage.id, season] = reached + here
        return self.told_

    # Who breeds.

    def _done(self, world: World, at: int) -> bool:
        stage = self.rules.stages[at]
        if not stage.keep:
            return at < len(self.rules.stages) - 1 and world.bore[at]
        return all(len(world.kept[self.place[stage.id, own.id]]) >= own.count for own in stage.keep)

    def _over(self, world: World, at: int) -> bool:
        stage = self.rules.stages[at]
        return self._done(world, at) or (stage.tries is not None and world.tries[at] >= stage.tries)

    def _parents(self, world: World, name: str, season: int, sex: str) -> list[tuple[str, Genotypes]]:
        founders = dict(world.founders)
        if name in founders:
            return [(name, founders[name])]
        stage_id, own_id = name.split(".")
        at = next(rank for rank, stage in enumerate(self.rules.stages) if stage.id == stage_id)
        own = next(each for each in self.rules.stages[at].keep if each.id == own_id)
        young = world.kept[self.place[stage_id, own_id]]
        if len(young) < own.count and not (young and self._over(world, at)):
            return []
        if any(season - each.born < self.rules.grown[sex] for each in young):
            return []
        return [(f"{name} {rank}", each.genotypes) for rank, each in enumerate(young)]

    def _season(self, world: World, season: int, chance: Fraction) -> Iterator[tuple[World, Fraction]]:
        pairs: list[tuple[int, str, Genotypes, Genotypes]] = []
        taken: set[str] = set()
        for at, stage in enumerate(self.rules.stages):
            if season < stage.season or self._over(world, at):
                continue
            rests = dict(world.rests)
            all_dams = self._parents(world, stage.dam, season, "female")
            dams = [
                (rank, name, own)
                for rank, (name, own) in enumerate(all_dams)
                if name not in taken and rests.get(name, 0) <= season
            ]
            sires = self._parents(world, stage.sire, season, "male")
            if sires:
                for rank, name, own in dams:
                    taken.add(name)
                    pairs.append((at, name, own, sires[(rank + world.tries[at]) % len(sires)][1]))
        bred = {at for at, *_ in pairs}
        self.told_.litters += chance * self.rules.takes * self.rules.a_year * len(pairs)
        kept_before = sum(map(len, world.kept))
        for after, share in self._pairs(world, pairs, season, chance):
            self.told_.kept += share * (sum(map(len, after.kept)) - kept_before)
            tries = tuple(used + (at in bred) for at, used in enumerate(after.tries))
            rests = tuple((name, until) for name, until in after.rests if until > season + 1)
            yield World(after.founders, after.kept, tries, after.bore, rests), share

    def _pairs(
        self, world: World, pairs: list[tuple[int, str, Genotypes, Genotypes]], season: int, chance: Fraction
    ) -> Iterator[tuple[World, Fraction]]:
        if not pairs:
            yield world, chance
            return
        (at, name, dam, sire), *more = pairs
        takes = self.rules.takes
        if takes < 1:
            yield from self._pairs(world, more, season, chance * (1 - takes))
        for after, share in self._litters(world, at, dam, sire, season, chance * takes, self.rules.a_year):
            rests = dict(after.rests)
            if self.rules.rest:
                rests[name] = season + 1 + self.rules.rest
            bore = tuple(had or rank == at for rank, had in enumerate(after.bore))
            rested = World(after.founders, after.kept, after.tries, bore, tuple(sorted(rests.items())))
            yield from self._pairs(rested, more, season, share)

    def _litters(
        self, world: World, at: int, dam: Genotypes, sire: Genotypes, season: int, chance: Fraction, n: int
    ) -> Iterator[tuple[World, Fraction]]:
        if not n:
            yield world, chance
            return
        for size, share in self.sizes.items():
            if not any(self._conceive(dam, sire)):
                yield from self._litters(world, at, dam, sire, season, chance * share, n - 1)
                continue
            for after, part in self._young(world, at, dam, sire, season, chance * share, size):
                yield from self._litters(after, at, dam, sire, season, part, n - 1)

    def _young(
        self, world: World, at: int, dam: Genotypes, sire: Genotypes, season: int, chance: Fraction, left: int
    ) -> Iterator[tuple[World, Fraction]]:
        """Young one after the other; the litter is looked at as a whole, so a goal anywhere in it ends the road."""
        before = {world: chance}
        for _ in range(left):
            later: dict[World, Fraction] = {}
            for own, share in before.items():
                for genotypes, looks, sex, part in self._one(dam, sire):
                    if self._is_goal(genotypes, looks):
                        self.told_.then[season] += share * part
                        self.told_.kept += share * part
                        continue
                    after = self._keep(own, at, Young(genotypes, season), looks, sex)
                    later[after] = later.get(after, Fraction(0)) + share * part
            before = later
        yield from before.items()

    def _keep(self, world: World, at: int, young: Young, looks: frozenset[str], sex: str) -> World:
        for own in self.rules.stages[at].keep:
            place = self.place[self.rules.stages[at].id, own.id]
            if len(world.kept[place]) < own.count and self._looks_right(own, looks, sex):
                kept = (*world.kept[:place], (*world.kept[place], young), *world.kept[place + 1 :])
                return World(world.founders, kept, world.tries, world.bore, world.rests)
        return world

    # What young are.

    def _hiding(self, look: str) -> set[str]:
        return {
            name for locus in self.rules.loci for each in locus.alleles if each.id == look for name in each.hidden_by
        }

    def _looks_right(self, own: Holdback, looks: frozenset[str], sex: str) -> bool:
        seen = [look for look in own.shows if not self._hiding(look) & set(own.shows)]
        return (
            (not own.sex or own.sex == sex)
            and all(look in looks for look in seen)
            and not any(self._hiding(look) & looks for look in seen)
        )

    def _is_goal(self, genotypes: Genotypes, looks: frozenset[str]) -> bool:
        held = {allele for pair in genotypes for allele in pair}
        return set(self.rules.goal.shows) <= looks and set(self.rules.goal.carries) <= held

    def _conceive(self, dam: Genotypes, sire: Genotypes) -> list[tuple[Genotypes, Fraction]]:
        """Living young, with chances among the living."""
        found: dict[Genotypes, Fraction] = {}
        for picks in product((0, 1), repeat=2 * len(self.rules.loci)):
            own = tuple(
                locus.genotype(dam[at][picks[2 * at]], sire[at][picks[2 * at + 1]])
                for at, locus in enumerate(self.rules.loci)
            )
            if not any(pair in locus.lethal for pair, locus in zip(own, self.rules.loci, strict=True)):
                found[own] = found.get(own, Fraction(0)) + HALF ** (2 * len(self.rules.loci))
        total = sum(found.values(), Fraction(0))
        return [(own, chance / total) for own, chance in found.items()]

    def _one(self, dam: Genotypes, sire: Genotypes) -> Iterator[tuple[Genotypes, frozenset[str], str, Fraction]]:
        for own, chance in self._conceive(dam, sire):
            choices = [looks_of(locus, pair).items() for locus, pair in zip(self.rules.loci, own, strict=True)]
            for choice in product(*choices):
                looks = frozenset(look for look, _ in choice if look)
                share = chance
                for _, part in choice:
                    share *= part
                for sex in ("female", "male"):
                    yield own, looks, sex, share * HALF
