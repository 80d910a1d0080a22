"""Seasons, ages and births."""

import datetime as dt
from dataclasses import replace

import pytest
from helpers.by_hand import animal, collection, litter, recessive, snake

from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.seasons import BreedingYear, breeding_year, grown_from, last_season

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


def test_young_of_an_autumn_pairing_are_born_in_the_next_year() -> None:
    assert SPRING.birthday(2026) == dt.date(2026, 7, 1)
    assert AUTUMN.birthday(2026) == dt.date(2027, 6, 1)


@pytest.mark.parametrize(("day", "season"), [("2026-03-31", 2026), ("2026-04-01", 2027), ("2026-01-01", 2026)])
def test_a_season_is_open_until_its_month_is_over(day: str, season: int) -> None:
    assert SPRING.next_open(dt.date.fromisoformat(day)) == season


def bred(**dates: PartialDate) -> Litter:
    return replace(litter("x", "d", "s")[0], **dates)


def test_the_season_of_a_litter_is_that_of_its_pairing() -> None:
    assert SPRING.season_of(bred(paired=PartialDate(2025, 3), born=PartialDate(2025, 7))) == 2025
    assert AUTUMN.season_of(bred(paired=PartialDate(2025, 11), born=PartialDate(2026, 6))) == 2025
    assert AUTUMN.season_of(bred(born=PartialDate(2026, 6, 3))) == 2025
    assert SPRING.season_of(bred(born=PartialDate(2026, 7))) == 2026
    assert SPRING.season_of(bred()) is None


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


def test_a_dams_last_season() -> None:
    own = snake(recessive("amel"))
    kept = collection(own, animal("d"), animal("s"), litter("x", "d", "s", born="2024-07-01"),
                      litter("y", "d", "s", born="2025-07-01"))  # fmt: skip
    assert last_season(kept, SPRING, "d") == 2025
    assert last_season(kept, SPRING, "s") is None
