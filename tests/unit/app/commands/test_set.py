"""``set`` as a breeder meets it."""

from pathlib import Path

import pytest
from helpers.keeping import all_files, record, typed


def test_set_in_one_line(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    typed(snakes, "set", young, "available", "--on", "2026-10-01", "--price", "140", "--ready", "2026-10-10")
    typed(snakes, "set", young, "on-hold", "--on", "2026-10-12")
    typed(snakes, "set", young, "sold", "--on", "2026-11-02", "--price", "120")
    wanted = '  "03": {offer: {price: 120, state: sold, since: 2026-11-02, ready: 2026-10-10}}\n'
    assert record(snakes, "litters/2026-juniper-flint/litter.yaml").endswith(wanted)
    before = all_files(snakes)
    assert "already" in typed(snakes, "set", young, "sold", "--on", "2026-11-02", "--price", "120").stdout
    assert all_files(snakes) == before


def test_a_price_is_corrected_alone(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    typed(snakes, "set", young, "on-hold", "--on", "2026-10-01", "--price", "140")
    assert "on hold since 2026-10-01, price 120" in typed(snakes, "set", young, "--price", "120").stdout
    text = record(snakes, "litters/2026-juniper-flint/litter.yaml")
    assert "{offer: {price: 120, state: on hold, since: 2026-10-01}}" in text
    assert "has no offer; say where it stands" in typed(snakes, "set", "flint", "--price", "120", status=2).stderr


def test_what_was_written_wrongly_is_corrected_in_one_line(snakes: Path) -> None:
    before = record(snakes, "animals/flint/animal.yaml")
    told = typed(snakes, "set", "flint", "--died", "2026-10-12", "--name", "Old Flint").stdout
    assert "flint: name Old Flint (was Flint), died 2026-10-12." in told
    assert "died: 2026-10-12\n" in record(snakes, "animals/flint/animal.yaml")
    typed(snakes, "set", "Old Flint", "--died", "none", "--name", "Flint")
    assert record(snakes, "animals/flint/animal.yaml") == before
    young = "2026-juniper-flint/02"
    typed(snakes, "set", young, "--sex", "female")
    typed(snakes, "set", young, "--sex", "male")
    typed(snakes, "set", "2026-juniper-flint", "--name", "The first", "--born", "2026-07-20")
    text = record(snakes, "litters/2026-juniper-flint/litter.yaml")
    assert '"02": {sex: male}' in text
    assert "name: The first\n" in text
    assert "born: 2026-07-20\n" in text
    assert "stands there already" in typed(snakes, "set", young, "--sex", "male").stdout


def test_a_hold_has_a_last_day_that_a_later_hold_must_move(snakes: Path) -> None:
    young = "2026-juniper-flint/03"
    told = typed(snakes, "set", young, "on-hold", "--on", "2026-10-12", "--until", "2026-10-26").stdout
    assert "on hold since 2026-10-12 until 2026-10-26" in told
    assert "since: 2026-10-12, until: 2026-10-26" in record(snakes, "litters/2026-juniper-flint/litter.yaml")
    typed(snakes, "set", young, "available", "--on", "2026-10-27")
    assert "correct one" in typed(snakes, "set", young, "on-hold", "--on", "2026-11-01", status=1).stderr
    typed(snakes, "set", young, "on-hold", "--on", "2026-11-01", "--until", "2026-11-15")


def test_a_young_with_a_record_of_its_own_is_offered_where_its_offer_stands(snakes: Path) -> None:
    typed(snakes, "set", "2026-juniper-flint/01", "available", "--on", "2026-10-01", "--price", "90")
    typed(snakes, "add", "animal", "Hazel", "--from-litter", "2026-juniper-flint/01")
    typed(snakes, "set", "Hazel", "sold", "--on", "2026-11-01")
    assert "price: 90, state: sold" in record(snakes, "litters/2026-juniper-flint/litter.yaml")
    typed(snakes, "add", "animal", "Moth", "--from-litter", "2026-juniper-flint/02")
    typed(snakes, "set", "2026-juniper-flint/02", "available", "--on", "2026-11-01", "--price", "80")
    assert "price: 80, state: available" in record(snakes, "animals/moth/animal.yaml")


@pytest.mark.parametrize(
    ("words", "told", "status"),
    [
        (["2026-juniper-flint/03", "sod"], 'nearest: "sold"', 2),
        (["2026-juniper-flint/03", "resrved"], 'nearest: "on hold"', 2),
        (["2026-juniper-flnt/03", "sold"], "nearest: 2026-juniper-flint", 2),
        (["2026-juniper-flint/09", "sold"], "there are 01, 02, 03", 2),
        (["junipr", "sold"], "nearest: juniper", 2),
        (["juniper", "sold", "--price", "12.345"], "2 digits after the point", 1),
        (["juniper", "sold", "--price", "about 12"], "is not a price", 1),
        (["juniper", "sold", "--on", "2019-01-01"], "a date after the birth", 1),
        (["juniper", "sold", "--on", "yesterday"], '"yesterday" is no day', 2),
        (["juniper", "sold", "--until", "2026-11-09"], "only a hold has a last day", 2),
        (["juniper"], "say what is to be set", 2),
        (["juniper", "sold", "--sex", "female"], "in a line of its own", 2),
        (["juniper", "--sex", "femal"], "nearest: female", 1),
        (["juniper", "--sex", "male"], "", 1),
        (["juniper", "--died", "31.10.2026"], "nearest: 2026-10-31", 1),
        (["juniper", "--died", "2019-01-01"], "", 1),
        (["juniper", "--laid", "2026-05-01"], 'nothing called "laid"', 1),
        (["juniper", "on-hold", "--on", "2026-11-09", "--until", "2026-11-08"], "comes after the first one", 1),
    ],
)
def test_what_cannot_be_changes_nothing_and_says_why(words: list[str], told: str, status: int, snakes: Path) -> None:
    before = all_files(snakes)
    assert told in typed(snakes, "set", *words, status=status).stderr
    assert all_files(snakes) == before
