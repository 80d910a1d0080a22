"""Who stands for whom among littermates: two young of one litter, alike or different in one thing."""

from dataclasses import replace
from fractions import Fraction

import pytest
from small_site import HERE, animal, collection, judged, small_material

from sitegen.claims.kinds import Basis, ClaimKind, Unjudged
from sitegen.evidence.known import Ground, Reason
from sitegen.genetics.loci import Sex
from sitegen.pages.alike import stands_for, told_once
from sitegen.pages.material import folio
from sitegen.records.animals import Meal, Offer, OfferState
from sitegen.records.collection import Collection
from sitegen.records.genes import Chromosome, Copies, DnaTest, Stated
from sitegen.records.values import PartialDate, Weighing

FIRST, SECOND = "2026-x/02", "2026-x/04"
GENES = judged()[0]


def changed(*, linked_to_sex: bool = False, **fields: object) -> Collection:
    """The small collection with another second young, and perhaps a species with a locus on a sex chromosome."""
    records = collection()
    kind = records.species["corn-snake"]
    loci = tuple(replace(locus, sex_linked=linked_to_sex) for locus in kind.genome.loci)
    species = replace(kind, genome=replace(kind.genome, loci=loci))
    young = replace(records.animals[SECOND], **fields)
    return replace(records, species={"corn-snake": species}, animals={**records.animals, SECOND: young})


def stand_in(records: Collection, claims: dict[str, object] | None = None) -> str:
    """Who stands for the second young, whose claim on hypo is changed, after the first was asked for."""
    found = small_material(records, pictured=False)
    if claims is not None:
        told = [replace(claim, **claims) if claim.locus == "hypo" else claim for claim in found.claims[SECOND]]
        found = replace(found, claims={**found.claims, SECOND: tuple(told)})
    at = folio(found, "index.html")
    assert stands_for(records.animals[FIRST], at) == FIRST
    return stands_for(records.animals[SECOND], at)


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"name": "Wren"},
        {"sex": Sex.MALE},
        {"offer": Offer(OfferState.AVAILABLE, HERE)},
        {"kept": True},
        {"weights": (Weighing(PartialDate(2026, 9, 1), 20),), "meals": (Meal(PartialDate(2026, 9, 1), "pinky"),)},
        {"about": "Eats."},
        {"line": "Riverside"},
    ],
    ids=lambda fields: next(iter(fields), "nothing"),
)
def test_what_no_claim_tells_makes_no_difference(fields):
    assert stand_in(changed(**fields)) == FIRST


@pytest.mark.parametrize(
    "fields",
    [
        {"died": PartialDate(2026, 9, 1)},
        {"dam": "sorrel"},
        {"dam": None},
        {"sires": (("flint", Fraction(1, 2)), ("2026-x/01", Fraction(1, 2)))},
        {"litter": ""},
        {"each_its_own_sire": True},
        {"born": PartialDate(2025, 7, 18)},
        {"genes": judged("amel")},
        {"genes": (replace(GENES, judged=replace(GENES.judged, unsure=("hypo",))),)},
        {"genes": (replace(GENES, judged=replace(GENES.judged, unsure_all=True)),)},
        {"genes": (replace(GENES, judged=replace(GENES.judged, written=False)),)},
        {"genes": (GENES, GENES)},
        {"genes": (replace(GENES, tests=(DnaTest("hypo", (("+", "+"),), HERE),)),)},
        {"genes": (replace(GENES, stated=(Stated("hypo", {("+", "hypo"): Fraction(1)}, "het", HERE),)),)},
        {"genes": (replace(GENES, copies=(Copies("wobble", None, HERE),)),)},
        {"genes": (replace(GENES, haplotypes=(Chromosome({"hypo": "hypo"}, HERE),)),)},
        {"genes": (replace(GENES, markers=("a spot",)),)},
    ],
    ids=str,
)
def test_what_words_of_claims_look_up_does(fields):
    assert stand_in(changed(**fields)) == SECOND


def test_the_sex_counts_where_a_locus_lies_on_a_sex_chromosome():
    assert stand_in(changed(linked_to_sex=True)) == FIRST
    assert stand_in(changed(linked_to_sex=True, sex=Sex.MALE)) == SECOND


@pytest.mark.parametrize(
    "claim",
    [
        {"kind": ClaimKind.CARRIES},
        {"kind": ClaimKind.NOT_KNOWN},
        {"allele": "other"},
        {"look": "hypo"},
        {"chance": Fraction(2, 3)},
        {"copies": 1},
        {"posterior": {("+", "hypo"): Fraction(1)}},
        {"posterior": {("+", "+"): Fraction(2, 3), ("+", "hypo"): Fraction(1, 3)}},
        {"basis": Basis.DNA_TEST},
        {"reasons": ()},
        {"reasons": (Reason(Ground.DAM, ("sorrel",)),)},
        {"reasons": (Reason(Ground.SIRE, ("juniper",)),)},
        {"reasons": (Reason(Ground.DAM, ("juniper",), "2026-x"),)},
        {"reasons": (Reason(Ground.DAM, ("juniper",), detail=(("count", "7"),)),)},
        {"unjudged": Unjudged.UNSURE},
        {"hidden_by": "amel"},
        {"hangs_on": ("juniper",)},
        {"taken_as_one_copy": ("flint",)},
    ],
    ids=str,
)
def test_every_part_of_a_claim_does(claim):
    assert stand_in(changed(), claim) == SECOND


@pytest.mark.parametrize("named", [{"hangs_on": (SECOND,)}, {"taken_as_one_copy": (SECOND, "flint")}], ids=str)
def test_who_is_named_beside_others_stands_for_itself(named):
    assert stand_in(changed(), named) == SECOND


def test_its_own_name_in_a_reason_is_told_as_itself():
    records = changed()
    found = small_material(records, pictured=False)
    told = {
        who: tuple(replace(claim, reasons=(Reason(Ground.SHOWS_NOT, (who,)),)) for claim in found.claims[who])
        for who in (FIRST, SECOND)
    }
    at = folio(replace(found, claims={**found.claims, **told}), "index.html")
    assert stands_for(records.animals[FIRST], at) == stands_for(records.animals[SECOND], at) == FIRST


def test_both_named_together_are_not_alike():
    """The sentence is the same, but each one's own page leads only to the other."""
    records = changed()
    found = small_material(records, pictured=False)
    both = (Reason(Ground.SHOWS_NOT, (FIRST, SECOND)),)
    told = {who: tuple(replace(c, reasons=both) for c in found.claims[who]) for who in (FIRST, SECOND)}
    at = folio(replace(found, claims={**found.claims, **told}), "index.html")
    assert [stands_for(records.animals[who], at) for who in (FIRST, SECOND)] == [FIRST, SECOND]


def test_an_animal_without_a_litter_stands_for_itself():
    records = collection()
    twins = {each: animal(each, each, Sex.MALE) for each in ("ash", "oak")}
    records = replace(records, animals={**records.animals, **twins})
    at = folio(small_material(records, pictured=False), "index.html")
    assert [stands_for(each, at) for each in twins.values()] == ["ash", "oak"]


def test_what_is_told_once_is_made_once():
    records, made = changed(), []
    at = folio(small_material(records, pictured=False), "index.html")
    for who in (FIRST, SECOND, FIRST):
        told_once("a word", records.animals[who], at, lambda first: made.append(first) or first)
    assert made == [FIRST]
