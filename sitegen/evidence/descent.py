"""What the pedigree alone tells: how parents are related, and which share of an animal comes from where."""

from collections.abc import Mapping
from fractions import Fraction
from functools import partial
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.kinship import ancestry_shares
from sitegen.genetics.pedigree import parents_first
from sitegen.genetics.questions import AnimalId
from sitegen.genetics.questions import Member
from sitegen.genetics.questions import parents_of
from sitegen.genetics.relations import IfSire
from sitegen.genetics.relations import Kin
from sitegen.genetics.relations import by_sire
from sitegen.genetics.relations import kin_of_parents

Shares = tuple[IfSire[Mapping[str, Fraction]], ...]
"""Origin to its share of an animal's ancestry, given each sire on whom that hangs."""


Related = tuple[IfSire[Kin], ...]
"""How two parents are related, given each sire on whom that hangs."""


def relations_of(
    members_of: Mapping[str, tuple[Member, ...]], inbreeding: Mapping[AnimalId, Fraction]
) -> Mapping[AnimalId, Related]:
    """How the parents of each animal are related that has two.

    Args:
        members_of: Species to its animals, each possible sire with its chance given all evidence.
        inbreeding: Wright's coefficient of every animal.
    """
    found: dict[AnimalId, Related] = {}
    for members in members_of.values():
        by_id = {member.id: member for member in members}
        for member in members:
            if member.dam is not None and member.sires:
                related_by = related(by_id, member.id) if inbreeding[member.id] else (IfSire(Kin(Fraction(0))),)
                found[member.id] = related_by
    return found


def related(members: Mapping[AnimalId, Member], young: AnimalId) -> Related:
    """How the parents of an animal are related, given each sire on whom it hangs."""
    found = by_sire(members, young, partial(kin_of_parents, young))
    return found or (IfSire(Kin(Kinship(tuple(members.values())).inbreeding(young), None)),)


def shares_of(
    members_of: Mapping[str, tuple[Member, ...]], origins: Mapping[AnimalId, str]
) -> Mapping[AnimalId, Shares]:
    """Shares of ancestry of the animals that descend from a founder whose origin is known.

    Args:
        members_of: Species to its animals, each possible sire with its chance given all evidence.
        origins: Founder to where it, or its line, comes from.
    """
    named = {animal: origin for animal, origin in origins.items() if origin and origin.lower() != "unknown"}
    found: dict[AnimalId, Shares] = {}
    for members in members_of.values() if named else ():
        by_id = {member.id: member for member in members}
        in_doubt: set[AnimalId] = set()
        for member in parents_first(members):
            if len(member.sires) > 1 or in_doubt.intersection(parents_of(member)):
                in_doubt.add(member.id)
        for animal, own in ancestry_shares(members, named).items():
            if animal in origins or not any(own.keys()):
                continue
            doubt = animal in in_doubt
            found[animal] = (
                by_sire(by_id, animal, partial(_own_shares, animal, named)) or () if doubt else (IfSire(own),)
            )
    return found


def _own_shares(
    animal: AnimalId, named: Mapping[AnimalId, str], members: Mapping[AnimalId, Member]
) -> Mapping[str, Fraction]:
    return ancestry_shares(tuple(members.values()), named)[animal]


def inbreeding_of(members: Mapping[str, tuple[Member, ...]]) -> Mapping[AnimalId, Fraction]:
    """Wright's coefficient of every animal."""
    found: dict[AnimalId, Fraction] = {}
    for own in members.values():
        kinship = Kinship(own)
        found |= {member.id: kinship.inbreeding(member.id) for member in own}
    return found
