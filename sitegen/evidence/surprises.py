"""What the records need that nobody wrote: surprises, where odds rest on too little, and litters that move numbers.

Answers take what nobody wrote of a founder as wild type, in the limit of ever rarer copies. A founder that has an
unwritten copy all the same, because the evidence needs it, is surprised: a discovery where it had been judged for the
gene, or something was said of it. Where the answer at a small chance lies far from the limit, the limit rests on order
alone and no odds are told.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.conflicts import clashing
from sitegen.evidence.gather import gather, with_own_sires
from sitegen.evidence.gathered import Evidence, LocusEvidence, LocusGroup, is_founder, name_of, unrecorded
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.genetics.loci import Genotype
from sitegen.genetics.network import Heredity
from sitegen.genetics.observations import copies_in
from sitegen.genetics.questions import AnimalId, Member, Posterior, Question

STRAIN = Fraction(1, 2)
"""How far the answer at a small chance may lie from the limit before no odds are told (total variation)."""


@dataclass(frozen=True, slots=True)
class Surprise:
    """Founders of one family that have copies which nobody wrote, because the evidence needs them.

    Attributes:
        animals: The recorded ones, in record order.
        unrecorded: Names of the unrecorded parents among them.
        order: How many unwritten copies the family needs at least.
        discovered: Those of ``animals`` that had been judged for the locus, or of which something was stated.
        records: Place of each record that led to it and what it says.
    """

    species: str
    locus: str
    animals: tuple[AnimalId, ...]
    unrecorded: tuple[AnimalId, ...]
    order: int
    discovered: tuple[AnimalId, ...]
    records: tuple[tuple[Place, str], ...]


def surprises_of(asked: Asked) -> tuple[Surprise, ...]:
    """Every family that needs what nobody wrote, locus by locus."""
    return tuple(
        found
        for unit, heredity in zip(asked.evidence.units, asked.heredity, strict=True)
        for family in heredity.opened
        for locus in unit.loci
        if (found := _surprise(asked.evidence, unit, heredity, locus, family))
    )


def _surprise(
    evidence: Evidence, unit: LocusGroup, heredity: Heredity, locus: str, family: tuple[AnimalId, ...]
) -> Surprise | None:
    at = evidence.loci[unit.species, locus]
    question, order = at.question, Fraction(0)
    holding: list[Member] = []
    for member in question.members:
        if member.id in family and member.dam is None and not member.sires:
            posterior = heredity.of(member.id, locus)
            unwritten = Fraction(0)
            if isinstance(posterior, Mapping):
                # Every world that is left in the limit needs equally many copies, so that their mean is that number.
                unwritten = sum(
                    (chance * unwritten_copies(question, member.id, pair) for pair, chance in posterior.items()),
                    Fraction(0),
                )
            order += unwritten
            if unwritten:
                holding.append(member)
    if not order:
        return None
    animals = tuple(each.id for each in holding if each.recorded)
    judged = tuple(each for each in animals if at.said[each].observations or each in question.priors)
    pieces = clashing(evidence, [unit], family, taken_as_wild=True)
    records = tuple((piece.source.places[0], piece.source.says) for piece in pieces if piece.kind != "founder")
    unnamed = tuple(each.id for each in holding if not each.recorded)
    return Surprise(unit.species, locus, animals, unnamed, int(order), judged, records)


def unwritten_copies(question: Question, founder: AnimalId, genotype: Genotype) -> int:
    """How many copies of a founder's genotype nobody wrote."""
    if founder in question.priors:
        stated = question.priors[founder].get(genotype)
        return 0 if stated else question.left_open.get(founder, {}).get(genotype, (0, 0))[0]
    return 0 if question.locus.background else copies_in(question.locus, genotype)


