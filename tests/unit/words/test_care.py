from helpers.small_site import collection

from sitegen.content.animals import Meal
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
    assert "female of this species should weigh at least 300 g" in breeding_weight_text(Sex.FEMALE, 300, SITE)
    assert breeding_weight_text(Sex.MALE, 200, SITE).startswith("A male of this species")
    assert breeding_weight_text(Sex.MALE, 0, SITE) == breeding_weight_text(Sex.UNKNOWN, 300, SITE) == ""
