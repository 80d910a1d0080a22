"""Sentences of what changed: until then, from that day on, because of which records."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import HYPO, NOWHERE, TODAY, animal_of, answers_of, collection_of, species_of

from sitegen.content.litters import Litter
from sitegen.evidence.changes import Change, ChangeKind
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.words.changes import change_date, change_label, change_sentence, is_worth_telling
from sitegen.words.speech import Link, Target, Voice, plain

LITTER = Litter(id="2026", name="Juniper and Flint 2026", species="corn-snake", place=NOWHERE, dam="juniper", sires=())
YOUNG = animal_of("2026/05", number="05", litter="2026")
COLLECTION = collection_of(animal_of("juniper"), YOUNG, litters=(LITTER,), species=species_of(HYPO))
VOICE = Voice(COLLECTION, answers_of(COLLECTION, {}), TODAY)
PROVED_BY = Reason(
    Ground.YOUNG, ("2026/05",), "2026", detail=(("count", "8"), ("showing", "1"), ("look", "hypo"))
)  # fmt: skip


def claim_of(kind, chance=Fraction(1), **more):
    facts = {"allele": "hypo", "look": "", "copies": -1, "posterior": {}, "basis": Basis.OWN_RECORDS, "reasons": ()}
    return Claim(kind=kind, animal="juniper", species="corn-snake", locus="hypo", chance=chance, **(facts | more))


def change_of(kind, before, after, *because, was=Fraction(2, 3), now=Fraction(1)):
    day = dt.date(2026, 7, 18)
    return Change(kind, "juniper", "corn-snake", "hypo", "hypo", day, before, after, was, now, because)


MAYBE = claim_of(ClaimKind.MAY_CARRY, Fraction(2, 3))


def test_proved_by_a_young():
    change = change_of(ChangeKind.PROVED, MAYBE, claim_of(ClaimKind.CARRIES), PROVED_BY)
    sentence = change_sentence(change, VOICE)
    assert plain(sentence) == (
        "By today’s records we would have said until 18 July 2026: may carry hypo (about 67 in 100). From that day on: "
        "carries hypo for certain, because No. 05 of Juniper and Flint 2026, young of its own, shows hypo."
    )
    assert plain(change_sentence(replace(change, dated=True), VOICE)).startswith(
        "Until 18 July 2026 our records said: may carry hypo (about 67 in 100). From that day on: carries hypo"
    )
    assert Link("No. 05 of Juniper and Flint 2026", Target.ANIMAL, "2026/05") in sentence
    assert (change_label(change), change_date(change, "en-GB")) == ("Proved", "18 July 2026")


def test_what_hangs_on_a_word_is_only_said():
    after = claim_of(ClaimKind.CARRIES, basis=Basis.PREVIOUS_KEEPER)
    text = plain(change_sentence(change_of(ChangeKind.PROVED, MAYBE, after, PROVED_BY), VOICE))
    assert "said to carry hypo, because" in text
    assert "certain" not in text


def test_ruled_out_by_its_own_test():
    test = Reason(
        Ground.DNA_TEST, ("juniper",), detail=(("laboratory", "Saltby Animal Genetics"), ("date", "2026-07-18"))
    )
    change = change_of(ChangeKind.RULED_OUT, MAYBE, None, test, now=Fraction(0))
    assert plain(change_sentence(change, VOICE)).endswith(
        "From that day on: does not carry hypo, because this one was DNA-tested (Saltby Animal Genetics, 18 July 2026)."
    )


def test_nothing_was_said_before():
    shown = Reason(Ground.SHOWS_ITSELF, ("juniper",), detail=(("look", "hypo"),))
    after = claim_of(ClaimKind.SHOWS, look="hypo", copies=2)
    change = change_of(ChangeKind.BECAME_VISIBLE, None, after, shown, was=Fraction(0))
    assert plain(change_sentence(change, VOICE)) == (
        "By today’s records we would have said nothing of hypo until 18 July 2026. From that day on: shows hypo, two "
        "copies, because this one shows hypo."
    )
    assert plain(change_sentence(replace(change, dated=True), VOICE)).startswith(
        "Until 18 July 2026 our records said nothing of hypo. From that day on: shows hypo"
    )


@pytest.mark.parametrize(
    ("ground", "detail", "told"),
    [
        (Ground.YOUNG, {"count": "7"}, "of seven young of its own that we looked at ({litter}) none shows hypo"),
        (Ground.YOUNG, {"count": "1"}, "the one young of its own that we looked at ({litter}) does not show hypo"),
        (Ground.YOUNG, {"count": "7", "perhaps": "its own"}, "of seven young (its own, if the sire is right)"),
        (Ground.SIBLINGS, {"count": "7"}, "of seven young of its parents that we looked at ({litter}) none shows"),
        (Ground.SHOWS_ITSELF, {"count": "7"}, "of seven young that we looked at ({litter}) none shows hypo"),
        (
            Ground.YOUNG,
            {"count": "14", "showing": "5", "look": "hypo"},
            "five of 14 young of its own ({litter}) show hypo",
        ),
    ],
)
def test_young_as_a_reason(ground, detail, told):
    reason = Reason(ground, (), "2026", detail=tuple(detail.items()))
    after = claim_of(ClaimKind.MAY_CARRY, Fraction(1, 5))
    change = change_of(ChangeKind.MOVED, MAYBE, after, reason, now=Fraction(1, 5))
    assert f"because {told.format(litter='Juniper and Flint 2026')}" in plain(change_sentence(change, VOICE))


def test_what_only_other_genes_tell():
    change = change_of(ChangeKind.MOVED, MAYBE, claim_of(ClaimKind.MAY_CARRY, Fraction(1, 5)), now=Fraction(1, 5))
    assert plain(change_sentence(change, VOICE)).endswith("because of what is known by now at other genes.")


def test_only_another_number_in_100_is_worth_telling():
    assert not is_worth_telling(Fraction(2, 3), Fraction(667, 1000))
    assert not is_worth_telling(Fraction(1, 129), Fraction(1, 1000))
    assert is_worth_telling(Fraction(2, 3), Fraction(1, 2))
    assert is_worth_telling(Fraction(1, 100), Fraction(1, 129))
