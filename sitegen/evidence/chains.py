"""Whose odds can bear on whose answer: the animals between which what is not certain can flow.

Source: d-separation by way of the moral ancestral graph (Lauritzen SL, Dawid AP, Larsen BN, Leimer HG (1990),
*Networks* 20:491-505): of the animal asked about, all animals with evidence, and all ancestors of these, parents and
young are neighbours, and so are two parents of one young; an animal whose genotype is settled lets nothing pass.
"""

from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import islice

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Genes, Judged, Stated
from sitegen.evidence.answers import Answers
from sitegen.evidence.chances import chance_of_allele, chance_of_copies
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId, Posterior, parents_of


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


ReasonsFor = Callable[[AnimalId, str], tuple[Reason, ...]]
"""(animal, locus) to its decisive evidence, decisive first."""

PROOF = frozenset({Ground.SHOWS_ITSELF, Ground.SHOWS_NOT, Ground.DNA_TEST, Ground.YOUNG, Ground.SIBLINGS})
"""Grounds that settle a question without anybody's word."""


_NO_ANSWER: Posterior = {}
_Wanted = tuple[tuple[AnimalId, ...], Mapping[AnimalId, int], Mapping[int, Sequence[AnimalId]]]
"""Animals that are asked about, the rank of each, and those in each connected part."""
NEAREST = 6
"""How many animals are put in order of nearness; the others follow in record order."""


def words_of(animal: Animal, locus: str) -> tuple[Stated, ...]:
    """What a previous keeper stated of the animal at a locus.

    Nothing for an animal with a recorded parent: its parents' own evidence counts, not what was stated of it.
    """
    if animal.dam or animal.sires:
        return ()
    return tuple(stated for genes in animal.genes for stated in genes.stated if stated.locus == locus)


