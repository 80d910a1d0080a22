import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    AMEL,
    COPPER,
    HYPO,
    NOWHERE,
    PALMETTO,
    TODAY,
    animal_of,
    collection_of,
    dominant,
    locus_of,
    species_of,
)

from sitegen.content.genes import Genes, Judged, SeenLook
from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate
from sitegen.evidence.judging import look_seen, why_unjudged
from sitegen.evidence.kinds import Unjudged
from sitegen.findings import Place

LATE = locus_of(dominant("late", visible_from_months=18, hidden_by=("amel",)))
SPECIES = species_of(AMEL, HYPO, LATE)
BORN = PartialDate(2022, 1, 1)
LOOKED = Judged((), (), Place("sage.yaml"))


def why(*judgings: Judged, born: PartialDate | None = BORN, litters: tuple[Litter, ...] = (), **more):
    sage = replace(animal_of("sage", born=born, **more), genes=tuple(Genes(judged) for judged in judgings))
    return why_unjudged(collection_of(sage, litters=litters, species=SPECIES), sage, LATE, "late", TODAY)


def litter(born: PartialDate | None) -> Litter:
    return Litter(
        id="2026",
        name="2026",
        species="corn-snake",
        place=NOWHERE,
        dam="dam",
        sires=(("sire", Fraction(1)),),
        born=born,
    )


GROWN = replace(LOOKED, on=PartialDate(2024, 6, 1))
YOUNG = replace(LOOKED, on=PartialDate(2022, 6, 1))
HYPO_SEEN = (SeenLook("hypo", "hypo", NOWHERE),)
AMEL_SEEN = (SeenLook("amel", "amel", NOWHERE),)
JUDGED = None, ""


@pytest.mark.parametrize(("judgings", "expected"), [
    ([GROWN], JUDGED),
    ([YOUNG, GROWN], JUDGED),
    ([replace(GROWN, written=False), GROWN], JUDGED),
    ([replace(YOUNG, seen=(SeenLook("late", "late", NOWHERE),))], JUDGED),
    ([YOUNG], (Unjudged.WAS_TOO_YOUNG, "")),
    ([YOUNG, replace(GROWN, unsure=("late",))], (Unjudged.WAS_TOO_YOUNG, "")),
    ([replace(GROWN, unsure=("amel",))], JUDGED),
    ([replace(GROWN, unsure=("late",))], (Unjudged.UNSURE, "")),
    ([replace(GROWN, unsure_all=True)], (Unjudged.UNSURE, "")),
    ([replace(GROWN, written=False)], (Unjudged.NOT_RECORDED, "")),
    ([], (Unjudged.NOT_RECORDED, "")),
    ([replace(GROWN, seen=AMEL_SEEN)], (Unjudged.HIDDEN, "amel")),
    ([replace(YOUNG, seen=AMEL_SEEN)], (Unjudged.HIDDEN, "amel")),
    ([replace(YOUNG, seen=HYPO_SEEN)], (Unjudged.WAS_TOO_YOUNG, "")),
    ([replace(GROWN, seen=(*HYPO_SEEN, *AMEL_SEEN))], (Unjudged.HIDDEN, "amel")),
], ids=str)  # fmt: skip
def test_why_nobody_judged_it(judgings, expected):
    assert why(*judgings) == expected


@pytest.mark.parametrize(("born", "too_young"), [
    (PartialDate(2025, 4, 2), True), (PartialDate(2025, 4, 1), False), (PartialDate(2025, 4), True),
    (PartialDate(2025, 3), False), (PartialDate(2025), True)])  # fmt: skip
def test_an_animal_is_too_young_until_the_day_it_reaches_the_age(born, too_young):
    assert dt.date(2026, 10, 1) == TODAY
    assert (why(LOOKED, born=born)[0] is Unjudged.TOO_YOUNG) == too_young


def test_without_a_date_of_birth_that_of_the_litter_counts_and_without_one_nobody_is_too_young():
    assert why(replace(LOOKED, written=False), born=None) == (Unjudged.NOT_RECORDED, "")
    born = litter(PartialDate(2026, 7, 1))
    assert why(LOOKED, born=None, litter="2026", litters=(born,)) == (Unjudged.TOO_YOUNG, "")
    assert why(LOOKED, born=None, litter="2026", litters=(litter(None),)) == JUDGED
    own = animal_of("sage", born=PartialDate(2025), litter="2026")
    assert collection_of(own, litters=(born,)).birth_of(own) == PartialDate(2025)
    other = replace(own, born=None)
    assert collection_of(other, litters=(born,)).birth_of(other) == PartialDate(2026, 7, 1)


def test_the_last_look_that_was_seen_counts():
    genes = tuple(Genes(replace(GROWN, seen=(SeenLook(look, "copper", NOWHERE),))) for look in ("first", "last"))
    assert look_seen(replace(animal_of("sage"), genes=genes), COPPER) == "last"
    assert look_seen(replace(animal_of("sage"), genes=genes), AMEL) == ""


def test_what_one_copy_hides_is_hidden_under_two_copies_too_and_that_look_is_named():
    hidden = locus_of(dominant("late", visible_from_months=18, hidden_by=("palmetto",)))
    both = species_of(PALMETTO, hidden)
    for look in ("palmetto", "super-palmetto"):
        judged = replace(GROWN, seen=(SeenLook(look, "palmetto", NOWHERE),))
        sage = replace(animal_of("sage", born=BORN), genes=(Genes(judged),))
        found = why_unjudged(collection_of(sage, species=both), sage, hidden, "late", TODAY)
        assert found == (Unjudged.HIDDEN, look)
