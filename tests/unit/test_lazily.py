"""Values that are worked out when somebody asks for them."""

import pytest

from sitegen.lazily import InPieces, Lazily


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


def test_a_piece_is_read_once_and_only_when_one_of_its_keys_is_asked_for() -> None:
    read: list[int] = []
    content = [{"a": 1, "b": 2}, {"c": 3}]

    def piece(number: int) -> dict[str, int]:
        read.append(number)
        return content[number]

    values = InPieces([tuple(each) for each in content], piece)
    assert (list(values), len(values), "b" in values, "d" in values, values.get("d")) == (
        ["a", "b", "c"],
        3,
        True,
        False,
        None,
    )
    assert read == []
    assert (values["b"], values["a"]) == (2, 1)
    assert read == [0]
    assert values == {"a": 1, "b": 2, "c": 3}
    assert read == [0, 1]
    with pytest.raises(KeyError):
        values["d"]
