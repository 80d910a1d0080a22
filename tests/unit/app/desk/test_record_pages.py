"""The forms of records at the desk: what is shown, what is written, and what is refused with its reason beside it."""

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from helpers.at_the_desk import Answered, Keeper, at_the_desk
from helpers.from_text import write_files
from lxml import html

RECORDS = """
=== site.yaml
name: Test
currency: EUR
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
=== animals/juniper/animal.yaml
# the first of all
name: Juniper   # as she came
species: corn-snake
sex: female
born: 2021-07-14
shows: [amel]
offer: {price: 140, state: available, since: 2026-01-01}
meals:
  - {date: 2026-10-03, what: rat}   # at once
  - {date: 2026-10-17, what: rat}
weights: {2024-05-01: 310 g}
about: |
  Two lines

  of text.
=== animals/flint/animal.yaml
species: corn-snake
name: Flint
sex: male
born: 2021-07-14
shows: []
=== litters/2024-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2024-07-18
young:
  "01": {sex: male, shows: []}
  "02":
=== projects/ladder/project.yaml
name: Ladder
species: corn-snake
goal: {shows: [amel, anery]}
stages:
  first: {season: 2027, dam: juniper, sire: flint, keep: {sons: {shows: [amel]}}}
"""


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


def shown(page: Answered) -> dict[str, list[str]]:
    """What a browser would send of the first form of a page."""
    assert page.status in (200, 422), page.text
    form = html.fromstring(page.body).xpath("//form[contains(@class, 'record')]")[0]
    sent: dict[str, list[str]] = {}
    for field in form.xpath(".//input[@name] | .//select[@name] | .//textarea[@name]"):
        kind = field.get("type", "text") if field.tag == "input" else field.tag
        if kind in ("checkbox", "radio") and field.get("checked") is None:
            continue
        if kind == "select":
            value = (field.xpath("./option[@selected]/@value") or [""])[0]
        elif kind == "textarea":
            value = (field.text or "").removeprefix("\n").replace("\n", "\r\n")
        else:
            value = field.get("value", "")
        sent.setdefault(field.get("name"), []).append(value)
    return sent


def send(keeper: Keeper, path: str, as_json: bool = False, **changed: object) -> Answered:
    """The form of a page, with some fields filled in anew; two underscores stand for a point."""
    fields = shown(keeper.look(path)) | {key.replace("__", "."): value for key, value in changed.items()}
    return keeper.send(path, as_json=as_json, **{key: value for key, value in fields.items() if key != "token"})


def record(keeper: Keeper, path: str) -> str:
    return (keeper.content / path).read_bytes().decode()


JUNIPER = "animals/juniper/animal.yaml"
PAGES = ["/animals/juniper", "/animals/flint", "/litters/2024-juniper-flint/record", "/litters/2024-juniper-flint/01",
         "/litters/2024-juniper-flint/02", "/projects/ladder", "/about"]  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_a_form_sent_back_as_it_was_changes_no_byte(keeper: Keeper, path: str) -> None:
    before = {file: file.read_bytes() for file in keeper.content.rglob("*.yaml")}
    answer = send(keeper, path)
    assert (answer.status, answer.headers.get("location")) == (303, path)
    assert {file: file.read_bytes() for file in keeper.content.rglob("*.yaml")} == before


def test_one_field_changes_one_line(keeper: Keeper) -> None:
    before = record(keeper, JUNIPER)
    assert send(keeper, "/animals/juniper", offer__price="150").status == 303
    assert record(keeper, JUNIPER) == before.replace("price: 140", "price: 150")


def test_marks_an_entry_a_line_and_a_text_are_written_where_they_stand(keeper: Keeper) -> None:
    before = record(keeper, JUNIPER)
    send(
        keeper, "/animals/juniper", shows=["amel", "anery"], meals__1__taken="false", meals__2__date="2026-10-31",
        meals__2__what="mouse", weights__1__name="2026-11-01", weights__1__value="402 g", about="One line\r\nand one",
    )  # fmt: skip
    after = before.replace("shows: [amel]", "shows: [amel, anery]").replace(
        "17, what: rat}", "17, what: rat, taken: false}"
    )
    after = after.replace("310 g}", "310 g, 2026-11-01: 402 g}").replace(
        "Two lines\n\n  of text.", "One line\n  and one"
    )
    after = after.replace("taken: false}\n", "taken: false}\n  - {date: 2026-10-31, what: mouse}\n")
    assert record(keeper, JUNIPER) == after


