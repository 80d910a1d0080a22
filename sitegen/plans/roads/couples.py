"""The parents of a stage as a mixture of pairs of genotypes, exact.

Animals come with their joint posterior, young that are not kept yet as members of the same pedigree that look right: a
planned young is inferred like one that is there, which comes from its parents and looks as its holdback asks, of the
sex that its part needs. Of several animals in one part each is as likely to be meant.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.transmission import Transmission
from sitegen.plans.roads.plan import Parents, StagePlan
from sitegen.plans.roads.wants import Want
from sitegen.plans.roads.worlds import Part, World
from sitegen.plans.roads.young import fits, looks_together

Pairs = Mapping[tuple[StateNumber, StateNumber], Fraction]
Name = tuple[str, str]
"""(animal, sex), or (stage, holdback)."""

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Couple:
    """One way in which the parents may be, in which loci are independent.

    Attributes:
        chance: Its chance; all together have 1.
        pairs: For each group of loci (dam's state, sire's state) to chance; each sums to 1.
    """

    chance: Fraction
    pairs: tuple[Pairs, ...]


@dataclass(frozen=True, slots=True)
class _Step:
    """A planned young, or (without a want) the young of the stage itself."""

    name: Name
    want: Want | None
    dams: tuple[Name, ...]
    sires: tuple[Name, ...]


def parts_of(stages: Sequence[StagePlan], at: int) -> tuple[Part, ...]:
    """The animals that a stage descends from in the plan, its own parents among them."""
    found: dict[Part, None] = {}
    for step in _steps(stages, at, {}):
        found |= dict.fromkeys(Part(name, Sex(sex)) for name, sex in (*step.dams, *step.sires) if _is_part(sex))
    return tuple(found)


def couples_of(
    transmissions: Sequence[Transmission],
    worlds: Sequence[World],
    stages: Sequence[StagePlan],
    at: int,
    wants: Mapping[tuple[str, str], Want],
) -> tuple[Couple, ...]:
    """The parents of the stage number ``at``.

    Args:
        transmissions: The groups of loci.
        worlds: Joint posterior of :func:`parts_of`, in that order.
        stages: All stages.
        at: Which one.
        wants: What each holdback asks for.

    Returns:
        The couples; empty where the plan cannot get so far, or no young of any couple can live.
    """
    steps = _steps(stages, at, wants)
    parts: list[Name] = [(part.animal, part.sex.value) for part in parts_of(stages, at)]
    found: list[tuple[Fraction, tuple[Pairs, ...]]] = []
    for world in worlds:
        for choice in product(*(tuple(product(step.dams, step.sires)) for step in steps)):
            chance, pairs = world.chance, []
            for transmission, states in zip(transmissions, world.states, strict=True):
                own = _pairs(transmission, parts, states, list(zip(steps, choice, strict=True)))
                total = sum(own.values(), _NONE)
                chance *= total
                if not total:
                    break
                pairs.append({pair: share / total for pair, share in own.items()})
            else:
                found.append((chance, tuple(pairs)))
    whole = sum((chance for chance, _ in found), _NONE)
    return tuple(Couple(chance / whole, pairs) for chance, pairs in found)


def _is_part(second: str) -> bool:
    return second in (Sex.FEMALE.value, Sex.MALE.value)


def _steps(stages: Sequence[StagePlan], at: int, wants: Mapping[tuple[str, str], Want]) -> tuple[_Step, ...]:
    """The planned young that a stage descends from, ancestors first, and the stage itself."""
    by_id = {each.stage.id: each for each in stages}
    found: dict[Name, _Step] = {}

    def names(parents: Parents, sex: Sex) -> tuple[Name, ...]:
        if parents.holdback is None:
            return tuple((animal, sex.value) for animal in parents.animals)
        if parents.holdback not in found and parents.holdback[0] in by_id:
            add(by_id[parents.holdback[0]], parents.holdback, wants.get(parents.holdback))
        return (parents.holdback,)

    def add(each: StagePlan, name: Name, want: Want | None) -> None:
        dams, sires = names(each.dams, Sex.FEMALE), names(each.sires, Sex.MALE)
        found[name] = _Step(name, want, dams, sires)

    add(stages[at], (stages[at].stage.id, ""), None)
    return tuple(found.values())


def _pairs(
    transmission: Transmission,
    parts: Sequence[Name],
    states: Mapping[tuple[StateNumber, ...], Fraction],
    steps: Sequence[tuple[_Step, tuple[Name, Name]]],
) -> dict[tuple[StateNumber, StateNumber], Fraction]:
    """Weight of each pair of states of the last step's parents at one group of loci."""
    names = list(parts)
    now = dict(states)
    for number, (step, (dam, sire)) in enumerate(steps):
        at_dam, at_sire = names.index(dam), names.index(sire)
        if number == len(steps) - 1:
            found: dict[tuple[StateNumber, StateNumber], Fraction] = {}
            for own, chance in now.items():
                pair = (own[at_dam], own[at_sire])
                if transmission.young(*pair):
                    found[pair] = found.get(pair, _NONE) + chance
            return found
        later = {name for _, parents in steps[number + 1 :] for name in parents}
        kept = [place for place, name in enumerate(names) if name in later]
        grown: dict[tuple[StateNumber, ...], Fraction] = {}
        fitting = _fitting(transmission.mode, step.want)
        for own, chance in now.items():
            stay = tuple(own[place] for place in kept)
            for state, share in transmission.young(own[at_dam], own[at_sire]).items():
                if fit := fitting[state]:
                    key = (*stay, state)
                    grown[key] = grown.get(key, _NONE) + chance * share * fit
        now = grown
        names = [*(names[place] for place in kept), step.name]
    raise AssertionError("the last step is the stage itself")


def _fitting(mode: Mode, want: Want | None) -> tuple[Fraction, ...]:
    """For each state the chance that it looks right."""
    return tuple(_fit(mode, state, want) for state in range(len(mode.states)))


def _fit(mode: Mode, state: StateNumber, want: Want | None) -> Fraction:
    if want is None:
        return Fraction(1)
    if want.sex and mode.states[state].sex not in (None, want.sex):
        return _NONE
    looks = looks_together(mode, state).items()
    return sum((chance for own, chance in looks if fits(mode, state, own, want, truly=False)), _NONE)


def couple_of(transmissions: Sequence[Transmission], worlds: Sequence[World]) -> Iterator[Couple]:
    """The couples of a dam and a sire that are there; worlds of these two, in this order."""
    found = []
    for world in worlds:
        chance, pairs = world.chance, []
        for transmission, states in zip(transmissions, world.states, strict=True):
            own = {(pair[0], pair[1]): share for pair, share in states.items() if transmission.young(pair[0], pair[1])}
            total = sum(own.values(), _NONE)
            chance *= total
            pairs.append({pair: share / total for pair, share in own.items()} if total else {})
        if chance:
            found.append((chance, tuple(pairs)))
    whole = sum((chance for chance, _ in found), _NONE)
    yield from (Couple(chance / whole, pairs) for chance, pairs in found)
