"""One question made ready: every member's and every tally's evidence as weights of states, and what stays possible."""

from collections import deque
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm

from sitegen.genetics.gametes import Mode, mode_of_group, mode_of_locus
from sitegen.genetics.loci import Genotype, Sex
from sitegen.genetics.lowest import times_whole
from sitegen.genetics.observations import background, unwritten
from sitegen.genetics.pedigree import Pedigree, pedigree_of
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Question, Tally
from sitegen.genetics.transmission import Mask, Transmission, Weights, mask_of

_ZERO = Fraction(0)
_ONE = Fraction(1)


@dataclass(frozen=True, slots=True)
class Unlisted:
    """Young of a tally, with positions of the parents, the likelihood of one young by state, and the same as a set."""

    tally: Tally
    dam: int | None
    sires: tuple[int, ...]
    weights: Weights
    possible: Mask

    @property
    def parents(self) -> tuple[int, ...]:
        """Positions of the recorded parents, the dam first."""
        return self.sires if self.dam is None else (self.dam, *self.sires)


@dataclass(slots=True)
class Prepared:
    """One question made ready for the network.

    Attributes:
        weights: Each member's own evidence, for a founder times its odds, by state; None if there is none.
        possible: The states that are still possible for each member.
        unrecorded: Odds by state of parents that are not recorded, by sex and by whether their family is opened.
        opened: The families in which unwritten copies are thought of.
        impossible: Families whose evidence contradicts itself.
    """

    mode: Mode
    transmission: Transmission
    members: tuple[Member, ...]
    pedigree: Pedigree
    weights: list[Weights | None]
    possible: list[Mask]
    unlisted: tuple[Unlisted, ...]
    unrecorded: Mapping[tuple[Sex, bool], Weights]
    opened: frozenset[int]
    impossible: set[int] = field(default_factory=set)

    def is_founder(self, number: int) -> bool:
        """True when neither parent is recorded."""
        return self.pedigree.dams[number] is None and not self.pedigree.sires[number]

    def odds_of_unrecorded(self, sex: Sex, family: int) -> Weights:
        """Odds by state of a parent of that sex that is not recorded."""
        return self.unrecorded[sex, family in self.opened]


def part_of(
    asked: Question | LinkedQuestion, rare: Fraction = _ZERO, opened: Collection[AnimalId] | None = None
) -> Prepared:
    """The question made ready: evidence as weights, then states that cannot be are taken out everywhere.

    ``rare`` is the chance of a copy that nobody wrote, on one chromosome of a founder. It is thought of in the families
    of ``opened``, all if not given; elsewhere what nobody wrote is wild type.

    Raises:
        ValueError: The question is not sound (unknown parents, cycles, loci that do not fit a linkage).
    """
    questions = asked.questions if isinstance(asked, LinkedQuestion) else (asked,)
    if isinstance(asked, LinkedQuestion):
        mode = mode_of_group(tuple(question.locus for question in questions), asked.linkage)
    else:
        mode = mode_of_locus(asked.locus)
    members = questions[0].members
    tallies = _same_young(questions)
    pedigree = pedigree_of(members, [found[0][1] for found in tallies])
    transmission = Transmission(mode)
    named = pedigree.ids if opened is None else opened
    families = frozenset(pedigree.family_of[pedigree.position[each]] for each in named) if rare else frozenset()
    reader = _Weigher(mode, transmission, rare)
    phases = asked.phases if isinstance(asked, LinkedQuestion) else {}
    weights = reader.own_weights(questions, pedigree, phases, families)
    part = Prepared(
        mode=mode,
        transmission=transmission,
        members=members,
        pedigree=pedigree,
        weights=weights,
        possible=[
            reader.of_sex(sex) if own is None else reader.of_sex(sex) & _support(own)
            for sex, own in zip(pedigree.sexes, weights, strict=True)
        ],
        unlisted=tuple(reader.unlisted(found, pedigree) for found in tallies),
        unrecorded={
            (sex, is_open): reader.usual(sex, is_open)
            for sex in (Sex.FEMALE, Sex.MALE)
            for is_open in {False, bool(families)}
        },
        opened=families,
    )
    _narrow(part)
    return part


def _support(weights: Weights) -> Mask:
    return mask_of([state for state, weight in enumerate(weights) if weight])


def _same_young(questions: Sequence[Question]) -> list[list[tuple[int, Tally]]]:
    """For each tally its records at the loci where it was judged, as (place of the locus, tally)."""
    by_key: dict[tuple[str, int], list[tuple[int, Tally]]] = {}
    for place, question in enumerate(questions):
        times: dict[str, int] = {}
        for tally in (tally for tally in question.tallies if tally.count):
            times[tally.key] = times.get(tally.key, 0) + 1
            by_key.setdefault((tally.key, times[tally.key]), []).append((place, tally))
    return list(by_key.values())


