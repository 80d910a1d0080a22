"""Ways to a goal with animals in their places: what they pass on, by what young may be chosen, how many may be kept."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

from sitegen.content.projects import Holdback
from sitegen.findings import SitegenError
from sitegen.genetics.crosses import told_by
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Genome, Locus, Sex
from sitegen.genetics.network import cases
from sitegen.genetics.observations import looks_of
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.roads.routes_cast import Heard
from sitegen.plans.roads.routes_kinds import Founder
from sitegen.plans.roads.routes_odds import Law, Passed, Sight, looks_worth_choosing
from sitegen.plans.roads.routes_shapes import Parent, Role, Shape
from sitegen.plans.roads.routes_stages import NOWHERE
from sitegen.plans.roads.wants import Want, want_of

MOST_OF_A_KIND = 4
"""So many young are kept at most of one kind."""

OPEN = Want((), (), (), ())
"""Any young will do."""

Parts = tuple[tuple[float, tuple[Law, ...]], ...]
"""Joint odds of some founders at each unit, once for each case that ties the units, with its chance."""
Choice = Mapping[Role, Want]
AllPassed = Sequence[tuple[float, Sequence[Passed]]]
"""What each unit says, once for each case, with its chance."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way to the goal, told more or less fully.

    Attributes:
        shape: Who is crossed with whom.
        founders: Which animals, by the numbers of the shape.
        choice: By what young are chosen, for each of the shape's roles; None as long as that is open.
        counts: How many are kept in each role; empty as long as that is open.
    """

    shape: Shape
    founders: tuple[Founder, ...]
    choice: tuple[Want, ...] | None = None
    counts: tuple[int, ...] = ()

    @property
    def ready(self) -> tuple[int, ...]:
        """The first season of each founder."""
        return tuple(founder.ready for founder in self.founders)

    @property
    def slots(self) -> tuple[AnimalId, ...]:
        """An animal for each founder; equal ones take turns."""
        found: list[AnimalId] = []
        for founder in self.founders:
            found.append(next(name for name in (founder.id, *founder.alike) if name not in found))
        return tuple(found)


@dataclass(slots=True)
class Heritage:
    """What ways pass on, at everything that the goal speaks of; remembers what it has worked out."""

    what: Heard
    genome: Genome
    _parts: dict[tuple[AnimalId, ...], Parts] = field(default_factory=dict)
    _wants: dict[tuple[str, ...], Want] = field(default_factory=dict)
    _sights: dict[Want, tuple[Sight, ...]] = field(default_factory=dict)

    def parts(self, animals: tuple[AnimalId, ...]) -> Parts:
        """Joint odds of some animals.

        Raises:
            SitegenError: They are tied to each other in too many ways.
        """
        found = self._parts.get(animals)
        if found is None:
            mixture = cases(self.what.heredity, animals)
            if isinstance(mixture, Impossible | TooTangled):
                raise SitegenError(
                    f"{', '.join(animals)} cannot be answered together: too many sires are in doubt among their "
                    "ancestors; settle one of them in its litter record"
                )
            found = self._parts[animals] = tuple(
                (float(case.chance), tuple(tuple(sorted((s, float(p)) for s, p in law.items())) for law in case.states))
                for case in mixture
            )
        return found

    def may_bring(self, founder: Founder) -> frozenset[str]:
        """The alleles of the goal that a founder may carry."""
        found: set[str] = set()
        for _, laws in self.parts((founder.id,)):
            for unit, law in zip(self.what.units, laws, strict=True):
                for states, _ in law:
                    found |= {allele for genotype in unit.mode.genotypes[states[0]] for allele in genotype}
        return frozenset(found) & self.needed

    @property
    def needed(self) -> frozenset[str]:
        """The alleles that the goal needs."""
        return frozenset(allele for unit in self.what.units for allele in unit.wanted)

    def passed(self, way: Way, choice: Choice) -> AllPassed:
        """What each unit says of a way when young are chosen so."""
        found = []
        for chance, laws in self.parts(way.slots):
            each = []
            for number, (unit, law) in enumerate(zip(self.what.units, laws, strict=True)):
                sights = tuple(self._sight(choice.get(role, OPEN))[number] for role in way.shape.roles)
                each.append(unit.passed(way.shape, law, sights))
            found.append((chance, each))
        return found

    def _sight(self, want: Want) -> tuple[Sight, ...]:
        """What is looked for at each unit."""
        found = self._sights.get(want)
        if found is None:
            parts = []
            for unit in self.what.units:
                own = {look.id for locus in unit.mode.loci for look in locus.looks}
                seen = tuple(look for look in want.seen if look in own)
                parts.append((seen, tuple(look for look in want.barred if look in own)))
            found = self._sights[want] = tuple(parts)
        return found

    def choices(self, way: Way) -> Iterator[Choice]:
        """Every way to choose the young that are kept.

        Daughters and sons of one stage are chosen by the same looks. Young that would all be the goal are not kept
        to be bred on: the road ends with them.
        """
        yield from self._choices(way, {}, 0)

    def _choices(self, way: Way, chosen: Choice, stage: int) -> Iterator[Choice]:
        if stage == len(way.shape.crosses) - 1:
            yield chosen
            return
        roles = [role for role in way.shape.roles if role.stage == stage]
        worth: list[tuple[str, ...]] = []
        passed = self.passed(way, chosen)
        for number, unit in enumerate(self.what.units):
            dams, sires = (self._states(way, passed, number, each) for each in way.shape.crosses[stage])
            worth += looks_worth_choosing(unit, product(dams, sires))
        wants: dict[tuple[str, ...], Want] = {}
        for looks in product(*worth):
            want = self.want(tuple(look for look in looks if look))
            wants.setdefault(want.seen, want)
        for want in wants.values():
            choice = {**chosen, **dict.fromkeys(roles, want)}
            if not self._is_goal(roles[0], self.passed(way, choice)):
                yield from self._choices(way, choice, stage + 1)

    def want(self, looks: tuple[str, ...]) -> Want:
        """Young that show these looks; what another of them hides cannot be chosen by."""
        found = self._wants.get(looks)
        if found is None:
            own = want_of(
                self.genome, Holdback(id="", shows=looks, carries=(), count=1, sex="", animals=(), place=NOWHERE)
            )
            found = self._wants[looks] = Want(own.seen, own.barred, (), ())
        return found

    def _states(self, way: Way, passed: AllPassed, unit: int, parent: Parent) -> list[StateNumber]:
        """The states that a parent may have at a unit."""
        if isinstance(parent, Role):
            return sorted({state for _, units in passed for state in units[unit].states[parent]})
        parts = self.parts(way.slots)
        return sorted({states[parent] for _, laws in parts for states, _ in laws[unit]})

    def _is_goal(self, role: Role, passed: AllPassed) -> bool:
        return all(
            unit.fit[state] == 1
            for _, each in passed
            for unit, own in zip(self.what.units, each, strict=True)
            for state in own.states[role]
        )

    def carried(self, role: Role, want: Want, passed: AllPassed) -> tuple[str, ...]:
        """Alleles of the goal that young of a role may carry unseen.

        One that always shows is not among them: young of which it is not asked that they show it may be without.
        """
        found: list[str] = []
        for number, unit in enumerate(self.what.units):
            states = {state for _, each in passed for state in each[number].states[role]}
            may = {allele for state in states for genotype in unit.mode.genotypes[state] for allele in genotype}
            alleles = [
                allele.id for locus in unit.loci for allele in locus.alleles if not _always_shows(locus, allele.id)
            ]
            found += [allele for allele in alleles if allele in unit.wanted and allele in may]
        return want_of(
            self.genome,
            Holdback(id="", shows=want.seen, carries=tuple(found), count=1, sex="", animals=(), place=NOWHERE),
        ).carries


def _always_shows(locus: Locus, allele: str) -> bool:
    """True when every living animal that holds the allele has a look that tells it."""
    holding = [each for sex in Sex for each in locus.genotypes(sex) if allele in each and each not in locus.lethal]
    return all(
        look and share == 1 and allele in told_by(locus, look)
        for genotype in holding
        for look, share in looks_of(locus, genotype).items()
    )


def counts_worth_trying(shape: Shape, passed: AllPassed) -> Mapping[Role, tuple[int, ...]]:
    """How many young may be kept in each role.

    Young whose genes of the goal are all alike: one son, or one or two daughters, who give so many litters a season.
    Young that may differ unseen: one, two, or :data:`MOST_OF_A_KIND`.
    """
    found = {}
    for role in shape.roles:
        alike = all(len(each.states[role]) == 1 for _, units in passed for each in units)
        tries: tuple[int, ...] = (1, 2, MOST_OF_A_KIND)
        if alike:
            tries = (1, 2) if role.sex is Sex.FEMALE else (1,)
        found[role] = tries
    return found
