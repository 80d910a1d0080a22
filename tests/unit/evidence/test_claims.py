from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import (
    AMEL,
    CORN_LOCI,
    TODAY,
    animal_of,
    answers_alone,
    answers_of,
    collection_of,
    dominant,
    locus_of,
    recessive,
    species_of,
    told,
)

from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate
from sitegen.evidence.claims import bare_claims, claims_of
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, Unjudged
from sitegen.genetics.loci import Locus, Sex, SexSystem

SURE = Fraction(1)
HET_HYPO = ("+", "hypo")
TWO_THIRDS_HYPO = {("+", "+"): Fraction(1, 3), HET_HYPO: Fraction(2, 3)}


def claims_of_one(animal, known, because=None, *others, **kwargs) -> tuple[Claim, ...]:
    collection = collection_of(animal, *others, **kwargs)
    claims, _ = told(collection, {animal.id: known} if known else {}, because)
    return claims[animal.id]


def only(claims: tuple[Claim, ...]) -> Claim:
    assert len(claims) == 1, [(claim.kind, claim.allele) for claim in claims]
    return claims[0]


def test_an_animal_of_which_nothing_is_known_has_no_claims():
    assert claims_of_one(animal_of("sage"), {}) == ()


def test_a_recessive_that_shows_has_two_copies():
    claim = only(claims_of_one(animal_of("sage", shows={"amel": "amel"}), {"amel": {("amel", "amel"): SURE}}))
    assert (ClaimKind.SHOWS, "amel", "amel", 2, 1) == (claim.kind, claim.allele, claim.look, claim.copies, claim.chance)
    assert claim.basis is Basis.OWN_RECORDS


def test_a_certain_carrier():
    claim = only(claims_of_one(animal_of("sage"), {"hypo": {HET_HYPO: SURE}}))
    assert (ClaimKind.CARRIES, "hypo", "", 1) == (claim.kind, claim.allele, claim.look, claim.copies)


def test_a_possible_carrier_has_the_chance_of_the_posterior():
    claim = only(claims_of_one(animal_of("sage"), {"hypo": TWO_THIRDS_HYPO}))
    assert (ClaimKind.MAY_CARRY, Fraction(2, 3), -1) == (claim.kind, claim.chance, claim.copies)
    assert claim.unjudged is None


def test_a_dominant_that_shows_with_one_copy_or_two():
    posterior = {("+", "tessera"): Fraction(2, 3), ("tessera", "tessera"): Fraction(1, 3)}
    claim = only(claims_of_one(animal_of("sage", shows={"tessera": "tessera"}), {"tessera": posterior}))
    assert (ClaimKind.ONE_OR_TWO_COPIES, "tessera", Fraction(1, 3)) == (claim.kind, claim.look, claim.chance)


@pytest.mark.parametrize(("genotype", "look", "copies"), [
    (("+", "palmetto"), "palmetto", 1), (("palmetto", "palmetto"), "super-palmetto", 2)])  # fmt: skip
def test_an_incomplete_dominant_tells_its_copies_by_its_look(genotype, look, copies):
    claim = only(claims_of_one(animal_of("sage", shows={"palmetto": look}), {"palmetto": {genotype: SURE}}))
    assert (ClaimKind.SHOWS, look, "palmetto", copies) == (claim.kind, claim.look, claim.allele, claim.copies)


def test_a_compound_is_one_claim_with_one_copy_of_each():
    animal = animal_of("sage", shows={"motley-stripe": "striped-motley"})
    claim = only(claims_of_one(animal, {"motley-stripe": {("motley", "stripe"): SURE}}))
    assert (ClaimKind.SHOWS, "striped-motley", "") == (claim.kind, claim.look, claim.allele)
    assert {("motley", "stripe"): SURE} == claim.posterior


