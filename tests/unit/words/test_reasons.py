from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import animal_of, collection_of, locus_of, recessive, species_of, told

from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.genetics.loci import Sex, SexSystem
from sitegen.words.reasons import explanation
from sitegen.words.speech import Link, Target, plain

SURE = Fraction(1)
HET = {("+", "hypo"): SURE}
TWO_THIRDS = {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)}
HALF = {("+", "+"): Fraction(1, 2), ("+", "hypo"): Fraction(1, 2)}


def because(animal, known, reasons, *others, litters=(), locus="hypo") -> list[str]:
    """The explanation of the first claim of an animal."""
    collection = collection_of(animal, *others, litters=litters)
    claims, voice = told(collection, known, {(animal.id, locus): reasons})
    return [plain(sentence) for sentence in explanation(claims[animal.id][0], voice)]


def family(dam=None, sire=None):
    return animal_of("juniper", **(dam or {})), animal_of("flint", **(sire or {}))


PARENTS = (Reason(Ground.DAM, ("juniper",)), Reason(Ground.SIRE, ("flint",)), Reason(Ground.SHOWS_NOT, ("sage",)))


def test_both_parents_carry_it_for_certain():
    young = animal_of("sage", dam="juniper", sires=("flint",))
    known = {"sage": {"hypo": TWO_THIRDS}, "juniper": {"hypo": HET}, "flint": {"hypo": HET}}
    assert [
        "Both parents carry it for certain: Juniper and Flint.",
        "This one does not show it.",
        "Not proven.",
    ] == because(young, known, PARENTS, *family())


def test_both_parents_show_it():
    young = animal_of("sage", dam="juniper", sires=("flint",), written=False)
    known = {animal: {"hypo": {("hypo", "hypo"): SURE}} for animal in ("sage", "juniper", "flint")}
    both = family({"shows": {"hypo": "hypo"}}, {"shows": {"hypo": "hypo"}})
    assert "Both parents show it: Juniper and Flint." == because(young, known, PARENTS[:2], *both)[0]


def test_parents_that_differ_are_told_one_after_the_other():
    young = animal_of("sage", dam="juniper", sires=("flint",))
    known = {"sage": {"hypo": HET}, "juniper": {"hypo": {("hypo", "hypo"): SURE}}, "flint": {"hypo": TWO_THIRDS}}
    dam, sire = family({"shows": {"hypo": "hypo"}})
    text = because(young, known, PARENTS[:2], dam, sire)
    assert ["Its dam Juniper shows it and its sire Flint may carry it (about 67 in 100)."] == text


def test_a_parent_that_is_not_known_to_carry_it_is_not_said_to_lack_it():
    young = animal_of("sage", dam="juniper", sires=("flint",))
    known = {"sage": {"hypo": HALF}, "juniper": {"hypo": HET}}
    text = because(young, known, PARENTS[:2], *family())[0]
    assert "Its dam Juniper carries it for certain and its sire Flint is not known to carry it." == text


def test_parents_on_a_previous_keepers_word_are_said_to_carry_it():
    young = animal_of("sage", dam="juniper", sires=("flint",))
    known = {"sage": {"hypo": TWO_THIRDS}, "juniper": {"hypo": HET}, "flint": {"hypo": HET}}
    both = family({"stated": {"hypo": HET}}, {"stated": {"hypo": HET}})
    text = because(young, known, PARENTS[:2], *both)
    assert "Both parents are said to carry it: Juniper and Flint." == text[0]
    assert "For this we have only a previous keeper’s word about Juniper (“66%”) and Flint (“66%”)." == text[1]


def test_possible_sires_are_each_named():
    young = animal_of("sage", dam="juniper", sires=("flint", "basalt"))
    known = {"sage": {"hypo": HALF}, "flint": {"hypo": HET}}
    reasons = (Reason(Ground.SIRE, ("flint", "basalt")),)
    text = because(young, known, reasons, *family(), animal_of("basalt"))[0]
    wanted = (
        "Flint, its sire in about 50 in 100 cases, carries it for certain; Basalt, its sire in about 50 in 100 cases, "
        "is not known to carry it."
    )
    assert wanted == text


def test_a_founder_on_a_previous_keepers_word():
    animal = animal_of("sage", stated={"hypo": TWO_THIRDS})
    reasons = (Reason(Ground.STATED, ("sage",), detail=(("as_written", "66%"),)),)
    text = because(animal, {"sage": {"hypo": TWO_THIRDS}}, reasons)
    assert ["For this we have only a previous keeper’s word: “66%”.", "Not proven."] == text


def test_a_certain_word_is_not_proven_either():
    animal = animal_of("sage", stated={"hypo": HET})
    assert "Not proven." == because(animal, {"sage": {"hypo": HET}}, ())[-1]


