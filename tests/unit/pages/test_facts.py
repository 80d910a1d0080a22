"""The published facts, and JSON-LD."""

import datetime as dt
import json
from dataclasses import replace

from small_site import small_material

from sitegen.pages.facts import published_facts
from sitegen.pages.material import Material
from sitegen.pages.whole_site import whole_site
from sitegen.records.site import ReadyRules


def test_chances_are_exact_and_every_claim_is_there() -> None:
    material = small_material()
    facts = json.loads(json.dumps(published_facts(material)))
    young = next(entry for entry in facts["animals"] if entry["id"] == "2026-x/01")
    assert [(c["locus"], c["kind"], c["chance"]) for c in young["claims"]] == [
        (c.locus, c.kind.value, str(c.chance)) for c in material.claims["2026-x/01"]
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


def ready_today() -> Material:
    """No. 01 can go from 1 December 2026."""
    return replace(small_material(), as_of=dt.date(2026, 12, 1))


def test_json_ld_of_what_cannot_go_yet_does_not_say_in_stock() -> None:
    lacks = replace(ready_today().collection.site, ready_when=ReadyRules(meals=5))
    waiting = replace(ready_today(), collection=replace(ready_today().collection, site=lacks))
    for material in (small_material(), waiting):
        pages = {page.address: page for page in whole_site(material)}
        offer = json.loads(pages["litters/2026-x/01.html"].head.structured)["offers"]
        assert "availability" not in offer
        assert offer["price"] == "140"
    facts = json.loads(json.dumps(published_facts(waiting)))
    young = next(entry for entry in facts["animals"] if entry["id"] == "2026-x/01")
    assert young["offer"]["missing"] == ["five recorded meals"]
    assert young["offer"]["state"] == "available"


def test_json_ld_of_an_offer() -> None:
    pages = {page.address: page for page in whole_site(ready_today())}
    data = json.loads(pages["litters/2026-x/01.html"].head.structured)
    assert data["@type"] == "Product"
    assert (data["offers"]["price"], data["offers"]["priceCurrency"]) == ("140", "GBP")
    assert data["offers"]["availability"] == "https://schema.org/InStock"
    sold = json.loads(pages["litters/2026-x/04.html"].head.structured)
    assert "price" not in sold["offers"]
    assert "offers" not in json.loads(pages["animals/juniper.html"].head.structured)
