"""What pages are made from: names of litters, changes that are told, and the day on which a page was last changed."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

from helpers.small_collections import TESSERA, animal_of, collection_of, species_of
from helpers.small_site import collection, litter, small_material, whole_site

from sitegen.content.animals import Meal
from sitegen.content.genes import Judged
from sitegen.content.litters import Litter, Others
from sitegen.content.values import PartialDate
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.changes import Change, ChangeKind, changes_of
from sitegen.evidence.history import history
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.site.material import Material, told_changes, with_litter_names


def named(**litters: object) -> dict[str, str]:
    records = collection()
    return {k: v.name for k, v in with_litter_names(replace(records, litters=litters)).litters.items()}


UNNAMED = replace(litter(), name="2026-x")


def test_a_litter_is_called_by_its_parents_and_year() -> None:
    assert named(**{"2026-x": UNNAMED}) == {"2026-x": "Juniper and Flint 2026"}
    undated = replace(UNNAMED, born=None, paired=None)
    assert named(**{"2026-x": undated}) == {"2026-x": "Juniper and Flint"}


def test_a_name_that_was_written_stays() -> None:
    assert named(**{"2026-x": replace(litter(), name="The early ones")}) == {"2026-x": "The early ones"}


def test_possible_sires_are_all_named() -> None:
    two = replace(UNNAMED, sires=(("flint", Fraction(1, 2)), ("2026-x/01", Fraction(1, 2))))
    assert named(**{"2026-x": two}) == {"2026-x": "2026-x"}
    assert named(**{"2026-x": replace(two, sires=(("flint", Fraction(1, 2)), ("sorrel", Fraction(1, 2))))}) == {
        "2026-x": "Juniper and Flint or Sorrel 2026"
    }


def test_a_litter_without_a_parent_keeps_the_name_of_its_folder() -> None:
    assert named(**{"2026-x": replace(UNNAMED, dam=None)}) == {"2026-x": "2026-x"}
    assert named(**{"2026-x": replace(UNNAMED, sires=())}) == {"2026-x": "2026-x"}


def test_two_litters_are_never_called_the_same() -> None:
    again = replace(UNNAMED, id="2026-y", name="2026-y")
    assert named(**{"2026-x": UNNAMED, "2026-y": again}) == {"2026-x": "2026-x", "2026-y": "2026-y"}


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


def days(material: Material) -> dict[str, str]:
    return {page.address: page.changed for page in whole_site(material)}


def test_pages_have_the_newest_day_of_what_they_tell() -> None:
    found = days(small_material())
    assert found["animals/juniper.html"] == "2026-10-03"  # her last meal
    assert found["litters/2026-x/03.html"] == "2026-07-18"
    assert found["litters/2026-x.html"] == "2026-10-09"  # one of its young was sold
    assert found["projects/sun.html"] == "2026-10-09"  # so its litter changed
    assert found["animals/juniper-pictures.html"] == "2025-06-12"
    assert found["available.html"] == "2026-10-09"
    assert found["journal.html"] == "2026-10-09"
    assert found["index.html"] == found["collection.html"] == "2026-10-09"


def test_where_no_record_tells_a_day_none_is_told() -> None:
    found = days(small_material())
    assert found["about.html"] == found["odds.html"] == found["genes/corn-snake/amel.html"] == ""
    records = collection()
    bare = replace(records.animals["flint"], born=None)
    assert days(small_material(replace(records, animals={"flint": bare}, litters={}, projects={})))["index.html"] == ""


def test_what_evidence_changed_is_a_change_of_the_page() -> None:
    change = Change(
        ChangeKind.MOVED, "juniper", "corn-snake", "hypo", "hypo", dt.date(2026, 10, 20), None, None, Fraction(1, 3),
        Fraction(1, 2), (),
    )  # fmt: skip
    assert days(replace(small_material(), changes={"juniper": (change,)}))["animals/juniper.html"] == "2026-10-20"


def test_days_that_lie_ahead_do_not_count_and_of_a_partial_date_the_first_day_does() -> None:
    records = collection()
    juniper = records.animals["juniper"]
    meals = (Meal(PartialDate(2027, 1, 1), "mouse"), Meal(PartialDate(2026, 11), "mouse"))
    changed = {**records.animals, "juniper": replace(juniper, meals=meals)}
    assert days(small_material(replace(records, animals=changed)))["animals/juniper.html"] == "2026-11-01"
