"""What changed, on the page and in the file for machines; and the demonstration's own history."""

import datetime as dt
from dataclasses import replace

import pytest
from conftest import REPOSITORY
from helpers.small_site import small_material

from sitegen.evidence.answers import read_known
from sitegen.evidence.changes import Change, ChangeKind
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.reasons import reasons
from sitegen.exact import parse_fraction
from sitegen.site.animal import change_fields
from sitegen.site.facts import change_facts
from sitegen.site.material import folio, told_changes


@pytest.fixture(scope="module")
def demo_changes():
    known, _ = read_known(REPOSITORY / "content")
    assert known is not None
    claims = claims_of(
        known.collection, known.answers, lambda animal, locus: reasons(known.asked, animal, locus), dt.date(2026, 11, 1)
    )
    return told_changes(known.collection, claims)


@pytest.mark.parametrize(
    ("animal", "allele", "kind", "day", "before", "because"),
    [
        ("flint", "hypo", ChangeKind.RULED_OUT, "2024-02-01", "1/3", ("flint",)),
        ("flint", "amel", ChangeKind.PROVED, "2024-07-17", "2/3", ("2024-fennel-flint/05", "2024-fennel-flint/06")),
        ("obsidian", "hypo", ChangeKind.PROVED, "2025-07-14", "2/3", ("2025-juniper-obsidian/03",)),
        ("basalt", "caramel", ChangeKind.PROVED, "2026-04-22", "1/3", ("selenite",)),
        ("chalk", "amel", ChangeKind.RULED_OUT, "2026-02-10", "1/2", ("chalk",)),
        ("cinnabar", "amel", ChangeKind.MOVED, "2026-07-08", "2/3", ()),
        ("tansy", "diffused", ChangeKind.BECAME_VISIBLE, "2024-06-08", "0", ("tansy",)),
        ("2023-juniper-basalt/01", "caramel", ChangeKind.MOVED, "2026-04-22", "1/6", ("selenite",)),
    ],
)  # fmt: skip
def test_the_demonstration_has_a_history(demo_changes, animal, allele, kind, day, before, because):
    (change,) = [each for each in demo_changes[animal] if each.allele == allele]
    assert (change.kind, change.day.isoformat()) == (kind, day)
    assert change.chance_before == parse_fraction(before)
    assert change.because[0].animals == because


def test_the_page_and_the_file_for_machines_tell_the_same():
    because = Reason(Ground.DNA_TEST, ("juniper",))
    change = Change(
        ChangeKind.RULED_OUT, "juniper", "corn-snake", "hypo", "hypo", dt.date(2026, 2, 1), None, None,
        parse_fraction("2/3"), parse_fraction("0"), (because,),
    )  # fmt: skip
    material = replace(small_material(), changes={"juniper": (change,)})
    page = folio(material, "animals/juniper.html")
    animal = material.collection.animals["juniper"]
    (field,) = change_fields(animal, page)
    (fact,) = change_facts(animal, page)
    assert field.label == "Ruled out"
    assert fact["words"] == "".join(span.text for span in field.value)
    assert (fact["date"], fact["before"], fact["after"]) == ("2026-02-01", "2/3", "0")
    assert change_fields(material.collection.animals["flint"], page) == ()
