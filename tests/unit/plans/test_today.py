"""What a day asks of the keeper, of records that are as small as can be."""

import datetime as dt

import pytest
from helpers.from_text import bound

from sitegen.plans.today import Asks, Comes, Matter, matters_of

DAY = dt.date(2027, 2, 1)
SPECIES = """
=== species/corn.yaml
name: corn
births: eggs
breeding_age: {female: 30 months, male: 18 months}
breeding_weight: {female: 300 g}
breeding_season: {paired: March, born: July}
days_from: {paired: {usual: 45, spread: 12}, laid: {usual: 62, spread: 3}}
loci: {a: {name: a, inheritance: recessive}}
=== species/boa.yaml
name: boa
births: live
breeding_season: {paired: April, born: September}
days_from: {paired: {usual: 150, spread: 24}}
loci: {}
"""
PAIR = """
=== animals/d/animal.yaml
species: corn
sex: female
born: 2020-07-01
=== animals/s/animal.yaml
species: corn
sex: male
born: 2020-07-01
"""


def asked(records: str, day: dt.date = DAY) -> tuple[Matter, ...]:
    return matters_of(bound(SPECIES + records), day)


def whats(records: str, day: dt.date = DAY) -> list[Asks]:
    return [each.what for each in asked(records, day)]


def animal(lines: str, species: str = "corn", born: str = "2020-07-01", sex: str = "female") -> str:
    return f"=== animals/a/animal.yaml\nspecies: {species}\nsex: {sex}\nborn: {born}\n{lines}\n"


def litter(lines: str, name: str = "l") -> str:
    return f"{PAIR}=== litters/{name}/litter.yaml\ndam: d\nsire: s\n{lines}\n"


# Litters.


def test_a_clutch_is_due_a_month_before_its_window_and_pressing_a_week_before() -> None:
    (matter,) = asked(litter("laid: 2027-01-01"))
    first, last = dt.date(2027, 1, 1) + dt.timedelta(62 - 5), dt.date(2027, 1, 1) + dt.timedelta(62 + 5)
    # Of 62 days with a spread of 3 times the root of 2 the middle 80 in 100 begin and end 1.2816 spreads away.
    assert (matter.what, matter.day, matter.until, matter.comes) == (Asks.DUE, first, last, Comes.HATCHLINGS)
    assert not matter.pressing
    for days, found in ((31, []), (30, [False]), (8, [False]), (7, [True]), (-10, [True]), (-11, [])):
        on = first - dt.timedelta(days)
        assert [each.pressing for each in asked(litter("laid: 2027-01-01"), on) if each.what is Asks.DUE] == found


def test_a_clutch_is_late_on_the_day_after_its_window_until_it_is_told_what_came() -> None:
    late = dt.date(2027, 1, 1) + dt.timedelta(62 + 6)
    (matter,) = asked(litter("laid: 2027-01-01"), late)
    assert (matter.what, matter.day, matter.foretold) == (Asks.OVERDUE, late - dt.timedelta(1), True)
    assert matter.dams == (), "the eggs are out of her"
    assert whats(litter("laid: 2027-01-01"), dt.date(2030, 1, 1)) == [Asks.OVERDUE]
    assert not whats(litter("laid: 2027-01-01\nborn: 2027-03-01"), late)
    assert not whats(litter("laid: 2027-01-01\nfailed: {date: 2027-03-01, what: slugs}"), late)
    assert not whats(litter("laid: 2027-01-01\nothers: [{count: 3}]"), late)


def test_of_a_pairing_the_laying_is_waited_for_and_of_live_young_the_birth() -> None:
    (matter,) = asked(litter("paired: 2026-06-01"))
    assert (matter.what, matter.comes, matter.dams) == (Asks.OVERDUE, Comes.EGGS, ("d",))
    (gone,) = asked(litter("paired: 2026-06-01").replace("born: 2020-07-01", "born: 2020-07-01\ndied: 2026-08-01", 1))
    assert gone.dams == (), "nobody is to be looked at"
    (matter,) = asked(litter("paired: 2026-07-01").replace("species: corn", "species: boa"), dt.date(2026, 12, 1))
    assert (matter.what, matter.comes) == (Asks.DUE, Comes.YOUNG)


