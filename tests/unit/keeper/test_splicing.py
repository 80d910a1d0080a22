"""One value is changed, and every other sign of the record stays."""

import difflib

import pytest

from sitegen.findings import ContentError
from sitegen.keeper import splicing
from sitegen.keeper.spots import CannotEdit

RECORD = """\
# the clutch of the spring
dam: juniper   # resting in 2027
sire: "flint"

young:   # by number
  "01": {sex: male,  shows: [amel]}   # bold
  '02':
    sex: female
    # not yet sure of this one
    offer:
      price: 60
      state: available   # since the show
  "03":
  "04": ~   # late
others: [{count: 4, shows: []}]
about: |
  Two lines

  of text.

# the end
private: {notes: zq}
"""


def changed_lines(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(keepends=True), after.splitlines(keepends=True))
    return [line.rstrip("\r\n") for line in lines if line[0] in "+-"]


def test_a_replaced_value_changes_its_own_signs_only() -> None:
    after = splicing.put(RECORD, "litter", ("young", "02", "offer", "state"), "on hold")
    assert changed_lines(RECORD, after) == [
        "-       state: available   # since the show",
        "+       state: on hold   # since the show",
    ]


def test_a_new_name_in_braces_stands_within_the_braces() -> None:
    after = splicing.put(RECORD, "litter", ("young", "01", "kept"), True)
    assert changed_lines(RECORD, after) == [
        '-   "01": {sex: male,  shows: [amel]}   # bold',
        '+   "01": {sex: male,  shows: [amel], kept: true}   # bold',
    ]


@pytest.mark.parametrize(("number", "line"), [("03", '  "03": {sex: male}'), ("04", '  "04": {sex: male}   # late')])
def test_an_empty_entry_is_filled(number: str, line: str) -> None:
    assert f"\n{line}\n" in splicing.put(RECORD, "litter", ("young", number, "sex"), "male")


def test_a_new_name_stands_behind_its_usual_neighbour() -> None:
    after = splicing.put(RECORD, "litter", ("eggs",), "8")
    assert changed_lines(RECORD, after) == ["+ eggs: 8"]
    assert 'sire: "flint"\neggs: 8\n\nyoung:' in after


def test_a_new_name_may_be_the_first() -> None:
    after = splicing.put(RECORD, "litter", ("name",), "Spring")
    assert "# the clutch of the spring\nname: Spring\ndam: juniper" in after


def test_a_new_name_stands_behind_a_text_of_several_lines_and_before_the_comment_of_the_next() -> None:
    after = splicing.put(RECORD, "litter", ("reviewed",), {"text": "so it is"})
    assert "  of text.\nreviewed: {text: so it is}\n\n# the end\nprivate" in after


def test_dates_stand_in_their_order() -> None:
    record = "weights:\n  2024-05-01: 310 g  # thin\n  2026-05-01: 402 g\n"
    after = splicing.put(record, "animal", ("weights", "2025-05-01"), "350 g")
    assert after == "weights:\n  2024-05-01: 310 g  # thin\n  2025-05-01: 350 g\n  2026-05-01: 402 g\n"


def test_a_line_that_grows_too_long_becomes_several() -> None:
    record = 'young:\n  "01": {sex: male, shows: [amel, motley], weights: {2026-09-05: 7 g, 2026-10-24: 14 g}}\n'
    after = splicing.put(record, "litter", ("young", "01", "offer"), {"price": "140", "state": "available"})
    assert after == (
        'young:\n  "01":\n    sex: male\n    shows: [amel, motley]\n'
        "    weights: {2026-09-05: 7 g, 2026-10-24: 14 g}\n    offer: {price: 140, state: available}\n"
    )


@pytest.mark.parametrize(
    ("record", "expected"),
    [
        ("name: a\n", "name: a\nmeals:\n  - {what: mouse}\n"),
        ("name: a", "name: a\nmeals:\n  - {what: mouse}"),
        ("meals:   # eats well\nname: a\n", "meals:   # eats well\n  - {what: mouse}\nname: a\n"),
        ("meals: []\n", "meals: [{what: mouse}]\n"),
        ("meals:\n- {what: rat}  # big\n\n# end\n", "meals:\n- {what: rat}  # big\n- {what: mouse}\n\n# end\n"),
        ("meals:\n  - what: rat\n    date: 2026\n", "meals:\n  - what: rat\n    date: 2026\n  - {what: mouse}\n"),
        ("", "meals:\n  - {what: mouse}\n"),
        ("# only a note\n", "# only a note\nmeals:\n  - {what: mouse}\n"),
    ],
)
def test_a_list_grows_at_its_end(record: str, expected: str) -> None:
    assert splicing.append(record, "animal", ("meals",), {"what": "mouse"}) == expected