def test_two_alleles_that_may_be_carried_at_one_locus_are_two_claims():
    posterior = {("+", "+"): Fraction(1, 4), ("+", "motley"): Fraction(1, 4), ("+", "stripe"): Fraction(1, 2)}
    claims = claims_of_one(animal_of("sage"), {"motley-stripe": posterior})
    assert [("stripe", Fraction(1, 2)), ("motley", Fraction(1, 4))] == [(c.allele, c.chance) for c in claims]
    assert all(claim.kind is ClaimKind.MAY_CARRY for claim in claims)


def test_one_allele_shows_and_another_hides_beside_it():
    locus = locus_of(dominant("a"), recessive("b"), locus_id="odd")
    posterior = {("+", "a"): Fraction(1, 2), ("a", "b"): Fraction(1, 2)}
    collection = collection_of(animal_of("sage", shows={"odd": "a"}), species=species_of(locus))
    shows, hides = told(collection, {"sage": {"odd": posterior}})[0]["sage"]
    assert (ClaimKind.SHOWS, "a", 1) == (shows.kind, shows.allele, shows.copies)
    assert (ClaimKind.MAY_CARRY, "b", Fraction(1, 2)) == (hides.kind, hides.allele, hides.chance)


def test_a_look_of_two_possible_alleles_claims_neither_for_certain():
    both = locus_of(dominant("a"), dominant("b"), locus_id="odd")
    shown = {("+", "a"): "a", ("+", "b"): "a"}
    locus = Locus("odd", "odd", both.alleles, both.looks, shown)
    posterior = {("+", "a"): Fraction(1, 3), ("+", "b"): Fraction(2, 3)}
    collection = collection_of(animal_of("sage", shows={"odd": "a"}), species=species_of(locus))
    shows, first, second = told(collection, {"sage": {"odd": posterior}})[0]["sage"]
    assert (ClaimKind.SHOWS, "", "a", -1) == (shows.kind, shows.allele, shows.look, shows.copies)
    assert [("b", Fraction(2, 3)), ("a", Fraction(1, 3))] == [(c.allele, c.chance) for c in (first, second)]


def test_a_gene_that_comes_with_age_is_too_young_to_tell():
    animal = animal_of("sage", born=PartialDate(2026, 7, 1))
    posterior = {("+", "+"): Fraction(1, 2), ("+", "copper"): Fraction(1, 2)}
    claim = only(claims_of_one(animal, {"copper": posterior}))
    assert (ClaimKind.TOO_YOUNG, Fraction(1, 2), Unjudged.TOO_YOUNG) == (claim.kind, claim.chance, claim.unjudged)


def test_a_recessive_that_comes_with_age_may_show_and_may_be_carried():
    locus = locus_of(recessive("late", visible_from_months=18))
    posterior = {("+", "+"): Fraction(1, 4), ("+", "late"): Fraction(1, 2), ("late", "late"): Fraction(1, 4)}
    collection = collection_of(animal_of("sage", born=PartialDate(2026, 7, 1)), species=species_of(locus))
    may, young = told(collection, {"sage": {"late": posterior}})[0]["sage"]
    assert (ClaimKind.MAY_CARRY, Fraction(3, 4)) == (may.kind, may.chance)
    assert (ClaimKind.TOO_YOUNG, Fraction(1, 4)) == (young.kind, young.chance)


def test_a_gene_that_does_not_always_show_is_expected_less_often():
    locus = locus_of(dominant("late", visible_from_months=18, penetrance=Fraction(4, 5)))
    posterior = {("+", "+"): Fraction(1, 2), ("+", "late"): Fraction(1, 2)}
    collection = collection_of(animal_of("sage", born=PartialDate(2026, 7, 1)), species=species_of(locus))
    claim = only(told(collection, {"sage": {"late": posterior}})[0]["sage"])
    assert Fraction(1, 2) * Fraction(4, 5) == claim.chance


def test_an_animal_that_was_not_judged_may_show_it():
    posterior = {("+", "+"): Fraction(1, 4), ("+", "amel"): Fraction(1, 2), ("amel", "amel"): Fraction(1, 4)}
    claim = only(claims_of_one(animal_of("sage", unsure=("amel",)), {"amel": posterior}))
    assert (ClaimKind.MAY_CARRY, Fraction(3, 4), Unjudged.UNSURE) == (claim.kind, claim.chance, claim.unjudged)