def test_a_day_that_was_written_serves_where_nothing_foretells_and_is_waited_for_where_it_is_later() -> None:
    (matter,) = asked(litter("expected: 2027-02"))
    assert (matter.what, matter.day, matter.until) == (Asks.DUE, dt.date(2027, 2, 1), dt.date(2027, 2, 28))
    assert not matter.foretold
    (matter,) = asked(litter("expected: 2027-01-31"))
    assert (matter.what, matter.day, matter.foretold) == (Asks.OVERDUE, dt.date(2027, 1, 31), False)
    (matter,) = asked(litter("laid: 2026-10-01\nexpected: 2027-02-20"))
    assert (matter.what, matter.until) == (Asks.DUE, dt.date(2027, 2, 20))
    assert not asked(litter("eggs: 4"))


# Looks that are needed.


def meals(*taken: bool) -> str:
    days = enumerate(taken, 1)
    return "meals:\n" + "".join(
        f"  - {{date: 2026-12-{day:02}, what: m, taken: {str(was).lower()}}}\n" for day, was in days
    )


@pytest.mark.parametrize(
    ("taken", "refused"),
    [((), 0), ((False, False), 0), ((False,) * 3, 3), ((True, False, False, False, False), 4),
     ((False, False, False, True), 0), ((False, False, True, False), 0)],
)  # fmt: skip
def test_three_meals_refused_in_a_row_are_told(taken: tuple[bool, ...], refused: int) -> None:
    found = asked(animal(meals(*taken)))
    assert [each.number for each in found] == [refused] * bool(refused)
    if refused:
        assert found[0].day == dt.date(2026, 12, len(taken) - refused + 1), "since the first of them"


@pytest.mark.parametrize("gone", ["died: 2027-01-01", "offer: {state: sold, since: 2027-01-01}"])
def test_nothing_is_asked_of_one_that_is_gone(gone: str) -> None:
    assert whats(animal(meals(False, False, False) + "weights: {2025-01-01: 300 g}"))
    assert not whats(animal(meals(False, False, False) + f"weights: {{2025-01-01: 300 g}}\n{gone}"))


@pytest.mark.parametrize(
    ("heaviest", "newest", "told"),
    [("2026-10-01: 400 g", "359 g", True), ("2026-10-01: 400 g", "360 g", False),
     ("2026-08-05: 400 g", "300 g", True), ("2026-08-04: 400 g", "300 g", False)],
)  # fmt: skip
def test_a_tenth_of_the_weight_lost_in_half_a_year_is_told(heaviest: str, newest: str, *, told: bool) -> None:
    found = whats(animal(f"weights: {{{heaviest}, 2027-01-20: {newest}}}", born="2019-07-01"))
    assert (Asks.LOSING in found) == told


def test_a_dam_that_laid_in_between_is_not_told_of_and_one_that_laid_before_is() -> None:
    own = PAIR.replace("born: 2020-07-01\n", "born: 2020-07-01\nweights: {2026-10-01: 400 g, 2027-01-20: 300 g}\n", 1)
    clutch = "=== litters/l/litter.yaml\ndam: d\nsire: s\nothers: [{{count: 3}}]\nlaid: {}\n"
    assert Asks.LOSING in whats(own)
    assert Asks.LOSING not in whats(own + clutch.format("2026-12-01"))
    assert Asks.LOSING in whats(own + clutch.format("2026-09-01"))
    failed = "=== litters/l/litter.yaml\ndam: d\nsire: s\nfailed: {{date: 2026-12-01, what: {}}}\n"
    assert Asks.LOSING not in whats(own + failed.format("slugs"))
    assert Asks.LOSING in whats(own + failed.format("not-gravid"))


