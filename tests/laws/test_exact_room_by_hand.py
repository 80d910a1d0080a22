"""The exact optimum of rooms that can be worked out by hand; every expected number is a formula."""

import datetime as dt
from collections.abc import Mapping
from fractions import Fraction

from helpers.by_hand import animal, asked_of, recessive, snake
from helpers.exact_game import with_young
from helpers.exact_room import ExactRoom, Wished, Wishing, exact

from sitegen.content.projects import Goal
from sitegen.genetics.loci import Sex

TODAY = dt.date(2026, 1, 1)
HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)
OLD, YOUNG = "2018-07-01", "2025-07-01"
"""Grown at the start, and one season later where females need two seasons."""


def room(
    animals: Mapping[str, Mapping[str, str]],
    goals: list[tuple[str, str]],
    *,
    seasons: int,
    size: int = 1,
    litters: int = 1,
    keep: int = 1,
    count: int = 1,
    late: tuple[str, ...] = (),
    grown: tuple[int, int] = (1, 1),
    loci: str = "a",
    places: int | None = None,
    sooner: bool = False,
    relatedness: Fraction | None = None,
    **species: object,
) -> ExactRoom:
    """Animals by name, dams beginning with d; ``shows`` and stated odds of each."""
    months = {"female": grown[0], "male": grown[1]}
    kind = snake(*map(recessive, loci), sizes=(size, size, size), grown=months, **species)  # type: ignore[arg-type]
    records = [
        animal(
            name,
            sex=Sex.FEMALE if name.startswith("d") else Sex.MALE,
            shows=own.get("shows", ""),
            stated={gene: how for gene, how in own.items() if gene != "shows"},
            born=YOUNG if name in late else OLD,
        )
        for name, own in animals.items()
    ]
    wished = tuple(
        Wished(str(at), "snake", Goal(tuple(shows.split()), tuple(carries.split())), count)
        for at, (shows, carries) in enumerate(goals)
    )
    wishes = Wishing(
        2026, 2025 + seasons, wished, litters, keep, places, sooner=sooner, relatedness=relatedness
    )  # fmt: skip
    return exact(asked_of(kind, *records), "snake", wishes, TODAY)


NONE: frozenset[tuple[str, str]] = frozenset()
PAIR = frozenset({("d", "s")})
HET = {"a": "certain"}


def test_one_litter_of_two_carriers() -> None:
    found = room({"d": HET, "s": HET}, [("a", "")], seasons=1, size=4)
    assert {NONE: 0, PAIR: 1 - Fraction(3, 4) ** 4} == found.value_of
    assert Fraction(175, 256) == found.best


def test_the_seasons_hang_together_through_a_dam_who_may_not_carry() -> None:
    animals = {"d": {"a": "66%"}, "s": {"shows": "a"}}
    wished = {"seasons": 2, "size": 2, "count": 2}
    # The sire is the goal himself, so one young is enough.
    found = room(animals, [("a", "")], grown=(2, 2), **wished)  # type: ignore[arg-type]
    of_one, of_two = (Fraction(2, 3) * (1 - HALF**n) for n in (2, 4))
    assert {NONE: of_one, PAIR: of_two} == found.value_of
    assert Fraction(5, 8) == found.best
    # Where a daughter is grown in time, one that shows nothing surely carries; of two sons nothing is gained.
    found = room(animals, [("a", "")], **wished)  # type: ignore[arg-type]
    sons = Fraction(1, 3) * (1 - HALF**2)
    assert of_one + (1 - of_one) * (Fraction(3, 4) * (1 - HALF**2) + Fraction(1, 4) * sons) == found.best


def test_a_daughter_is_bred_back_where_the_dam_must_rest() -> None:
    found = room({"d": HET, "s": HET}, [("a", "")], seasons=2, size=2, rest=5)
    at_once = Fraction(7, 16)
    # A daughter that shows nothing carries with 2/3; the sire surely does.
    back = Fraction(2, 3) * Fraction(7, 16)
    assert at_once + (1 - at_once) * Fraction(3, 4) * back == found.value_of[PAIR] == Fraction(287, 512)
    assert at_once == found.value_of[NONE]


def test_a_pairing_that_does_not_take_costs_no_rest() -> None:
    found = room({"d": HET, "s": HET}, [("a", "")], seasons=2, size=2, rest=5, takes=HALF)
    at_once = HALF * Fraction(7, 16)
    back = HALF * Fraction(2, 3) * Fraction(7, 16)
    after_none = HALF * at_once
    after_litter = HALF * Fraction(9, 16) * Fraction(3, 4) * back
    assert at_once + after_none + after_litter == found.value_of[PAIR]


