from fractions import Fraction

from helpers.small_collections import species_of

from sitegen.genetics.counts import Needed
from sitegen.plans.roads.kinds import Counted
from sitegen.words.road_stages import (
    at_least_in_one,
    carries_sentence,
    how_unusual,
    keep_sentence,
    nothing_but,
    on_average,
    one_young,
    stage_anchor,
    wanted_words,
    young_needed,
)
from sitegen.words.speech import plain

CORN = species_of()
HALF, NINE_TENTHS = Fraction(1, 2), Fraction(9, 10)


def test_one_young_is_told_by_looks_or_by_sex() -> None:
    by_look = "One young: about 25 in 100 young from parents like these show amel and 75 do not (1/4)."
    assert by_look == plain(one_young(("amel",), "", Fraction(1, 4)))
    by_sex = "One young: about 50 in 100 young from parents like these are females and 50 are not (1/2)."
    assert by_sex == plain(one_young((), "female", HALF))
    assert "One young: any will do by its looks." == plain(one_young((), "", Fraction(1)))


def test_the_expected_number_and_its_range_are_two_sentences() -> None:
    told = plain(on_average(Fraction(5, 2), (1, 4), CORN))
    assert "has on average 2.5 like that. Most clutches have 1 to 4." in told
    assert plain(on_average(Fraction(2), (2, 2), CORN)).endswith("Most clutches have 2.")


def test_at_least_names_both_sides_unless_it_is_certain() -> None:
    both = "At least one: about 75 in 100 clutches of usual size have that many and 25 do not."
    assert both == plain(at_least_in_one(1, Fraction(3, 4), CORN))
    assert "At least two: no clutch of usual size can have that many." == plain(at_least_in_one(2, Fraction(0), CORN))
    assert "At least one: every clutch of usual size has that many." == plain(at_least_in_one(1, Fraction(1), CORN))


def test_a_number_of_young_that_is_never_enough_says_why() -> None:
    assert "With 5 young the chance of at least one reaches 90 in 100." == plain(
        young_needed(Needed(NINE_TENTHS, 1, 5, Fraction(1)))
    )
    never = Needed(NINE_TENTHS, 1, None, HALF)
    assert "only about 50 in 100 pairs like this one can give such young" in plain(young_needed(never))
    assert "However many we keep, we never reach 90 of 100 cases" in plain(keep_sentence(never))
    assert () == young_needed(Needed(NINE_TENTHS, 1, None, Fraction(0)))
    assert "More than" in plain(young_needed(Needed(NINE_TENTHS, 1, None, Fraction(1))))


def test_what_cannot_be_seen_is_told_of_100_that_look_right() -> None:
    assert "Of 100 that look right, about 67 carry hypo and 33 do not (2/3)." == plain(
        carries_sentence("hypo", Fraction(2, 3))
    )
    assert "All of them carry hypo." == plain(carries_sentence("hypo", Fraction(1)))
    assert plain(carries_sentence("hypo", Fraction(0))).startswith("None of them carries hypo")


def test_a_result_is_told_by_its_smaller_tail() -> None:
    def told(came: int, few: Fraction, many: Fraction) -> str:
        return plain(how_unusual(Counted("goal", (), "", 8, came, Fraction(2), few, many), CORN))

    assert told(0, Fraction(1, 10), Fraction(1)).startswith("About 10 in 100 such clutches of 8 would have none")
    assert "as many or more and 80 would have fewer" in told(4, NINE_TENTHS, Fraction(1, 5))
    assert told(3, Fraction(0), Fraction(1)).startswith("By what we knew the day before, that could not come.")


def test_what_is_to_be_kept_fits_its_number() -> None:
    assert "one male that shows tessera and carries caramel" == plain(
        wanted_words(1, "male", ("tessera",), ("caramel",))
    )
    assert "two females that carry hypo" == plain(wanted_words(2, "female", (), ("hypo",)))
    assert "three young" == plain(wanted_words(3, "", (), ()))


def test_anchors_tell_ids_apart_that_differ_only_in_signs() -> None:
    assert "stage-first" == stage_anchor("first")
    assert stage_anchor("a.b") != stage_anchor("a b")
    only = nothing_but(("tessera", "motley"))
    assert "two males that show nothing but tessera and motley" == plain(wanted_words(2, "male", (only,), ()))
    assert "one female that shows the normal look and carries hypo" == plain(
        wanted_words(1, "female", (nothing_but(()),), ("hypo",))
    )
    assert plain(one_young((only,), "", Fraction(1, 4))).startswith(
        "One young: about 25 in 100 young from parents like these show nothing but tessera and motley and 75 do not"
    )