def test_line_ends_of_windows_stay() -> None:
    record = RECORD.replace("\n", "\r\n")
    after = splicing.put(
        splicing.put(record, "litter", ("young", "05"), {"sex": "male"}), "litter", ("young", "03", "kept"), True
    )
    assert after.count("\n") == after.count("\r\n") == record.count("\r\n") + 1


@pytest.mark.parametrize(
    "text", ["on hold", "No", "null", "", "a, b", "x: y", "it's", '"', "# no", "2024-05-01", "66%", "+/amel",
        "é\u2009", "@a", "- x", "a\\b", " x", "ends:"]
)  # fmt: skip
def test_every_text_is_read_back_as_it_was_said(text: str) -> None:
    for record in ("name: a\n", "offer: {state: sold}\n", "offer:\n  state: sold\n"):
        after = splicing.put(record, "animal", ("offer", "note"), text)
        assert splicing.plain(after)["offer"]["note"] == text
        assert splicing.plain(splicing.append(record, "animal", ("list",), [text]))["list"] == [[text]]


@pytest.mark.parametrize("text", ["é\u2028", "\x07", "amel\u202e"])
def test_characters_that_cannot_be_seen_are_told_and_not_written(text: str) -> None:
    with pytest.raises(CannotEdit, match="cannot be seen"):
        splicing.put("name: a\n", "animal", ("about",), text)


@pytest.mark.parametrize(
    ("record", "path"),
    [("offer: sold\n", ("offer", "state")), ("weights: [1]\n", ("weights", "2024")), ("? dam\n: {a: b}\n", ("dam",))],
)
def test_what_cannot_be_changed_safely_is_left_alone(record: str, path: tuple[str, ...]) -> None:
    with pytest.raises(CannotEdit, match="by hand"):
        splicing.put(record, "animal", path, "x")


@pytest.mark.parametrize(
    ("path", "lines"),
    [
        (("dam",), ["- dam: juniper   # resting in 2027", "+ # resting in 2027"]),
        (("sire",), ['- sire: "flint"']),
        (
            ("young", "01", "sex"),
            [
                '-   "01": {sex: male,  shows: [amel]}   # bold',
                '+   "01": {shows: [amel]}   # bold',
            ],
        ),
        (
            ("young", "01", "shows"),
            [
                '-   "01": {sex: male,  shows: [amel]}   # bold',
                '+   "01": {sex: male}   # bold',
            ],
        ),
        (("young", "02", "sex"), ["-     sex: female"]),
        (("young", "02", "offer", "price"), ["-       price: 60"]),
        (
            ("young", "02", "offer"),
            [
                "-     offer:",
                "-       price: 60",
                "-       state: available   # since the show",
                "+     # since the show",
            ],
        ),
        (("young", "03"), ['-   "03":']),
        (("others",), ["- others: [{count: 4, shows: []}]"]),
        (("about",), ["- about: |", "-   Two lines", "- ", "-   of text."]),
        (("private", "notes"), ["- private: {notes: zq}"]),
        (("eggs",), []),
        (("young", "03", "sex"), []),
    ],
)
def test_a_name_goes_with_its_value_and_comments_stay(path: tuple[str, ...], lines: list[str]) -> None:
    for record in (RECORD, RECORD.replace("\n", "\r\n"), RECORD.rstrip()):
        after = splicing.drop(record, "litter", path)
        assert sorted(changed_lines(record, after)) == sorted(lines)


@pytest.mark.parametrize(
    ("record", "path", "expected"),
    [
        ('young:\n  "01": {sex: male}  # c\n', ("young", "01", "sex"), 'young:\n  "01":  # c\n'),
        ('young:\n  "01":\n    sex: male\n', ("young", "01", "sex"), 'young:\n  "01":\n'),
        ('young: {"01": {sex: male}, "02": null}\n', ("young", "01", "sex"), 'young: {"01": null, "02": null}\n'),
        ("a: 1\noffer: {price: {amount: 6}}\n", ("offer", "price", "amount"), "a: 1\n"),
        ("{a: 1,   # c\n b: 2}\n", ("a",), "{# c\n b: 2}\n"),
        ("{a: 1, b: 2,}\n", ("b",), "{a: 1, }\n"),
        ("a: 1\n", ("a",), ""),
        ("{a: 1}\n", ("a",), "{}\n"),
        ("a: 1\ndied: ~\n", ("died",), "a: 1\n"),
        ("a:\n  b: 1   # one # of\n  # two\n  c: 'x # y'\n", ("a",), "# one # of\n# two\n"),
        ("a: |  # one\n  # text\nb: 1\n", ("a",), "# one\nb: 1\n"),
    ],
)
def test_what_is_left_without_a_name_is_read_as_it_was(record: str, path: tuple[str, ...], expected: str) -> None:
    assert splicing.drop(record, "litter", path) == expected


