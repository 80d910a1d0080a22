"""Any sequence of additions and changes keeps every comment, every name and every other record, sign by sign."""

import datetime as dt
import difflib
import re
import tempfile
from collections.abc import Callable
from pathlib import Path

from helpers.from_text import write_files
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.content.prices import OfferState
from sitegen.content.writing import write
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper import splicing
from sitegen.keeper.entries import add_event, add_meal, add_measured, set_offer
from sitegen.keeper.new_records import add_animal, add_litter, add_outcome, add_young, animal_values
from sitegen.keeper.records import Proposal, Records, check_proposal, open_records

RECORDS = """
=== site.yaml
name: Small   # my own
currency: GBP
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  motley: {inheritance: recessive}
=== animals/juniper/animal.yaml
# c1 the first of all
name: Juniper   # c2
species: corn-snake
sex:   female
born: 2018-06-01

weights:   # c3 in grams
  2020-05-01: 310 g
  # c4 before the winter
  2021-05-01:   402 g   # c5
about: |
  # no comment, but text

  of several lines

# c6 not for others
private: {notes: 'it''s mine'}
=== animals/flint/animal.yaml
{species: corn-snake, sex: male, born: 2018-06-01,   # c1
 shows: [amel]}   # c2
=== litters/2022-a/litter.yaml
dam: juniper
sire: flint
born: 2022-07-01   # c1
young:
  # c2 the bold one
  "01": {sex: female, shows: [amel]}   # c3
  "02":
  "03":   # c4 late
    shows: []
    offer:   # c5
      price: {amount: 60, currency: GBP}
      state: available   # c6
    meals:
    - {date: 2022-08-01, what: pinkie}   # c7
# c8 the end
"""

ANIMALS = st.sampled_from(["juniper", "flint", "2022-a/01", "2022-a/02", "2022-a/03", "2022-a/04"])
DAYS = st.dates(dt.date(2022, 9, 1), dt.date(2022, 9, 9))
WORDS = st.sampled_from(["mouse", "a, b", "rat: large", "é #1", "'x'", "no"])
Step = Callable[[Records], Proposal]

STEPS: st.SearchStrategy[Step] = st.one_of(
    st.builds(
        lambda animal, state, on, price: lambda now: set_offer(now, animal, state, on, on=on, price=price),
        ANIMALS, st.sampled_from(OfferState), DAYS, st.sampled_from(["", "60", "75.50", "90 EUR"]),
    ),
    st.builds(
        lambda animal, grams, on: lambda now: add_measured(now, "weights", animal, f"{grams}g", on),
        ANIMALS, st.integers(1, 999), DAYS,
    ),
    st.builds(
        lambda animal, what, on, refused: lambda now: add_meal(now, animal, what, on, refused),
        ANIMALS, WORDS, DAYS, st.booleans(),
    ),
    st.builds(
        lambda named, what, on, note: lambda now: add_event(now, named, what, on, note=note),
        st.lists(ANIMALS, min_size=1, max_size=3), st.sampled_from(["shed", "vet", "fed", "note"]), DAYS, WORDS,
    ),
    st.builds(
        lambda number, shows, sex: lambda now: add_young(now, "2022-a", number, animal_values(shows=shows, sex=sex)),
        st.sampled_from(["", "1", "02", "03", "4"]), st.sampled_from([[], ["nothing"], ["amel"], ["amel", "motley"]]),
        st.sampled_from(["", "male", "female"]),
    ),
    st.builds(
        lambda name, kept: lambda now: add_animal(now, name, "", animal_values(kept=kept)),
        st.sampled_from(["Juniper", "Große Jún", "Été 2"]), st.booleans(),
    ),
    st.builds(
        lambda n: lambda now: add_litter(now, "juniper", ["flint"], {"born": "2024-07-01"}, n), st.integers(0, 3)
    ),
    st.builds(
        lambda litter, noted, n: lambda now: add_outcome(now, litter, noted, n),
        st.sampled_from(["2022-a", "2024-juniper-flint"]),
        st.fixed_dictionaries({}, optional={"laid": st.just("2022-05-01"), "born": st.just("2022-07-01"),
                                            "eggs": st.sampled_from(["9", "12"]), "infertile": st.just("1")}),
        st.integers(0, 6),
    ),
)  # fmt: skip


def comments(text: str) -> list[str]:
    return re.findall(r"# c\d[^\n]*", text)


def names(found: object, path: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    if isinstance(found, dict):
        return {(*path, key) for key in found} | {n for key, each in found.items() for n in names(each, (*path, key))}
    if isinstance(found, list):
        entries = {(*path, str(at)) for at in range(len(found))}
        return entries | {n for at, each in enumerate(found) for n in names(each, (*path, str(at)))}
    return set()


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(steps=st.lists(STEPS, min_size=1, max_size=8), windows=st.booleans())
def test_a_sequence_of_changes_loses_nothing(steps: list[Step], windows: bool) -> None:
    with tempfile.TemporaryDirectory() as folder:
        root = write_files(Path(folder), RECORDS)
        if windows:
            for path in root.rglob("*.yaml"):
                path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
        for step in steps:
            before = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
            records = open_records(root)
            try:
                change = step(records)
                check_proposal(records, change)
            except (WrongUse, ContentError):
                change = Proposal((), "")
            write(root, change.files)
            after = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
            touched = {root / file.path for file in change.files}
            assert set(before) - set(after) == set()
            assert {path for path in after if after[path] != before.get(path)} == touched
            for path in touched & set(before):
                _check_one(before[path].decode(), after[path].decode())


def _check_one(before: str, after: str) -> None:
    assert comments(after) == comments(before)
    old, new = splicing.plain(before), splicing.plain(after)
    assert names(old) <= names(new)
    assert ("\r\n" in after) == ("\r\n" in before)
    kept = difflib.SequenceMatcher(None, before.splitlines(True), after.splitlines(True), autojunk=False)
    replaced = sum(i2 - i1 for tag, i1, i2, _, _ in kept.get_opcodes() if tag != "equal")
    assert replaced <= 4  # price, its currency, state and day of one offer; every other line is equal sign by sign
