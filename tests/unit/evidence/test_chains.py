"""Evidence followed from animal to animal."""

from fractions import Fraction

import pytest
from helpers.small_collections import HYPO, animal_of, answers_of, collection_of, species_of

from sitegen.evidence.chains import NEAREST, PROOF, chains_of
from sitegen.evidence.claims import basis_of, keepers_words
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Basis, ClaimKind

HALF = Fraction(1, 2)
HAS, TWO, HAS_NOT = ({pair: Fraction(1)} for pair in (("+", "hypo"), ("hypo", "hypo"), ("+", "+")))
MAY_HAVE = {("+", "+"): HALF, ("+", "hypo"): HALF}
STATED = {"hypo": HAS}


def because(ground, *animals):
    return Reason(ground, animals, "", (), ())


def chains_for(*animals, known, grounds=None):
    herd = collection_of(*animals, species=species_of(HYPO))
    answers = answers_of(herd, {name: {"hypo": odds} for name, odds in known.items()})
    found = {name: tuple(each) for name, each in (grounds or {}).items()}
    return chains_of(gather(herd), answers, lambda animal, locus: found.get(animal, ()))["corn-snake", "hypo"]


@pytest.mark.parametrize(("odds", "has", "settled"), [
    (HAS, True, True), (HAS_NOT, True, True), (MAY_HAVE, False, False),
    ({("+", "hypo"): HALF, ("hypo", "hypo"): HALF}, True, False)])  # fmt: skip
def test_what_is_certain_and_rests_on_evidence_is_proven(odds, has, settled):
    for ground in Ground:
        chains = chains_for(animal_of("sage", stated=STATED), known={"sage": odds}, grounds={"sage": [because(ground)]})
        assert chains.is_proven("sage", "hypo") == (has and ground in PROOF)
        assert ("sage" in chains.settled) == (settled and ground in PROOF)
    nobody = chains_for(animal_of("sage"), known={"sage": odds})
    assert not nobody.is_proven("sage", "hypo")
    assert ("sage" in nobody.settled) == settled


FAMILY = (animal_of("dam"), animal_of("sire"), animal_of("young", dam="dam", sires=("sire",)))


@pytest.mark.parametrize(("known", "grounds", "expected"), [
    ({"young": HAS, "dam": TWO}, {}, ["young", "dam"]),
    ({"young": HAS, "sire": TWO}, {}, ["young", "sire"]),
    ({"young": HAS, "dam": TWO}, {"dam": [because(Ground.SHOWS_ITSELF)]}, ["young"]),
    ({"young": HAS, "dam": TWO, "sire": TWO}, {"dam": [because(Ground.SHOWS_ITSELF)]}, ["young"]),
    ({"young": HAS, "dam": TWO}, {"young": [because(Ground.SIBLINGS)]}, []),
    ({"young": HAS, "dam": TWO}, {"dam": [because(Ground.STATED)]}, ["young", "dam"]),
    ({"young": HAS, "dam": HAS, "sire": HAS}, {"young": [because(Ground.SIRE, "sire")]}, ["young", "sire"]),
    ({"young": HAS, "dam": HAS, "sire": HAS}, {"young": [because(Ground.DAM, "dam")]}, ["young", "dam"]),
    ({"young": HAS, "dam": HAS, "sire": HAS}, {"young": [because(Ground.STATED, "sire")]}, ["young", "dam", "sire"]),
    ({"young": HAS, "dam": MAY_HAVE, "sire": HAS}, {}, ["young", "sire"]),
], ids=str)  # fmt: skip
def test_on_whom_it_hangs_that_an_animal_has_an_allele_for_certain(known, grounds, expected):
    assert list(chains_for(*FAMILY, known=known, grounds=grounds).certain("young", "hypo")) == expected


def test_certainty_is_followed_through_generations_and_each_animal_is_named_once():
    grandchild = animal_of("grandchild", dam="young", sires=("sire",))
    known = dict.fromkeys(("grandchild", "young", "dam", "sire"), HAS)
    chains = chains_for(*FAMILY, grandchild, known=known)
    assert list(chains.certain("grandchild", "hypo")) == ["grandchild", "young", "sire", "dam"]


def test_of_three_possible_parents_none_is_the_last_word():
    young = animal_of("young", dam="dam", sires=("sire", "other"))
    chains = chains_for(
        *FAMILY[:2],
        animal_of("other"),
        young,
        known={"young": HAS, "sire": TWO},
        grounds={"sire": [because(Ground.SHOWS_ITSELF)]},
    )
    assert list(chains.certain("young", "hypo")) == ["young"]
    passing = chains_for(*FAMILY[:2], animal_of("other"), young, known={"young": HAS, "sire": TWO, "dam": HAS})
    assert list(passing.certain("young", "hypo")) == ["young", "sire"]


