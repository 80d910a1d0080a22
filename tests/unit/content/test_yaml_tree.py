"""Everything in a record stays as it was written, with its place."""

import time

import pytest
import yaml

from sitegen.content import yaml_tree
from sitegen.content.yaml_tree import MAX_DEPTH, Entries, Items, Scalar, parse_tree
from sitegen.findings import Kind, Place


def values(text: str) -> dict[str, str]:
    tree, findings = parse_tree(text, "r.yaml")
    assert findings == ()
    assert isinstance(tree, Entries)
    return {key.text: node.text for key, node in tree.entries if isinstance(node, Scalar)}


def kinds(text: str) -> list[tuple[Kind, int, int]]:
    findings = parse_tree(text, "r.yaml")[1]
    return [(f.kind, f.place.line, f.place.column) for f in findings if f.place]


def test_words_that_yaml_would_change_stay_as_written() -> None:
    text = "name: No\ntime: 12:30\nnumber: 0123\nday: 2021-07-14\nyes: on\nfew: 1_000\nbig: 1e3\nnil: ~\n"
    assert values(text) == {
        "name": "No",
        "time": "12:30",
        "number": "0123",
        "day": "2021-07-14",
        "yes": "on",
        "few": "1_000",
        "big": "1e3",
        "nil": "~",
    }


def test_places_count_from_one_and_letters_of_any_script_count_once() -> None:
    tree, _ = parse_tree("name: Ä\nshows: [amel, größe, x]\n", "animals/a/animal.yaml")
    assert isinstance(tree, Entries)
    shows = tree.entries[1][1]
    assert isinstance(shows, Items)
    assert [node.place for node in shows.items] == [
        Place("animals/a/animal.yaml", 2, 9),
        Place("animals/a/animal.yaml", 2, 15),
        Place("animals/a/animal.yaml", 2, 22),
    ]
    assert [node.width for node in shows.items] == [4, 5, 1]


def test_quotes_make_a_blank_a_text() -> None:
    tree, _ = parse_tree("a:\nb: ''\nc: null\nd: 'null'\ne: Null\n", "r.yaml")
    assert isinstance(tree, Entries)
    blank = {key.text: node.blank for key, node in tree.entries if isinstance(node, Scalar)}
    assert blank == {"a": True, "b": False, "c": True, "d": False, "e": False}


@pytest.mark.parametrize("text", ["", "\n\n", "# only a remark\n", "---\n", "~\n"])
def test_an_empty_text_is_an_empty_group(text: str) -> None:
    assert parse_tree(text, "r.yaml") == (Entries((), Place("r.yaml", 1, 1)), ())


def test_a_key_written_twice_is_told_and_the_first_one_stands() -> None:
    tree, findings = parse_tree("a: 1\nb: 2\na: 3\n", "r.yaml")
    assert isinstance(tree, Entries)
    assert [(key.text, node.text) for key, node in tree.entries if isinstance(node, Scalar)] == [("a", "1"), ("b", "2")]
    assert [(f.kind, f.place, f.others) for f in findings] == [
        (Kind.KEY_TWICE, Place("r.yaml", 3, 1), (Place("r.yaml", 1, 1),))
    ]


@pytest.mark.parametrize(
    ("text", "kind", "line", "column"),
    [
        ("a: &x 1\n", Kind.YAML_UNSAFE, 1, 4),
        ("a: 1\nb: *a\n", Kind.YAML_UNSAFE, 2, 4),
        ("a: !!python/object:os.system 1\n", Kind.YAML_UNSAFE, 1, 4),
        ("a: ! x\n", Kind.YAML_UNSAFE, 1, 4),
        ("a: 1\n---\nb: 2\n", Kind.YAML_BROKEN, 2, 1),
        ("? [a]\n: b\n", Kind.YAML_BROKEN, 1, 3),
        ("name: x\n\tsex: female\n", Kind.YAML_BROKEN, 2, 1),
        ("name: x\nsex female\nborn: 2020\n", Kind.YAML_BROKEN, 2, 1),
        ("name x\nsex: female\n", Kind.YAML_BROKEN, 1, 1),
        ("name:x\nsex: female\n", Kind.YAML_BROKEN, 1, 1),
        ("name: 'x\nsex: female\n", Kind.YAML_BROKEN, 1, 7),
        ("shows: [a, b\nsex: female\n", Kind.YAML_BROKEN, 1, 8),
        ("offer: {state: sold\nsex: female\n", Kind.YAML_BROKEN, 1, 8),
        ("about: one: two\n", Kind.YAML_BROKEN, 1, 11),
        ("about: @home\n", Kind.YAML_BROKEN, 1, 8),
        ("a: \x07\n", Kind.YAML_BROKEN, 1, 4),
        ("a: b\nc: \x00\n", Kind.YAML_BROKEN, 2, 4),
        ("a: \ud800\n", Kind.YAML_BROKEN, 1, 1),
    ],
)
def test_a_fault_of_form_is_one_finding_at_its_place(text: str, kind: Kind, line: int, column: int) -> None:
    assert kinds(text) == [(kind, line, column)]


def test_nesting_is_bounded() -> None:
    deep = "[" * (MAX_DEPTH + 1)
    assert kinds(deep) == [(Kind.YAML_UNSAFE, 1, MAX_DEPTH + 1)]
    just = "[" * MAX_DEPTH + "]" * MAX_DEPTH
    assert kinds(just) == []


def test_aliases_are_never_expanded() -> None:
    bomb = "a: &a [x, x]\n" + "".join(f"b{i}: &b{i} [*a, *a, *a, *a]\n" for i in range(200))
    start = time.perf_counter()
    tree, findings = parse_tree(bomb, "r.yaml")
    assert time.perf_counter() - start < 5
    assert isinstance(tree, Entries)
    assert {f.kind for f in findings} == {Kind.YAML_UNSAFE}


def test_the_plain_parser_gives_the_same_tree(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "name: No\nshows: [amel, 'a b']\noffer: {state: on hold, price: 12.50}\nabout: |\n  one\n  two\nx:\n- y: 1\n"
    fast = parse_tree(text, "r.yaml")
    monkeypatch.setattr(yaml_tree, "LOADER", yaml.SafeLoader)
    assert parse_tree(text, "r.yaml") == fast


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("{a: 0,402 kg}", {"a": "0,402 kg"}),
        ("{a: 1.400,00 €, b: x}", {"a": "1.400,00 €", "b": "x"}),
        ("{a: 1,400,5 kg}", {"a": "1,400,5 kg"}),
        ("{a: 1, 402 kg}", {"a": "1", "402 kg": ""}),
        ("{a: x,402 kg}", {"a": "x", "402 kg": ""}),
        ("{a: 1,402: kg}", {"a": "1", "402": "kg"}),
        ('{a: "1",402}', {"a": "1", "402": ""}),
        ("a: “amel”", {"a": "amel"}),
        ("“a”: „amel“", {"a": "amel"}),
        ('a: "“amel”"', {"a": "“amel”"}),
        ("a: “Good” eaters", {"a": "“Good” eaters"}),
    ],
)
def test_a_decimal_comma_in_braces_and_curly_quotes_are_read_as_meant(text: str, held: dict[str, str]) -> None:
    found, findings = parse_tree(text, "a.yaml")
    assert not findings
    assert isinstance(found, Entries)
    assert {key.text: node.text for key, node in found.entries if isinstance(node, Scalar)} == held
