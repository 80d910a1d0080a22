"""The journal: everything that is dated, once, newest first; by years where it is long."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction
from typing import Never

from helpers.small_site import HERE, animal, collection, small_material, whole_site

from sitegen.content.animals import Offer
from sitegen.content.litters import Failed, FailedAs
from sitegen.content.prices import OfferState
from sitegen.content.projects import Decision
from sitegen.content.values import PartialDate
from sitegen.evidence.changes import Change, ChangeKind
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.site.journal import JournalPage, all_notes, journal_addresses, journal_page, notes_of
from sitegen.site.material import Folio, Material, folio


def change(name: str, year: int, kind: ChangeKind = ChangeKind.MOVED) -> Change:
    chances = (Fraction(1, 3), Fraction(1, 2) if kind is ChangeKind.MOVED else Fraction(0))
    return Change(kind, name, "corn-snake", "hypo", "hypo", dt.date(year, 5, 2), None, None, *chances, ())


def at_journal(material: Material) -> Folio:
    return folio(material, "journal.html")


def shown(material: Material | None = None) -> JournalPage:
    at = at_journal(material or small_material())
    return journal_page(all_notes(at), journal_addresses(at.material), at)


def titles(page: JournalPage) -> list[str]:
    return ["".join(span.text for span in entry.title) for month in page.months for entry in month.entries]


def test_everything_that_is_dated_is_told_newest_first() -> None:
    page = shown()
    assert [month.title for month in page.months] == ["October 2026", "July 2026"]
    assert titles(page) == [
        "Sold: No. 04 of Juniper and Flint 2026",
        "Available: No. 01 of Juniper and Flint 2026",
        "First pips",
        "Juniper and Flint 2026: hatched",
        "Flint: what we came to know",
    ]
    pips = page.months[1].entries[0]
    assert (pips.text, pips.title[0].href) == ("All eight.", "projects/sun.html#note-2026-07-20-first-pips")
    hatched = page.months[1].entries[1]
    assert "".join(span.text for span in hatched.lines[0]) == "Juniper with Flint. Six living young."
    assert hatched.plate is not None
    assert hatched.plate.picture is not None


def test_an_offer_without_a_day_is_not_in_it() -> None:
    assert not [note for note in all_notes(at_journal(small_material())) if "No. 02" in note.title]


def test_what_evidence_settled_is_told_and_what_only_moved_is_told_together() -> None:
    records = collection()
    many = {f"a{n}": animal(f"a{n}", f"Animal {n}", Sex.MALE) for n in range(9)}
    material = small_material(replace(records, animals={**records.animals, **many}))
    moved = {name: (change(name, 2026),) for name in many}
    settled = {"juniper": (change("juniper", 2026, ChangeKind.RULED_OUT),)}
    page = shown(replace(material, changes={**moved, **settled}))
    (may,) = [month for month in page.months if month.title == "May 2026"]
    told = {"".join(s.text for s in e.title): "".join(s.text for s in e.lines[0]) for e in may.entries}
    assert set(told) == {"Juniper: what we came to know", "The odds of nine animals changed"}
    assert told["Juniper: what we came to know"].startswith("By today’s records we would have said until May 2, 2026:")
    assert "Animal 5 and 3 more" in told["The odds of nine animals changed"]


def test_young_of_one_litter_that_are_offered_on_one_day_are_told_together() -> None:
    records = collection()
    offer = Offer(state=OfferState.AVAILABLE, place=HERE, since=PartialDate(2026, 10, 1))
    animals = {k: replace(a, offer=offer) if a.is_young else a for k, a in records.animals.items()}
    page = shown(small_material(replace(records, animals=animals)))
    (entry,) = page.months[0].entries
    assert entry.title[0].text == "Three available of Juniper and Flint 2026"
    assert "".join(span.text for span in entry.lines[0]) == "No. 01, No. 02 and No. 04."


def test_decisions_are_notes_too() -> None:
    records = collection()
    decision = Decision(date=PartialDate(2026, 9), text="She rests.", place=HERE)
    projects = {"sun": replace(records.projects["sun"], decisions=(decision,))}
    page = shown(small_material(replace(records, projects=projects)))
    assert [e.lines[0][0].text for m in page.months if m.title == "September 2026" for e in m.entries] == ["She rests."]


def long_material() -> Material:
    """Litters in 2020, 2022 and 2024; what evidence changed also in 2019, 2021 and 2025."""
    records = collection()
    old = records.litters["2026-x"]
    litters = {
        f"l{n}": replace(
            old, id=f"l{n}", name=f"Litter {n}", young=(), born=PartialDate(2020 + n % 3 * 2, 1 + n % 12, 1)
        )
        for n in range(40)
    }
    material = small_material(replace(records, litters={**records.litters, **litters}))
    return replace(material, changes={"juniper": tuple(change("juniper", year) for year in (2019, 2021, 2025))})


def test_a_long_journal_has_a_page_for_each_year_and_loses_nothing() -> None:
    material = long_material()
    pages, at = journal_addresses(material), at_journal(material)
    assert [year for _, year in pages] == [2026, 2024, 2022, 2020]
    assert [address for address, _ in pages] == [
        "journal.html", "journal/2024.html", "journal/2022.html", "journal/2020.html",
    ]  # fmt: skip
    on_pages = [note for _, year in pages for note in notes_of(year, all_notes(at), pages)]
    assert sorted(note.key for note in on_pages) == sorted(note.key for note in all_notes(at))
    moved = {
        y: [n.date.year for n in notes_of(y, all_notes(at), pages) if n.key.startswith("claims/")] for _, y in pages
    }
    assert moved == {2026: [2025], 2024: [], 2022: [2021], 2020: [2019]}
    built = {page.address: page.content for page in whole_site(material)}
    for address, _ in pages:
        content = built[address]
        assert isinstance(content, JournalPage)
        assert [item.here for item in content.years].count(True) == 1


class Unasked(dict[str, tuple[Change, ...]]):
    """Changes that nobody may look at."""

    def values(self) -> Never:
        raise AssertionError("the records were replayed")


def test_addresses_of_the_journal_ask_for_no_replay() -> None:
    assert journal_addresses(replace(long_material(), changes=Unasked()))


def test_names_of_notes_differ_and_stay() -> None:
    keys = [note.key for note in all_notes(at_journal(long_material()))]
    assert len(keys) == len(set(keys))
    assert "litter/2026-x/born" in keys
    records = collection()
    sun = records.projects["sun"]
    note = sun.updates[0]
    twice = replace(sun, updates=(note, replace(note, place=Place("projects/sun/updates/b.md"))))
    page = shown(small_material(replace(records, projects={"sun": twice})))
    ids = [entry.id for month in page.months for entry in month.entries]
    assert len(ids) == len(set(ids)) == 6
    mended = replace(sun, updates=(replace(note, title="The first pips"),))
    again = shown(small_material(replace(records, projects={"sun": mended})))
    assert {entry.id for month in again.months for entry in month.entries} < set(ids)
    assert "a.md" not in str(page)


def test_an_empty_collection_has_an_empty_journal() -> None:
    records = collection()
    page = shown(small_material(replace(records, animals={}, litters={}, projects={})))
    assert page.months == ()


def test_that_a_clutch_failed_is_news_under_a_name_of_its_own() -> None:
    records = collection()
    failed = Failed(date=PartialDate(2026, 6, 3), what=FailedAs.SLUGS)
    empty = replace(records.litters["2026-x"], young=(), others=(), born=None, failed=failed)
    animals = {name: each for name, each in records.animals.items() if not each.litter}
    material = small_material(replace(records, animals=animals, litters={"2026-x": empty}, projects={}))
    notes = [note for note in all_notes(at_journal(material)) if note.key.startswith("litter/")]
    assert [note.key for note in notes] == ["litter/2026-x/failed", "litter/2026-x/paired"]
    assert notes[0].title == "Juniper and Flint 2026: no young came"
    (line,) = notes[0].tell(at_journal(material)).lines
    assert "".join(span.text for span in line) == "This clutch did not come: Juniper laid slugs on June 3, 2026."
