"""What is kept off the site is planted wherever a record can name another, with names, ids, days, words and pictures of
its own, and searched for in every byte of the site: it is in none, and still counts."""

import base64
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from helpers.from_text import write_files
from helpers.program import run
from helpers.videos import small_video
from PIL import Image

RECORDS = """
=== site.yaml
name: Small
address: https://small.example/
currency: GBP
language: {language}
theme: {theme}
public: [weights, lengths, meals, sheds, diary]
about: The plain ones.
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {{low: 1, usual: 6, high: 28}}
breeding_age: {{female: 30 months, male: 18 months}}
loci:
  amel: {{name: amelanistic, inheritance: recessive}}
  anery: {{name: anerythristic, inheritance: recessive}}
  late: {{name: late, inheritance: recessive, visible_from: 6 months}}
  tessera: {{name: tessera, inheritance: dominant}}
=== animals/zq-gran/animal.yaml
on_site: false
name: Zqgran
species: corn-snake
sex: female
born: 1991-03-11
shows: [amel, late, tessera]
copies: {{tessera: unknown}}
judged: 1992-04-12
stated: {{anery: certain}}
about: zq-text of Zqgran
weights: {{1992-05-13: 7171 g}}
events: [{{date: 1992-06-14, what: shed}}]
offer: {{price: 918273, state: available, since: 1993-07-15}}
captions: {{1993-08-16.jpg: zq-caption}}
=== animals/zq-dam/animal.yaml
on_site: false
name: Zqdam
species: corn-snake
sex: female
born: 1995-03-11
dam: zq-gran
sire: open
shows: [tessera]
acquired: {{date: 1995-09-17, from: zq-keeper}}
tests: [{{locus: anery, result: +/anery, laboratory: zq-lab, date: 1997-10-18, document: zq-document}}]
=== animals/zq-sire/animal.yaml
on_site: false
name: Zqsire
species: corn-snake
sex: male
shows: []
meals: [{{date: 2021-10-10, what: zq-mouse}}]
tests: [{{locus: amel, result: +/amel, laboratory: zq-lab, date: 1997-11-20}}]
=== animals/open/animal.yaml
name: Open
species: corn-snake
sex: male
born: 1990-05-05
shows: []
stated: {{amel: certain, anery: certain}}
off_site: [2001-06-21 zq-kept.jpg, 2001-06-22 zq-clip.jpg]
=== animals/mother/animal.yaml
name: Mother
species: corn-snake
sex: female
born: 1996-05-05
dam: zq-gran
sire: open
shows: []
=== animals/shown-one/animal.yaml
on_site: true
name: Shown One
species: corn-snake
from_litter: 1999-zq-litter/01
shows: [anery]
offer: {{price: 140, state: available, since: 2012-02-01}}
=== animals/shown-two/animal.yaml
on_site: true
name: Shown Two
species: corn-snake
from_litter: 1999-zq-litter/02
shows: []
offer: {{price: 140, state: available, since: 2012-02-01}}
=== litters/1999-zq-litter/litter.yaml
on_site: false
name: Zqlitter
dam: mother
sire: zq-sire
paired: 1999-01-23
laid: 1999-02-24
born: 1999-04-26
eggs: 19
events: [{{date: 1999-01-25, what: copulation, with: zq-sire}}]
about: zq-text of Zqlitter
young:
  "01": {{sex: female}}
  "02": {{sex: male}}
  "03": {{name: Zqyoung, sex: male, shows: [amel], offer: {{price: 918273, state: sold, since: 1999-06-27}}}}
others: [{{count: 2, shows: [amel], judged: 1999-07-27}}]
=== litters/2013-a/litter.yaml
name: The grey clutch
dam: zq-dam
sire: open
born: 2013-07-01
events: [{{date: 2013-03-01, what: copulation, with: zq-dam}}]
off_site: [2013-07-28 zq-litter.jpg, 01 2013-07-29 zq-listed.jpg]
young:
  "01": {{sex: female, shows: [], offer: {{price: 140, state: available, since: 2013-09-01}}}}
  "02": {{sex: male, shows: [tessera]}}
  "03": {{name: Zqhidden, sex: male, shows: [amel], on_site: false, died: 2014-02-27, weights: {{2014-01-30: 8282 g}}}}
  "04": {{sex: male, shows: [amel], on_site: false}}
others: [{{count: 3, shows: []}}]
=== litters/2014-b/litter.yaml
name: The wide clutch
dam: mother
sire: [open, zq-sire]
born: 2014-07-01
young:
  "01": {{sex: female, shows: [amel], offer: {{price: 140, state: available, since: 2014-09-01}}}}
  "02": {{sex: male, shows: []}}
=== litters/2015-c/litter.yaml
name: The failed clutch
dam: zq-dam
sire: [zq-sire, open]
failed: {{date: 2015-05-05, what: slugs}}
=== projects/zq-project/project.yaml
on_site: false
name: Zqproject
species: corn-snake
state: under way
started: 2008-01-01
goal: {{shows: [amel, anery]}}
stages:
  first: {{season: 2030, dam: mother, sire: open, keep: {{goal: {{shows: [amel, anery]}}}}}}
decisions: [{{date: 2008-02-02, text: zq-text decided}}]
=== projects/zq-project/updates/2008-03-03-zq-note.md
# Zqnote
zq-text of a note
=== projects/hope/project.yaml
name: Hope
species: corn-snake
state: under way
goal: {{shows: [amel, anery]}}
off_site: [2016-06-30 zq-project.jpg, 2016-01-01 zq-update.jpg]
stages:
  first:
    season: 2012
    dam: mother
    sire: zq-sire
    litters: [1999-zq-litter]
    keep: {{sons: {{shows: [amel], animals: [1999-zq-litter/03], sex: male}}}}
  second: {{season: 2030, dam: zq-dam, sire: first.sons, keep: {{goal: {{shows: [amel, anery]}}}}}}
alternatives:
  other: {{stages: {{only: {{season: 2031, dam: mother, sire: zq-sire, keep: {{goal: {{shows: [amel, anery]}}}}}}}}}}
=== projects/hope/updates/2016-01-01-begun.md
# Begun
It has begun.
=== projects/plain/project.yaml
name: Plain
species: corn-snake
state: planned
goal: {{shows: [amel, anery]}}
stages:
  first: {{season: 2030, dam: 2014-b/01, sire: open, keep: {{goal: {{shows: [amel, anery]}}}}}}
"""
PLANTED = (
    "animals/zq-gran/1993-08-16.jpg", "animals/zq-dam/1997-12-31 zq-picture.jpg",
    "animals/open/2001-06-21 zq-kept.jpg", "animals/open/2001-06-22 zq-clip.jpg",
    "litters/1999-zq-litter/1999-08-01.jpg", "litters/1999-zq-litter/03 1999-08-02.jpg",
    "litters/2013-a/2013-07-28 zq-litter.jpg", "litters/2013-a/01 2013-07-29 zq-listed.jpg",
    "litters/2013-a/03 2014-01-31 zq-young.jpg", "projects/zq-project/2008-04-04.jpg",
    "projects/zq-project/updates/2008-03-03 zq.jpg", "projects/hope/2016-06-30 zq-project.jpg",
    "projects/hope/updates/2016-01-01 zq-update.jpg",
)  # fmt: skip
"""Photographs that are kept off, by themselves or with their records: all of one colour."""
SHOWN = ("animals/open/2012-05-05.jpg", "animals/mother/2012-05-06.jpg", "litters/2013-a/02 2013-08-08.jpg")
DAYS = (
    *(f"{year}" for year in (1991, 1992, 1993, 1995, 1997, 2008, 2021)),
    *(f"1999-{month}" for month in ("01", "02", "06", "07", "08")),
    *(f"{month} 1999" for month in ("January", "Januar", "February", "Februar", "June", "Juni", "July", "Juli")),
    "2001-06-21", "2001-06-22", "21 June 2001", "22 June 2001", "2013-07-28", "2013-07-29", "28 July", "29 July",
    "2014-01-30", "2014-01-31", "30 January", "31 January", "2014-02-27", "27 February", "2016-06-30", "30 June",
)  # fmt: skip
"""Every day and year that only records off the site tell of."""


