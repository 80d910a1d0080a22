"""``waiting.yaml``: the people who wait for an animal."""

import dataclasses
from decimal import Decimal

import pytest
from helpers.from_text import CORN, LITTER, PAIR, bound, told

from sitegen.content.collection import latest_date
from sitegen.content.prices import Money
from sitegen.content.projects import Goal
from sitegen.content.values import PartialDate
from sitegen.content.waiting import Person
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex

RECORDS = f"{CORN}{PAIR}{LITTER}"
BOA = "=== species/sand-boa.yaml\nname: sand boa\nbirths: live\nloci: {albino: {inheritance: recessive}}\n"


def people(text: str, more: str = "") -> tuple[Person, ...]:
    return bound(f"{RECORDS}{more}\n=== waiting.yaml\n{text}").waiting


def faults(text: str, more: str = "") -> list[tuple[Kind, str]]:
    found = told(f"{RECORDS}{more}\n=== waiting.yaml\n{text}")
    return [(each.kind, each.message) for each in found if each.place and each.place.file == "waiting.yaml"]


@pytest.mark.parametrize("text", ["", "people:", "people: {}", "{}", "# nobody now"])
def test_nobody_may_wait(text: str) -> None:
    assert people(text) == bound(RECORDS).waiting == ()


def test_everything_that_is_written_is_read() -> None:
    (found,) = people(
        "people:\n  A. from the fair:\n    contact: a@example.org\n    since: 2026-05\n    wants: a calm one\n"
        "    sex: 0.1\n    shows: [snow]\n    carries: hypo\n    up_to: 140 EUR\n    offered: 2026-juniper-flint/01\n"
        "    done: 2026-09-01\n"
    )
    assert found == Person(
        name="A. from the fair", contact="a@example.org", since=PartialDate(2026, 5), wants="a calm one",
        species="corn-snake", sex=Sex.FEMALE, goal=Goal(("amel", "anery"), ("hypo",)),
        up_to=Money(Decimal(140), "EUR"), offered="2026-juniper-flint/01", done=PartialDate(2026, 9, 1),
        place=found.place,
    )  # fmt: skip
    assert found.place == Place("waiting.yaml", 2, 3)


def test_a_name_alone_is_an_entry_and_who_waits_longest_stands_first() -> None:
    found = people("people: {Late: {since: 2026-05-03}, Nameless wish: , Early: {since: 2025}}")
    assert [(each.name, each.species, each.sex) for each in found] == [
        ("Early", "", Sex.UNKNOWN), ("Late", "", Sex.UNKNOWN), ("Nameless wish", "", Sex.UNKNOWN),
    ]  # fmt: skip


def test_a_species_is_needed_only_where_genes_of_several_could_be_meant() -> None:
    ((kind, message),) = faults("people: {A: {shows: [amel]}}", BOA)
    assert (kind, "of which species" in message) == (Kind.KEY_MISSING, True)
    assert faults("people: {A: {sex: female}, B: {species: sand boa, carries: [albino]}}", BOA) == []


@pytest.mark.parametrize(
    ("entry", "kind"),
    [
        ("{name: Anna}", Kind.KEY_UNKNOWN),
        ("{since: in May}", Kind.VALUE_WRONG),
        ("{species: cornsnake}", Kind.SPECIES_UNKNOWN),
        ("{shows: [amle]}", Kind.GENE_UNKNOWN),
        ("{carries: [amle]}", Kind.GENE_UNKNOWN),
        ("{up_to: much}", Kind.PRICE_WRONG),
        ("{up_to: 140}", Kind.PRICE_WRONG),
        ("{offered: 2026-juniper-flint/77}", Kind.ANIMAL_UNKNOWN),
        ("{offered: nobody}", Kind.ANIMAL_UNKNOWN),
        ("[amel]", Kind.VALUE_WRONG),
    ],
)
def test_what_cannot_be_is_told_once(entry: str, kind: Kind) -> None:
    assert [found for found, _ in faults(f"people: {{A: {entry}}}")] == [kind]


def test_a_list_of_people_is_told() -> None:
    assert [kind for kind, _ in faults("people: [{wants: amel}]")] == [Kind.VALUE_WRONG]


def test_one_animal_for_two_people_is_told_until_one_of_them_is_served() -> None:
    entries = "A: {offered: juniper}, B: {offered: juniper%s}, C: {offered: flint}"
    ((kind, message),) = faults(f"people: {{{entries % ''}}}")
    assert (kind, message) == (Kind.OFFER_CLASH, "juniper is offered to two people who wait")
    assert faults(f"people: {{{entries % ', done: 2026-08-01'}}}") == []


def test_the_waiting_list_is_no_part_of_what_pages_are_made_from() -> None:
    text = "people: {A: {since: 2099-01-01, done: 2099-02-01, offered: juniper, shows: [amel]}}"
    with_list = bound(f"{RECORDS}\n=== waiting.yaml\n{text}")
    assert with_list.waiting
    assert with_list.published == bound(RECORDS).published
    assert latest_date(with_list) == latest_date(bound(RECORDS))
    assert dataclasses.replace(with_list, waiting=()) == bound(RECORDS)
