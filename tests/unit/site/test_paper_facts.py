"""The file for machines beside a buyer's paper."""

import hashlib
import json
from dataclasses import replace
from fractions import Fraction

import jsonschema
import pytest
from helpers.papers import YOUNG, facts, with_animals
from helpers.small_site import HERE, animal, collection, small_material

from sitegen.content.animals import Offer
from sitegen.content.prices import OfferState
from sitegen.evidence.kinds import ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.site.paper_facts import VERSION, record_version
from sitegen.site.schema import paper_schema


@pytest.mark.parametrize("animal_id", ["2026-x/01", "2026-x/02", "2026-x/04"])
def test_the_file_keeps_to_its_schema(animal_id: str) -> None:
    jsonschema.Draft202012Validator.check_schema(paper_schema())
    jsonschema.Draft202012Validator(paper_schema()).validate(facts(animal_id=animal_id))


@pytest.mark.parametrize("key", list(paper_schema()["required"]))
def test_the_schema_misses_every_part_that_is_missing(key: str) -> None:
    found = {name: value for name, value in facts().items() if name != key}
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(paper_schema()).validate(found)


def test_a_file_of_another_version_is_told() -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(paper_schema()).validate({**facts(), "version": VERSION + 1})


def test_the_file_states_exact_odds_and_their_basis() -> None:
    (hypo,) = [claim for claim in facts()["claims"] if claim["locus"] == "hypo"]  # type: ignore[attr-defined]
    assert hypo["kind"] == ClaimKind.MAY_CARRY
    assert Fraction(hypo["chance"]) == Fraction(1, 3)
    assert {name: Fraction(chance) for name, chance in hypo["genotypes"].items()} == {
        "+/hypo": Fraction(1, 3), "+/+": 1 - Fraction(1, 3),
    }  # fmt: skip
    assert hypo["basis"] == "our own records"
    assert hypo["reasons"][-1] == "Not proven."


def test_the_file_tells_the_parents_and_what_they_show() -> None:
    parents = facts()["parents"]
    assert parents["dam"]["name"] == "Juniper"  # type: ignore[index]
    assert [look["look"] for look in parents["dam"]["shows"]["looks"]] == ["amel"]  # type: ignore[index]
    assert [(sire["name"], sire["chance"]) for sire in parents["sires"]] == [("Flint", "1")]  # type: ignore[index]


def test_the_version_can_be_worked_out_from_the_file_alone() -> None:
    read = json.loads(json.dumps(facts(), ensure_ascii=False))
    stated = {key: value for key, value in read.items() if key not in ("date", "record")}
    text = json.dumps(stated, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    assert read["record"] == hashlib.sha256(text.encode()).hexdigest()[:12] == record_version(read)


def test_the_version_changes_with_a_claim_and_not_with_strangers() -> None:
    before = facts()["record"]
    material = small_material()
    claims = {
        YOUNG: tuple(
            replace(c, chance=Fraction(1, 2)) if c.kind is ClaimKind.MAY_CARRY else c for c in material.claims[YOUNG]
        )
    }
    assert facts(replace(material, claims={**material.claims, **claims}))["record"] != before
    stranger = animal("stranger", "Stranger", Sex.MALE, "amel", offer=Offer(state=OfferState.SOLD, place=HERE))
    assert facts(small_material(with_animals(collection(), stranger=stranger)))["record"] == before
    later = replace(material, as_of=material.as_of.replace(day=2))
    assert facts(later)["date"] != facts()["date"]
    assert facts(later)["record"] == before


def test_price_and_state_of_the_offer_are_no_part_of_the_paper() -> None:
    records = collection()
    sold = replace(records.animals[YOUNG], offer=Offer(state=OfferState.SOLD, place=HERE))
    assert facts(small_material(with_animals(records, **{YOUNG: sold}))) == facts()
