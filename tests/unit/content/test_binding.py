"""Whole content folders: references, promoted young, cross-checks."""

from decimal import Decimal
from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound, content_of, told

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.content.prices import Money, OfferState
from sitegen.content.values import PartialDate
from sitegen.findings import Kind, Level
from sitegen.genetics.loci import Sex

PAIR = """
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020-07-14
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-08
"""
LITTER = """
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2026-07-18
young:
  "01": {sex: male, shows: [amel], offer: {price: 140 EUR, state: available, ready: 2026-10-01}}
  02: {sex: female, shows: [], kept: true}
  3:
others: [{count: 4, shows: []}, {count: 1, shows: [amel, motley], sex: female}]
"""


def kinds(text: str) -> list[tuple[Kind, Level]]:
    return [(finding.kind, finding.level) for finding in told(CORN + text)]


def test_only_the_species_of_an_animal_is_required() -> None:
    animal = bound(CORN + "=== animals/a/animal.yaml\nspecies: corn-snake\n").animals["a"]
    assert (animal.name, animal.sex, animal.born, animal.dam, animal.sires) == ("a", Sex.UNKNOWN, None, None, ())


def test_a_litter_needs_one_parent_only() -> None:
    litter = bound(CORN + PAIR + "=== litters/l/litter.yaml\ndam: juniper\n").litters["l"]
    assert (litter.species, litter.dam, litter.sires) == ("corn-snake", "juniper", ())


def test_listed_young_are_animals_of_the_litter() -> None:
    collection = bound(CORN + PAIR + LITTER)
    litter = collection.litters["2026-juniper-flint"]
    assert litter.young == ("2026-juniper-flint/01", "2026-juniper-flint/02", "2026-juniper-flint/3")
    young = collection.animals["2026-juniper-flint/01"]
    assert (young.name, young.sex, young.dam, young.sires) == ("01", Sex.MALE, "juniper", (("flint", Fraction(1)),))
    assert young.born == PartialDate(2026, 7, 18)
    assert young.offer is not None
    assert (young.offer.state, young.offer.ready) == (OfferState.AVAILABLE, PartialDate(2026, 10, 1))
    assert [(others.count, others.sex) for others in litter.others] == [(4, Sex.UNKNOWN), (1, Sex.FEMALE)]
    assert not collection.animals["2026-juniper-flint/3"].genes[0].judged.written


def test_animals_stand_sorted_by_id() -> None:
    ids = list(bound(CORN + PAIR + LITTER).animals)
    assert ids == sorted(ids)


@pytest.mark.parametrize(
    ("written", "sires"),
    [
        ("flint", (("flint", Fraction(1)),)),
        ("[flint, basalt]", (("flint", Fraction(1, 2)), ("basalt", Fraction(1, 2)))),
        ("{flint: 2/3, basalt: 1/3}", (("flint", Fraction(2, 3)), ("basalt", Fraction(1, 3)))),
        ("{flint: 1, basalt: 0}", (("flint", Fraction(1)),)),
        ("unknown", ()),
    ],
)
def test_one_sire_several_and_their_odds(written: str, sires: tuple[tuple[str, Fraction], ...]) -> None:
    basalt = "=== animals/basalt/animal.yaml\nspecies: corn-snake\n"
    text = f"{basalt}=== litters/l/litter.yaml\ndam: juniper\nsire: {written}\n"
    assert bound(CORN + PAIR + text).litters["l"].sires == sires


def test_mixed_sires_hold_for_each_young() -> None:
    text = (
        "=== animals/basalt/animal.yaml\nspecies: corn-snake\n=== litters/l/litter.yaml\ndam: juniper\n"
        "sire: [flint, basalt]\nmixed_sires: true\nyoung: {1: }\n"
    )
    assert bound(CORN + PAIR + text).animals["l/1"].each_its_own_sire


PROMOTED = """
=== animals/tansy/animal.yaml
name: Tansy
species: corn-snake
from_litter: 2026-juniper-flint/02
shows: [hypo]
weights: {2026-09-01: 11 oz}
offer: {state: sold, price: {amount: 99.50, currency: usd}}
=== animals/grandchild/animal.yaml
species: corn-snake
dam: 2026-juniper-flint/02
"""


def test_a_promoted_young_stands_once_with_the_evidence_of_both_records() -> None:
    collection = bound(CORN + PAIR + LITTER + PROMOTED)
    assert "2026-juniper-flint/02" not in collection.animals
    tansy = collection.animals["tansy"]
    assert collection.litters["2026-juniper-flint"].young[1] == "tansy"
    assert (tansy.sex, tansy.dam, tansy.litter, tansy.number) == (Sex.FEMALE, "juniper", "2026-juniper-flint", "02")
    assert [[seen.look for seen in genes.judged.seen] for genes in tansy.genes] == [["hypo"], []]
    assert (tansy.born, tansy.kept) == (PartialDate(2026, 7, 18), True)
    assert collection.animals["grandchild"].dam == "tansy"


