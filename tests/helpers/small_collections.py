"""Small collections built by hand, without files: for claims and sentences."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import DnaTest, Genes, Judged, SeenLook, Stated
from sitegen.content.litters import Litter
from sitegen.content.site import Site
from sitegen.content.species import Births, LitterSize, Species
from sitegen.content.values import PartialDate
from sitegen.evidence.answers import Answers
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gathered import Reason
from sitegen.evidence.kinds import Claim
from sitegen.findings import Place
from sitegen.genetics.loci import (
    Allele,
    Genome,
    Genotype,
    Inheritance,
    Locus,
    Sex,
    SexSystem,
    Welfare,
    looks_by_inheritance,
)
from sitegen.genetics.questions import Posterior
from sitegen.words.speech import Voice

NOWHERE = Place("records.yaml")
TODAY = dt.date(2026, 10, 1)
GROWN = PartialDate(2022, 7, 1)


def locus_of(*alleles: Allele, locus_id: str = "", compounds: Mapping[frozenset[str], str] | None = None) -> Locus:
    """A locus from its alleles, autosomal."""
    name = locus_id or alleles[0].id
    looks, shown = looks_by_inheritance(name, alleles, compounds or {})
    lethal = frozenset((a.id, a.id) for a in alleles if a.two_copies_lethal)
    return Locus(name, alleles[0].name if len(alleles) == 1 else name, alleles, looks, shown, lethal)


def recessive(allele_id: str, name: str = "", **more: object) -> Allele:
    return replace(Allele(allele_id, name or allele_id, Inheritance.RECESSIVE), **more)


def dominant(allele_id: str, name: str = "", **more: object) -> Allele:
    return replace(Allele(allele_id, name or allele_id, Inheritance.DOMINANT), **more)


AMEL = locus_of(recessive("amel", "amelanistic"))
ANERY = locus_of(recessive("anery", "anerythristic"))
HYPO = locus_of(recessive("hypo", "hypo"))
TESSERA = locus_of(dominant("tessera", "tessera"))
PALMETTO = locus_of(Allele("palmetto", "palmetto", Inheritance.INCOMPLETE_DOMINANT, "super palmetto"))
MOTLEY_STRIPE = locus_of(
    recessive("motley", "motley"),
    recessive("stripe", "stripe"),
    locus_id="motley-stripe",
    compounds={frozenset(("motley", "stripe")): "striped motley"},
)
COPPER = locus_of(dominant("copper", "copper", visible_from_months=18))
WOBBLE = locus_of(dominant("whirl", "whirl", welfare=Welfare("Reported to go with poor balance.", "A study, 2022")))

CORN_LOCI = (AMEL, ANERY, HYPO, TESSERA, PALMETTO, MOTLEY_STRIPE, COPPER, WOBBLE)


def species_of(*loci: Locus, births: Births = Births.EGGS) -> Species:
    genome = Genome("corn-snake", SexSystem.ZW, loci or CORN_LOCI)
    return Species(
        id="corn-snake",
        name="corn snake",
        scientific="Pantherophis guttatus",
        births=births,
        litter_size=LitterSize(6, 14, 28),
        litters_a_year=1,
        breeding_age_months={},
        breeding_weight_grams={},
        genome=genome,
        place=NOWHERE,
        gene_places={},
    )


def animal_of(
    animal_id: str,
    *,
    shows: Mapping[str, str] | None = None,
    unsure: tuple[str, ...] = (),
    stated: Mapping[str, Mapping[Genotype, Fraction]] | None = None,
    tests: Mapping[str, tuple[Genotype, ...]] | None = None,
    written: bool = True,
    dam: str | None = None,
    sires: tuple[str, ...] = (),
    born: PartialDate | None = GROWN,
    **more: object,
) -> Animal:
    """An animal. ``shows``: locus to look."""
    seen = tuple(SeenLook(look, locus, NOWHERE) for locus, look in (shows or {}).items())
    genes = Genes(
        Judged(seen, unsure, NOWHERE, written=written),
        tuple(
            Stated(locus, odds, "66%", NOWHERE, quoted=odds.keys() != {("+", "+")})
            for locus, odds in (stated or {}).items()
        ),
        tuple(DnaTest(locus=locus, genotypes=genotypes, place=NOWHERE) for locus, genotypes in (tests or {}).items()),
    )
    bare = Animal(
        id=animal_id,
        name=animal_id.split("/")[-1].capitalize(),
        species="corn-snake",
        sex=Sex.UNKNOWN,
        place=NOWHERE,
        genes=(genes,),
        born=born,
        dam=dam,
        sires=tuple((sire, Fraction(1, len(sires))) for sire in sires),
    )
    return replace(bare, **more)


def collection_of(*animals: Animal, litters: tuple[Litter, ...] = (), species: Species | None = None) -> Collection:
    return Collection(
        Site(name="Quillmoor Snakes", place=NOWHERE, language="en-GB"),
        {"corn-snake": species or species_of()},
        {animal.id: animal for animal in animals},
        {litter.id: litter for litter in litters},
        {},
        {},
    )


Known = Mapping[str, Mapping[str, Mapping[Genotype, Fraction]]]
Because = Mapping[tuple[str, str], tuple[Reason, ...]]


def answers_of(collection: Collection, known: Known) -> Answers:
    """The answers named in ``known``; every other locus of every animal is wild type for certain."""
    posteriors = {
        animal.id: {
            locus.id: known.get(animal.id, {}).get(locus.id, {("+", "+"): Fraction(1)})
            for locus in collection.species[animal.species].genome.loci
        }
        for animal in collection.animals.values()
    }
    return answers_alone(posteriors)


def answers_alone(posteriors: Mapping[str, Mapping[str, Posterior]]) -> Answers:
    """Posteriors as all answers that there are, by records that leave nothing else possible."""
    possible = {
        animal: {locus: frozenset(odds) for locus, odds in own.items() if odds} for animal, own in posteriors.items()
    }
    return Answers(posteriors, {}, {}, (), (), possible=possible)


def told(
    collection: Collection,
    known: Known,
    because: Because | None = None,
    as_of: dt.date = TODAY,
    left_open: Mapping[str, Mapping[str, frozenset[Genotype]]] | None = None,
) -> tuple[Mapping[str, tuple[Claim, ...]], Voice]:
    """The claims of a small collection, and the voice that tells them."""
    answers = answers_of(collection, known)
    for animal, own in (left_open or {}).items():
        more = {locus: own.get(locus, frozenset()) | left for locus, left in answers.possible[animal].items()}
        answers = replace(answers, possible={**answers.possible, animal: more})
    claims = claims_of(collection, answers, lambda animal, locus: (because or {}).get((animal, locus), ()), as_of)
    return claims, Voice(collection, answers, as_of)
