"""A video on pages: a still until it is played, told with length, sound and size, and nothing comes unasked."""

from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.pages import ReadPage
from helpers.program import run
from helpers.videos import small_video
from PIL import Image

RECORDS = """
=== site.yaml
name: Small
language: {language}
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {{low: 1, usual: 6, high: 28}}
breeding_age: {{female: 30 months, male: 18 months}}
loci: {{}}
=== animals/dam/animal.yaml
name: Dame
species: corn-snake
sex: female
born: 2018-06-01
shows: []
captions: {{2024-05-01 feeding.jpg: She feeds}}
=== litters/2022-a/litter.yaml
dam: dam
born: 2022-07-01
"""
CUES = "WEBVTT\n\n00:00.000 --> 00:01.000\nShe feeds."


@pytest.fixture(scope="module", params=["en", "de"])
def site(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    folder = tmp_path_factory.mktemp("with-videos")
    content = write_files(folder / "content", RECORDS.format(language=request.param))
    for stem in ("animals/dam/2024-05-01 feeding", "litters/2022-a/2022-07-02"):
        Image.linear_gradient("L").resize((800, 600)).save(content / f"{stem}.jpg")
        (content / f"{stem}.mp4").write_bytes(small_video(2, sound=stem.startswith("animals")))
    (content / "animals/dam/2024-05-01 feeding.vtt").write_text(CUES)
    done = run(folder, "build")
    assert done.returncode == 0, done.stderr
    return request.param, folder / "output"


def read(output: Path, address: str) -> tuple[ReadPage, str]:
    page = ReadPage((output / address).read_text("utf-8"))
    assert page.faults == []
    return page, " ".join(page.words)


def test_a_video_waits_behind_its_still_until_it_is_asked_for(site: tuple[str, Path]) -> None:
    language, output = site
    page, words = read(output, "animals/dam-pictures.html")
    (video,) = page.of("video")
    assert video["preload"] == "none"
    assert "autoplay" not in video
    assert "controls" in video
    assert (output / "animals" / video["src"]).is_file()
    assert (output / "animals" / video["poster"]).is_file()
    (track,) = page.of("track")
    assert (track["kind"], track["srclang"]) == ("captions", language)
    assert (output / "animals" / track["src"]).read_text().rstrip() == CUES
    told = {"en": "Video: 2 seconds, with sound, 0.1 MB", "de": "Video: 2 Sekunden, mit Ton, 0,1 MB"}
    assert told[language] in words
    assert "media-src 'self'" in str(page.of("meta"))


def test_where_a_picture_leads_on_only_its_still_and_its_words_are_shown(site: tuple[str, Path]) -> None:
    _, output = site
    page, words = read(output, "animals/dam.html")
    assert page.of("video") == []
    assert "Video: 2 " in words
    assert any(link["href"] == "dam-pictures.html#photograph-1" for link in page.of("a"))


def test_a_litter_shows_its_video_without_sound(site: tuple[str, Path]) -> None:
    language, output = site
    page, words = read(output, "litters/2022-a.html")
    assert len(page.of("video")) == 1
    assert page.of("track") == []
    assert {"en": "without sound", "de": "ohne Ton"}[language] in words


def test_a_second_build_writes_no_video_anew(site: tuple[str, Path]) -> None:
    _, output = site
    before = {path: path.stat().st_mtime_ns for path in (output / "videos").iterdir()}
    assert len(before) == 3
    assert run(output.parent, "build").returncode == 0
    assert {path: path.stat().st_mtime_ns for path in (output / "videos").iterdir()} == before


@pytest.mark.parametrize("place", ["animals/dam/2024-05-01 feeding", "litters/2022-a/01 hatching"])
def test_captions_are_words_of_the_breeder_and_are_read_as_such(place: str, tmp_path: Path) -> None:
    records = RECORDS.format(language="en").replace(
        "loci: {}", "loci: {hypo: {name: hypomelanistic, inheritance: recessive}}"
    )
    content = write_files(tmp_path / "content", records + 'young: {"01": {shows: []}}\n')
    (content / f"{place}.mp4").write_bytes(small_video(1))
    (content / f"{place}.jpg").write_bytes(b"")
    (content / f"{place}.vtt").write_text("WEBVTT\n\n00:00.000 --> 00:01.000\nShe is 100% het hypo.\n", "utf-8")
    done = run(tmp_path, "check")
    assert done.returncode == 1
    assert "overclaim" in run(tmp_path, "check", "--json").stdout
    assert f"{place}.vtt:4:" in done.stdout + done.stderr
