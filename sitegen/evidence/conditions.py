"""What is taken for granted behind an answer that is certain although the records leave more open, and what settles it.

A founder is *closed* when it has no more copies than is written of it. What hangs on closed founders is found by asking
of the worlds in which it is not so: whoever is closed in none of them suffices alone, since closing that founder leaves
only worlds in which it is so.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.prices import OfferState
from sitegen.evidence.chains import Chains
from sitegen.evidence.conflicts import of_family
from sitegen.evidence.gathered import AnyQuestion, family_of, questions_of, reached
from sitegen.evidence.kinds import Claim, Condition, Settling, Taken
from sitegen.evidence.possible import RARE
from sitegen.genetics.loci import WILD, Genotype, Sex
from sitegen.genetics.network import Heredity, answer_all
from sitegen.genetics.observations import all_genotypes, background
from sitegen.genetics.questions import (
    AnimalId,
    Impossible,
    LinkedQuestion,
    Member,
    Observation,
    Question,
    Tally,
    TooTangled,
    parents_of,
)

Holds = Callable[[Genotype], bool]
_NEAREST = 24
"""How many founders are tried alone, the nearest first."""
_PAIRED = 3
"""How many are tried with another one."""


def condition_of(chains: Chains, claim: Claim, holds: Holds, *, of_copies: bool) -> Condition:
    """What is taken for granted where ``holds`` is certain of the animal's genotype by that alone."""
    family = _family_at(chains, claim.animal)
    found = tuple(_smallest(family, claim.animal, holds))
    taken = tuple(family.taken(each, claim.allele) for each in found)
    return Condition(taken, of_copies, _cheapest(family, claim, holds, found, of_copies))


def _smallest(family: "_Family", animal: AnimalId, holds: Holds) -> Iterable[AnimalId]:
    """The nearest founder that suffices alone, else two of them; nothing where it takes more."""
    seen = family.only(animal, lambda pair: not holds(pair))
    tried = family.tried(animal)[:_NEAREST]
    against = family.closed_among([seen], tried)
    if against is None:
        return ()
    fitting = family.closed_among([family.only(animal, holds)], tried) or {}
    can = [each for each in tried if each in fitting]  # closing another one would contradict the records
    alone = next((each for each in can if each not in against), None)
    if alone:
        return (alone,)
    for first in can[:_PAIRED]:
        closing = family.only(first, family.closed(first).__contains__)
        left = family.closed_among([seen, closing], can)
        second = next((each for each in can if left is not None and each not in left and each != first), None)
        if second:
            return first, second
    return ()


@dataclass(frozen=True, slots=True, eq=False)
class _Family:
    """One locus of the animals that are connected to one of them, with everything unwritten left open.

    Attributes:
        question: What is asked, of the linked group of the locus where there is one.
        at: The question of the locus itself.
        members: Its animals, and the parents of whom there is no record.
        beside: Member to its parents, its young and those with whom it has young.
        limit: What is answered of them, with what is taken for granted.
    """

    chains: Chains
    question: AnyQuestion
    at: Question
    members: Mapping[AnimalId, Member]
    beside: Mapping[AnimalId, Sequence[AnimalId]]
    limit: Heredity

    def tried(self, animal: AnimalId) -> list[AnimalId]:
        """The other founders of whom more is possible than is taken for granted, the nearest first."""
        line = reached((animal,), lambda here: self.beside.get(here, ()))
        return [each for each in line if each != animal and not parents_of(self.members[each]) and self._is_open(each)]

    def _is_open(self, founder: AnimalId) -> bool:
        """True when the answer itself does not think of an unwritten copy, and the records leave one open."""
        closed, posterior = self.closed(founder), self.limit.of(founder, self.at.locus.id)
        left = self.chains.possible.get(founder)
        if isinstance(posterior, Impossible | TooTangled):
            return False
        return closed.issuperset(posterior) and not (left and closed.issuperset(left))

    def closed(self, founder: AnimalId) -> frozenset[Genotype]:
        """The genotypes of a founder without unwritten copies."""
        known = self.chains.known.question
        odds = known.priors.get(founder) or background(known.locus, self.members[founder].sex)
        return frozenset(genotype for genotype, chance in odds.items() if chance)

    def only(self, animal: AnimalId, holds: Holds) -> Observation:
        """That an animal has one of some genotypes."""
        locus = self.at.locus
        left = {genotype: Fraction(1) for genotype in all_genotypes(locus) if holds(genotype)}
        return Observation(animal, left, f"only {animal} {sorted(left)}")

    def closed_among(self, seen: Sequence[Observation], founders: Sequence[AnimalId]) -> Mapping[AnimalId, None] | None:
        """Those of some founders that may be closed when this is seen; None where that cannot be told."""
        questions = [
            replace(each, observations=(*each.observations, *seen)) if each.locus.id == self.at.locus.id else each
            for each in questions_of(self.question)
        ]
        linked = self.question
        whole = replace(linked, questions=tuple(questions)) if isinstance(linked, LinkedQuestion) else questions[0]
        (heredity,) = answer_all([whole], rare=RARE)
        found: dict[AnimalId, None] = {}
        for founder in founders:
            posterior = heredity.of(founder, self.at.locus.id)
            if isinstance(posterior, TooTangled):
                return None
            if not isinstance(posterior, Impossible) and not self.closed(founder).isdisjoint(posterior):
                found[founder] = None
        return found

    def taken(self, founder: AnimalId, allele: str) -> Taken:
        """What is taken for granted of a founder, in terms of records."""
        if founder in self.chains.evidence.collection.animals:
            return Taken(founder, one_copy=any(allele in genotype for genotype in self.closed(founder)))
        member = self.members[founder]
        bred: list[Member | Tally] = [*self.at.members, *self.at.tallies]
        young = next(each for each in bred if founder in parents_of(each))
        own = young.each_its_own_sire and member.sex is Sex.MALE
        whose = young.id if isinstance(young, Member) and (own or not young.litter) else young.litter
        return Taken(sex=member.sex, young=whose)


