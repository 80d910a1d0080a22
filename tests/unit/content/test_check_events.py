"""Events that cannot be, litters of a dam that overlap, and offers that should wait."""

import datetime as dt

import pytest
from helpers.from_text import CORN, PAIR, content_of, kinds, told

from sitegen.content.binding import bind_content
from sitegen.findings import Finding, Kind, Level

TODAY = dt.date(2026, 11, 1)
IMPOSSIBLE = [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]
BOA = CORN.replace("name: corn snake\n", "name: boa\nbirths: live\n")
MORE = "=== animals/tansy/animal.yaml\nspecies: corn-snake\nsex: female\nborn: 2019\n"


def juniper(lines: str) -> str:
    return PAIR.replace("born: 2020-07-14\n", f"born: 2020-07-14\n{lines}\n", 1)


def events(*told_of: str) -> str:
    return "events:\n" + "".join(f"  - {{{each}}}\n" for each in told_of)


def litter(name: str, *lines: str, dam: str = "juniper") -> str:
    return f"=== litters/{name}/litter.yaml\ndam: {dam}\nsire: flint\n" + "".join(f"{line}\n" for line in lines)


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (events("date: 2019-01-01, what: shed"), IMPOSSIBLE),
        (events("date: 2020-07, what: shed"), []),
        ("died: 2025-03\n" + events("date: 2025-04-01, what: shed"), IMPOSSIBLE),
        ("died: 2025-03\n" + events("date: 2025-03-31, what: shed"), []),
        ("died: 2025-03\nmeals: [{date: 2025-04-02, what: mouse}]", IMPOSSIBLE),
        ("died: 2025-03\nlengths: {2025-04-02: 90 cm}", IMPOSSIBLE),
        ("lengths: {2019: 90 cm}", IMPOSSIBLE),
        ("died: 2025-03\ntests: [{locus: amel, result: +/+, date: 2025-05-01}]\njudged: 2025-05-01\nshows: []", []),
    ],
)
def test_nothing_happens_before_birth_or_after_death(lines: str, expected: list[tuple[Kind, Level]]) -> None:
    assert kinds(juniper(lines)) == expected


@pytest.mark.parametrize(
    ("event", "kind", "message"),
    [
        ("what: introduced, with: flint", None, ""),
        ("what: separated", None, ""),
        ("what: introduced", Kind.KEY_MISSING, "the other animal of introduced is not named"),
        ("what: shed, with: flint", Kind.VALUE_WRONG, '"shed" is of one animal, and names another'),
        ("what: introduced, with: juniper", Kind.VALUE_WRONG, "juniper is named as its own partner"),
        ("what: copulation, with: tansy", Kind.SEX_CLASH, "juniper and tansy are both recorded as female"),
        ("what: introduced, with: jasper", Kind.SPECIES_CLASH, "juniper is a corn-snake, and jasper a boa"),
        ("what: introduced, with: slate", Kind.DATE_IMPOSSIBLE, 'slate says "died" 2024, and its "introduced" is 2026'),
    ],
)
def test_an_event_of_two_has_another_animal_that_can_be(event: str, kind: Kind | None, message: str) -> None:
    others = "=== species/boa.yaml\nname: boa\n=== animals/jasper/animal.yaml\nspecies: boa\nsex: male\n"
    others += "=== animals/slate/animal.yaml\nspecies: corn-snake\nsex: male\ndied: 2024\n"
    found = told(CORN + juniper(events(f"date: 2026-03-02, {event}")) + MORE + others)
    assert [each.kind for each in found] == ([kind] if kind else [])
    assert [each for each in found if not each.message.startswith(message)] == []


@pytest.mark.parametrize(
    ("event", "lines", "expected"),
    [
        ("date: 2026-03-02, what: introduced", ["laid: 2026-05-01", "born: 2026-07-01"], []),
        ("date: 2026-07-02, what: introduced", ["born: 2026-07-01"], IMPOSSIBLE),
        ("date: 2026-05-02, what: copulation", ["laid: 2026-05-01", "born: 2026-07-01"], IMPOSSIBLE),
        ("date: 2026-07-20, what: shed", ["born: 2026-07-01"], []),
        ("date: 2026-06-20, what: shed", ["failed: {date: 2026-06-01, what: slugs}"], IMPOSSIBLE),
        ("date: 2026-06-20, what: note", ["failed: {date: 2026-06-01, what: slugs}"], []),
        ("date: 2026-03-02, what: introduced, with: flint", ["born: 2026-07-01"], []),
        ("date: 2026-03-02, what: introduced, with: basalt", ["born: 2026-07-01"], [(Kind.VALUE_WRONG, Level.ERROR)]),
        ("date: 2019-03-02, what: ovulated", ["born: 2026-07-01"], IMPOSSIBLE),
    ],
)
def test_what_young_are_waited_for_by_comes_before_them(
    event: str, lines: list[str], expected: list[tuple[Kind, Level]]
) -> None:
    other = "=== animals/basalt/animal.yaml\nspecies: corn-snake\nsex: male\n"
    assert kinds(PAIR + other + litter("l", *lines, events(event))) == expected


