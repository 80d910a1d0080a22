"""Holding back and buying in words, of plans made by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.from_text import bound
from helpers.wished_rooms import SMALL

from sitegen.content.collection import Collection
from sitegen.content.wishes import Wishes
from sitegen.plans.room.kinds import BuyingPlan, HoldbackPlan, Purchase, RankedYoung
from sitegen.words.room_changes import ChangeWords


@pytest.fixture(scope="module")
def collection() -> Collection:
    return bound(SMALL)


@pytest.fixture(scope="module")
def words(collection: Collection) -> ChangeWords:
    return ChangeWords(collection, wishes_of(collection), collection.species["corn-snake"])


def test_young_to_keep_are_told_with_their_reasons(words: ChangeWords) -> None:
    young = (
        RankedYoung("2026-sage-cumin/01", True, 0.5, 0.01, {"copper": 0.12}, {"anery": 2 / 3}, Fraction(1, 8)),
        RankedYoung("2026-sage-cumin/02", False, 0.01, 0.01),
        RankedYoung("2026-sage-cumin/03", False, 0.0, 0.01),
    )
    good = {"2026-sage-cumin/02": "2026-sage-cumin/01"}
    plan = HoldbackPlan("corn-snake", "2026-sage-cumin", young, good, 4000, 4.0)
    first, one, free, others, as_good, _ = words.holdback(plan)
    assert first == "Of the clutch of July keep No. 01:"
    assert one == (
        "  No. 01: female, shows amelanistic; carries anerythristic: about 67 in 100; without it "
        "Copper lace 12 lower; mean relatedness to those it could be paired with 1/8."
    )
    assert free == "Free to offer:"
    assert others == "  No. 02 and No. 03: male, shows nothing; adds less than 1 in 100."
    assert as_good == "As good as No. 01: No. 02."
    assert next(iter(words.holdback(replace(plan, young=young[1:])))) == "Of the clutch of July keep none."


def test_what_is_taken_for_granted_of_young_is_told(words: ChangeWords) -> None:
    young = (RankedYoung("2026-sage-cumin/02", False, 0.2, 0.01, {"copper": 0.05}, {"anery": 1.0}, Fraction(17, 352)),)
    plan = HoldbackPlan(
        "corn-snake", "2026-sage-cumin", young, {}, 4000, 4.0, unsexed=("2026-sage-cumin/03",),
        stays=("2026-sage-cumin/01",), undecided={"2026-sage-cumin": 3}, free=0,
    )  # fmt: skip
    assert list(words.holdback(plan))[:7] == [
        "Of the clutch of July keep none.",
        "No place is left for another of them, and none of your animals is given up for one.",
        "Free to offer:",
        "  No. 02: male, shows nothing; carries anerythristic for certain; kept as well, Copper lace 5 higher; mean "
        "relatedness to those it could be paired with about 1/21.",
        "Sex these first: No. 03. A young of unknown sex cannot be planned with.",
        "Recorded as kept, so counted as there: No. 01.",
        "Also counted as there, since they are neither on offer nor sold: 3 of the clutch of July.",
    ]
    assert next(words.holdback(replace(plan, young=()))) == (
        "Of the clutch of July no young of known sex is left to decide on."
    )


def wishes_of(collection: Collection) -> Wishes:
    assert collection.wishes is not None
    return collection.wishes


def test_buying_tells_gains_money_law_and_quarantine(words: ChangeWords, collection: Collection) -> None:
    male, nettle, last = wishes_of(collection).buy
    plan = BuyingPlan(
        "corn-snake",
        (Purchase(male, 0.48, 0.02, {"copper": 0.12}), Purchase(nettle, 0.4, 0.02, {"snow-motley": 0.4}),
         Purchase(last, 0.01, 0.02, {})),
        draws=4000, weights=4.0,
    )  # fmt: skip
    told = list(words.buying(plan, {"buy 1": ("tessera",)}))
    assert told[:5] == [
        "Read this first: there is a welfare note on what some of these have. A male that shows tessera and is stated "
        "amelanistic 66%: tessera.",
        "What one animal more would add, each by itself and for one place:",
        "  A male that shows tessera and is stated amelanistic 66% (€180): Copper lace 12 higher.",
        "  Nettle (€90): snow motley 40 higher.",
        "For the money, the most first: Nettle and a male that shows tessera and is stated amelanistic 66%.",
    ]
    assert "CITES" in told[5]
    assert "veterinarian" in told[6]
    nothing = list(words.buying(replace(plan, purchases=plan.purchases[2:]), {}))
    assert nothing[0].endswith("Buy none for this plan.")