def test_what_is_emptied_goes(keeper: Keeper) -> None:
    send(
        keeper,
        "/animals/juniper",
        offer__price="",
        offer__state="",
        offer__since="",
        meals__0__date="",
        meals__0__what="",
    )
    after = record(keeper, JUNIPER)
    assert "offer" not in after
    assert "2026-10-03" not in after
    assert "  # at once\n  - {date: 2026-10-17, what: rat}\n" in after, "a comment stays"


def test_not_judged_and_nothing_seen_are_told_apart(keeper: Keeper) -> None:
    send(keeper, "/animals/juniper", shows=[], shows__nothing="none")
    assert "shows: []\n" in record(keeper, JUNIPER)
    send(keeper, "/animals/juniper", shows__nothing="")
    assert "shows" not in record(keeper, JUNIPER)


def test_a_young_of_which_nothing_was_said_is_described(keeper: Keeper) -> None:
    send(keeper, "/litters/2024-juniper-flint/02", sex="female", shows__nothing="none")
    assert '  "02": {sex: female, shows: []}\n' in record(keeper, "litters/2024-juniper-flint/litter.yaml")


def test_what_is_wrong_is_told_at_its_field_and_nothing_is_lost(keeper: Keeper) -> None:
    before = record(keeper, JUNIPER)
    answer = send(
        keeper,
        "/animals/juniper",
        born="14.7.2021",
        line="ladder",
        weights__1__name="2026-11-01",
        weights__1__value="40",
    )
    page = html.fromstring(answer.body)
    assert answer.status == 422
    assert record(keeper, JUNIPER) == before
    for name, part in (("born", "not a date"), ("weights.1.value", "the unit is missing")):
        field = page.get_element_by_id(name)
        told = " ".join(page.get_element_by_id(each).text_content() for each in field.get("aria-describedby").split())
        assert field.get("aria-invalid") == "true"
        assert part in told
    assert page.get_element_by_id("line").get("value") == "ladder"
    assert page.get_element_by_id("weights.1.value").get("value") == "40"


def test_what_other_records_contradict_is_told_at_its_field(keeper: Keeper) -> None:
    answer = send(keeper, "/animals/juniper", sex="male")
    assert answer.status == 422
    assert html.fromstring(answer.body).get_element_by_id("sex").get("aria-invalid") == "true"


def test_a_record_in_error_can_be_mended_in_its_form(keeper: Keeper) -> None:
    path = keeper.content / JUNIPER
    path.write_text(path.read_text().replace("sex: female", "sex: femal"))
    page = keeper.look("/animals/juniper")
    assert html.fromstring(page.body).get_element_by_id("sex").get("aria-invalid") == "true"
    assert send(keeper, "/animals/juniper", sex="female").status == 303
    assert "sex: female\n" in path.read_text()


def test_what_would_be_written_is_shown_and_not_written(keeper: Keeper) -> None:
    before = record(keeper, JUNIPER)
    answer = send(keeper, "/animals/juniper", sex="unknown", show="1")
    assert answer.status == 200
    assert "-sex: female\n+sex: unknown" in unescape(answer.text)
    assert record(keeper, JUNIPER) == before
    assert shown(answer)["sex"] == ["unknown"]


def test_a_change_by_hand_meanwhile_stays(keeper: Keeper) -> None:
    form = shown(keeper.look("/animals/juniper")) | {"line": ["ladder"]}
    path = keeper.content / JUNIPER
    path.write_text(
        path.read_text()
        .replace("sex: female", "sex: unknown   # by hand")
        .replace("meals:\n", "meals:\n  - {date: 2026-09-01, what: rat}\n")
    )
    assert keeper.send("/animals/juniper", as_json=False, **form).status == 303
    assert "sex: unknown   # by hand\n" in path.read_text()
    assert "line: ladder\n" in path.read_text()
    assert path.read_text().count("what: rat") == 3


