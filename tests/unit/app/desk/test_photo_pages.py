"""Photographs sent to the desk: kept beside the record under a name of ours, or refused with words and nothing kept."""

import io
import os
import re
import struct
import tempfile
import uuid
import zlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Answered, Keeper, at_the_desk
from helpers.from_text import write_files
from PIL import Image

LITTER = "2026-juniper-flint"
RECORDS = """
=== site.yaml
name: Test
=== species/corn-snake.yaml
name: corn snake
births: eggs
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
born: 2026-07-18
young: {"01": {sex: male}, "02": }
=== projects/copper-lace/project.yaml
name: Copper lace
species: corn-snake
goal: {shows: [amel]}
"""


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


def photo(colour: str = "red", taken: str = "", size: tuple[int, int] = (80, 60)) -> bytes:
    written, image = io.BytesIO(), Image.new("RGB", size, colour)
    exif = image.getexif()
    if taken:
        exif.get_ifd(0x8769)[0x9003] = taken
    image.save(written, "JPEG", exif=exif)
    return written.getvalue()


def send(keeper: Keeper, record: str, *files: tuple[str, bytes], **fields: str) -> Answered:
    if not keeper.token:
        keeper.look("/")
    mark = uuid.uuid4().hex
    parts = [
        f'--{mark}\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n'.encode()
        for key, value in {"token": keeper.token, **fields}.items()
    ]
    for name, content in files:
        head = f'--{mark}\r\nContent-Disposition: form-data; name="photos"; filename="{name}"\r\n'
        parts.append(head.encode() + b"Content-Type: image/jpeg\r\n\r\n" + content + b"\r\n")
    body = b"".join([*parts, f"--{mark}--\r\n".encode()])
    headers = {"Origin": keeper.address, "Accept": "application/json"}
    return keeper.ask(
        "POST", f"/photos/{record}", body, Content_Type=f"multipart/form-data; boundary={mark}", **headers
    )


def kept(keeper: Keeper) -> list[str]:
    every = keeper.content.rglob("*")
    return sorted(str(each.relative_to(keeper.content)) for each in every if each.is_file() and each.suffix != ".yaml")


def test_a_photograph_of_a_young_is_kept_under_its_number_and_day(keeper: Keeper) -> None:
    answer = send(keeper, f"{LITTER}/02", ("IMG_1.JPG", photo(taken="2026:07-20 10:00:00".replace("-", ":"))))
    assert kept(keeper) == [f"litters/{LITTER}/02 2026-07-20.jpg"]
    (mark,) = answer.facts["marks"]  # type: ignore[misc]
    small = keeper.look(f"/photos/small/{mark}.jpg")
    assert small.status == 200
    assert Image.open(io.BytesIO(small.body)).size == (80, 60)
    assert "02 2026-07-20.jpg" in keeper.look(f"/photos/{LITTER}/02").text
    assert f"/photos/small/{mark}.jpg" in keeper.look(f"/litters/{LITTER}").text
    assert "There is none yet." in keeper.look(f"/photos/{LITTER}").text


def test_several_with_a_day_and_a_line_below_them(keeper: Keeper) -> None:
    files = [(f"{colour}.jpg", photo(colour)) for colour in ("red", "blue")]
    assert send(keeper, "juniper", *files, day="2026-08-01", caption="After a shed").status == 200
    assert kept(keeper) == ["animals/juniper/2026-08-01 2.jpg", "animals/juniper/2026-08-01.jpg"]
    assert 'alt="After a shed"' in keeper.look("/photos/juniper").text


def test_a_small_picture_is_bounded_and_has_nothing_of_the_camera(keeper: Keeper) -> None:
    taken = "2026:07:20 10:00:00"
    (mark,) = send(keeper, "juniper", ("a.jpg", photo(taken=taken, size=(4000, 3000)))).facts["marks"]  # type: ignore[misc]
    small = Image.open(io.BytesIO(keeper.look(f"/photos/small/{mark}.jpg").body))
    assert max(small.size) == 320
    assert not small.getexif()


@pytest.mark.parametrize("mark", ["0" * 24, "../../animals/juniper/a", "%2e%2e%2fsite.yaml", "animals/juniper/a"])
def test_a_picture_is_asked_for_by_its_mark_alone(keeper: Keeper, mark: str) -> None:
    send(keeper, "juniper", ("a.jpg", photo(taken="2026:07:20 10:00:00")))
    answer = keeper.look(f"/photos/small/{mark}.jpg")
    assert answer.status == 404
    assert b"JFIF" not in answer.body


def test_a_photograph_of_a_project(keeper: Keeper) -> None:
    assert send(keeper, "copper-lace", ("2026-08-01.jpg", photo())).status == 200
    assert kept(keeper) == ["projects/copper-lace/2026-08-01.jpg"]
    page = keeper.look("/photos/copper-lace")
    assert "2026-08-01.jpg" in page.text
    assert 'href="/projects/copper-lace"' in page.text


