"""Which new records bear on whose answer at a locus, so that only these are named as what changed it.

A record of young tells nothing of their parents where it is as likely whatever they have. What it does tell goes from
animal to animal, up to those whose genotype is certain: what is known on one side of them tells nothing of the other
(d-separation; Lauritzen SL, Dawid AP, Larsen BN, Leimer HG (1990), *Networks* 20:491-505).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import product

from sitegen.evidence.gathered import Source
from sitegen.evidence.nearby import Nearby
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Member, Observation, Posterior, Tally, parents_of


@dataclass(frozen=True)
class Bearing:
    """One locus of the family of one day.

    Attributes:
        near: The locus, with all that was known there on that day.
        members: The animals.
        before: What each answer was until then; those who are new, or had no answer, are left out.
    """

    near: Nearby
    members: Mapping[AnimalId, Member]
    before: Mapping[AnimalId, Posterior]
    _silent: dict[AnimalId, bool] = field(default_factory=dict)
    _reached: dict[tuple[AnimalId, ...], frozenset[AnimalId]] = field(default_factory=dict)

    def on(self, source: Source) -> frozenset[AnimalId]:
        """All other animals of whose genotype a new record can tell something."""
        if not source.animal:
            tallies = [each for each in self.near.known.question.tallies if self.near.known.sources[each.key] is source]
            return self._from(tuple(parent for each in tallies for parent in self._above(each)))
        if self.near.young(source.animal) or self.near.tallies(source.animal):
            return self._from((source.animal, *self._beside(source.animal)))
        if source.animal in self.before and len(self.near.own(source.animal)) > 1:
            return self._from(self._bred(self.members[source.animal]))  # all of it may be as likely now, and was not
        return self._from(self._above(self.members[source.animal]))

    def _from(self, starts: tuple[AnimalId, ...]) -> frozenset[AnimalId]:
        if starts not in self._reached:
            found: set[AnimalId] = set()
            waiting = list(starts)
            while waiting:
                here = waiting.pop()
                if here not in found:
                    found.add(here)
                    waiting += [] if self._is_certain(here) else self._beside(here)
            self._reached[starts] = frozenset(found)
        return self._reached[starts]

    def _beside(self, animal: AnimalId) -> Iterator[AnimalId]:
        """Its parents, its young, and those with whom it has young that tell something."""
        yield from self._above(self.members[animal])
        for young in self.near.young(animal):
            yield young
            yield from self._above(self.members[young])
        for tally in self.near.tallies(animal):
            yield from self._above(tally)

    def _above(self, young: Member | Tally) -> tuple[AnimalId, ...]:
        """Those of whom young tell something."""
        return () if self._tells_nothing(young) else self._bred(young)

    def _bred(self, young: Member | Tally) -> tuple[AnimalId, ...]:
        """The parents; where several may be the sire all that hangs on such a choice, since other loci tie them."""
        return (*parents_of(young), *(self._of_several_sires if len(young.sires) > 1 else ()))

    @cached_property
    def _of_several_sires(self) -> tuple[AnimalId, ...]:
        young: list[Member | Tally] = [*self.members.values(), *self.near.known.question.tallies]
        several = [each for each in young if len(each.sires) > 1]
        parents = [parent for each in several if not self._tells_nothing(each) for parent in parents_of(each)]
        return (*(each.id for each in several if isinstance(each, Member)), *dict.fromkeys(parents))

    def _is_certain(self, animal: AnimalId) -> bool:
        """True when its genotype was certain before, so that it lets nothing pass."""
        locus = self.near.locus
        alone = len(self.near.mode.loci) == 1 and locus.sex_recombination is None
        sexed = not locus.sex_linked or self.members[animal].sex is not Sex.UNKNOWN
        return alone and sexed and len(self.before.get(animal, ())) == 1

    def _tells_nothing(self, young: Member | Tally) -> bool:
        """True when all that is known of young, and of theirs, is as likely whatever their parents have."""
        if isinstance(young, Tally):
            return self._is_as_likely(young, [young])
        if young.id not in self._silent:
            bred = self.near.young(young.id) or self.near.tallies(young.id)
            self._silent[young.id] = not bred and self._is_as_likely(young, self.near.own(young.id))
        return self._silent[young.id]

    def _is_as_likely(self, young: Member | Tally, seen: Sequence[Observation | Tally]) -> bool:
        near = self.near
        if not seen or len(near.mode.loci) > 1:
            return not seen
        states = frozenset(near.mode.of_sex(young.sex))
        dams = self._possible((young.dam,) if young.dam else (), Sex.FEMALE)
        sires = self._possible(tuple(sire for sire, _ in young.sires), Sex.MALE)
        rows = (near.transmission.young(*pair) for pair in product(dams, sires))
        chances = {
            sum((share * near.weight(seen, state) for state, share in row.items() if state in states), Fraction(0))
            for row in rows
        }
        return len(chances) < 2

    def _possible(self, parents: tuple[AnimalId, ...], sex: Sex) -> set[StateNumber]:
        """The states that one of these parents could have by what was known before."""
        if not parents:
            return set(self.near.unrecorded(sex))
        mode, place = self.near.mode, self.near.place
        return {
            state
            for parent in parents
            for state in mode.of_sex(sex)
            if mode.genotypes[state][place] in self.before.get(parent, (mode.genotypes[state][place],))
        }
