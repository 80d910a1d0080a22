"""The published facts, and JSON-LD."""

import json

from small_site import small_material

from sitegen.pages.facts import published_facts
from sitegen.pages.whole_site import whole_site


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
        "2026-x/01": "https://schema.org/InStock",
        "2026-x/02": "https://schema.org/Reserved",
        "2026-x/04": "https://schema.org/SoldOut",
    }


def test_json_ld_of_an_offer() -> None:
    pages = {page.address: page for page in whole_site(small_material())}
    data = json.loads(pages["litters/2026-x/01.html"].head.structured)
    assert data["@type"] == "Product"
    assert (data["offers"]["price"], data["offers"]["priceCurrency"]) == ("140", "GBP")
    assert data["offers"]["availability"] == "https://schema.org/InStock"
    sold = json.loads(pages["litters/2026-x/04.html"].head.structured)
    assert "price" not in sold["offers"]
    assert "offers" not in json.loads(pages["animals/juniper.html"].head.structured)
