"""The published facts, and JSON-LD."""

import datetime as dt
import json
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import jsonschema
import pytest
from helpers.random_roads import project, road, with_roads
from helpers.small_site import material, small_material, whole_site

from sitegen.content.litters import FailedAs
from sitegen.content.prices import OfferState
from sitegen.content.site import ReadyRules
from sitegen.evidence.changes import ChangeKind
from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.evidence.offers import AVAILABILITY
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.kinds import Ending, SeasonChance, StageState
from sitegen.site.facts import published_facts
from sitegen.site.material import Material
from sitegen.site.parts import Page
from sitegen.site.schema import facts_schema, paper_schema


def test_chances_are_exact_and_every_claim_is_there() -> None:
    made = small_material()
    facts = json.loads(json.dumps(published_facts(made)))
    young = next(entry for entry in facts["animals"] if entry["id"] == "2026-x/01")
    assert [(c["locus"], c["kind"], c["chance"]) for c in young["claims"]] == [
        (c.locus, c.kind.value, str(c.chance)) for c in made.claims["2026-x/01"]
    ]
    assert ("hypo", "may carry", "1/3") in [(c["locus"], c["kind"], c["chance"]) for c in young["claims"]]
    assert young["page"] == "litters/2026-x/01.html"


def test_offers_carry_the_availability_of_schema_org() -> None:
    facts = json.loads(json.dumps(published_facts(small_material())))
    offers = {entry["id"]: entry["offer"]["availability"] for entry in facts["animals"] if "offer" in entry}
    assert offers == {
        "2026-x/01": None,  # it can go from a day that lies ahead
        "2026-x/02": "https://schema.org/Reserved",
        "2026-x/04": "https://schema.org/SoldOut",
    }


def ready_today(rules: ReadyRules | None = None) -> Material:
    """No. 01 can go from 1 December 2026."""
    made = small_material()
    site = made.collection.site
    records = replace(made.collection, site=replace(site, ready_when=rules or site.ready_when))
    return material(records, made.answers, made.claims, made.pictures, dt.date(2026, 12, 1))


def test_json_ld_of_what_cannot_go_yet_does_not_say_in_stock() -> None:
    waiting = ready_today(ReadyRules(meals=5))
    for made in (small_material(), waiting):
        pages = {page.address: page for page in whole_site(made)}
        offer = node(pages["litters/2026-x/01.html"])["offers"]
        assert "availability" not in offer
        assert offer["price"] == "140"
    facts = json.loads(json.dumps(published_facts(waiting)))
    young = next(entry for entry in facts["animals"] if entry["id"] == "2026-x/01")
    assert young["offer"]["missing"] == ["five recorded meals"]
    assert young["offer"]["state"] == "available"


def node(page: Page) -> dict[str, Any]:
    """What the page is about, without the way to it."""
    told = json.loads(page.head.structured)
    found: dict[str, Any] = told["@graph"][0] if "@graph" in told else told
    return found


def test_json_ld_of_an_offer() -> None:
    pages = {page.address: page for page in whole_site(ready_today())}
    data = node(pages["litters/2026-x/01.html"])
    assert data["@type"] == "Product"
    assert (data["offers"]["price"], data["offers"]["priceCurrency"]) == ("140", "GBP")
    assert data["offers"]["availability"] == "https://schema.org/InStock"
    assert data["url"] == "https://quillmoor.example/snakes/litters/2026-x/01.html"
    assert data["image"].startswith("https://quillmoor.example/snakes/pictures/")
    sold = node(pages["litters/2026-x/04.html"])
    assert "price" not in sold["offers"]
    assert "offers" not in node(pages["animals/juniper.html"])
    waiting = node({page.address: page for page in whole_site(small_material())}["litters/2026-x/01.html"])
    assert waiting["offers"]["availabilityStarts"] == "2026-12-01"


def test_the_start_page_tells_who_the_breeder_is_and_offers_name_the_same() -> None:
    pages = {page.address: page for page in whole_site(small_material())}
    breeder, site = json.loads(pages["index.html"].head.structured)["@graph"]
    assert (breeder["@type"], breeder["email"]) == ("Organization", "letters@quillmoor.example")
    assert site["publisher"]["@id"] == breeder["@id"] == "https://quillmoor.example/snakes/#breeder"
    assert node(pages["litters/2026-x/01.html"])["offers"]["seller"]["@id"] == breeder["@id"]


