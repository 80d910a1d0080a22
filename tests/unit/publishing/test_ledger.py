"""Which file was made from what, from one build to the next."""

import json
import sys
import threading
from array import array
from base64 import b64encode
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.hashes import content_hash
from sitegen.lazily import Lazily
from sitegen.noted import ALL, ANY, ONE, Noted, taking_notes
from sitegen.publishing.ledger import Entry, Ledger, read, write
from sitegen.store import sealed, unsealed


class Sex(Enum):
    FEMALE = "female"
    MALE = "male"


@dataclass(frozen=True, slots=True)
class Animal:
    name: str
    sex: Sex | None = None
    odds: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Other:
    name: str
    sex: Sex | None = None
    odds: Fraction | None = None


def make(*held: object) -> None: ...


SAGE, RUE = Animal("Sage"), Animal("Rue", Sex.FEMALE)
MAPPINGS: Any = {"animals": {"sage": SAGE, "rue": RUE}, "litters": {("corn", 1): "a litter"}}
MAKER = partial(make, SAGE)


def ledger(mappings: Any, base: str = "base") -> Ledger:
    return Ledger(base, mappings)


def asking(*asked: tuple[str, str, object], of: Any = MAPPINGS) -> Entry:
    return ledger(of).entry(asked, MAKER, None)


ONE_ANIMAL, NO_ANIMAL = ("animals", ONE, "sage"), ("animals", ONE, "nobody")
ALL_ANIMALS, ANY_LITTER, A_LITTER = ("animals", ALL, None), ("litters", ANY, None), ("litters", ONE, ("corn", 1))


@pytest.mark.parametrize(
    ("changed", "same"),
    [
        ({}, [ONE_ANIMAL, NO_ANIMAL, ALL_ANIMALS, ANY_LITTER, A_LITTER]),
        ({"animals": {"sage": SAGE, "rue": Animal("Rue")}}, [ONE_ANIMAL, NO_ANIMAL, ANY_LITTER, A_LITTER]),
        ({"animals": {"rue": RUE, "sage": SAGE}}, [ONE_ANIMAL, NO_ANIMAL, ANY_LITTER, A_LITTER]),
        ({"animals": {"sage": SAGE, "rue": RUE, "nobody": SAGE}}, [ONE_ANIMAL, ANY_LITTER, A_LITTER]),
        ({"animals": {"sage": SAGE}}, [ONE_ANIMAL, NO_ANIMAL, ANY_LITTER, A_LITTER]),
        ({"litters": {("corn", 1): "another"}}, [ONE_ANIMAL, NO_ANIMAL, ALL_ANIMALS, ANY_LITTER]),
        ({"litters": {("corn", 2): "a litter"}}, [ONE_ANIMAL, NO_ANIMAL, ALL_ANIMALS, ANY_LITTER]),
        ({"litters": {}}, [ONE_ANIMAL, NO_ANIMAL, ALL_ANIMALS]),
    ],
)
def test_a_file_is_the_same_while_what_it_asked_has_the_same_answers(
    changed: Any, same: list[tuple[str, str, object]], tmp_path: Path
) -> None:
    questions = [ONE_ANIMAL, NO_ANIMAL, ALL_ANIMALS, ANY_LITTER, A_LITTER]
    first, now = ledger(MAPPINGS), ledger({**MAPPINGS, **changed})
    entries = {repr(each): first.entry([each], MAKER, None) for each in questions}
    write(tmp_path / "ledger.json", first.questions, entries, lambda note: note)
    known = read(tmp_path / "ledger.json", now.questions, lambda note: note)
    assert [each for each in questions if now.same(known.get(repr(each)), MAKER)] == same


def test_a_file_whose_maker_holds_another_thing_is_made_again() -> None:
    entry, now = asking(ONE_ANIMAL), ledger(MAPPINGS)
    assert now.same(entry, MAKER)
    assert now.same(entry, partial(make, Animal("Sage")))
    assert not now.same(entry, partial(make, RUE))
    assert not now.same(entry, partial(make, SAGE, RUE))
    assert not now.same(entry, lambda: make(SAGE))
    assert not ledger(MAPPINGS, "another day").same(entry, MAKER)
    unknown = ledger(MAPPINGS).entry([ONE_ANIMAL], partial(make, open), None)
    assert unknown.held
    never = ledger(MAPPINGS).entry([ONE_ANIMAL], partial(make, threading.Lock()), None)
    assert not never.held
    assert not ledger(MAPPINGS).same(never, partial(make, threading.Lock()))