def test_the_same_value_changed_by_hand_meanwhile_is_told_and_both_are_shown(keeper: Keeper) -> None:
    form = shown(keeper.look("/animals/juniper")) | {"born": ["2020-07-14"], "line": ["ladder"]}
    path = keeper.content / JUNIPER
    path.write_text(path.read_text().replace("2021-07-14", "2021-07-15"))
    answer = keeper.send("/animals/juniper", as_json=False, **form)
    assert answer.status == 422
    assert "line: " not in path.read_text()
    assert "the file says 2021-07-15 here by now. Save once more to put yours there" in answer.text
    again = shown(answer)
    assert again["born"] == ["2020-07-14"]
    assert keeper.send("/animals/juniper", as_json=False, **again).status == 303
    assert "born: 2020-07-14\n" in path.read_text()
    assert "line: ladder\n" in path.read_text()


def test_an_entry_that_is_another_by_now_is_never_overwritten(keeper: Keeper) -> None:
    form = shown(keeper.look("/animals/juniper")) | {"meals.0.what": ["mouse"]}
    path = keeper.content / JUNIPER
    path.write_text(path.read_text().replace("meals:\n", "meals:\n  - {date: 2026-09-01, what: rat}\n"))
    for _ in range(2):
        answer = keeper.send("/animals/juniper", as_json=False, **form)
        assert answer.status == 422
        assert "Load the page again" in answer.text
        assert "mouse" not in path.read_text()
        form = shown(answer)


def test_a_stage_is_edited_as_it_is_written(keeper: Keeper) -> None:
    before = record(keeper, "projects/ladder/project.yaml")
    assert shown(keeper.look("/projects/ladder"))["stages.0.value"] == [
        "{season: 2027, dam: juniper, sire: flint, keep: {sons: {shows: [amel]}}}"
    ]
    send(
        keeper,
        "/projects/ladder",
        stages__0__value="{season: 2028, dam: juniper, sire: flint, keep: {sons: {shows: [amel]}}}",
    )
    assert record(keeper, "projects/ladder/project.yaml") == before.replace("2027", "2028")
    answer = send(keeper, "/projects/ladder", stages__0__value="{season: 2028, dam: juniper")
    assert answer.status == 422
    assert "{season: 2028, dam: juniper" in shown(answer)["stages.0.value"]


def test_what_is_written_as_in_the_file_is_set_so_and_not_judged_by_spelling(keeper: Keeper) -> None:
    (keeper.content / "projects/ladder/project.yaml").write_text(
        "name: Ladder\nspecies: corn-snake\ngoal: {shows: [amel]}\nstages:\n  first:\n    season: 2027\n"
        "    # our best pair\n    dam: juniper\n    sire: flint\n"
    )
    field = html.fromstring(keeper.look("/projects/ladder").body).get_element_by_id("stages.0.value")
    assert (field.get("class"), field.get("spellcheck")) == ("as-written", "false")
    assert field.text.strip() == "season: 2027\n# our best pair\ndam: juniper\nsire: flint"
    send(keeper, "/projects/ladder", stages__0__value="season: 2028\r\ndam: juniper\r\nsire: flint")
    assert "    season: 2028\n    # our best pair\n" in record(keeper, "projects/ladder/project.yaml"), "comments stay"


def test_a_name_that_records_do_not_know_is_shown_and_can_go(keeper: Keeper) -> None:
    path = keeper.content / JUNIPER
    path.write_text(path.read_text() + "hets: [anery]\n")
    assert shown(keeper.look("/animals/juniper"))["hets"] == ["[anery]"]
    assert send(keeper, "/animals/juniper", hets="").status == 303
    assert "hets" not in path.read_text()


def test_a_note_and_a_decision_are_added_to_a_project(keeper: Keeper) -> None:
    assert keeper.send("/projects/ladder/update", as_json=False, title="First eggs", text="Nine.").status == 303
    assert record(keeper, "projects/ladder/updates/2026-11-25-first-eggs.md") == "# First eggs\n\nNine.\n"
    send(keeper, "/projects/ladder", decisions__0__date="2026-11-25", decisions__0__text="She rests.")
    assert "decisions:\n  - {date: 2026-11-25, text: She rests.}\n" in record(keeper, "projects/ladder/project.yaml")


def test_what_is_not_there_is_told(keeper: Keeper) -> None:
    for path in ("/animals/junipr", "/litters/2024-juniper-flint/09", "/litters/nothing/record", "/projects/x"):
        assert keeper.look(path).status == 404
    assert "nearest: juniper" in keeper.look("/animals/junipr").text