def test_reasons_are_asked_for_once():
    asked = []
    herd = collection_of(*FAMILY, species=species_of(HYPO))

    def reasons_for(animal, locus):
        asked.append((animal, locus))
        return (because(Ground.DAM, "dam"),)

    chains = chains_of(gather(herd), answers_of(herd, {}), reasons_for)["corn-snake", "hypo"]
    assert chains.reasons("young") == chains.reasons("young")
    assert chains.first_ground("young") is Ground.DAM
    assert asked == [("young", "hypo")]


def test_words_of_the_line_and_of_mates_bear_on_an_answer_the_nearest_first():
    herd = (
        animal_of("far", stated=STATED),
        animal_of("elsewhere", stated=STATED),
        animal_of("dam", stated=STATED),
        animal_of("sire", dam="far"),
        animal_of("young", dam="dam", sires=("sire",)),
    )
    names = tuple(animal.id for animal in herd)
    chains = chains_for(*herd, known=dict.fromkeys(names, MAY_HAVE))
    spoken_of = chains.in_doubt()
    assert spoken_of == ("far", "elsewhere", "dam")
    assert chains.bearing_on("young", spoken_of, frozenset()) == ("dam", "far")
    assert chains.bearing_on("elsewhere", spoken_of, frozenset()) == ("elsewhere",)
    assert chains.bearing_on("young", ("far",), frozenset()) == ("far",)  # asked about others than before
    settled = chains_for(*herd, known={**dict.fromkeys(names, MAY_HAVE), "sire": HAS_NOT})
    assert settled.bearing_on("young", spoken_of, frozenset()) == ("dam",)
    assert settled.bearing_on("young", spoken_of, frozenset({"sire"})) == ("dam", "far")


@pytest.mark.parametrize("first", ["one", "two", "blank", "bred"])
def test_young_of_a_pair_hang_on_the_same_words_unless_they_lead_further(first):
    herd = (
        animal_of("far", stated=STATED),
        animal_of("dam", stated=STATED),
        animal_of("mate", stated=STATED),
        animal_of("sire", dam="far"),
        animal_of("one", dam="dam", sires=("sire",)),
        animal_of("two", dam="dam", sires=("sire",)),
        animal_of("blank", dam="dam", sires=("sire",), written=False),
        animal_of("bred", dam="dam", sires=("sire",)),
        animal_of("grandchild", dam="mate", sires=("bred",)),
    )
    chains = chains_for(*herd, known={**dict.fromkeys((animal.id for animal in herd), MAY_HAVE), "two": HAS_NOT})
    expected = dict.fromkeys(("one", "two", "blank"), ("dam", "far", "mate")) | {"bred": ("dam", "mate", "far")}
    spoken_of = chains.in_doubt()
    for name in (first, *expected):
        assert keepers_words(chains, name, "hypo", certain=False) == expected[name], name
        assert chains.bearing_on(name, spoken_of, frozenset()) == expected[name], name


def test_the_nearest_come_first_and_the_others_in_record_order():
    line = [animal_of("0", stated=STATED)]
    line += [animal_of(str(n), dam=str(n - 1)) for n in range(1, NEAREST + 3)]
    names = tuple(animal.id for animal in line)
    chains = chains_for(*line, known=dict.fromkeys(names, MAY_HAVE))
    found = chains.bearing_on(names[-1], names, frozenset())
    nearest = tuple(reversed(names))[:NEAREST]
    assert found == (*nearest, *(name for name in names if name not in nearest))


def test_a_line_without_evidence_leads_up_to_a_word():
    line = [animal_of("0", stated=STATED, written=False)]
    line += [animal_of(str(n), dam=str(n - 1), written=False) for n in (1, 2, 3)]
    chains = chains_for(*line, known=dict.fromkeys("0123", MAY_HAVE))
    assert chains.bearing_on("3", ("0",), frozenset()) == ("0",)
    settled = chains_for(*line, known={**dict.fromkeys("0123", MAY_HAVE), "1": HAS_NOT})
    assert settled.bearing_on("3", ("0",), frozenset()) == ()
    assert settled.bearing_on("3", ("0",), frozenset({"1"})) == ("0",)


def test_words_of_parents_bear_on_an_animal_that_is_settled_itself():
    chains = chains_for(*FAMILY, known={"dam": MAY_HAVE, "sire": MAY_HAVE, "young": HAS_NOT})
    assert chains.bearing_on("young", ("dam",), frozenset()) == ("dam",)
    bred_from = animal_of("grandchild", dam="young")
    known = {"dam": MAY_HAVE, "sire": MAY_HAVE, "young": HAS_NOT, "grandchild": MAY_HAVE}
    assert chains_for(*FAMILY, bred_from, known=known).bearing_on("young", ("dam",), frozenset()) == ("dam",)


def test_a_word_about_the_animal_itself_counts_also_where_it_is_settled():
    herd = (animal_of("dam", stated=STATED), animal_of("sage", stated=STATED), animal_of("young", dam="dam"))
    known = {"dam": MAY_HAVE, "sage": HAS, "young": MAY_HAVE}
    chains = chains_for(*herd, known=known, grounds={"sage": [because(Ground.YOUNG)]})
    assert "sage" in chains.settled
    assert keepers_words(chains, "sage", "hypo", certain=False) == ("sage",)
    assert keepers_words(chains, "young", "hypo", certain=False) == ("dam",)


