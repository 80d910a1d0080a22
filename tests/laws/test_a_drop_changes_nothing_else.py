"""A name is taken out of a record, however it is written: all else stays, sign by sign, comments included."""

import copy
import re
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.findings import ContentError
from sitegen.keeper import splicing
from sitegen.keeper.spots import CannotEdit, Path

KEYS = ("name", "sex", "born", "offer", "young", "weights", "01", "02")
SCALARS = st.sampled_from(["juniper", '"a # b"', "'it''s'", "2026-05-01", "", "[]", "[amel, motley]", "{a: 1, b: 2}"])
NOTES = st.sampled_from(["", "", "", "   # c1 note", " # c2 [a: {b"])


@st.composite
def group_lines(draw: st.DrawFn, depth: int = 0) -> list[str]:
    """The lines of a group with comments, blank lines, texts of several lines and groups within."""
    found: list[str] = []
    for key in draw(st.lists(st.sampled_from(KEYS), min_size=1, max_size=4, unique=True)):
        found += draw(st.sampled_from([[], [], [""], ["# c3 above"]]))
        shape = draw(st.sampled_from(["scalar", "scalar", "scalar", "group", "text", "list"]))
        quoted = f'"{key}"' if key.isdigit() else key
        if shape == "group" and depth < 2:
            inner = draw(group_lines(depth + 1))
            found += [f"{quoted}:{draw(NOTES)}", *(f"  {line}".rstrip() for line in inner)]
        elif shape == "text":
            found += [f"{quoted}: |{draw(NOTES)}", "  one # no comment", "", "  two"]
        elif shape == "list":
            found += [f"{quoted}:{draw(NOTES)}", f"- one{draw(NOTES)}", f"- {{b: two}}{draw(NOTES)}"]
            found += draw(st.sampled_from([[], [f"- b: two{draw(NOTES)}", f"  c: [three, {{d: 4}}]{draw(NOTES)}"]]))
        else:
            found.append(f"{quoted}: {draw(SCALARS)}{draw(NOTES)}")
    return found


def paths(found: Any, above: Path = ()) -> list[Path]:
    found = splicing.parts_of(found)
    return [path for key, each in found.items() for path in ((*above, key), *paths(each, (*above, key)))]


def without(found: dict[str, Any], path: Path, kind: str) -> dict[str, Any]:
    """The plain truth: it is deleted, and every group or list above it that is empty by then, but for a young."""
    left = copy.deepcopy(found)
    for steps in range(len(path), 0, -1):
        group = left
        for key in path[: steps - 1]:
            group = group[int(key) if isinstance(group, list) else key]
        last: Any = int(path[steps - 1]) if isinstance(group, list) else path[steps - 1]
        if steps == len(path) or not group[last]:
            del group[last]
        if kind == "litter" and steps == 3 and path[0] == "young" and not group:
            left["young"][path[1]] = None
            break
    return left


@given(lines=group_lines(), at=st.integers(0, 50), windows=st.booleans(), kind=st.sampled_from(["animal", "litter"]))
def test_a_drop_changes_nothing_else(lines: list[str], at: int, windows: bool, kind: str) -> None:
    newline = "\r\n" if windows else "\n"
    record = newline.join(lines) + newline
    try:
        before = splicing.plain(record)
    except ContentError:
        return
    path = paths(before)[at % len(paths(before))]
    try:
        after = splicing.drop(record, kind, path)
    except CannotEdit:
        return
    assert splicing.plain(after) == without(before, path, kind)
    assert re.findall(r"# c\d[^\r\n]*", after) == re.findall(r"# c\d[^\r\n]*", record)
    assert after.count("\n") == after.count(newline)
    rest = iter(record)
    signs = after.replace(" null", "")
    assert all(sign in rest for sign in re.sub(r"\s", "", signs)), "nothing stands there that did not, in its order"


def test_drops_of_usual_records_are_made() -> None:
    """The law would hold of a program that refuses everything."""
    record = (
        "name: A\noffer:  # c1\n  price: 60  # c2\n  state: sold\nweights: {2026-05-01: 402 g, 2026-06-01: 410 g}\n"
    )
    for path in paths(splicing.plain(record)):
        assert splicing.drop(record, "animal", path) != record