def test_weights_and_money_are_read_exactly() -> None:
    tansy = bound(CORN + PAIR + LITTER + PROMOTED).animals["tansy"]
    assert [weighing.grams for weighing in tansy.weights] == [round(11 * Fraction("28.349523125"))]
    assert tansy.offer is not None
    assert tansy.offer.price == Money(Decimal("99.50"), "USD")


def test_the_currency_of_the_site_stands_for_prices_without_one() -> None:
    text = "=== site.yaml\ncurrency: gbp\n=== animals/a/animal.yaml\nspecies: corn-snake\noffer: {price: 65}\n"
    offer = bound(CORN + text).animals["a"].offer
    assert offer is not None
    assert str(offer.price and offer.price.currency) == "GBP"
    assert offer.state is OfferState.AVAILABLE


def test_private_notes_are_bound_nowhere() -> None:
    text = "=== animals/a/animal.yaml\nspecies: corn-snake\nprivate: {buyer: [zq-secret, {x: zq-secret}]}\n"
    assert "zq-secret" not in repr(bound(CORN + text))


def test_an_unreadable_record_hides_no_fault_of_another_and_makes_no_second_one() -> None:
    text = (
        "=== animals/juniper/animal.yaml\nspecies: [corn\n"
        "=== litters/l/litter.yaml\ndam: juniper\nyoung: {1: }\n"
        "=== animals/tansy/animal.yaml\nspecies: corn-snake\nfrom_litter: l/1\ndam: juniper\n"
        "=== animals/sorrel/animal.yaml\nspecies: corn-snake\ndam: l/1\nshows: [amle]\n"
    )
    assert kinds(text) == [(Kind.YAML_BROKEN, Level.ERROR), (Kind.GENE_UNKNOWN, Level.ERROR)]


def test_a_record_that_could_not_be_read_from_the_disk_is_known_all_the_same() -> None:
    content = content_of(CORN + "=== animals/a/animal.yaml\nspecies: corn-snake\ndam: juniper\n")
    known = Content(content.texts, content.photos, ("animals/juniper/animal.yaml",))
    assert bind_content(known)[1] == ()


def test_the_species_of_a_litter_is_found_through_generations_of_litters() -> None:
    links = "".join(f"=== litters/l{i}/litter.yaml\ndam: l{i - 1}/1\nyoung: {{1: }}\n" for i in range(1, 400))
    text = PAIR + "=== litters/l0/litter.yaml\ndam: juniper\nyoung: {1: }\n" + links
    assert bound(CORN + text).litters["l399"].species == "corn-snake"


def test_a_deep_pedigree_needs_no_recursion() -> None:
    chain = "".join(f"=== animals/a{i:04d}/animal.yaml\nspecies: corn-snake\ndam: a{i + 1:04d}\n" for i in range(3000))
    last = "=== animals/a3000/animal.yaml\nspecies: corn-snake\n"
    assert len(bound(CORN + chain + last).animals) == 3001


BEFORE = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nborn: {born}\n"


@pytest.mark.parametrize(
    ("born", "expected"),
    [
        ("2020", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)] * 2),
        ("2020-07-13", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)] * 2),
        ("2022-12-31", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
        ("2023-01-13", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
        ("2023-01-14", []),
        ("2023", []),
    ],
)
def test_a_young_is_never_born_before_its_parents_could_breed(born: str, expected: list[tuple[Kind, Level]]) -> None:
    """30 months after 2020-07-14 is 2023-01-14; dates of which only the year is known get the benefit of the doubt."""
    assert kinds(PAIR + BEFORE.format(born=born)) == expected


def test_young_with_a_birthday_of_their_own_and_animals_without_a_litter_are_checked_too() -> None:
    text = "=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2021\ndam: juniper\n"
    assert kinds(PAIR + text) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]


@pytest.mark.parametrize(
    "lines",
    [
        "died: 2019",
        "acquired: {date: 2019-12-31}",
        "weights: {2019-05: 10 g}",
        "meals: [{date: 2019-05, what: mouse}]",
        "tests: [{locus: amel, result: +/+, date: 2019-01-01}]",
        "offer: {state: sold, since: 2019-01-01}",
        "offer: {state: available, ready: 2019-01-01}",
        "shows: []\njudged: 2019-01-01",
    ],
)
def test_nothing_in_a_life_comes_before_birth(lines: str) -> None:
    text = f"=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2020\n{lines}\n"
    assert kinds(text) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]


