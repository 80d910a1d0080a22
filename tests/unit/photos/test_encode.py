import hashlib
import io
import struct
import subprocess
import sys
import textwrap
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from helpers.photographs import read_facts
from PIL import Image, ImageCms, ImageDraw, PngImagePlugin

from sitegen.findings import Finding, SitegenError
from sitegen.photos import encode as encode_module
from sitegen.photos.encode import Encoded, Photograph, encode_pictures, encoded, store_key
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan

Save = Callable[[str, bytes], Path]
Draw = Callable[..., Image.Image]
Write = Callable[..., bytes]

SMALL = PictureSettings(widths=(24, 48))


@pytest.fixture
def picture_store(tmp_path: Path) -> Store:
    return Store(tmp_path / "store")


def photograph(path: Path, settings: PictureSettings = SMALL) -> Photograph:
    facts = read_facts(path)
    assert isinstance(facts, PhotoFacts), facts
    return Photograph(path, f"animals/juniper/{path.name}", facts, plan(facts, settings))


def all_bytes(encoded: Encoded) -> dict[str, bytes]:
    return {name: kept.read() for name, kept in encoded.files.items()}


def widest(encoded: Encoded, format: str) -> Image.Image:
    ending = {"avif": ".avif", "jpeg": ".jpg"}[format]
    kept = [kept for name, kept in encoded.files.items() if name.endswith(ending)][-1]
    return Image.open(io.BytesIO(kept.read()))


