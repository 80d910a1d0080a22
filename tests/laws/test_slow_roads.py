"""The slow truth of roads itself: by hand, and against every plan played out one by one."""

from fractions import Fraction
from itertools import islice

import pytest
from helpers.played_roads import Play, all_plays, some_plays
from helpers.road_cases import Road, all_roads, written_roads
from helpers.road_rules import Rules
from helpers.slow_roads import slow_road
from helpers.slow_told import Told

F = Fraction
HALF, QUARTER = F(1, 2), F(1, 4)
ROADS = written_roads()


def rules_of(road: Road) -> Rules:
    return Rules(*road.records(), road.as_of)


def told(name: str) -> Told:
    return slow_road(rules_of(ROADS[name]))


# The six worked cases of plans-reference section 5.


def test_one_try_for_a_visible_goal() -> None:
    found = told("one try for a visible goal")
    assert found.kept[2027] == found.known[2027] == found.born[2027] == 1 - F(3, 4) ** 4 == F(175, 256)


def test_else_a_daughter_back_to_her_sire() -> None:
    found = told("else a daughter back to her sire")
    first = 1 - F(3, 4) ** 2
    bred = F(3, 4) ** 2 * (1 - HALF**2)
    given = F(2, 3) * first
    assert (first, bred, given) == (F(7, 16), F(27, 64), F(7, 24))
    assert found.kept == {2027: first, 2028: first + bred * given}
    assert found.kept[2028] == F(287, 512)
    assert found.bred["two"] == {2027: 0, 2028: bred}
    assert found.kept_given_bred("two") == given
    assert found.ended["one"] == {"goal": first, "else": bred, "stuck": F(9, 16) * QUARTER}
    assert found.ended["two"] == {"goal": bred * given}


def test_a_goal_of_which_nobody_sees_one_gene() -> None:
    found = told("a goal of which nobody sees one gene")
    assert found.born[2027] == 1 - HALF**3
    assert found.kept[2027] == 1 - HALF**2
    assert found.known[2027] == 0
    assert found.held[2027].mean == found.new[2027].mean == 2
    assert found.young[2027].mean == 3


def test_a_pairing_that_takes_half_the_time() -> None:
    found = told("a pairing that takes half the time, else a daughter")
    assert found.kept[2027] == F(7, 32)
    assert found.ended["one"]["stuck"] == HALF + HALF * F(9, 16) * QUARTER == F(73, 128)
    assert found.bred["two"][2028] == HALF * F(27, 64) == F(27, 128)
    assert found.bred["one"][2027] == 1


def test_only_the_one_look() -> None:
    found = told("only the one look")
    assert found.born[2027] == 1 - F(3, 4) ** 2
    assert found.kept[2027] == 1 - F(13, 16) ** 2 == F(87, 256)


def test_two_tries_with_a_dam_who_may_carry() -> None:
    found = told("two tries with a dam who may carry")
    assert found.kept == {2027: F(2, 3) * F(3, 4), 2028: F(2, 3) * F(15, 16)} == {2027: HALF, 2028: F(5, 8)}


# More of them by hand.


def test_until_else() -> None:
    """One young a season: the goal 1/4, a normal daughter 3/8, else once more."""
    found = told("until else is filled")
    for rank, season in enumerate((2027, 2028, 2029), start=1):
        assert found.kept[season] == QUARTER / (QUARTER + F(3, 8)) * (1 - F(3, 8) ** rank)
    once = 1 - F(3, 8) ** 3
    assert found.ended["one"] == {"goal": F(2, 5) * once, "else": F(3, 5) * once}


def test_until_the_tries_are_used() -> None:
    found = told("for the goal until the tries are used")
    no_goal, no_daughter = F(3, 4) ** 2, F(3, 8) ** 2
    bred = no_goal - no_daughter
    assert found.kept[2028] == 1 - no_goal
    assert found.bred["two"] == {2027: 0, 2028: 0, 2029: bred}  # not while the first goes on for the goal
    assert found.ended["one"] == {"goal": 1 - no_goal, "else": bred, "stuck": no_daughter}
    assert found.kept[2029] == 1 - no_goal + bred * F(2, 3) * QUARTER
    assert found.kept_given_bred("two") == F(2, 3) * QUARTER


def test_partly() -> None:
    found = told("one of two daughters is enough")
    assert found.ended["one"] == {"kept": QUARTER, "partly": HALF, "stuck": QUARTER}
    assert found.bred["two"] == {2027: 0, 2028: 0, 2029: F(3, 4)}
    assert found.kept[2029] == QUARTER * (1 - QUARTER) + HALF * HALF  # two daughters with one young each, or one
    found = told("both of two daughters are needed")
    assert found.ended["one"] == {"kept": QUARTER, "stuck": F(3, 4)}
    assert found.kept[2029] == QUARTER * (1 - QUARTER)