@pytest.mark.parametrize(
    ("address", "way"),
    [
        ("animals/juniper.html", ["Start", "Collection", "Juniper"]),
        ("litters/2026-x/01.html", ["Start", "Litters", "Juniper and Flint 2026", "No. 01 of Juniper and Flint 2026"]),
        ("genes/corn-snake/amel.html", ["Start", "Genes", "Amelanistic in the corn snake"]),
        ("available.html", ["Start", "Available"]),
    ],
)
def test_the_way_to_a_page_is_told(address: str, way: list[str]) -> None:
    page = next(page for page in whole_site(small_material()) if page.address == address)
    told = json.loads(page.head.structured)
    (crumbs,) = [n for n in told.get("@graph", [told]) if n["@type"] == "BreadcrumbList"]
    assert [crumb["name"] for crumb in crumbs["itemListElement"]] == way
    assert [crumb["position"] for crumb in crumbs["itemListElement"]] == list(range(1, len(way) + 1))
    assert crumbs["itemListElement"][-1]["item"] == page.head.canonical


def test_the_facts_are_what_their_schema_says() -> None:
    schema = facts_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    check = jsonschema.Draft202012Validator(schema)
    for made in (small_material(), small_material(pictured=False), ready_today()):
        check.validate(json.loads(json.dumps(published_facts(made))))
    spoilt = json.loads(json.dumps(published_facts(small_material())))
    spoilt["animals"][0]["claims"][0]["chance"] = "0.66"
    spoilt["animals"][1]["paid"] = 120
    assert len(list(check.iter_errors(spoilt))) == 2


def listed_words(schema: object) -> Iterator[frozenset[str | None]]:
    """Every list of words that a schema has."""
    if isinstance(schema, dict) and "enum" in schema:
        yield frozenset(schema["enum"])
    inner = schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ()
    for value in inner:
        yield from listed_words(value)


def test_the_schemas_list_every_word_that_a_fact_can_be() -> None:
    every = (FailedAs, OfferState, ChangeKind, Basis, ClaimKind, Sex, StageState, Ending)
    words = {frozenset(word.value for word in kind) for kind in every}
    availability = frozenset({None, *filter(None, AVAILABILITY.values())})
    assert words | {availability} == set(listed_words(facts_schema()))
    of_paper = {frozenset(word.value for word in kind) for kind in (Sex, ClaimKind, Basis)}
    assert of_paper == set(listed_words(paper_schema()))


def test_the_road_of_a_project_is_told_in_decimals_with_four_places() -> None:
    """2/3 is 0.6667; shares of 20,000 plans have no more than that."""
    plan = project()
    chances = (SeasonChance(2034, Fraction(2, 3), Fraction(1, 2), Fraction(1, 20_000)),)
    made = with_roads(plan, road(by_season=chances))[0]
    facts = json.loads(json.dumps(published_facts(made)))
    jsonschema.validate(facts, facts_schema())
    found = facts["projects"]["sun"]
    assert found["seasons"][0] | {} == {
        "season": 2034, "born": "0.6667", "kept": "0.5000", "known": "0.0001",
        "young": {"mean": "13.0000", "low": 6, "high": 20}, "to_raise": {"mean": "0.5000", "low": 0, "high": 1},
        "places": {"mean": "1.5000", "low": 1, "high": 2},
    }  # fmt: skip
    assert (found["half_by"], found["reached"], found["draws"], found["error"]) == (2031, None, 20_000, "0.0035")
    assert found["stages"][1] == {
        "id": "second", "state": "later", "planned": 2028, "earliest": 2030,
        "bred": {"2030": "0.6000", "2031": "0.9000"}, "kept_given_bred": "0.8889",
        "ended": {"goal": "0.8000", "stuck": "0.1000"},
    }  # fmt: skip


def test_a_project_that_was_given_up_or_has_no_answer_has_no_road() -> None:
    plan = project(state="given up")
    assert published_facts(with_roads(plan, road())[0])["projects"] == {}
    assert published_facts(small_material())["projects"] == {}