def test_a_form_that_is_no_form_of_ours_changes_nothing(keeper: Keeper) -> None:
    before = record(keeper, JUNIPER)
    for was in ("", "{", "[]", "3", json.dumps({"meals": 3})):
        assert keeper.send("/animals/juniper", as_json=False, was=was, sex="male").status in (409, 422)
    assert record(keeper, JUNIPER) == before


def test_the_site_itself_has_a_form_also_before_it_has_a_file(keeper: Keeper) -> None:
    send(keeper, "/about", tagline="Few and well kept")
    assert record(keeper, "site.yaml").endswith("tagline: Few and well kept\n")
    (keeper.content / "site.yaml").unlink()
    send(keeper, "/about", name="Test", currency="EUR")
    assert record(keeper, "site.yaml") == "name: Test\ncurrency: EUR\n"


def test_lists_lead_to_the_forms(keeper: Keeper) -> None:
    path = keeper.content / "animals/flint/animal.yaml"
    path.write_text(path.read_text() + "died: 2026-01-01\n")
    page = keeper.look("/animals").text
    assert re.search(
        r'<a href="/animals/juniper">Juniper</a> <span class="soft">Amelanistic, female, 2021</span>', page
    )
    assert page.index("Juniper") < page.index("Not here any more") < page.index("Flint")
    assert '<a href="/litters/2024-juniper-flint">Juniper and Flint 2024</a>' in keeper.look("/litters").text
    assert '<a href="/projects/ladder">Ladder</a> <span class="soft">planned</span>' in keeper.look("/projects").text


def test_an_animal_begins_with_a_short_form(keeper: Keeper) -> None:
    fields = shown(keeper.look("/animals/new")) | {
        "name": ["Große Jún"], "sex": ["female"], "shows": ["amel"], "stated.0.name": ["anery"],
        "stated.0.value": ["66%"], "acquired.date": ["2026-11-02"], "acquired.from": ["a previous keeper"],
    }  # fmt: skip
    answer = keeper.send("/animals/new", as_json=False, **fields)
    assert answer.status == 303
    assert answer.headers["location"].startswith("/animals/gro%C3%9Fe-j%C3%BAn")
    assert record(keeper, "animals/große-jún/animal.yaml") == (
        "name: Große Jún\nspecies: corn-snake\nsex: female\n"
        "acquired: {date: 2026-11-02, from: a previous keeper}\nshows: [amel]\nstated: {anery: 66%}\n"
    )
    refused = keeper.send("/animals/new", as_json=False, **fields | {"sex": ["femal"]})
    assert refused.status == 422
    assert shown(refused)["acquired.from"] == ["a previous keeper"]


def test_a_litter_begins_with_its_parents_and_a_number(keeper: Keeper) -> None:
    fields = {"dam": "juniper", "sire": "flint", "born": "2026-07-01", "young": "2"}
    answer = keeper.send("/litters/new", as_json=False, **fields)
    assert answer.headers["location"].startswith("/litters/2026-juniper-flint")
    assert record(keeper, "litters/2026-juniper-flint/litter.yaml") == (
        'dam: juniper\nsire: flint\nborn: 2026-07-01\nyoung:\n  "01":\n  "02":\n'
    )
    assert keeper.send("/litters/new", as_json=False, dam="nobody").status == 422


def test_a_project_begins_with_its_goal(keeper: Keeper) -> None:
    fields = shown(keeper.look("/projects/new")) | {"name": ["Snow"], "goal": ["amel", "anery"]}
    answer = keeper.send("/projects/new", as_json=False, **fields)
    assert answer.headers["location"].startswith("/projects/snow")
    assert record(keeper, "projects/snow/project.yaml") == (
        "name: Snow\nspecies: corn-snake\nstate: planned\ngoal: {shows: [amel, anery]}\n"
    )
    assert keeper.send("/projects/new", as_json=False, **fields | {"goal": []}).status == 422


def test_of_which_species_is_asked_where_there_are_several(keeper: Keeper) -> None:
    (keeper.content / "species/boa.yaml").write_text("name: sand boa\nloci:\n  albino: {inheritance: recessive}\n")
    assert '<a href="?species=boa">sand boa</a>' in keeper.look("/animals/new").text
    assert "albino" in keeper.look("/animals/new?species=boa").text