def test_two_daughters_each_a_litter() -> None:
    found = told("two daughters each a litter")
    assert found.ended["one"] == {"kept": QUARTER, "partly": HALF, "stuck": QUARTER}
    assert found.kept[2028] == QUARTER * (1 - HALF**4) + HALF * (1 - HALF**2)
    assert found.young[2028].mean == QUARTER * 4 + HALF * 2


def test_two_sons_in_turn() -> None:
    """Each of them carries in one of two cases; by turns, each has a season."""
    found = told("two sons in turn")
    not_by_one = HALF + HALF * HALF**2
    assert found.bred["two"][2029] == QUARTER
    assert found.kept == {2027: 0, 2028: QUARTER * (1 - not_by_one), 2029: QUARTER * (1 - not_by_one**2)}


def test_a_goal_of_the_unwanted_sex() -> None:
    found = told("a goal of the unwanted sex")
    assert found.kept == {2027: HALF, 2028: F(3, 4)}
    assert found.ended["one"] == {"goal": QUARTER + F(3, 4) * QUARTER}
    assert found.held[2027].mean == HALF
    male_at_once, female_at_once = QUARTER, QUARTER
    assert found.held[2028].mean == male_at_once + female_at_once * (1 + QUARTER) + HALF * HALF


def test_a_stage_that_only_waits_for_a_litter() -> None:
    """The second stage keeps the goal by itself; what the first bears is born and not kept."""
    found = told("a stage that only waits for a litter")
    each = HALF * QUARTER
    second_try = HALF * (1 - each)  # the other stage may have ended the road
    assert found.ended["one"] == {"kept": HALF + second_try * HALF, "stuck": second_try * HALF}
    assert found.bred["one"] == {2027: 1, 2028: 1, 2029: 1}
    assert [found.kept[season] for season in (2027, 2028, 2029)] == [1 - (1 - each) ** n for n in (1, 2, 3)]
    assert found.born[2027] == 1 - (1 - each) ** 2
    assert found.ended["two"] == {"goal": found.kept[2029]}


def _never(n_seasons: int, after_failure: int) -> Fraction:
    """Chance of no goal in so many seasons, where she is bred in the first one and takes half the time."""
    if n_seasons <= 0:
        return F(1)
    return HALF * _never(n_seasons - 1 - after_failure, after_failure) + HALF * F(3, 4) * _never(
        n_seasons - 2, after_failure
    )


@pytest.mark.parametrize(
    ("name", "after_failure"), [("she rests after a litter", 0), ("she rests after a failure too", 1)]
)
def test_rest(name: str, after_failure: int) -> None:
    found = told(name)
    assert [found.kept[2026 + n] for n in range(1, 5)] == [1 - _never(n, after_failure) for n in range(1, 5)]


def test_age() -> None:
    found = told("she is too young at first")
    assert found.kept == {2027: 0, 2028: QUARTER, 2029: 1 - F(3, 4) ** 2}
    found = told("daughters grow up in two seasons and sons in one")
    both, only_females, only_males = HALF, QUARTER, QUARTER  # the first litter of two
    mixed = 1 - HALF**2  # a later litter has one of a given sex
    by_2029 = both + only_females * mixed
    assert found.bred["two"] == {
        2027: 0,
        2028: 0,
        2029: by_2029,
        2030: by_2029 + only_females * (1 - mixed) * mixed + only_males * mixed,
    }


def test_two_litters_a_year() -> None:
    found = told("two litters a year")
    assert found.kept[2027] == HALF * (1 - F(3, 4) ** 2)
    assert found.young[2027].mean == 1
    assert found.young[2027].variance == 1  # none or two


def test_two_copies_kill() -> None:
    found = told("a form that kills with two copies")
    assert found.kept[2027] == 1 - HALF**2
    assert found.young[2027].mean == 2 * F(3, 4)
    assert found.young[2027].variance == 2 * F(3, 4) * QUARTER


def test_a_sex_linked_gene() -> None:
    """Only daughters can show it; they have it of their sire alone."""
    found = told("a sex-linked gene")
    assert found.kept == {2027: 1 - F(3, 4) ** 2, 2028: 1 - F(3, 4) ** 4}


def test_a_daughter_proved_by_her_young() -> None:
    found = told("a daughter proved by her young")
    assert found.kept == {2027: QUARTER, 2028: QUARTER, 2029: QUARTER}
    assert found.known == {2027: 0, 2028: QUARTER * HALF, 2029: QUARTER * (1 - QUARTER)}