def test_an_animal_without_a_record_of_looks_was_not_judged():
    posterior = {("+", "amel"): Fraction(1, 2), ("amel", "amel"): Fraction(1, 2)}
    claim = only(claims_of_one(animal_of("sage", written=False), {"amel": posterior}))
    assert (ClaimKind.CARRIES, -1, Unjudged.NOT_RECORDED) == (claim.kind, claim.copies, claim.unjudged)


def test_the_look_that_hides_a_gene_is_named():
    hidden = locus_of(recessive("hypo", hidden_by=("amel",)))
    posterior = {("+", "hypo"): Fraction(1, 2), ("hypo", "hypo"): Fraction(1, 2)}
    collection = collection_of(animal_of("sage", shows={"amel": "amel"}), species=species_of(AMEL, hidden))
    known = {"sage": {"amel": {("amel", "amel"): SURE}, "hypo": posterior}}
    _, carries = told(collection, known)[0]["sage"]
    assert (Unjudged.HIDDEN, "amel") == (carries.unjudged, carries.hidden_by)


def test_ruled_out_because_a_parent_could_have_passed_it():
    dam = animal_of("dam")
    claims = claims_of_one(animal_of("sage", dam="dam"), {}, None, dam)
    assert () == claims
    collection = collection_of(dam, animal_of("sage", dam="dam"))
    claim = only(told(collection, {"dam": {"tessera": {("+", "tessera"): SURE}}})[0]["sage"])
    assert (ClaimKind.RULED_OUT, "tessera", 0) == (claim.kind, claim.allele, claim.chance)


def test_ruled_out_by_a_test_rests_on_the_test():
    animal = animal_of("sage", tests={"hypo": (("+", "+"),)})
    claim = only(claims_of_one(animal, {}, {("sage", "hypo"): (Reason(Ground.DNA_TEST, ("sage",)),)}))
    assert (ClaimKind.RULED_OUT, Basis.DNA_TEST) == (claim.kind, claim.basis)


def test_ruled_out_although_a_previous_keeper_stated_it():
    animal = animal_of("sage", stated={"hypo": TWO_THIRDS_HYPO})
    assert only(claims_of_one(animal, {})).kind is ClaimKind.RULED_OUT


def test_what_was_never_possible_is_not_ruled_out():
    dam, sire = animal_of("dam"), animal_of("sire")
    assert claims_of_one(animal_of("sage", dam="dam", sires=("sire",)), {}, None, dam, sire) == ()


def test_a_locus_without_an_answer_makes_no_claim():
    collection = collection_of(animal_of("sage"))
    answers = answers_of(collection, {})
    posteriors = {"sage": {k: v for k, v in answers.posteriors["sage"].items() if k != "amel"}}
    claims = claims_of(collection, answers_alone(posteriors), lambda a, b: (), TODAY)["sage"]
    claim = only(claims)
    assert (ClaimKind.NO_CLAIM, "amel", "", "") == (claim.kind, claim.locus, claim.allele, claim.look)
    assert (0, -1, {}, Basis.OWN_RECORDS, ()) == (
        claim.chance,
        claim.copies,
        claim.posterior,
        claim.basis,
        claim.taken_as_one_copy,
    )


def test_certain_carriers_and_what_is_ruled_out_hang_on_nobodys_one_copy():
    claims = claims_of_one(animal_of("sage", tests={"anery": (("+", "+"),)}), {"hypo": {HET_HYPO: SURE}})
    assert [(claim.kind, claim.taken_as_one_copy) for claim in claims] == [
        (ClaimKind.CARRIES, ()),
        (ClaimKind.RULED_OUT, ()),
    ]


