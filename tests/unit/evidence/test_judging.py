"""How old an animal was when it was judged, and what hid what."""

from dataclasses import replace

from helpers.by_hand import allele, animal, collection, date, incomplete, litter, locus, recessive, species

from sitegen.content.animals import Acquired, Meal
from sitegen.content.genes import DnaTest, Judged, SeenLook
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.findings import Place


def _age(name: str, **more: object) -> int | None:
    record = animal(name, shows="", **more)  # type: ignore[arg-type]
    kept = collection(species(recessive("amel")), record)
    return age_when_judged(kept, kept.animals[name], record.genes[0].judged)


def test_the_written_day_of_judging_counts() -> None:
    assert _age("a", born="2024-07-18", on="2025-07-17") == 11
    assert _age("a", born="2024-07-18", on="2025-07-18") == 12


def test_a_date_of_which_only_the_year_is_known_counts_as_the_least_age() -> None:
    assert _age("a", born="2024", on="2026") == 12
    assert _age("a", born="2024-07", on="2024-07-30") == 0


def test_without_a_day_the_latest_date_of_the_record_stands_in() -> None:
    assert _age("a", born="2024-07-01") == 0
    assert _age("a", born="2024-07-01", weighed="2025-01-01") == 6
    assert _age("a") is None
    record = replace(
        animal("a", shows="", born="2024-07-01"),
        meals=(Meal(date("2024-10-01"), "pinky"),),
        acquired=Acquired(date("2024-09-01"), "a keeper"),
    )
    genes = replace(
        record.genes[0],
        tests=(DnaTest(locus="amel", genotypes=(("+", "+"),), place=Place("a"), date=date("2025-08-01")),),
    )
    kept = collection(species(recessive("amel")), replace(record, genes=(genes,)))
    assert age_when_judged(kept, kept.animals["a"], genes.judged) == 13


def test_a_breeding_animal_was_at_least_as_old_as_at_its_last_litter() -> None:
    dam = animal("d", shows="", born="2022-06-01")
    kept = collection(species(recessive("amel")), dam, litter("x", "d", None, born="2025-07-01"))
    assert age_when_judged(kept, kept.animals["d"], dam.genes[0].judged) == 37


def test_a_litter_record_judges_at_birth() -> None:
    kept = collection(species(recessive("amel")), animal("d"), litter("x", "d", None, {"1": {"shows": ""}}))
    assert age_when_judged(kept, kept.animals["x/1"], kept.animals["x/1"].genes[0].judged) == 0


def _judged(*looks: tuple[str, str]) -> Judged:
    place = Place("a", 1, 1)
    return Judged(tuple(SeenLook(look, at, place) for look, at in looks), (), place)


def test_a_gene_hides_in_both_its_looks_and_a_recessive_only_in_its_own() -> None:
    series = locus("uv", allele("ultra"), allele("vanish"), compounds={"ultra/vanish": "both"})
    hypo = recessive("hypo", hidden_by=("pal", "ultra"))
    genome = species(incomplete("pal", "super pal"), series, hypo).genome
    for look in (("pal", "pal"), ("super-pal", "pal"), ("ultra", "uv")):
        assert unjudged_alleles(genome, hypo, _judged(look), None) == {"hypo"}
    for look in (("both", "uv"), ("vanish", "uv")):
        assert unjudged_alleles(genome, hypo, _judged(look), None) == frozenset()


def test_only_the_allele_that_comes_late_is_not_judged_early() -> None:
    series = locus("ms", allele("early"), allele("late", visible_from_months=12))
    genome = species(series).genome
    assert unjudged_alleles(genome, series, _judged(), 11) == {"late"}
    assert unjudged_alleles(genome, series, _judged(), 12) == frozenset()
    assert unjudged_alleles(genome, series, _judged(), None) == frozenset()
