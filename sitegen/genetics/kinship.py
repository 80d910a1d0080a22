"""How animals are related: kinship, inbreeding and expected shares of ancestry, all exact.

Animals without recorded parents are taken as unrelated to each other and as not inbred.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from sitegen.genetics.pedigree import parents_first
from sitegen.genetics.questions import AnimalId, Member

_NONE = Fraction(0)
_Pair = tuple[int, int]
_Sires = tuple[tuple[int, int], ...]


class Kinship:
    """Kinship of any two of the members; only the pairs that a question needs are worked out, each once.

    Where a litter has several possible sires, every value is the mean over them, weighted by the
    chances in ``Member.sires``. Littermates that share one unknown sire share it in every term of the mean.

    Values are whole numbers over one denominator, chosen so that no division leaves a remainder.

    Source:
        Tabular method: Emik LO & Terrill CE (1949) J Hered 40:51-55 (from memory), whose table holds twice
        these values; inbreeding: Wright S (1922) Am Nat 56:330-338.
    """

    def __init__(self, members: Sequence[Member]) -> None:
        ordered = parents_first(members)
        self._index = {member.id: rank for rank, member in enumerate(ordered)}
        self._dam = [None if member.dam is None else self._index[member.dam] for member in ordered]
        self._sires: list[tuple[tuple[int, Fraction], ...]] = [
            tuple((self._index[sire], chance) for sire, chance in member.sires) for member in ordered
        ]
        self._shared = [member.litter if not member.each_its_own_sire else "" for member in ordered]
        self._depth: list[int] = []
        self._ancestors: list[int] = []
        for rank in range(len(ordered)):
            dam = self._dam[rank]
            parents = [sire for sire, _ in self._sires[rank]] + ([] if dam is None else [dam])
            self._depth.append(1 + max((self._depth[parent] for parent in parents), default=-1))
            self._ancestors.append(1 << rank)
            for parent in parents:
                self._ancestors[rank] |= self._ancestors[parent]
        self._weights = self._weights_by_depth()
        # Each of the two animals of a pair is followed through a generation at most once, by half and its weight.
        self._one = math.prod((2 * weight) ** 2 for weight in self._weights)
        self._known: dict[_Pair, int] = {}
        self._of_parents: dict[tuple[int, tuple[tuple[int, Fraction], ...]], Fraction] = {}

    def _weights_by_depth(self) -> list[int]:
        weights = [1] * (1 + max(self._depth, default=0))
        for depth, sires in zip(self._depth, self._sires, strict=True):
            weights[depth] = math.lcm(weights[depth], *(chance.denominator for _, chance in sires))
        return weights

    def pair(self, first: AnimalId, second: AnimalId) -> Fraction:
        """Chance that one allele drawn from each are copies of the same ancestral allele.

        It equals the inbreeding coefficient of the young of the two. The kinship of an animal with
        itself is half of one plus its inbreeding coefficient.

        Raises:
            KeyError: One of the two is not a member.
        """
        return Fraction(self._value(self._ordered(self._index[first], self._index[second])), self._one)

    def inbreeding(self, animal: AnimalId) -> Fraction:
        """Wright's coefficient: the chance that the animal's two alleles are copies of one ancestral allele.

        It is the kinship of the animal's parents, the mean over its possible sires: the same for all littermates.

        Raises:
            KeyError: The animal is not a member.
        """
        rank = self._index[animal]
        dam, sires = self._dam[rank], self._sires[rank]
        if dam is None or not sires:
            return _NONE
        found = self._of_parents.get((dam, sires))
        if found is None:
            values = [chance * self._value(self._ordered(dam, sire)) for sire, chance in sires]
            found = self._of_parents[dam, sires] = sum(values, _NONE) / self._one
        return found

    def _ordered(self, first: int, second: int) -> _Pair:
        """The younger generation first, so that it is the one whose parents are asked for."""
        if (self._depth[first], first) < (self._depth[second], second):
            return second, first
        return first, second

    def _value(self, pair: _Pair) -> int:
        stack = [pair]
        while stack:
            top = stack[-1]
            if top in self._known:
                stack.pop()
                continue
            start, terms, divisor = self._terms(*top)
            missing = [term for term, _ in terms if term not in self._known]
            if missing:
                stack.extend(missing)
                continue
            self._known[top] = (start + sum(self._known[term] * weight for term, weight in terms)) // divisor
            stack.pop()
        return self._known[pair]

    def _terms(self, first: int, second: int) -> tuple[int, list[tuple[_Pair, int]], int]:
        """A constant, weighted pairs of earlier animals, and what their sum is divided by."""
        dam, sires = self._dam[first], self._sires[first]
        weight = self._weights[self._depth[first]]
        scaled: _Sires = tuple((sire, int(chance * weight)) for sire, chance in sires)
        if not self._ancestors[first] & self._ancestors[second]:
            return 0, [], 1
        if first == second:  # two draws from one animal: the same allele half of the time, else one of each parent
            both = [] if dam is None else [(self._ordered(dam, sire), share) for sire, share in scaled]
            return self._one * weight, both, 2 * weight
        if self._shared[first] and self._shared[first] == self._shared[second]:
            return 0, self._littermates(dam, scaled, weight), 4 * weight
        # The allele of the younger one comes from its dam or its sire, half of the time each.
        terms = [(self._ordered(sire, second), share) for sire, share in scaled]
        if dam is not None:
            terms.append((self._ordered(dam, second), weight))
        return 0, terms, 2 * weight

    def _littermates(self, dam: int | None, sires: _Sires, weight: int) -> list[tuple[_Pair, int]]:
        # Both draws go back to the same sire, whoever he was: the mean over the sires is taken of the whole sum. Taking
        # it of each animal by itself would make half siblings of them.
        terms = [((sire, sire), share) for sire, share in sires]
        if dam is not None:
            terms.append(((dam, dam), weight))
            terms += [(self._ordered(dam, sire), 2 * share) for sire, share in sires]
        return terms


def ancestry_shares(
    members: Sequence[Member], origins: Mapping[AnimalId, str]
) -> Mapping[AnimalId, Mapping[str, Fraction]]:
    """Expected share of each origin in every member's ancestry by pedigree; each sums to 1.

    Half comes from the dam and half from the sire (from the possible sires by their chances). A parent that is not
    recorded gives a half of unknown origin, written as an empty name. Origins are of founders; what is named for any
    other animal is not used, its parents say it.

    Source:
        Definition; the expectation over meioses, not what one animal happened to get.
    """
    shares: dict[AnimalId, dict[str, Fraction]] = {}
    half = Fraction(1, 2)
    for member in parents_first(members):
        if member.dam is None and not member.sires:
            shares[member.id] = {origins.get(member.id, ""): Fraction(1)}
            continue
        own: dict[str, Fraction] = {}
        unknown = {"": Fraction(1)}
        parts: Iterable[tuple[AnimalId | None, Fraction]] = (
            (member.dam, half),
            *(((sire, half * chance) for sire, chance in member.sires) if member.sires else ((None, half),)),
        )
        for parent, weight in parts:
            for origin, share in (unknown if parent is None else shares[parent]).items():
                own[origin] = own.get(origin, Fraction(0)) + weight * share
        shares[member.id] = own
    return {member.id: shares[member.id] for member in members}
