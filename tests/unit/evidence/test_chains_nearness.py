from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    AMEL,
    HYPO,
    NOWHERE,
    animal_of,
    answers_of,
    collection_of,
    dominant,
    locus_of,
    species_of,
)

from sitegen.content.genes import Chromosome, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.content.values import PartialDate
from sitegen.evidence.chains import chains_of
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex

LOOKED = Judged((), (), NOWHERE)


def quiet(name, **more):
    """An animal that nobody looked at."""
    return animal_of(name, written=False, **more)


def graph(*animals, litters=(), settled=()):
    return graph_of(collection_of(*animals, litters=litters, species=species_of(AMEL, HYPO)), AMEL, settled)


def graph_of(collection, locus, settled=()):
    """Of animals of which nothing is certain but of those that are settled."""
    open_ = {("+", "+"): Fraction(1, 2), ("+", locus.id): Fraction(1, 2)}
    known = {name: {locus.id: open_} for name in collection.animals if name not in settled}
    chains = chains_of(gather(collection), answers_of(collection, known), lambda animal, at: ())
    return chains["corn-snake", locus.id]


def near(found):
    return {name: set(others) for name, others in found.neighbours.items()}


def reached(found, start):
    """All founders and parents that bear on the answer for one animal, itself among them, the nearest first."""
    return list(found.bearing_on(start, tuple(found.evidence.collection.animals)))


FAMILY = (quiet("dam"), quiet("sire"), animal_of("young", dam="dam", sires=("sire",)))


def test_parents_and_young_and_mates_are_neighbours_where_the_young_was_looked_at():
    """A young without young of its own is left out, because no way leads through it."""
    found = graph(*FAMILY, quiet("other"))
    assert near(found) == {"dam": {"sire"}, "sire": {"dam"}}
    found = graph(*FAMILY, animal_of("grandchild", dam="young"))
    assert near(found) == {
        "dam": {"sire", "young"},
        "sire": {"dam", "young"},
        "young": {"dam", "sire"},
    }


def test_each_animal_is_reached_once_the_nearest_first():
    found = graph(*FAMILY, animal_of("grandchild", dam="young"), quiet("mate"))
    assert reached(found, "grandchild") == ["grandchild", "young", "dam", "sire"]
    assert reached(found, "dam") == ["dam", "young", "sire"]


def test_a_settled_animal_lets_nothing_pass():
    family = (*FAMILY, animal_of("grandchild", dam="young"))
    found = graph(*family, settled=("young",))
    assert reached(found, "grandchild") == ["grandchild"]
    assert reached(found, "sire") == ["sire", "dam"]
    assert reached(graph(*family), "grandchild") == ["grandchild", "young", "dam", "sire"]


def test_the_line_of_an_animal_without_evidence_joins_the_graph_on_the_way_up():
    found = graph(*FAMILY, quiet("late", dam="between"), quiet("between", dam="young"), quiet("aunt", dam="dam"))
    assert reached(found, "late") == ["late", "between", "young", "dam", "sire"]
    assert "late" not in found.neighbours


@pytest.mark.parametrize(("record", "tells"), [
    (animal_of("young", dam="dam"), True),
    (quiet("young", dam="dam"), False),
    (animal_of("young", dam="dam", unsure=("amel",)), False),
    (animal_of("young", dam="dam", unsure=("hypo",)), True),
    (animal_of("young", dam="dam", shows={"amel": "amel"}, unsure=("amel",)), True),
    (quiet("young", dam="dam", tests={"amel": (("+", "+"),)}), True),
    (quiet("young", dam="dam", tests={"hypo": (("+", "+"),)}), False),
], ids=["looked at", "not judged", "unsure", "unsure elsewhere", "seen", "tested", "tested elsewhere"])  # fmt: skip
def test_what_counts_as_evidence(record, tells):
    assert set(graph(quiet("dam"), record).neighbours) == ({"dam"} if tells else set())


def test_a_known_phase_is_evidence_and_a_record_of_which_nothing_is_sure_is_none():
    young = quiet("young", dam="dam")
    phased = replace(young.genes[0], haplotypes=(Chromosome({"amel": "+"}, NOWHERE),))
    assert set(graph(quiet("dam"), replace(young, genes=(phased,))).neighbours) == {"dam"}
    elsewhere = replace(young.genes[0], haplotypes=(Chromosome({"hypo": "+"}, NOWHERE),))
    assert not graph(quiet("dam"), replace(young, genes=(elsewhere,))).neighbours
    unsure = replace(young.genes[0], judged=replace(LOOKED, unsure_all=True))
    assert not graph(quiet("dam"), replace(young, genes=(unsure,))).neighbours


