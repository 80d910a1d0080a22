"""In which ways two animals are related by descent, and what hangs on which of several possible sires there was."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from typing import Generic, TypeVar

from sitegen.genetics.kinship import Kinship
from sitegen.genetics.questions import AnimalId, Choice, Member, choice_of, parents_of

_T = TypeVar("_T")
_MOST_PATHS = 200
_MOST_CASES = 32


@dataclass(frozen=True, slots=True)
class Relation:
    """One way in which two animals are related: one path of descent between them, or two through full siblings.

    Attributes:
        shared: 0 where one of the two descends from the other; else how many parents are shared by the two siblings,
            full or half, from whom they descend or who they are.
        up: Generations from the first animal up to its sibling, or to the second animal.
        down: The same of the second animal.
        whole: False where half siblings may be full ones, since a parent of one of them is not recorded.
        through: The common ancestors.
    """

    shared: int
    up: int
    down: int
    whole: bool
    through: tuple[AnimalId, ...]

    def share(self, inbreeding: Callable[[AnimalId], Fraction]) -> Fraction:
        """Its part of the coefficient of kinship.

        Source:
            Wright S (1922) Am Nat 56:330-338: (1/2)^(n1+n2+1) (1+F_A), summed over all paths.
        """
        steps = self.up + self.down + (3 if self.shared else 1)
        return sum((Fraction(1, 2**steps) * (1 + inbreeding(each)) for each in self.through), Fraction(0))


def links(members: Mapping[AnimalId, Member], first: AnimalId, second: AnimalId) -> tuple[Relation, ...] | None:
    """All ways in which two different animals are related, the closest first; None where there are too many.

    No animal may have several possible sires.
    """
    ups, downs = _paths(members, first), _paths(members, second)
    if ups is None or downs is None:
        return None
    found = [Relation(0, 0, len(path) - 1, True, (first,)) for path in downs if path[-1] == first]
    found += [Relation(0, len(path) - 1, 0, True, (second,)) for path in ups if path[-1] == second]
    for up, down in product(ups, downs):
        one, other = members[up[-1]], members[down[-1]]
        shared = tuple(each for each in parents_of(one) if each in parents_of(other))
        if shared and not set(up).intersection(down):
            named = [[each for each in parents_of(member) if members[each].recorded] for member in (one, other)]
            whole = len(shared) == 2 or all(len(own) == 2 for own in named)
            found.append(Relation(len(shared), len(up) - 1, len(down) - 1, whole, shared))
    return tuple(sorted(found, key=lambda link: (link.up + link.down + (2 if link.shared else 0), -link.shared)))


def _paths(members: Mapping[AnimalId, Member], animal: AnimalId) -> list[tuple[AnimalId, ...]] | None:
    """All lines of descent that end at an animal, each from it upwards; the first is the animal alone."""
    found: list[tuple[AnimalId, ...]] = [(animal,)]
    for path in found:
        found += [(*path, parent) for parent in parents_of(members[path[-1]])]
        if len(found) > _MOST_PATHS:
            return None
    return found


@dataclass(frozen=True, slots=True)
class Kin:
    """How two animals are related: the coefficient of kinship, and each way; None where there are too many of them."""

    coefficient: Fraction
    links: tuple[Relation, ...] | None = ()


def kin_of_parents(young: AnimalId, members: Mapping[AnimalId, Member]) -> Kin:
    """How the dam and the only possible sire of an animal are related; both are recorded."""
    member = members[young]
    coefficient = Kinship(tuple(members.values())).inbreeding(young)
    assert member.dam is not None
    return Kin(coefficient, links(members, member.dam, member.sires[0][0]) if coefficient else ())


@dataclass(frozen=True, slots=True)
class IfSire(Generic[_T]):
    """A value that holds with some of the possible ``sires`` of ``young``, and the chance that it is one of them.

    ``young`` is empty where it hangs on nothing, or on several animals at once.
    """

    value: _T
    young: AnimalId = ""
    sires: tuple[AnimalId, ...] = ()
    chance: Fraction = Fraction(1)


def by_sire(
    members: Mapping[AnimalId, Member], young: AnimalId, value: Callable[[Mapping[AnimalId, Member]], _T]
) -> tuple[IfSire[_T], ...] | None:
    """What a value of an animal's pedigree is, given each sire on whom it hangs; one, without condition, where on none.

    The likeliest stands first. ``value`` is made from a pedigree without doubtful sires: the animal and all its
    ancestors. Where it hangs on several litters at once, the different values stand alone; None where there are too
    many ways.
    """
    line = _line(members, young)
    doubtful: dict[Choice, Member] = {}
    for member in line.values():
        if len(member.sires) > 1:
            doubtful.setdefault(choice_of(member), member)
    ways = 1
    for member in doubtful.values():
        ways *= len(member.sires)
    if ways > _MOST_CASES:
        return None
    cases: list[tuple[dict[Choice, AnimalId], _T]] = []
    for picked in product(*([sire for sire, _ in member.sires] for member in doubtful.values())):
        chosen = dict(zip(doubtful, picked, strict=True))
        settled = {
            each.id: replace(each, sires=((chosen[choice_of(each)], Fraction(1)),)) if len(each.sires) > 1 else each
            for each in line.values()
        }
        cases.append((chosen, value(_line(settled, young))))
    distinct: list[_T] = []
    for _, found in cases:
        distinct += [] if found in distinct else [found]
    if len(distinct) == 1:
        return (IfSire(distinct[0]),)
    for key, member in doubtful.items():
        sires = {sire: [found for chosen, found in cases if chosen[key] == sire] for sire, _ in member.sires}
        if all(found == own[0] for own in sires.values() for found in own):
            chances = dict(member.sires)
            told = []
            for each in distinct:
                those = tuple(sire for sire, own in sires.items() if own[0] == each)
                told.append(IfSire(each, member.id, those, sum((chances[sire] for sire in those), Fraction(0))))
            return tuple(sorted(told, key=lambda each: -each.chance))
    return tuple(IfSire(each) for each in distinct)


def _line(members: Mapping[AnimalId, Member], young: AnimalId) -> dict[AnimalId, Member]:
    found = {young: members[young]}
    waiting: Iterable[AnimalId] = (young,)
    while waiting:
        further = [parent for each in waiting for parent in parents_of(members[each]) if parent not in found]
        found |= {parent: members[parent] for parent in further}
        waiting = tuple(dict.fromkeys(further))
    return found
