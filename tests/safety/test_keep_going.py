"""``build --keep-going``: what is sound is built, what is missing is said, and no claim gains from missing evidence."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.from_text import split_files
from helpers.program import run

from sitegen.content.folder import Content
from sitegen.content.sound_part import sound_part
from sitegen.findings import Finding, Kind, Level, Place

TWO_FAMILIES = """
=== site.yaml
name: Two Families
currency: GBP
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {low: 1, usual: 6, high: 28}
breeding_age: {female: 30 months, male: 18 months}
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== species/gecko.yaml
name: leopard gecko
births: eggs
sexes: unknown
litter_size: {low: 1, usual: 2, high: 2}
breeding_age: {female: 12 months, male: 12 months}
loci:
  tremper: {name: albino, inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {amel: 66%}
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2018-06-01
shows: [amel]
=== litters/2022-a/litter.yaml
dam: juniper
sire: flint
born: 2022-07-01
young:
  "01": {sex: female, shows: []}
others: [{count: 9, shows: []}]
=== animals/hazel/animal.yaml
name: Hazel
species: corn-snake
sex: female
born: 2019-06-01
shows: []
stated: {amel: 66%}
=== animals/newt/animal.yaml
name: Newt
species: gecko
sex: male
born: 2020-06-01
shows: []
=== pages/about.md
# About us

We keep and write down.
=== pages/pairs.md
# Pairs

Juniper went to Flint in spring.
"""


@pytest.fixture
def folder(content: Callable[[str], Path]) -> Path:
    return content(TWO_FAMILIES).parent


def broken(folder: Path, path: str, old: str, new: str) -> None:
    file = folder / "content" / path
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def pages(folder: Path) -> set[str]:
    return {str(path.relative_to(folder / "output")) for path in (folder / "output").rglob("*.html")}


def claims(folder: Path) -> dict[str, object]:
    told = json.loads((folder / "output" / "data" / "collection.json").read_text("utf-8"))
    return {animal["id"]: animal["claims"] for animal in told["animals"]}


def kept_going(folder: Path) -> tuple[list[str], str]:
    done = run(folder, "build", "--keep-going", "--json")
    assert done.returncode == 1, done.stderr
    told = json.loads(done.stdout)
    return told.get("left_out", []), told.get("why_not", "")


FAMILY = ["animals/flint", "animals/juniper", "litters/2022-a", "pages/pairs.md"]


def test_a_faulty_litter_takes_its_whole_family_with_it_so_that_no_claim_gains(folder: Path) -> None:
    assert run(folder, "build").returncode == 0
    whole = claims(folder)
    broken(folder, "litters/2022-a/litter.yaml", "born: 2022-07-01", "born: 2022-77-01")
    assert run(folder, "build").returncode == 1
    left_out, why_not = kept_going(folder)
    assert (left_out, why_not) == (FAMILY, "")
    # Ten young without amel all but rule out that Juniper carries it; without them she would be 2 in 3 again.
    assert claims(folder) == {animal: whole[animal] for animal in ("hazel", "newt")}
    assert "animals/juniper.html" not in pages(folder)
    assert {"animals/hazel.html", "animals/newt.html", "about.html"} <= pages(folder)
    assert "pairs.html" not in pages(folder)


def test_what_is_missing_and_what_that_means_is_said(folder: Path) -> None:
    broken(folder, "litters/2022-a/litter.yaml", "shows: []}\nothers", "shows: [amle]}\nothers")
    done = run(folder, "build", "--keep-going")
    assert done.returncode == 1
    assert "nearest: amel" in done.stderr
    for name in FAMILY:
        assert f"    {name}\n" in done.stdout
    assert "rests on the remaining records alone" in done.stdout


def test_sound_records_are_built_as_ever(folder: Path) -> None:
    done = run(folder, "build", "--keep-going")
    assert (done.returncode, "Left out" in done.stdout) == (0, False)


def test_after_mending_all_stands_again(folder: Path) -> None:
    broken(folder, "litters/2022-a/litter.yaml", "born: 2022-07-01", "born: 2022-77-01")
    kept_going(folder)
    broken(folder, "litters/2022-a/litter.yaml", "born: 2022-77-01", "born: 2022-07-01")
    assert run(folder, "build").returncode == 0
    assert {"animals/juniper.html", "pairs.html"} <= pages(folder)


@pytest.mark.parametrize(
    ("path", "old", "new"),
    [
        ("litters/2022-a/litter.yaml", "dam: juniper", "dam: hazle"),  # it may be Hazel's
        ("litters/2022-a/litter.yaml", "dam: juniper", "dma: hazel"),
        ("litters/2022-a/litter.yaml", "dam: juniper", "dam: [juniper"),
        ("animals/hazel/animal.yaml", "sex: female", "sex: 'female"),
    ],
)
def test_where_a_fault_may_hide_a_parent_the_whole_species_is_left_out(
    folder: Path, path: str, old: str, new: str
) -> None:
    broken(folder, path, old, new)
    left_out, _ = kept_going(folder)
    assert {"animals/flint", "animals/hazel", "animals/juniper", "litters/2022-a"} <= set(left_out)
    assert set(claims(folder)) == {"newt"}


def test_a_record_of_which_nothing_can_be_read_stops_the_build(folder: Path) -> None:
    (folder / "content/animals/hazel/animal.yaml").write_bytes(b"\xff\xfe\x00bad")
    left_out, why_not = kept_going(folder)
    assert left_out == []
    assert "animals/hazel cannot be read" in why_not
    assert not (folder / "output").exists()


def test_a_record_of_a_known_family_of_which_nothing_can_be_read_takes_its_species(folder: Path) -> None:
    (folder / "content/animals/juniper/animal.yaml").write_bytes(b"\xff\xfe\x00bad")
    left_out, _ = kept_going(folder)
    assert set(claims(folder)) == {"newt"}
    assert "animals/hazel" in left_out


def test_a_faulty_site_stops_the_build(folder: Path) -> None:
    broken(folder, "site.yaml", "currency: GBP", "curency: GBP")
    assert "whole site" in kept_going(folder)[1]


def test_a_faulty_species_is_left_out_with_its_animals(folder: Path) -> None:
    broken(folder, "species/corn-snake.yaml", "inheritance: recessive", "inheritance: recesive")
    left_out, _ = kept_going(folder)
    assert "species/corn-snake" in left_out
    assert set(claims(folder)) == {"newt"}


def test_records_that_contradict_each_other_are_left_out_with_their_family(folder: Path) -> None:
    broken(folder, "animals/juniper/animal.yaml", "shows: []\nstated: {amel: 66%}", "shows: [amel]")
    left_out, _ = kept_going(folder)  # two amel parents of young that are not
    assert left_out == FAMILY
    assert set(claims(folder)) == {"hazel", "newt"}


def test_a_page_that_says_too_much_goes_alone(folder: Path) -> None:
    broken(folder, "pages/about.md", "We keep", "Hazel is het amel. We keep")
    assert kept_going(folder) == (["pages/about.md"], "")
    assert set(claims(folder)) == {"flint", "hazel", "juniper", "newt", "2022-a/01"}


def test_text_that_names_what_is_left_out_is_not_published_unread(folder: Path) -> None:
    broken(folder, "animals/newt/animal.yaml", "shows: []", "shows: []\nabout: Sits beside Juniper, who is het amel.")
    broken(folder, "litters/2022-a/litter.yaml", "born: 2022-07-01", "born: 2022-77-01")
    left_out, _ = kept_going(folder)
    assert "animals/newt" in left_out
    assert set(claims(folder)) == {"hazel"}


def test_when_only_related_animals_remain_nothing_is_built(folder: Path) -> None:
    for name in ("hazel", "newt"):
        (folder / f"content/animals/{name}/animal.yaml").unlink()
    broken(folder, "animals/flint/animal.yaml", "shows: [amel]", "shows: [amle]")
    assert "no animal would remain" in kept_going(folder)[1]


@pytest.mark.parametrize("place", [None, Place(""), Place("site.yaml", 1, 1), Place("strange.txt")])
def test_what_concerns_the_whole_is_never_left_out(place: Place | None) -> None:
    whole = Content(split_files(TWO_FAMILIES))
    part = sound_part(whole, [Finding(Level.ERROR, Kind.VALUE_WRONG, place, "wrong")])
    assert (part.content, part.left_out) == (whole, ())
    assert part.why_not
