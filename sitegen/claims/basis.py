"""What a claim rests on in the end: it follows the chain of evidence back to its first links."""

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from sitegen.claims.chances import certain_copies, chance_of_allele
from sitegen.claims.kinds import Basis, ClaimKind
from sitegen.evidence.known import Answers, Ground, Reason
from sitegen.genetics.loci import WILD, Locus
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.genes import Stated

ReasonsFor = Callable[[AnimalId, str], tuple[Reason, ...]]
"""(animal, locus) to its decisive evidence, decisive first."""

_PROOF = frozenset({Ground.SHOWS_ITSELF, Ground.SHOWS_NOT, Ground.DNA_TEST, Ground.YOUNG, Ground.SIBLINGS})
"""Grounds that settle a question without anybody's word."""

_CERTAIN = (Fraction(0), Fraction(1))


@dataclass(frozen=True)
class Chains:
    """The evidence of a collection, ready to be followed from animal to animal.

    Attributes:
        collection: The records.
        answers: The posteriors.
        reasons_for: Asked once for each animal and locus that a claim needs.
    """

    collection: Collection
    answers: Answers
    reasons_for: ReasonsFor
    _asked: dict[tuple[AnimalId, str], tuple[Reason, ...]] = field(default_factory=dict)
    _links: dict[tuple[AnimalId, str, str], "_Link"] = field(default_factory=dict)
    _taken: dict[tuple[str, str], frozenset[AnimalId]] = field(default_factory=dict)

    def reasons(self, animal: AnimalId, locus: str) -> tuple[Reason, ...]:
        """The decisive evidence, remembered."""
        key = animal, locus
        if key not in self._asked:
            self._asked[key] = self.reasons_for(animal, locus)
        return self._asked[key]

    def posterior(self, animal: AnimalId, locus: str) -> Posterior:
        """The posterior; empty when there is no answer."""
        return self.answers.posteriors.get(animal, {}).get(locus, {})

    def parents(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """The recorded parents, every possible sire among them."""
        record = self.collection.animals[animal]
        dam = (record.dam,) if record.dam else ()
        return (*dam, *(sire for sire, _ in record.sires))

    def young(self, animal: AnimalId) -> tuple[Animal, ...]:
        """The recorded young, in record order."""
        return self._young.get(animal, ())

    @cached_property
    def _young(self) -> Mapping[AnimalId, tuple[Animal, ...]]:
        """Parent to its young."""
        found: dict[AnimalId, tuple[Animal, ...]] = {}
        for record in self.collection.animals.values():
            for parent in dict.fromkeys(self.parents(record.id)):
                found[parent] = (*found.get(parent, ()), record)
        return found

    @cached_property
    def loci_with_words(self) -> frozenset[str]:
        """The loci at which a previous keeper stated anything of anybody, odds of copies among it."""
        evidence = [genes for animal in self.collection.animals.values() for genes in animal.genes]
        stated = (word.locus for genes in evidence for word in genes.stated)
        copies = (copies.locus for genes in evidence for copies in genes.copies if copies.two_copies is not None)
        return frozenset((*stated, *copies))

    def taken_as_one_copy(self, locus: Locus, allele: str) -> frozenset[AnimalId]:
        """All animals that are taken as having one copy of an allele."""
        key = locus.id, allele
        if key not in self._taken:
            self._taken[key] = frozenset(
                animal.id
                for animal in self.collection.animals.values()
                if any(seen.locus == locus.id for genes in animal.genes for seen in genes.judged.seen)
                and _is_taken_as_one_copy(self, animal.id, locus, allele)
            )
        return self._taken[key]

    def link(self, animal: AnimalId, locus: str, allele: str) -> "_Link":
        """How an animal's answer hangs on others, remembered."""
        key = animal, locus, allele
        if key not in self._links:
            self._links[key] = _link(self, animal, locus, allele)
        return self._links[key]


def has_own_test(animal: Animal, locus: str) -> bool:
    """True when the animal itself was tested at the locus."""
    return any(test.locus == locus for genes in animal.genes for test in genes.tests)


def words_of(animal: Animal, locus: str) -> tuple[Stated, ...]:
    """What a previous keeper stated of the animal at a locus.

    Nothing for an animal with a recorded parent: its parents' own evidence counts, not what was stated of it.
    """
    if animal.dam or animal.sires:
        return ()
    return tuple(stated for genes in animal.genes for stated in genes.stated if stated.locus == locus)


def basis_of(
    chains: Chains, animal: AnimalId, locus: str, allele: str, kind: ClaimKind
) -> tuple[Basis, tuple[AnimalId, ...]]:
    """What a claim rests on, and the animals whose previous keeper's word it hangs on."""
    if kind is ClaimKind.SHOWS:
        return Basis.OWN_RECORDS, ()
    reasons = chains.reasons(animal, locus)
    certain = kind in (ClaimKind.CARRIES, ClaimKind.RULED_OUT)
    tested = has_own_test(chains.collection.animals[animal], locus)
    if certain and tested and _first(reasons) in (Ground.DNA_TEST, None):
        return Basis.DNA_TEST, ()
    words = keepers_words(chains, animal, locus, allele)
    if words:
        return Basis.PREVIOUS_KEEPER, words
    if certain and _first(reasons) is Ground.YOUNG:
        return Basis.PROVEN_BY_YOUNG, ()
    return (Basis.DNA_TEST if tested else Basis.OWN_RECORDS), ()


def keepers_words(chains: Chains, animal: AnimalId, locus: str, allele: str) -> tuple[AnimalId, ...]:
    """The animals whose stated odds the answer hangs on, through any number of generations, nearest first."""
    if locus not in chains.loci_with_words:
        return ()
    found: dict[AnimalId, None] = {}
    for visited in _chain(chains, animal, locus, allele):
        if words_of(chains.collection.animals[visited], locus):
            found[visited] = None
        found.update(dict.fromkeys(chains.link(visited, locus, allele).words))
    return tuple(found)


def one_copy_taken(chains: Chains, animal: AnimalId, locus: Locus, allele: str) -> tuple[AnimalId, ...]:
    """The animals that are taken as having one copy, where the answer hangs on it, nearest first."""
    taken = chains.taken_as_one_copy(locus, allele)
    settled = len(chains.posterior(animal, locus.id)) == 1
    if not taken or settled:
        return (animal,) if animal in taken else ()
    line = _chain(chains, animal, locus.id, allele, proof_ends=False)
    return tuple(visited for visited in line if visited in taken)


def _is_taken_as_one_copy(chains: Chains, animal: AnimalId, locus: Locus, allele: str) -> bool:
    """True for a founder that shows an allele whose one and two copies look alike, when nothing settles the copies."""
    if any(reason.ground is Ground.TAKEN_AS_ONE_COPY for reason in chains.reasons(animal, locus.id)):
        return True
    record = chains.collection.animals[animal]
    one, two = locus.genotype(WILD, allele), (allele, allele)
    look = locus.shown.get(one)
    seen = any(seen.look == look for genes in record.genes for seen in genes.judged.seen)
    said = any(
        any(stated.locus == locus.id for stated in genes.stated)
        or any(test.locus == locus.id for test in genes.tests)
        or any(copies.locus == locus.id and copies.two_copies is not None for copies in genes.copies)
        for genes in record.genes
    )
    if not seen or said or two in locus.lethal or look != locus.shown.get(two) or chains.parents(animal):
        return False
    if chains.posterior(animal, locus.id).get(one) != 1:
        return False
    return not any(
        chance_of_allele(chains.posterior(young.id, locus.id), allele) == 0 for young in chains.young(animal)
    )


def _chain(chains: Chains, animal: AnimalId, locus: str, allele: str, *, proof_ends: bool = True) -> Iterator[AnimalId]:
    """The animal, and every animal that its answer hangs on, nearest first; a proof ends a chain."""
    reached = {animal: None}
    waiting = deque((animal,))
    while waiting:
        here = waiting.popleft()
        link = chains.link(here, locus, allele)
        if proof_ends and (link.copies_proven if here == animal else link.proven):
            continue
        yield here
        for further in link.further:
            if further not in reached:
                reached[further] = None
                waiting.append(further)


@dataclass(frozen=True, slots=True)
class _Link:
    """One link of a chain of evidence.

    Attributes:
        proven: Whether it has the allele is settled without anybody's word.
        copies_proven: And so are its copies.
        words: The animals whose stated odds are among its own decisive evidence.
        further: The animals that it hangs on.
    """

    proven: bool
    copies_proven: bool
    words: tuple[AnimalId, ...]
    further: tuple[AnimalId, ...]


def _link(chains: Chains, animal: AnimalId, locus: str, allele: str) -> _Link:
    """How an animal's answer about an allele hangs on others."""
    posterior, reasons = chains.posterior(animal, locus), chains.reasons(animal, locus)
    chance = chance_of_allele(posterior, allele)
    proven = chance in _CERTAIN and _first(reasons) in _PROOF
    words = tuple(a for r in reasons if r.ground is Ground.STATED for a in r.animals or (animal,))
    return _Link(
        proven,
        proven and (chance == 0 or certain_copies(posterior, allele) != -1),
        words,
        _hangs_on(chains, animal, locus, allele, chance),
    )


def _hangs_on(chains: Chains, animal: AnimalId, locus: str, allele: str, chance: Fraction) -> tuple[AnimalId, ...]:
    """The animals that the answer for one animal hangs on directly: parents, and mates where its young speak."""
    reasons = chains.reasons(animal, locus)
    named = tuple(a for r in reasons if r.ground in (Ground.DAM, Ground.SIRE) for a in r.animals)
    parents = tuple(
        parent for parent in chains.parents(animal) if chance_of_allele(chains.posterior(parent, locus), allele) > 0
    )
    if chance == 1:
        certain = tuple(p for p in parents if chance_of_allele(chains.posterior(p, locus), allele) == 1)
        return named or certain
    mates: tuple[AnimalId, ...] = ()
    if chance and any(reason.ground is Ground.YOUNG for reason in reasons):
        mates = tuple(other for young in chains.young(animal) for other in chains.parents(young.id) if other != animal)
    return (*parents, *mates)


def _first(reasons: tuple[Reason, ...]) -> Ground | None:
    """The decisive ground, if there is one."""
    return reasons[0].ground if reasons else None
