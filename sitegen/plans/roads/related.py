"""How related the animals of a road are, and where they come from: the pedigree with its planned members.

A planned young is a member with the parents of its stage; of several animals in one part the sire is one of them with
equal chances, and the dam the first that is named.
"""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.evidence.answers import members_with_sires, sires_of
from sitegen.evidence.asking import Asked
from sitegen.genetics.kinship import Kinship, ancestry_shares
from sitegen.genetics.questions import AnimalId, Member
from sitegen.plans.roads.kinds import Ancestry
from sitegen.plans.roads.plan import Parents, StagePlan

_UNKNOWN = "unknown"
_MEMBERS = "members of a species with their sires"


class Relations:
    """The pedigree of a species with the planned members of a road."""

    def __init__(self, asked: Asked, species: str, stages: Sequence[StagePlan]) -> None:
        self.collection = asked.evidence.collection
        self.stages = tuple(stages)
        members = list(members_known(asked, species))
        self.young: dict[str, AnimalId] = {}
        for each in self.stages:
            dams, sires = self._names(each.dams), self._names(each.sires)
            if not dams or not sires:
                continue
            odds = tuple((sire, Fraction(1, len(sires))) for sire in sires)
            for holdback in each.keep:
                name = _planned(each.stage.id, holdback.id)
                self.young[name] = name
                members.append(Member(name, dam=dams[0], sires=odds))
            name = _planned(each.stage.id, "")
            self.young[name] = name
            members.append(Member(name, dam=dams[0], sires=odds))
        self.members = tuple(members)
        self._kinship = Kinship(self.members)

    def _names(self, parents: Parents) -> tuple[AnimalId, ...]:
        if parents.holdback is None:
            return parents.animals
        name = _planned(*parents.holdback)
        return (name,) if name in self.young else ()

    def inbreeding_of(self, animal: AnimalId) -> Fraction:
        """Wright's coefficient of an animal."""
        return self._kinship.inbreeding(animal)

    def inbreeding(self, stage: str) -> Fraction:
        """Wright's coefficient of a stage's young, the mean over its pairs; 0 if it has no parents."""
        each = next(own for own in self.stages if own.stage.id == stage)
        pairs = [(dam, sire) for dam in self._names(each.dams) for sire in self._names(each.sires)]
        return sum((self._kinship.pair(*pair) for pair in pairs), Fraction(0)) / len(pairs) if pairs else Fraction(0)

    def ancestry(self, animal: AnimalId) -> tuple[Ancestry, ...]:
        """Shares of localities and lines in an animal, the largest first; empty if none is recorded.

        A founder counts with its locality, or else its line.
        """
        origins = {each.id: each.locality or each.line for each in self.collection.animals.values()}
        named = {key: origin for key, origin in origins.items() if origin and origin.lower() != _UNKNOWN}
        shares = ancestry_shares(self.members, named).get(animal, {})
        if not any(shares):
            return ()
        order = sorted(shares.items(), key=lambda item: (not item[0], -item[1], item[0]))
        return tuple(Ancestry(origin, share) for origin, share in order)

    def of_stage(self, stage: str) -> AnimalId:
        """The planned member that stands for a stage's young; empty if it has no parents."""
        return self.young.get(_planned(stage, ""), "")


def members_known(asked: Asked, species: str) -> tuple[Member, ...]:
    """The members of a species with the odds of their sires, found once."""
    key = (_MEMBERS, species)
    if key not in asked.memory:
        asked.memory[key] = members_with_sires(asked.evidence.collection, species, sires_of(asked))
    found = asked.memory[key]
    assert isinstance(found, tuple)
    return found


def _planned(stage: str, holdback: str) -> AnimalId:
    """A name that no animal has: folder names hold no such sign."""
    return f"\0{stage}.{holdback}"
