"""Seasons, ages and births."""

import datetime as dt
from dataclasses import replace

import pytest
from helpers.by_hand import animal, collection, litter, recessive, snake

from sitegen.content.breeding_years import BreedingYear, breeding_year, grown_from
from sitegen.content.litters import Failed, FailedAs, Litter
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex

SPRING = BreedingYear(3, 7)
AUTUMN = BreedingYear(10, 6)


@pytest.mark.parametrize(
    ("born", "months", "season"),
    [
        (dt.date(2024, 7, 17), 30, 2027),  # January 2027
        (dt.date(2024, 7, 17), 18, 2026),  # January 2026
        (dt.date(2023, 9, 1), 30, 2026),  # the very first of March 2026
        (dt.date(2023, 9, 2), 30, 2027),  # a day too late
        (dt.date(2024, 7, 17), 0, 2025),  # born after this year's pairing
    ],
)
def test_an_animal_is_of_age_on_the_first_of_the_month(born: dt.date, months: int, season: int) -> None:
    assert SPRING.first_season(born, months) == season


def test_a_season_is_named_by_the_year_of_birth() -> None:
    assert (SPRING.pairing_day(2026), SPRING.birthday(2026)) == (dt.date(2026, 3, 1), dt.date(2026, 7, 1))
    assert (AUTUMN.pairing_day(2026), AUTUMN.birthday(2026)) == (dt.date(2025, 10, 1), dt.date(2026, 6, 1))


@pytest.mark.parametrize(
    ("year", "day", "season"),
    [
        (SPRING, "2026-03-31", 2026),
        (SPRING, "2026-04-01", 2027),
        (SPRING, "2026-01-01", 2026),
        (AUTUMN, "2025-10-31", 2026),
        (AUTUMN, "2025-11-01", 2027),
        (AUTUMN, "2026-01-01", 2027),
    ],
)
def test_a_season_is_open_until_its_month_is_over(year: BreedingYear, day: str, season: int) -> None:
    assert year.next_open(dt.date.fromisoformat(day)) == season


@pytest.mark.parametrize(
    ("year", "born", "months", "season"),
    [
        (AUTUMN, dt.date(2024, 6, 3), 18, 2027),  # December 2025, after the pairing of October 2025
        (AUTUMN, dt.date(2024, 3, 30), 18, 2026),  # the end of September 2025
        (AUTUMN, dt.date(2024, 6, 3), 0, 2025),  # paired in October 2024
        (SPRING, dt.date(2024, 1, 10), 0, 2025),  # of age by March 2024, which is the season of its own birth
    ],
)
def test_an_animal_never_breeds_in_the_season_of_its_birth(
    year: BreedingYear, born: dt.date, months: int, season: int
) -> None:
    assert year.first_season(born, months) == season


def bred(**dates: PartialDate) -> Litter:
    return replace(litter("x", "d", "s")[0], **dates)


@pytest.mark.parametrize(
    ("year", "dates", "season"),
    [
        (SPRING, {"paired": (2025, 3), "born": (2025, 7)}, 2025),
        (SPRING, {"paired": (2025, 12), "born": (2026, 4)}, 2026),
        (SPRING, {"paired": (2025, 12), "expected": (2026, 4, 2)}, 2026),
        (AUTUMN, {"paired": (2025, 11), "born": (2026, 6)}, 2026),
        (AUTUMN, {"born": (2026,)}, 2026),
        (AUTUMN, {"paired": (2025,)}, 2026),
        (SPRING, {"paired": (2025,)}, 2025),
        (AUTUMN, {"paired": (2025, 11)}, 2026),  # eight months later: July 2026
        (AUTUMN, {"paired": (2026, 2)}, 2026),  # October 2026
        (SPRING, {"paired": (2025, 8)}, 2025),  # a second clutch: December 2025
        (SPRING, {"paired": (2025, 12)}, 2026),  # April 2026
        (SPRING, {"laid": (2025, 5)}, 2025),
        (SPRING, {"laid": (2025, 8)}, 2025),  # no later than four months: December 2025
        (BreedingYear(11, 1), {"laid": (2025, 12)}, 2026),
        (BreedingYear(11, 1), {"laid": (2025,)}, 2025),
        (SPRING, {}, None),
    ],
)
def test_the_season_of_a_litter_is_the_year_of_its_birth(
    year: BreedingYear, dates: dict[str, tuple[int, ...]], season: int | None
) -> None:
    assert year.season_of(bred(**{key: PartialDate(*day) for key, day in dates.items()})) == season


def test_the_months_are_recorded_usual_or_assumed() -> None:
    own = snake(recessive("amel"))
    assert breeding_year(collection(own), own) == SPRING
    bare = replace(own, breeding_season=None)
    assert breeding_year(collection(bare), bare) == BreedingYear(3, 7, assumed=True)
    kept = collection(bare, animal("d"), animal("s"))
    litters = {
        str(n): replace(bred(paired=PartialDate(2020 + n, month), born=PartialDate(2020 + n, 8)), id=str(n))
        for n, month in enumerate((4, 5, 5))
    }
    assert breeding_year(replace(kept, litters=litters), bare) == BreedingYear(5, 8)


def test_ages_count_from_the_last_day_that_a_date_can_mean() -> None:
    own = snake(recessive("amel"), grown={"female": 2, "male": 1})
    kept = collection(own, animal("year", born="2023"), animal("unknown"), animal("day", born="2023-01-01"))
    assert grown_from(kept, SPRING, kept.animals["day"], Sex.FEMALE) == 2025
    assert grown_from(kept, SPRING, kept.animals["year"], Sex.FEMALE) == 2026
    assert grown_from(kept, SPRING, kept.animals["year"], Sex.MALE) == 2025
    assert grown_from(kept, SPRING, kept.animals["unknown"], Sex.FEMALE) is None


@pytest.mark.parametrize(
    ("year", "dates", "failed", "season"),
    [
        (SPRING, {"paired": (2025, 3)}, (FailedAs.SLUGS, 2025, 6), 2025),
        (AUTUMN, {"paired": (2025, 11)}, (FailedAs.NOT_GRAVID, 2026, 3), 2026),
        (SPRING, {"expected": (2025, 7)}, (FailedAs.STILLBORN, 2026, 1), 2026),
        (SPRING, {}, (FailedAs.NOT_GRAVID, 2025, 9), 2025),
        (SPRING, {}, (FailedAs.REABSORBED, 2026, 1), 2025),
        (SPRING, {}, (FailedAs.REABSORBED, 2026), 2026),
        (AUTUMN, {}, (FailedAs.NOT_GRAVID, 2025, 11), 2026),
        (AUTUMN, {}, (FailedAs.SLUGS, 2026, 5), 2026),
    ],
)
def test_a_failed_litter_belongs_to_the_season_in_which_it_should_have_come(
    year: BreedingYear, dates: dict[str, tuple[int, ...]], failed: tuple[FailedAs, int], season: int
) -> None:
    what, *day = failed
    record = bred(**{key: PartialDate(*each) for key, each in dates.items()})
    assert year.season_of(replace(record, failed=Failed(date=PartialDate(*day), what=what))) == season
