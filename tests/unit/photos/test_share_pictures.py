"""Share pictures: composed once, the right size, nothing in them but pixels, every word whole or left out."""

import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from sitegen.findings import SitegenError
from sitegen.photos.share_pictures import (
    HEIGHT_PX,
    WIDTH_PX,
    Lettering,
    SetLines,
    ShareCard,
    ShareStyle,
    compose_shares,
    composed,
    store_key,
)
from sitegen.photos.store import Kept, Store
from sitegen.render.themes import find_theme, share_style

STYLE = share_style(find_theme("specimen-sheet"))
CARD = ShareCard(
    "Corn snake, female", "Juniper", "Shows amelanistic and motley.", "Quillmoor Snakes", "", "pictures/x-960.jpg"
)
ROOM = 440


def photo(folder: Path, size: tuple[int, int] = (960, 720), colour: str = "#336699") -> Kept:
    written = io.BytesIO()
    Image.new("RGB", size, colour).save(written, "JPEG", quality=95)
    return Store(folder / "photos").write("pictures", "x-960.jpg", written.getvalue())


def inked_to(piece: SetLines) -> int:
    """How far to the right the lines reach when they are drawn, in pixels."""
    drawn = Image.new("L", (3 * ROOM, piece.height))
    piece.draw(ImageDraw.Draw(drawn), (0, 0), "white")
    box = drawn.getbbox()
    assert box is not None
    return box[2]


def differs(one: Image.Image, other: Image.Image) -> np.ndarray:
    """Where two pictures differ."""
    return np.abs(np.asarray(one).astype(int) - np.asarray(other).astype(int)).sum(axis=2) > 0


