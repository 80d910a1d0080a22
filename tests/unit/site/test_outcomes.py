"""What a pairing could give, beside what its litter gave."""

import datetime as dt
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

from helpers.small_site import material

from sitegen.evidence.answers import Known, read_known
from sitegen.evidence.pairings import Pairing
from sitegen.genetics.by_eye import by_eye
from sitegen.genetics.look_rows import LookRow
from sitegen.site.material import folio
from sitegen.site.outcomes import Outcome, litter_pairing, outcome

SPECIES = """
=== site.yaml
name: Quillmoor Snakes
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {low: 6, usual: 13, high: 28}
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
  ultra: {name: ultra, inheritance: recessive, hidden_by: [amel]}
  diffused: {name: diffused, inheritance: recessive, visible_from: 12 months}
"""
PARENTS = """
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020
shows: []
stated: {amel: certain, anery: certain}
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020
shows: []
stated: {amel: certain, anery: certain}
"""

Content = Callable[[str], Path]


def pairings_of(known: Known) -> dict[str, Pairing]:
    litters = known.collection.litters.values()
    return {litter.id: found for litter in litters if (found := litter_pairing(known.asked, litter)) is not None}


def outcome_of(content: Content, litter: str, more: str = "", as_of: dt.date = dt.date(2026, 8, 1)) -> Outcome | None:
    known, findings = read_known(content(f"{SPECIES}{PARENTS}{more}\n=== litters/x/litter.yaml\n{litter}"))
    assert known is not None, findings
    made = material(known.collection, known.answers, {}, {}, as_of, pairings=pairings_of(known))
    return outcome(known.collection.litters["x"], folio(made, "litters/x.html"))


def table(found: Outcome | None) -> list[tuple[str, str, str, str]]:
    assert found is not None
    return [("".join(s.text for s in row.look), row.exact, row.expected, row.came) for row in found.rows]


SIXTEEN = """
dam: juniper
sire: flint
born: 2026-07-18
young: {"01": {shows: [amel]}, "02": {shows: [amel, anery]}}
others: [{count: 9, shows: []}, {count: 3, shows: [anery]}, {count: 2, shows: [amel]}]
"""


def test_what_came_stands_beside_what_was_expected(content: Content) -> None:
    assert table(outcome_of(content, SIXTEEN)) == [
        ("the normal look", "(9/16)", "9", "9"),
        ("amelanistic", "(3/16)", "3", "3"),
        ("anerythristic", "(3/16)", "3", "3"),
        ("amelanistic and anerythristic", "(1/16)", "1", "1"),
    ]


def test_what_such_young_carry_is_told(content: Content) -> None:
    found = outcome_of(content, SIXTEEN)
    assert found is not None
    told = ["".join(s.text for s in line) for line in found.rows[0].hidden]
    assert told == [
        "about 67 in 100 of them carry amelanistic unseen",
        "about 67 in 100 of them carry anerythristic unseen",
    ]


def test_a_litter_that_is_expected_shows_a_usual_one(content: Content) -> None:
    found = outcome_of(content, "dam: juniper\nsire: flint\npaired: 2026-03-02\nexpected: 2026-07-20\n")
    assert found is not None
    assert not found.came_known
    assert found.average_heading == "Of a usual clutch of 13, on average"
    assert ["".join(span.text for span in line) for line in found.further] == [
        "A clutch is taken to have 6 to 28 living young, most often 13."
    ]
    assert table(found)[0][:3] == ("the normal look", "(9/16)", "7.3")


def test_young_that_were_not_judged_are_not_counted(content: Content) -> None:
    found = outcome_of(content, SIXTEEN.replace("{shows: [amel]}, ", "{shows: [], unsure: [amel]}, ", 1))
    assert found is not None
    assert not found.came_known
    assert any("1 young was not judged" in line[0].text for line in found.further)


CARRY_DIFFUSED = "stated: {amel: certain, diffused: certain}"


def test_looks_that_come_with_age_are_left_out_until_then(content: Content) -> None:
    litter = "dam: juniper\nsire: flint\nborn: 2026-07-18\nyoung: {'01': {shows: [amel]}}\n"
    known_parents = PARENTS.replace("stated: {amel: certain, anery: certain}", CARRY_DIFFUSED)
    known, findings = read_known(content(f"{SPECIES}{known_parents}\n=== litters/x/litter.yaml\n{litter}"))
    assert known is not None, findings
    pairings = pairings_of(known)
    young, grown = (
        outcome(
            known.collection.litters["x"],
            folio(material(known.collection, known.answers, {}, {}, day, pairings=pairings), "a.html"),
        )
        for day in (dt.date(2027, 7, 17), dt.date(2027, 7, 18))
    )
    assert [row[0] for row in table(young)] == ["the normal look", "amelanistic"]
    assert young is not None
    assert "cannot be judged at this age" in "".join(span.text for span in young.further[0])
    assert "diffused" in [row[0] for row in table(grown)]


def test_litters_with_several_sires_or_none_tell_nothing(content: Content) -> None:
    assert outcome_of(content, "dam: juniper\nborn: 2026-07-18\nyoung: {'01': {shows: []}}\n") is None


def test_a_look_that_another_hides_is_counted_with_it(content: Content) -> None:
    known, _findings = read_known(content(SPECIES))
    assert known is not None
    genome = known.collection.species["corn-snake"].genome
    rows = (
        LookRow((), Fraction(1, 2), {"amel": Fraction(1, 2)}),
        LookRow(("amel",), Fraction(1, 4), {"anery": Fraction(1, 2), "ultra": Fraction(2, 3)}),
        LookRow(("amel", "ultra"), Fraction(1, 4), {"anery": Fraction(1)}),
    )
    plain, amel = by_eye(rows, genome, ())
    assert (plain.looks, plain.chance, plain.carries) == ((), Fraction(1, 2), {"amel": Fraction(1, 2)})
    assert (amel.looks, amel.chance) == (("amel",), Fraction(1, 4) + Fraction(1, 4))
    assert amel.carries == {"anery": Fraction(1, 2) * Fraction(1, 2) + Fraction(1, 2) * 1}