def quarter_colours(image: Image.Image) -> list[tuple[int, ...]]:
    width, height = image.size
    places = [(x * width // 4, y * height // 4) for y in (1, 3) for x in (1, 3)]
    return [image.getpixel(place) for place in places]


def alike(one: tuple[int, ...], other: tuple[int, ...], within: int = 12) -> bool:
    return len(one) == len(other) and all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def one_picture(content: bytes, save_photo: Save, store: Store, settings: PictureSettings = SMALL) -> Encoded:
    encoded = encode_pictures([photograph(save_photo("photo", content), settings)], settings, store)
    assert encoded.findings == ()
    return encoded


# --- nothing of the original but its pixels -----------------------------------------------------------------------

SERIAL = "SN-4471-QX-PLANTED"
MAKER = "Planted Camera Works"
LATITUDE = (52, 1, 57, 1, 987654321, 19876543)
XMP = (
    b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    b'<rdf:Description xmlns:dc="http://purl.org/dc/elements/1.1/" dc:creator="Planted Person"/></rdf:RDF></x:xmpmeta>'
)
COMMENT = b"planted comment: 5 Planted Street"
SWAPPED = ((0.3851, 0.7169, 0.0971), (0.4361, 0.2225, 0.0139), (0.1431, 0.0606, 0.7139))
"""The primaries of sRGB under D50, red and green exchanged. Source: IEC 61966-2-1 profile values (from memory)."""


def planted(
    format: str, quarters: Draw, written: Write, exif_block: Write, colour_profile: Write
) -> tuple[bytes, bytes]:
    """A photo full of things that must not be published, and its embedded thumbnail."""
    thumbnail = written(Image.effect_noise((32, 24), 90).convert("RGB"), "JPEG")
    exif = exif_block(6, MAKER, SERIAL, "2024:05:01 18:30:00", LATITUDE, thumbnail)
    options = {"exif": b"Exif\0\0" + exif, "icc_profile": colour_profile(SWAPPED, 2.2), "xmp": XMP}
    if format == "JPEG":
        options["comment"] = COMMENT
    if format == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Comment", COMMENT.decode())
        options["pnginfo"] = text
    return written(quarters(200, 150), format, **options), thumbnail


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP", "AVIF", "TIFF"])
def test_no_byte_of_metadata_reaches_a_picture(
    format: str,
    save_photo: Save,
    quarters: Draw,
    written: Write,
    exif_block: Write,
    colour_profile: Write,
    picture_store: Store,
) -> None:
    content, thumbnail = planted(format, quarters, written, exif_block, colour_profile)
    traces = [
        *(SERIAL.encode(), MAKER.encode(), b"2024:05:01", b"Planted", b"planted", b"Exif", b"MM\0*", b"II*\0"),
        *(b"xmpmeta", b"ns.adobe.com", b"adobe:ns", b"rdf:", b"ICC_PROFILE", b"acsp", b"mime", b"8BIM", b"GPS"),
        *(struct.pack(f"{order}3I", *LATITUDE[3:]) for order in "<>"),
        thumbnail[-60:],
    ]
    in_original = [trace for trace in traces if trace in content]
    if format == "JPEG":
        assert {SERIAL.encode(), MAKER.encode(), b"xmpmeta", thumbnail[-60:], b"acsp"} <= set(in_original)
        assert COMMENT in content
    encoded = one_picture(content, save_photo, picture_store, PictureSettings(widths=(48, 96, 150)))
    assert len(encoded.files) == 6
    for name, made in all_bytes(encoded).items():
        assert not [trace for trace in traces if trace in made], name


def test_a_jpeg_holds_only_the_segments_that_pixels_need(
    save_photo: Save,
    quarters: Draw,
    written: Write,
    exif_block: Write,
    colour_profile: Write,
    picture_store: Store,
) -> None:
    content, _ = planted("JPEG", quarters, written, exif_block, colour_profile)
    encoded = one_picture(content, save_photo, picture_store)
    for name, made in all_bytes(encoded).items():
        if name.endswith(".jpg"):
            # JFIF head, tables, progressive frame, Huffman tables, scans. Source: ITU-T T.81, table B.1 (from memory).
            assert set(segments(made)) <= {0xE0, 0xDB, 0xC2, 0xC4, 0xDA}


def segments(jpeg: bytes) -> list[int]:
    """The marks of a JPEG's segments in order, scans passed over byte by byte."""
    found, at = [], 2
    while at < len(jpeg) - 2:
        if jpeg[at] == 0xFF and jpeg[at + 1] not in (0, 0xFF) and not 0xD0 <= jpeg[at + 1] <= 0xD7:
            found.append(jpeg[at + 1])
            at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
        else:
            at += 1
    return found


def test_names_of_pictures_tell_nothing_of_the_photo(
    save_photo: Save, quarters: Draw, written: Write, picture_store: Store
) -> None:
    path = save_photo("Juniper at Planted Street 5.jpg", written(quarters(), "JPEG"))
    encoded = encode_pictures([photograph(path)], SMALL, picture_store)
    assert all(not name.removeprefix("pictures/").strip("0123456789abcdef-.vijpg") for name in encoded.files)


# --- upright, the right size --------------------------------------------------------------------------------------


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_every_orientation_comes_out_upright(
    orientation: int,
    format: str,
    save_photo: Save,
    quarters: Draw,
    written: Write,
    exif_block: Write,
    raw_for: Callable[[Image.Image, int], Image.Image],
    picture_store: Store,
) -> None:
    upright = quarters(64, 40)
    options = {"quality": 95} if format != "PNG" else {}
    content = written(raw_for(upright, orientation), format, exif=b"Exif\0\0" + exif_block(orientation), **options)
    encoded = one_picture(content, save_photo, picture_store)
    for output in ("avif", "jpeg"):
        with widest(encoded, output) as picture:
            assert picture.size == (48, 30)
            assert picture.getexif().get(0x0112, 1) == 1
            for seen, meant in zip(quarter_colours(picture), quarter_colours(upright), strict=True):
                assert alike(seen, meant), (seen, meant)


def test_a_large_turned_jpeg_is_upright_too_though_decoded_at_a_smaller_scale(
    save_photo: Save, quarters: Draw, written: Write, exif_block: Write, picture_store: Store
) -> None:
    upright = quarters(1201, 1603)
    stored = upright.transpose(Image.Transpose.ROTATE_90)
    content = written(stored, "JPEG", exif=b"Exif\0\0" + exif_block(6), quality=95)
    encoded = one_picture(content, save_photo, picture_store, PictureSettings(widths=(100, 300)))
    with widest(encoded, "jpeg") as picture:
        assert picture.size == (300, round(1603 * 300 / 1201))
        for seen, meant in zip(quarter_colours(picture), quarter_colours(upright), strict=True):
            assert alike(seen, meant)


@pytest.mark.parametrize("size", [(64, 40), (101, 67), (40, 97), (30, 30), (1, 1), (500, 2), (2, 500)])
def test_planned_and_made_pictures_have_the_same_size(
    size: tuple[int, int], save_photo: Save, written: Write, exif_block: Write, picture_store: Store
) -> None:
    content = written(Image.new("RGB", size, (90, 60, 30)), "JPEG", exif=b"Exif\0\0" + exif_block(8))
    photo = photograph(save_photo("a.jpg", content))
    assert (photo.facts.width_px, photo.facts.height_px) == (size[1], size[0])
    encoded = encode_pictures([photo], SMALL, picture_store)
    assert set(encoded.files) == {variant.file_name for variant in photo.pictures.variants}
    for variant in photo.pictures.variants:
        with Image.open(io.BytesIO(encoded.files[variant.file_name].read())) as picture:
            assert picture.size == (variant.width_px, variant.height_px)
            assert (picture.format or "").lower() == variant.format


def test_a_small_photo_keeps_its_own_size(
    save_photo: Save, quarters: Draw, written: Write, picture_store: Store
) -> None:
    encoded = one_picture(written(quarters(20, 15), "PNG"), save_photo, picture_store)
    assert [widest(encoded, format).size for format in ("avif", "jpeg")] == [(20, 15), (20, 15)]
    assert len(encoded.files) == 2


# --- colours ------------------------------------------------------------------------------------------------------


def middle_colour(content: bytes, save_photo: Save, store: Store) -> tuple[int, ...]:
    encoded = one_picture(content, save_photo, store)
    with widest(encoded, "jpeg") as jpeg, widest(encoded, "avif") as avif:
        assert (jpeg.mode, avif.mode) == ("RGB", "RGB")
        seen = [picture.getpixel((picture.width // 2, picture.height // 2)) for picture in (jpeg, avif)]
    assert alike(seen[0], seen[1], 6)
    return seen[0]


def test_cmyk_becomes_the_colours_it_means(save_photo: Save, written: Write, picture_store: Store) -> None:
    for inks, meant in (((0, 255, 255, 0), (255, 0, 0)), ((0, 0, 0, 0), (255, 255, 255)), ((0, 0, 0, 255), (0, 0, 0))):
        content = written(Image.new("CMYK", (60, 40), inks), "JPEG", quality=95)
        assert alike(middle_colour(content, save_photo, picture_store), meant), inks


def test_what_is_transparent_is_white(save_photo: Save, written: Write, picture_store: Store) -> None:
    clear = Image.new("RGBA", (60, 40), (0, 0, 0, 0))
    half = Image.new("RGBA", (60, 40), (255, 0, 0, 128))
    grey = Image.new("LA", (60, 40), (0, 0))
    assert alike(middle_colour(written(clear, "PNG"), save_photo, picture_store), (255, 255, 255))
    assert alike(middle_colour(written(half, "WEBP", lossless=True), save_photo, picture_store), (255, 127, 127))
    assert alike(middle_colour(written(grey, "PNG"), save_photo, picture_store), (255, 255, 255))


def test_a_palette_with_a_transparent_colour(save_photo: Save, written: Write, picture_store: Store) -> None:
    image = Image.new("P", (60, 40), 1)
    image.putpalette([200, 30, 30, 10, 120, 40])
    assert alike(middle_colour(written(image, "PNG"), save_photo, picture_store), (10, 120, 40))
    content = written(image, "PNG", transparency=1)
    assert alike(middle_colour(content, save_photo, picture_store), (255, 255, 255))
    assert alike(middle_colour(written(image, "GIF", transparency=1), save_photo, picture_store), (255, 255, 255))


def test_sixteen_bits_are_scaled_not_cut(
    save_photo: Save, png_by_hand: Callable[[int, int, int, int, bytes], bytes], picture_store: Store
) -> None:
    grey = png_by_hand(40, 30, 16, 0, (b"\0" + struct.pack(">H", 0x8040) * 40) * 30)
    colour = png_by_hand(40, 30, 16, 2, (b"\0" + struct.pack(">3H", 0xC800, 0x6400, 0x3200) * 40) * 30)
    assert alike(middle_colour(grey, save_photo, picture_store), (0x80, 0x80, 0x80), 3)
    assert alike(middle_colour(colour, save_photo, picture_store), (0xC8, 0x64, 0x32), 5)


@pytest.mark.parametrize("mode", ["1", "L"])
def test_grey_and_black_and_white(mode: str, save_photo: Save, written: Write, picture_store: Store) -> None:
    image = Image.new("L", (60, 40), 255).convert(mode)
    assert alike(middle_colour(written(image, "PNG"), save_photo, picture_store), (255, 255, 255))


@pytest.mark.parametrize("format", ["GIF", "WEBP", "PNG", "AVIF"])
def test_of_moving_pictures_the_first_is_shown_and_stands_still(
    format: str, save_photo: Save, written: Write, picture_store: Store
) -> None:
    frames = [Image.new("RGB", (60, 40), colour) for colour in ((250, 0, 0), (0, 250, 0), (0, 0, 250))]
    content = written(frames[0], format, save_all=True, append_images=frames[1:], duration=100)
    assert getattr(Image.open(io.BytesIO(content)), "n_frames", 1) == 3
    encoded = one_picture(content, save_photo, picture_store)
    for output in ("avif", "jpeg"):
        with widest(encoded, output) as picture:
            assert getattr(picture, "n_frames", 1) == 1
            assert alike(picture.getpixel((20, 15)), (250, 0, 0))


# Display P3 primaries under D50. Source: SMPTE EG 432-1 with Bradford adaptation (from memory).
WIDE = ((0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189), (0.15710, 0.06657, 0.78407))
SRGB_D50 = ((0.43607, 0.22249, 0.01392), (0.38515, 0.71687, 0.09708), (0.14307, 0.06061, 0.71410))


def in_srgb(colour: tuple[int, int, int], primaries: tuple[tuple[float, ...], ...], gamma: float) -> tuple[int, ...]:
    """What a colour of another RGB space is in sRGB. Source: IEC 61966-2-1, transfer function."""
    light = (np.array(colour) / 255) ** gamma
    linear = np.linalg.inv(np.array(SRGB_D50).T) @ np.array(primaries).T @ light
    clipped = np.clip(linear, 0, 1)
    told = np.where(clipped <= 0.0031308, 12.92 * clipped, 1.055 * clipped ** (1 / 2.4) - 0.055)
    return tuple(round(255 * value) for value in told)


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP", "AVIF", "TIFF"])
def test_a_wide_colour_space_is_converted(
    format: str, save_photo: Save, written: Write, colour_profile: Write, picture_store: Store
) -> None:
    colour = (190, 110, 70)
    meant = in_srgb(colour, WIDE, 2.2)
    assert not alike(meant, colour, 8), "the test would prove nothing"
    options = {} if format in ("PNG", "TIFF") else {"quality": 100}
    content = written(Image.new("RGB", (60, 40), colour), format, icc_profile=colour_profile(WIDE, 2.2), **options)
    assert alike(middle_colour(content, save_photo, picture_store), meant, 5)


def test_a_profile_of_its_own_colours_is_obeyed(
    save_photo: Save, written: Write, colour_profile: Write, picture_store: Store
) -> None:
    content = written(Image.new("RGB", (60, 40), (200, 60, 60)), "PNG", icc_profile=colour_profile(SWAPPED, 2.2))
    assert alike(middle_colour(content, save_photo, picture_store), in_srgb((200, 60, 60), SWAPPED, 2.2), 5)


def test_a_broken_or_unfit_profile_is_passed_over(
    save_photo: Save, written: Write, colour_profile: Write, picture_store: Store
) -> None:
    whole = colour_profile(SWAPPED, 2.2)
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    for profile in (b"no profile", whole[:200], b"\0" * 3000, lab):
        content = written(Image.new("RGB", (60, 40), (200, 60, 60)), "PNG", icc_profile=profile)
        assert alike(middle_colour(content, save_photo, picture_store), (200, 60, 60), 5)
    grey = written(Image.new("L", (60, 40), 90), "PNG", icc_profile=whole)
    assert alike(middle_colour(grey, save_photo, picture_store), (90, 90, 90), 5)


def test_the_same_photo_in_both_formats_looks_like_the_original(
    save_photo: Save, written: Write, picture_store: Store
) -> None:
    scene = Image.linear_gradient("L").resize((600, 400)).convert("RGB")
    ImageDraw.Draw(scene).ellipse((150, 80, 450, 320), fill=(150, 90, 50), outline=(40, 20, 10), width=12)
    encoded = one_picture(written(scene, "PNG"), save_photo, picture_store, PictureSettings(widths=(300,)))
    meant = np.asarray(scene.resize((300, 200), Image.Resampling.LANCZOS), float)
    for format in ("avif", "jpeg"):
        with widest(encoded, format) as picture:
            difference = np.sqrt(((np.asarray(picture.convert("RGB"), float) - meant) ** 2).mean())
            assert difference < 6, format


# --- the store, workers, failures ---------------------------------------------------------------------------------


@pytest.fixture
def five_photos(save_photo: Save, written: Write) -> list[Photograph]:
    paths = []
    for number in range(5):
        scene = Image.effect_noise((700 + number, 500), 60).convert("RGB")
        paths.append(save_photo(f"{number}.jpg", written(scene, "JPEG")))
    return [photograph(path, PictureSettings(widths=(160, 640))) for path in paths]


BOTH = PictureSettings(widths=(160, 640))


def test_the_bytes_do_not_depend_on_the_number_of_workers(five_photos: list[Photograph], tmp_path: Path) -> None:
    made = [
        encode_pictures(photos, BOTH, Store(tmp_path / f"store-{workers}"), workers)
        for workers, photos in ((1, five_photos), (2, five_photos), (3, five_photos[::-1]))
    ]
    assert [(encoded.made, encoded.kept, encoded.findings) for encoded in made] == [(20, 0, ())] * 3
    assert all_bytes(made[0]) == all_bytes(made[1]) == all_bytes(made[2])


def begun_by(monkeypatch: pytest.MonkeyPatch) -> list[Photograph]:
    """The photographs that are given to workers from now on, in their order; nothing becomes of them."""
    begun: list[Photograph] = []

    def in_workers(work: object, jobs: Sequence[Any], *others: object) -> list[None]:
        begun.extend(job.photograph for job in jobs)
        return [None for _ in jobs]

    monkeypatch.setattr(encode_module, "in_workers", in_workers)
    return begun


def test_the_largest_photograph_is_begun_first(
    five_photos: list[Photograph], picture_store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun = begun_by(monkeypatch)
    sizes = [(400, 300), (900, 600), (600, 600), (300, 200), (800, 600)]
    photographs = [
        replace(each, facts=replace(each.facts, width_px=width, height_px=height))
        for each, (width, height) in zip(five_photos, sizes, strict=True)
    ]
    encode_pictures(photographs, SMALL, picture_store, workers=1)
    pixels = [each.facts.width_px * each.facts.height_px for each in begun]
    assert pixels == [540_000, 480_000, 360_000, 120_000, 60_000]


def test_of_equal_photographs_a_tall_one_is_begun_first(
    save_photo: Save, written: Write, picture_store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun = begun_by(monkeypatch)
    sizes = {"wide.jpg": (800, 600), "tall.jpg": (600, 800), "wider.jpg": (960, 500)}
    photographs = [
        photograph(save_photo(name, written(Image.new("RGB", size), "JPEG")), SMALL) for name, size in sizes.items()
    ]
    encode_pictures(photographs, SMALL, picture_store, workers=1)
    assert [each.path.name for each in begun] == ["tall.jpg", "wide.jpg", "wider.jpg"]


def test_avif_is_written_with_one_thread_and_untiled(
    quarters: Draw, monkeypatch: pytest.MonkeyPatch, five_photos: list[Photograph]
) -> None:
    asked = []
    save = Image.Image.save

    def watch(self: Image.Image, file: object, format: str, **options: object) -> None:
        asked.append((format, options))
        save(self, file, format, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(Image.Image, "save", watch)
    for variant in five_photos[0].pictures.variants:
        encoded(quarters(variant.width_px, variant.height_px), variant, BOTH)
    avif = [options for format, options in asked if format == "AVIF"]
    assert len(avif) == 2
    assert all((o["max_threads"], o["autotiling"], o["speed"], o["quality"]) == (1, False, 9, 55) for o in avif)


def test_a_second_run_encodes_nothing(
    five_photos: list[Photograph], picture_store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = encode_pictures(five_photos, BOTH, picture_store)
    begun = begun_by(monkeypatch)
    second = encode_pictures(five_photos, BOTH, picture_store, workers=1)
    assert (first.made, first.kept) == (20, 0)
    assert (second.made, second.kept) == (0, 20)
    assert begun == []
    assert first.files == second.files


def test_only_what_is_missing_is_made_and_is_the_same(five_photos: list[Photograph], picture_store: Store) -> None:
    first = encode_pictures(five_photos, BOTH, picture_store)
    before = all_bytes(first)
    name = five_photos[2].pictures.variants[0].file_name
    times = {other: kept.path.stat().st_mtime_ns for other, kept in first.files.items() if other != name}
    first.files[name].path.unlink()
    second = encode_pictures(five_photos, BOTH, picture_store)
    assert (second.made, second.kept) == (1, 19)
    assert all_bytes(second) == before
    assert times == {other: kept.path.stat().st_mtime_ns for other, kept in second.files.items() if other != name}


def test_other_settings_make_new_pictures_beside_the_old(five_photos: list[Photograph], picture_store: Store) -> None:
    encode_pictures(five_photos[:1], BOTH, picture_store)
    coarse = replace(BOTH, jpeg_quality=40)
    again = [replace(photo, pictures=plan(photo.facts, coarse)) for photo in five_photos[:1]]
    encoded = encode_pictures(again, coarse, picture_store)
    assert encoded.made == 4
    old = five_photos[0].pictures.of_format("jpeg")[-1].file_name
    new = again[0].pictures.of_format("jpeg")[-1].file_name
    kept = picture_store.find("pictures", store_key(old))
    assert kept is not None
    assert len(encoded.files[new].read()) < len(kept.read())


def test_a_photo_used_twice_is_encoded_once(
    save_photo: Save, quarters: Draw, written: Write, picture_store: Store
) -> None:
    content = written(quarters(), "JPEG")
    photos = [photograph(save_photo(name, content)) for name in ("a/1.jpg", "b/1.jpg")]
    told: list[tuple[int, int]] = []
    encoded = encode_pictures(photos, SMALL, picture_store, progress=lambda done, total: told.append((done, total)))
    assert encoded.made == len(encoded.files) == 4
    assert told == [(0, 1), (1, 1)]


def test_progress_tells_each_original(five_photos: list[Photograph], picture_store: Store) -> None:
    told: list[tuple[int, int]] = []
    encode_pictures(five_photos, BOTH, picture_store, 2, lambda done, total: told.append((done, total)))
    assert told[0] == (0, 5)
    assert told[-1] == (5, 5)
    assert told == sorted(told)


@pytest.mark.parametrize("workers", [1, 2])
def test_one_photo_that_cannot_be_decoded_is_a_finding_and_the_others_are_made(
    workers: int, five_photos: list[Photograph], picture_store: Store
) -> None:
    broken = five_photos[1]
    content = broken.path.read_bytes()[:3000]
    broken.path.write_bytes(content)
    photos = five_photos.copy()
    photos[1] = replace(broken, facts=replace(broken.facts, content_hash=hashlib.sha256(content).hexdigest()))
    encoded = encode_pictures(photos, BOTH, picture_store, workers)
    (finding,) = encoded.findings
    assert isinstance(finding, Finding)
    assert str(finding.place) == "animals/juniper/1.jpg"
    assert "damaged" in finding.message
    assert encoded.made == len(encoded.files) == 16
    assert not [name for name in encoded.files if name.startswith(f"pictures/{broken.pictures.key}")]


def test_a_photo_that_changed_since_it_was_looked_at_is_a_finding(
    five_photos: list[Photograph], picture_store: Store
) -> None:
    five_photos[0].path.write_bytes(five_photos[1].path.read_bytes())
    five_photos[2].path.unlink()
    encoded = encode_pictures(five_photos[:3], BOTH, picture_store)
    assert [finding.message for finding in encoded.findings] == [
        "this photo was changed while the site was being built",
        "this photo cannot be opened",
    ]
    assert encoded.made == 4


def test_a_store_that_cannot_be_written_is_told(five_photos: list[Photograph], tmp_path: Path) -> None:
    (tmp_path / "store").write_text("a file in its place")
    for workers in (1, 2):
        with pytest.raises(SitegenError, match="cannot be kept in"):
            encode_pictures(five_photos, BOTH, Store(tmp_path / "store"), workers)


def test_a_killed_run_leaves_no_half_picture_and_the_next_finishes(
    five_photos: list[Photograph], picture_store: Store, tmp_path: Path
) -> None:
    program = """
        import os, signal, sys, tempfile
        from pathlib import Path
        from sitegen.photos.encode import Photograph, encode_pictures
        from sitegen.photos.facts import read_all_facts
        from sitegen.photos.variants import PictureSettings, plan
        from sitegen.photos.store import Store
        store, settings = Store(Path(sys.argv[1])), PictureSettings(widths=(160, 640))
        write, calls = os.fdopen, []
        def half(handle, mode):
            calls.append(handle)
            file = write(handle, mode)
            if len(calls) == 7:
                file.write(b"half a picture")
                file.flush()
                for process in (os.getppid(), os.getpid()):
                    os.kill(process, signal.SIGKILL)
            return file
        photos = []
        for path in map(Path, sys.argv[2:]):
            facts = read_all_facts({path.name: path})[0][path.name]
            photos.append(Photograph(path, path.name, facts, plan(facts, settings)))
        os.fdopen = half
        encode_pictures(photos, settings, store, workers=1)
    """
    names = [str(photo.path) for photo in five_photos]
    command = [sys.executable, "-c", textwrap.dedent(program), str(picture_store.folder), *names]
    assert subprocess.run(command, check=False, timeout=60).returncode == -9
    encoded = encode_pictures(five_photos, BOTH, picture_store)
    assert (encoded.made, encoded.kept) == (14, 6)
    clean = encode_pictures(five_photos, BOTH, Store(tmp_path / "clean"))
    assert all_bytes(encoded) == all_bytes(clean)