class _Weigher:
    """Turns genotype by locus into weights of states."""

    def __init__(self, mode: Mode, transmission: Transmission, rare: Fraction) -> None:
        self.mode = mode
        self.transmission = transmission
        self.rare = rare
        self._usual: dict[tuple[Sex, bool], Weights] = {}
        self._last: dict[tuple[int, frozenset[str], bool], Weights] = {}
        self._of_sex = {sex: mask_of(mode.of_sex(sex)) for sex in Sex}
        self._read: dict[tuple[int, int], tuple[Mapping[Genotype, Fraction], Weights]] = {}
        self._alike: dict[Mask, Weights] = {}
        self._multiplied: dict[tuple[int, int], tuple[Weights, Weights, Weights]] = {}

    def of_sex(self, sex: Sex) -> Mask:
        """Living states of that sex."""
        return self._of_sex[sex]

    def likelihood(self, place: int, by_genotype: Mapping[Genotype, Fraction]) -> Weights:
        """Weights of states from a likelihood by genotype at one locus; one object for one likelihood."""
        key = place, id(by_genotype)
        if key not in self._read:
            weights = tuple(Fraction(by_genotype.get(genotypes[place], _ZERO)) for genotypes in self.mode.genotypes)
            self._read[key] = by_genotype, weights
        return self._read[key][1]

    def times(self, before: Weights | None, factor: Weights) -> Weights:
        """The product; one object for the same two."""
        if before is None:
            return factor
        key = id(before), id(factor)
        if key not in self._multiplied:
            product = tuple(one * other for one, other in zip(before, factor, strict=True))
            self._multiplied[key] = before, factor, product
        return self._multiplied[key][2]

    def own_weights(
        self,
        questions: Sequence[Question],
        pedigree: Pedigree,
        phases: Mapping[AnimalId, tuple[Mapping[str, str], ...]],
        opened: frozenset[int],
    ) -> list[Weights | None]:
        """Each member's evidence, for founders times their odds."""
        found: list[Weights | None] = [None] * len(pedigree.ids)
        founders: dict[tuple[object, ...], Weights] = {}
        for number, name in enumerate(pedigree.ids):
            if pedigree.dams[number] is None and not pedigree.sires[number]:
                is_open, sex = pedigree.family_of[number] in opened, pedigree.sexes[number]
                priors = {
                    place: self._with_unwritten(q, name) if is_open else q.priors[name]
                    for place, q in enumerate(questions)
                    if name in q.priors
                }
                key = (sex, is_open, *((place, tuple(odds.items())) for place, odds in priors.items()))
                if key not in founders:
                    founders[key] = self.odds(sex, is_open, priors) if priors else self.usual(sex, is_open)
                found[number] = founders[key]
                for place, question in enumerate(questions):
                    if unnamed := question.unnamed.get(name):
                        found[number] = self.times(founders[key], self._without(place, unnamed, is_open))
        for place, question in enumerate(questions):
            for seen in question.observations:
                number = pedigree.position[seen.member]
                found[number] = self.times(found[number], self.likelihood(place, seen.likelihood))
        for name, lines in phases.items():
            number = pedigree.position[name]
            found[number] = self.times(found[number], self._phase(lines))
        return found

    def _phase(self, lines: tuple[Mapping[str, str], ...]) -> Weights:
        loci = [locus.id for locus in self.mode.loci]

        def fits(chromosome: tuple[str, ...], line: Mapping[str, str]) -> bool:
            return all(line.get(locus, allele) == allele for locus, allele in zip(loci, chromosome[1:], strict=True))

        first, second = [*lines, {}, {}][:2]
        return tuple(
            _ONE
            if (fits(state.first, first) and fits(state.second, second))
            or (fits(state.first, second) and fits(state.second, first))
            else _ZERO
            for state in self.mode.states
        )

    def _without(self, place: int, unnamed: frozenset[str], is_open: bool) -> Weights:
        """Weights that let an unnamed allele be thought of last."""
        key = place, unnamed, is_open
        if key not in self._last:
            rare = self.rare if is_open else _ZERO
            copies = [sum(allele in unnamed for allele in genotypes[place]) for genotypes in self.mode.genotypes]
            self._last[key] = tuple(rare**n for n in copies)
        return self._last[key]

    def _with_unwritten(self, question: Question, founder: AnimalId) -> Mapping[Genotype, Fraction]:
        """A founder's own odds, and beside them what they leave open."""
        odds = dict(question.priors[founder])
        for genotype, (copies, share) in question.left_open.get(founder, {}).items():
            odds[genotype] = odds.get(genotype, _ZERO) + share * self.rare**copies
        return odds

    def usual(self, sex: Sex, is_open: bool) -> Weights:
        """Odds of a founder of that sex of which nothing is stated, worked out once."""
        key = sex, is_open
        if key not in self._usual:
            self._usual[key] = self.odds(sex, is_open, {})
        return self._usual[key]

    def odds(self, sex: Sex, is_open: bool, priors: Mapping[int, Mapping[Genotype, Fraction]]) -> Weights:
        """Odds of the states of a founder of that sex: stated at some loci, else the background of the species.

        Loci are independent, phases equally likely, and so are the sexes where it is not known. Odds that
        are stated for an animal of unknown sex in genotypes of either sex are taken as they stand.
        """
        alike: dict[tuple[object, ...], int] = {}
        for number in self.mode.of_sex(Sex.UNKNOWN):
            key = (self.mode.states[number].sex, self.mode.genotypes[number])
            alike[key] = alike.get(key, 0) + 1
        weights = [_ZERO] * len(self.mode.states)
        for number in self.mode.of_sex(sex):
            own_sex = self.mode.states[number].sex or sex
            genotypes = self.mode.genotypes[number]
            chance = Fraction(1, alike[self.mode.states[number].sex, genotypes])
            for place, locus in enumerate(self.mode.loci):
                odds = priors.get(place) or (
                    background(locus, own_sex)
                    if locus.background or not is_open
                    else unwritten(locus, own_sex, self.rare)
                )
                chance *= odds.get(genotypes[place], _ZERO)
            weights[number] = chance
        return tuple(weights)

    def _each_alike(self, possible: Mask) -> Weights:
        """One for each of these states; one object for the same states."""
        if possible not in self._alike:
            self._alike[possible] = tuple(
                _ONE if possible >> state & 1 else _ZERO for state in range(len(self.mode.states))
            )
        return self._alike[possible]

    def unlisted(self, records: list[tuple[int, Tally]], pedigree: Pedigree) -> Unlisted:
        """A tally made ready, from its records at one or more linked loci."""
        tally = records[0][1]
        possible = self.of_sex(tally.sex)
        weights = self._each_alike(possible)
        for place, record in records:
            weights = self.times(weights, self.likelihood(place, record.likelihood))
        dam = None if tally.dam is None else pedigree.position[tally.dam]
        sires = tuple(pedigree.position[sire] for sire, _ in tally.sires)
        return Unlisted(tally, dam, sires, weights, possible & _support(weights))


