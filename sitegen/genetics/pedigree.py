"""Who descends from whom, as positions in record order: families, sex by use, ancestors before descendants."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Member, Tally, parents_of


@dataclass(frozen=True, slots=True)
class Pedigree:
    """Members by their position in record order.

    Attributes:
        dams, sires: Positions of each one's dam, or None; of its possible sires, none when not recorded.
        sexes: The recorded sex; where it is not known and the member is a parent, the sex it must have.
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
    parents_first(members)
    sexes = _sexes(members, tallies, position)
    return Pedigree(tuple(position), position, dams, sires, sexes, families, tuple(family_of))


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


def parents_first(members: Sequence[Member]) -> tuple[Member, ...]:
    """The members so that every recorded parent stands before its young; otherwise in their own order.

    Raises:
        ValueError: An animal is its own ancestor (records are checked for that long before).
    """
    by_id = {member.id: member for member in members}
    done: dict[AnimalId, Member] = {}
    open_: set[AnimalId] = set()
    for start in members:
        stack = [start.id]
        while stack:
            top = by_id[stack[-1]]
            waiting = [parent for parent in parents_of(top) if parent in by_id and parent not in done]
            if waiting:
                open_.add(top.id)
                if any(parent in open_ for parent in waiting):
                    raise ValueError(f"{top.id} is its own ancestor")
                stack.extend(reversed(waiting))
            else:
                done.setdefault(top.id, top)
                stack.pop()
    return tuple(done.values())
