"""Changes that are told to readers: none in which the words before and after are the same."""

from fractions import Fraction

from helpers.small_collections import TESSERA, animal_of, collection_of, species_of

from sitegen.content.genes import Judged
from sitegen.content.litters import Litter, Others
from sitegen.content.values import PartialDate
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.changes import ChangeKind, changes_of
from sitegen.evidence.history import history
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.site.material import told_changes

HERE = Place("litter.yaml")
ONE_OR_TWO = {("+", "tessera"): Fraction(1, 2), ("tessera", "tessera"): Fraction(1, 2)}


def test_nothing_is_told_in_the_same_words_before_and_after():
    """What nobody saw itself is told as at least one copy, however likely two are."""
    sage = animal_of("sage", stated={"tessera": ONE_OR_TWO}, sex=Sex.FEMALE, unsure=("tessera",))
    flint = animal_of("flint", stated={"tessera": {("+", "tessera"): Fraction(1)}}, sex=Sex.MALE, unsure=("tessera",))
    litters = tuple(
        Litter(
            id=str(year),
            name=str(year),
            species="corn-snake",
            place=HERE,
            dam="sage",
            sires=(("flint", Fraction(1)),),
            young=(),
            others=(Others(count=1, judged=Judged((), (), HERE), sex=Sex.UNKNOWN, place=HERE),) if year == 2025 else (),
            born=PartialDate(year, 7, 18),
        )
        for year in (2024, 2025)
    )
    other = animal_of("other", dam="sage", sires=("flint",), born=PartialDate(2024, 7, 18), unsure=("tessera",))
    records = collection_of(sage, flint, other, litters=litters, species=species_of(TESSERA))
    arrivals = arrivals_of(records)
    moved = [change.kind for change in changes_of(arrivals, history(arrivals), {})["sage"]]
    assert moved == [ChangeKind.COPIES_SETTLED]
    assert "sage" not in told_changes(records, {})
