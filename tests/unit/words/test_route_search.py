from dataclasses import replace
from fractions import Fraction

from sitegen.plans.roads.routes_kinds import Bounds, Found
from sitegen.words.route_search import already_sentence, goal_sentence, letter, none_sentence
from sitegen.words.speech import plain

NOTHING = Found((), Bounds(horizon=2030), 2026, (), (), ())
"""A search that found no route by 2030."""


def test_routes_are_lettered_as_columns_of_a_sheet_are() -> None:
    assert ["A", "Z", "AA", "AZ", "BA"] == [letter(number) for number in (0, 25, 26, 51, 52)]


def test_who_is_the_goal_already_is_told_apart_from_who_may_be() -> None:
    assert "Onyx is such an animal already." == plain(already_sentence(("Onyx",), ()))
    assert "Onyx and Rue are such animals already. Elm or Oak may be such an animal already." == plain(
        already_sentence(("Onyx", "Rue"), ("Elm", "Oak"))
    )
    assert () == already_sentence((), ())


def test_no_route_says_whether_there_is_none_or_none_was_found() -> None:
    assert plain(none_sentence(NOTHING)).startswith("There is no route within three generations")
    assert "and keeps to your relatedness limit" in plain(
        none_sentence(replace(NOTHING, bounds=Bounds(horizon=2030, relatedness=Fraction(1, 8))))
    )
    assert "was stopped" in plain(none_sentence(replace(NOTHING, stopped=True)))
    assert "as far as the search went" in plain(none_sentence(replace(NOTHING, open=3)))


def test_the_goal_of_a_pairing_names_both_sides() -> None:
    told = "The goal: about 25 in 100 young are it and 75 are not (1/4). Breed until one is there."
    assert told == plain(goal_sentence(Fraction(1, 4), last=True))
    assert plain(goal_sentence(Fraction(1, 4), last=False)).startswith("With luck the goal itself")
    assert () == goal_sentence(Fraction(0), last=False)
