"""On which day what a page tells of was last changed, by the records alone."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

from helpers.small_site import collection, small_material, whole_site

from sitegen.content.animals import Meal
from sitegen.content.values import PartialDate
from sitegen.evidence.changes import Change, ChangeKind
from sitegen.site.material import Material


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
