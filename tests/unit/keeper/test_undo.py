"""A change is taken back alone: what came before and after it stays, and what stands in the way is told."""

import datetime as dt
import itertools
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.content.writing import FileChange
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.entries import set_offer, state_meant
from sitegen.keeper.new_records import add_animal, add_litter, animal_values
from sitegen.keeper.noted import Noted, add_measured
from sitegen.keeper.records import Proposal, check_proposal, open_records
from sitegen.keeper.undo import InTheWay, change_diff, undo_proposal, with_undone
from sitegen.keeper.undo_record import changes_of, put_in_place

CLOCK = (dt.datetime(2026, 11, 29, 12, tzinfo=dt.UTC) + dt.timedelta(minutes=each) for each in itertools.count())
JUNIPER = "animals/juniper/animal.yaml"
SMALL = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper   # the first
species: corn-snake
sex: female
weights:
  2026-01-01: 300 g
notes: none yet
=== animals/flint/animal.yaml
species: corn-snake
sex: male
=== litters/2026-a/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
young:
  "03":
    sex: male
  "04":
    sex: male
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    text = SMALL.replace("notes: none yet\n", "private: {notes: none yet}\n")
    return write_files(tmp_path / "content", text)


def do(root: Path, proposal: Proposal) -> int:
    check_proposal(open_records(root), proposal)
    return put_in_place(root, proposal, next(CLOCK)).number


def weigh(root: Path, grams: int, month: int) -> int:
    noted = Noted("juniper", f"{grams} g", dt.date(2026, month, 1))
    return do(root, add_measured(open_records(root), "weights", [noted]))


def undo(root: Path, number: int = 0) -> int:
    return do(root, undo_proposal(open_records(root), number))


def text(root: Path, path: str = JUNIPER) -> str:
    return (root / path).read_bytes().decode()


def edit(root: Path, old: str, new: str, path: str = JUNIPER) -> None:
    """As by hand."""
    assert old in text(root, path)
    (root / path).write_bytes(text(root, path).replace(old, new).encode())


def test_the_last_change_goes_first_and_then_the_one_before(root: Path) -> None:
    first = text(root)
    weigh(root, 310, 2)
    second = text(root)
    weigh(root, 320, 3)
    undo(root)
    assert text(root) == second
    undo(root)
    assert text(root) == first
    assert undo_proposal(open_records(root)).files == ()


def test_a_change_in_the_middle_goes_alone(root: Path) -> None:
    weigh(root, 310, 2)
    weigh(root, 320, 3)
    weigh(root, 330, 4)
    undo(root, 2)
    assert "  2026-02-01: 310 g\n  2026-04-01: 330 g\n" in text(root)
    assert "320" not in text(root)


def test_an_undo_can_be_undone_and_that_again(root: Path) -> None:
    weigh(root, 310, 2)
    after = text(root)
    taken_back = undo(root)
    assert "310" not in text(root)
    again = undo(root, taken_back)
    assert text(root) == after
    assert [(change.number, by, change.told) for change, by in with_undone(changes_of(root))] == [
        (3, 0, "Done again: juniper: 310 g on 2026-02-01."),
        (2, 3, "Taken back: juniper: 310 g on 2026-02-01."),
        (1, 0, "juniper: 310 g on 2026-02-01."),
    ]
    undo(root, again)
    assert "310" not in text(root)
    assert next(changes_of(root)).told == "Taken back: juniper: 310 g on 2026-02-01."


def test_what_was_written_by_hand_elsewhere_stays(root: Path) -> None:
    weigh(root, 310, 2)
    edit(root, "# the first", "# mine, by hand")
    edit(root, "none yet", "a scar")
    undo(root)
    assert "310" not in text(root)
    assert "# mine, by hand" in text(root)
    assert "a scar" in text(root)


def test_a_line_that_was_changed_by_hand_stands_in_the_way(root: Path) -> None:
    weigh(root, 310, 2)
    edit(root, "310 g", "311 g")
    with pytest.raises(InTheWay, match=r'Change 1, "juniper: 310 g on 2026-02-01\.".*animal\.yaml:6 .*by hand'):
        undo(root)
    weigh(root, 320, 3)
    undo(root)
    with pytest.raises(InTheWay, match="by hand"):
        undo(root)


def test_the_later_change_that_stands_in_the_way_is_named(root: Path) -> None:
    def price(amount: str) -> int:
        day = dt.date(2026, 10, 1)
        return do(root, set_offer(open_records(root), "juniper", state_meant("available"), day, price=amount))

    price("100")
    weigh(root, 310, 2)
    price("120")
    weigh(root, 320, 3)
    with pytest.raises(InTheWay, match=r"since by change 3, .*sitegen undo 3"):
        undo(root, 1)
    before = text(root)
    undo(root, 3)
    undo(root, 1)
    assert "offer" not in text(root)
    assert "320 g" in text(root) != before


