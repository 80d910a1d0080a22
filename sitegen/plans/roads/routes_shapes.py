"""The ways to cross some animals, generation by generation, without saying yet which animals they are."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from sitegen.genetics.loci import Sex


@dataclass(frozen=True, slots=True, order=True)
class Role:
    """Young of a sex that a stage is to give."""

    stage: int
    sex: Sex


Parent = int | Role
"""The number of a founder, or young of an earlier stage."""


@dataclass(frozen=True)
class Shape:
    """Who is crossed with whom: (dam, sire) for each stage; the last gives the goal.

    ``sexes`` are those of the founders, by number.
    """

    crosses: tuple[tuple[Parent, Parent], ...]
    sexes: tuple[Sex, ...]

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.crosses, self.sexes))

    @property
    def n_founders(self) -> int:
        """How many founders take part."""
        return len(self.sexes)

    @cached_property
    def roles(self) -> tuple[Role, ...]:
        """What is kept, in the order of the stages, daughters first."""
        return tuple(sorted({parent for cross in self.crosses for parent in cross if isinstance(parent, Role)}))

    @cached_property
    def depth(self) -> tuple[int, ...]:
        """The generation of each stage's young, from 1."""
        found: list[int] = []
        for cross in self.crosses:
            found.append(1 + max(found[parent.stage] if isinstance(parent, Role) else 0 for parent in cross))
        return tuple(found)


def _other(sex: Sex) -> Sex:
    return Sex.MALE if sex is Sex.FEMALE else Sex.FEMALE


def _pair(first: Parent, sex: Sex, second: Parent) -> tuple[Parent, Parent]:
    return (first, second) if sex is Sex.FEMALE else (second, first)


def shapes(generations: int, animals: int = 5) -> tuple[Shape, ...]:
    """Every shape of at most so many generations and animals of today, the shortest first.

    The young of a first pairing are crossed on, once a generation: with their own siblings, with an animal (one that
    is new to the route or one that is in it already), with the parent that was itself young of an earlier stage, or
    with young of a second first pairing, which joins once. Which of the two sexes goes on is a part of the shape.

    >>> [len(shapes(n)) for n in (1, 2)]
    [1, 7]
    """
    start = Shape(((0, 1),), (Sex.FEMALE, Sex.MALE))
    found = [start]
    level = [(start, 0, False)]
    for _ in range(generations - 1):
        grown = [made for shape, tip, joined in level for made in _grown(shape, tip, joined)]
        found += [shape for shape, _, _ in grown]
        level = grown
    return tuple(shape for shape in dict.fromkeys(found) if shape.n_founders <= animals)


def _grown(shape: Shape, tip: int, joined: bool) -> Iterator[tuple[Shape, int, bool]]:
    """The shape with one more generation; ``tip`` is the stage whose young are crossed on."""
    daughters, sons = Role(tip, Sex.FEMALE), Role(tip, Sex.MALE)
    end = len(shape.crosses)
    yield Shape((*shape.crosses, (daughters, sons)), shape.sexes), end, joined
    for sex, role in ((Sex.FEMALE, daughters), (Sex.MALE, sons)):
        for number, own in enumerate(shape.sexes):
            if own is not sex:
                yield Shape((*shape.crosses, _pair(role, sex, number)), shape.sexes), end, joined
        yield Shape((*shape.crosses, _pair(role, sex, shape.n_founders)), (*shape.sexes, _other(sex))), end, joined
        for parent in shape.crosses[tip]:
            if isinstance(parent, Role) and parent.sex is not sex:
                yield Shape((*shape.crosses, _pair(role, sex, parent)), shape.sexes), end, joined
        if not joined and (tip or sex is Sex.FEMALE):  # of two first pairings either may be called the second
            yield _with_second_pairing(shape, role), end + 1, True


def _with_second_pairing(shape: Shape, role: Role) -> Shape:
    """Young of the role's sex crossed with young of another first pairing, of two animals new to the route.

    The second pairing stands right before the cross that needs it.
    """
    dam, sire = shape.n_founders, shape.n_founders + 1
    number = len(shape.crosses)
    beside = Role(number, _other(role.sex))
    return Shape((*shape.crosses, (dam, sire), _pair(role, role.sex, beside)), (*shape.sexes, Sex.FEMALE, Sex.MALE))