def decided(folder: Path, language: str, theme: str) -> Path:
    content = write_files(folder / "content", RECORDS.format(language=language, theme=theme))
    for number, path in enumerate((*PLANTED, *SHOWN)):
        (content / path).parent.mkdir(parents=True, exist_ok=True)
        colour = (255, number, 255) if path in PLANTED else (number, 200, number)
        Image.new("RGB", (900, 700), colour).save(content / path)
    (content / "animals/open/2001-06-22 zq-clip.mov").write_bytes(small_video(1, "zq-video", form="mov"))
    (content / "animals/zq-dam/1997-12-31 zq-picture.mov").write_bytes(small_video(1, "zq-video", form="mov"))
    return folder


@pytest.fixture(scope="module", params=[("en-GB", "specimen-sheet"), ("de", "picture-room")])
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = decided(tmp_path_factory.mktemp("off"), *request.param)
    done = run(folder, "build")
    assert done.returncode == 0, done.stderr
    assert "is named here" not in done.stderr, done.stderr
    assert "becomes an address" not in done.stderr, done.stderr
    return folder


def leaving(built: Path) -> Iterator[tuple[str, bytes]]:
    for path in sorted((built / "output").rglob("*")):
        if path.is_file():
            yield str(path.relative_to(built / "output")), path.read_bytes()


