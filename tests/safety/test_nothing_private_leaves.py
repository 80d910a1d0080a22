"""Private notes, buyers, places, serial numbers, file names, paths and drafts: planted, and searched for in every byte
that leaves, pictures decoded; and what is published of an animal is a list of its own, whatever its record gains."""

import dataclasses
import io
import json
import shutil
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import run
from helpers.small_site import collection, small_material
from helpers.videos import small_video
from jsonschema import Draft202012Validator
from PIL import ExifTags, Image, PngImagePlugin

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.site.facts import published_facts
from sitegen.site.schema import facts_schema, paper_schema

MARK = "zq-secret"
"""Stands in everything that must not leave, with a word behind it that says where it was planted."""

RECORDS = f"""
=== site.yaml
name: Small
address: https://small.example/
currency: GBP
private: {{bank: {MARK}-site}}
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {{low: 1, usual: 6, high: 28}}
breeding_age: {{female: 30 months, male: 18 months}}
loci:
  amel: {{name: amelanistic, inheritance: recessive}}
=== animals/dam/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {{amel: certain}}
# {MARK}-remark
private: {{buyer: {MARK}-buyer, notes: {{deep: [{MARK}-deep]}}}}
=== animals/sire/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: []
stated: {{amel: certain}}
private: {MARK}-plain
=== animals/dam/notes {MARK}-stray.txt
{MARK}-stray
=== animals/dam/.{MARK}-hidden.md
{MARK}-hidden
=== drafts/{MARK}-draft.md
{MARK}-draft
=== litters/2022-a/litter.yaml
dam: dam
sire: sire
born: 2022-07-01
young:
  "01":
    sex: female
    shows: []
    offer: {{price: 140, state: available, since: 2022-09-01}}
    private: {{buyer: {MARK}-young, paid: 99}}
  "02":
    sex: male
    shows: [amel]
    offer: {{price: 918273, state: sold, since: 2022-09-02}}
    private: {{paid: zq-paid}}
private: {{notes: {MARK}-litter}}
=== plan.yaml
# {MARK}-limits
litters: 3
places: 817263
goals: {{"{MARK}-goal": {{shows: [amel], weight: 1/817263}}}}
without: [dam]
tests: {{price: 817263, loci: [amel]}}
buy: [{{species: corn-snake, name: {MARK}-wanted, shows: [amel], sex: male, price: 817263}}]
budget: 817264
private: {MARK}-plan
=== waiting.yaml
# {MARK}-waits
people:
  {MARK}-name:
    contact: {MARK}-contact
    since: 1999-12-31
    wants: {MARK}-wants
    shows: [amel]
    carries: [amel]
    sex: male
    up_to: 637281
    offered: 2022-a/02
  {MARK}-done: {{contact: {MARK}-old, since: 1999-12-30, done: 2099-12-31}}
=== pages/draft.md~
{MARK}-backup
"""


def with_secrets(path: Path, kind: str) -> None:
    """A photograph with a place, a camera, a comment and a thumbnail."""
    picture = Image.linear_gradient("L").resize((640, 480)).convert("RGB")
    exif = Image.Exif()
    exif[ExifTags.Base.Make], exif[ExifTags.Base.Artist] = f"{MARK}-make", f"{MARK}-artist"
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    inner[ExifTags.Base.BodySerialNumber], inner[ExifTags.Base.DateTimeOriginal] = (
        f"{MARK}-serial",
        "2024:05:01 10:00:00",
    )
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSAreaInformation] = f"{MARK}-gps".encode()
    xmp = f"<x:xmpmeta xmlns:x='adobe:ns:meta/'>{MARK}-xmp</x:xmpmeta>".encode()
    if kind == "PNG":
        info = PngImagePlugin.PngInfo()
        info.add_text("Comment", f"{MARK}-text")
        picture.save(path, kind, exif=exif, pnginfo=info)
    elif kind == "JPEG":
        picture.save(path, kind, exif=exif, xmp=xmp, comment=f"{MARK}-comment".encode())
        path.write_bytes(path.read_bytes() + f"{MARK}-behind".encode())
    else:
        picture.save(path, kind, exif=exif, xmp=xmp)
    assert MARK.encode() in path.read_bytes()


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("home of zq-owner") / "zq-path"
    content = write_files(folder / "content", RECORDS)
    for number, (kind, ending) in enumerate((("JPEG", "jpg"), ("PNG", "png"), ("WEBP", "webp"), ("TIFF", "tif")), 1):
        with_secrets(content / "animals" / "dam" / f"2024-05-0{number} {MARK}-file.{ending}", kind)
        with_secrets(content / "litters" / "2022-a" / f"01 {MARK}-young.{ending}", kind)
    for place in ("animals/dam/2024-06-01", "litters/2022-a/01", "litters/2022-a/2024-06-01"):
        stem = content / f"{place} {MARK}-clip"
        with_secrets(stem.with_suffix(".jpg"), "JPEG")
        stem.with_suffix(".mov").write_bytes(small_video(1, MARK, form="mov"))
        stem.with_suffix(".vtt").write_text(f"WEBVTT {MARK}-head\n\nNOTE {MARK}-note\n\n{MARK}-cue\n{CUE}\n")
    done = run(folder, "build")
    assert done.returncode == 0, done.stderr
    return folder


CUE = "00:00.000 --> 00:01.000\nShe sheds."


def leaving(built: Path) -> Iterator[tuple[str, bytes]]:
    """Every file of the site under its address."""
    for path in sorted((built / "output").rglob("*")):
        if path.is_file():
            yield str(path.relative_to(built / "output")), path.read_bytes()