def has_word(animal: Animal, locus: str) -> bool:
    """True when a previous keeper stated odds of the animal at a locus, of its copies among them."""
    copies = (copies for genes in animal.genes for copies in genes.copies if copies.locus == locus)
    founder = not animal.dam and not animal.sires
    return bool(words_of(animal, locus)) or (founder and any(entry.two_copies is not None for entry in copies))


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
    _relevance: dict[tuple[str, str], Relevance] = field(default_factory=dict)
    _parts: dict[tuple[str, str, frozenset[AnimalId]], Mapping[AnimalId, int]] = field(default_factory=dict)
    _settled: dict[tuple[AnimalId, str], bool] = field(default_factory=dict)
    _in_doubt: dict[tuple[str, str], tuple[AnimalId, ...]] = field(default_factory=dict)
    _wanted: dict[tuple[str, str, frozenset[AnimalId]], _Wanted] = field(default_factory=dict)
    _in_order: dict[frozenset[AnimalId], tuple[AnimalId, ...]] = field(default_factory=dict)

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
        own = self.answers.posteriors.get(animal)
        return own.get(locus, _NO_ANSWER) if own else _NO_ANSWER

    def parents(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """The recorded parents, every possible sire among them."""
        return parents_of(self.collection.animals[animal])

    @cached_property
    def young_of(self) -> Mapping[AnimalId, tuple[AnimalId, ...]]:
        """Animal to the young that it is, or may be, a parent of, in record order."""
        found: dict[AnimalId, list[AnimalId]] = {}
        for young in self.collection.animals:
            for parent in dict.fromkeys(self.parents(young)):
                found.setdefault(parent, []).append(young)
        return {parent: tuple(young) for parent, young in found.items()}

    @cached_property
    def spoken_of(self) -> Mapping[tuple[str, str], Mapping[AnimalId, None]]:
        """(species, locus) to the animals of which a previous keeper stated anything there, in record order."""
        found: dict[tuple[str, str], dict[AnimalId, None]] = {}
        for animal in self.collection.animals.values():
            for locus in self.collection.species[animal.species].genome.loci:
                if has_word(animal, locus.id):
                    found.setdefault((animal.species, locus.id), {})[animal.id] = None
        return found

    def spoken_of_in_doubt(self, key: tuple[str, str]) -> tuple[AnimalId, ...]:
        """Those of ``spoken_of`` at a locus of a species that are not settled, remembered."""
        if key not in self._in_doubt:
            spoken_of = self.spoken_of.get(key, ())
            self._in_doubt[key] = tuple(each for each in spoken_of if not self.is_settled(each, key[1]))
        return self._in_doubt[key]

    def is_proven(self, animal: AnimalId, locus: str, allele: str) -> bool:
        """True when it is settled without anybody's word whether the animal has the allele."""
        certain = chance_of_allele(self.posterior(animal, locus), allele) in (0, 1)
        return certain and self.first_ground(animal, locus) in PROOF

    def is_settled(self, animal: AnimalId, locus: str) -> bool:
        """True when the whole genotype is certain, and not on a previous keeper's word about this animal."""
        key = animal, locus
        if key not in self._settled:
            word = has_word(self.collection.animals[animal], locus)
            certain = len(self.posterior(animal, locus)) == 1
            self._settled[key] = certain and (not word or self.first_ground(animal, locus) in PROOF)
        return self._settled[key]

    def bearing_on(
        self,
        animal: AnimalId,
        locus: Locus,
        wanted: tuple[AnimalId, ...],
        open_too: frozenset[AnimalId],
        *,
        itself: bool = False,
    ) -> tuple[AnimalId, ...]:
        """Those of ``wanted`` whose odds can bear on an answer that is not certain: the nearest first, then the others.

        Args:
            animal: Whose answer.
            locus: The locus.
            wanted: The animals asked about, in record order; quickest if it is the same tuple each time. All of them
                without a recorded parent, as is whoever stands on somebody's word or is taken as having one copy.
            open_too: Animals that count as not settled although their genotype is certain.
            itself: Ask about the animal too, before all others.
        """
        species = self.collection.animals[animal].species
        graph, part_of = self._graph(species, locus, open_too)
        parts: set[int] = set()
        own: set[AnimalId] = {animal}
        above = [animal]
        while above:
            here = above.pop()
            if here in part_of:
                parts.add(part_of[here])
            else:
                own.add(here)
            if here not in graph.neighbours or here == animal:
                above += [p for p in self.parents(here) if p in open_too or not self.is_settled(p, locus.id)]
        ranks, by_part = self._sorted_out((species, locus.id, open_too), wanted, part_of)
        among = {each for each in own if each in ranks}.union(*(by_part.get(part, ()) for part in parts))
        found = tuple(sorted(among, key=ranks.__getitem__))
        if itself and animal not in among:
            found = (animal, *found)
        if len(found) < 2:
            return found
        line = graph.reached(animal, lambda other: other not in open_too and self.is_settled(other, locus.id))
        sought = frozenset(found)
        nearest = tuple(islice((each for each in line if each in sought), min(len(found), NEAREST)))
        return tuple(dict.fromkeys((*nearest, *found)))

    def _sorted_out(
        self,
        key: tuple[str, str, frozenset[AnimalId]],
        wanted: tuple[AnimalId, ...],
        part_of: Mapping[AnimalId, int],
    ) -> tuple[Mapping[AnimalId, int], Mapping[int, Sequence[AnimalId]]]:
        """Rank of each animal that is asked about, and those in each part; remembered for the last ones at a key."""
        kept = self._wanted.get(key)
        if kept is None or kept[0] is not wanted:
            by_part: dict[int, list[AnimalId]] = {}
            for each in wanted:
                if each in part_of:
                    by_part.setdefault(part_of[each], []).append(each)
            kept = self._wanted[key] = (wanted, {each: rank for rank, each in enumerate(wanted)}, by_part)
        return kept[1:]

    def in_order(self, animals: frozenset[AnimalId]) -> tuple[AnimalId, ...]:
        """The same animals in record order, remembered."""
        if animals not in self._in_order:
            self._in_order[animals] = tuple(each for each in self.collection.animals if each in animals)
        return self._in_order[animals]

    def words_bearing_on(self, animal: AnimalId, locus: Locus) -> tuple[AnimalId, ...]:
        """Those of ``spoken_of_in_doubt`` that bear on the answer for an animal of which nothing was stated."""
        species = self.collection.animals[animal].species
        return self.bearing_on(animal, locus, self.spoken_of_in_doubt((species, locus.id)), frozenset())

    def _graph(
        self, species: str, locus: Locus, open_too: frozenset[AnimalId]
    ) -> tuple[Relevance, Mapping[AnimalId, int]]:
        """The graph of a locus, without those through whom no way leads, and its connected parts, remembered."""
        key = species, locus.id
        if key not in self._relevance:
            self._relevance[key] = relevance(self.collection, species, locus, ends=False)
        graph = self._relevance[key]
        parts_key = (*key, open_too)
        if parts_key not in self._parts:
            self._parts[parts_key] = graph.parts(
                lambda other: other not in open_too and self.is_settled(other, locus.id)
            )
        return graph, self._parts[parts_key]

    def certain(self, animal: AnimalId, locus: str, allele: str) -> Iterator[AnimalId]:
        """The animals on which it hangs that an animal has an allele for certain, nearest first.

        Nothing beyond an animal where that is proven; nothing beyond two parents where one of them is proven to
        pass the allele on in any case.
        """
        reached = {animal: None}
        waiting = deque((animal,))
        while waiting:
            here = waiting.popleft()
            if self.is_proven(here, locus, allele):
                continue
            yield here
            for further in self._certain_from(here, locus, allele):
                if further not in reached:
                    reached[further] = None
                    waiting.append(further)

    def _certain_from(self, animal: AnimalId, locus: str, allele: str) -> tuple[AnimalId, ...]:
        """The parents on which certainty hangs directly."""
        parents = self.parents(animal)
        passing = tuple(p for p in parents if chance_of_copies(self.posterior(p, locus), allele, 2) == 1)
        if len(parents) <= 2 and any(self.first_ground(parent, locus) in PROOF for parent in passing):
            return ()
        reasons = self.reasons(animal, locus)
        named = tuple(a for r in reasons if r.ground in (Ground.DAM, Ground.SIRE) for a in r.animals)
        certain = tuple(p for p in parents if chance_of_allele(self.posterior(p, locus), allele) == Fraction(1))
        return passing or named or certain
