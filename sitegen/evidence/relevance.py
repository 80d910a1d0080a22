"""Whose odds can bear on whose answer: the animals between which what is not certain can flow.

Source: d-separation by way of the moral ancestral graph (Lauritzen SL, Dawid AP, Larsen BN, Leimer HG (1990),
*Networks* 20:491-505): of the animal asked about, all animals with evidence, and all ancestors of these, parents and
young are neighbours, and so are two parents of one young; an animal whose genotype is settled lets nothing pass.
"""

from collections import deque
from collections.abc import Callable, Iterator, Mapping, Set
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Genes, Judged
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId, parents_of


@dataclass(frozen=True, slots=True)
class Relevance:
    """The neighbours of all animals at one locus, as far as evidence reaches.

    Attributes:
        collection: The records.
        neighbours: Animal to its neighbours in the graph of the evidence alone, in record order.
    """

    collection: Collection
    neighbours: Mapping[AnimalId, tuple[AnimalId, ...]]

    def reached(self, start: AnimalId, is_settled: Callable[[AnimalId], bool]) -> Iterator[AnimalId]:
        """The animals whose odds can bear on the answer for ``start``, itself among them, nearest first.

        Where ``start`` has no evidence and no descendant with any, its line joins the graph on the way up.
        """
        reached = {start: None}
        waiting = deque((start,))
        upwards = {start: None}
        while waiting:
            here = waiting.popleft()
            yield here
            above = parents_of(self.collection.animals[here]) if here in upwards else ()
            upwards.update(dict.fromkeys(above))
            for further in (*above, *self.neighbours.get(here, ())):
                if further not in reached and not is_settled(further):
                    reached[further] = None
                    waiting.append(further)

    def parts(self, is_settled: Callable[[AnimalId], bool]) -> Mapping[AnimalId, int]:
        """The animals of the graph that are not settled, each with the number of the connected part it lies in."""
        part_of: dict[AnimalId, int] = {}
        for number, start in enumerate(self.neighbours):
            if start in part_of or is_settled(start):
                continue
            part_of[start] = number
            waiting = [start]
            while waiting:
                for further in self.neighbours[waiting.pop()]:
                    if further not in part_of and not is_settled(further):
                        part_of[further] = number
                        waiting.append(further)
        return part_of


def relevance(collection: Collection, species: str, locus: Locus, *, ends: bool = True) -> Relevance:
    """Who can bear on whom at a locus of a species, through all evidence there is.

    Args:
        collection: The records.
        species: The species.
        locus: The locus.
        ends: False leaves those out who have parents and no young: no way leads through them. Their parents are
            neighbours of each other all the same, so that others are reached as before, and in the same order.
    """
    told = [a.id for a in collection.animals.values() if a.species == species and _has_evidence(collection, a, locus)]
    pairs: list[tuple[AnimalId, ...]] = []
    for litter in collection.litters.values():
        tells = (others.count and _tells(collection, species, locus, others.judged, 0) for others in litter.others)
        if litter.species == species and any(tells):
            pairs.append(parents_of(litter))
    reach = _with_ancestors(collection, [*told, *(parent for pair in pairs for parent in pair)])
    above = (parent for animal in reach for parent in parents_of(collection.animals[animal]))
    inner = None if ends else {*above}.union(*pairs)
    edges = _family_edges(collection, reach, inner)
    for pair in pairs:
        _marry(edges, pair)
    return Relevance(collection, {animal: tuple(others) for animal, others in edges.items()})


def _has_evidence(collection: Collection, animal: Animal, locus: Locus) -> bool:
    """True when something was seen, looked for or tested at the locus in the animal itself."""
    late = any(allele.visible_from_months for allele in locus.alleles)
    return any(
        _speaks(genes, locus)
        or _tells(
            collection, animal.species, locus, genes.judged,
            age_when_judged(collection, animal, genes.judged) if late else None,
        )
        for genes in animal.genes
    )  # fmt: skip


def _speaks(genes: Genes, locus: Locus) -> bool:
    """True when a record has a test, or phases, at the locus."""
    tested = any(test.locus == locus.id for test in genes.tests)
    return tested or any(locus.id in chromosome.alleles for chromosome in genes.haplotypes)


def _tells(collection: Collection, species: str, locus: Locus, judged: Judged, age_months: int | None) -> bool:
    """True when a judging covered at least one allele of the locus."""
    if any(seen.locus == locus.id for seen in judged.seen):
        return True
    if not judged.written or judged.unsure_all or locus.id in judged.unsure:
        return False
    if not any(allele.visible_from_months or allele.hidden_by for allele in locus.alleles):
        return bool(locus.alleles)
    hidden = unjudged_alleles(collection.species[species].genome, locus, judged, age_months)
    return any(allele.id not in hidden for allele in locus.alleles)


def _with_ancestors(collection: Collection, animals: list[AnimalId]) -> dict[AnimalId, None]:
    """The animals and all their recorded ancestors."""
    reached = dict.fromkeys(animals)
    waiting = deque(reached)
    while waiting:
        for parent in parents_of(collection.animals[waiting.popleft()]):
            if parent not in reached:
                reached[parent] = None
                waiting.append(parent)
    return reached


def _family_edges(
    collection: Collection, animals: Mapping[AnimalId, None], inner: Set[AnimalId] | None
) -> dict[AnimalId, dict[AnimalId, None]]:
    """Neighbours within these animals: parents and young, and the parents of one young.

    Where it is told who has young, those are left out who have parents and no young.
    """
    edges: dict[AnimalId, dict[AnimalId, None]] = {}
    married: set[tuple[AnimalId, ...]] = set()
    for animal in animals:
        parents = parents_of(collection.animals[animal])
        if inner is None or animal in inner or not parents:
            edges.setdefault(animal, {})
            _marry(edges, (animal, *parents))
        elif parents not in married:
            married.add(parents)
            _marry(edges, parents)
    return edges


def _marry(edges: dict[AnimalId, dict[AnimalId, None]], family: tuple[AnimalId, ...]) -> None:
    """Makes all members of a family neighbours."""
    for member in family:
        edges.setdefault(member, {}).update((other, None) for other in family if other != member)
