from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.photos.variants import PhotoFacts, PictureSettings, height_at, plan, widths_of

FACTS = PhotoFacts("ab" * 32, "jpeg", 4032, 3024, date(2026, 7, 20), "data:image/png;base64,")
WANTED = PictureSettings().widths


@pytest.mark.parametrize(
    ("original", "widths"),
    [
        (4032, (480, 640, 960, 1440, 1920)),
        (1920, (480, 640, 960, 1440, 1920)),
        (1900, (480, 640, 960, 1440, 1900)),
        (1500, (480, 640, 960, 1500)),
        (960, (480, 640, 960)),
        (600, (480, 600)),
        (480, (480,)),
        (120, (120,)),
        (1, (1,)),
    ],
)
def test_widths_go_as_far_as_the_original(original: int, widths: tuple[int, ...]) -> None:
    assert widths_of(original, WANTED) == widths


@given(st.integers(1, 20_000), st.sets(st.integers(16, 4000), min_size=1))
def test_no_width_enlarges_and_the_widest_loses_nothing(original: int, wanted: set[int]) -> None:
    widths = widths_of(original, tuple(wanted))
    assert list(widths) == sorted(set(widths))
    assert widths[-1] == min(original, max(wanted))
    assert set(widths) <= wanted | {original}


@given(st.integers(1, 30_000), st.integers(1, 30_000), st.data())
def test_heights_keep_the_shape_to_the_nearest_pixel(width: int, height: int, data: st.DataObject) -> None:
    target = data.draw(st.integers(1, width))
    made = height_at(target, width, height)
    assert made == 1 or abs(2 * made * width - 2 * height * target) <= width
    assert 1 <= made <= height
    assert height_at(width, width, height) == height


def test_every_picture_is_named_before_it_is_made() -> None:
    pictures = plan(FACTS, PictureSettings())
    assert [(v.format, v.width_px, v.height_px) for v in pictures.variants] == [
        (format, width, width * 3 // 4) for format in ("avif", "jpeg") for width in WANTED
    ]
    assert (pictures.width_px, pictures.height_px) == (1920, 1440)
    assert pictures.variants[0].file_name == f"pictures/{pictures.key}-480.avif"
    assert pictures.variants[-1].file_name == f"pictures/{pictures.key}-1920.jpg"
    assert len({v.file_name for v in pictures.variants}) == len(pictures.variants)
    assert (pictures.taken, pictures.placeholder_data) == (FACTS.taken, FACTS.placeholder_data)


@pytest.mark.parametrize(
    "settings",
    [
        PictureSettings(widths=(480, 960)),
        PictureSettings(avif_quality=56),
        PictureSettings(avif_speed=8),
        PictureSettings(jpeg_quality=81),
    ],
)
def test_other_settings_give_other_names(settings: PictureSettings) -> None:
    assert plan(FACTS, settings).key != plan(FACTS, PictureSettings()).key


def test_other_content_gives_other_names_and_other_days_do_not() -> None:
    key = plan(FACTS, PictureSettings()).key
    assert plan(replace(FACTS, content_hash="cd" * 32), PictureSettings()).key != key
    assert plan(replace(FACTS, taken=None), PictureSettings()).key == key


def test_the_name_does_not_give_away_the_hash_of_the_original() -> None:
    assert plan(FACTS, PictureSettings()).key not in FACTS.content_hash


def test_the_fallback_is_of_middle_size() -> None:
    pictures = plan(FACTS, PictureSettings(widths=(480, 960)))
    assert pictures.fallback().width_px == 960
    assert pictures.fallback(500).width_px == 480
    assert pictures.fallback(100).width_px == 480
    assert {v.media_type for v in pictures.of_format("avif")} == {"image/avif"}
