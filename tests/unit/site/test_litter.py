"""The page of a litter."""

from dataclasses import replace

from helpers.small_site import HERE, collection, page_at, small_material, whole_site, words_in

from sitegen.content.animals import Offer
from sitegen.content.collection import Collection
from sitegen.content.litters import Failed, FailedAs
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.site.litter import LitterPage, LittersPage
from sitegen.site.parts import text_of


def test_a_litter_lists_young_under_their_numbers() -> None:
    found = page_at("litters/2026-x.html").content
    assert isinstance(found, LitterPage)
    assert [entry.name for entry in found.young] == ["No. 01", "No. 02", "Sorrel", "No. 04"]
    assert "2 more show" in words_in(found.others)
    assert [entry.offer.state if entry.offer else None for entry in found.young] == [
        OfferState.AVAILABLE, OfferState.ON_HOLD, None, OfferState.SOLD,
    ]  # fmt: skip


def test_what_is_left_of_a_litter_is_said_by_number() -> None:
    found = page_at("litters/2026-x.html").content
    assert isinstance(found, LitterPage)
    assert text_of(found.left) == "Still to be had: No. 01. On hold: No. 02."
    assert [span.href for span in found.left if span.href] == ["2026-x/01.html", "2026-x/02.html"]


def test_nothing_is_said_to_be_left_where_nothing_was_offered_and_where_all_went_none_is() -> None:
    records = collection()
    for state, told in ((None, ""), (OfferState.SOLD, "None of its young can be had now.")):
        offer = Offer(state=state, place=HERE) if state else None
        animals = {name: replace(each, offer=offer) if each.litter else each for name, each in records.animals.items()}
        found = page_at("litters/2026-x.html", whole_site(small_material(replace(records, animals=animals)))).content
        assert isinstance(found, LitterPage)
        assert text_of(found.left) == told


def ledger_captions(records: Collection) -> list[str]:
    found = page_at("litters.html", whole_site(small_material(records))).content
    assert isinstance(found, LittersPage)
    plates = [row.plate for year in found.years for row in year.rows]
    assert all(plate.picture and plate.href for plate in plates)
    return [text_of(plate.caption) for plate in plates]


def test_a_litter_in_the_ledger_is_pictured_by_itself_or_by_a_young_or_a_parent_that_is_named() -> None:
    records = collection()
    assert ledger_captions(records) == [""]
    unseen = {name: replace(litter, photos=()) for name, litter in records.litters.items()}
    records = replace(records, litters=unseen)
    assert ledger_captions(records) == ["No. 01"]
    coming = {name: replace(litter, young=()) for name, litter in unseen.items()}
    old = {name: animal for name, animal in records.animals.items() if not animal.litter}
    assert ledger_captions(replace(records, litters=coming, animals=old)) == ["Juniper"]


def failed_records(**dates: PartialDate | None) -> Collection:
    """A clutch that gave slugs, and nobody who came of it."""
    records = collection()
    failed = Failed(date=PartialDate(2026, 6, 3), what=FailedAs.SLUGS)
    empty = replace(records.litters["2026-x"], name="2026-x", young=(), others=(), born=None, eggs=None, infertile=None)
    litter = replace(empty, failed=failed, **dates)  # type: ignore[arg-type]
    animals = {name: each for name, each in records.animals.items() if not each.litter}
    return replace(records, animals=animals, litters={litter.id: litter}, projects={})


def test_a_clutch_that_failed_says_so_and_no_more() -> None:
    pages = whole_site(small_material(failed_records(expected=PartialDate(2026, 8, 1))))
    found = page_at("litters/2026-x.html", pages).content
    assert isinstance(found, LitterPage)
    rows = {row.label: text_of(row.value) for row in found.label}
    assert rows["Young"] == "This clutch did not come: Juniper laid slugs on June 3, 2026."
    assert set(rows) == {"Dam", "Sire", "Paired", "Young"}
    assert found.outcome is None
    ledger = page_at("litters.html", pages).content
    assert isinstance(ledger, LittersPage)
    (year,) = ledger.years
    assert (year.year, year.rows[0].name) == ("2026", "Juniper and Flint 2026")
    assert (year.rows[0].date, year.rows[0].state) == ("ended June 3, 2026", "No young came.")


def test_the_ledger_and_the_name_of_a_litter_go_by_the_year_in_which_it_is_born() -> None:
    records = failed_records(paired=PartialDate(2025, 12, 20), expected=None)
    coming = {"2026-x": replace(records.litters["2026-x"], failed=None, photos=())}
    ledger = page_at("litters.html", whole_site(small_material(replace(records, litters=coming)))).content
    assert isinstance(ledger, LittersPage)
    assert [(year.year, year.rows[0].name) for year in ledger.years] == [("2026", "Juniper and Flint 2026")]
