"""The chain of evidence behind an answer, followed from animal to animal back to its first links."""

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from sitegen.claims.chances import certain_copies, chance_of_allele, chance_of_copies
from sitegen.evidence.known import Answers, Ground, Reason
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection

ReasonsFor = Callable[[AnimalId, str], tuple[Reason, ...]]
"""(animal, locus) to its decisive evidence, decisive first."""

_PROOF = frozenset({Ground.SHOWS_ITSELF, Ground.SHOWS_NOT, Ground.DNA_TEST, Ground.YOUNG, Ground.SIBLINGS})
"""Grounds that settle a question without anybody's word."""

_CERTAIN = (Fraction(0), Fraction(1))


@dataclass(frozen=True, slots=True)
class Link:
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
    _links: dict[tuple[AnimalId, str, str], Link] = field(default_factory=dict)

    def reasons(self, animal: AnimalId, locus: str) -> tuple[Reason, ...]:
        """The decisive evidence, remembered."""
        key = animal, locus
        if key not in self._asked:
            self._asked[key] = self.reasons_for(animal, locus)
        return self._asked[key]

    def first_ground(self, animal: AnimalId, locus: str) -> Ground | None:
        """What decides an answer above all; None when no reason is known."""
        reasons = self.reasons(animal, locus)
        return reasons[0].ground if reasons else None

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
        found: dict[AnimalId, list[Animal]] = {}
        for record in self.collection.animals.values():
            for parent in dict.fromkeys(self.parents(record.id)):
                found.setdefault(parent, []).append(record)
        return {parent: tuple(young) for parent, young in found.items()}

    @cached_property
    def loci_with_words(self) -> frozenset[str]:
        """The loci at which a previous keeper stated anything of anybody, odds of copies among it."""
        evidence = [genes for animal in self.collection.animals.values() for genes in animal.genes]
        stated = (word.locus for genes in evidence for word in genes.stated)
        copies = (copies.locus for genes in evidence for copies in genes.copies if copies.two_copies is not None)
        return frozenset((*stated, *copies))

    def possible_parents(self, animal: AnimalId, locus: str, allele: str) -> tuple[AnimalId, ...]:
        """The recorded parents that may have the allele."""
        parents = self.parents(animal)
        return tuple(parent for parent in parents if chance_of_allele(self.posterior(parent, locus), allele) > 0)

    def link(self, animal: AnimalId, locus: str, allele: str) -> Link:
        """How an animal's answer about an allele hangs on others, remembered."""
        key = animal, locus, allele
        if key not in self._links:
            self._links[key] = _link(self, animal, locus, allele)
        return self._links[key]

    def along(
        self, animal: AnimalId, locus: str, allele: str, *, copies: bool, proof_ends: bool = True
    ) -> Iterator[AnimalId]:
        """The animal, and every animal that its answer hangs on, nearest first.

        Args:
            animal: Where the chain starts.
            locus: The locus.
            allele: The allele asked about.
            copies: The question is how many copies the animal has, not only whether it has any.
            proof_ends: A proof ends a chain; otherwise it is followed beyond.
        """
        reached = {animal: None}
        waiting = deque((animal,))
        while waiting:
            here = waiting.popleft()
            link = self.link(here, locus, allele)
            of_copies = copies and here == animal
            if proof_ends and (link.copies_proven if of_copies else link.proven):
                continue
            yield here
            for further in (*link.further, *(self.possible_parents(here, locus, allele) if of_copies else ())):
                if further not in reached:
                    reached[further] = None
                    waiting.append(further)


def _link(chains: Chains, animal: AnimalId, locus: str, allele: str) -> Link:
    """How an animal's answer about an allele hangs on others."""
    posterior = chains.posterior(animal, locus)
    chance = chance_of_allele(posterior, allele)
    proven = chance in _CERTAIN and chains.first_ground(animal, locus) in _PROOF
    stated = (reason for reason in chains.reasons(animal, locus) if reason.ground is Ground.STATED)
    return Link(
        proven=proven,
        copies_proven=proven and (chance == 0 or certain_copies(posterior, allele) != -1),
        words=tuple(word for reason in stated for word in reason.animals or (animal,)),
        further=_certain_from(chains, animal, locus, allele)
        if chance == 1
        else (*chains.possible_parents(animal, locus, allele), *_mates(chains, animal, locus)),
    )


def _certain_from(chains: Chains, animal: AnimalId, locus: str, allele: str) -> tuple[AnimalId, ...]:
    """The parents on which certainty hangs; none when one that is proven passes the allele on in any case."""
    reasons = chains.reasons(animal, locus)
    named = tuple(a for r in reasons if r.ground in (Ground.DAM, Ground.SIRE) for a in r.animals)
    parents = chains.parents(animal)
    passing = tuple(p for p in parents if chance_of_copies(chains.posterior(p, locus), allele, 2) == 1)
    if any(chains.first_ground(parent, locus) in _PROOF for parent in passing) and len(parents) <= 2:
        return ()
    certain = tuple(p for p in parents if chance_of_allele(chains.posterior(p, locus), allele) == 1)
    return passing or named or certain


def _mates(chains: Chains, animal: AnimalId, locus: str) -> tuple[AnimalId, ...]:
    """The mates, where what the young show is among the evidence."""
    if not any(reason.ground is Ground.YOUNG for reason in chains.reasons(animal, locus)):
        return ()
    young = chains.young(animal)
    return tuple(other for each in young for other in chains.parents(each.id) if other != animal)
