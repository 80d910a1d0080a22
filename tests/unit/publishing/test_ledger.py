"""Which file was made from what, from one build to the next."""

import json
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
from sitegen.publishing.last_ledger import LastTime, read, write
from sitegen.publishing.ledger import _TOGETHER, Entry, Ledger
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


def handed_on(folder: Path, first: Ledger, now: Ledger, entries: dict[str, Entry]) -> LastTime:
    write(folder / "ledger.json", first, entries, lambda note: note)
    return read(folder / "ledger.json", now, lambda note: note)


def asked_by(entry: Entry, of: Ledger) -> set[tuple[str, str, object]]:
    return {*(of.questions.asked(number) for number in entry.asked), *((name, ONE, key) for name, key in entry.beside)}


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
    later = handed_on(tmp_path, first, now, entries)
    found = {each: later.same(repr(each), MAKER) for each in questions}
    assert [each for each in questions if found[each]] == same
    for each, entry in found.items():
        if entry:  # its questions have their numbers of now, and are handed on with them
            assert asked_by(entry, now) == {each}
            assert handed_on(tmp_path, now, ledger({**MAPPINGS, **changed}), {"a": entry}).same("a", MAKER) == entry


def test_a_file_whose_maker_holds_another_thing_is_made_again(tmp_path: Path) -> None:
    entries = {
        "a": ledger(MAPPINGS).entry([ONE_ANIMAL], MAKER, None),
        "open": ledger(MAPPINGS).entry([ONE_ANIMAL], partial(make, open), None),
        "never": ledger(MAPPINGS).entry([ONE_ANIMAL], partial(make, threading.Lock()), None),
    }
    now = handed_on(tmp_path, ledger(MAPPINGS), ledger(MAPPINGS), entries)
    assert now.same("a", MAKER)
    assert now.same("a", partial(make, Animal("Sage")))
    assert not now.same("a", partial(make, RUE))
    assert not now.same("a", partial(make, SAGE, RUE))
    assert not now.same("a", lambda: make(SAGE))
    assert not now.same("b", MAKER)
    assert not handed_on(tmp_path, ledger(MAPPINGS), ledger(MAPPINGS, "another day"), entries).same("a", MAKER)
    assert entries["open"].held
    assert not entries["never"].held
    assert not now.same("never", partial(make, threading.Lock()))


def test_what_is_worked_out_late_is_compared_by_its_hash_and_not_worked_out_where_that_is_known(tmp_path: Path) -> None:
    made: list[str] = []

    def lazily(told: str, known: Any = None) -> Ledger:
        def make_it(key: str) -> str | None:
            made.append(key)
            return None if key == "rue" else told + key

        mappings: Any = {**MAPPINGS, "lazy": Lazily(["sage", "rue"], make_it)}
        return Ledger("", mappings, known=known or {})

    first = lazily("dear ")
    asked = {"a": ("lazy", ONE, "sage"), "b": ("lazy", ONE, "rue"), "c": ONE_ANIMAL, "d": ("lazy", ALL, None)}
    entries = {name: first.entry([each], MAKER, None) for name, each in asked.items()}
    for told, same in (("dear ", {"a", "b", "c", "d"}), ("poor ", {"b", "c"})):
        now = handed_on(tmp_path, first, lazily(told), entries)
        assert {name for name in asked if now.same(name, MAKER)} == same
    made.clear()
    now = handed_on(tmp_path, first, lazily("dear ", first.marks_of(("lazy",))), entries)
    assert all(now.same(name, MAKER) for name in "abc")
    assert made == []


def test_several_processes_give_the_same_hashes_as_one() -> None:
    shared = Animal("shared")
    many: Any = {
        "animals": {number: Animal(str(number)) for number in range(2 * _TOGETHER + 1)} | {"a": shared},
        "litters": {"b": shared, "c": Animal("0")},
    }
    known = {"litters": {"c": b"known before"}}
    alone, together = (Ledger("", many, known=known, workers=workers) for workers in (1, 2))
    assert alone.marks == together.marks
    assert together.marks["litters"]["c"] == b"known before"
    assert together.marks["animals"]["a"] == together.marks["litters"]["b"]
    assert len(set(together.marks["animals"].values())) == 2 * _TOGETHER + 2
    assert [list(marks) for marks in together.marks.values()] == [list(content) for content in many.values()]
    assert together.held(partial(make, shared)) == alone.held(partial(make, shared)) != ""


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


@pytest.mark.parametrize(
    "spoilt",
    [
        {"order": "other"}, {"names": ["animals"]}, {"keys": ["sage"]}, {"keys": 3}, {"marks": {}},
        {"marks": {"animals": ["", ""], "litters": ["AgAAAA==", ""]}}, {"asked": "AAAA"}, {"asked": "no text"},
        {"asked": [2]}, {"files": []}, {"files": {"a": 1}}, {"files": {"a": "b"}},
        {"files": {"a": ["d", None, "h", 1, [], []]}}, {"files": {"a": ["d", None, "h", 2, [], [[1, "no"]]]}},
    ],
)  # fmt: skip
def test_a_spoilt_file_is_as_none(spoilt: Any, tmp_path: Path) -> None:
    of, place = ledger(MAPPINGS), tmp_path / "ledger.json"
    assert handed_on(tmp_path, of, of, {"a": asking(ONE_ANIMAL, A_LITTER)}).same("a", MAKER)
    whole = json.loads(unsealed(place.read_bytes()))
    for text in (json.dumps({**whole, **spoilt}), "", "[]", "{}", "null"):
        place.write_bytes(sealed(text.encode()))
        assert not read(place, of, str).same("a", MAKER)


def test_every_cut_of_the_file_is_as_none(tmp_path: Path) -> None:
    of, place = ledger(MAPPINGS), tmp_path / "ledger.json"
    write(place, of, {"a": of.entry([ONE_ANIMAL, A_LITTER], MAKER, ["a note"])}, lambda note: note)
    whole = place.read_bytes()
    assert read(place, of, lambda note: note).entries["a"].note == ["a note"]
    assert json.loads(unsealed(whole))["asked"] == b64encode(array("I", [2, 2 + 5 + 2]).tobytes()).decode()
    for end in range(len(whole)):
        place.write_bytes(whole[:end])
        assert not read(place, of, lambda note: note).entries


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