def test_a_card_becomes_a_picture_of_the_size_that_is_told_and_a_second_run_makes_none(tmp_path: Path) -> None:
    store, cards = Store(tmp_path / "store"), {CARD.address: CARD}
    pictures = {CARD.photo: photo(tmp_path)}
    first = compose_shares(cards, STYLE, pictures, store, workers=1)
    assert first.made == 1
    content = first.files[CARD.address].read()
    with Image.open(io.BytesIO(content)) as made:
        assert (made.size, made.format, made.mode) == ((WIDTH_PX, HEIGHT_PX), "JPEG", "RGB")
        assert not made.getexif()
        assert set(made.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive", "progression"}
        assert abs(np.asarray(made)[300, 300].astype(int) - (0x33, 0x66, 0x99)).max() < 6
    again = compose_shares(cards, STYLE, pictures, store, workers=1)
    assert (again.made, again.files[CARD.address].read()) == (0, content)


def test_the_bytes_do_not_depend_on_the_number_of_workers(tmp_path: Path) -> None:
    cards = {card.address: card for card in (replace(CARD, name=f"Animal {n}") for n in range(5))}
    pictures = {CARD.photo: photo(tmp_path)}
    one = compose_shares(cards, STYLE, pictures, Store(tmp_path / "one"), workers=1)
    two = compose_shares(cards, STYLE, pictures, Store(tmp_path / "two"), workers=2)
    assert list(one.files) == list(two.files)
    assert [p.read() for p in one.files.values()] == [p.read() for p in two.files.values()]


@pytest.mark.parametrize("field", ["kicker", "name", "line", "foot", "mark", "photo"])
def test_everything_that_stands_on_it_changes_its_address(field: str) -> None:
    assert replace(CARD, **{field: "other"}).address != CARD.address


def test_another_look_is_another_picture_at_the_same_address(tmp_path: Path) -> None:
    dark = replace(STYLE, paper="#101010", ink="#f0f0f0")
    assert store_key(CARD, STYLE) != store_key(CARD, dark)
    store = Store(tmp_path / "store")
    made = [compose_shares({CARD.address: CARD}, style, {}, store, workers=1) for style in (STYLE, dark, STYLE, dark)]
    assert [each.made for each in made] == [1, 1, 0, 0]
    assert made[0].files[CARD.address].read() != made[1].files[CARD.address].read()


@pytest.mark.parametrize("field", ["kicker", "name", "line", "foot"])
def test_every_word_is_drawn_within_its_room(field: str) -> None:
    ground = Image.new("RGB", (900, 700), "#885522")
    drawn = differs(composed(CARD, ground, STYLE), composed(replace(CARD, **{field: ""}), ground, STYLE))
    assert drawn.any()
    rows, columns = np.nonzero(drawn)
    assert columns.min() > 600
    assert columns.max() <= WIDTH_PX - 40
    assert rows.max() < HEIGHT_PX - 20


def test_a_mark_stands_on_the_photo() -> None:
    ground = Image.new("RGB", (900, 700), "#885522")
    rows, columns = np.nonzero(
        differs(composed(CARD, ground, STYLE), composed(replace(CARD, mark="Drawing"), ground, STYLE))
    )
    assert columns.max() < 300
    assert rows.min() > 480


@pytest.mark.parametrize("name", ["J", "No. 12 of Juniper and Basalt 2023", "Wollgraswindröschen" * 4, "a b " * 90])
@pytest.mark.parametrize("pictured", [True, False])
def test_long_names_stay_within_the_picture_and_clear_of_the_line(name: str, *, pictured: bool) -> None:
    ground = Image.new("RGB", (900, 700), "#885522") if pictured else None
    card = replace(CARD, name=name, line="May carry hypo. " * 30, foot="Quillmoor " * 12)
    picture = np.asarray(composed(card, ground, STYLE))
    paper = np.asarray(Image.new("RGB", (1, 1), STYLE.paper))[0, 0]
    for edge in (picture[-12:, :], picture[12:, -30:]):
        assert (edge == paper).all()


def test_signs_of_other_parts_of_the_alphabet_come_from_the_second_font() -> None:
    piece = Lettering(STYLE.roman).piece("Łucja Žofka Ğül ½ “ö”", 60, 900, 1)
    assert piece is not None
    assert piece.whole


def test_what_the_fonts_cannot_write_is_left_out_and_never_a_box() -> None:
    ground = Image.new("RGB", (900, 700), "#885522")
    unwritten = composed(replace(CARD, name="蛇の名"), ground, STYLE)
    assert not differs(unwritten, composed(replace(CARD, name=""), ground, STYLE)).any()


def test_lines_are_never_wider_than_their_room() -> None:
    lettering = Lettering(STYLE.roman)
    for text in ("word " * 60, "unbreakable" * 20, "Shows amelanistic, caramel and tessera."):
        piece = lettering.fitting(text, 76, 24, ROOM, 300)
        assert piece is not None
        assert inked_to(piece) <= ROOM + 2  # a letter may lean a little over its own width
        assert piece.height <= 300
        assert piece.whole or piece.lines[-1].endswith("…")


def test_a_tall_photo_is_shown_whole(tmp_path: Path) -> None:
    tall = Image.new("RGB", (600, 900), "#885522")
    tall.paste("#ffffff", (0, 0, 600, 60))
    tall.paste("#000000", (0, 840, 600, 900))
    picture = composed(CARD, tall, STYLE)
    column = np.asarray(picture)[:, 200]
    assert (column == (255, 255, 255)).all(axis=1).sum() > 20
    assert (column == (0, 0, 0)).all(axis=1).sum() > 20


def test_a_store_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "store").write_text("a file in its place")
    with pytest.raises(SitegenError, match="cannot be kept in"):
        compose_shares({CARD.address: CARD}, STYLE, {}, Store(tmp_path / "store"), workers=1)


def test_styles_differ_by_fonts_and_colours() -> None:
    assert STYLE.key != replace(STYLE, accent="#000000").key
    assert (
        STYLE.key != ShareStyle(STYLE.italic, STYLE.roman, *("#f4eede", "#fbf7ec", "#25201a", "#625745", "#8a2f1d")).key
    )
