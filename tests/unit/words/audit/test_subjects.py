"""Whom a statement is about."""

import pytest
from helpers.said_texts import audited, contents, meant


@pytest.mark.parametrize(
    ("text", "whom"),
    [
        ("03 is 100% het hypo.", "No. 03 of 2024-juniper-flint"),
        ("No. 2 is 100% het hypo.", "No. 02 of 2024-juniper-flint"),
        ("The dam is het hypo.", "Juniper"),
        ("Flint (100% het hypo) is the sire.", "Flint"),
    ],
)
def test_whoever_is_named_in_a_text_about_a_litter_is_meant(text: str, whom: str) -> None:
    (finding,) = audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\nabout: {text}\n"))
    assert f"says more of {whom} than" in finding.message


def test_all_means_all_only_where_no_look_narrows_it() -> None:
    def findings(text: str) -> int:
        return len(audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\nabout: {text}\n")))

    assert findings("All of them are homozygous for anery.") == 1
    assert findings("All the anery ones are homozygous for anery.") == 0
    assert (
        findings("All the anery ones are het anery and het stripe.") == 1
    )  # stripe: more than any young of the litter


def test_a_name_is_read_as_what_the_animal_is() -> None:
    files = contents("=== animals/sorrel/animal.yaml\nabout: Snow is shy.\n")
    files = {**files, "animals/sorrel/animal.yaml": files["animals/sorrel/animal.yaml"].replace("Sorrel", "Snow")}
    findings = audited(files)
    assert {(meant(finding, files), finding.place and finding.place.line) for finding in findings} == {("Snow", 1)}


@pytest.mark.parametrize(
    ("text", "whom"),
    [
        ("Half the clutch will be hypo.", "Flint"),
        ("Half the clutch will be het hypo.", "Flint"),
        ("All the babies will be het caramel.", "Flint"),
        ("Half the clutch will be anery.", ""),
        ("All the babies will be het amel and het anery.", ""),
        ("All the young will be palmetto.", "Flint"),
        ("Half the young will be palmetto.", ""),
    ],
)
def test_what_a_litter_will_give_is_asked_of_its_parents(text: str, whom: str) -> None:
    """A recessive look of both, since each hands on one copy; everything else of one."""
    litter = "=== litters/2026-next/litter.yaml\ndam: juniper\nsire: flint\n"
    messages = [finding.message for finding in audited(contents(f"{litter}about: {text}\n"))]
    assert (messages == []) == (not whom), messages
    assert all(f"says more of {whom} than" in message for message in messages)
