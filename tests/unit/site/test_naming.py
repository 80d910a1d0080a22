"""Names of litters that have none."""

from dataclasses import replace
from fractions import Fraction

from helpers.small_site import collection, litter

from sitegen.site.material import with_litter_names


def named(**litters: object) -> dict[str, str]:
    records = collection()
    return {k: v.name for k, v in with_litter_names(replace(records, litters=litters)).litters.items()}


UNNAMED = replace(litter(), name="2026-x")


def test_a_litter_is_called_by_its_parents_and_year() -> None:
    assert named(**{"2026-x": UNNAMED}) == {"2026-x": "Juniper and Flint 2026"}
    undated = replace(UNNAMED, born=None, paired=None)
    assert named(**{"2026-x": undated}) == {"2026-x": "Juniper and Flint"}


def test_a_name_that_was_written_stays() -> None:
    assert named(**{"2026-x": replace(litter(), name="The early ones")}) == {"2026-x": "The early ones"}


def test_possible_sires_are_all_named() -> None:
    two = replace(UNNAMED, sires=(("flint", Fraction(1, 2)), ("2026-x/01", Fraction(1, 2))))
    assert named(**{"2026-x": two}) == {"2026-x": "2026-x"}
    assert named(**{"2026-x": replace(two, sires=(("flint", Fraction(1, 2)), ("sorrel", Fraction(1, 2))))}) == {
        "2026-x": "Juniper and Flint or Sorrel 2026"
    }


def test_a_litter_without_a_parent_keeps_the_name_of_its_folder() -> None:
    assert named(**{"2026-x": replace(UNNAMED, dam=None)}) == {"2026-x": "2026-x"}
    assert named(**{"2026-x": replace(UNNAMED, sires=())}) == {"2026-x": "2026-x"}


def test_two_litters_are_never_called_the_same() -> None:
    again = replace(UNNAMED, id="2026-y", name="2026-y")
    assert named(**{"2026-x": UNNAMED, "2026-y": again}) == {"2026-x": "2026-x", "2026-y": "2026-y"}
