"""A row becomes the values of a record, or says at which cell it cannot."""

from helpers.from_text import CORN, bound

from sitegen.findings import Level
from sitegen.genetics.loci import Sex
from sitegen.keeper.columns import Mapped, columns_of
from sitegen.keeper.labels import LabelReader
from sitegen.keeper.rows import Draft, RowReader, record_values
from sitegen.keeper.sheets import Cell, Row, Sheet


def drafted(**cells: str) -> Draft:
    """The draft of a row with one cell under each heading."""
    headings = tuple((at, heading.replace("_", " ")) for at, heading in enumerate(cells, 1))
    row = Row(
        2, tuple(Cell(text, 2, at, heading) for (at, heading), text in zip(headings, cells.values(), strict=True))
    )
    columns, findings = columns_of(Sheet("a.csv", headings, (row,)), Mapped())
    assert findings == ()
    readers = {species_id: LabelReader(species, {}) for species_id, species in bound(CORN).species.items()}
    return RowReader("a.csv", columns, "", readers, "corn-snake").read(row)


def test_the_values_of_a_record_follow_from_a_row() -> None:
    draft = drafted(
        name="Ruby", sex="0.1", born="CB21", morph="amel 66% het hypo", unsure="caramel", acquired="2022-01-02",
        weight="1 kg", weighed="2024-05-01", length="1,025 m", measured="2024-06", price="140",
        currency="EUR", state="for sale", kept="no", notes="bites",
        paid="12",
    )  # fmt: skip
    assert draft.findings == []
    assert record_values(draft, draft.label.carried) == {
        "name": "Ruby",
        "species": "corn-snake",
        "sex": "female",
        "born": "2021",
        "shows": ["amel"],
        "unsure": ("caramel",),
        "acquired": {"date": "2022-01-02"},
        "stated": {"hypo": "66%"},
        "weights": {"2024-05-01": "1000 g"},
        "lengths": {"2024-06": "102.5 cm"},
        "offer": {"price": "140 EUR", "state": "available"},
        "private": {"notes": "bites", "paid": "12"},
    }


def test_nothing_is_said_of_what_is_not_known() -> None:
    draft = drafted(name="Ruby", sex="?", born="unknown", line="-", morph="het hypo")
    assert record_values(draft, ()) == {"name": "Ruby", "species": "corn-snake"}
    assert draft.sex is Sex.UNKNOWN


def test_looked_at_and_nothing_seen_is_not_the_same_as_not_judged() -> None:
    assert record_values(drafted(name="Ruby", morph="normal"), ())["shows"] == []


def test_what_a_row_says_twice_must_agree() -> None:
    draft = drafted(name="Ruby", sex="m", born="2019", morph="0.1 amel CB21")
    assert not draft.whole
    assert [str(finding.place) for finding in draft.findings] == ["a.csv:2:2", "a.csv:2:3"]


def test_a_finer_day_of_birth_that_agrees_is_taken() -> None:
    assert str(drafted(name="Ruby", born="2021-07-14", morph="amel CB21").days["born"]) == "2021-07-14"


def test_what_is_wrong_is_told_at_its_cell_and_once() -> None:
    draft = drafted(name="Ruby", weight="310", weighed="2024")
    (finding,) = draft.findings
    assert (finding.level, str(finding.place)) == (Level.ERROR, "a.csv:2:2")
    assert finding.message.startswith('row 2, weight "310": ')