@pytest.mark.parametrize(("stated", "ground", "expected"), [
    (STATED, Ground.STATED, (Basis.PREVIOUS_KEEPER, ("sage",))),
    ({}, Ground.STATED, (Basis.OWN_RECORDS, ())),
    (STATED, Ground.SHOWS_NOT, (Basis.OWN_RECORDS, ())),
])  # fmt: skip
def test_what_is_ruled_out_rests_on_a_word_only_where_nothing_else_says_it(stated, ground, expected):
    chains = chains_for(
        animal_of("sage", stated=stated), known={"sage": HAS_NOT}, grounds={"sage": [because(ground, "sage")]}
    )
    assert basis_of(chains, "sage", "hypo", ClaimKind.RULED_OUT) == expected


@pytest.mark.parametrize(("kind", "ground", "expected"), [
    (ClaimKind.CARRIES, Ground.DNA_TEST, Basis.DNA_TEST),
    (ClaimKind.CARRIES, Ground.SHOWS_NOT, Basis.DNA_TEST),
    (ClaimKind.CARRIES, Ground.YOUNG, Basis.PROVEN_BY_YOUNG),
    (ClaimKind.RULED_OUT, Ground.DNA_TEST, Basis.DNA_TEST),
    (ClaimKind.RULED_OUT, Ground.YOUNG, Basis.OWN_RECORDS),
    (ClaimKind.MAY_CARRY, Ground.YOUNG, Basis.DNA_TEST),
    (ClaimKind.SHOWS, Ground.DNA_TEST, Basis.OWN_RECORDS),
])  # fmt: skip
def test_what_a_claim_about_a_tested_animal_rests_on(kind, ground, expected):
    sage = animal_of("sage", tests={"hypo": (("+", "hypo"),)})
    chains = chains_for(sage, known={"sage": HAS}, grounds={"sage": [because(ground, "sage")]})
    assert basis_of(chains, "sage", "hypo", kind) == (expected, ())
    untested = chains_for(animal_of("sage"), known={"sage": HAS}, grounds={"sage": [because(ground, "sage")]})
    proven = kind is ClaimKind.CARRIES and ground is Ground.YOUNG
    assert basis_of(untested, "sage", "hypo", kind)[0] is (Basis.PROVEN_BY_YOUNG if proven else Basis.OWN_RECORDS)


def test_a_proven_carrier_hangs_on_a_word_only_for_its_number_of_copies():
    herd = (animal_of("dam", stated=STATED), animal_of("sage", dam="dam"))
    grounds = {"sage": [because(Ground.YOUNG)]}
    either = {("+", "hypo"): HALF, ("hypo", "hypo"): HALF}
    for odds, words in ((either, ("dam",)), (HAS, ())):
        chains = chains_for(*herd, known={"dam": MAY_HAVE, "sage": odds}, grounds=grounds)
        assert basis_of(chains, "sage", "hypo", ClaimKind.CARRIES) == (Basis.PROVEN_BY_YOUNG, words)


def test_a_certain_carrier_hangs_on_the_word_that_makes_it_certain():
    herd = (animal_of("dam", stated={"hypo": TWO}), animal_of("sage", dam="dam"))
    chains = chains_for(*herd, known={"dam": TWO, "sage": HAS}, grounds={"sage": [because(Ground.DAM, "dam")]})
    assert basis_of(chains, "sage", "hypo", ClaimKind.CARRIES) == (Basis.PREVIOUS_KEEPER, ("dam",))


def test_what_counts_as_open_lets_the_nearest_be_found_beyond_it():
    herd = (
        animal_of("far"), animal_of("near"), animal_of("between", dam="near"), animal_of("line", dam="far"),
        animal_of("sire", dam="line"), animal_of("young", dam="between", sires=("sire",)),
    )  # fmt: skip
    known = {**{animal.id: MAY_HAVE for animal in herd}, "between": HAS}
    chains = chains_for(*herd, known=known)
    assert chains.bearing_on("young", ("far", "near"), frozenset({"between"})) == ("near", "far")
    assert chains.bearing_on("young", ("far", "near"), frozenset()) == ("far",)


def test_a_parent_of_which_it_is_proven_ends_its_own_line_and_not_the_others():
    known = {"young": HAS, "dam": HAS, "sire": HAS}
    chains = chains_for(*FAMILY, known=known, grounds={"dam": [because(Ground.DNA_TEST)]})
    assert list(chains.certain("young", "hypo")) == ["young", "sire"]


def test_of_three_possible_parents_one_that_is_proven_to_pass_it_on_does_not_speak_for_another():
    young = animal_of("young", dam="dam", sires=("sire", "other"))
    chains = chains_for(
        *FAMILY[:2],
        animal_of("other"),
        young,
        known={"young": HAS, "sire": TWO, "other": TWO},
        grounds={"sire": [because(Ground.SHOWS_ITSELF)]},
    )
    assert list(chains.certain("young", "hypo")) == ["young", "other"]