def test_a_dam_and_her_son_who_may_carry_together() -> None:
    found = told("a dam and her son who may carry together")
    for n, season in enumerate((2027, 2028, 2029), start=1):
        assert found.kept[season] == F(2, 3) * HALF * (1 - F(3, 4) ** (2 * n))


def test_two_stages_want_the_same_dam() -> None:
    found = told("two stages want the same dam")
    assert found.bred["two"] == {2027: 0, 2028: 1}
    assert found.kept == {2027: 0, 2028: HALF}
    assert found.born[2028] == 1 - F(3, 4) * HALF


def test_winter_pairings() -> None:
    found = told("winter pairings belong to the year of birth")
    assert found.kept == {2027: 0, 2028: QUARTER, 2029: 1 - F(3, 4) ** 2}
    found = told("this winter's month of pairing has passed")
    assert found.kept == {2028: QUARTER, 2029: 1 - F(3, 4) ** 2}


# Against every plan played out.


def known_by(plays: list[tuple[Play, Fraction]], season: int) -> Fraction:
    """By its meaning: plans in which the same was seen stand together; one kept young is the goal in all of them."""
    together: dict[tuple[object, ...], list[tuple[Play, Fraction]]] = {}
    for play, chance in plays:
        together.setdefault(play.seen[season], []).append((play, chance))
    known = F(0)
    for own in together.values():
        by_animal = zip(*(play.goals[season] for play, _ in own), strict=True)
        if any(all(goals) for goals in by_animal):
            known += sum(chance for _, chance in own)
    return known


def _is_told_as_played(found: Told, plays: list[tuple[Play, Fraction]], rules: Rules) -> None:
    for season in range(rules.first, rules.last + 1):
        assert found.born[season] == sum(chance for play, chance in plays if play.born[season])
        assert found.kept[season] == sum(chance for play, chance in plays if play.kept[season])
        assert found.known[season] == known_by(plays, season)
        for told_, numbers in (
            (found.young, [(play.young[season], chance) for play, chance in plays]),
            (found.new, [(play.new[season], chance) for play, chance in plays]),
            (found.held, [(play.held[season], chance) for play, chance in plays]),
        ):
            mean = sum(number * chance for number, chance in numbers)
            assert told_[season].mean == mean
            assert told_[season].variance == sum((number - mean) ** 2 * chance for number, chance in numbers)
        for stage in rules.stages:
            by_then = sum(chance for play, chance in plays if play.bred.get(stage.id, season + 1) <= season)
            assert found.bred[stage.id][season] == by_then
    for stage in rules.stages:
        assert found.kept_of[stage.id] == sum(chance for play, chance in plays if stage.id in play.through)
        for how in ("goal", "kept", "partly", "else", "stuck"):
            ways = (how, "partly else") if how == "partly" else (how,)
            ended = sum(chance for play, chance in plays if play.ended.get(stage.id) in ways)
            assert found.ended[stage.id].get(how, 0) == ended


MOST = 200
"""Plans that are played out for one road."""


def smaller(road: Road) -> Road:
    """The same with one young a litter."""
    return Road(f"{road.name}, one young", {**road.text, "sizes": [1, 1, 1]})


@pytest.mark.slow
def test_the_truth_is_what_all_plays_say() -> None:
    """The written roads and, with one young a litter, every other one of all: those that have so few plans."""
    told_as_played = set()
    for road in (*written_roads().values(), *map(smaller, all_roads()[::2])):
        rules = rules_of(road)
        plays = list(islice(all_plays(rules), MOST + 1))
        if len(plays) <= MOST:
            _is_told_as_played(slow_road(rules), plays, rules)
            told_as_played.add(road.name)
    assert len(told_as_played) >= 50


@pytest.mark.slow
@pytest.mark.parametrize("road", [road for n, road in enumerate(all_roads()) if n % 8 == 5], ids=lambda road: road.name)
def test_the_truth_is_near_what_some_plays_say(road: Road) -> None:
    """Within four standard errors of 1,000 plans that were drawn."""
    rules, n_plays = rules_of(road), 1_000
    found, plays = slow_road(rules), list(some_plays(rules, n_plays))
    for season in range(rules.first, rules.last + 1):
        counts = [
            (found.born[season], sum(play.born[season] for play in plays)),
            (found.kept[season], sum(play.kept[season] for play in plays)),
        ]
        for stage in rules.stages:
            by_then = sum(play.bred.get(stage.id, season + 1) <= season for play in plays)
            counts.append((found.bred[stage.id][season], by_then))
        for exact, count in counts:
            assert (count - n_plays * exact) ** 2 <= 16 * n_plays * exact * (1 - exact)
        mean = Fraction(sum(play.held[season] for play in plays), n_plays)
        assert (mean - found.held[season].mean) ** 2 <= 16 * found.held[season].variance / n_plays