def _family_at(chains: Chains, animal: AnimalId) -> _Family:
    families: list[_Family] = chains.families
    for known in families:
        if animal in known.members:
            return known
    group = next(unit for unit in chains.evidence.units_of(chains.known.species) if chains.locus.id in unit.loci)
    whole = group.question
    question = of_family(whole, set(family_of(whole, animal)))
    at = next(each for each in questions_of(question) if each.locus.id == chains.locus.id)
    beside: dict[AnimalId, dict[AnimalId, None]] = {}
    for young in at.members:
        for parent in parents_of(young):
            beside.setdefault(young.id, {})[parent] = None
            beside.setdefault(parent, {})[young.id] = None
    bred: list[Member | Tally] = [*at.members, *at.tallies]
    for each in bred:
        for parent in parents_of(each):
            beside.setdefault(parent, {}).update((mate, None) for mate in parents_of(each) if mate != parent)
    members = {member.id: member for member in at.members}
    (limit,) = answer_all([question])
    found = _Family(chains, question, at, members, {each: tuple(own) for each, own in beside.items()}, limit)
    chains.families.append(found)
    return found


def _cheapest(
    family: _Family, claim: Claim, holds: Holds, taken: Sequence[AnimalId], of_copies: bool
) -> tuple[Settling, AnimalId] | None:
    """The cheapest that would make it certain in any case, of animals that are here: a look, a young, a test."""
    chains, animal = family.chains, claim.animal
    shown = chains.locus.shown
    founder = taken[0] if len(taken) == 1 else ""
    sure = chains.locus.allele(claim.allele).penetrance == 1 if claim.allele else False
    here = [each for each in (animal, founder) if _is_here(chains, each)]
    left = {
        animal: {pair: holds(pair) for pair in chains.possible.get(animal, ())},
        founder: {pair: pair in family.closed(founder) for pair in chains.possible.get(founder, ())} if founder else {},
    }
    for each in here if sure else ():
        looks = [{shown.get(pair, "") for pair, so in left[each].items() if so is wanted} for wanted in (True, False)]
        if looks[0].isdisjoint(looks[1]) and _is_unseen(chains, each, claim.allele):
            return Settling.LOOK, each
    record = chains.animal(animal)
    one = of_copies and sure and (WILD, claim.allele) in shown and not holds((claim.allele, claim.allele))
    if one and animal in here and not record.is_young and chains.locus.copies(record.sex) == 2:
        return Settling.PLAIN_YOUNG, animal
    return (Settling.DNA_TEST, here[-1]) if here else None


def _is_unseen(chains: Chains, animal: AnimalId, allele: str) -> bool:
    """True when nobody judged by eye an animal in which the allele can be judged at any age."""
    judged = any(genes.judged.written for genes in chains.animal(animal).genes)
    return not judged and not chains.locus.allele(allele).visible_from_months


def _is_here(chains: Chains, animal: AnimalId) -> bool:
    """True when it lives and was not sold; not of a parent that is not recorded."""
    record = chains.evidence.collection.animals.get(animal)
    return record is not None and not record.died and not (record.offer and record.offer.state is OfferState.SOLD)
