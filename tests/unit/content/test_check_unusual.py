"""What is asked about, and what stands close by and is not."""

import pytest
from helpers.from_text import CORN, PAIR, kinds, told

from sitegen.findings import Kind, Level

JUNIPER = "\n=== animals/juniper/animal.yaml\nspecies: corn-snake\nsex: female\nborn: 2014-06-01\n"
FLINT = "\n=== animals/flint/animal.yaml\nspecies: corn-snake\nsex: male\nborn: 2014-06-01\n"
CLUTCH = "\n=== litters/x/litter.yaml\ndam: juniper\nsire: flint\n"
SITE = "\n=== site.yaml\nname: Small\ncurrency: GBP\n"


def asked(text: str, kind: Kind) -> list[Level]:
    return [finding.level for finding in told(CORN + text) if finding.kind is kind]


@pytest.mark.parametrize(
    ("died", "litter", "levels"),
    [
        ("2021", "paired: 2022-03-02\n", [Level.NOTICE]),
        ("2021-08", "paired: 2021-08-20\nborn: 2022-07-18\n", []),  # sperm that the dam kept, and it is said so
        ("2022-04-01", "paired: 2022-03-02\nborn: 2022-07-18\n", []),
        ("2021-07-18", "born: 2022-07-18\n", []),
        ("2021-07-10", "born: 2022-07-18\n", [Level.NOTICE]),
        ("2021-07-10", "born: 2022-07-18\nconfirmed: true\n", []),
    ],
)
def test_a_sire_that_had_died_before_the_pairing_is_asked_about(died: str, litter: str, levels: list[Level]) -> None:
    assert asked(f"{JUNIPER}{FLINT}died: {died}\n{CLUTCH}{litter}", Kind.PARENT_DEAD) == levels


def test_a_dam_that_had_died_before_the_pairing_is_an_error_told_once() -> None:
    dead = f"{JUNIPER}died: 2021-01-01\n{FLINT}{CLUTCH}"
    assert asked(f"{dead}paired: 2022-03-02\n", Kind.PARENT_DEAD) == [Level.ERROR]
    found = [f.kind for f in told(f"{CORN}{dead}paired: 2022-03-02\nlaid: 2022-05-20\n") if f.level is Level.ERROR]
    assert found == [Kind.DATE_IMPOSSIBLE]


@pytest.mark.parametrize(("born", "wrong"), [("2022-08-18", False), ("2022-08-19", True), ("2022", False)])
def test_a_young_is_born_within_a_month_of_its_litter(born: str, wrong: bool) -> None:
    litter = f'{CLUTCH}born: 2022-07-18\nyoung:\n  "01": {{born: {born}}}\n'
    assert asked(JUNIPER + FLINT + litter, Kind.BORN_APART) == [Level.ERROR] * wrong


def test_one_animal_under_two_ids_is_asked_about_and_littermates_are_not() -> None:
    litter = f'{CLUTCH}born: 2022-07-18\nyoung:\n  "01": {{sex: male}}\n  "02": {{sex: male}}\n'
    twin = FLINT.replace("flint", "flint-2").replace("species", "name: Flint\nspecies")
    assert asked(JUNIPER + FLINT + litter, Kind.ANIMAL_TWICE) == []
    assert asked(JUNIPER + FLINT + twin, Kind.ANIMAL_TWICE) == [Level.NOTICE]
    assert asked(FLINT + twin.replace("born: 2014", "born: 2015"), Kind.ANIMAL_TWICE) == []
    assert asked(FLINT + twin.replace("2014-06-01", "unknown"), Kind.ANIMAL_TWICE) == []


@pytest.mark.parametrize(
    ("weights", "n"),
    [
        ("2014-08-01: 8 g, 2016-05-01: 310 g, 2017-05-01: 420 g", 0),  # it grew
        ("2014-08-01: 8 g, 2014-10-01: 40 g", 0),
        ("2016-05-01: 310 g, 2016-06-01: 3100 g, 2016-07-01: 315 g", 1),
        ("2016-05-01: 310 g, 2016-06-01: 31 g, 2016-07-01: 315 g", 1),
        ("2016-05-01: 310 g, 2018-06-01: 4.1 kg, 2018-07-01: 415 g", 1),
        ("2016-05-01: 410 g, 2016-07-01: 280 g", 0),  # after a clutch
    ],
)
def test_a_weight_that_jumps_is_asked_about_once(weights: str, n: int) -> None:
    assert asked(f"{JUNIPER}weights: {{{weights}}}\n", Kind.WEIGHT_UNUSUAL) == [Level.NOTICE] * n


def offers(*prices: str) -> str:
    return SITE + "".join(
        f"\n=== animals/a{number}/animal.yaml\nspecies: corn-snake\noffer: {{price: {price}, state: available}}\n"
        for number, price in enumerate(prices)
    )


@pytest.mark.parametrize(
    ("prices", "n"),
    [
        (("90", "110", "140", "900"), 0),  # a rare one costs more
        (("90", "110", "140", "14000"), 1),
        (("90", "110", "140", "9"), 1),
        (("90", "14000"), 0),  # too few to say which is off
        (("0",), 1),
        (("90", "110", "140", "14000 USD"), 0),
    ],
)
def test_a_price_of_nothing_or_far_off_the_others_is_asked_about(prices: tuple[str, ...], n: int) -> None:
    assert asked(offers(*prices), Kind.PRICE_UNUSUAL) == [Level.NOTICE] * n


@pytest.mark.parametrize(
    ("email", "wrong"),
    [
        ("you@example.org", False),
        ("a.b+c@post.example.co.uk", False),
        ("you@example", True),
        ("www.example.org", True),
        ("you @example.org", True),
    ],
)
def test_an_email_address_that_is_none_is_asked_about(email: str, wrong: bool) -> None:
    assert (
        asked(f'\n=== site.yaml\nname: Small\ncontact: {{email: "{email}"}}\n', Kind.EMAIL_WRONG)
        == [Level.NOTICE] * wrong
    )


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
