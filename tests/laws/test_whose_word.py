"""A claim hangs on a previous keeper's word if, and as good as only if, another word would change it."""

import random
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache, partial

import pytest
from helpers.small_collections import HYPO, MOTLEY_STRIPE, TESSERA, TODAY, animal_of, collection_of, species_of

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.evidence.answers import Answers, answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import Claim, ClaimKind, chance_of_allele, chance_of_copies
from sitegen.evidence.reasons import reasons
from sitegen.genetics.loci import WILD, Genotype, Sex

LOCI = (HYPO, MOTLEY_STRIPE, TESSERA)
SPECIES = species_of(*LOCI)


def herd(seed: int) -> Collection:
    """Four founders and two generations; true genotypes are dropped down, so that the records agree."""
    dice = random.Random(seed)
    true: dict[str, dict[str, Genotype]] = {}
    animals: list[Animal] = []

    def add(name: str, sex: Sex, dam: str | None = None, sire: str | None = None) -> None:
        stated: dict[str, Mapping[Genotype, Fraction]] = {}
        true[name] = {}
        for locus in LOCI:
            if dam and sire:
                pair = [dice.choice(true[parent][locus.id]) for parent in (dam, sire)]
            else:
                pair = [WILD, dice.choice([WILD, *(allele.id for allele in locus.alleles)])]
            genotype = true[name][locus.id] = locus.genotype(*pair)
            carried = dice.choice([allele for allele in genotype if allele != WILD] or [locus.alleles[0].id])
            if not dam and locus is not TESSERA and (genotype != (WILD, WILD) or dice.random() < 0.5):
                chance = dice.choice([Fraction(1, 2), Fraction(2, 3), Fraction(1)])
                chance = chance if genotype != (WILD, WILD) else min(chance, Fraction(2, 3))
                odds = {(WILD, WILD): 1 - chance, (WILD, carried): chance}
                stated[locus.id] = {each: part for each, part in odds.items() if part}
        judged = [locus for locus in LOCI if dice.random() < 0.8]
        looks = {locus.id: locus.shown[true[name][locus.id]] for locus in judged if true[name][locus.id] in locus.shown}
        unsure = tuple(locus.id for locus in LOCI if locus not in judged)
        sires = (sire,) if sire else ()
        animals.append(animal_of(name, shows=looks, unsure=unsure, stated=stated, dam=dam, sires=sires, sex=sex))

    for rank, name in enumerate(("juniper", "flint", "sage", "basalt")):
        add(name, Sex.MALE if rank % 2 else Sex.FEMALE)
    for rank in range(4):
        dam, sire = dice.choice([("juniper", "flint"), ("sage", "basalt"), ("sage", "flint")])
        add(f"b{rank}", Sex.MALE if rank % 2 else Sex.FEMALE, dam, sire)
    for rank in range(4):
        add(f"c{rank}", Sex.UNKNOWN, dice.choice(["b0", "b2", "juniper"]), dice.choice(["b1", "b3", "basalt"]))
    return collection_of(*animals, species=SPECIES)


def with_another_word(collection: Collection, chance: Fraction) -> Collection:
    """The same records, had every previous keeper stated another chance."""
    animals = {}
    for animal in collection.animals.values():
        genes = []
        for entry in animal.genes:
            words = []
            for word in entry.stated:
                carried = next(genotype for genotype in word.odds if genotype != (WILD, WILD))
                words.append(replace(word, odds={(WILD, WILD): 1 - chance, carried: chance}))
            genes.append(replace(entry, stated=tuple(words)))
        animals[animal.id] = replace(animal, genes=tuple(genes))
    return replace(collection, animals=animals)


def answered(collection: Collection) -> tuple[Answers, Mapping[str, tuple[Claim, ...]]]:
    asked = ask(gather(collection))
    answers = answers_of(asked)
    return answers, claims_of(collection, answers, partial(reasons, asked), TODAY)


def claimed_chance(claim: Claim, answers: Answers) -> Fraction:
    """The chance that a claim speaks of, under other answers; how many copies it has where both are told."""
    posterior = answers.posteriors[claim.animal][claim.locus]
    two = claim.kind is ClaimKind.ONE_OR_TWO_COPIES or (claim.kind is ClaimKind.CARRIES and claim.copies == -1)
    return chance_of_copies(posterior, claim.allele, 2) if two else chance_of_allele(posterior, claim.allele)


@cache
def moved_and_told(seed: int) -> list[tuple[bool, Claim]]:
    """Each claim that is not just a look, with whether another word would move it."""
    collection = herd(seed)
    _, claims = answered(collection)
    others = [answered(with_another_word(collection, chance))[0] for chance in (Fraction(1, 7), Fraction(4, 5))]
    found = []
    for claim in (claim for own in claims.values() for claim in own if claim.allele):
        if claim.kind in (ClaimKind.SHOWS, ClaimKind.RULED_OUT):
            continue
        first, second = (claimed_chance(claim, other) for other in others)
        found.append((first != second, claim))
    return found


@pytest.mark.parametrize("seed", range(40))
def test_what_another_word_would_change_is_said_to_hang_on_it(seed):
    for moves, claim in moved_and_told(seed):
        assert claim.hangs_on or not moves, claim


def test_what_no_word_would_change_is_as_good_as_never_said_to_hang_on_one():
    """A claim may name too many words where several balance each other out, but not often."""
    all_claims = [entry for seed in range(40) for entry in moved_and_told(seed)]
    hanging = [(moves, claim) for moves, claim in all_claims if claim.hangs_on]
    without_cause = [claim for moves, claim in hanging if not moves]
    assert len(hanging) > 100
    assert len(without_cause) * 20 <= len(hanging), without_cause[:3]
