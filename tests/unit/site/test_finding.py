"""What lists can be narrowed by."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest
from helpers.small_site import AS_OF, small_material

from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.evidence.offers import Lacks, Missing, OfferClaim, goes_from
from sitegen.site.finding import Finding, finding_of, found_by
from sitegen.site.material import folio
from sitegen.words.buying import goes_text
from sitegen.words.finding import price_limits

PAGE = folio(small_material(), "collection.html")
ANIMALS = tuple(PAGE.collection.animals.values())


def facts_of(animal: Animal) -> dict[str, str]:
    return dict(found_by(animal, PAGE))


def choices(finding: Finding) -> dict[str, set[str]]:
    fields = [field for clause in finding.clauses for field in clause.fields]
    return {field.name: {choice.value for choice in field.choices if choice.value} for field in fields}


def found(*, offers: bool = True) -> Finding:
    finding = finding_of(ANIMALS, PAGE, offers=offers)
    assert finding is not None
    return finding


def test_chances_are_exact_and_genes_go_by_name() -> None:
    facts = facts_of(PAGE.collection.animals["juniper"])
    assert facts["shows"] == "amelanistic"
    assert facts["carries"] == "amelanistic:1 hypo:2/3"
    assert (facts["sex"], facts["born"], facts["go"], facts["price"]) == ("female", "2021-07-14", "", "")


def test_an_offer_has_its_price_and_the_day_from_which_it_can_go() -> None:
    facts = facts_of(PAGE.collection.animals["2026-x/01"])
    assert facts["price"] == "140"
    assert facts["go"] >= str(AS_OF)


def test_every_choice_is_found_in_some_animal() -> None:
    offered, facts = choices(found()), [facts_of(animal) for animal in ANIMALS]
    assert offered["shows"] == {word for f in facts for word in f["shows"].split()}
    assert offered["gene"] == {word.split(":")[0] for f in facts for word in f["carries"].split()}
    assert offered["gene"] == offered["gene2"] == offered["gene3"]
    assert offered["sex"] == {f["sex"] for f in facts}
    assert offered.get("species", {ANIMALS[0].species}) == {f["species"] for f in facts}


def test_a_short_list_is_not_narrowed_and_price_and_day_are_for_offers() -> None:
    assert finding_of(ANIMALS[:3], PAGE, offers=True) is None
    offered, kept = choices(found()), choices(found(offers=False))
    assert {"go", "order"} <= set(offered)
    assert not {"price", "go"} & set(kept)
    assert "price" in offered["order"]
    assert "price" not in kept["order"]


def test_the_sentence_reads_as_one_and_each_field_says_what_it_is_for() -> None:
    told = "".join(
        clause.before + "".join(f"{f.before}[{f.choices[0].text}]" for f in clause.fields) + clause.after
        for clause in found().clauses
    )
    assert told.startswith("[a female or male] that shows [any look] and has [any chance] for [any gene] and ")
    assert told.endswith("can go [now or later]; [as listed]")
    labels = [field.label for clause in found().clauses for field in clause.fields]
    assert len(set(labels)) == len(labels)


def test_what_a_sold_animal_cost_is_not_told() -> None:
    sold = PAGE.collection.animals["2026-x/04"]
    assert sold.offer is not None
    assert sold.offer.price is not None
    assert (facts_of(sold)["price"], facts_of(sold)["go"]) == ("", "")


def test_limits_of_the_price_part_the_list() -> None:
    prices = [Decimal(text) for text in ("45", "120", "99.50", "300")]
    limits = price_limits(prices)
    assert limits == (50, 75, 100, 150, 200)
    assert all(min(prices) <= limit < max(prices) for limit in limits)
    assert price_limits(prices[:1]) == price_limits([]) == ()


LATER = AS_OF + dt.timedelta(days=9)
SET = PartialDate(LATER.year, LATER.month, LATER.day)
AGE, MEALS = Missing(Lacks.AGE, age=WrittenAge(), on=LATER), Missing(Lacks.MEALS, 5, 2)
OPEN = OfferClaim("x", OfferState.AVAILABLE, None, None, None, "")


@pytest.mark.parametrize(
    ("offer", "day", "told"),
    [
        (OPEN, AS_OF, "can go now"),
        (replace(OPEN, ready=SET), LATER, "can go from November 10, 2026"),
        (replace(OPEN, ready=PartialDate(2026, 12)), dt.date(2026, 12, 1), "can go from December 2026"),
        (replace(OPEN, missing=(AGE,)), LATER, "can go from November 10, 2026"),
        (replace(OPEN, ready=PartialDate(2026, 12), missing=(AGE,)), dt.date(2026, 12, 1), "can go from December 2026"),
        (replace(OPEN, ready=SET, missing=(MEALS,)), None, "not ready yet"),
        (replace(OPEN, missing=(AGE, MEALS)), None, "not ready yet"),
        (replace(OPEN, missing=(replace(AGE, on=None),)), None, "not ready yet"),
        (replace(OPEN, state=OfferState.ON_HOLD), None, ""),
        (replace(OPEN, state=OfferState.SOLD), None, ""),
    ],
)
def test_the_day_from_which_it_can_go_is_told_only_where_a_day_brings_it(
    offer: OfferClaim, day: dt.date | None, told: str
) -> None:
    assert goes_from(offer, AS_OF) == day
    assert goes_text(offer, AS_OF, "en-US").replace("\u202f", " ") == told