@pytest.mark.parametrize(
    ("record", "path"),
    [
        ("? dam\n: {a: b}\nb: 1\n", ("dam",)),
        ("{a: [1,  # c\n 2], b: 1}\n", ("a",)),
        ("{a: 1  # c\n , b: 2}\n", ("b",)),
        ("a: |\n  text\nb:\n  c: 1\n  # d\n", ("b",)),
    ],
)
def test_a_name_that_cannot_be_taken_out_safely_stays(record: str, path: tuple[str, ...]) -> None:
    with pytest.raises(CannotEdit, match="by hand"):
        splicing.drop(record, "animal", path)


@pytest.mark.parametrize(
    ("record", "path", "value", "expected"),
    [
        ("shows: [amel]  # c\n", ("shows",), ["amel", "motley"], "shows: [amel, motley]  # c\n"),
        ("shows:\n- amel\n- motley  # c\nb: 1\n", ("shows",), [], "shows: []  # c\nb: 1\n"),
        ("o: {shows: [amel], b: 1}\n", ("o", "shows"), ["x"], "o: {shows: [x], b: 1}\n"),
        ("about: |\n  one\n\n  two\nb: 1\n", ("about",), "A\nB\n", "about: |\n  A\n  B\nb: 1\n"),
        ("about: one\n", ("about",), "A\nB", "about: |-\n  A\n  B\n"),
    ],
)
def test_lists_and_texts_of_several_lines_are_replaced_whole(
    record: str, path: tuple[str, ...], value: list[str] | str, expected: str
) -> None:
    assert splicing.put(record, "animal", path, value) == expected


def test_a_list_with_a_comment_within_is_not_replaced() -> None:
    with pytest.raises(CannotEdit, match="by hand"):
        splicing.put("shows:\n- amel  # c\n- motley\n", "animal", ("shows",), ["amel"])


@pytest.mark.parametrize("record", ["a: [", "a: 1\na: 2\n", "a: &x 1\nb: *x\n", "\tx: 1"])
def test_a_record_that_cannot_be_read_is_not_changed(record: str) -> None:
    with pytest.raises(ContentError):
        splicing.put(record, "animal", ("b",), "x")


MEALS = """\
meals:
  # the pickiest of all
  - {date: 2026-10-03, what: adult mouse}   # ate at once
  - {date: 2026-10-17, what: adult mouse, taken: false}
  - date: 2026-10-31
    what: rat   # thawed
shows: [amel, motley]
"""


def test_an_entry_of_a_list_is_changed_by_its_position() -> None:
    after = splicing.put(MEALS, "animal", ("meals", "0", "what"), "fuzzy")
    assert changed_lines(MEALS, after) == [
        "-   - {date: 2026-10-03, what: adult mouse}   # ate at once",
        "+   - {date: 2026-10-03, what: fuzzy}   # ate at once",
    ]
    after = splicing.put(MEALS, "animal", ("meals", "2", "taken"), False)
    assert changed_lines(MEALS, after) == ["+     taken: false"]


def test_an_entry_of_a_list_goes_and_its_comment_stays() -> None:
    after = splicing.drop(MEALS, "animal", ("meals", "0"))
    assert changed_lines(MEALS, after) == [
        "-   - {date: 2026-10-03, what: adult mouse}   # ate at once",
        "+   # ate at once",
    ]
    after = splicing.drop(MEALS, "animal", ("meals", "2"))
    assert after == MEALS.replace("  - date: 2026-10-31\n    what: rat   # thawed\n", "  # thawed\n")


def test_a_value_of_an_entry_goes() -> None:
    after = splicing.drop(MEALS, "animal", ("meals", "1", "taken"))
    assert changed_lines(MEALS, after) == [
        "-   - {date: 2026-10-17, what: adult mouse, taken: false}",
        "+   - {date: 2026-10-17, what: adult mouse}",
    ]


def test_an_entry_in_brackets_goes_with_its_comma() -> None:
    assert "shows: [motley]" in splicing.drop(MEALS, "animal", ("shows", "0"))
    assert "shows: [amel]" in splicing.drop(MEALS, "animal", ("shows", "1"))


def test_the_last_entry_takes_the_list_with_it() -> None:
    after = splicing.drop("sex: male\nmeals:\n- {date: 2026-10-03, what: rat}\n", "animal", ("meals", "0"))
    assert after == "sex: male\n"


def test_a_first_value_behind_a_dash_is_not_taken_from_its_dash() -> None:
    with pytest.raises(CannotEdit, match="something else stands on the line of date"):
        splicing.drop(MEALS, "animal", ("meals", "2", "date"))
