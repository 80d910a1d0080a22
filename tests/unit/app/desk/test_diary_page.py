"""The diary at the desk: what happened, by day, and what its form writes."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files

RECORDS = """
=== site.yaml
name: Test
language: en-GB
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
name: Juniper
sex: female
weights: {2026-10-01: 400 g}
lengths: {2026-10-01: 102 cm}
meals:
  - {date: 2026-11-12, what: adult mouse}
  - {date: 2026-11-19, what: adult mouse, taken: false}
events:
  - {date: 2026-03-02, what: introduced, with: flint}
  - {date: 2026-11-20, what: vet, note: a cut.}
  - {date: 2026-11-21, what: note, note: calm}
=== animals/flint/animal.yaml
species: corn-snake
name: Flint
sex: male
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
laid: 2026-05-20
eggs: 13
born: 2026-07-18
young:
  "01": {weights: {2026-11-20: 10 g}}
others: [{count: 3, shows: []}]
events: [{date: 2026-03-12, what: copulation}]
=== litters/2025-juniper-flint/litter.yaml
dam: juniper
sire: flint
paired: 2025-03
failed: {date: 2025-06-03, what: not-gravid}
"""


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


def lines(keeper: Keeper, address: str = "/diary") -> list[tuple[str, str]]:
    """A heading, or where a line leads, with its words."""
    own = keeper.look(address).text.partition("<main")[2]
    found = re.findall(r'<h2>(.*?)</h2>|<li><a href="(/[al][^"]*)">(.*?)</a>(.*?)</li>', own)
    return [(leads, day or who + what) for day, leads, who, what in found]


def test_what_happened_stands_under_its_day_the_latest_first(keeper: Keeper) -> None:
    young, litter, juniper = "No. 01 of Juniper and Flint 2026", "/litters/2026-juniper-flint", "/animals/juniper"
    assert lines(keeper) == [
        ("", "21 November 2026"),
        (juniper, "Juniper has a note (calm)."),
        ("", "20 November 2026"),
        (f"{litter}/01", f"{young} weighed 10 g."),
        (juniper, "Juniper was seen by a veterinarian (a cut)."),
        ("", "19 November 2026"),
        (juniper, "Juniper refused adult mouse."),
        ("", "12 November 2026"),
        (juniper, "Juniper took adult mouse."),
        ("", "1 October 2026"),
        (juniper, "Juniper weighed 400 g."),
        (juniper, "Juniper measured 102 cm."),
        ("", "18 July 2026"),
        (litter, "Juniper and Flint 2026: 4 hatched alive."),
        ("", "20 May 2026"),
        (litter, "Juniper and Flint 2026: 13 eggs laid."),
        ("", "12 March 2026"),
        (litter, "Juniper and Flint 2026: copulation."),
        ("", "2 March 2026"),
        (juniper, "Juniper was introduced to Flint."),
        ("", "3 June 2025"),
        ("/litters/2025-juniper-flint", "Juniper and Flint 2025: failed, not gravid."),
        ("", "March 2025"),
        ("/litters/2025-juniper-flint", "Juniper and Flint 2025: paired."),
    ]


def test_the_diary_of_one_animal_has_what_it_was_the_other_of(keeper: Keeper) -> None:
    assert lines(keeper, "/diary?animal=flint") == [
        ("", "2 March 2026"),
        ("/animals/juniper", "Juniper was introduced to Flint."),
    ]
    assert lines(keeper, "/diary?animal=nobody") == []
    assert lines(keeper, "/diary?before=2025-06-03") == [
        ("", "March 2025"),
        ("/litters/2025-juniper-flint", "Juniper and Flint 2025: paired."),
    ]


def test_whole_days_are_shown_and_the_way_to_earlier_ones(keeper: Keeper) -> None:
    meals = "".join(f"  - {{date: 2026-10-{1 + number // 9:02}, what: m{number}}}\n" for number in range(150))
    (keeper.content / "animals/flint/animal.yaml").write_text(f"species: corn-snake\nsex: male\nmeals:\n{meals}")
    page = keeper.look("/diary?animal=flint").text
    (earlier,) = re.findall(r'href="(/diary\?before=[^"]*)"', page)
    shown = re.findall(r"took m(\d+)", page)
    assert 100 <= len(shown) < 100 + 9
    others = keeper.look(earlier.replace("&amp;", "&")).text
    assert sorted(map(int, [*shown, *re.findall(r"took m(\d+)", others)])) == list(range(150))
    assert "Earlier days" not in others


def test_what_happened_is_written_into_several_records(keeper: Keeper) -> None:
    fields = {
        "whose": "Juniper, 2026-juniper-flint/01",
        "what": "shed",
        "on": "2026-11-25",
        "with": "",
        "note": "in one",
    }
    assert keeper.send("/diary", as_json=False, **fields).status == 303
    assert lines(keeper)[:3] == [
        ("", "25 November 2026"),
        ("/litters/2026-juniper-flint/01", "No. 01 of Juniper and Flint 2026 shed (in one)."),
        ("/animals/juniper", "Juniper shed (in one)."),
    ]


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"whose": "Junipr"}, "nearest: juniper"),
        ({"whose": " , "}, "Say whose diary it is"),
        ({"on": "2026-11"}, "and on which day"),
        ({"what": "introduced"}, "of two: say with which other animal"),
        ({"with": "flint"}, "is of one animal"),
        ({"what": "fed"}, "has a place of its own"),
    ],
)
def test_what_cannot_be_is_told_and_the_form_stays_as_it_was(keeper: Keeper, wrong: dict[str, str], told: str) -> None:
    fields = {"whose": "juniper", "what": "shed", "on": "2026-11-25", "with": "", "note": "a line", **wrong}
    page = keeper.send("/diary", as_json=False, **fields)
    assert page.status == 422
    assert told in page.text.replace("&#34;", '"')
    assert 'value="a line"' in page.text
    assert "2026-11-25" not in (keeper.content / "animals/juniper/animal.yaml").read_text()
