"""The page of a litter."""

from helpers.small_site import page_at, words_in

from sitegen.content.prices import OfferState
from sitegen.site.litter import LitterPage


def test_a_litter_lists_young_under_their_numbers() -> None:
    found = page_at("litters/2026-x.html").content
    assert isinstance(found, LitterPage)
    assert [entry.name for entry in found.young] == ["No. 01", "No. 02", "Sorrel", "No. 04"]
    assert "2 more show" in words_in(found.others)
    assert [entry.offer.state if entry.offer else None for entry in found.young] == [
        OfferState.AVAILABLE, OfferState.ON_HOLD, None, OfferState.SOLD,
    ]  # fmt: skip