def test_of_many_words_the_nearest_are_named():
    founders = [animal_of(f"f{rank}", stated={"hypo": TWO_THIRDS}) for rank in range(6)]
    sage = animal_of("sage", sires=tuple(founder.id for founder in founders))
    known = {founder.id: {"hypo": TWO_THIRDS} for founder in founders} | {"sage": {"hypo": HALF}}
    text = because(sage, known, (), *founders)[0]
    assert text.startswith("For this we have only a previous keeper’s word about F0 (“66%”), F1")
    assert text.endswith(" and 2 more.")


def test_a_young_that_proves_its_dam():
    young = animal_of("2026/01", dam="sage", shows={"hypo": "hypo"})
    known = {"sage": {"hypo": HET}, "2026/01": {"hypo": {("hypo", "hypo"): SURE}}}
    text = because(animal_of("sage"), known, (Reason(Ground.YOUNG, ("2026/01",)),), young)
    assert ["Its young 01 must have it from this one."] == text


def test_young_that_lower_a_chance_link_to_their_litter():
    litter = Litter(
        id="2026",
        name="Sage 2026",
        species="corn-snake",
        place=animal_of("x").place,
        dam="sage",
        sires=(),
        born=PartialDate(2026, 7, 1),
    )
    reasons = (Reason(Ground.YOUNG, litter="2026", detail=(("count", "7"),)),)
    collection = collection_of(animal_of("sage"), litters=(litter,))
    claims, voice = told(collection, {"sage": {"hypo": HALF}}, {("sage", "hypo"): reasons})
    first = explanation(claims["sage"][0], voice)[0]
    assert "None of seven young of its own that we looked at shows it (Sage 2026)." == plain(first)
    assert Link("Sage 2026", Target.LITTER, "2026") in first


def test_three_states_of_young_and_littermates():
    shown = animal_of("2026/02", litter="2026", number="02", shows={"hypo": "hypo"}, sires=("flint",))
    litter = Litter(
        id="2026",
        name="Sage 2026",
        species="corn-snake",
        place=shown.place,
        dam=None,
        sires=(),
        young=("2026/02",),
        born=PartialDate(2026, 7, 1),
    )
    reasons = (
        Reason(Ground.YOUNG, litter="2026", detail=(("count", "1"),)),
        Reason(Ground.SIBLINGS, litter="2026", detail=(("count", "2"),)),
        Reason(Ground.SIBLINGS),
    )
    text = because(animal_of("sage"), {"sage": {"hypo": HALF}}, reasons, shown, animal_of("flint"), litters=(litter,))
    assert [
        "What one young of its own shows counts too (Sage 2026).",
        "What two other young of its parents show counts too (Sage 2026).",
        "What its littermates show counts too.",
        "Not proven.",
    ] == text
    many = (Reason(Ground.YOUNG, litter="2026", detail=(("count", "4"),)),)
    sure = because(animal_of("sage"), {"sage": {"hypo": HET}}, many, shown, animal_of("flint"), litters=(litter,))
    assert ["Four of its young must have it from this one (Sage 2026)."] == sure


def test_why_an_allele_is_ruled_out():
    dam = animal_of("juniper")
    young = animal_of("sage", dam="juniper")
    tessera = {"juniper": {"tessera": {("+", "tessera"): SURE}}}
    assert ["It would show in this one, and it does not."] == because(young, tessera, (), dam)
    both = {
        "juniper": {"motley-stripe": {("+", "stripe"): SURE}},
        "sage": {"motley-stripe": {("motley", "motley"): SURE}},
    }
    collection = collection_of(dam, animal_of("sage", dam="juniper", shows={"motley-stripe": "motley"}))
    claims, voice = told(collection, both)
    assert ClaimKind.RULED_OUT is claims["sage"][1].kind
    (reason,) = explanation(claims["sage"][1], voice)
    assert "There is room for two forms of this gene, and this one has two others." == plain(reason)


def test_a_daughter_has_a_gene_on_the_z_from_her_sire_alone():
    plain_locus = locus_of(recessive("banded"))
    shown = {("banded", "banded"): "banded", ("banded", "W"): "banded"}
    locus = replace(plain_locus, shown=shown, sex_linked=True, sex_system=SexSystem.ZW)
    dam = animal_of("juniper", sex=Sex.FEMALE, shows={"banded": "banded"})
    daughter = animal_of("sage", sex=Sex.FEMALE, dam="juniper", unsure=("banded",))
    collection = collection_of(dam, daughter, species=species_of(locus))
    known = {"juniper": {"banded": {("banded", "W"): SURE}}, "sage": {"banded": {("+", "W"): SURE}}}
    claims, voice = told(collection, known)
    assert ["A female can have it only from her sire."] == [plain(s) for s in explanation(claims["sage"][0], voice)]


