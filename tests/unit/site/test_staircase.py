"""The staircase on an animal's page: heights, pictures, where it stands and where not."""

import datetime as dt
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from sitegen.evidence.answers import read_known
from sitegen.evidence.claims import claims_of
from sitegen.evidence.reasons import reasons
from sitegen.evidence.staircase import replays_of
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan
from sitegen.site.material import Material, folio
from sitegen.site.parts import text_of
from sitegen.site.staircase import claim_stairs
from sitegen.site.views import views

REPOSITORY = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def demo() -> Material:
    known, _ = read_known(REPOSITORY / "content")
    assert known is not None
    records, day = known.collection, dt.date(2026, 11, 1)
    claims = claims_of(records, known.answers, partial(reasons, known.asked), day)
    photos = [photo.path for each in (*records.animals.values(), *records.litters.values()) for photo in each.photos]
    shown = {
        path: plan(PhotoFacts(f"{rank:064x}", "jpeg", 1600, 1200, None, ""), PictureSettings())
        for rank, path in enumerate(photos)
    }
    return Material(records, known.answers, claims, shown, day, replays=replays_of(records))


def stairs_of(demo: Material, animal: str, allele: str):
    page = folio(demo, f"animals/{animal}.html")
    (claim,) = [each for each in demo.claims[animal] if each.allele == allele]
    return claim_stairs(claim, page)


def test_a_tested_founder_in_two_steps(demo):
    """Until its test the chance that its seller stated, from then on none."""
    stairs = stairs_of(demo, "flint", "hypo")
    assert [(step.height, step.count) for step in stairs.steps] == [(33, "33"), (0, "0")]
    assert text_of(stairs.steps[1].line).startswith("1 February 2024: ruled out, because he was DNA-tested")
    assert stairs.steps[1].pictures == ()  # the page shows the animal itself


def test_young_stand_beside_what_they_prove(demo):
    first, last = stairs_of(demo, "jasper", "albino").steps
    assert (first.height, last.height) == (67, 100)
    assert (first.pictures, len(last.pictures)) == ((), 2)  # a founder; two of the three young that show it
    parents, *_ = stairs_of(demo, "2025-juniper-obsidian/01", "caramel").steps
    assert [picture.alt.split(",")[0] for picture in parents.pictures] == [
        "Drawing of Juniper",
        "Drawing of Obsidian",
    ]


def test_no_staircase_where_one_piece_of_evidence_says_it_all(demo):
    assert stairs_of(demo, "yarrow", "hypo") is None


def test_the_paper_has_none_and_the_page_of_a_site_without_history_neither(demo):
    flint, page = demo.collection.animals["flint"], folio(demo, "animals/flint.html")
    assert any(view.stairs for view in views(flint, page).ruled_out)
    assert not any(view.stairs for view in views(flint, page, linked=False).ruled_out)
    without = views(flint, folio(replace(demo, replays={}), "animals/flint.html"))
    assert not any(view.stairs for view in without.ruled_out)