def test_only_its_weight_stands_against_the_coming_season() -> None:
    light = "weights: {2027-01-20: 250 g}"
    (matter,) = asked(animal(light))
    assert (matter.what, matter.day, matter.number) == (Asks.LIGHT, dt.date(2027, 3, 1), 300)
    assert not whats(animal("weights: {2027-01-20: 300 g}"))
    assert not whats(animal(light, born="2026-07-01", sex="female")), "too young as well"
    assert not whats(animal(light, sex="male")), "no weight is asked of a male"
    assert Asks.LIGHT not in whats(animal(f"{light}\noffer: {{state: available, since: 2026-01-01}}"))


# Offers, papers, quarantine.


def offer(lines: str, more: str = "") -> str:
    return animal(f"offer: {{{lines}}}\n{more}")


@pytest.mark.parametrize(
    ("state", "ready", "told"),
    [("available", "2027-02-02", False), ("available", "2027-02-01", True), ("available", "2027-01-03", True),
     ("available", "2027-01-02", False), ("on hold", "2026-01-01", True), ("on hold", "2027-02-02", False),
     ("not for sale", "2027-02-01", False)],
)  # fmt: skip
def test_one_can_go_when_its_day_has_come(state: str, ready: str, *, told: bool) -> None:
    assert whats(offer(f"state: {state}, ready: {ready}")) == [Asks.READY] * told


def test_one_that_is_there_for_long_or_is_apart_or_lacks_a_meal_is_no_news() -> None:
    assert not whats(offer("state: available"))
    held = "state: on hold, ready: 2027-01-15"
    assert whats(offer(held, "quarantine: {until: 2027-01-31}")) == [Asks.READY]
    assert Asks.READY not in whats(offer(held, "quarantine: {until: 2027-02-01}"))
    rules = "=== site.yaml\nname: a\nready_when: {meals: 2, weight: 10 g}\n"
    young = animal(
        "offer: {state: available}\nweights: {2026-12-01: 9 g, 2027-01-20: 11 g}\n" + meals(True, True),
        born="2026-09-01",
    )
    (matter,) = (each for each in asked(rules + young) if each.what is Asks.READY)
    assert matter.day == dt.date(2027, 1, 20), "on the day of the weighing that was lacking"
    assert Asks.READY not in whats(rules + young, dt.date(2027, 1, 19))


@pytest.mark.parametrize(("until", "found"), [("2027-02-09", []), ("2027-02-08", [False]), ("2027-02-01", [False]),
                                              ("2027-01-31", [True])])  # fmt: skip
def test_a_hold_is_told_a_week_before_its_last_day_and_after_it(until: str, found: list[bool]) -> None:
    told = asked(offer(f"state: on hold, until: {until}, ready: 2027-03-01"))
    assert [each.pressing for each in told if each.what is Asks.HOLDS] == found
    assert not asked(offer(f"state: available, until: {until}, ready: 2027-03-01"))


@pytest.mark.parametrize(("until", "found"), [("2027-04-03", []), ("2027-04-02", [False]), ("2027-02-01", [False]),
                                              ("2027-01-31", [True]), ("unknown", [])])  # fmt: skip
def test_a_permit_is_told_two_months_before_its_last_day_and_after_it(until: str, found: list[bool]) -> None:
    told = asked(animal(f"private: {{permits: [{{kind: import, number: 7, valid_until: {until}}}]}}"))
    assert [each.pressing for each in told if each.what is Asks.PERMITS] == found
    assert all(each.text == "import, 7" for each in told)


@pytest.mark.parametrize(("until", "told"), [("2027-01-31", False), ("2027-02-01", True), ("2027-02-08", True),
                                             ("2027-02-09", False)])  # fmt: skip
def test_the_last_week_of_a_quarantine_is_told(until: str, *, told: bool) -> None:
    assert whats(animal(f"quarantine: {{until: {until}}}")) == [Asks.QUARANTINE] * told


# Weighing.