def test_what_is_noted_is_what_is_numbered() -> None:
    def dear(key: str) -> str | None:
        return f"dear {key}" if key == "sage" else None

    mappings: Any = {**MAPPINGS, "lazy": Lazily(["sage", "rue"], dear)}
    of = Ledger("", mappings)
    noted: Any = {name: Noted(name, content) for name, content in mappings.items()}
    with taking_notes() as found:
        assert noted["animals"].get("sage") == SAGE
        assert noted["lazy"].get("rue") is None
        assert noted["litters"].get("sage") is None
        assert noted["litters"]
    entry = of.entry(found, MAKER, "note")
    asked = {of.questions.asked(number) for number in entry.asked}
    assert asked == {ONE_ANIMAL, ("lazy", ONE, "rue"), ("litters", ONE, "sage"), ANY_LITTER}
    assert entry.beside == ()
    assert of.same(entry, MAKER)
    other = Ledger("", {**mappings, "lazy": Lazily(["sage", "rue"], lambda key: key)})
    assert not other.same(entry, MAKER)


HEAD = f'{{"order": "{sys.byteorder}", "names": ["animals", "litters"], "keys": ["sage", "rue"], '


@pytest.mark.parametrize(
    "text",
    [
        "", "[]", "{}", HEAD + '"files": []}', HEAD + '"files": {"a": 1}}',
        HEAD + '"files": {"a": ["d", null, "h", "/////w==", [], "m"]}}',
        HEAD + '"files": {"a": ["d", null, "h", "AAAA", [], "m"]}}',
        HEAD + '"files": {"a": ["d", null, "h", "no text", [], "m"]}}',
        HEAD + '"files": {"a": ["d", null, "h", [2], [], "m"]}}',
    ],
)  # fmt: skip
def test_a_spoilt_file_is_as_none(text: str, tmp_path: Path) -> None:
    (tmp_path / "ledger.json").write_bytes(sealed(text.encode()))
    of = ledger(MAPPINGS)
    assert not any(of.same(entry, MAKER) for entry in read(tmp_path / "ledger.json", of.questions, str).values())


def test_a_file_of_a_machine_that_counts_the_other_way_is_as_none(tmp_path: Path) -> None:
    of, place = ledger(MAPPINGS), tmp_path / "ledger.json"
    write(place, of.questions, {"a": of.entry([ONE_ANIMAL], MAKER, None)}, lambda note: note)
    other = unsealed(place.read_bytes()).replace(sys.byteorder.encode(), b"other")
    place.write_bytes(sealed(other))
    assert read(place, of.questions, lambda note: note) == {}


def test_every_cut_of_the_file_is_as_none(tmp_path: Path) -> None:
    of, place = ledger(MAPPINGS), tmp_path / "ledger.json"
    write(place, of.questions, {"a": of.entry([ONE_ANIMAL, A_LITTER], MAKER, ["a note"])}, lambda note: note)
    whole = place.read_bytes()
    told = unsealed(whole)
    assert read(place, of.questions, lambda note: note)["a"].note == ["a note"]
    assert json.loads(told)["files"]["a"][3] == b64encode(array("I", [2, 2 + 5 + 2]).tobytes()).decode()
    for end in range(len(whole)):
        place.write_bytes(whole[:end])
        assert read(place, of.questions, lambda note: note) == {}


plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=4) | st.fractions() | st.sampled_from(Sex),
    lambda inner: (
        st.tuples(inner, inner) | st.builds(Animal, inner, inner) | st.builds(Other, inner, inner) | st.lists(inner)
    ),
    max_leaves=6,
)


@given(plain, plain)
def test_different_values_have_different_hashes(one: object, other: object) -> None:
    alike = repr(one) == repr(other)  # also tells True from 1
    assert (content_hash(one) == content_hash(other)) <= alike


def test_kinds_with_the_same_fields_are_told_apart() -> None:
    assert content_hash(Animal("a")) != content_hash(Other("a"))
    assert content_hash(Sex.FEMALE) != content_hash(Sex.MALE)
    assert content_hash(Fraction(1, 2)) != content_hash((1, 2))
    assert content_hash(Animal("a")) == content_hash(Animal("a"))