def test_nothing_planted_stands_in_any_name_or_byte(built: Path) -> None:
    files = list(leaving(built))
    assert len(files) > 30
    assert {"print/price-list.html", "print/tub-cards.html"} <= {name for name, _ in files}
    assert [name.endswith((".mp4", ".vtt")) for name, _ in files].count(True) == 2, "one video and its captions"
    for name, content in files:
        records = ("animal.yaml", "litter.yaml", "plan.yaml", "waiting.yaml")
        for secret in (MARK, "zq-owner", "zq-path", "zq-paid", *records):
            assert secret not in name
            assert secret.encode() not in content, (name, secret)


def test_no_picture_holds_anything_but_pixels(built: Path) -> None:
    kinds = set()
    for name, content in leaving(built):
        if name.endswith((".jpg", ".avif", ".png", ".webp")):
            picture = Image.open(io.BytesIO(content))
            picture.load()
            kinds.add(name.rpartition(".")[2])
            assert not picture.getexif(), name
            assert not {"exif", "xmp", "XML:com.adobe.xmp", "comment", "icc_profile", "photoshop"} & {
                key for key, value in picture.info.items() if value
            }, name
            assert b"Exif" not in content[:4096] or name.endswith(".avif"), name
    assert {"jpg", "avif"} <= kinds
    assert any(name.startswith("share/") or "/share" in name for name, _ in leaving(built)), "no share picture was made"


def test_nothing_of_the_plan_or_of_who_waits_changes_a_byte(built: Path, tmp_path: Path) -> None:
    for name, content in leaving(built):
        for told in ("817263", "817,263", "637281", "637,281", "1999", "2099"):
            assert told.encode() not in content or name.endswith((".woff2", ".jpg", ".avif")), (name, told)
    folder = tmp_path / "again"
    shutil.copytree(built / "content", folder / "content")
    (folder / "content" / "plan.yaml").unlink()
    (folder / "content" / "waiting.yaml").unlink()
    done = run(folder, "build")
    assert done.returncode == 0, done.stderr
    assert dict(leaving(folder)) == dict(leaving(built))


def test_a_price_that_is_no_longer_asked_is_not_told(built: Path) -> None:
    for name, content in leaving(built):
        if not name.endswith((".jpg", ".avif", ".woff2")):
            assert b"918273" not in content, name
            assert b"918,273" not in content, name


def test_a_sheet_holds_nothing_private_unless_that_is_asked_for(built: Path, tmp_path: Path) -> None:
    for name in ("sheet.csv", "sheet.xlsx"):
        done = run(built, "export", "--to", str(tmp_path / name))
        assert done.returncode == 0, done.stderr
    books = zipfile.ZipFile(tmp_path / "sheet.xlsx")
    parts = [path.read_bytes() for path in tmp_path.glob("*.csv")] + [books.read(part) for part in books.namelist()]
    assert len(parts) > 5
    assert not [part for part in parts if MARK.encode() in part or b"zq-paid" in part]
    assert run(built, "export", "--to", str(tmp_path / "own.csv"), "--with-private").returncode == 0
    own = (tmp_path / "own.csv").read_text("utf-8-sig")
    assert f"{MARK}-buyer" in own
    assert f"{MARK}-name" not in own
    assert f"{MARK}-contact" not in own


def every_key(told: object) -> set[str]:
    if isinstance(told, dict):
        return set(told) | {key for value in told.values() for key in every_key(value)}
    return {key for value in told for key in every_key(value)} if isinstance(told, list) else set()


def allowed(schema: object) -> set[str]:
    if isinstance(schema, dict):
        own = set(schema.get("properties", {})) if isinstance(schema.get("properties"), dict) else set()
        return own | {key for value in schema.values() for key in allowed(value)}
    return {key for value in schema for key in allowed(value)} if isinstance(schema, list) else set()


def closed(schema: object) -> Iterator[bool]:
    """For each object of a schema whether it admits nothing but what it lists."""
    if isinstance(schema, dict):
        if "properties" in schema:
            yield schema.get("additionalProperties") is False
        for value in schema.values():
            yield from closed(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from closed(value)


def test_the_published_facts_have_exactly_the_keys_that_their_schema_lists(built: Path) -> None:
    told = json.loads((built / "output" / "data" / "collection.json").read_text("utf-8"))
    schema = facts_schema()
    assert all(closed(schema))
    Draft202012Validator(schema).validate(told)
    assert every_key(told) <= allowed(schema)
    papers = list((built / "output").rglob("*.json"))
    assert all(closed(paper_schema()))
    found = 0
    for path in papers:
        fact = json.loads(path.read_text("utf-8"))
        if fact.get("format") == "sitegen paper":
            Draft202012Validator(paper_schema()).validate(fact)
            found += 1
    assert found, "no paper was published"


@dataclass(frozen=True)
class RicherAnimal(Animal):
    """A record that gained fields that nobody has decided to publish."""

    owner_note: str = f"{MARK}-field"
    purchase: tuple[str, ...] = (f"{MARK}-tuple",)


@dataclass(frozen=True)
class RicherLitter(Litter):
    """As above."""

    owner_note: str = f"{MARK}-litter-field"


def richer(record: object, kind: type) -> object:
    fields = {field.name: getattr(record, field.name) for field in dataclasses.fields(record)}  # type: ignore[arg-type]
    return kind(**fields)


def test_a_field_that_a_record_gains_is_not_published_by_itself() -> None:
    plain = collection()
    grown = replace(
        plain,
        animals={key: richer(animal, RicherAnimal) for key, animal in plain.animals.items()},
        litters={key: richer(litter, RicherLitter) for key, litter in plain.litters.items()},
    )
    told = published_facts(small_material(grown))
    assert MARK not in json.dumps(told)
    assert told == published_facts(small_material(plain))
