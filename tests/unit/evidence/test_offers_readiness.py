import datetime as dt

import pytest
from helpers.small_collections import NOWHERE, TODAY, animal_of

from sitegen.content.animals import Meal, Offer
from sitegen.content.prices import OfferState
from sitegen.content.public import Public
from sitegen.content.site import ReadyRules
from sitegen.content.values import PartialDate, Weighing, WrittenAge
from sitegen.evidence.offers import FIRST_YEAR_DAYS, Lacks, Missing, missing, offer_of

RULES = ReadyRules(meals=5, grams=15, age=WrittenAge(days=56))
HATCHED = PartialDate(2026, 7, 18)


def meals(taken: int, refused: int = 0) -> tuple[Meal, ...]:
    return tuple(Meal(PartialDate(2026, 9, day + 1), "pinkie", day < taken) for day in range(taken + refused))


def young(*, n_taken: int = 5, n_refused: int = 0, grams: int | None = 15, **more):
    weights = (
        () if grams is None else (Weighing(PartialDate(2026, 9, 1), 99), Weighing(PartialDate(2026, 9, 20), grams))
    )
    found = {"born": HATCHED, "meals": meals(n_taken, n_refused), "weights": weights, **more}
    return animal_of("sage", **found)


def lacks(animal, rules: ReadyRules = RULES, day: dt.date = TODAY):
    return {each.what: each for each in missing(animal, rules, day)}


def test_a_young_that_meets_every_rule_lacks_nothing():
    assert lacks(young()) == {}


def test_only_meals_that_were_taken_count():
    found = lacks(young(n_taken=3, n_refused=4))
    assert list(found) == [Lacks.MEALS]
    assert (found[Lacks.MEALS].found, found[Lacks.MEALS].wanted) == (3, 5)


@pytest.mark.parametrize(
    ("public", "expected"),
    [
        (None, [Lacks.MEALS, Lacks.WEIGHT]),
        ((Public.WEIGHTS,), [Lacks.UNSHOWN, Lacks.WEIGHT]),
        ((Public.MEALS,), [Lacks.MEALS, Lacks.UNSHOWN]),
        ((), [Lacks.UNSHOWN]),
    ],
)
def test_of_what_is_not_public_no_more_is_told_than_that_something_lacks(public, expected):
    sage = young(n_taken=3, grams=14, public=public, offer=Offer(place=NOWHERE, state=OfferState.AVAILABLE))
    told = offer_of(sage.published, TODAY, RULES, sage)
    assert told is not None
    assert [each.what for each in told.missing] == expected
    assert Missing(Lacks.UNSHOWN) in told.missing or Lacks.UNSHOWN not in expected
    fed = offer_of((ready := young(public=public, offer=sage.offer)).published, TODAY, RULES, ready)
    assert fed is not None
    assert fed.missing == (), "what is kept back counts all the same"


def test_the_last_weight_counts_not_the_highest():
    found = lacks(young(grams=14))
    assert list(found) == [Lacks.WEIGHT]
    assert found[Lacks.WEIGHT].found == 14
    assert lacks(young(grams=None))[Lacks.WEIGHT].found is None


@pytest.mark.parametrize(("day", "young_enough"), [(dt.date(2026, 9, 11), True), (dt.date(2026, 9, 12), False)])
def test_the_age_is_reached_on_the_day(day, young_enough):
    assert HATCHED.latest + dt.timedelta(days=56) == dt.date(2026, 9, 12)
    assert (Lacks.AGE in lacks(young(), day=day)) == young_enough


def test_a_birth_of_which_only_the_month_is_known_counts_from_its_last_day():
    found = lacks(young(born=PartialDate(2026, 8)), day=dt.date(2026, 10, 1))
    assert found[Lacks.AGE].on == dt.date(2026, 8, 31) + dt.timedelta(days=56)


def test_without_a_date_of_birth_the_age_is_missing_for_a_young_of_a_litter_record():
    nameless = animal_of("2026-x/01", born=None, meals=meals(5), weights=(Weighing(PartialDate(2026, 9, 1), 20),))
    assert lacks(nameless)[Lacks.AGE].on is None
    assert lacks(animal_of("sage", born=None)) == {}


def test_rules_are_for_the_first_year():
    day = HATCHED.latest + dt.timedelta(days=FIRST_YEAR_DAYS)
    assert lacks(young(n_taken=0, grams=None), day=day - dt.timedelta(days=1))
    assert lacks(young(n_taken=0, grams=None), day=day) == {}


def test_a_rule_that_is_not_written_is_no_rule():
    assert lacks(young(n_taken=0, grams=None), ReadyRules()) == {}
    assert list(lacks(young(n_taken=0, grams=None), ReadyRules(grams=10))) == [Lacks.WEIGHT]


@pytest.mark.parametrize(
    ("age", "born", "reached"),
    [
        (WrittenAge(months=1), dt.date(2026, 1, 31), dt.date(2026, 2, 28)),
        (WrittenAge(days=10), dt.date(2026, 2, 20), dt.date(2026, 3, 2)),
        (WrittenAge(months=24), dt.date(2024, 2, 29), dt.date(2026, 2, 28)),
    ],
)
def test_an_age_is_reached_by_the_calendar(age, born, reached):
    assert age.reached(born) == reached


@pytest.mark.parametrize(
    ("state", "ready", "n_taken", "iri"),
    [
        (OfferState.AVAILABLE, None, 5, "https://schema.org/InStock"),
        (OfferState.AVAILABLE, None, 4, ""),
        (OfferState.AVAILABLE, PartialDate(2026, 9, 1), 4, ""),
        (OfferState.AVAILABLE, PartialDate(2026, 12, 1), 5, ""),
        (OfferState.ON_HOLD, None, 4, "https://schema.org/Reserved"),
        (OfferState.SOLD, None, 4, "https://schema.org/SoldOut"),
    ],
)
def test_what_cannot_go_is_not_in_stock_and_keeps_its_state(state, ready, n_taken, iri):
    """Source: schema.org ItemAvailability; an Offer may have no availability at all."""
    animal = young(n_taken=n_taken, offer=Offer(state=state, place=NOWHERE, ready=ready))
    offer = offer_of(animal, TODAY, RULES)
    assert offer is not None
    assert (offer.state, offer.availability) == (state, iri)
    assert bool(offer.missing) == (n_taken < 5 and state is not OfferState.SOLD)


@pytest.mark.parametrize(("day", "young_enough"), [(2, True), (1, False)])
def test_the_first_year_has_365_days(day, young_enough):
    assert dt.date(2026, 10, 1) == TODAY
    assert bool(lacks(young(n_taken=0, born=PartialDate(2025, 10, day)))) == young_enough


def test_nothing_is_counted_of_an_age():
    (age,) = missing(young(born=PartialDate(2026, 9, 30)), RULES, TODAY)
    assert (age.what, age.wanted, age.found) == (Lacks.AGE, 0, None)


def test_a_meal_of_the_day_counts_and_one_that_is_still_to_come_does_not():
    day = dt.date(2026, 9, 5)
    assert Lacks.MEALS not in lacks(young(), day=day)
    assert lacks(young(), day=day - dt.timedelta(1))[Lacks.MEALS].found == 4
