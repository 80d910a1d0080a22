"""What single records say, as clauses for findings: "young 05 of 2026-juniper-flint shows amel"."""

from collections.abc import Sequence

from sitegen.content.animals import Animal
from sitegen.content.genes import DnaTest, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.genetics.loci import Locus, genotype_text
from sitegen.genetics.observations import is_wild


def name_of(animal: Animal) -> str:
    """What a message calls an animal: its name, or number and litter."""
    return f"young {animal.number} of {animal.litter}" if animal.is_young else animal.name or animal.id


def seen_says(animal: Animal, locus: Locus, seen: Sequence[SeenLook]) -> str:
    """That the animal shows these looks."""
    return f"{name_of(animal)} shows {' and '.join(locus.look(each.look).name for each in seen)}"


def unseen_says(animal: Animal, locus: Locus) -> str:
    """That the animal was looked at and nothing of the locus was seen."""
    return f"{name_of(animal)} does not show {_any_look(locus)}"


def tested_says(animal: Animal, locus: Locus, test: DnaTest) -> str:
    """What a laboratory found."""
    if all(is_wild(locus, genotype) for genotype in test.genotypes):
        return f"{name_of(animal)} is DNA-tested as not carrying {locus.id}"
    return f"{name_of(animal)} is DNA-tested as {' or '.join(map(genotype_text, test.genotypes))}"


def tally_says(litter: Litter, locus: Locus, others: Others) -> str:
    """What young show that are not listed one by one."""
    who = f"{others.count} young of {litter.id} that {'is' if others.count == 1 else 'are'} not listed"
    seen = [locus.look(each.look).name for each in others.judged.seen if each.locus == locus.id]
    verb = "shows" if others.count == 1 else "show"
    if seen:
        return f"{who} {verb} {' and '.join(seen)}"
    return f"{who} {'does' if others.count == 1 else 'do'} not show {_any_look(locus)}"


def _any_look(locus: Locus) -> str:
    return " or ".join(look.name for look in locus.looks)
