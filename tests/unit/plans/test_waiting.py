"""Which offers fit the people who wait, of records that are as small as can be."""

import datetime as dt
from fractions import Fraction
from functools import partial

import pytest
from helpers.from_text import bound

from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.plans.waiting import Fit, fits

DAY = dt.date(2026, 10, 1)
RECORDS = """
=== site.yaml
name: Small
currency: EUR
=== species/corn.yaml
name: corn
sexes: ZW
loci:
  amel: {name: amel, inheritance: recessive}
  anery: {name: anery, inheritance: recessive}
  glass: {name: glass, inheritance: incomplete_dominant, two_copies: super glass, visible_from: 12 months}
=== species/boa.yaml
name: boa
loci: {albino: {inheritance: recessive}}
=== animals/dam/animal.yaml
species: corn
sex: female
shows: [glass]
stated: {amel: certain, anery: certain}
=== animals/sire/animal.yaml
species: corn
sex: male
shows: [glass]
stated: {amel: certain, anery: certain}
=== litters/l/litter.yaml
dam: dam
sire: sire
born: 2026-07-01
young:
  "01": {sex: female, shows: [amel], unsure: [glass], offer: {price: 100}}
  "02": {sex: male, shows: [amel], unsure: [glass], offer: {price: 150}}
  "03": {shows: [], unsure: [glass], offer: {}}
  "04": {sex: female, shows: [amel, anery], unsure: [glass], offer: {price: 100, state: on hold}}
  "05": {sex: female, shows: [amel, anery], unsure: [glass]}
  "06": {sex: male, shows: [anery], unsure: [glass], offer: {price: 90 GBP, ready: 2026-12-01}}
=== animals/old/animal.yaml
species: corn
sex: male
shows: []
stated: {anery: certain}
offer: {price: 50}
=== animals/dead/animal.yaml
species: corn
shows: [amel]
died: 2026-01-01
=== animals/b/animal.yaml
species: boa
sex: female
shows: [albino]
offer: {price: 80}
"""


def found(*people: str, records: str = RECORDS) -> tuple[Fit, ...]:
    named = "".join(f"  {chr(65 + at)}: {entry}\n" for at, entry in enumerate(people))
    collection = bound(f"{records}=== waiting.yaml\npeople:\n{named}")
    asked = ask(gather(collection))
    return fits(collection, claims_of(collection, answers_of(asked), partial(reasons, asked), DAY), DAY)


def fitting(*people: str) -> list[tuple[str, bool]]:
    return [(fit.animal.id.removeprefix("l/"), fit.is_sure) for fit in found(*people)]


def test_a_look_that_is_seen_is_a_sure_fit_and_others_are_none() -> None:
    assert fitting("{species: corn, shows: [amel]}") == [("01", True), ("02", True)]


def test_the_wrong_sex_does_not_fit_and_one_that_is_not_known_may() -> None:
    assert fitting("{species: corn, sex: male}") == [("02", True), ("06", True), ("old", True), ("03", False)]
    (unknown,) = [fit for fit in found("{species: corn, sex: male}") if not fit.is_sure]
    assert unknown.sex_open


def test_a_gene_is_as_sure_as_what_may_be_said_of_it() -> None:
    by_animal = {fit.animal.id: fit for fit in found("{species: corn, carries: [amel]}")}
    assert {name: fit.is_sure for name, fit in by_animal.items()} == {
        "l/01": True, "l/02": True, "l/03": False, "l/06": False,
    }  # fmt: skip
    assert by_animal["l/01"].claims[0].kind is ClaimKind.SHOWS
    (claim,) = by_animal["l/03"].claims
    assert (claim.kind, claim.chance) == (ClaimKind.MAY_CARRY, Fraction(1, 2) / (Fraction(1, 4) + Fraction(1, 2)))


def test_a_previous_keepers_word_makes_no_sure_fit() -> None:
    (old,) = [fit for fit in found("{species: corn, carries: [anery]}") if fit.animal.id == "old"]
    assert (old.claims[0].kind, old.is_sure) == (ClaimKind.CARRIES, False)


def test_every_look_and_gene_must_be_there() -> None:
    assert fitting("{species: corn, shows: [anery], carries: [amel]}") == [("06", False)]
    assert fitting("{species: corn, shows: [amel, anery]}") == []


def test_a_look_that_comes_with_age_has_the_chance_of_that_look() -> None:
    one, two = (
        {fit.animal.id: fit for fit in found(f"{{species: corn, shows: [{look}]}}")}
        for look in ("glass", "super glass")
    )
    assert not one["l/01"].is_sure
    assert one["l/01"].claims[0].chance == 2 * Fraction(1, 2) * Fraction(1, 2)
    assert two["l/01"].claims[0].chance == Fraction(1, 2) * Fraction(1, 2)
    assert two["l/01"].claims[0].kind is ClaimKind.TOO_YOUNG
    assert "old" not in one, "judged, and nothing was seen"


@pytest.mark.parametrize(
    ("limit", "fitted"), [("100", {"01", "03", "06"}), ("150 EUR", {"01", "02", "03", "06"}), ("99", {"03", "06"})]
)
def test_what_costs_more_does_not_fit_and_a_price_that_cannot_be_compared_may(limit: str, fitted: set[str]) -> None:
    assert {name for name, _ in fitting(f"{{species: corn, up_to: {limit}}}")} - {"old"} == fitted


def test_who_names_nothing_but_words_is_held_against_nothing() -> None:
    assert fitting("{wants: an amel female, contact: x}", "") == []


def test_who_was_served_or_offered_something_is_held_against_nothing_and_what_is_offered_fits_nobody_else() -> None:
    amel = "species: corn, shows: [amel]"
    assert fitting(f"{{{amel}, done: 2026-08-01}}", f"{{{amel}, offered: l/01}}", f"{{{amel}}}") == [("02", True)]
    assert fitting(f"{{{amel}, done: 2026-08-01, offered: l/01}}", f"{{{amel}}}") == [("01", True), ("02", True)]


def test_who_waits_longest_comes_first_and_sure_fits_before_others() -> None:
    told = found("{since: 2026-05, species: corn, carries: [anery]}", "{since: 2025, species: boa}")
    assert (told[0].person.name, told[0].animal.id) == ("B", "b")
    sure = [fit.is_sure for fit in told if fit.person.name == "A"]
    assert sure == sorted(sure, reverse=True)
    assert set(sure) == {True, False}


def test_an_offer_that_cannot_go_yet_fits_and_is_not_ready() -> None:
    assert {fit.animal.id: fit.ready for fit in found("{species: corn, shows: [anery]}")} == {"l/06": False}
    assert {fit.ready for fit in found("{species: corn, shows: [amel]}")} == {True}


def test_records_that_contradict_each_other_fit_no_wish_for_that_gene() -> None:
    wrong = RECORDS.replace("stated: {anery: certain}\noffer", "tests: [{locus: anery, result: +/+}, "
                            "{locus: anery, result: anery/anery}]\noffer")  # fmt: skip
    people = "{species: corn, carries: [anery]}"
    assert "old" not in {fit.animal.id for fit in found(people, records=wrong)}
