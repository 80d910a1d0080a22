"""Values that are worked out when somebody asks for them."""

import pytest

from sitegen.lazily import Lazily


def test_a_value_is_made_once_and_only_when_asked_for() -> None:
    made: list[str] = []

    def double(key: str) -> str:
        made.append(key)
        return key * 2

    values = Lazily(["a", "b"], double)
    assert values
    assert made == []
    assert values["a"] + values["a"] == "aaaa"
    assert made == ["a"]
    assert dict(values) == {"a": "aa", "b": "bb"}


def test_a_key_without_a_value_is_not_there() -> None:
    values = Lazily(["a", "b"], lambda key: key if key == "b" else None)
    assert values.get("a", "none") == "none"
    assert list(values) == ["b"]
    assert len(values) == 1
    assert "c" not in values
    with pytest.raises(KeyError):
        values["c"]