def test_photographs_can_be_dropped_on_the_form_of_each(keeper: Keeper) -> None:
    forms = {
        "/animals/juniper": "juniper",
        f"/litters/{LITTER}/record": LITTER,
        f"/litters/{LITTER}/01": f"{LITTER}/01",
    }
    for address, record in {**forms, "/projects/copper-lace": "copper-lace"}.items():
        assert f'data-photos="{record}"' in keeper.look(address).text, address
    assert "data-photos" not in keeper.look("/about").text


def test_one_that_is_taken_out_goes_into_the_undo_record(keeper: Keeper) -> None:
    send(keeper, "juniper", ("a.jpg", photo(taken="2026:07:20 10:00:00")), caption="After a shed")
    (mark,) = re.findall(r"/photos/small/(\w+)\.jpg", keeper.look("/photos/juniper").text)
    answer = send(keeper, "juniper", remove=mark)
    assert kept(keeper) == []
    assert "captions" not in (keeper.content / "animals/juniper/animal.yaml").read_text()
    assert keeper.send(f"/changes/{answer.facts['undo']}/undo", as_json=False).status == 303
    assert kept(keeper) == ["animals/juniper/2026-07-20.jpg"]


def test_nobody_says_the_day(keeper: Keeper) -> None:
    answer = send(keeper, "juniper", ("a.jpg", photo()))
    assert answer.status == 422
    assert "nothing says when a.jpg was taken" in str(answer.facts["told"])
    assert kept(keeper) == []


def bomb() -> bytes:
    """A PNG of a few hundred bytes that says it has 900 million pixels."""
    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(10_000))), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in chunks
    )


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"this is a text", "this file is not a picture, whatever its name says"),
        (bomb(), "this photo has more than 120 million pixels"),
        (photo()[:300], "damaged"),
        (b"", "empty"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "not a picture"),
    ],
)
def test_what_is_no_photograph_is_refused_and_none_of_them_is_kept(keeper: Keeper, content: bytes, words: str) -> None:
    good = ("good.jpg", photo(taken="2026:07:20 10:00:00"))
    answer = send(keeper, "juniper", good, ("2026-07-20.jpg", content))
    assert answer.status == 422
    assert words in answer.text
    assert kept(keeper) == []


@pytest.mark.parametrize(
    "name",
    ["../../../escaped 2026-07-20.jpg", "/etc/2026-07-20.jpg", "..\\\\..\\\\2026-07-20.jpg", "2026-07-20.jpg\0.yaml"],
)
def test_a_path_in_a_file_name_leads_nowhere(keeper: Keeper, name: str) -> None:
    send(keeper, "juniper", (name, photo()))
    assert kept(keeper) in ([], ["animals/juniper/2026-07-20.jpg"])
    assert not list(keeper.content.parent.glob("*escaped*"))


def test_more_files_than_are_taken_at_once(keeper: Keeper) -> None:
    answer = send(keeper, "juniper", *((f"{n}.jpg", b"x") for n in range(1000)))
    assert answer.status == 400
    assert "Nothing was kept: that is more than is taken at once." in answer.text
    assert kept(keeper) == []


def test_one_that_is_too_large(keeper: Keeper) -> None:
    answer = send(keeper, "juniper", ("2026-07-20.jpg", photo() + bytes(26 * 1024 * 1024)))
    assert answer.status == 422
    assert "2026-07-20.jpg is larger than 25 MB" in str(answer.facts["told"])
    assert kept(keeper) == []


def test_a_huge_upload_is_refused_before_it_is_read(keeper: Keeper) -> None:
    keeper.look("/")
    headers = {
        "Origin": keeper.address,
        "Content_Length": str(10**12),
        "Content_Type": "multipart/form-data; boundary=x",
    }
    answer = keeper.ask("POST", "/photos/juniper", b"", **headers)
    assert answer.status == 413
    assert "Nothing was kept" in answer.text


def test_without_the_token_nothing_is_kept(keeper: Keeper) -> None:
    keeper.look("/")
    keeper.token = "another"
    assert send(keeper, "juniper", ("2026-07-20.jpg", photo())).status == 403
    assert kept(keeper) == []


def test_no_file_is_left_behind(keeper: Keeper) -> None:
    before = set(os.listdir(tempfile.gettempdir()))
    send(keeper, "juniper", ("2026-07-20.jpg", photo(size=(3000, 2000)) + bytes(3_000_000)))
    new = set(os.listdir(tempfile.gettempdir())) - before
    assert not [each for each in new if each.startswith("tmp")]


def test_a_record_that_is_not_there(keeper: Keeper) -> None:
    assert keeper.look("/photos/nobody").status == 404
    assert send(keeper, "nobody", ("2026-07-20.jpg", photo())).status == 422