@pytest.mark.parametrize(("count", "judged", "pair"), [
    (2, LOOKED, True), (0, LOOKED, False), (2, replace(LOOKED, unsure=("amel",)), False),
    (2, Judged((SeenLook("amel", "amel", NOWHERE),), ("amel",), NOWHERE), True)], ids=str)  # fmt: skip
def test_parents_of_counted_young_are_neighbours(count, judged, pair):
    others = (Others(count=count, judged=judged, sex=Sex.UNKNOWN, place=NOWHERE),)
    record = Litter(
        id="2024",
        name="2024",
        species="corn-snake",
        place=NOWHERE,
        dam="dam",
        sires=(("sire", Fraction(1)),),
        young=(),
        others=others,
    )
    found = graph(*FAMILY[:2], litters=(record,))
    assert near(found) == ({"dam": {"sire"}, "sire": {"dam"}} if pair else {})
    assert graph(*FAMILY[:2], litters=(replace(record, species="other"),)).neighbours == {}


def test_counted_young_are_judged_at_birth():
    late = locus_of(dominant("late", visible_from_months=1))
    others = (Others(count=2, judged=LOOKED, sex=Sex.UNKNOWN, place=NOWHERE),)
    record = Litter(
        id="2024",
        name="2024",
        species="corn-snake",
        place=NOWHERE,
        dam="dam",
        sires=(("sire", Fraction(1)),),
        young=(),
        others=others,
    )
    collection = collection_of(*FAMILY[:2], litters=(record,), species=species_of(late))
    assert graph_of(collection, late).neighbours == {}


def test_all_ancestors_of_an_animal_with_evidence_are_in_the_graph():
    line = [quiet("0"), *(quiet(str(n), dam=str(n - 1)) for n in (1, 2, 3))]
    found = graph(*line, animal_of("4", dam="3"))
    assert set(found.neighbours) == {"0", "1", "2", "3"}
    assert reached(found, "4") == ["4", "3", "2", "1", "0"]


def test_one_record_with_evidence_is_enough():
    young = animal_of("young", dam="dam")
    twice = replace(young, genes=(replace(young.genes[0], judged=replace(LOOKED, written=False)), *young.genes))
    assert set(graph(quiet("dam"), twice).neighbours) == {"dam"}


def test_one_allele_of_a_series_that_could_be_judged_is_evidence():
    series = locus_of(dominant("early"), dominant("late", visible_from_months=18), locus_id="series")
    born = PartialDate(2026, 7, 1)
    herd = collection_of(quiet("dam"), animal_of("young", dam="dam", born=born), species=species_of(series))
    assert set(graph_of(herd, series).neighbours) == {"dam"}


def test_one_group_of_counted_young_that_tells_is_enough():
    silent = Others(count=2, judged=replace(LOOKED, unsure=("amel",)), sex=Sex.UNKNOWN, place=NOWHERE)
    record = Litter(
        id="2024",
        name="2024",
        species="corn-snake",
        place=NOWHERE,
        dam="dam",
        sires=(("sire", Fraction(1)),),
        young=(),
        others=(silent, Others(count=2, judged=LOOKED, sex=Sex.UNKNOWN, place=NOWHERE)),
    )
    assert near(graph(*FAMILY[:2], litters=(record,))) == {"dam": {"sire"}, "sire": {"dam"}}


@pytest.mark.parametrize(("day", "tells"), [(PartialDate(2026, 9, 1), False), (PartialDate(2028, 9, 1), True)])
def test_an_animal_that_was_judged_too_young_for_a_gene_is_no_evidence_of_it(day, tells):
    late = locus_of(dominant("late", visible_from_months=18))
    young = animal_of("young", dam="dam", born=PartialDate(2026, 7, 1))
    young = replace(young, genes=(replace(young.genes[0], judged=replace(LOOKED, on=day)),))
    herd = collection_of(quiet("dam"), young, species=species_of(late))
    assert set(graph_of(herd, late).neighbours) == ({"dam"} if tells else set())
