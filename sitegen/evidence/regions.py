"""The part of the evidence that new records can bear on, and the questions that answer it.

An animal whose genotype is certain lets nothing pass: what is known on one side of it tells nothing of the other
(d-separation; Lauritzen SL, Dawid AP, Larsen BN, Leimer HG (1990), *Networks* 20:491-505). So only the animals that
can be reached from the new records through animals that are not certain are asked again; those at the border stand
with what is certain of them. A litter whose sire is not certain is one more way from animal to animal, and from locus
to locus.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from sitegen.evidence.leaves import Leaves
from sitegen.evidence.standing import NOTHING, Group, Sires, Standing, any_tally, tally_at
from sitegen.genetics.factors import Choice
from sitegen.genetics.questions import (
    AnimalId,
    LinkedQuestion,
    Member,
    Observation,
    Posterior,
    Question,
    Tally,
    parents_of,
)

Node = tuple[str, int, str]
"""("animal", number of the group, id): whose answer is open; ("born", group, id): how an animal came by what it has;
("tally", group, key): young that are not listed; ("sire", -1, choice): which sire it was."""


@dataclass(frozen=True, slots=True)
class Answered:
    """What came back to questions that were asked together.

    Attributes:
        posteriors: (animal, locus) to its answer; empty where there is none.
        sires: Choices of sire that were answered.
        failed: (group, animal), one of each family that has no answer.
    """

    posteriors: Mapping[tuple[AnimalId, str], Posterior] = field(default_factory=dict)
    sires: Sires = field(default_factory=dict)
    failed: tuple[tuple[int, AnimalId], ...] = ()


@dataclass(slots=True)
class Region:
    """What hangs together.

    Attributes:
        nodes: Everything in it.
        choices: The choices of sire in it, by the names of their nodes.
        seeds: The nodes it was reached from.
        quiet: (group, animal) that tells nothing of anybody in it, and whose answer follows from theirs; parents first.
        answered: What came back.
    """

    nodes: dict[Node, None] = field(default_factory=dict)
    choices: dict[str, Choice] = field(default_factory=dict)
    seeds: list[Node] = field(default_factory=list)
    quiet: dict[tuple[int, AnimalId], None] = field(default_factory=dict)
    answered: Answered = field(default_factory=Answered)

    @property
    def group(self) -> int:
        """The group of its first node; that of all, where no choice of sire is in it."""
        return next(iter(self.nodes))[1]

    def animals(self) -> Iterator[tuple[int, AnimalId]]:
        """(group, animal) whose answer is open."""
        return ((group, name) for kind, group, name in self.nodes if kind == "animal")


def regions(leaves: Leaves, seeds: Iterable[Node]) -> list[Region]:
    """The regions that new records bear on; records that bear on the same share one."""
    found: list[Region] = []
    of_node: dict[Node, Region] = {}
    for seed in seeds:
        if seed not in of_node:
            region = Region()
            _reach(leaves, seed, region)
            leaves.opened.update(name for kind, _, name in region.nodes if kind in ("animal", "born"))
            of_node.update(dict.fromkeys(region.nodes, region))
            found.append(region)
        of_node[seed].seeds.append(seed)
    return found


def _reach(leaves: Leaves, seed: Node, region: Region) -> None:
    region.nodes[seed] = None
    waiting = [seed]
    while waiting:
        for further in _beside(leaves, waiting.pop(), region):
            if further not in region.nodes:
                region.nodes[further] = None
                waiting.append(further)


def _beside(leaves: Leaves, node: Node, region: Region) -> list[Node]:
    standing = leaves.standing
    kind, group, name = node
    if kind == "animal":
        return _of_animal(leaves, group, name, region)
    if kind == "born":
        member = standing.members[name]
        return [*_open(standing, group, (name, *_kin(standing, member))), *_which(standing, group, member, region)]
    if kind == "tally":
        tally = tally_at(standing, group, name)
        assert tally is not None
        return [*_open(standing, group, _kin(standing, tally)), *_which(standing, group, tally, region)]
    choice = region.choices[name]
    return [further for number in range(len(standing.groups)) for further in _chosen(standing, number, choice)]


def _of_animal(leaves: Leaves, group: int, name: AnimalId, region: Region) -> list[Node]:
    """How it came by what it has, and what it passed on; young that tell nothing of it are put aside."""
    standing = leaves.standing
    found: list[Node] = []
    if parents_of(standing.members[name]):
        found.append(("born", group, name))
    locus = standing.groups[group].loci[0].id
    alike: dict[tuple[object, ...], bool] = {}
    for young in standing.young.get(name, ()):
        born = "born", group, young
        if born in region.nodes or (group, young) in region.quiet:
            continue  # the other parent was there before
        member = standing.members[young]
        if len(member.sires) > 1 and name not in _kin(standing, member):
            continue
        if young in standing.young or young in standing.tallied or len(member.sires) > 1:
            is_quiet = leaves.is_quiet(young, group)
        else:
            own = standing.own.get((young, locus), NOTHING).together
            kind = (
                member.dam,
                member.sires[0][0] if member.sires else None,
                id(own),
            )  # littermates who have no young and of whom the same was seen
            if kind not in alike:
                alike[kind] = leaves.is_quiet(young, group)
            is_quiet = alike[kind]
            leaves.opened.add(young)
        if is_quiet:
            _put_aside(standing, group, young, region)
        else:
            found.append(born)
    keys = [key for key in standing.tallied.get(name, ()) if name in _kin(standing, any_tally(standing, key))]
    found += _told(standing, group, keys)
    return found


def _put_aside(standing: Standing, group: int, name: AnimalId, region: Region) -> None:
    region.quiet[group, name] = None
    for young in standing.young.get(name, ()):
        _put_aside(standing, group, young, region)


def _chosen(standing: Standing, group: int, choice: Choice) -> Iterator[Node]:
    """The young that share a choice of sire, where it makes a difference at these loci which it was."""
    listed, counted = standing.listed.get(choice, []), standing.counted.get(choice, [])
    young: Member | Tally = standing.members[listed[0]] if listed else any_tally(standing, counted[0])
    if standing.differs(young, standing.groups[group]):
        yield from (("born", group, name) for name in listed)
        yield from _told(standing, group, counted)


def _told(standing: Standing, group: int, keys: Iterable[str]) -> Iterator[Node]:
    return (("tally", group, key) for key in keys if tally_at(standing, group, key) is not None)


def _open(standing: Standing, group: int, names: Iterable[AnimalId]) -> list[Node]:
    at = standing.groups[group]
    return [("animal", group, name) for name in names if not standing.is_settled(name, at)]


def _which(standing: Standing, group: int, young: Member | Tally, region: Region) -> tuple[Node, ...]:
    """Which sire it was, as far as it makes a difference at these loci."""
    choice = standing.open_choice(young)
    if choice is None or not standing.differs(young, standing.groups[group]):
        return ()
    name = "/".join(choice)
    region.choices[name] = choice
    return (("sire", -1, name),)


def _kin(standing: Standing, young: Member | Tally) -> tuple[AnimalId, ...]:
    """The parents that are still possible."""
    return (*((young.dam,) if young.dam else ()), *(sire for sire, _ in standing.sires_of(young)))


@dataclass(frozen=True, slots=True)
class Posed:
    """What is asked at a group of loci.

    Attributes:
        question: The question.
        speakers: Young that are only counted in it, each to the littermate that has the same answer.
    """

    question: Question | LinkedQuestion
    speakers: Mapping[AnimalId, AnimalId]


Asked = Mapping[int, Posed]
"""Number of a group to what is asked there."""


def questions(standing: Standing, together: Iterable[Region]) -> Asked:
    """What is to be asked about these regions, at each group of loci that they touch; all about the same animals."""
    nodes = dict.fromkeys(node for region in together for node in region.nodes)
    numbers = sorted({group for kind, group, _ in nodes if kind != "sire"})
    alike = _alike(standing, nodes) if len(numbers) == 1 and standing.groups[numbers[0]].is_plain else []
    speakers = {name: names[0] for names in alike for name in names[1:]}
    names: dict[AnimalId, None] = {}
    for kind, group, name in nodes:
        if name in speakers:
            continue
        if kind == "tally":
            tally = tally_at(standing, group, name)
            names.update(dict.fromkeys(_kin(standing, tally) if tally else ()))
        elif kind != "sire":
            names[name] = None
            names.update(dict.fromkeys(_kin(standing, standing.members[name]) if kind == "born" else ()))
    in_order = sorted(names)
    return {number: Posed(_Asking(standing, number, nodes, in_order, alike).question(), speakers) for number in numbers}


def _alike(standing: Standing, nodes: Mapping[Node, None]) -> list[list[AnimalId]]:
    """Littermates without young of whom the same was seen, at a locus by itself at which sex is no part of heredity.

    Each has the same answer. So one is asked about, and the others count like young that are not listed, of which the
    same was seen: what they tell of their parents is the same, and they take no table each.
    """
    found: dict[tuple[object, ...], list[AnimalId]] = {}
    for kind, number, name in nodes:
        if (
            kind != "animal"
            or name in standing.young
            or name in standing.tallied
            or ("born", number, name) not in nodes
        ):
            continue
        member = standing.members[name]
        sires = standing.sires_of(member)
        seen = standing.own.get((name, standing.groups[number].loci[0].id), NOTHING).together
        if seen is not None and len(sires) < 2:
            found.setdefault((member.dam, sires[0][0] if sires else None, id(seen)), []).append(name)
    return [names for names in found.values() if len(names) > 1]


@dataclass(frozen=True, slots=True)
class _Asking:
    """Makes the question at one group."""

    standing: Standing
    number: int
    nodes: Mapping[Node, None]
    names: list[AnimalId]
    alike: list[list[AnimalId]]

    def question(self) -> Question | LinkedQuestion:
        group = self.standing.groups[self.number]
        members = tuple(self._member(self.standing.members[name]) for name in self.names)
        asked = tuple(self._at(place, group, members) for place in range(len(group.loci)))
        if group.linkage is None:
            return asked[0]
        phases = {
            name: self.standing.phases[name]
            for name in self.names
            if name in self.standing.phases and ("animal", self.number, name) in self.nodes
        }
        return LinkedQuestion(group.linkage, asked, phases)

    def _born(self, name: AnimalId) -> bool:
        return ("born", self.number, name) in self.nodes

    def _member(self, member: Member) -> Member:
        """With its parents where it tells of them, else as a founder."""
        if self._born(member.id):
            return replace(member, sires=self.standing.sires_of(member))
        return replace(member, dam=None, sires=(), litter="", each_its_own_sire=False)

    def _at(self, place: int, group: Group, members: tuple[Member, ...]) -> Question:
        locus = group.loci[place]
        priors: dict[AnimalId, Mapping[tuple[str, str], Fraction]] = {}
        observations: list[Observation] = []
        for member in members:
            name = member.id
            if ("animal", self.number, name) in self.nodes:
                own = self.standing.own.get((name, locus.id), NOTHING)
                if own.together is not None:
                    observations.append(Observation(name, own.together, name))
                if own.prior is not None:
                    priors[name] = own.prior
            elif self.standing.is_settled(name, group):
                certain = self.standing.posteriors[name, locus.id]
                if self._born(name):
                    observations.append(Observation(name, certain, f"{name} certain"))
                else:
                    priors[name] = certain
        return Question(locus, members, priors, tuple(observations), tuple(self._tallies(locus.id)))

    def _tallies(self, locus: str) -> Iterator[Tally]:
        for kind, number, key in self.nodes:
            if kind == "tally" and number == self.number and locus in self.standing.tallies[key]:
                tally = self.standing.tallies[key][locus].tally
                yield replace(tally, sires=self.standing.sires_of(tally))
        for first, *others in self.alike:
            member, seen = self.standing.members[first], self.standing.own[first, locus].together
            assert seen is not None
            yield Tally(member.dam, self.standing.sires_of(member), len(others), seen, f"{first} and others alike")
