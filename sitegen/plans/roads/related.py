"""How related the animals of a road are, and where they come from: the pedigree with its planned members.

A planned young is a member with the parents of its stage; of several animals in one part the sire is one of them with
equal chances, and the dam the first that is named. Only ancestors bear on what is asked here, so nobody else is
looked at.
"""

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.kinship import Kinship, ancestry_shares
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Member
from sitegen.genetics.relations import by_sire
from sitegen.plans.roads.kinds import Ancestry
from sitegen.plans.roads.plan import Parents, StagePlan

_BY_ID = "members of a species by their ids"


class Relations:
    """The pedigree of a species with the planned members of a road: for each holdback one young of each sex."""

    def __init__(self, asked: Asked, species: str, stages: Sequence[StagePlan]) -> None:
        self.collection = asked.evidence.collection
        self.stages = {each.stage.id: each for each in stages}
        self.members = dict(_by_id(asked, species))
        for each in stages:
            dams, sires = self._names(each.dams, Sex.FEMALE), self._names(each.sires, Sex.MALE)
            if not dams or not sires:
                continue
            odds = tuple((sire, Fraction(1, len(sires))) for sire in sires)
            for holdback in ("", *(own.id for own in each.stage.holdbacks)):
                for sex in SEXES:
                    name = _planned(each.stage.id, holdback, sex)
                    self.members[name] = Member(name, sex, dams[0], odds, "", True)

    def _names(self, parents: Parents, sex: Sex) -> tuple[AnimalId, ...]:
        if parents.holdback is None:
            return tuple(animal for animal in parents.animals if animal in self.members)
        name = _planned(*parents.holdback, sex)
        return (name,) if name in self.members else ()

    def _with_ancestors(self, animals: Iterable[AnimalId]) -> tuple[Member, ...]:
        """Some animals and all that they descend from."""
        found: dict[AnimalId, Member] = {}
        waiting = list(animals)
        while waiting:
            name = waiting.pop()
            if name not in found:
                member = found[name] = self.members[name]
                waiting += [sire for sire, _ in member.sires] + ([] if member.dam is None else [member.dam])
        return tuple(found.values())

    def inbreeding_of(self, animal: AnimalId) -> Fraction:
        """Wright's coefficient of an animal."""
        return Kinship(self._with_ancestors([animal])).inbreeding(animal)

    def pairs(self, stage: str) -> tuple[tuple[Fraction, AnimalId, AnimalId], ...]:
        """The pairs that a stage can be bred from, each with its kinship, the inbreeding coefficient of its young."""
        each = self.stages[stage]
        dams, sires = self._names(each.dams, Sex.FEMALE), self._names(each.sires, Sex.MALE)
        kinship = Kinship(self._with_ancestors((*dams, *sires)))
        return tuple((kinship.pair(dam, sire), dam, sire) for dam in dams for sire in sires if dam != sire)

    def inbreeding(self, stage: str) -> Fraction:
        """Wright's coefficient of a stage's young, the mean over its pairs; 0 if it has no parents."""
        pairs = self.pairs(stage)
        return sum((kinship for kinship, _, _ in pairs), Fraction(0)) / len(pairs) if pairs else Fraction(0)

    def ancestry(self, animal: AnimalId) -> tuple[Ancestry, ...]:
        """Shares of localities and lines in an animal, the largest first; empty if none is recorded or sires decide it.

        A founder counts with its locality, or else its line.
        """
        if animal not in self.members:
            return ()
        members = self._with_ancestors([animal])
        records = [self.collection.animals[each.id] for each in members if each.id in self.collection.animals]
        origins = {each.id: each.locality or each.line for each in records}
        named = {key: origin for key, origin in origins.items() if origin and origin.lower() != "unknown"}
        told = by_sire(
            {each.id: each for each in members}, animal, lambda own: ancestry_shares(tuple(own.values()), named)[animal]
        )
        if told is None or len(told) > 1:
            return ()
        shares = told[0].value
        if not any(shares):
            return ()
        order = sorted(shares.items(), key=lambda item: (not item[0], -item[1], item[0]))
        return tuple(Ancestry(origin, share) for origin, share in order)

    def of_stage(self, stage: str) -> AnimalId:
        """The planned member that stands for a stage's young; empty if it has no parents."""
        name = _planned(stage, "", SEXES[0])
        return name if name in self.members else ""


def _by_id(asked: Asked, species: str) -> Mapping[AnimalId, Member]:
    """The members of a species by their ids, each possible sire with its chance given all evidence; found once."""
    key = (_BY_ID, species)
    if key not in asked.memory:
        asked.memory[key] = {member.id: member for member in members_with_sires(asked, species)}
    found = asked.memory[key]
    assert isinstance(found, dict)
    return found


def _planned(stage: str, holdback: str, sex: Sex) -> AnimalId:
    """A name that no animal has: folder names hold no such sign."""
    return f"\0{stage}.{holdback} {sex}"


def written_name(member: AnimalId) -> str:
    """A member as plans write it: an animal, or ``STAGE.HOLDBACK``."""
    return member[1:].partition(" ")[0] if member.startswith("\0") else member
