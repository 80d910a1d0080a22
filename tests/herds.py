"""Seeded pedigrees of many animals: an ordinary collection, and a closed group bred at random."""

import random
from fractions import Fraction

from small_pedigrees import any_genotype, recessive

from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.questions import Member, Observation, Question

ONE = Fraction(1)
SEXES = (Sex.FEMALE, Sex.MALE)


def ordinary(n_animals: int, seed: int = 1) -> tuple[Member, ...]:
    """A growing collection: litters of 3 to 9, of which one or two are kept; new founders each season; back-crosses."""
    dice = random.Random(seed)
    members: list[Member] = []
    adults: dict[Sex, list[str]] = {sex: [] for sex in SEXES}

    def add(sex: Sex, dam: str | None = None, sire: str | None = None, litter: str = "") -> str:
        name = f"a{len(members):04d}"
        members.append(Member(name, sex, dam, ((sire, ONE),) if sire else (), litter))
        return name

    for number in range(10):
        adults[SEXES[number % 2]].append(add(SEXES[number % 2]))
    while len(members) < n_animals:
        young_adults: dict[Sex, list[str]] = {sex: [] for sex in SEXES}
        for sex in SEXES:
            if dice.random() < 0.7:
                adults[sex].append(add(sex))
        for _ in range(3):
            dam, sire = dice.choice(adults[Sex.FEMALE][-8:]), dice.choice(adults[Sex.MALE][-5:])
            litter = [
                (add(sex, dam, sire, f"{dam} {sire} {len(members)}"), sex)
                for sex in (dice.choice(SEXES) for _ in range(dice.randint(3, 9)))
            ]
            for name, sex in litter[: dice.randint(0, 2)]:
                young_adults[sex].append(name)
        for sex in SEXES:
            adults[sex] += young_adults[sex]
    return tuple(members[:n_animals])


def closed(n_animals: int, seed: int = 1, n_founders: int = 20, generation: int = 20) -> tuple[Member, ...]:
    """A closed group: each generation is bred from two animals of the one before, at random for each young."""
    dice = random.Random(seed)
    members = [Member(f"a{number:04d}", SEXES[number % 2]) for number in range(n_founders)]
    while len(members) < n_animals:
        before = members[-generation:]
        dams = [member.id for member in before if member.sex is Sex.FEMALE]
        sires = [member.id for member in before if member.sex is Sex.MALE]
        for number in range(min(generation, n_animals - len(members))):
            pair = dice.choice(dams), ((dice.choice(sires), ONE),)
            members.append(Member(f"a{len(members):04d}", SEXES[number % 2], *pair))
    return tuple(members)


def looked_at(
    members: tuple[Member, ...], at: Locus | None = None, seed: int = 2, share: float = 0.9, odds: bool = True
) -> Question:
    """True genotypes are drawn down the pedigree; most animals are looked at, and show the recessive or do not."""
    dice = random.Random(seed)
    background = any_genotype("amel") if odds else {("+", "+"): Fraction(1)}
    at = at or recessive(odds=background)
    true: dict[str, Genotype] = {}
    seen = []
    for member in members:
        if member.dam is None:
            alleles = list(dice.choice([("+", "+"), ("+", "amel")]))
        else:
            alleles = [dice.choice(true[member.dam]), dice.choice(true[member.sires[0][0]])]
        true[member.id] = at.genotype(*alleles)
        if dice.random() < share:
            shows = true[member.id] == ("amel", "amel")
            likelihood = {("amel", "amel"): ONE} if shows else {("+", "+"): ONE, ("+", "amel"): ONE}
            seen.append(Observation(member.id, likelihood, f"{member.id} seen"))
    return Question(at, members, {}, tuple(seen))
