"""The slow obvious truth: the sum over all chromosomes of all animals, written without the program's inference.

Every animal is (sex, chromosome from its dam, chromosome from its sire), told apart even where that cannot
be seen; every choice of sire is gone through one by one. Only for small pedigrees.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from helpers.in_e import InE, limits
from sitegen.genetics.loci import WILD, Locus, Sex
from sitegen.genetics.questions import LinkedQuestion, Member, Question, Tally

State = tuple[str, tuple[str, ...], tuple[str, ...]]
ONE, HALF, NONE = Fraction(1), Fraction(1, 2), Fraction(0)


class Truth:
    """All questions together, summed over all choices of sire; ``total`` is the weight of the evidence."""

    def __init__(self, asked: Sequence[Question | LinkedQuestion]) -> None:
        self.asked = [_Asked.of(one) for one in asked]
        keys = _choices(self.asked)
        self.by_choice: list[tuple[dict, Fraction, list[dict]]] = []
        for picked in product(*(options for _, options in keys)):
            chance = ONE
            for _, odds in picked:
                chance *= odds
            chosen = {key: sire for (key, _), (sire, _) in zip(keys, picked, strict=True)}
            found = [one.assignments(chosen) for one in self.asked]
            self.by_choice.append((chosen, chance, found))
        self.totals = [[sum(f.values(), NONE) for f in found] for _, _, found in self.by_choice]
        self.total = sum((c * _prod(t) for (_, c, _), t in zip(self.by_choice, self.totals, strict=True)), NONE)

    def joint(self, members: Sequence[str], number: int = 0, locus: int = 0) -> dict[tuple, Fraction]:
        ids = [member.id for member in self.asked[number].members]
        places = [ids.index(member) for member in members]
        sums: dict[tuple, Fraction] = {}
        for (_, chance, found), totals in zip(self.by_choice, self.totals, strict=True):
            others = chance * _prod(totals[:number] + totals[number + 1 :])
            if others:
                for genotypes, weight in found[number].items():
                    key = tuple(genotypes[place][locus] for place in places)
                    sums[key] = sums.get(key, NONE) + weight * others
        return limits(sums)

    def across(self, places: Sequence[tuple[int, str]]) -> dict[tuple, Fraction]:
        """Joint of one member at each of all questions, given as (number of the question, member)."""
        sums: dict[tuple, Fraction] = {}
        for _, chance, found in self.by_choice:
            for combined in product(*(one.items() for one in found)):
                weight = chance * _prod([part for _, part in combined])
                key = tuple(
                    combined[number][0][[m.id for m in self.asked[number].members].index(member)][0]
                    for number, member in places
                )
                sums[key] = sums.get(key, NONE) + weight
        return limits(sums)

    def worlds(self, members: Sequence[str]) -> dict[tuple, Fraction]:
        """Joint of some members at all questions: for each question, for each member, its genotypes."""
        sums: dict[tuple, Fraction] = {}
        for _, chance, found in self.by_choice:
            fewer = []
            for asked, one in zip(self.asked, found, strict=True):
                places = [[member.id for member in asked.members].index(member) for member in members]
                own: dict[tuple, Fraction] = {}
                for genotypes, weight in one.items():
                    key = tuple(genotypes[place] for place in places)
                    own[key] = own.get(key, NONE) + weight
                fewer.append(own)
            for combined in product(*(one.items() for one in fewer)):
                key = tuple(genotypes for genotypes, _ in combined)
                sums[key] = sums.get(key, NONE) + chance * _prod([weight for _, weight in combined])
        return limits(sums)

    def posterior(self, member: str, number: int = 0, locus: int = 0) -> dict[tuple[str, str], Fraction]:
        return {key[0]: chance for key, chance in self.joint([member], number, locus).items()}

    def sires(self, key: str) -> dict[str, Fraction]:
        sums: dict[str, Fraction] = {}
        for (chosen, chance, _), totals in zip(self.by_choice, self.totals, strict=True):
            sums[chosen[key]] = sums.get(chosen[key], NONE) + chance * _prod(totals)
        return limits(sums)


def _prod(numbers: Sequence[Fraction]) -> Fraction:
    result = ONE
    for number in numbers:
        result *= number
    return result


def _choices(asked: "Sequence[_Asked]") -> list[tuple[str, list[tuple[str, Fraction]]]]:
    keys: dict[str, list[tuple[str, Fraction]]] = {}
    for young in [young for one in asked for young in (*one.members, *one.tallies[0])]:
        if len(young.sires) > 1:
            for key in _keys(young):
                keys[key] = list(young.sires)
    return list(keys.items())


def _keys(young: Member | Tally) -> list[str]:
    if young.litter and not young.each_its_own_sire:
        return [young.litter]
    if isinstance(young, Member):
        return [young.id]
    return [f"{young.key} no {n}" for n in range(young.count)] if young.each_its_own_sire else [young.key]


@dataclass
class _Asked:
    loci: tuple[Locus, ...]
    members: tuple[Member, ...]
    questions: tuple[Question, ...]
    tallies: list[tuple[Tally, ...]]
    recombination: Mapping[Sex, tuple[Fraction, ...]]
    phases: Mapping
    known: dict = field(default_factory=dict)

    @classmethod
    def of(cls, one: Question | LinkedQuestion) -> "_Asked":
        if isinstance(one, LinkedQuestion):
            loci = tuple(question.locus for question in one.questions)
            tallies = [question.tallies for question in one.questions]
            return cls(loci, one.questions[0].members, one.questions, tallies, one.linkage.recombination, one.phases)
        return cls((one.locus,), one.members, (one,), [one.tallies], {}, {})

    # What chromosomes there are, and what is passed on.

    def chromosomes(self, marker: str) -> list[tuple[str, ...]]:
        first = self.loci[0]
        if marker and marker == first.sex_system.blank and first.sex_recombination is None:
            return [(marker, *(marker for _ in self.loci))]
        return [(marker, *c) for c in product(*((WILD, *(a.id for a in locus.alleles)) for locus in self.loci))]

    def states(self) -> list[State]:
        first = self.loci[0]
        if not (first.sex_linked or first.sex_recombination is not None):
            whole = self.chromosomes("")
            return [("", one, other) for one in whole for other in whole]
        main = {"Y": "X", "W": "Z"}[first.sex_system.blank]
        common, rare = self.chromosomes(main), self.chromosomes(first.sex_system.blank)
        one_copy = first.sex_system.one_copy_sex
        same = Sex.FEMALE if one_copy is Sex.MALE else Sex.MALE
        mixed = [(x, y) for x in common for y in rare]
        if one_copy is Sex.FEMALE:
            mixed = [(y, x) for x, y in mixed]
        return [(same.value, one, other) for one in common for other in common] + [
            (one_copy.value, one, other) for one, other in mixed
        ]

    def gametes(self, state: State, sex: Sex) -> dict[tuple[str, ...], Fraction]:
        first = self.loci[0]
        between = self.recombination.get(sex, (NONE,) * (len(self.loci) - 1))
        if first.sex_recombination is not None and sex is first.sex_system.one_copy_sex:
            rates = (first.sex_recombination, *between)
        elif first.sex_linked and sex is first.sex_system.one_copy_sex:
            rates = (NONE,) * len(self.loci)
        else:
            rates = (NONE, *between)
        found: dict[tuple[str, ...], Fraction] = {}
        for start in (0, 1):
            for crossing in product((False, True), repeat=len(rates)):
                chance, strand = HALF, start
                chromosome = [state[1 + strand][0]]
                for place, (crosses, rate) in enumerate(zip(crossing, rates, strict=True), start=1):
                    chance *= rate if crosses else 1 - rate
                    strand = 1 - strand if crosses else strand
                    chromosome.append(state[1 + strand][place])
                if chance:
                    found[tuple(chromosome)] = found.get(tuple(chromosome), NONE) + chance
        return found

    def genotypes(self, state: State) -> tuple[tuple[str, str], ...]:
        return tuple(locus.genotype(state[1][place], state[2][place]) for place, locus in enumerate(self.loci, start=1))

    def lives(self, state: State) -> bool:
        return not any(g in locus.lethal for g, locus in zip(self.genotypes(state), self.loci, strict=True))

    def young(self, dam: State, sire: State) -> dict[State, Fraction]:
        """Living young; nothing when an animal cannot be dam or sire."""
        if dam[0] == "male" or sire[0] == "female":
            return {}
        found: dict[State, Fraction] = {}
        for one, chance in self.gametes(dam, Sex.FEMALE).items():
            for other, odds in self.gametes(sire, Sex.MALE).items():
                sex = ""
                if dam[0]:
                    one_copy = self.loci[0].sex_system.one_copy_sex
                    same = "female" if one_copy is Sex.MALE else "male"
                    sex = one_copy.value if one[0] != other[0] else same
                state = (sex, one, other)
                if self.lives(state):
                    found[state] = found.get(state, NONE) + chance * odds
        alive = sum(found.values(), NONE)
        return {state: chance / alive for state, chance in found.items()}

    # What is known of the animals.

    def founder(self, sex: Sex, name: str | None) -> dict[State, Fraction]:
        states = [s for s in self.states() if self.lives(s) and (not s[0] or sex is Sex.UNKNOWN or s[0] == sex.value)]
        alike: dict[tuple, int] = {}
        for state in states:
            key = (state[0], self.genotypes(state))
            alike[key] = alike.get(key, 0) + 1
        odds = {}
        for state in states:
            chance = Fraction(1, alike[state[0], self.genotypes(state)])
            for question, locus, genotype in zip(self.questions, self.loci, self.genotypes(state), strict=True):
                stated = question.priors.get(name) if name else None
                if stated is None:
                    own = Sex(state[0]) if state[0] else sex
                    usual = locus.background.get(own, locus.background.get(Sex.UNKNOWN))
                    stated = usual if usual is not None else {locus.genotypes(own)[0]: ONE}
                chance *= stated.get(genotype, NONE)
            if chance:
                odds[state] = chance
        total = sum(odds.values(), NONE)
        if isinstance(total, InE):  # which is a number and powers of e beside it: the limits are the same
            return odds
        return {state: chance / total for state, chance in odds.items()}

    def sex(self, member: Member) -> Sex:
        """As recorded; a dam is a female and a possible sire a male even where that is not recorded."""
        if member.sex is Sex.UNKNOWN:
            for young in [*self.members, *self.tallies[0]]:
                if young.dam == member.id:
                    return Sex.FEMALE
                if member.id in [sire for sire, _ in young.sires]:
                    return Sex.MALE
        return member.sex

    def likelihood(self, member: Member, state: State) -> Fraction:
        if state[0] and self.sex(member) not in (Sex.UNKNOWN, Sex(state[0])):
            return NONE
        chance = ONE
        for question, genotype in zip(self.questions, self.genotypes(state), strict=True):
            for seen in question.observations:
                if seen.member == member.id:
                    chance *= seen.likelihood.get(genotype, NONE)
        lines = self.phases.get(member.id, ())
        if lines:
            ways = [(state[1], state[2]), (state[2], state[1])]
            chance *= ONE if any(all(map(self._fits, way, lines)) for way in ways) else NONE
        return chance

    def _fits(self, chromosome: tuple[str, ...], line: Mapping[str, str]) -> bool:
        return all(line.get(lc.id, allele) == allele for lc, allele in zip(self.loci, chromosome[1:], strict=True))

    def tally(self, at: int, dam: State | None, sires: Mapping[str, State], chosen: Mapping[str, str]) -> Fraction:
        """Chance of all young of one tally."""
        tally = self.tallies[0][at]
        result = ONE
        for number in range(tally.count):
            key = f"{tally.key} no {number}" if tally.each_its_own_sire else tally.litter or tally.key
            name = chosen.get(key, tally.sires[0][0] if tally.sires else None)
            result *= self._remember(self._one_unlisted, at, dam, sires[name] if name else None)
            if not result:
                break
        return result

    def _one_unlisted(self, at: int, dam: State | None, sire: State | None) -> Fraction:
        dams = {dam: ONE} if dam else self._remember(self.founder, Sex.FEMALE, None)
        sires = {sire: ONE} if sire else self._remember(self.founder, Sex.MALE, None)
        total = NONE
        for one, chance in dams.items():
            for other, odds in sires.items():
                for state, share in self._remember(self.young, one, other).items():
                    wanted = self.tallies[0][at].sex
                    if state[0] and wanted is not Sex.UNKNOWN and wanted.value != state[0]:
                        continue
                    seen = ONE
                    for tallies, genotype in zip(self.tallies, self.genotypes(state), strict=True):
                        seen *= tallies[at].likelihood.get(genotype, NONE)
                    total += chance * odds * share * seen
        return total

    # The sum.

    def assignments(self, chosen: Mapping[str, str]) -> dict[tuple, Fraction]:
        """All members' genotypes to their weight, for one choice of sires."""
        sums: dict[tuple, Fraction] = {}
        for states, weight in self._members(self._order(), {}, ONE, chosen):
            for at, tally in enumerate(self.tallies[0]):
                dam = states[tally.dam] if tally.dam else None
                weight *= self.tally(at, dam, {sire: states[sire] for sire, _ in tally.sires}, chosen)
                if not weight:
                    break
            if weight:
                key = tuple(self.genotypes(states[member.id]) for member in self.members)
                sums[key] = sums.get(key, NONE) + weight
        return sums

    def _order(self) -> list[Member]:
        order: list[Member] = []
        known: set[str] = set()
        waiting = list(self.members)
        while waiting:
            ready = [m for m in waiting if known.issuperset({*([m.dam] if m.dam else []), *(s for s, _ in m.sires)})]
            order += ready
            known.update(m.id for m in ready)
            waiting = [m for m in waiting if m.id not in known]
        return order

    def _members(self, order, states, weight, chosen) -> Iterator[tuple[dict[str, State], Fraction]]:
        if not order:
            yield states, weight
            return
        member = order[0]
        for state, chance in self._odds(member, states, chosen).items():
            more = weight * chance * self._remember(self.likelihood, member, state)
            if more:
                yield from self._members(order[1:], {**states, member.id: state}, more, chosen)

    def _odds(self, member, states, chosen) -> dict[State, Fraction]:
        if member.dam is None and not member.sires:
            return self._remember(self.founder, member.sex, member.id)
        sire = None
        if member.sires:
            key = member.litter if member.litter and not member.each_its_own_sire else member.id
            sire = states[chosen.get(key, member.sires[0][0])]
        return self._remember(self._of_parents, states[member.dam] if member.dam else None, sire)

    def _of_parents(self, dam: State | None, sire: State | None) -> dict[State, Fraction]:
        dams = {dam: ONE} if dam else self.founder(Sex.FEMALE, None)
        sires = {sire: ONE} if sire else self.founder(Sex.MALE, None)
        odds: dict[State, Fraction] = {}
        for one, chance in dams.items():
            for other, share in sires.items():
                for state, given in self._remember(self.young, one, other).items():
                    odds[state] = odds.get(state, NONE) + chance * share * given
        return odds

    def _remember(self, function, *arguments):
        """Work out each thing once."""
        key = (function.__name__, arguments)
        if key not in self.known:
            self.known[key] = function(*arguments)
        return self.known[key]
