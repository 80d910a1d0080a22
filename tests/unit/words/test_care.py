from dataclasses import replace

from helpers.small_site import collection

from sitegen.content.animals import Animal, Meal
from sitegen.content.sources import COMMON_PRACTICE
from sitegen.content.values import PartialDate, Weighing
from sitegen.genetics.loci import Sex
from sitegen.words.care import breeding_weight_text, growth_text, meals_text
from sitegen.year.growth import growth

SITE = collection().site


def meals(*taken: bool) -> tuple[Meal, ...]:
    """One meal a day, the newest first."""
    return tuple(Meal(PartialDate(2026, 9, 20 - day), f"pinky {day}", each) for day, each in enumerate(taken))


def test_meals_are_one_sentence_with_what_became_of_the_last():
    assert meals_text((), SITE) == ""
    assert meals_text(meals(True), SITE) == "1 of 1 recorded meal taken. The last, September 20, 2026: pinky 0, taken."
    told = meals_text(meals(False, True, True), SITE)
    assert told == "2 of 3 recorded meals taken. The last, September 20, 2026: pinky 0, refused."
    assert told == meals_text(meals(False, True, True)[::-1], SITE)


def test_a_breeding_weight_is_told_of_a_sex_for_which_the_species_has_one():
    snake = replace(collection().species["corn-snake"], breeding_weight_grams={Sex.FEMALE: 300, Sex.MALE: 200})
    told = breeding_weight_text(Sex.FEMALE, snake, SITE)
    assert told == "A female of this species should weigh at least 300 g before she is bred."
    assert breeding_weight_text(Sex.MALE, snake, SITE).startswith("A male of this species should weigh at least 200 g")
    assert breeding_weight_text(Sex.UNKNOWN, snake, SITE) == ""
    assert breeding_weight_text(Sex.MALE, replace(snake, breeding_weight_grams={}), SITE) == ""


def test_a_breeding_weight_that_is_custom_says_so():
    snake = replace(
        collection().species["corn-snake"],
        breeding_weight_grams={Sex.FEMALE: 300},
        written={"breeding_weight": COMMON_PRACTICE},
    )
    assert breeding_weight_text(Sex.FEMALE, snake, SITE).endswith(
        "before she is bred (breeders’ custom, no published source)."
    )


def grown(weights: dict[str, int]) -> Animal:
    weighings = tuple(Weighing(PartialDate(*map(int, day.split("-"))), grams) for day, grams in weights.items())
    return replace(collection().animals["juniper"], weights=weighings)


GROWS = {"2025-08-16": 7, "2025-12-06": 22, "2026-03-14": 44, "2026-06-20": 71, "2026-10-03": 108}
SLOWER = {"2024-08-20": 8, "2025-06-14": 127, "2025-12-06": 187, "2026-10-03": 248}


def test_when_it_weighs_enough_by_its_own_line_of_weights() -> None:
    animal = grown(GROWS)
    found = growth(animal, 150)
    assert found
    middle, early, late = (found.day(chance) for chance in (0.5, 0.1, 0.9))
    assert middle
    assert early
    assert late
    assert growth_text(animal, 150, collection().site) == (
        f"By the 5 weighings so far 150 g is reached about {middle:%B %Y}, if growth goes on like that. "
        f"Of such animals about 80 in 100 reach it between {early:%B %Y} and {late:%B %Y}."
    )


def test_some_never_get_so_far() -> None:
    told = growth_text(grown(SLOWER), 300, collection().site)
    assert told.startswith("By the 4 weighings so far 300 g is reached about ")
    assert told.endswith("and some never do.")


def test_what_may_never_be_reached() -> None:
    flat = {"2020-08-20": 100, "2022-06-14": 150, "2024-12-06": 152, "2026-10-03": 151}
    assert growth_text(grown(flat), 300, collection().site) == ("By the 4 weighings so far 300 g may never be reached.")


def test_nothing_is_foretold_of_too_few_weighings_or_without_a_weight_that_is_asked() -> None:
    three = dict(list(SLOWER.items())[:3])
    assert growth_text(grown(three), 300, collection().site) == ""
    assert growth_text(grown(GROWS), None, collection().site) == ""
    assert growth_text(grown(GROWS), 100, collection().site) == ""