def test_dates_that_may_be_right_are_not_told() -> None:
    text = (
        "=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2020-06-15\ndied: 2020\n"
        "acquired: {date: 2020-06}\nweights: {2020: 8 g}\n"
    )
    assert kinds(text) == []


def test_a_photo_from_before_the_birth_is_a_notice() -> None:
    text = CORN + "=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2020\n"
    findings = told(text, animals__a=("2019-01-01.jpg",))
    assert [(f.kind, f.level, str(f.place)) for f in findings] == [
        (Kind.DATE_UNUSUAL, Level.NOTICE, "animals/a/2019-01-01.jpg")
    ]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("eggs: 5\ninfertile: 1\nstillborn: 1\nothers: [{count: 3, shows: []}]", []),
        (
            "eggs: 5\ninfertile: 2\nstillborn: 1\nothers: [{count: 3, shows: []}]",
            [(Kind.COUNT_IMPOSSIBLE, Level.ERROR)],
        ),
        ("laid: 2025-05-01\nborn: 2025-06-04", [(Kind.DATE_UNUSUAL, Level.NOTICE)]),
        ("laid: 2025-05-01\nborn: 2025-06-05", []),
        ("laid: 2025-05-01\nborn: 2025-07-31", [(Kind.DATE_UNUSUAL, Level.NOTICE)]),
        ("laid: 2025-05-01\nborn: 2025-07-31\nconfirmed: true", []),
        ("paired: 2025-05\nlaid: 2025-04", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
    ],
)
def test_counts_and_incubation(lines: str, expected: list[tuple[Kind, Level]]) -> None:
    assert kinds(f"{PAIR}=== litters/l/litter.yaml\ndam: juniper\nsire: flint\n{lines}\n") == expected


def test_a_dead_dam_lays_no_eggs_but_its_eggs_may_hatch() -> None:
    dam = "=== animals/d/animal.yaml\nspecies: corn-snake\ndied: 2025-06-01\n"
    litter = "=== litters/l/litter.yaml\ndam: d\nlaid: {laid}\nborn: 2025-07-15\n"
    assert kinds(dam + litter.format(laid="2025-05-20")) == []
    assert kinds(dam + litter.format(laid="2025-06-02")) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]


def test_circles_through_litters_are_named_once_as_a_chain() -> None:
    text = (
        "=== litters/a/litter.yaml\nspecies: corn-snake\ndam: b/1\nyoung: {1: }\n"
        "=== litters/b/litter.yaml\nspecies: corn-snake\nsire: a/1\nyoung: {1: }\n"
    )
    findings = told(CORN + text)
    assert [finding.kind for finding in findings] == [Kind.PEDIGREE_CYCLE]
    assert findings[0].message == "a/1 is its own ancestor: a/1 is a young of b/1, b/1 is a young of a/1"


def test_names_are_compared_in_one_form_however_accents_are_stored() -> None:
    text = (
        "=== animals/kru\u0308mel/animal.yaml\nspecies: corn-snake\n"
        "=== animals/b/animal.yaml\nspecies: corn-snake\ndam: kr\u00fcmel\n"
    )
    assert bound(CORN + text).animals["b"].dam == "kr\u00fcmel"


def test_nothing_at_all_is_an_empty_collection() -> None:
    collection, findings = bind_content(Content({}))
    assert findings == ()
    assert collection is not None
    assert collection.animals == {}


def test_litters_whose_parents_are_only_each_other_are_told() -> None:
    text = "=== litters/a/litter.yaml\ndam: b/1\nyoung: {1: }\n=== litters/b/litter.yaml\ndam: a/1\nyoung: {1: }\n"
    assert kinds(text) == [(Kind.KEY_MISSING, Level.ERROR)] * 2


def test_a_clutch_that_has_not_hatched_is_checked_by_the_day_it_was_laid() -> None:
    text = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nlaid: 2021-05-01\n"
    assert kinds(PAIR + text) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)] * 2


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("born: 9998", [(Kind.VALUE_WRONG, Level.ERROR)]),
        ("born: 0201-07-14", [(Kind.VALUE_WRONG, Level.ERROR)]),
        (f"stated: {{amel: 1/{'9' * 5000}}}", [(Kind.ODDS_WRONG, Level.ERROR)]),
        (f"offer: {{price: {'9' * 40} EUR}}", [(Kind.PRICE_WRONG, Level.ERROR)]),
        (f"weights: {{2024: {'9' * 5000} g}}", [(Kind.VALUE_WRONG, Level.ERROR)]),
    ],
)
def test_numbers_out_of_all_measure_are_told(lines: str, expected: list[tuple[Kind, Level]]) -> None:
    assert kinds(f"=== animals/a/animal.yaml\nspecies: corn-snake\n{lines}\n") == expected


