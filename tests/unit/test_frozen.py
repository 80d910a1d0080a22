"""Frozen values: as those of the standard library in all but the guard, which stands where it is asked for."""

import os
import pickle
import subprocess
import sys
from dataclasses import field, replace

import pytest

from sitegen.findings import Place
from sitegen.frozen import dataclass

GUARDED = """
import dataclasses, sys
from sitegen.findings import Place
place = Place("a.yaml", 1, 2)
assert hash(place) == hash(Place("a.yaml", 1, 2)) and place == Place("a.yaml", 1, 2)
try:
    place.line = 3
except dataclasses.FrozenInstanceError:
    print("guarded")
else:
    print("open")
"""


def said(**surroundings: str) -> str:
    command = [sys.executable, "-c", GUARDED]
    return subprocess.run(
        command, env=os.environ | surroundings, capture_output=True, text=True, check=True, timeout=60
    ).stdout.strip()


def test_the_guard_stands_where_it_is_asked_for() -> None:
    assert said(SITEGEN_FROZEN="1") == "guarded"
    assert said(SITEGEN_FROZEN="") == "open"


def test_values_are_compared_hashed_ordered_and_kept_by_their_fields() -> None:
    one, other = Place("a.yaml", 1, 2), Place("a.yaml", 1, 2)
    assert one == other
    assert hash(one) == hash(other) == hash(("a.yaml", 1, 2))
    assert replace(one, line=3) != one < replace(one, line=3)
    assert pickle.loads(pickle.dumps(one)) == one
    assert repr(one) == "Place(file='a.yaml', line=1, column=2)"


def test_a_class_that_hashes_itself_still_does() -> None:
    @dataclass(frozen=True, slots=True)
    class Own:
        number: int

        def __hash__(self) -> int:
            return 7

    @dataclass(frozen=True, slots=True, eq=False)
    class Single:
        number: int

    assert hash(Own(1)) == hash(Own(2)) == 7
    assert Single(1) != Single(1)


def test_open_values_and_parts_of_values_are_as_in_the_standard_library() -> None:
    @dataclass(slots=True)
    class Open:
        number: int
        seen: list[str] = field(default_factory=list, repr=False, compare=False)

    @dataclass(frozen=True, slots=True)
    class More(Place):
        beside: int = field(default=0, compare=False)

    assert Open(1, ["a"]) == Open(1, ["b"]) != Open(2)
    assert repr(Open(1)).endswith("Open(number=1)")
    with pytest.raises(TypeError, match="unhashable"):
        hash(Open(1))
    one, other = More("a.yaml", 1, 2, beside=3), More("a.yaml", 1, 2, beside=4)
    assert one == other
    assert hash(one) == hash(other)
    assert one != Place("a.yaml", 1, 2)
    assert repr(one).endswith("More(file='a.yaml', line=1, column=2, beside=3)")


def test_values_of_kin_classes_are_compared_each_by_its_own_fields() -> None:
    @dataclass(frozen=True, slots=True)
    class Base:
        number: int

    @dataclass(frozen=True, slots=True)
    class Longer(Base):
        name: str

    assert Base(1) == Base(1)
    assert Longer(1, "a") != Longer(1, "b")
    assert Base(1) != Longer(1, "a")
    assert len({Longer(1, "a"), Longer(1, "b"), Base(1), Longer(1, "a")}) == 3