def finding_of_surprise(surprise: Surprise, collection: Collection) -> Finding:
    """A surprise as a notice: who has it, what led to it, and what else could explain it."""
    animals = [collection.animals[each] for each in surprise.animals]
    whom = [name_of(animal) for animal in animals] or [
        f"the {each.removeprefix('unrecorded ')}" for each in surprise.unrecorded
    ]
    locus = collection.species[surprise.species].genome.locus(surprise.locus)
    said = dict.fromkeys(says for _, says in surprise.records)
    places = tuple(dict.fromkeys([animal.place for animal in animals] + [place for place, _ in surprise.records]))
    return Finding(
        Level.NOTICE,
        Kind.SURPRISE,
        places[0],
        f"{' or '.join(whom) if len(whom) > surprise.order else ' and '.join(whom)} must have {locus.name}, although "
        f"nothing that is written of it says so: {'; '.join(said)}",
        expected="a surprise that you believe; it is told on the site as one",
        remedy="if you do not, look for a wrong parent, a wrong gene, or a look that was judged too early; "
        "if you knew, write it under stated:",
        others=places[1:],
    )


def strained_of(asked: Asked, opened: Asked) -> tuple[tuple[AnimalId, str], ...]:
    """The animals and loci at which the limit lies far from what a small chance of unwritten copies gives."""
    species = asked.evidence.collection.species
    return tuple(
        (animal.id, locus.id)
        for animal in asked.evidence.collection.animals.values()
        for locus in species[animal.species].genome.loci
        if _apart(asked.posterior(animal.id, locus.id), opened.posterior(animal.id, locus.id)) > STRAIN
    )


def _apart(first: Posterior, second: Posterior) -> Fraction:
    """Total variation: the most by which the chance of anything differs; 0 where one of the two has no answer."""
    none = Fraction(0)
    if not first or not second or first == second:
        return none
    return sum((abs(first.get(pair, none) - second.get(pair, none)) for pair in {*first, *second}), none) / 2


def findings_of_strain(strained: tuple[tuple[AnimalId, str], ...], collection: Collection) -> Iterator[Finding]:
    """A notice for each founder and locus at which no odds are told."""
    for name, locus in strained:
        animal = collection.animals[name]
        if is_founder(animal):
            yield Finding(
                Level.NOTICE,
                Kind.FITS_BADLY,
                animal.place,
                f"what is taken for granted of {name_of(animal)} for {locus} fits its young badly, so no odds are told",
                expected="something written that the odds can rest on",
                remedy=f"write what you know: copies: {{{locus}: 1/2}}, or stated:, or a background of the species",
            )


def litters_moved(asked: Asked) -> Iterator[Finding]:
    """A notice for each litter whose numbers hang on its unrecorded sire being one animal, until that is written."""
    for litter in asked.evidence.collection.litters.values():
        if litter.each_its_own_sire is None and litter.dam and not litter.sires and _moves(asked, litter):
            yield Finding(
                Level.NOTICE,
                Kind.ONE_SIRE,
                litter.place,
                f"the sire of {litter.id} is not recorded and is taken as one animal for all its young, which moves "
                "what is worked out for them",
                expected="whether the young may have several sires",
                remedy="write mixed_sires: false if they have one sire, or mixed_sires: true if each may have its own",
            )


def _moves(asked: Asked, litter: Litter) -> bool:
    """True when the answers differ if each young of the litter has an unrecorded sire of its own."""
    collection, sire = asked.evidence.collection, unrecorded("sire", litter.id)
    in_doubt = [
        locus
        for (species, locus), at in asked.evidence.loci.items()
        if species == litter.species and _is_in_doubt(asked, at, sire)
    ]
    if not in_doubt:
        return False
    apart = ask(gather(with_own_sires(collection, litter.id), set(in_doubt)))
    members = asked.evidence.members[litter.species]
    return any(
        asked.posterior(each.id, locus) != apart.posterior(each.id, locus) for each in members for locus in in_doubt
    )


def _is_in_doubt(asked: Asked, at: LocusEvidence, sire: AnimalId) -> bool:
    """True when an unrecorded sire may have anything but the wild type there, so that young may share it."""
    locus = at.question.locus
    if sire not in at.founders:
        return False
    found = asked.heredity[asked.by_locus[at.species, locus.id]].of(sire, locus.id)
    return isinstance(found, Mapping) and any(copies_in(locus, pair) for pair in found)
