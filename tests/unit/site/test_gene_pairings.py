"""What pairings at one gene give: textbook ratios, series, lethal and sex-linked genes."""

from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_site import locus

from sitegen.genetics.gametes import mode_of_locus
from sitegen.genetics.loci import Allele, Inheritance, Locus
from sitegen.site.gene_pairings import PairingRow, PairingTable, pairing_tables

RECESSIVE = locus("amel", Allele("amel", "amelanistic", Inheritance.RECESSIVE))
SERIES = locus(
    "ms", Allele("motley", "motley", Inheritance.RECESSIVE), Allele("stripe", "stripe", Inheritance.RECESSIVE)
)


def given(row: PairingRow, heading: str = "") -> list[tuple[str, str]]:
    group = next(group for group in row.groups if group.heading == heading)
    return [(view.count, view.what) for view in group.given]


def row(table: PairingTable, parents: str) -> PairingRow:
    return next(found for found in table.rows if found.parents == parents)


def test_a_recessive_gives_the_ratios_of_mendel() -> None:
    """Source: Mendel 1866: 1:2:1 from two hybrids, 1:1 from a back-cross."""
    (table,) = pairing_tables(RECESSIVE)
    two, one, none = "two copies: amelanistic", "one copy, carried unseen", "no copy"
    assert given(row(table, "One copy in each")) == [("25", two), ("50", one), ("25", none)]
    assert given(row(table, "Two copies with one copy")) == [("50", two), ("50", one)]
    assert given(row(table, "Two copies with no copy")) == [("100", one)]
    assert given(row(table, "One copy with no copy")) == [("50", one), ("50", none)]
    assert given(row(table, "Two copies in each")) == [("100", two)]
    assert len(table.rows) == 5
    assert table.title == ""


def test_a_form_that_does_not_live_gives_two_to_one_and_fewer_young() -> None:
    """Source: Castle and Little 1910: two to one among the living young of two yellow mice."""
    lethal = Allele("lw", "lavish", Inheritance.INCOMPLETE_DOMINANT, two_copies_lethal=True)
    (table,) = pairing_tables(replace(locus("lw", lethal), lethal=frozenset({("lw", "lw")})))
    both = row(table, "One copy in each")
    assert [(view.count, view.exact) for view in both.groups[0].given] == [("67", "2/3"), ("33", "1/3")]
    assert both.note == "About 25 in 100 of what is conceived does not live, so there are fewer young."
    assert not any("Two copies" in found.parents for found in table.rows)


def test_two_of_a_series_show_at_once() -> None:
    *alone, together = pairing_tables(SERIES)
    assert [table.title for table in alone] == ["Motley alone", "Stripe alone"]
    assert together.title == "Motley and stripe together"
    visual = row(together, "Two copies of motley with two copies of stripe")
    assert [view.count for view in visual.groups[0].given] == ["100"]
    carriers = row(together, "One copy of motley with one copy of stripe")
    assert [view.count for view in carriers.groups[0].given] == ["25"] * 4
    assert len({found.parents for found in together.rows}) == len(together.rows)


def test_a_sex_linked_gene_is_told_by_sex() -> None:
    """Source: criss-cross inheritance, ZW: a visual sire gives daughters that have it, from a dam without."""
    linked = replace(RECESSIVE, sex_linked=True)
    (table,) = pairing_tables(linked)
    assert len(table.rows) == 2 * 3 - 1
    crossed = row(table, "Dam with no copy; sire with two copies")
    assert [count for count, _ in given(crossed, "Of 100 daughters")] == ["100"]
    assert given(crossed, "Of 100 sons") == [("100", "one copy, carried unseen")]
    carrier = row(table, "Dam with no copy; sire with one copy")
    assert [count for count, _ in given(carrier, "Of 100 daughters")] == ["50", "50"]


def test_a_gene_on_both_sex_chromosomes_has_no_table() -> None:
    """A table by copies would say what is not so: it matters from which parent a copy came."""
    assert pairing_tables(replace(RECESSIVE, sex_linked=True, sex_recombination=Fraction(1, 10))) == ()


@pytest.mark.parametrize("found", [RECESSIVE, SERIES, replace(RECESSIVE, sex_linked=True)])
def test_every_row_adds_up_to_a_hundred(found: Locus) -> None:
    assert mode_of_locus(found)
    for table in pairing_tables(found):
        for each in table.rows:
            for group in each.groups:
                assert sum(int(view.count) for view in group.given) == 100