def test_a_first_entry_stays_while_others_hang_on_its_heading(root: Path) -> None:
    edit(root, "weights:\n  2026-01-01: 300 g\n", "")
    first = weigh(root, 310, 2)
    weigh(root, 320, 3)
    before = text(root)
    with pytest.raises(InTheWay, match="sitegen undo 2"):
        undo(root, first)
    assert text(root) == before


def test_a_line_never_strays_to_another_young(root: Path) -> None:
    litter = "litters/2026-a/litter.yaml"
    before = text(root, litter)
    after = before.replace('"04":\n    sex: male', '"04":\n    sex: female')
    do(root, Proposal((FileChange(litter, before.encode(), after.encode()),), "04 is a female."))
    edit(root, '  "03":\n    sex: male\n  "04":\n    sex: female\n', '  "03":\n    sex: female\n', litter)
    with pytest.raises(InTheWay):
        undo(root)
    assert '"03":\n    sex: female' in text(root, litter)


def test_a_new_file_goes_unless_it_was_changed(root: Path) -> None:
    do(root, add_animal(open_records(root), "Tansy", "", animal_values(sex="female")))
    tansy = "animals/tansy/animal.yaml"
    edit(root, "female", "male", tansy)
    with pytest.raises(InTheWay, match=r"animals/tansy/animal\.yaml was changed since, by hand"):
        undo(root)
    edit(root, "male", "female", tansy)
    undo(root)
    assert not (root / "animals/tansy").exists()
    undo(root, 2)
    assert "female" in text(root, tansy)


def test_what_would_leave_an_error_is_not_taken_back(root: Path) -> None:
    do(root, add_animal(open_records(root), "Tansy", "", animal_values(sex="female", born="2020")))
    do(root, add_litter(open_records(root), "tansy", ["flint"], {"born": "2025-07-01"}, 2))
    with pytest.raises(ContentError) as refused:
        undo(root, 1)
    assert any("tansy" in finding.message for finding in refused.value.findings)
    assert (root / "animals/tansy/animal.yaml").exists()
    undo(root)
    undo(root)
    assert not (root / "animals/tansy").exists()


def test_a_file_that_was_removed_comes_back_unless_its_name_is_taken(root: Path) -> None:
    was = text(root)
    litter = FileChange("litters/2026-a/litter.yaml", text(root, "litters/2026-a/litter.yaml").encode(), None)
    do(root, Proposal((litter, FileChange(JUNIPER, was.encode(), None)), "removed"))
    assert not (root / "animals/juniper").exists()
    (root / "animals/juniper").mkdir()
    (root / JUNIPER).write_text("name: Another\nspecies: corn-snake\n")
    with pytest.raises(InTheWay, match="by hand"):
        undo(root)
    (root / JUNIPER).unlink()
    undo(root)
    assert text(root) == was


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_line_ends_and_a_missing_last_one_stay(root: Path, newline: str) -> None:
    content = f"name: J{newline}species: corn-snake{newline}weights:{newline}  2026-01-01: 300 g"
    (root / JUNIPER).write_bytes(content.encode())
    weigh(root, 310, 2)
    weigh(root, 320, 3)
    undo(root, 1)
    assert text(root) == f"{content}{newline}  2026-03-01: 320 g"
    undo(root)
    assert text(root) == content


def test_photographs_go_and_come_back_whole(root: Path) -> None:
    path, content = "animals/juniper/2026-05-01.jpg", bytes(range(256)) * 9
    put_in_place(root, Proposal((FileChange(path, None, content),), "a photograph"), next(CLOCK))
    undo(root)
    assert not (root / path).exists()
    assert (root / JUNIPER).exists()
    undo(root, 2)
    assert (root / path).read_bytes() == content
    (root / path).write_bytes(b"another")
    with pytest.raises(InTheWay, match=r"2026-05-01\.jpg was changed since, by hand"):
        undo(root)


def test_numbers_that_mean_nothing_are_told(root: Path) -> None:
    with pytest.raises(WrongUse, match="there is no change 7"):
        undo(root, 7)
    weigh(root, 310, 2)
    undo(root)
    with pytest.raises(WrongUse, match="taken back already, by change 2; again: sitegen undo 2"):
        undo(root, 1)


def test_a_change_that_was_turned_back_by_hand_is_passed_over(root: Path) -> None:
    weigh(root, 310, 2)
    weigh(root, 320, 3)
    edit(root, "  2026-03-01: 320 g\n", "")
    undo(root)
    assert "310" not in text(root)


def test_the_change_is_shown_as_people_read_changes(root: Path) -> None:
    weigh(root, 310, 2)
    photo = FileChange("animals/juniper/2026-05-01.jpg", None, b"jpeg")
    put_in_place(root, Proposal((photo,), "a photograph"), next(CLOCK))
    picture, weight = changes_of(root)
    assert "+  2026-02-01: 310 g" in change_diff(weight)
    assert change_diff(picture) == "new: animals/juniper/2026-05-01.jpg"
