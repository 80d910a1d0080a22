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
    plan = HoldbackPlan("corn-snake", "2026-sage-cumin", young, ("2026-sage-cumin/02",), 4000, 4.0)
    first, one, free, good, _ = words.holdback(plan)
    assert first == "Of the clutch of July keep No. 01:"
    assert one == (
        "  No. 01: female, shows amelanistic; carries anerythristic: about 67 in 100; without it "
        "Copper lace 12 lower; mean relatedness to those it could be paired with 1/8."
    )
    assert free == "Free to offer: No. 02 and No. 03."
    assert good.startswith("As good to keep instead of the last of them: No. 02")
    assert next(iter(words.holdback(replace(plan, young=young[1:])))) == "Of the clutch of July keep none."


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
        "For the money most: Nettle.",
    ]
    assert "CITES" in told[5]
    assert "veterinarian" in told[6]
    nothing = list(words.buying(replace(plan, purchases=plan.purchases[2:]), {}))
    assert nothing[0].endswith("Buy none for this plan.")