@pytest.mark.parametrize(
    ("born", "last", "site", "told"),
    [("2020-07-01", "2026-11-03", "", True), ("2020-07-01", "2026-11-04", "", False),
     ("2026-07-01", "2027-01-02", "", True), ("2026-07-01", "2027-01-03", "", False),
     ("2024-08-02", "2027-01-02", "", True), ("2024-08-01", "2027-01-02", "", False),  # 30 months old on the day
     ("2026-07-01", "2027-01-02", "weigh_every: 2 months", False),
     ("2026-07-01", "2026-12-01", "weigh_every: 2 months", True),
     ("2020-07-01", "2027-01-25", "weigh_every: {adult: 1 week}", True),
     ("2026-07-01", "2027-01-25", "weigh_every: {adult: 1 week}", False)],
)  # fmt: skip
def test_young_are_weighed_each_month_and_adults_each_season(born: str, last: str, site: str, *, told: bool) -> None:
    found = whats(f"=== site.yaml\nname: a\n{site}\n" + animal(f"weights: {{{last}: 400 g}}", born=born))
    assert (Asks.WEIGH in found) == told


def test_one_that_was_never_weighed_is_told_only_where_others_are() -> None:
    assert not whats(PAIR)
    found = asked(PAIR + animal("weights: {2027-01-30: 400 g}"))
    assert [(each.what, each.id, each.weights) for each in found] == [(Asks.WEIGH, "d", ()), (Asks.WEIGH, "s", ())]


# Stages.


def road(season: int, more: str = "") -> str:
    return (
        f"{PAIR}=== projects/p/project.yaml\nspecies: corn\nstate: under way\ngoal: {{shows: [a]}}\nstages:\n"
        f"  first: {{season: {season}, dam: d, sire: s, keep: {{goal: {{shows: [a]}}}}}}\n{more}"
    )


def test_the_open_stages_of_the_coming_season_are_told_unless_a_litter_is_on_its_way() -> None:
    (matter,) = asked(road(2027))
    assert (matter.what, matter.id, matter.dams, matter.sires) == (Asks.NEXT, "p/first", ("d",), ("s",))
    assert matter.day == dt.date(2027, 3, 1)
    assert not asked(road(2028))
    linked = road(2027).replace("{season: 2027", "{season: 2027, litters: [l]")
    clutch = "=== litters/l/litter.yaml\ndam: d\nsire: s\npaired: 2027-03-02\n"
    assert Asks.NEXT in whats(linked.replace("litters: [l], ", ""), dt.date(2027, 3, 5))
    assert Asks.NEXT not in whats(linked + clutch, dt.date(2027, 3, 5))


def test_what_cannot_wait_stands_first_whatever_the_records_are_called() -> None:
    records = (
        "=== site.yaml\nname: a\n" + litter("laid: 2026-10-01")
        + animal(meals(False, False, False) + "weights: {2026-10-01: 400 g}\nprivate:\n  permits:\n"
                 "    - {kind: x, valid_until: 2027-03-20}\n    - {kind: y, valid_until: 2027-01-20}")
        + "=== animals/b/animal.yaml\nspecies: corn\noffer: {state: on hold, until: 2027-02-03}\n"
        + "=== litters/m/litter.yaml\ndam: d\nsire: s\nlaid: 2026-12-05\n"
        + "=== litters/n/litter.yaml\ndam: d\nsire: s\nlaid: 2026-12-25\n"
    )  # fmt: skip
    found = [(each.what, each.id) for each in asked(records)]
    assert found == [
        (Asks.OVERDUE, "l"), (Asks.REFUSING, "a"), (Asks.PERMITS, "a"), (Asks.DUE, "m"), (Asks.HOLDS, "b"),
        (Asks.READY, "b"), (Asks.DUE, "n"), (Asks.PERMITS, "a"), (Asks.WEIGH, "b"), (Asks.WEIGH, "d"),
        (Asks.WEIGH, "s"), (Asks.WEIGH, "a"),
    ]  # fmt: skip