def scaled_alike(groups: Sequence[Sequence[Fraction]]) -> list[list[int]]:
    """Chances of several tables as whole numbers with one common denominator."""
    denominator = lcm(*(chance.denominator for group in groups for chance in group))
    return [times_whole(group, denominator) for group in groups]


@dataclass(frozen=True, slots=True)
class _Unit:
    """A young, or tallied young, with its parents: three sets of states that must agree."""

    dam: int | None
    sires: tuple[int, ...]
    young: int | None
    possible: Mask
    family: int


def _units(part: Prepared) -> list[_Unit]:
    pedigree = part.pedigree
    units = [
        _Unit(pedigree.dams[number], pedigree.sires[number], number, 0, pedigree.family_of[number])
        for number in range(len(part.members))
        if not part.is_founder(number)
    ]
    for young in part.unlisted:
        if young.parents:
            units.append(_Unit(young.dam, young.sires, None, young.possible, pedigree.family_of[young.parents[0]]))
    return units


def _narrow(part: Prepared) -> None:
    """Take out, until nothing changes, every state that no state of its parents or young allows."""
    pedigree = part.pedigree
    units = _units(part)
    touching: list[list[int]] = [[] for _ in part.members]
    for place, unit in enumerate(units):
        for number in (unit.dam, unit.young, *unit.sires):
            if number is not None:
                touching[number].append(place)
    part.impossible |= {pedigree.family_of[number] for number, possible in enumerate(part.possible) if not possible}
    waiting = deque(range(len(units)))
    queued = [True] * len(units)
    while waiting:
        place = waiting.popleft()
        queued[place] = False
        if units[place].family in part.impossible:
            continue
        for number in _agree(part, units[place]):
            for other in touching[number]:
                if not queued[other]:
                    queued[other] = True
                    waiting.append(other)


def _agree(part: Prepared, unit: _Unit) -> list[int]:
    """Narrow one unit; gives the members whose states have become fewer."""
    usual = {sex: _support(part.odds_of_unrecorded(sex, unit.family)) for sex in (Sex.FEMALE, Sex.MALE)}
    dams = usual[Sex.FEMALE] if unit.dam is None else part.possible[unit.dam]
    young = unit.possible if unit.young is None else part.possible[unit.young]
    sire_sets = [part.possible[sire] for sire in unit.sires] or [usual[Sex.MALE]]
    kept_dams = kept_young = kept_sires = 0
    # With several possible sires what one of them excludes another may allow; and of a sire who may not have been it
    # nothing follows.
    for sires in sire_sets:
        found = part.transmission.possible(dams, sires, young)
        kept_dams, kept_sires, kept_young = kept_dams | found[0], found[1], kept_young | found[2]
    changed = []
    for number, before, after in (
        (unit.dam, dams, kept_dams),
        (unit.young, young, kept_young),
        (unit.sires[0] if len(unit.sires) == 1 else None, sire_sets[0], kept_sires),
    ):
        if number is not None and before != after:
            part.possible[number] = after
            changed.append(number)
    if not kept_young:
        part.impossible.add(unit.family)
    return changed
