"""The pages that list animals; what is available, also when nothing is."""

import datetime as dt
from dataclasses import replace

import pytest
from helpers.small_site import AS_OF, collection, page_at, small_material, whole_site, words_in

from sitegen.content.intervals import Interval, Start
from sitegen.content.litters import Failed, FailedAs
from sitegen.content.values import PartialDate
from sitegen.site.lists import AvailablePage, CollectionPage, available_page
from sitegen.site.material import folio
from sitegen.site.start_page import start_page
from sitegen.year.due import foretold


def test_offers_stand_by_state() -> None:
    available = page_at("available.html").content
    assert isinstance(available, AvailablePage)
    assert [entry.id for group in available.groups for entry in group.entries] == ["2026-x/01"]
    assert [entry.id for entry in available.held] == ["2026-x/02"]
    assert [entry.id for entry in available.sold] == ["2026-x/04"]
    assert available.cautions


def test_nothing_available_is_said() -> None:
    records = collection()
    unsold = {k: replace(a, offer=None) for k, a in records.animals.items()}
    found = page_at("available.html", whole_site(small_material(replace(records, animals=unsold)))).content
    assert isinstance(found, AvailablePage)
    assert found.groups == ()
    assert words_in(found.intro) == "Nothing is available now. "


def test_an_animal_that_died_is_offered_to_nobody() -> None:
    records = collection()
    from_01 = records.animals["2026-x/01"]
    assert from_01.born is not None
    died = {**records.animals, "2026-x/01": replace(from_01, died=from_01.born)}
    found = page_at("available.html", whole_site(small_material(replace(records, animals=died)))).content
    assert isinstance(found, AvailablePage)
    assert found.groups == ()


def told(interval: Interval | None = None, **dates: PartialDate | Failed | None) -> tuple[str, str]:
    records = collection()
    intervals = {Start.LAID: interval} if interval else {}
    species = {key: replace(each, intervals=intervals) for key, each in records.species.items()}
    litter = replace(next(iter(records.litters.values())), young=(), others=(), **{"born": None, **dates})  # type: ignore[arg-type]
    kept = {a.id: replace(a, offer=None, litter="", number="") for a in records.animals.values() if not a.litter}
    material = small_material(replace(records, species=species, animals=kept, litters={litter.id: litter}))
    page, start = available_page(folio(material, "available.html")), start_page(folio(material, "index.html"))
    assert page.groups == ()
    return "".join(s.text for s in page.intro), "".join(s.text for s in start.offered_note)


def day(date: dt.date) -> PartialDate:
    return PartialDate(date.year, date.month, date.day)


def test_when_nothing_is_available_the_next_young_are_told_of() -> None:
    later = day(AS_OF + dt.timedelta(days=40))
    on_page, on_start = told(expected=later)
    assert on_page == on_start
    assert on_page.startswith("Nothing is available now. The next clutch is expected December 11, 2026: ")


@pytest.mark.parametrize("dates", [{"expected": None, "laid": None}, {"expected": day(AS_OF - dt.timedelta(days=400))}])
def test_nothing_is_promised_that_the_records_do_not_tell(dates: dict[str, PartialDate | None]) -> None:
    assert told(**dates)[0] == "Nothing is available now."


def test_a_clutch_that_failed_is_not_waited_for() -> None:
    failed = Failed(date=day(AS_OF), what=FailedAs.SLUGS)
    later, laid = day(AS_OF + dt.timedelta(days=40)), day(AS_OF - dt.timedelta(days=9))
    assert told(expected=later, laid=laid, failed=failed) == ("Nothing is available now.",) * 2


def test_eggs_without_a_day_are_told_of_without_one() -> None:
    assert "A clutch is on its way: " in told(expected=None, laid=day(AS_OF - dt.timedelta(days=9)))[0]


def test_eggs_have_their_likely_days_where_the_species_tells_them() -> None:
    usual, laid = Interval(usual=62, spread=3), AS_OF - dt.timedelta(days=9)
    first, last = (laid + dt.timedelta(each) for each in foretold(usual, [], []).days())
    on_page, _ = told(usual, expected=None, laid=day(laid))
    assert f"is expected between {first:%B} {first.day} and {last:%B} {last.day}, {last.year}: " in on_page
    long_ago = AS_OF - dt.timedelta(days=90)
    assert "A clutch is on its way: " in told(usual, expected=None, laid=day(long_ago))[0]


def test_the_small_picture_of_a_list_is_that_of_the_highest_chance_of_a_hidden_gene() -> None:
    page = page_at("collection.html").content
    assert isinstance(page, CollectionPage)
    juniper = next(entry for group in page.groups for entry in group.entries if entry.id == "juniper")
    assert juniper.odds is not None
    assert (juniper.odds.filled, juniper.odds_words) == (67, "hypo: 67 in 100")
    drawn = [entry for group in page.groups for entry in group.entries if entry.odds]
    assert all(entry.odds_words.endswith("in 100") for entry in drawn)