@pytest.mark.parametrize(
    ("first", "second", "live", "expected"),
    [
        # one after the other
        (["paired: 2025-03-01", "born: 2025-08-01"], ["paired: 2026-03-01", "born: 2026-08-01"], True, []),
        # paired again while she was gravid: to be looked at
        (["paired: 2025-03-01", "born: 2025-08-01"], ["paired: 2025-06-01", "born: 2026-01-01"], True, ["notice"]),
        # known to be gravid with both
        (
            ["born: 2025-08-01", events("date: 2025-05-01, what: ovulated")],
            ["born: 2025-10-01", events("date: 2025-06-01, what: ovulated")],
            True,
            ["error"],
        ),
        (["born: 2025-07-01"], ["born: 2025-10-01", events("date: 2025-06-01, what: ovulated")], True, ["error"]),
        # a second clutch of one pairing, and one after a second pairing
        (["paired: 2025-03-01", "laid: 2025-05-01"], ["paired: 2025-03-01", "laid: 2025-07-01"], False, []),
        (["paired: 2025-03-01", "laid: 2025-05-01"], ["paired: 2025-05-20", "laid: 2025-07-20"], False, []),
        # hatched, and nobody knows when it was laid
        (["paired: 2025-03-01", "born: 2025-07-01"], ["paired: 2025-05-20", "laid: 2025-07-20"], False, []),
        # two that are waited for at one time, and one that nobody closed in the year before
        (["paired: 2026-03-01"], ["paired: 2026-04-01"], True, ["notice"]),
        (["paired: 2025-03-01"], ["paired: 2026-04-01"], True, []),
        (["paired: 2026-03-01", "expected: 2026-08-01"], ["paired: 2026-12-01"], True, []),
        # one that was not gravid
        (
            ["paired: 2026-03-01", "failed: {date: 2026-09-01, what: not-gravid}"],
            ["paired: 2026-04-01", "born: 2026-09-01"],
            True,
            [],
        ),
    ],
)
def test_litters_of_a_dam_follow_each_other(
    first: list[str], second: list[str], live: bool, expected: list[str]
) -> None:
    text = (BOA if live else CORN) + PAIR + litter("a", *first) + litter("b", *second)
    found = overlaps(text)
    assert [each.level.value for each in found] == expected
    assert {each.kind for each in found} <= {Kind.DATE_IMPOSSIBLE, Kind.DATE_UNUSUAL}
    other = [each for each in told(text + "confirmed: true\n") if each in found]
    assert [each.level for each in other] == [Level.ERROR] * ("error" in expected), "a notice can be confirmed"
    apart = litter("b", *second, dam="tansy")
    assert overlaps(text.partition("=== litters/b/")[0] + apart + MORE) == [], "of two dams"


def overlaps(text: str) -> list[Finding]:
    return [each for each in told(text) if "one litter" in each.expected or "one pregnancy" in each.expected]


def on(day: dt.date, text: str) -> tuple[Finding, ...]:
    return bind_content(content_of(CORN + text), day)[1]


def test_a_shed_on_a_day_to_come_is_told() -> None:
    ahead = events("date: 2026-11-03, what: shed")
    for text in (juniper(ahead), PAIR + litter("l", ahead)):
        assert [each.kind for each in on(TODAY, text)] == [Kind.DATE_AHEAD]
    assert on(TODAY, juniper(events("date: 2026-11-02, what: shed"))) == ()


@pytest.mark.parametrize(
    ("state", "lines", "why"),
    [
        ("available", "quarantine: {until: 2026-11-01}", "is in quarantine until 2026-11-01"),
        ("on hold", "quarantine: {until: 2026-12}", "is in quarantine until 2026-12"),
        ("available", "quarantine: {until: 2026-10-31}", ""),
        ("sold", "quarantine: {until: 2026-12-01}", ""),
        ("available", "private: {permits: [{kind: import, valid_until: 2026-10-31}]}", "its permit (import) ran out"),
        ("available", "private: {permits: [{number: 7, valid_until: 2026-10}]}", "a permit of it ran out on 2026-10"),
        ("available", "private: {permits: [{kind: import, valid_until: 2026-11-01}, {kind: other}]}", ""),
    ],
)
def test_nothing_is_offered_in_quarantine_or_with_a_permit_that_ran_out(state: str, lines: str, why: str) -> None:
    text = juniper(f"{lines}\noffer: {{state: {state}, price: 5 EUR, since: 2026-09-01}}")
    found = on(TODAY, text)
    assert [(each.kind, each.level) for each in found] == ([(Kind.OFFER_CLASH, Level.NOTICE)] if why else [])
    assert all(why in each.message for each in found)
    assert bind_content(content_of(CORN + text))[1] == (), "without a day nothing has run out"
