"""What a single record says at each locus of its species.

What many records say alike (not seen, one look, one result of a test) is one object, so that it can be compared by
identity and takes its room once.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Chromosome, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.content.species import Species
from sitegen.evidence.founders import Own, founder_odds
from sitegen.evidence.gathered import Ages, Counted, Odds, Said, Source
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.evidence.known import Ground
from sitegen.evidence.saying import name_of, seen_says, tally_says, tested_says, unseen_says
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.observations import all_genotypes, when_not_seen, when_seen, when_tested
from sitegen.genetics.questions import Observation, Tally

Phases = tuple[Mapping[str, str], ...]
"""Chromosomes that are written down, one or two, each locus to allele."""


def is_founder(animal: Animal) -> bool:
    """True when no parent is recorded."""
    return animal.dam is None and not animal.sires


def phases_of(animal: Animal) -> Phases:
    """The chromosomes of an animal that are written down."""
    return tuple(line.alleles for genes in animal.genes for line in genes.haplotypes)[:2]


def _has_word(animal: Animal, locus: Locus) -> bool:
    stated = any(entry.locus == locus.id for genes in animal.genes for entry in genes.stated)
    copies = (entry for genes in animal.genes for entry in genes.copies if entry.locus == locus.id)
    return stated or any(entry.two_copies is not None for entry in copies)


def _is_certain(locus: Locus, likelihood: Odds) -> bool:
    """True when something is seen, or not, whatever the genotype."""
    return all(likelihood.get(genotype) == Fraction(1) for genotype in all_genotypes(locus))


@dataclass(slots=True)
class Reader:
    """Reads the records of one species.

    Attributes:
        species: The species.
        comes_late: True when it has a gene that cannot be judged at birth.
    """

    species: Species
    comes_late: bool = field(init=False)
    _seen: dict[tuple[str, tuple[str, ...]], Odds] = field(default_factory=dict)
    _not_seen: dict[tuple[str, frozenset[str]], Odds | None] = field(default_factory=dict)
    _tested: dict[tuple[str, tuple[Genotype, ...]], Odds] = field(default_factory=dict)
    _plain: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        loci = self.species.genome.loci
        self.comes_late = any(allele.visible_from_months for locus in loci for allele in locus.alleles)
        self._plain = frozenset(
            locus.id for locus in loci if not any(a.visible_from_months or a.hidden_by for a in locus.alleles)
        )

    def ages(self, collection: Collection, animal: Animal) -> Ages:
        """How old the animal was when it was judged; nothing where every gene can be judged at birth."""
        if not self.comes_late:
            return ()
        return tuple(age_when_judged(collection, animal, genes.judged) for genes in animal.genes)

    def said(self, animal: Animal, sex: Sex, ages: Ages) -> tuple[Said, ...]:
        """What is said of an animal alone, at each locus of the species in their order.

        Args:
            animal: Its record.
            sex: Its sex, also when it is only known from its use.
            ages: See :meth:`ages`.
        """
        founder = is_founder(animal)
        found: list[Said] = []
        for locus in self.species.genome.loci:
            own = list(self._own(animal, locus, ages))
            seen = tuple(
                Observation(animal.id, likelihood, f"{animal.id} {rank} {source.places[0]}")
                for rank, (source, likelihood) in enumerate(own)
            )
            odds = founder_odds(animal, sex, locus, own) if founder else None
            found.append(Said(seen, tuple(source for source, _ in own), odds, founder and _has_word(animal, locus)))
        return tuple(found)

    def counted(self, litter: Litter, rank: int, others: Others) -> dict[str, Counted]:
        """What is said of young that are not listed, by locus; loci of which nothing is told are left out."""
        found: dict[str, Counted] = {}
        for locus in self.species.genome.loci if others.count else ():
            likelihood = self._judged(locus, others.judged, 0)
            if likelihood is not None:
                tally = Tally(
                    litter.dam, litter.sires, others.count, likelihood, f"{litter.id} others {rank}",
                    others.sex, litter.id, litter.each_its_own_sire,
                )  # fmt: skip
                found[locus.id] = Counted(tally, self._tally_source(litter, locus, others))
        return found

    def _own(self, animal: Animal, locus: Locus, ages: Ages) -> Iterator[Own]:
        for rank, genes in enumerate(animal.genes):
            likelihood = self._judged(locus, genes.judged, ages[rank] if ages else None)
            if likelihood is not None:
                yield self._look_source(animal, locus, genes.judged), likelihood
            for test in genes.tests:
                if test.locus == locus.id:
                    detail = (("laboratory", test.laboratory), ("date", str(test.date or "")))
                    says = tested_says(animal, locus, test)
                    source = Source(Ground.DNA_TEST, animal.id, (test.place,), says, detail=detail)
                    yield source, self._when_tested(locus, test.genotypes)
            lines = [line for line in genes.haplotypes if locus.id in line.alleles][:2]
            if lines:
                says = f"the haplotypes of {name_of(animal)} are written down"
                places = tuple(line.place for line in lines)
                yield Source(Ground.STATED, animal.id, places, says), self._on_chromosomes(locus, lines)

    def _judged(self, locus: Locus, judged: Judged, age_months: int | None) -> Odds | None:
        """How likely what was seen is under each genotype; None when it tells nothing."""
        looks = tuple(seen.look for seen in judged.seen if seen.locus == locus.id)
        if looks:
            if (locus.id, looks) not in self._seen:
                self._seen[locus.id, looks] = when_seen(locus, looks)
            return self._seen[locus.id, looks]
        if not judged.written or judged.unsure_all or locus.id in judged.unsure:
            return None
        plain = locus.id in self._plain
        hidden = frozenset[str]() if plain else unjudged_alleles(self.species.genome, locus, judged, age_months)
        key = locus.id, hidden
        if key not in self._not_seen:
            likelihood = when_not_seen(locus, hidden)
            self._not_seen[key] = None if _is_certain(locus, likelihood) else likelihood
        return self._not_seen[key]

    def _when_tested(self, locus: Locus, genotypes: tuple[Genotype, ...]) -> Odds:
        if (locus.id, genotypes) not in self._tested:
            self._tested[locus.id, genotypes] = when_tested(genotypes)
        return self._tested[locus.id, genotypes]

    def _on_chromosomes(self, locus: Locus, lines: Sequence[Chromosome]) -> Odds:
        """One for each genotype that holds the alleles of these chromosomes."""
        named = [line.alleles[locus.id] for line in lines]
        return self._when_tested(
            locus,
            tuple(
                genotype
                for genotype in all_genotypes(locus)
                if (genotype == locus.genotype(named[0], named[-1]) if len(named) == 2 else named[0] in genotype)
            ),
        )

    @staticmethod
    def _look_source(animal: Animal, locus: Locus, judged: Judged) -> Source:
        seen = [seen for seen in judged.seen if seen.locus == locus.id]
        if not seen:
            return Source(Ground.SHOWS_NOT, animal.id, (judged.place,), unseen_says(animal, locus))
        return Source(
            Ground.SHOWS_ITSELF, animal.id, tuple(each.place for each in seen), seen_says(animal, locus, seen),
            detail=_looks(seen),
        )  # fmt: skip

    @staticmethod
    def _tally_source(litter: Litter, locus: Locus, others: Others) -> Source:
        looks = _looks([seen for seen in others.judged.seen if seen.locus == locus.id])
        detail = (("count", str(others.count)), *looks)
        return Source(Ground.YOUNG, "", (others.place,), tally_says(litter, locus, others), litter.id, detail)


def _looks(seen: Sequence[SeenLook]) -> tuple[tuple[str, str], ...]:
    return tuple(("look", each.look) for each in seen)
