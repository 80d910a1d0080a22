"""What is asked of noted mappings, and how far out it is gathered."""

from sitegen.noted import ANY, ONE, Noted, also, noting, taking_notes

NUMBERS = Noted("numbers", {"one": 1, "two": 2})


def test_what_is_asked_is_gathered_within_and_further_out():
    with taking_notes() as outer:
        with taking_notes() as inner:
            assert NUMBERS["one"] == 1
            assert NUMBERS.get("three") is None
        assert bool(NUMBERS)
    assert inner == {("numbers", ONE, "one"), ("numbers", ONE, "three")}
    assert outer == {*inner, ("numbers", ANY, None)}


def test_what_is_kept_with_its_notes_is_gathered_when_it_is_used():
    with taking_notes() as outer:
        made, asked = noting(lambda: NUMBERS["two"])
        assert (made, asked, outer) == (2, {("numbers", ONE, "two")}, set())
        also(asked)
    assert outer == asked


def test_a_failure_leaves_nothing_open():
    with taking_notes() as outer:
        try:
            noting(lambda: NUMBERS["three"])
        except KeyError:
            assert NUMBERS["one"] == 1
    assert outer == {("numbers", ONE, "one")}
