"""Who descends from whom, as positions in record order: families, sex by use, ancestors before descendants."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Member, Tally, parents_of


@dataclass(frozen=True, slots=True)
class Pedigree:
    """Members by their position in record order.

    Attributes:
        ids: Their ids.
        position: Id to position.
        dams: Position of each one's dam, or None.
        sires: Positions of each one's possible sires; empty when not recorded.
        sexes: The recorded sex; where it is not known and the member is a parent, the sex it must have.
        families: All positions of each connected family.
        family_of: Number of each one's family.
    """

    ids: tuple[AnimalId, ...]
    position: dict[AnimalId, int]
    dams: tuple[int | None, ...]
    sires: tuple[tuple[int, ...], ...]
    sexes: tuple[Sex, ...]
    families: tuple[tuple[int, ...], ...]
    family_of: tuple[int, ...]


def pedigree_of(members: Sequence[Member], tallies: Sequence[Tally] = ()) -> Pedigree:
    """The pedigree of all members; parents of tallied young are one family too.

    Raises:
        ValueError: Two members have one id; a parent is not a member, is dam and sire at once, or descends
            from itself. Records are checked for this long before.
    """
    position = {member.id: number for number, member in enumerate(members)}
    if len(position) < len(members):
        raise ValueError("several members have the same id")
    everyone: list[Member | Tally] = [*members, *tallies]
    named = [parent for young in everyone for parent in parents_of(young)]
    if missing := [name for name in named if name not in position]:
        raise ValueError(f"parents that are not members: {sorted(set(missing))}")
    dams = tuple(None if member.dam is None else position[member.dam] for member in members)
    sires = tuple(tuple(position[sire] for sire, _ in member.sires) for member in members)
    for number, dam in enumerate(dams):
        if dam in sires[number]:
            raise ValueError(f"{members[number].id} has one animal as dam and sire")
    links = [(number, position[parent]) for number, member in enumerate(members) for parent in parents_of(member)]
    for tally in tallies:
        parents = [position[parent] for parent in parents_of(tally)]
        links += [(parents[0], parent) for parent in parents[1:]]
    families = connected(len(members), links)
    family_of = [0] * len(members)
    for family, numbers in enumerate(families):
        for number in numbers:
            family_of[number] = family
    found = Pedigree(
        tuple(position), position, dams, sires, _sexes(members, tallies, position), families, tuple(family_of)
    )
    ancestors_first(found)
    return found


def _sexes(members: Sequence[Member], tallies: Sequence[Tally], position: dict[AnimalId, int]) -> tuple[Sex, ...]:
    sexes = [member.sex for member in members]
    everyone: list[Member | Tally] = [*members, *tallies]
    for young in everyone:
        if young.dam is not None and sexes[position[young.dam]] is Sex.UNKNOWN:
            sexes[position[young.dam]] = Sex.FEMALE
        for sire, _ in young.sires:
            if sexes[position[sire]] is Sex.UNKNOWN:
                sexes[position[sire]] = Sex.MALE
    return tuple(sexes)


def connected(n_items: int, links: Iterable[tuple[int, int]]) -> tuple[tuple[int, ...], ...]:
    """The connected sets of items 0 to ``n_items - 1``, each in order, sets in the order of their first item."""
    leader = list(range(n_items))

    def leader_of(item: int) -> int:
        while leader[item] != item:
            leader[item] = leader[leader[item]]
            item = leader[item]
        return item

    for first, second in links:
        low, high = sorted((leader_of(first), leader_of(second)))
        leader[high] = low
    sets: dict[int, list[int]] = {}
    for item in range(n_items):
        sets.setdefault(leader_of(item), []).append(item)
    return tuple(tuple(items) for items in sets.values())


def ancestors_first(pedigree: Pedigree) -> tuple[int, ...]:
    """All positions, every parent before its young.

    Raises:
        ValueError: An animal descends from itself.
    """
    parents = [
        ([] if dam is None else [dam]) + list(sires) for dam, sires in zip(pedigree.dams, pedigree.sires, strict=True)
    ]
    young: list[list[int]] = [[] for _ in parents]
    waiting = [len(found) for found in parents]
    for number, found in enumerate(parents):
        for parent in found:
            young[parent].append(number)
    ready = [number for number, count in enumerate(waiting) if not count]
    for number in ready:
        for child in young[number]:
            waiting[child] -= 1
            if not waiting[child]:
                ready.append(child)
    if len(ready) < len(parents):
        stuck = [pedigree.ids[number] for number, count in enumerate(waiting) if count]
        raise ValueError(f"animals that descend from themselves: {stuck}")
    return tuple(ready)