def test_claims_stand_in_a_stable_useful_order():
    animal = animal_of("sage", shows={"amel": "amel", "tessera": "tessera"}, tests={"palmetto": (("+", "+"),)})
    half = {("+", "motley"): Fraction(1, 2), ("+", "+"): Fraction(1, 2)}
    known = {
        "tessera": {("+", "tessera"): Fraction(1, 2), ("tessera", "tessera"): Fraction(1, 2)},
        "amel": {("amel", "amel"): SURE},
        "anery": {("+", "anery"): SURE},
        "hypo": TWO_THIRDS_HYPO,
        "motley-stripe": half,
    }
    claims = claims_of_one(animal, known)
    assert ["amel", "tessera", "anery", "hypo", "motley", "palmetto"] == [claim.allele for claim in claims]


class TestBasis:
    """What a claim rests on follows the chain to its first links."""

    def test_a_founders_statement_reaches_its_grandyoung(self):
        founder = animal_of("juniper", stated={"hypo": TWO_THIRDS_HYPO})
        middle, last = animal_of("flint", dam="juniper"), animal_of("sage", sires=("flint",))
        collection = collection_of(founder, middle, last)
        known = {
            "juniper": {"hypo": TWO_THIRDS_HYPO},
            "flint": {"hypo": {("+", "+"): Fraction(2, 3), HET_HYPO: Fraction(1, 3)}},
            "sage": {"hypo": {("+", "+"): Fraction(5, 6), HET_HYPO: Fraction(1, 6)}},
        }
        claims = told(collection, known)[0]
        for animal in ("juniper", "flint", "sage"):
            claim = only(claims[animal])
            assert (Basis.PREVIOUS_KEEPER, ("juniper",)) == (claim.basis, claim.hangs_on), animal

    def test_a_young_that_proves_the_founder_ends_the_chain(self):
        founder = animal_of("juniper", stated={"hypo": TWO_THIRDS_HYPO})
        proof = animal_of("flint", dam="juniper", shows={"hypo": "hypo"})
        other = animal_of("sage", dam="juniper")
        collection = collection_of(founder, proof, other)
        known = {
            "juniper": {"hypo": {HET_HYPO: SURE}},
            "flint": {"hypo": {("hypo", "hypo"): SURE}},
            "sage": {"hypo": {("+", "+"): Fraction(1, 2), HET_HYPO: Fraction(1, 2)}},
        }
        because = {
            ("juniper", "hypo"): (Reason(Ground.YOUNG, ("flint",)),),
            ("flint", "hypo"): (Reason(Ground.SHOWS_ITSELF, ("flint",)),),
            ("sage", "hypo"): (Reason(Ground.DAM, ("juniper",)),),
        }
        claims = told(collection, known, because)[0]
        assert only(claims["juniper"]).basis is Basis.PROVEN_BY_YOUNG
        assert (Basis.OWN_RECORDS, ()) == (only(claims["sage"]).basis, only(claims["sage"]).hangs_on)

    def test_a_certain_carrier_does_not_hang_on_what_was_said_of_its_other_parent(self):
        dam = animal_of("juniper", shows={"hypo": "hypo"})
        sire = animal_of("flint", stated={"hypo": TWO_THIRDS_HYPO})
        collection = collection_of(dam, sire, animal_of("sage", dam="juniper", sires=("flint",)))
        known = {
            "juniper": {"hypo": {("hypo", "hypo"): SURE}},
            "flint": {"hypo": TWO_THIRDS_HYPO},
            "sage": {"hypo": {HET_HYPO: SURE}},
        }
        because = {
            ("juniper", "hypo"): (Reason(Ground.SHOWS_ITSELF, ("juniper",)),),
            ("sage", "hypo"): (Reason(Ground.DAM, ("juniper",)), Reason(Ground.SHOWS_NOT, ("sage",))),
        }
        assert only(told(collection, known, because)[0]["sage"]).basis is Basis.OWN_RECORDS

    def test_what_was_stated_of_an_animal_with_recorded_parents_counts_for_nothing(self):
        dam, sire = animal_of("juniper"), animal_of("flint")
        animal = animal_of("sage", dam="juniper", sires=("flint",), stated={"hypo": TWO_THIRDS_HYPO})
        assert claims_of_one(animal, {}, None, dam, sire) == ()

    def test_a_statement_about_a_mate_counts_where_the_young_speak(self):
        animal = animal_of("sage", sex=Sex.FEMALE, dam="basil")
        mate = animal_of("flint", stated={"hypo": TWO_THIRDS_HYPO})
        young = animal_of("2026/01", dam="sage", sires=("flint",))
        collection = collection_of(animal_of("basil"), animal, mate, young)
        known = {
            "basil": {"hypo": {HET_HYPO: SURE}},
            "sage": {"hypo": {HET_HYPO: Fraction(2, 5), ("+", "+"): Fraction(3, 5)}},
            "flint": {"hypo": TWO_THIRDS_HYPO},
        }
        because = {
            ("basil", "hypo"): (Reason(Ground.YOUNG),),
            ("sage", "hypo"): (Reason(Ground.DAM, ("basil",)), Reason(Ground.YOUNG, ("2026/01",))),
        }
        assert ("flint",) == only(told(collection, known, because)[0]["sage"]).hangs_on

    def test_the_longest_chain_is_followed_without_deep_recursion(self):
        animals = [animal_of("a0", stated={"hypo": TWO_THIRDS_HYPO})]
        animals += [animal_of(f"a{n}", dam=f"a{n - 1}") for n in range(1, 1100)]
        known = {a.id: {"hypo": TWO_THIRDS_HYPO} for a in animals}
        collection = collection_of(*animals, species=species_of(*(locus for locus in CORN_LOCI if locus.id == "hypo")))
        wanted = collection_of(*animals[-1:], species=collection.species["corn-snake"])
        answers = answers_of(collection, known)
        assert wanted.animals.keys() == {"a1099"}
        from_all = claims_of(collection, answers, lambda a, b: (), TODAY)
        assert ("a0",) == only(from_all["a1099"]).hangs_on


