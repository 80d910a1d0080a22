"""What a sheet says of an animal that the records say otherwise, or that the evidence does not bear out."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.evidence.chances import chance_of_allele, chance_of_copies
from sitegen.genetics.loci import WILD, Sex
from sitegen.keeper.columns import Field
from sitegen.keeper.labels import Carried
from sitegen.keeper.rows import Draft
from sitegen.keeper.standing import Standing
from sitegen.words.numbers import in_100

_ROUNDED = Fraction(1, 100)
"""A percentage that differs by less says the same: 67% and 2/3."""

Difference = tuple[Field, str]
"""The kind of column, and what differs, as a clause."""


def differences(draft: Draft, standing: Standing) -> Iterator[Difference]:
    """Where a row differs from the record that it stands for."""
    animal = standing.collection.animals[draft.id]
    own_name = "" if animal.name in (animal.id, animal.number) else animal.name
    pairs: tuple[tuple[Field, object, object], ...] = (
        (Field.NAME, draft.name, own_name or draft.name),
        (Field.SPECIES, draft.species if Field.SPECIES in draft.cells else "", animal.species),
        (Field.SEX, None if draft.sex is Sex.UNKNOWN else draft.sex, animal.sex),
        (Field.BORN, draft.born, animal.born),
        (Field.DIED, draft.died, animal.died),
        (Field.DAM, draft.dam, animal.dam or ""),
        (Field.LINE, draft.line, animal.line),
        (Field.LOCALITY, draft.locality, animal.locality),
        (Field.STATE, draft.state, animal.offer.state if animal.offer else None),
    )
    for held, here, there in pairs:
        if here and here != there:
            yield held, f"the record says {there or 'nothing'}"
    yield from _sires(draft, animal)
    yield from _looks(draft, animal)
    for carried in draft.label.carried:
        if not _states(animal, carried):
            yield from carrying(draft, carried, standing)


def _sires(draft: Draft, animal: Animal) -> Iterator[Difference]:
    here, there = [sire for sire, _ in draft.sires], [sire for sire, _ in animal.sires]
    if here and sorted(here) != sorted(there):
        yield Field.SIRE, f"the record says {' or '.join(there) or 'nothing'}"


def seen_of(animal: Animal) -> Mapping[str, str]:
    """Locus to the look that the records name."""
    return {look.locus: look.look for genes in animal.genes for look in genes.judged.seen}


def _looks(draft: Draft, animal: Animal) -> Iterator[Difference]:
    if not draft.label.judged:
        return
    there = seen_of(animal)
    unlike = {locus for locus, look in draft.label.looks if there.get(locus) not in (look, None)}
    here = {locus for locus, _ in draft.label.looks}
    if unlike or here != set(there):
        looks = ", ".join(there.values()) or "nothing"
        judged = any(genes.judged.written for genes in animal.genes)
        yield Field.GENETICS, f"the record says that it shows {looks}" if judged else "the record judges nothing"


def _states(animal: Animal, carried: Carried) -> bool:
    """True when the record's own statement is the same."""
    for genes in animal.genes:
        for stated in genes.stated:
            if stated.locus == carried.locus and carried.chance is not None:
                held = sum((share for pair, share in stated.odds.items() if carried.allele in pair), Fraction(0))
                copies = max((pair.count(carried.allele) for pair in stated.odds), default=0)
                if held == carried.chance and copies == carried.copies:
                    return True
    return False


def carrying(draft: Draft, carried: Carried, standing: Standing) -> Iterator[Difference]:
    """What a label says of a gene, against what the evidence gives."""
    animal = standing.collection.animals[draft.id]
    posterior = standing.answers.posteriors.get(animal.id, {}).get(carried.locus, {})
    if not posterior:
        return
    if carried.copies == 2:
        chance = chance_of_copies(posterior, carried.allele, 2)
    else:
        chance = chance_of_allele(posterior, carried.allele)
    said = carried.chance
    fits = chance > 0 if said is None else abs(said - chance) < _ROUNDED and (said == 1) == (chance == 1)
    if fits:
        return
    if carried.copies == 1 and all(WILD not in pair and carried.allele in pair for pair in posterior):
        return
    what = "has two copies of" if carried.copies == 2 else "carries"
    more = said is not None and said < chance
    held = "none do" if not chance else f"{in_100(chance)} such animals do"
    side = "less" if more else "more"
    yield (
        Field.GENETICS,
        f'"{carried.written}" says {side} than the records: that it {what} {carried.allele} rests on its parents and '
        f"other evidence, and by them {held}",
    )