def texts(built: Path) -> Iterator[tuple[str, str]]:
    for name, content in leaving(built):
        if not name.endswith((".woff2", ".jpg", ".avif", ".png", ".ico", ".mp4")):
            yield name, content.decode("utf-8")


def test_no_name_id_word_price_or_day_is_in_any_byte(built: Path) -> None:
    files = list(texts(built))
    assert len(files) > 40
    for name, text in files:
        for secret in ("zq", "918,273", "918.273", "918273", "7171", "8282", "not shown 1", "not-shown"):
            assert secret not in name.casefold(), name
            assert secret not in text.casefold(), (
                name,
                secret,
                text[max(0, text.casefold().find(secret) - 200) :][:400],
            )
        for number in range(1, 12):
            assert f"not shown {number}" not in text, name
            assert f"not%20shown%20{number}" not in text, name
        for day in DAYS:
            found = re.search(rf"(?<![0-9a-f.]){day}(?![0-9a-f])", text)
            assert not found, (name, day, text[max(0, found.start() - 200) :][:400] if found else "")


def is_planted(content: bytes) -> bool:
    """True for a picture with a large spot of the colour of what is kept off."""
    pixels = np.asarray(Image.open(io.BytesIO(content)).convert("RGB").resize((40, 40)))
    red, green, blue = (pixels[:, :, band] for band in range(3))
    return bool(((red > 180) & (green < 100) & (blue > 180)).mean() > 0.05)


def test_no_picture_and_no_video_of_it_is_there(built: Path) -> None:
    seen = 0
    for name, content in leaving(built):
        assert not name.endswith((".mp4", ".vtt")), name
        if name.endswith((".jpg", ".avif", ".png", ".webp")):
            assert not is_planted(content), name
            seen += 1
    assert seen > 10
    for name, text in texts(built):
        for data in re.findall(r"data:image/[a-z]+;base64,([A-Za-z0-9+/=]+)", text):
            assert not is_planted(base64.b64decode(data)), name


def test_there_is_no_page_of_it_and_no_link_to_one(built: Path) -> None:
    addresses = {name for name, _ in leaving(built)}
    assert "animals/shown-one.html" in addresses
    assert "litters/2013-a/02.html" in addresses
    assert "litters/2013-a/03.html" not in addresses
    assert "litters/2013-a/04.html" not in addresses
    facts = json.loads((built / "output/data/collection.json").read_text("utf-8"))
    assert {each["id"] for each in facts["animals"]} == {
        "open", "mother", "shown-one", "shown-two", "2013-a/01", "2013-a/02", "2014-b/01", "2014-b/02",
    }  # fmt: skip
    assert {each["id"] for each in facts["litters"]} == {"2013-a", "2014-b", "2015-c"}


def test_it_still_counts_and_pages_say_that_it_is_not_shown(built: Path) -> None:
    german = 'lang="de"' in (built / "output/index.html").read_text("utf-8")
    animal = "in hier nicht gezeigtes Tier" if german else "n animal not shown here"
    several = "hier nicht gezeigte Tiere" if german else "animals not shown here"
    facts = json.loads((built / "output/data/collection.json").read_text("utf-8"))
    claims = {each["id"]: {claim["allele"]: claim for claim in each["claims"]} for each in facts["animals"]}
    assert claims["mother"]["amel"]["kind"] == "carries", "her dam shows it"
    assert claims["shown-one"]["anery"]["look"], "it shows it"
    pages = dict(texts(built))
    for name in ("animals/mother.html", "animals/shown-one.html", "litters/2013-a/01.html", "litters/2014-b/01.html"):
        assert animal in pages[name] or several in pages[name], name
    assert any(several in text for text in pages.values())
