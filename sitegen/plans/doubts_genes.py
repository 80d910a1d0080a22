"""Doubts about what a plan wants: what nobody can give, and what cannot come together in the time there is.

Worked out with sets, not with chances: for each group of loci the states that each parent may have, given all
evidence, and those that its young may have then. What these sets rule out has a chance of exactly 0. Relatives are
taken as if they were independent here, so that something impossible may pass, and nothing possible is ever told as
impossible.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import islice

from sitegen.content.projects import Goal, Holdback
from sitegen.evidence.asking import Asked
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.doubts_harms import all_wanted, makers, never_seen, unweighed
from sitegen.plans.doubts_kinds import AlwaysSeen, Doubt, LookAlike, NotCarried, TooShort, Where
from sitegen.plans.promises import PromiseRoute, open_stages
from sitegen.plans.readiness import is_there
from sitegen.plans.roads.plan import Parents, StagePlan
from sitegen.plans.roads.setbacks import chance_of_allele
from sitegen.plans.roads.wants import Want, fits, loci_of, looks_together, want_of

NEAREST = 3
"""How many animals are named that may carry what is missing."""

_May = Mapping[int, frozenset[StateNumber]]
"""Place of each group of loci that matters, in the evidence, to the states that are possible there."""


def gene_doubts(asked: Asked, route: PromiseRoute) -> Iterator[Doubt]:
    """All of them for one road."""
    genome = asked.evidence.collection.species[route.project.species].genome
    lethal = tuple(never_seen(asked, route, genome))
    yield from lethal
    yield from unweighed(asked, route, genome)
    if not lethal:
        yield from _Reach(asked, route, genome).doubts()


@dataclass(slots=True)
class _Reach:
    """What the young of each stage may be, stage after stage.

    Attributes:
        units: Groups of loci that matter.
        young: Stage to what its young may be.
        kept: (stage, holdback) to what young that look right for it may be.
        spoilt: Stages that cannot give what they are to give.
        absent: Alleles that are told as carried by nobody on the road.
    """

    asked: Asked
    route: PromiseRoute
    genome: Genome
    units: tuple[int, ...] = ()
    young: dict[str, _May] = field(default_factory=dict)
    kept: dict[tuple[str, str], _May] = field(default_factory=dict)
    spoilt: set[str] = field(default_factory=set)
    absent: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        wants = [self._want(wanted) for wanted, _ in all_wanted(self.route)]
        wants.append(self._want(self.route.project.goal))
        loci = set(loci_of(self.genome, wants))
        wanted = [own.id for locus in self.genome.loci if locus.id in loci for own in locus.alleles]
        alike = {other for allele in wanted for other in self._look_alikes(allele)}
        loci |= {locus.id for locus in self.genome.loci if any(own.id in alike for own in locus.alleles)}
        species = self.route.project.species
        self.units = tuple(
            place
            for place, unit in enumerate(self.asked.evidence.units)
            if unit.species == species and loci.intersection(unit.loci)
        )

    def doubts(self) -> Iterator[Doubt]:
        for each in self.route.plan.stages:
            dams, sires = self._parents(each.dams, Sex.FEMALE), self._parents(each.sires, Sex.MALE)
            if dams is None or sires is None:
                self.spoilt.add(each.stage.id)
                continue
            self.young[each.stage.id] = self._young_of(dams, sires)
            for kept in each.stage.holdbacks:
                want = self._want(kept, Sex(kept.sex) if kept.sex else None)
                may = self._looking_right(self.young[each.stage.id], want)
                self.kept[each.stage.id, kept.id] = may
                if kept not in each.to_fill:
                    continue
                where = Where(self.route.project.id, kept.place, each.stage.id, self.route.id, kept.id)
                if missing := self._missing(each, want):
                    self.spoilt.add(each.stage.id)
                    yield from self._told(each, missing, where)
                elif looks := self._in_the_way(self.young[each.stage.id], want):
                    self.spoilt.add(each.stage.id)
                    yield AlwaysSeen(where, looks)
        if not self.spoilt:
            yield from self._goal()

    def _goal(self) -> Iterator[Doubt]:
        """The goal, when no stage that is still to be bred can give it; told for the stage that comes nearest."""
        stages = open_stages(self.route)
        want = self._want(self.route.project.goal)
        missing = [(each, self._missing(each, want)) for each in stages]
        if stages and all(lacks for _, lacks in missing):
            nearest = min(reversed(missing), key=lambda pair: len(pair[1]))
            goal = self.route.project.goal
            route = next((each for each in self.route.project.alternatives if each.id == self.route.id), None)
            place = route.place if route else goal.place or self.route.project.place
            yield from self._told(nearest[0], nearest[1], Where(self.route.project.id, place, "", self.route.id))

    def _parents(self, parents: Parents, sex: Sex) -> _May | None:
        """What the dams or sires of a stage may be; None when what they should be cannot be."""
        if parents.holdback:
            if parents.holdback[0] in self.spoilt or parents.holdback not in self.kept:
                return None
            return self._of_sex(self.kept[parents.holdback], sex)
        found: dict[int, frozenset[StateNumber]] = {}
        for animal in parents.animals:
            for unit, states in self._animal(animal, sex).items():
                found[unit] = found.get(unit, frozenset()) | states
        return found or None

    def _animal(self, animal: AnimalId, sex: Sex) -> _May:
        return self._of_sex({unit: self._states(animal, unit) for unit in self.units}, sex)

    def _states(self, animal: AnimalId, unit: int) -> frozenset[StateNumber]:
        """The states that an animal may have, every living one where there is no answer; worked out once."""
        key = ("possible states", animal, unit)
        found = self.asked.memory.get(key)
        if not isinstance(found, frozenset):
            heredity = self.asked.heredity[unit]
            states = heredity.states([animal])
            if isinstance(states, Impossible | TooTangled):
                found = frozenset(heredity.mode.of_sex(Sex.UNKNOWN))
            else:
                found = frozenset(number for (number,) in states)
            self.asked.memory[key] = found
        return found

    def _of_sex(self, may: _May, sex: Sex | None) -> _May:
        return {
            unit: frozenset(state for state in states if self._mode(unit).states[state].sex in (None, sex))
            if sex
            else states
            for unit, states in may.items()
        }

    def _mode(self, unit: int) -> Mode:
        return self.asked.heredity[unit].mode

    def _young_of(self, dams: _May, sires: _May) -> _May:
        found = {}
        for unit in self.units:
            transmission = self.asked.transmissions[unit]
            young: set[StateNumber] = set()
            for dam in dams[unit]:
                for sire in sires[unit]:
                    young.update(transmission.young(dam, sire))
            found[unit] = frozenset(young)
        return found

    def _looking_right(self, may: _May, want: Want) -> _May:
        """Those that an eye would take for what is wanted."""

        def right(unit: int, state: StateNumber) -> bool:
            mode = self._mode(unit)
            return any(fits(mode, state, looks, want, truly=False) for looks in self._looks(unit, state))

        seen = {unit: frozenset(state for state in states if right(unit, state)) for unit, states in may.items()}
        return self._of_sex(seen, want.sex)

    def _missing(self, each: StagePlan, want: Want) -> dict[str, tuple[str, ...]]:
        """Each look or allele that is wanted and that no young of a stage can have, to the alleles that make it.

        Where each alone is possible and all together are not, every one of them, to no alleles.
        """
        may = self._of_sex(self.young[each.stage.id], want.sex)
        found: dict[str, tuple[str, ...]] = {}
        alone: list[tuple[str, Want]] = [(look, Want((look,), (), (), ())) for look in (*want.seen, *want.hidden)]
        alone += [(allele, Want((), (), (), (allele,))) for allele in want.carries]
        for wanted, one in alone:
            if not self._can(may, one):
                found[wanted] = self._alleles(wanted)
        if not found and not self._can(may, want):
            found = {wanted: () for wanted, _ in alone}
        return found

    def _in_the_way(self, may: _May, want: Want) -> tuple[str, ...]:
        """Looks that keep all young that are as wanted from looking right; none where some look right.

        Those that all of them show; where there is none, those that some show.
        """
        own = self._of_sex(may, want.sex)
        if self._can(own, want, by_eye=True):
            return ()
        shown: list[list[frozenset[str]]] = [
            [
                looks
                for state in states
                for looks in self._looks(unit, state)
                if fits(self._mode(unit), state, looks, want, truly=True)
            ]
            for unit, states in own.items()
        ]
        always = tuple(look for look in want.barred if any(all(look in each for each in looks) for looks in shown))
        return always or tuple(look for look in want.barred if any(look in each for looks in shown for each in looks))

    def _can(self, may: _May, want: Want, *, by_eye: bool = False) -> bool:
        """True when some young may truly be as wanted, in one of the sexes; and look right, ``by_eye``."""
        fitting: dict[int, set[Sex | None]] = {}
        for unit in self.units:
            mode = self._mode(unit)
            fitting[unit] = {
                mode.states[state].sex
                for state in may[unit]
                if any(
                    fits(mode, state, looks, want, truly=True)
                    and (not by_eye or fits(mode, state, looks, want, truly=False))
                    for looks in self._looks(unit, state)
                )
            }
        return any(all(sexes & {None, sex} for sexes in fitting.values()) for sex in (Sex.FEMALE, Sex.MALE))

    def _want(self, wanted: Goal | Holdback, sex: Sex | None = None) -> Want:
        """What is asked for, worked out once for these genes."""
        only = isinstance(wanted, Holdback) and wanted.only
        key = ("want", self.genome.species, wanted.shows, only, wanted.carries, sex)
        found = self.asked.memory.get(key)
        if not isinstance(found, Want):
            found = self.asked.memory[key] = want_of(self.genome, wanted, sex)
        return found

    def _looks(self, unit: int, state: StateNumber) -> tuple[frozenset[str], ...]:
        """The looks that a state may show together, worked out once for these genes."""
        key = ("looks together", unit, state)
        found = self.asked.memory.get(key)
        if not isinstance(found, tuple):
            found = self.asked.memory[key] = tuple(looks_together(self._mode(unit), state))
        return found

    def _alleles(self, wanted: str) -> tuple[str, ...]:
        for locus in self.genome.loci:
            if any(look.id == wanted for look in locus.looks):
                return makers(locus, wanted)
        return (wanted,)

    def _told(self, each: StagePlan, missing: Mapping[str, tuple[str, ...]], where: Where) -> Iterator[Doubt]:
        """Why it is missing: a gene that nobody has, another gene that looks alike, or one generation too few."""
        parents = self._named_parents(each)
        road = dict(parents)
        for other in self.route.plan.stages:
            road |= self._named_parents(other)
        lacking: dict[str, tuple[str, ...]] = {}
        for wanted, alleles in missing.items():
            absent = next((one for one in alleles if not any(self._has(may, one) for may in parents.values())), "")
            alike = self._alike(alleles, parents)
            if alike:
                allele, animal, other_allele = alike
                yield LookAlike(where, wanted, allele, animal, other_allele, self._nearest(allele, road))
            elif absent in self.absent:
                continue
            elif absent and not any(self._has(may, absent) for may in road.values()):
                self.absent.add(absent)
                animals = tuple(name for name in road if name in self.asked.evidence.collection.animals)
                yield NotCarried(where, wanted, absent, animals, self._nearest(absent, road))
            elif absent and where.holdback:
                yield NotCarried(where, wanted, absent, tuple(parents), self._nearest(absent, parents))
            else:
                lacking[wanted] = tuple(
                    name for name, may in parents.items() if any(not self._has(may, one) for one in alleles)
                )
        if lacking:
            yield TooShort(where, lacking, len(self.route.plan.stages))

    def _named_parents(self, each: StagePlan) -> dict[str, _May]:
        """The parents of a stage by name: animals, or the holdback."""
        found: dict[str, _May] = {}
        for name, parents, sex in (
            (each.stage.dam, each.dams, Sex.FEMALE),
            (each.stage.sire, each.sires, Sex.MALE),
        ):
            may = self._parents(parents, sex)
            if parents.animals:
                found |= {animal: self._animal(animal, sex) for animal in parents.animals}
            elif may is not None:
                found[name] = may
        return found

    def _has(self, may: _May, allele: str) -> bool:
        """True when one that may be so may have the allele."""
        return any(
            allele in genotype
            for unit, states in may.items()
            if any(allele == own.id for locus in self._mode(unit).loci for own in locus.alleles)
            for state in states
            for genotype in self._mode(unit).genotypes[state]
        )

    def _alike(self, alleles: Sequence[str], parents: Mapping[str, _May]) -> tuple[str, str, str] | None:
        """(allele, parent, its other allele) where one parent lacks the allele and likely has one that looks alike."""
        for allele in alleles:
            for other in self._look_alikes(allele):
                for name, may in parents.items():
                    if not self._has(may, allele) and self._likely_has(name, may, other):
                        return allele, name, other
        return None

    def _look_alikes(self, allele: str) -> tuple[str, ...]:
        every = [own for locus in self.genome.loci for own in locus.alleles]
        named = [other for own in every if own.id == allele for other in own.not_the_same_as]
        naming = [own.id for own in every if allele in own.not_the_same_as]
        return tuple(dict.fromkeys((*named, *naming)))

    def _likely_has(self, name: str, may: _May, allele: str) -> bool:
        """True when an animal has an allele with a chance of a half or more, or when what is kept may have it."""
        if name in self.asked.evidence.collection.animals:
            return 2 * (chance_of_allele(self.asked, name, allele) or 0) >= 1
        return self._has(may, allele)

    def _nearest(self, allele: str, without: Mapping[str, _May]) -> tuple[tuple[AnimalId, Fraction], ...]:
        """Animals that are there and may carry the allele, the surest first."""
        animals = self.asked.evidence.collection.animals
        key = ("carriers", self.route.project.species, allele)
        carriers = self.asked.memory.get(key)
        if not isinstance(carriers, tuple):
            own = [each.id for each in animals.values() if each.species == self.route.project.species]
            chances = [(animal, chance_of_allele(self.asked, animal, allele) or Fraction(0)) for animal in own]
            surest = sorted((pair for pair in chances if pair[1]), key=lambda pair: (-pair[1], pair[0]))
            carriers = self.asked.memory[key] = tuple(surest)
        there = (pair for pair in carriers if pair[0] not in without and is_there(animals[pair[0]]))
        return tuple(islice(there, NEAREST))
