"""One code lets one phone in for one day, and codes cannot be tried through."""

import datetime as dt
import itertools

import pytest

from sitegen.app.desk.door import MOST_WRONG, Came, Door

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.timezone(dt.timedelta(hours=1)))


class Clock:
    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> dt.datetime:
        return self.now

    def wait(self, seconds: float) -> None:
        self.now += dt.timedelta(seconds=seconds)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def door(clock: Clock) -> Door:
    return Door(clock)


def wrong(door: Door, at: int = 0) -> str:
    """Codes that are not the one."""
    every = (f"{number:06}" for number in range(1_000_000))
    return next(itertools.islice((each for each in every if each != door.code), at, None))


def test_the_right_code_lets_in_once_however_it_is_spaced(door: Door) -> None:
    code = door.code
    assert len(code) == 6
    assert code.isdecimal()
    came, key = door.try_code(f" {code[:3]} {code[3:]} ")
    assert came is Came.IN
    assert door.knows(key)
    assert len(key) * 6 >= 256
    assert not door.code
    assert door.try_code(code) == (Came.NO_CODE, "")


def test_codes_and_keys_are_not_made_twice(clock: Clock) -> None:
    doors = [Door(clock) for _ in range(200)]
    assert len({door.code for door in doors}) > 190  # 200 of 1,000,000: two of them equal once in 50 trials
    assert len({door.try_code(door.code)[1] for door in doors}) == 200


def test_each_wrong_code_is_followed_by_a_longer_pause_in_which_the_right_one_is_not_taken(
    door: Door, clock: Clock
) -> None:
    code = door.code
    for tried in range(1, MOST_WRONG):
        assert door.try_code(wrong(door, tried))[0] is Came.WRONG
        clock.wait(2**tried - 0.1)
        assert door.try_code(code)[0] is Came.TOO_SOON
        clock.wait(0.1)
    assert door.try_code(code)[0] is Came.IN


def test_five_wrong_codes_end_it_and_so_one_in_200_000_is_guessed_at_most(door: Door, clock: Clock) -> None:
    """Whoever tries without a pause, has looked at five of a million codes when the code is gone."""
    code, looked_at = door.code, 0
    for tried in range(100_000):
        clock.wait(0.01)
        came, _ = door.try_code(wrong(door) if tried % 2 else f"{tried:06}" if f"{tried:06}" != code else "x")
        looked_at += came is not Came.TOO_SOON
        if not door.code:
            break
    assert looked_at == MOST_WRONG
    assert clock.now - NOON >= dt.timedelta(seconds=2 + 4 + 8 + 16)
    assert door.try_code(code) == (Came.NO_CODE, "")


def test_a_new_code_ends_the_phone_that_was_let_in_and_the_code_before(door: Door) -> None:
    _, first = door.try_code(door.code)
    door.make_code()
    assert not door.knows(first)
    _, second = door.try_code(door.code)
    assert door.knows(second)
    assert not door.knows(first)
    door.shut()
    assert not door.knows(second)
    assert door.try_code("")[0] is Came.NO_CODE


def test_code_and_key_end_with_the_day(door: Door, clock: Clock) -> None:
    code = door.code
    assert door.seconds_left() == 12 * 3600
    clock.wait(12 * 3600)
    assert not door.code
    assert door.try_code(code)[0] is Came.NO_CODE
    door.make_code()
    _, key = door.try_code(door.code)
    clock.wait(24 * 3600 - 1)
    assert door.knows(key)
    clock.wait(1)
    assert not door.knows(key)
    assert not door.is_used


@pytest.mark.parametrize("typed", ["", " ", "٣٤٥٦٧٨", "0" * 100_000, "' or 1=1"])
def test_odd_codes_are_wrong_codes(door: Door, typed: str) -> None:
    assert door.try_code(typed)[0] is Came.WRONG
    assert not door.knows(typed)
    assert not door.knows("")
