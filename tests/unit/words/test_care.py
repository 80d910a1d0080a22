from dataclasses import replace

from helpers.small_site import collection

from sitegen.content.animals import Meal
from sitegen.content.species import COMMON_PRACTICE
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.words.care import breeding_weight_text, meals_text

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
