"""A litter's table: what a row writes, what would follow from it, and what is refused."""

import re
from collections.abc import Iterator
from fractions import Fraction
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
loci:
  amel: {name: amelanistic, inheritance: recessive}
  hypo: {inheritance: recessive}
  tessera: {inheritance: dominant}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2021-07-14
shows: []
stated: {amel: certain, hypo: 66%}
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2021-07-14
shows: [amel]
stated: {hypo: certain}
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
laid: 2026-05-20
born: 2026-07-18  # by night
young:
  "01": {sex: male, shows: [amel]}
  "02":
  "03": {shows: []}
"""
JUNIPER = Fraction(2, 3) * Fraction(3, 4) ** 2 / (Fraction(2, 3) * Fraction(3, 4) ** 2 + Fraction(1, 3))
"""That she carries hypo: stated as 2 in 3, and two young of hers and of a carrier do not show it."""
AT = "/litters/2026-juniper-flint"


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


def record(keeper: Keeper) -> str:
    return (keeper.content / "litters/2026-juniper-flint/litter.yaml").read_text()


def row(keeper: Keeper, number: str, **said: object) -> dict[str, object]:
    """The fields of a row as the page has them, with what a keeper makes of them."""
    page = keeper.look(AT).text
    held = dict(re.findall(rf'name="({number}\.was\.\w+)" value="([^"]*)"', page))
    now = {key.rpartition(".")[2]: value for key, value in held.items()}
    now["shows"] = now["shows"].split(", ")
    return {"row": number, **held, **{f"{number}.{key}": value for key, value in (now | said).items()}}


def test_the_table_says_what_the_pairing_could_give(keeper: Keeper) -> None:
    page = keeper.look(AT)
    assert page.status == 200
    assert "Laid 20 May 2026, hatched 18 July 2026." in page.text
    hypo = Fraction(1, 4) * JUNIPER
    plain, seen = round(100 * (1 - hypo) / 2), round(100 * hypo / 2)
    told = f"about {plain} show the normal look, {plain} amelanistic, {seen} hypo and {seen} amelanistic and hypo."
    assert f"Of 100 young from parents like these {told}" in page.text


def test_a_row_that_nobody_described_is_written_whole_and_only_it(keeper: Keeper) -> None:
    before = record(keeper)
    sent = row(keeper, "02", sex="female", shows=["amel", "hypo"], weight="7", kept="yes", price="140")
    assert keeper.send(AT, as_json=False, **sent).status == 303
    offer = "offer: {price: 140, state: available, since: 2026-11-25}"
    own = f"sex: female, shows: [amel, hypo], weights: {{2026-11-25: 7 g}}, kept: true, {offer}"
    assert record(keeper) == before.replace('"02":', f'"02": {{{own}}}')


def test_only_what_was_changed_is_written(keeper: Keeper) -> None:
    before = record(keeper)
    answer = keeper.send(AT, **row(keeper, "01", sex="female"))
    assert answer.facts["told"] == "No. 01: sex female."
    assert answer.facts["rows"]["01"]["sex"] == "female"  # type: ignore[index]
    assert record(keeper) == before.replace("sex: male", "sex: female")


def test_looks_in_another_order_are_the_same_looks(keeper: Keeper) -> None:
    file = keeper.content / "litters/2026-juniper-flint/litter.yaml"
    file.write_text(record(keeper).replace("shows: [amel]", "shows: [hypo, amel]"))
    before = record(keeper)
    for shows in (["amel", "hypo"], ["hypo", "amel"]):
        assert keeper.send(AT, **row(keeper, "01", shows=shows)).facts["told"] == "All of that stands there already."
    assert record(keeper) == before


@pytest.mark.parametrize(
    ("shows", "stands"), [(["nothing"], "{sex: male, shows: []}"), ([""], "{sex: male}"), (["hypo"], "[hypo]")]
)
def test_looked_and_saw_nothing_is_not_the_same_as_not_judged(keeper: Keeper, shows: list[str], stands: str) -> None:
    assert not keeper.send(AT, **row(keeper, "01", shows=shows)).facts["refused"]
    assert stands in record(keeper)


def test_nothing_and_a_look_at_once_is_refused(keeper: Keeper) -> None:
    before, answer = record(keeper), keeper.send(AT, **row(keeper, "02", shows=["nothing", "amel"]))
    assert answer.status == 422
    assert "cannot show nothing and amel" in str(answer.facts["told"])
    assert record(keeper) == before


def test_what_was_changed_by_hand_meanwhile_is_not_overwritten(keeper: Keeper) -> None:
    sent = row(keeper, "01", sex="female")
    file = keeper.content / "litters/2026-juniper-flint/litter.yaml"
    file.write_text(record(keeper).replace("sex: male", "sex: unknown"))
    before, answer = record(keeper), keeper.send(AT, **sent)
    assert answer.status == 422
    assert "sex of No. 01 was changed meanwhile and is empty now" in str(answer.facts["told"])
    assert record(keeper) == before


def test_a_row_untouched_by_its_keeper_keeps_what_was_changed_by_hand(keeper: Keeper) -> None:
    sent = row(keeper, "01", price="90")
    file = keeper.content / "litters/2026-juniper-flint/litter.yaml"
    file.write_text(record(keeper).replace("sex: male", "sex: female"))
    assert keeper.send(AT, **sent).status == 200
    assert "sex: female" in record(keeper)
    assert "price: 90" in record(keeper)


def test_what_would_follow_is_told_and_nothing_is_written(keeper: Keeper) -> None:
    before = record(keeper)
    answer = keeper.send(f"{AT}/consider", **row(keeper, "02", shows=["hypo"]))
    assert answer.facts["follows"] == [
        "No. 02: Hypo, het amelanistic, sex not known, 2026.",
        f"Juniper carries hypo for certain; until now may carry hypo (about {round(100 * JUNIPER)} in 100).",
        "Flint carries hypo for certain; until now said to carry hypo.",
        "Each of the other two young may carry hypo (about 67 in 100); until now about "
        f"{round(100 * (JUNIPER * Fraction(2, 3) + (1 - JUNIPER) * Fraction(1, 2)))} in 100.",
    ]
    assert record(keeper) == before


def test_what_cannot_be_is_said_before_it_is_saved(keeper: Keeper) -> None:
    answer = keeper.send(f"{AT}/consider", **row(keeper, "02", shows=["tessera"]))
    assert answer.facts["refused"]
    assert answer.facts["follows"] == []
    findings = answer.facts["findings"]
    assert isinstance(findings, list)
    assert "these records cannot all be true" in findings[0]["message"]
    assert "Flint does not show tessera" in findings[0]["message"]


def test_a_look_with_a_wrong_spelling_is_told_with_the_nearest(keeper: Keeper) -> None:
    answer = keeper.send(AT, **row(keeper, "02", shows=["amle"]))
    assert answer.status == 422
    assert 'corn snake has no look "amle"' in str(answer.facts["findings"])
    page = keeper.send(AT, as_json=False, **row(keeper, "02", shows=["amle"]))
    assert page.status == 422
    assert "Nothing was changed" in page.text


def test_more_young_are_listed_and_what_came_is_noted(keeper: Keeper) -> None:
    assert keeper.send(f"{AT}/outcome", as_json=False, count="15", eggs="17").status == 303
    assert '  "15":' in record(keeper)
    assert "eggs: 17" in record(keeper)
    assert keeper.send(f"{AT}/outcome", count="many").status == 422
    assert "No. 15" in keeper.look(AT).text


def test_an_unknown_litter_is_told(keeper: Keeper) -> None:
    assert keeper.look("/litters/nope").status == 404
    assert keeper.send("/litters/nope", row="01").status == 422
