from fractions import Fraction

from helpers.small_collections import species_of

from sitegen.content.litters import FailedAs
from sitegen.plans.roads.kinds import Counted, Ending
from sitegen.words.road_stages import (
    at_least_in_one,
    bred_sentence,
    came_to_nothing,
    came_words,
    carries_sentence,
    ended_sentence,
    given_bred_sentence,
    harm_sentence,
    how_unusual,
    nothing_but,
    on_average,
    one_young,
    stage_anchor,
    tries_sentence,
    unseen_sentence,
    wanted_words,
)
from sitegen.words.speech import plain

CORN = species_of()
HALF, NINE_TENTHS, NONE, ALL = Fraction(1, 2), Fraction(9, 10), Fraction(0), Fraction(1)
DRAWS = 20_000


def test_one_young_is_told_by_looks_or_by_sex() -> None:
    by_look = "One young: about 25 in 100 young from parents like these show amel and 75 do not (1/4)."
    assert by_look == plain(one_young(("amel",), "", Fraction(1, 4)))
    by_sex = "One young: about 50 in 100 young from parents like these are females and 50 are not (1/2)."
    assert by_sex == plain(one_young((), "female", HALF))
    assert "One young: any will do by its looks." == plain(one_young((), "", ALL))
    assert "One young: all young of these parents show amel." == plain(one_young(("amel",), "", ALL))


def test_what_was_drawn_is_neither_none_nor_all_and_has_no_fraction() -> None:
    told = plain(one_young(("amel",), "", Fraction(1, 4), DRAWS))
    assert told.endswith("show amel and 75 do not.")
    assert "One young: in the plans that we drew, none was among young that show amel." == plain(
        one_young(("amel",), "", NONE, DRAWS)
    )
    assert "more than 99 in 100" in plain(one_young(("amel",), "", ALL, DRAWS))
    assert "more than 99 in 100 clutches" in plain(at_least_in_one(1, ALL, CORN, DRAWS))
    assert "fewer than 1 carry hypo" in plain(carries_sentence("hypo", NONE, DRAWS))
    assert plain(unseen_sentence(("hypo",), "young", ALL, DRAWS)).startswith("Nobody can see hypo")


def test_the_expected_number_is_that_of_a_whole_litter() -> None:
    assert "A whole clutch of 6 to 28 young has on average 2.5 like that." == plain(on_average(Fraction(5, 2), CORN))


def test_at_least_names_both_sides_unless_it_is_certain() -> None:
    both = "At least one: about 75 in 100 clutches of usual size have that many and 25 do not."
    assert both == plain(at_least_in_one(1, Fraction(3, 4), CORN))
    assert "At least two: no clutch of usual size can have that many." == plain(at_least_in_one(2, NONE, CORN))
    assert "At least one: every clutch of usual size has that many." == plain(at_least_in_one(1, ALL, CORN))


def test_what_cannot_be_seen_is_told_of_100_that_look_right() -> None:
    assert "Of 100 that look right, about 67 carry hypo and 33 do not (2/3)." == plain(
        carries_sentence("hypo", Fraction(2, 3))
    )
    assert "All of them carry hypo." == plain(carries_sentence("hypo", ALL))
    assert plain(carries_sentence("hypo", NONE)).startswith("None of them carries hypo")


def test_how_a_stage_ends_is_told_of_100_plans() -> None:
    """3/10 the goal, 1/2 the other branch, 1/5 stuck; else a rest that is not over."""
    ended = {Ending.GOAL: Fraction(3, 10), Ending.ELSE: HALF, Ending.STUCK: Fraction(1, 5)}
    assert plain(ended_sentence(ended, 2033, DRAWS, is_last=False)) == (
        "Of 100 plans like this one, in about 30 the goal is kept here, in about 50 we go on with what else we kept "
        "and in about 20 there is not enough to go on."
    )
    assert plain(ended_sentence({Ending.STUCK: HALF}, 2033, DRAWS, is_last=True)) == (
        "Of 100 plans like this one, in about 50 our tries run out first and in about 50 it is not bred, or not over, "
        "by the end of 2033."
    )
    assert plain(ended_sentence({Ending.GOAL: ALL}, 2033, DRAWS, is_last=True, by_looks=True)) == (
        "Of 100 plans like this one, in more than 99 we keep one here that looks like the goal."
    )
    assert () == ended_sentence({}, 2033, DRAWS, is_last=False)