def test_what_is_carried_counts_by_the_truth() -> None:
    found = room(
        {"d": {"shows": "a", "b": "certain"}, "s": {"shows": "a"}}, [("a", "b")], seasons=1, size=3, keep=2, count=2,
        loci="ab",
    )  # fmt: skip
    assert 1 - HALF**2 == found.best  # the dam is one herself; of three young two are kept, each carries with 1/2


def test_a_test_mating_is_worth_what_the_next_season_gains() -> None:
    animals = {
        "dtest": {"shows": "a"},
        "dgoal": {"shows": "a b"},
        "s1": {"shows": "b", "a": "50%"},
        "s2": {"shows": "b", "a": "50%"},
    }
    found = room(animals, [("a b", "")], seasons=2, count=2, late=("dgoal",), grown=(2, 2), loci="ab")
    # One visual young in four proves the sire; then half of the goal dam's young are as wanted, else half of a half.
    blind = HALF * HALF
    tested = QUARTER * HALF + (1 - QUARTER) * blind
    assert blind == found.value_of[NONE]
    assert tested == found.value_of[frozenset({("dtest", "s1")})] == found.value_of[frozenset({("dtest", "s2")})]
    assert Fraction(1, 16) == found.best - blind


def test_waiting_is_right_where_a_better_sire_grows_up() -> None:
    found = room(
        {"d": HET, "s": HET, "sbest": {"shows": "a"}}, [("a", "")], seasons=2, count=2, late=("sbest",), grown=(2, 2),
        rest=1,
    )  # fmt: skip
    assert {NONE: HALF, PAIR: QUARTER} == found.value_of


def test_a_visual_young_decides_which_dam_is_bred_again() -> None:
    dams = {"d1": {"a": "50%"}, "d2": {"a": "50%"}}
    found = room({**dams, "s": HET}, [("a", "")], seasons=2, count=2, grown=(2, 2))
    # Only a dam that gave one can be counted on for the second.
    stay, change = HALF * QUARTER**2, (HALF * QUARTER) ** 2
    assert stay == found.value_of[frozenset({("d1", "s")})]
    assert stay > change


def test_a_dam_without_visual_young_is_given_up() -> None:
    dams = {"d1": {"a": "50%"}, "d2": {"a": "50%"}}
    found = room({**dams, "s": {"shows": "a"}}, [("a", "")], seasons=2, count=2, grown=(2, 2))
    first = HALF * HALF
    assert first + (1 - first) * first == found.best
    assert first + HALF * (1 - HALF**2) - first < found.best  # going on with the same dam


def test_what_is_owned_at_the_start_is_owned() -> None:
    found = room({"d": {"shows": "a"}, "s": HET}, [("a", "")], seasons=2)
    assert set(found.value_of.values()) == {1}


def test_early_seasons_count_more_where_that_is_wished() -> None:
    found = room({"d": HET, "s": {"shows": "a"}}, [("a", "")], seasons=3, count=2, sooner=True)
    shares = (Fraction(3, 6), Fraction(2, 6), Fraction(1, 6))
    assert sum(share * (1 - HALF**n) for n, share in enumerate(shares, start=1)) == found.best


def test_a_kept_daughter_makes_room_for_the_goal() -> None:
    wished = {"seasons": 2, "size": 2, "rest": 5}
    free = room({"d": HET, "s": HET}, [("a", "")], **wished)  # type: ignore[arg-type]
    tight = room({"d": HET, "s": HET}, [("a", "")], places=3, **wished)  # type: ignore[arg-type]
    full = room({"d": HET, "s": HET}, [("a", "")], places=2, **wished)  # type: ignore[arg-type]
    assert free.value_of == tight.value_of
    assert 0 == full.best


def test_a_limit_of_relatedness_is_hard() -> None:
    found = room({"d": HET, "s": HET}, [("a", "")], seasons=2, size=2, rest=5, relatedness=Fraction(1, 8))
    assert Fraction(7, 16) == found.best


def test_two_litters_of_one_season_are_kept_together() -> None:
    dams = {"d1": HET, "d2": HET}
    found = room({**dams, "s": HET}, [("a", "")], seasons=1, size=1, litters=2)
    both = frozenset({("d1", "s"), ("d2", "s")})
    assert 1 - Fraction(3, 4) ** 2 == found.value_of[both]
    assert QUARTER == found.value_of[frozenset({("d1", "s")})]


def test_kinship_of_young_of_young() -> None:
    none, half = Fraction(0), HALF
    parents = ((half, none), (none, half))
    siblings = with_young(parents, (), ((0, 1), (0, 1)))
    assert ((half, QUARTER), (QUARTER, half)) == siblings
    inbred = with_young(siblings, (0,), ((0, 1),))
    assert ((half, Fraction(3, 8)), (Fraction(3, 8), (1 + QUARTER) / 2)) == inbred
