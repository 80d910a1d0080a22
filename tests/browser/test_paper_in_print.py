"""Every buyer's paper of the demo printed by Chromium: one side, in A4 and in Letter, black on white."""

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.small_site import HERE, animal, collection, small_material, whole_site
from playwright.sync_api import Browser

from sitegen.content.animals import Meal, Offer
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate, Weighing
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.render.pages import render_page
from sitegen.render.themes import find_theme, theme_files
from sitegen.site.material import Material

pytestmark = pytest.mark.browser


def n_sides(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


def printed(browser: Browser, files: list[Path], size: str) -> dict[str, int]:
    page = browser.new_page()
    found = {}
    for file in files:
        page.goto(file.as_uri())
        found[f"{file.parent.name}/{file.name}"] = n_sides(page.pdf(format=size))
    page.close()
    return found


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_every_paper_of_the_demo_is_one_side(browser: Browser, demo: Path, size: str) -> None:
    files = sorted(demo.rglob("*-paper.html"))
    assert len(files) > 10
    sides = printed(browser, files, size)
    assert {name: count for name, count in sides.items() if count != 1} == {}


def crowded(n_claims: int) -> Material:
    """An animal with many uncertain genes, long reasons and long records."""
    records = collection()
    days = [PartialDate(2026, 8, day) for day in range(1, 20)]
    young = replace(
        records.animals["2026-x/01"],
        weights=tuple(Weighing(day, 10 + rank) for rank, day in enumerate(days)),
        meals=tuple(Meal(day, "a very small thawed pinkie mouse") for day in days),
    )
    material = small_material(replace(records, animals={**records.animals, young.id: young}))
    (hypo,) = [c for c in material.claims[young.id] if c.kind is ClaimKind.MAY_CARRY]
    reasons = (Reason(Ground.DAM, ("juniper",)), Reason(Ground.SIRE, ("flint",)), Reason(Ground.SHOWS_NOT, (young.id,)))
    many: tuple[Claim, ...] = (replace(hypo, reasons=reasons, chance=Fraction(2, 3)),) * n_claims
    shown = tuple(c for c in material.claims[young.id] if c.kind is ClaimKind.SHOWS)
    return replace(material, claims={**material.claims, young.id: (*shown, *many)})


@pytest.mark.parametrize("n_claims", [0, 4, 8, 12])
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_paper_with_many_claims_is_still_one_side(browser: Browser, tmp_path: Path, n_claims: int, size: str) -> None:
    theme = find_theme("specimen-sheet")
    (paper,) = [p for p in whole_site(crowded(n_claims)) if p.address == "litters/2026-x/01-paper.html"]
    for name, data in {**theme_files(theme), paper.address: render_page(paper, theme)}.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    assert printed(browser, [tmp_path / paper.address], size) == {"2026-x/01-paper.html": 1}


def test_a_paper_is_black_on_white_and_nothing_else_of_the_site_is_printed(browser: Browser, demo: Path) -> None:
    page = browser.new_page(color_scheme="dark")
    page.goto(next(iter(sorted(demo.rglob("*-paper.html")))).as_uri())
    page.emulate_media(media="print")
    style = "(name) => getComputedStyle(document.querySelector(name))"
    assert page.evaluate(f"({style})('.paper-side').color") == "rgb(0, 0, 0)"
    assert page.evaluate(f"({style})('.paper-side').backgroundColor") == "rgb(255, 255, 255)"
    for part in (".masthead", ".paper-bar", ".colophon"):
        assert page.evaluate(f"({style})('{part}').display") == "none", part
    size = page.evaluate("(name) => parseFloat(getComputedStyle(document.querySelector(name)).fontSize)", ".paper-side")
    assert size >= 6.4 * 96 / 72 - 0.1
    page.close()


def test_an_animal_without_photograph_or_parents_has_a_paper_too(browser: Browser, tmp_path: Path) -> None:
    records = collection()
    lone = animal("lone", "Lone", Sex.UNKNOWN, offer=Offer(state=OfferState.AVAILABLE, place=HERE))
    theme = find_theme("specimen-sheet")
    material = small_material(replace(records, animals={**records.animals, "lone": lone}), pictured=False)
    (paper,) = [p for p in whole_site(material) if p.address == "animals/lone-paper.html"]
    for name, data in {**theme_files(theme), paper.address: render_page(paper, theme)}.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    assert printed(browser, [tmp_path / paper.address], "A4") == {"animals/lone-paper.html": 1}
