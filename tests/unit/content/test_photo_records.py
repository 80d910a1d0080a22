"""To whom a photo belongs and when it was taken, from its name."""

import pytest
from helpers.from_text import CORN, bound, told

from sitegen.content.photo_records import date_in_name, young_in_name
from sitegen.content.values import PartialDate
from sitegen.findings import Kind, Level


@pytest.mark.parametrize(
    ("name", "date"),
    [
        ("2024-05-01.jpg", PartialDate(2024, 5, 1)),
        ("2025-06-12 shed.jpg", PartialDate(2025, 6, 12)),
        ("20240501_1200.jpg", PartialDate(2024, 5, 1)),
        ("IMG_20240501_120000.HEIC", PartialDate(2024, 5, 1)),
        ("PXL_20240501.jpg", PartialDate(2024, 5, 1)),
        ("03 2026-08-01.jpg", PartialDate(2026, 8, 1)),
        ("shed 2024.05.01.png", PartialDate(2024, 5, 1)),
        ("2024-05 yearling.jpg", PartialDate(2024, 5)),
        ("DSC01234567.jpg", None),
        ("2024-13-41.jpg", None),
        ("2023-02-29.jpg", PartialDate(2023, 2)),
        ("123456789.jpg", None),
        ("99999999.jpg", None),
        ("juniper.jpg", None),
    ],
)
def test_dates_as_cameras_and_people_write_them(name: str, date: PartialDate | None) -> None:
    assert date_in_name(name) == date


@pytest.mark.parametrize(
    ("name", "young"),
    [
        ("03.jpg", "03"),
        ("03 hatching.jpg", "03"),
        ("03-b.jpg", "03"),
        ("3_b.jpg", "03"),
        ("12 a.jpg", "12"),
        ("3a x.jpg", "3a"),
        ("2026-07-18.jpg", ""),
        ("20260718.jpg", ""),
        ("0300.jpg", ""),
        ("all.jpg", ""),
        (".jpg", ""),
    ],
)
def test_photos_of_young_begin_with_the_number(name: str, young: str) -> None:
    assert young_in_name(name, ["03", "12", "3a"]) == young


RECORDS = """
=== animals/juniper/animal.yaml
species: corn-snake
captions: {2024-05-01.JPG: After the shed}
=== litters/l/litter.yaml
dam: juniper
captions: {nest.jpg: The clutch}
young:
  "01": {captions: {01 b.jpg: Out of the egg}}
  "02":
"""
PHOTOS = {
    "animals__juniper": ("undated.png", "2025-06-12 shed.jpg", "2024-05-01.jpg"),
    "litters__l": ("01 b.jpg", "02_2026-08-01.jpg", "nest.jpg"),
}


def test_photos_stand_by_date_with_their_captions_and_belong_to_one_record() -> None:
    collection = bound(CORN + RECORDS, **PHOTOS)
    assert [(photo.path, photo.caption) for photo in collection.animals["juniper"].photos] == [
        ("animals/juniper/2024-05-01.jpg", "After the shed"),
        ("animals/juniper/2025-06-12 shed.jpg", ""),
        ("animals/juniper/undated.png", ""),
    ]
    assert [(photo.path, photo.caption) for photo in collection.litters["l"].photos] == [
        ("litters/l/nest.jpg", "The clutch")
    ]
    assert [(photo.path, photo.caption) for photo in collection.animals["l/01"].photos] == [
        ("litters/l/01 b.jpg", "Out of the egg")
    ]
    assert collection.animals["l/02"].photos[0].date == PartialDate(2026, 8, 1)


def test_pictures_are_drawings_when_the_site_says_so() -> None:
    drawn = bound(CORN + RECORDS + "=== site.yaml\ndrawings: yes\n", **PHOTOS)
    assert all(photo.drawing for photo in drawn.animals["juniper"].photos)
    assert drawn.site.drawings
    assert not bound(CORN + RECORDS, **PHOTOS).animals["juniper"].photos[0].drawing


@pytest.mark.parametrize(("photo", "near"), [("2024-05-01.jpeg", "2024-05-01.jpeg"), ("2024-05-02.jpg", "")])
def test_a_caption_without_its_photo_is_a_notice_with_the_nearest_name(photo: str, near: str) -> None:
    findings = told(CORN + RECORDS, animals__juniper=(photo,), litters__l=PHOTOS["litters__l"])
    assert [(f.kind, f.level, f.nearest) for f in findings] == [(Kind.PHOTO_UNKNOWN, Level.NOTICE, near)]
