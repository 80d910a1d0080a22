"""The round: who is on it, in which order, what a form of it writes, what is asked first, and that it counts once."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files

RECORDS = """
=== site.yaml
name: Test
currency: EUR
language: en-GB
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
breeding_age: {female: 30 months, male: 18 months}
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
name: Juniper
sex: female
born: 2020-07-14
weights:
  2026-10-01: 400 g
meals: [{date: 2026-11-12, what: adult mouse}]
=== animals/flint/animal.yaml
species: corn-snake
name: Flint
sex: male
born: 2020-08-01
weights: {2026-11-24: 300 g}
=== animals/basalt/animal.yaml
species: corn-snake
name: Basalt
sex: male
died: 2025-01-01
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2026-07-18
young:
  "01": {weights: {2026-11-20: 10 g}}
  "02": {sex: male}
  "03": {offer: {state: sold}}
"""
JUNIPER = "animals/juniper/animal.yaml"


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


def rows(keeper: Keeper, address: str = "/round") -> list[str]:
    return re.findall(r'data-animal="([^"]*)"', keeper.look(address).text)


def record(keeper: Keeper, path: str = JUNIPER) -> str:
    return (keeper.content / path).read_text()


def test_everybody_who_is_here_stands_on_it_the_longest_unweighed_first(keeper: Keeper) -> None:
    assert rows(keeper) == ["2026-juniper-flint/02", "juniper", "2026-juniper-flint/01", "flint"]
    page = keeper.look("/round").text
    assert "25 November 2026: 4 animals; the longest unweighed first." in page
    assert "400 g on 1 October 2026" in page
    assert "adult mouse, taken on 12 November 2026" in page


@pytest.mark.parametrize(
    ("asked", "there"),
    [
        ("who=adults", ["juniper", "flint"]),
        ("who=2026-juniper-flint", ["2026-juniper-flint/02", "2026-juniper-flint/01"]),
        ("who=due", ["2026-juniper-flint/02"]),
        ("of=flint&of=juniper&of=nobody", ["juniper", "flint"]),
        ("what=meals", ["2026-juniper-flint/01", "2026-juniper-flint/02", "flint", "juniper"]),
        ("who=nobody", []),
    ],
)
def test_some_of_them_are_chosen_in_the_address(keeper: Keeper, asked: str, there: list[str]) -> None:
    assert rows(keeper, f"/round?{asked}") == there


def test_a_sentence_of_weighing_leads_to_the_round_of_its_animals(keeper: Keeper) -> None:
    (leads,) = re.findall(r'href="(/round\?what=[^"]*)"', keeper.look("/").text)
    assert rows(keeper, leads.replace("&amp;", "&")) == ["2026-juniper-flint/02"]


def test_a_form_of_several_rows_is_one_change_and_leads_back_to_the_same_choice(keeper: Keeper) -> None:
    fields = {"weight:juniper": "402", "again:juniper": "adult mouse", "note:flint": "calm", "weight:flint": "301,4 g"}
    answer = keeper.send("/round?who=adults&day=2026-11-25", as_json=False, **fields)
    assert answer.status == 303
    assert answer.headers["location"].startswith("/round?who=adults&day=2026-11-25&done=")
    assert "  2026-11-25: 402 g\n" in record(keeper)
    assert "{date: 2026-11-25, what: adult mouse}" in record(keeper)
    assert "2026-11-25: 301.4 g" in record(keeper, "animals/flint/animal.yaml")
    assert "note: calm" in record(keeper, "animals/flint/animal.yaml")


def test_empty_fields_and_unknown_days_take_nothing_away(keeper: Keeper) -> None:
    before = record(keeper)
    answer = keeper.send("/round?day=2031-01-01", **{"weight:juniper": " ", "note:juniper": ""})
    assert answer.facts["told"] == "Nothing was entered."
    assert record(keeper) == before


def test_what_was_refused_is_what_it_was_last_offered(keeper: Keeper) -> None:
    assert keeper.send("/round", **{"refused:juniper": "yes"}).facts["said"] == "adult mouse refused"
    assert "{date: 2026-11-25, what: adult mouse, taken: false}" in record(keeper)
    answer = keeper.send("/round", **{"refused:flint": "yes"})
    assert (answer.status, answer.facts["told"]) == (422, "say what flint refused")


def test_ounces_are_meant_where_the_site_has_them(keeper: Keeper) -> None:
    site = keeper.content / "site.yaml"
    site.write_text(site.read_text() + "units: imperial\n")
    assert "Weight, oz" in keeper.look("/round").text
    assert keeper.send("/round", **{"weight:juniper": "14.2"}).facts["said"] == "14.2 oz"


def test_a_weight_that_can_hardly_be_right_is_asked_about_and_kept_when_it_is(keeper: Keeper) -> None:
    before = record(keeper)
    asked = keeper.send("/round", **{"weight:juniper": "40"})
    assert (asked.status, asked.facts["asks"]) == (422, True)
    assert asked.facts["told"] == "40 g, after 400 g on 1 October 2026: is that right?"
    assert record(keeper) == before
    page = keeper.send("/round", as_json=False, **{"weight:juniper": "40", "note:flint": "calm"})
    assert page.status == 422
    assert 'name="sure:juniper" value="40"' in page.text
    assert 'value="calm"' in page.text
    assert keeper.send("/round", **{"weight:juniper": "41", "sure:juniper": "40"}).status == 422
    kept = keeper.send("/round", **{"weight:juniper": "40", "sure:juniper": "40"})
    assert (kept.status, kept.facts["said"]) == (200, "40 g")
    assert "  2026-11-25: 40 g\n" in record(keeper)


def test_a_second_weight_of_a_day_replaces_the_first_if_that_was_known(keeper: Keeper) -> None:
    keeper.send("/round", **{"weight:juniper": "402"})
    unknown = keeper.send("/round", **{"weight:juniper": "412"})
    assert unknown.facts["told"] == "402 g stands there for that day. Write 412 g in its place?"
    assert 'name="known:juniper" value="402"' in keeper.look("/round").text
    assert keeper.send("/round", **{"weight:juniper": "412", "known:juniper": "402"}).status == 200
    assert keeper.send("/round", **{"weight:juniper": "414", "was-weight:juniper": "412"}).status == 200
    assert record(keeper).count("2026-11-25") == 1


def test_an_entry_that_comes_twice_counts_once(keeper: Keeper) -> None:
    first = keeper.send("/round", entry="a1", **{"weight:juniper": "402"})
    record_path = keeper.content / JUNIPER
    record_path.write_text(record(keeper).replace("  2026-11-25: 402 g\n", ""))  # taken back meanwhile
    again = keeper.send("/round", entry="a1", **{"weight:juniper": "402"})
    assert again.body == first.body
    assert "2026-11-25" not in record(keeper)
    keeper.send("/round", entry="a2", **{"weight:juniper": "402"})
    assert "2026-11-25: 402 g" in record(keeper)


def test_an_entry_that_was_refused_may_come_again(keeper: Keeper) -> None:
    assert keeper.send("/round", entry="a1", **{"weight:juniper": "heavy"}).status == 422
    assert keeper.send("/round", entry="a1", **{"weight:juniper": "402"}).status == 200


def test_what_was_entered_a_moment_ago_is_replaced(keeper: Keeper) -> None:
    keeper.send("/round", **{"fed:juniper": "pinky", "note:juniper": "quiet"})
    keeper.send("/round", **{"fed:juniper": "fuzzy", "was-fed:juniper": "pinky"})
    keeper.send("/round", **{"note:juniper": "very quiet", "was-note:juniper": "quiet"})
    assert "pinky" not in record(keeper)
    assert "what: fuzzy" in record(keeper)
    assert re.findall("note: (.*)}", record(keeper)) == ["very quiet"]


def test_records_in_error_are_told_in_place_of_the_round(keeper: Keeper) -> None:
    (keeper.content / JUNIPER).write_text("species: corn-snake\nshows: [amle]\n")
    assert keeper.look("/round").status == 409
    assert keeper.send("/round", **{"weight:flint": "300"}).status == 409