def test_a_certain_carrier_whose_copies_hang_on_a_word():
    dam = animal_of("juniper", shows={"hypo": "hypo"})
    sire = animal_of("flint", stated={"hypo": HET})
    young = animal_of("sage", dam="juniper", sires=("flint",), unsure=("hypo",))
    known = {
        "juniper": {"hypo": {("hypo", "hypo"): SURE}},
        "flint": {"hypo": HET},
        "sage": {"hypo": {("+", "hypo"): Fraction(1, 2), ("hypo", "hypo"): Fraction(1, 2)}},
    }
    reasons = {
        ("juniper", "hypo"): (Reason(Ground.SHOWS_ITSELF, ("juniper",)),),
        ("sage", "hypo"): (Reason(Ground.DAM, ("juniper",)), Reason(Ground.SIRE, ("flint",))),
    }
    claims, voice = told(collection_of(dam, sire, young), known, reasons)
    (claim,) = claims["sage"]
    assert (Basis.OWN_RECORDS, ("flint",)) == (claim.basis, claim.hangs_on)
    text = [plain(sentence) for sentence in explanation(claim, voice)]
    assert "For the number of copies we have only a previous keeper’s word about Flint (“66%”)." == text[-1]
    assert "Its dam Juniper shows it and its sire Flint is said to carry it." == text[0]


def test_a_founder_taken_as_one_copy_is_named_with_the_claim_that_hangs_on_it():
    sire = animal_of("flint", shows={"tessera": "tessera"})
    young = animal_of("sage", sires=("flint",), unsure=("tessera",))
    half = {("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}
    known = {"sage": {"tessera": half}, "flint": {"tessera": {("+", "tessera"): SURE}}}
    text = because(young, known, (Reason(Ground.SIRE, ("flint",)),), sire, locus="tessera")
    assert "We do not know whether Flint has one copy or two, and take it as one copy." in text


def test_why_a_gene_was_not_judged():
    unjudged = {("+", "+"): Fraction(1, 4), ("+", "hypo"): Fraction(1, 2), ("hypo", "hypo"): Fraction(1, 4)}
    known = {"sage": {"hypo": unjudged}}
    told_unsure = because(animal_of("sage", unsure=("hypo",)), known, ())[0]
    wanted = "; about 25 in 100 such animals have what it takes to show it."
    assert "We could not tell by eye whether this one shows it" + wanted == told_unsure
    told_unwritten = because(animal_of("sage", written=False), known, ())[0]
    assert "Nobody wrote down whether this one shows it" + wanted == told_unwritten


def test_another_animals_test_and_looks_are_told_with_its_name():
    reasons = (
        Reason(Ground.DNA_TEST, ("flint",), detail=(("laboratory", "Fenlab"), ("date", ""))),
        Reason(Ground.SHOWS_ITSELF, ("flint",)),
        Reason(Ground.SHOWS_NOT, ("flint",)),
        Reason(Ground.NOTHING_STATED, ("flint",)),
    )
    text = because(animal_of("sage"), {"sage": {"hypo": HALF}}, reasons, animal_of("flint"))
    assert [
        "Flint: DNA test (Fenlab).",
        "Flint shows it.",
        "Flint does not show it.",
        "Nobody told us of it in Flint, so we reckon without it.",
        "Not proven.",
    ] == text


@pytest.mark.parametrize("ground", list(Ground))
def test_every_ground_has_words_or_is_told_elsewhere(ground):
    """With no further facts no sentence may fail; what the headline says already is not said twice."""
    text = because(animal_of("sage", dam="juniper"), {"sage": {"hypo": HALF}}, (Reason(ground),), *family())
    assert "Not proven." == text[-1]
    silent = {Ground.SHOWS_ITSELF, Ground.STATED, Ground.NOTHING_STATED, Ground.TAKEN_AS_ONE_COPY}
    assert (len(text) == 1) == (ground in silent)


def test_a_look_alone_needs_no_further_words():
    animal = animal_of("sage", shows={"hypo": "hypo"})
    known = {"sage": {"hypo": {("hypo", "hypo"): SURE}}}
    assert [] == because(animal, known, (Reason(Ground.SHOWS_ITSELF, ("sage",)),))


def test_the_reason_of_a_missing_answer_is_not_invented():
    collection = collection_of(animal_of("sage"))
    claims, voice = told(collection, {"sage": {"hypo": {}}})
    claim = next(claim for claim in claims["sage"] if claim.locus == "hypo")
    assert ClaimKind.NO_CLAIM is claim.kind
    assert () == explanation(claim, voice)