def test_how_often_a_stage_is_bred_is_told_by_its_first_and_last_season() -> None:
    bred = ((2029, NONE), (2030, Fraction(1, 5)), (2031, Fraction(3, 5)))
    assert plain(bred_sentence(bred, DRAWS)) == (
        "About 20 of 100 plans like this one have bred this stage by the end of 2030, and about 60 by the end of 2031."
    )
    assert plain(bred_sentence(bred[1:2], DRAWS)) == (
        "About 20 of 100 plans like this one have bred this stage by the end of 2030."
    )
    assert "None of the plans that we drew came as far as this stage." == plain(bred_sentence(bred[:1], DRAWS))
    assert "Of 100 that did, about 29 keep a goal animal from it and 71 do not." == plain(
        given_bred_sentence(Fraction(7, 24), DRAWS)
    )


def test_tries_and_branches_are_told_together() -> None:
    def told(tries: int | None, *, branches: bool, until_else: bool = False) -> str:
        return plain(tries_sentence(tries, branches=branches, until_else=until_else))

    assert "We try this pairing in one season only." == told(1, branches=True)
    assert "We try this pairing in at most two seasons." == told(2, branches=False)
    assert told(2, branches=True).endswith("only then do we go on with what else we kept.")
    assert told(None, branches=True, until_else=True).startswith("As soon as what else we keep is there")
    assert told(2, branches=True, until_else=True) == (
        "We try this pairing in at most two seasons. "
        "As soon as what else we keep is there, we stop trying and go on with it."
    )
    assert "" == told(None, branches=True)


def test_a_result_is_told_by_its_smaller_tail() -> None:
    def told(came: int, few: Fraction, many: Fraction) -> str:
        return plain(how_unusual(Counted("goal", (), "", 8, came, Fraction(2), few, many), CORN))

    assert told(0, Fraction(1, 10), ALL).startswith("About 10 in 100 such clutches of 8 would have none")
    assert "as many or more and 80 would have fewer" in told(4, NINE_TENTHS, Fraction(1, 5))
    assert told(3, NONE, ALL).startswith("By what we knew the day before, that could not come.")


def test_what_came_is_told_in_a_few_words() -> None:
    assert "1 living young" == plain(came_words("a", 1))
    assert [f"did not come: {what}" for what in ("not gravid", "slugs", "reabsorbed", "stillborn")] == [
        plain(came_to_nothing("a", what)) for what in FailedAs
    ]


def test_what_is_to_be_kept_fits_its_number() -> None:
    assert "one male that shows tessera and carries caramel" == plain(
        wanted_words(1, "male", ("tessera",), ("caramel",))
    )
    assert "two females that carry hypo" == plain(wanted_words(2, "female", (), ("hypo",)))
    assert "three young" == plain(wanted_words(3, "", (), ()))
    only = nothing_but(("tessera", "motley"))
    assert "two males that show nothing but tessera and motley" == plain(wanted_words(2, "male", (only,), ()))
    assert "one female that shows the normal look and carries hypo" == plain(
        wanted_words(1, "female", (nothing_but(()),), ("hypo",))
    )


def test_genes_with_a_known_harm_are_named_first() -> None:
    assert "Please read first: the goal has wobble, a gene with a known harm." == plain(
        harm_sentence(("wobble",), goal=True)
    )
    assert plain(harm_sentence(("wobble", "twist"), goal=False)).endswith("wobble and twist, genes with a known harm.")
    assert () == harm_sentence((), goal=True)


def test_anchors_tell_ids_apart_that_differ_only_in_signs() -> None:
    assert "stage-first" == stage_anchor("first")
    assert stage_anchor("a.b") != stage_anchor("a b")
