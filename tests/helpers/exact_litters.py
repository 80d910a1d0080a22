"""What a pair can bring: litters as they are seen, what may be kept of them, and the weight of each genotype so."""

import math
from collections.abc import Hashable
from fractions import Fraction
from functools import cache
from itertools import product

from helpers.exact_kinds import FEMALE, MALE, Game, Genes, Seen

Row = dict[Seen, dict[tuple[Hashable, ...], list[tuple[tuple[Genes, ...], tuple[int, ...] | None, int]]]]
"""Seen to kinds kept to (genotypes of the kept young that may breed, goals of the others, weight)."""


class Litters:
    """The litters of every pair of genotypes.

    Args:
        game: The game.
        told: What is seen of a young is its genotype.
        for_good: What is kept is never given up.
        fewer: Fewer young may be kept than there are places for.

    Attributes:
        most_young: Most young of a litter.
        keep: Most that are kept of one.
        whole: What the weights of one litter sum to, the same for all pairs.
        obvious: What is seen tells which young are which goal.
    """

    def __init__(self, game: Game, *, told: bool, for_good: bool, fewer: bool) -> None:
        self.game, self.told, self.for_good, self.fewer = game, told, for_good, fewer
        self.most_young = max(game.sizes)
        self.keep = self.most_young if game.keep is None else min(game.keep, self.most_young)
        self.none_yet = (0,) * len(game.aims)
        self._young: dict[tuple[Genes, Genes], dict[tuple[int, Genes], Fraction]] = {}
        self._rows: dict[tuple[Genes, Genes, tuple[bool, ...]], Row] = {}
        self._gains: dict[tuple[Genes, Genes], dict[tuple[int, ...], int]] = {}
        self._prepare()
        sizes = math.lcm(*(each.denominator for each in game.sizes.values()))
        self.whole = game.takes.denominator * sizes * self._young_whole**self.most_young

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
        self.obvious = self.told or all(len(own) == 1 for own in goals.values())

    def _kind(self, sex: int, genes: Genes, grown: tuple[bool, ...]) -> Hashable:
        """What is seen of a young; its sex not where it no longer matters."""
        known = sex if any(grown) or self.has_sex_in_genes else None
        return (known, self.game.look(sex, genes), genes) if self.told else (known, self.game.look(sex, genes))

    def row(self, dam: Genes, sire: Genes, grown: tuple[bool, ...]) -> Row:
        """What a pair of such genotypes can bring; ``grown`` tells of either sex whether young may still breed."""
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
        none_yet = self.none_yet
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
                for kept in self.ways(seen):
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

    def ways(self, seen: Seen) -> list[tuple[Hashable, ...]]:
        """The ways to keep young of a litter, by kind; as many as may be kept where places have no limit."""
        if seen is None:
            return [()]
        return _ways(seen, self.keep, self.for_good and not self.fewer)

    def misses(self, dam: Genes, sire: Genes) -> int:
        """Weight of the litters of the last season without the one goal."""
        return self.gain(dam, sire).get((0,), 0)

    def gain(self, dam: Genes, sire: Genes) -> dict[tuple[int, ...], int]:
        """In the last season, the goals that a litter adds, to the weight."""
        found = self._gains.get((dam, sire))
        if found is None:
            found = {}
            for kept_by in self.row(dam, sire, (False, False)).values():
                best: dict[tuple[int, ...], int] = {}
                top = -1
                for row in kept_by.values():
                    value = sum(sum(gain or ()) * part for _, gain, part in row)
                    if value > top:
                        top, best = value, {}
                        for _, gain, part in row:
                            own = gain or self.none_yet
                            best[own] = best.get(own, 0) + part
                for gain, part in best.items():
                    found[gain] = found.get(gain, 0) + part
            self._gains[dam, sire] = found
        return found


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