class TestTakenAsOneCopy:
    """A founder's dominant whose copies nobody knows."""

    KNOWN = {"tessera": {("+", "tessera"): SURE}}  # noqa: RUF012 - a constant of the tests

    def test_the_founder_is_taken_as_one_copy(self):
        claim = only(claims_of_one(animal_of("sage", shows={"tessera": "tessera"}), self.KNOWN))
        assert ("sage",) == claim.taken_as_one_copy

    def test_a_young_without_it_proves_that_there_is_one_copy(self):
        founder = animal_of("sage", shows={"tessera": "tessera"})
        collection = collection_of(founder, animal_of("2026/01", dam="sage"))
        assert () == only(told(collection, {"sage": self.KNOWN})[0]["sage"]).taken_as_one_copy

    def test_a_test_settles_the_copies(self):
        animal = animal_of("sage", shows={"tessera": "tessera"}, tests={"tessera": (("+", "tessera"),)})
        assert () == only(claims_of_one(animal, self.KNOWN)).taken_as_one_copy

    def test_it_reaches_the_young_whose_chance_hangs_on_it(self):
        founder = animal_of("sage", shows={"tessera": "tessera"})
        young = animal_of("2026/01", dam="sage", unsure=("tessera",))
        half = {("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}
        claims = told(collection_of(founder, young), {"sage": self.KNOWN, "2026/01": {"tessera": half}})[0]
        assert ("sage",) == only(claims["2026/01"]).taken_as_one_copy

    def test_a_recessive_is_never_taken_as_one_copy(self):
        claim = only(claims_of_one(animal_of("sage", shows={"amel": "amel"}), {"amel": {("amel", "amel"): SURE}}))
        assert () == claim.taken_as_one_copy

    def test_one_look_for_each_number_of_copies_leaves_nothing_to_assume(self):
        animal = animal_of("sage", shows={"palmetto": "palmetto"})
        assert () == only(claims_of_one(animal, {"palmetto": {("+", "palmetto"): SURE}})).taken_as_one_copy


def test_young_listed_in_a_litter_are_judged_at_birth():
    litter = Litter(
        id="2024",
        name="2024",
        species="corn-snake",
        place=animal_of("x").place,
        dam=None,
        sires=(),
        young=("2024/01",),
        born=PartialDate(2024, 7, 1),
    )
    young = animal_of("2024/01", born=None, litter="2024", number="01")
    collection = collection_of(young, litters=(litter,))
    half = {("+", "+"): Fraction(1, 2), ("+", "copper"): Fraction(1, 2)}
    claim = only(told(collection, {"2024/01": {"copper": half}})[0]["2024/01"])
    assert (ClaimKind.TOO_YOUNG, Unjudged.WAS_TOO_YOUNG) == (claim.kind, claim.unjudged)


def test_a_female_has_one_copy_of_a_gene_on_the_z():
    plain = locus_of(recessive("banded"))
    shown = {("banded", "banded"): "banded", ("banded", "W"): "banded"}
    locus = Locus("banded", "banded", plain.alleles, plain.looks, shown, sex_linked=True, sex_system=SexSystem.ZW)
    animal = animal_of("sage", shows={"banded": "banded"}, sex=Sex.FEMALE)
    collection = collection_of(animal, species=species_of(locus))
    claim = only(told(collection, {"sage": {"banded": {("banded", "W"): SURE}}})[0]["sage"])
    assert (ClaimKind.SHOWS, "banded", 1) == (claim.kind, claim.allele, claim.copies)


def test_what_is_taken_as_one_copy_goes_with_chances_and_not_with_what_is_certain():
    both = {("+", "tessera"): Fraction(1, 2), ("tessera", "tessera"): Fraction(1, 2)}
    may_have = {("+", "+"): Fraction(1, 2), ("+", "tessera"): Fraction(1, 2)}
    dam = animal_of("dam", shows={"tessera": "tessera"})
    for posterior, taken in ((both, ()), (may_have, ("dam",))):
        young = animal_of("young", dam="dam", written=False)
        claims, _ = told(
            collection_of(dam, young), {"dam": {"tessera": {("+", "tessera"): SURE}}, "young": {"tessera": posterior}}
        )
        assert only(claims["young"]).taken_as_one_copy == taken


def test_where_the_genotype_is_settled_only_the_animals_own_copy_is_taken():
    one = {("+", "tessera"): SURE}
    dam, sire = (animal_of(name, shows={"tessera": "tessera"}) for name in ("dam", "sire"))
    young = animal_of("young", dam="dam", sires=("sire",), shows={"tessera": "tessera"})
    both = {("+", "tessera"): Fraction(2, 3), ("tessera", "tessera"): Fraction(1, 3)}
    known = {"dam": {"tessera": one}, "sire": {"tessera": one}, "young": {"tessera": both}}
    claims, _ = told(collection_of(dam, sire, young), known)
    assert only(claims["dam"]).taken_as_one_copy == ("dam",)
    assert only(claims["young"]).taken_as_one_copy == ("dam", "sire")
    settled, _ = told(collection_of(dam, sire, young), {**known, "young": {"tessera": one}})
    assert only(settled["young"]).taken_as_one_copy == ()


def test_what_founders_of_the_species_may_have_is_ruled_out_by_name():
    series = locus_of(recessive("motley"), recessive("stripe"), locus_id="series")
    odds = {("+", "+"): Fraction(1, 2), ("+", "motley"): Fraction(1, 2), ("+", "stripe"): Fraction(0)}
    species = species_of(replace(series, background={Sex.UNKNOWN: odds}))
    animals = animal_of("sage"), animal_of("half", dam="sage"), animal_of("whole", dam="sage", sires=("sage",))
    claims, _ = told(collection_of(*animals, species=species), {})
    for name in ("sage", "half"):
        claim = only(claims[name])
        assert (claim.kind, claim.allele, claim.chance, claim.copies) == (ClaimKind.RULED_OUT, "motley", 0, 0)
    assert claims["whole"] == ()


@pytest.mark.parametrize("name", ["motley", "stripe"])
def test_two_copies_of_one_allele_of_a_series_are_its_own(name):
    animal = animal_of("sage", shows={"motley-stripe": name})
    claim = only(claims_of_one(animal, {"motley-stripe": {(name, name): SURE}}))
    assert (ClaimKind.SHOWS, name, name, 2) == (claim.kind, claim.allele, claim.look, claim.copies)


def test_a_certain_gene_that_comes_with_age_is_carried_and_its_look_is_no_chance():
    animal = animal_of("sage", born=PartialDate(2026, 7, 1))
    claim = only(claims_of_one(animal, {"copper": {("+", "copper"): SURE}}))
    assert (ClaimKind.CARRIES, Unjudged.TOO_YOUNG) == (claim.kind, claim.unjudged)


def test_a_word_about_one_allele_of_a_series_makes_no_other_one_possible():
    may = {("+", "+"): Fraction(1, 3), ("+", "motley"): Fraction(2, 3)}
    claims = claims_of_one(animal_of("sage", stated={"motley-stripe": may}), {"motley-stripe": {("+", "+"): SURE}})
    assert [(ClaimKind.RULED_OUT, "motley")] == [(claim.kind, claim.allele) for claim in claims]


def test_a_word_that_gives_an_allele_no_chance_does_not_make_it_possible():
    never = {("+", "+"): SURE, ("+", "motley"): Fraction(0)}
    assert claims_of_one(animal_of("sage", stated={"motley-stripe": never}), {}) == ()


def test_kinds_of_claims_come_before_chances_and_loci():
    """What may be carried stands before what is too young to be told, ruled out before what could not be answered."""
    herd = collection_of(
        animal_of("sage", born=PartialDate(2026, 7, 1), tests={"tessera": (("+", "+"),)}),
        species=species_of(*CORN_LOCI),
    )
    posteriors = {locus.id: {("+", "+"): SURE} for locus in CORN_LOCI}
    posteriors["copper"] = {("+", "+"): Fraction(1, 10), ("+", "copper"): Fraction(9, 10)}
    posteriors["hypo"] = TWO_THIRDS_HYPO
    posteriors["amel"] = {}
    found = claims_of(herd, answers_alone({"sage": posteriors}), lambda animal, locus: (), TODAY)["sage"]
    assert [(claim.kind, claim.locus) for claim in found] == [
        (ClaimKind.MAY_CARRY, "hypo"),
        (ClaimKind.TOO_YOUNG, "copper"),
        (ClaimKind.RULED_OUT, "tessera"),
        (ClaimKind.NO_CLAIM, "amel"),
    ]


def test_bare_claims_say_what_the_claims_say_in_the_order_of_the_loci():
    animal = animal_of("sage", shows={"amel": "amel", "anery": "anery"}, tests={"tessera": (("+", "+"),)})
    herd = collection_of(animal)
    posteriors = {locus.id: {("+", "+"): SURE} for locus in CORN_LOCI}
    posteriors |= {"amel": {("amel", "amel"): SURE}, "hypo": TWO_THIRDS_HYPO, "anery": {}}
    answered = [(locus, {"sage": posteriors[locus.id]}) for locus in CORN_LOCI if posteriors[locus.id]]
    bare = [claim for locus, known in answered for claim in bare_claims(herd, animal, locus, known, TODAY)]
    assert [(ClaimKind.SHOWS, "amel"), (ClaimKind.MAY_CARRY, "hypo"), (ClaimKind.RULED_OUT, "tessera")] == [
        (claim.kind, claim.locus) for claim in bare
    ]
    whole = claims_of(herd, answers_alone({"sage": posteriors}), lambda animal, locus: (), TODAY)["sage"]
    assert {(claim.kind, claim.locus, claim.allele, claim.chance) for claim in bare} == {
        (claim.kind, claim.locus, claim.allele, claim.chance) for claim in whole if claim.kind is not ClaimKind.NO_CLAIM
    }