def test_a_tally_larger_than_any_litter_is_told() -> None:
    text = "=== litters/l/litter.yaml\ndam: juniper\nothers: [{count: 999999999, shows: []}]\n"
    assert kinds(PAIR + text) == [(Kind.COUNT_IMPOSSIBLE, Level.ERROR)]


@pytest.mark.parametrize(("one", "other"), [("Agate", "agate"), ("kru\u0308mel", "kr\u00fcmel")])
def test_two_folders_that_many_systems_take_as_one_are_told(one: str, other: str) -> None:
    more = "".join(f"=== animals/a{i}/animal.yaml\nspecies: corn-snake\n" for i in range(20))
    text = "".join(f"=== animals/{name}/animal.yaml\nspecies: corn-snake\n" for name in (one, other))
    assert kinds(more + text) == [(Kind.ID_TWICE, Level.ERROR)]


@pytest.mark.parametrize(
    ("site", "price", "money"),
    [
        ("currency: CAD", "$140", ("140", "CAD")),
        ("currency: EUR", "$140", ("140", "USD")),
        ("name: Mine", "$140", ("140", "USD")),
        ("currency: GBP", "140,00 €", ("140.00", "EUR")),
        ("currency: €", "1.400,00", ("1400.00", "EUR")),
        ("currency: EUR", "{amount: €140, currency: EUR}", ("140", "EUR")),
    ],
)
def test_prices_with_signs(site: str, price: str, money: tuple[str, str]) -> None:
    text = f"=== site.yaml\n{site}\n=== animals/a/animal.yaml\nspecies: corn-snake\noffer: {{price: {price}}}\n"
    offer = bound(CORN + text).animals["a"].offer
    assert offer is not None
    assert offer.price == Money(Decimal(money[0]), money[1])


def test_two_currencies_in_one_price_are_told() -> None:
    text = "=== animals/a/animal.yaml\nspecies: corn-snake\noffer: {price: {amount: €140, currency: GBP}}\n"
    assert [f.message for f in told(CORN + text)] == ["the amount is in EUR, and the currency is GBP"]


@pytest.mark.parametrize(
    ("line", "near", "remedy"),
    [
        ("hatched: 2021", "born", "write born"),
        ("gender: male", "sex", "write sex"),
        ("mother: a", "dam", "write dam"),
        ("state: sold", "", "state has its place in an offer"),
        ("price: 140 EUR", "", "price has its place in an offer"),
        ("hets: [amel]", "", "what is seen belongs under shows"),
        ("morph: amel", "", "what is seen belongs under shows"),
        ("show: [amel]", "shows", "correct the name"),
        ("wieghts: {}", "weights", "correct the name"),
        ("sure: [amel]", "", "correct the name"),
    ],
)
def test_a_key_is_answered_with_the_one_that_was_meant_or_where_it_belongs(line: str, near: str, remedy: str) -> None:
    (finding,) = told(CORN + f"=== animals/a/animal.yaml\nspecies: corn-snake\n{line}\n")
    assert (finding.kind, finding.nearest) == (Kind.KEY_UNKNOWN, near)
    assert finding.remedy.startswith(remedy)


@pytest.mark.parametrize(
    ("lines", "grams"),
    [("weights: {2024-05-01: 0,402 kg}", 402), ("weights: {2024-05-01: 9 lb 4 oz, 2023: 402g}", 402)],
)
def test_weights_with_commas_and_two_units(lines: str, grams: int) -> None:
    animal = bound(CORN + f"=== animals/a/animal.yaml\nspecies: corn-snake\n{lines}\n").animals["a"]
    assert animal.weights[0].grams == grams


@pytest.mark.parametrize(
    ("lines", "sex", "state"),
    [
        ("sex: F\noffer: {state: for sale, price: 5 EUR}", Sex.FEMALE, OfferState.AVAILABLE),
        ("sex: M\noffer: {state: reserved, price: 5 EUR}", Sex.MALE, OfferState.ON_HOLD),
        ("sex: m/f\noffer: {state: “not for sale”}", Sex.UNKNOWN, OfferState.NOT_FOR_SALE),
        ("sex: 0.1\noffer: {state: nfs}", Sex.FEMALE, OfferState.NOT_FOR_SALE),
    ],
)
def test_sexes_and_states_in_the_words_of_the_trade(lines: str, sex: Sex, state: OfferState) -> None:
    animal = bound(CORN + f"=== animals/a/animal.yaml\nspecies: corn-snake\n{lines}\n").animals["a"]
    assert animal.offer is not None
    assert (animal.sex, animal.offer.state) == (sex, state)
