"""JSON as it is published is what the standard library writes."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.lazily import Each
from sitegen.rendering.json_text import json_file, json_object, json_part, json_text

anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner) | st.lists(inner).map(tuple) | st.dictionaries(st.text(), inner),
    max_leaves=20,
)


@given(anything)
def test_it_is_what_the_standard_library_writes(value: object) -> None:
    assert json_text(value) == json.dumps(value, ensure_ascii=False, indent=2)


@pytest.mark.parametrize("value", [{1: "a"}, {"a": {1, 2}}, [object()], {None: 1}])
def test_what_is_not_json_is_refused(value: object) -> None:
    with pytest.raises(TypeError):
        json_text(value)


def test_a_file_ends_with_a_line_end_and_is_utf_8() -> None:
    assert json_file({"name": "Gälbchen"}) == '{\n  "name": "Gälbchen"\n}\n'.encode()


def test_what_is_made_one_after_the_other_is_a_list() -> None:
    assert json_text({"b": {"c": 1}, "a": Each((1, 2), str)}) == json_text({"b": {"c": 1}, "a": ["1", "2"]})
    assert json_text({"a": Each((), str), "b": {"c": Each("x", str)}}) == json_text({"a": [], "b": {"c": ["x"]}})
    assert json_text({"a": Each((1, 2), str)}) == json_text({"a": ["1", "2"]})
    assert json_text(Each((), str)) == "[]"


def test_a_file_of_parts_is_the_file_of_the_whole():
    value = {"a": {"b": [1, {"c": "d"}], "e": []}, "f": "ü", "g": None, "h": ["i", [True]]}
    assert json_object({key: json_part(part) for key, part in value.items()}) == json_file(value)
