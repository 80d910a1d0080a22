"""Draws the demonstration photographs into the content folder: the same bytes each time.

    python tests/pictures/draw_photos.py                 all of them
    python tests/pictures/draw_photos.py juniper sorrel  those whose path holds one of the words

No real animal is shown. Colours and patterns follow the visible genes in the records; size and brightness
follow the age on the day of the picture.
"""

import datetime as dt
import io
import sys
from pathlib import Path
from typing import Any

import numpy as np
import yaml
from PIL import Image
from plan import Shot, shots
from scenes import Sitter, clutch, portrait, together

CONTENT = Path(__file__).resolve().parents[2] / "content"
GPS_SHOT = "animals/juniper/2025-06-12 shed.jpg"
TURNED_SHOT = "animals/basalt/IMG_0412.jpg"
GROWN_MONTHS = 26


def main(words: list[str]) -> None:
    """Draws every shot whose path holds one of the words."""
    total = 0
    for shot in shots():
        path = CONTENT / shot.folder / shot.file
        name = f"{shot.folder}/{shot.file}"
        if words and not any(word in name for word in words):
            continue
        data = encoded(shot, drawn(shot))
        path.write_bytes(data)
        total += len(data)
        print(f"{len(data) // 1000:4d} kB  {name}", flush=True)
    print(f"{total / 1e6:.2f} MB")


def drawn(shot: Shot) -> Image.Image:
    """The picture, upright."""
    if shot.pose == "eggs":
        pixels = clutch(shot.folder, _record(shot)["eggs"], [], shot.date, shot.size)
    elif shot.pose == "clutch":
        record = _record(shot)
        pixels = clutch(shot.folder, record["eggs"] - record["infertile"], _listed(shot)[:7], shot.date, shot.size)
    elif shot.pose == "together":
        pixels = together(_listed(shot), shot.date, shot.ground, shot.size)
    elif shot.pose == "group":
        pixels = together([_named(id_, shot.date) for id_ in shot.sitters], shot.date, shot.ground, shot.size)
    else:
        pixels = portrait(_sitter(shot), shot.date, shot.pose, shot.ground, shot.size)
    return Image.fromarray((pixels * 255 + 0.5).astype(np.uint8))


def encoded(shot: Shot, image: Image.Image) -> bytes:
    """As JPEG, with the data a camera would add where a test needs it."""
    name = f"{shot.folder}/{shot.file}"
    exif = Image.Exif()
    if shot.written or name == GPS_SHOT:
        exif.get_ifd(0x8769)[0x9003] = shot.date.replace("-", ":") + " 10:24:00"
    if name == GPS_SHOT:
        gps = exif.get_ifd(0x8825)
        gps[1], gps[2], gps[3], gps[4] = "N", (53.0, 30.0, 0.0), "W", (1.0, 15.0, 0.0)
    if name == TURNED_SHOT:
        exif[0x0112] = 6
        image = image.transpose(Image.Transpose.ROTATE_90)
    out = io.BytesIO()
    quality = 28 if max(shot.size) > 2000 else 54 if max(shot.size) > 1400 else 58
    image.save(out, "JPEG", quality=quality, optimize=True, progressive=True, subsampling=2, exif=exif.tobytes())
    return out.getvalue()


def _record(shot: Shot) -> dict[str, Any]:
    kind = "animal.yaml" if shot.folder.startswith("animals/") else "litter.yaml"
    loaded: dict[str, Any] = yaml.safe_load((CONTENT / shot.folder / kind).read_text(encoding="utf-8"))
    return loaded


def _sitter(shot: Shot) -> Sitter:
    record = _record(shot)
    if shot.young:
        return _young(shot, record, shot.young)
    born = str(record["born"])
    shows = tuple(record["shows"])
    return Sitter(shot.folder.split("/")[1], record["species"], shows, _youth(born, shot.date))


def _named(animal: str, date: str) -> Sitter:
    """An animal by its folder, or a young by LITTER/YOUNG."""
    record, _, number = animal.partition("/")
    folder = f"litters/{record}" if number else f"animals/{record}"
    return _sitter(Shot(folder, "", "", "", (0, 0), number, date, False))


def _young(shot: Shot, record: dict[str, Any], number: str) -> Sitter:
    shows = tuple(record["young"][number]["shows"])
    species = "kenyan-sand-boa" if "agate" in shot.folder else "corn-snake"
    return Sitter(f"{shot.folder}/{number}", species, shows, _youth(str(record["born"]), shot.date))


def _listed(shot: Shot) -> list[Sitter]:
    record = _record(shot)
    return [_young(shot, record, number) for number in record["young"]]


def _youth(born: str, on: str) -> float:
    """1 at birth, 0 when grown."""
    day = dt.date.fromisoformat(born if len(born) == 10 else f"{born}-15")
    months = (dt.date.fromisoformat(on) - day).days / 30.44
    return float(np.clip(1 - months / GROWN_MONTHS, 0, 1))


if __name__ == "__main__":
    main(sys.argv[1:])
