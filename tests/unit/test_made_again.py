"""Which files a build makes again after one change: those that tell of it, and no more."""

import datetime as dt
import re
import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent / "preview"))

from test_equals_a_clean_build import FLINT, JUNIPER, LITTER, RECORDS
from written import write_files

from sitegen.build import Order, build
from sitegen.publishing import again
from sitegen.publishing.release import Later, publish

YOUNG = {"litters/2024-x/01-paper.html", "litters/2024-x/01-paper.json", "litters/2024-x/01.html"}
WITH_YOUNG = {"litters/2024-x.html", "projects/pale.html"}
DAY = dt.date(2024, 12, 1)
LISTS = {"index.html", "available.html", "collection.html", "litters.html", "data/collection.json"}


@pytest.mark.parametrize(
    ("file", "old", "new", "made"),
    [
        (JUNIPER, "410 g", "420 g", {"animals/juniper.html"}),
        (FLINT, "shows", "meals: [{date: 2021-01-01, what: mouse}]\nshows", {"animals/flint.html"}),
        (JUNIPER, "shows: [amel]", "shows: [amel]\nabout: Calm.", {"animals/juniper.html"}),
        (LITTER, "dam: juniper", "# a line more\ndam: juniper", set()),
        (LITTER, "shows: [amel],", "shows: [amel], weights: {2024-08-01: 9 g},", {*YOUNG, *WITH_YOUNG}),
    ],
)
def test_what_only_its_own_pages_tell_makes_no_other_page_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, file: str, old: str, new: str, made: set[str]
) -> None:
    assert after(tmp_path, monkeypatch, RECORDS, (file, old, new)) == made


def test_a_price_makes_those_again_that_tell_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    compared = {f"available/corn-snake/{allele}.html" for allele in ("amel", "anery")}
    lists = {"index.html", "available.html", "data/collection.json", "available.xml", "litters/2024-x.html"}
    pages = {*YOUNG, *lists, *compared} - {"litters/2024-x/01-paper.json"}
    assert after(tmp_path, monkeypatch, RECORDS, (LITTER, "price: 90", "price: 95")) == pages


def test_where_an_offer_stands_makes_all_lists_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert after(tmp_path, monkeypatch, RECORDS, (LITTER, "state: available", "state: on hold")) >= {*YOUNG, *LISTS}


def test_a_weight_that_the_rules_of_leaving_ask_for_makes_lists_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ruled = RECORDS.replace("currency: GBP", "currency: GBP\nready_when: {weight: 10 g}")
    fits = (LITTER, "shows: [amel],", "shows: [amel], weights: {2024-08-01: 11 g},")
    assert after(tmp_path, monkeypatch, ruled, fits) >= {*YOUNG, "available.html", "data/collection.json"}


def test_the_newest_day_of_all_makes_those_again_that_tell_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    newer = (JUNIPER, "410 g}", "410 g, 2024-09-02: 430 g}")
    assert after(tmp_path, monkeypatch, RECORDS, newer) == {"animals/juniper.html", "index.html", "collection.html"}


def after(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, records: str, change: tuple[str, str, str]) -> set[str]:
    """The addresses of the files that are made when one record was changed."""
    monkeypatch.setattr(again, "_LATE_NS", 0)
    content, made = write_files(tmp_path / "content", records), set[str]()

    def seen(files: dict[str, Any], *rest: Any, **named: Any) -> Any:
        later = {name: each for name, each in files.items() if isinstance(each, Later)}
        made.update(name for name, each in later.items() if not each.digest)
        return publish(files, *rest, **named)

    monkeypatch.setattr("sitegen.build.publish", seen)
    order = Order(content, tmp_path / "site" / "output", tmp_path / "themes", date=DAY, workers=1)
    assert build(order).published is not None
    made.clear()
    file, old, new = change
    text = (content / file).read_text("utf-8")
    assert re.search(re.escape(old), text)
    (content / file).write_text(text.replace(old, new, 1), "utf-8")
    assert build(order).published is not None
    return made
