"""A video in real Chromium: not a byte of it before it is asked for, then it plays under the strict policy."""

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from helpers.from_text import write_files
from helpers.host import Host
from helpers.program import run
from helpers.videos import small_video
from PIL import Image
from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

RECORDS = """
=== site.yaml
name: Small
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {low: 1, usual: 6, high: 28}
breeding_age: {female: 30 months, male: 18 months}
loci: {}
=== animals/dam/animal.yaml
species: corn-snake
shows: []
"""


PLAYED = """
new Promise(done => {
  const video = document.querySelector("video");
  video.muted = true;
  video.textTracks[0].mode = "showing";
  video.addEventListener("timeupdate", () => {
    if (video.currentTime > 0.3 && video.textTracks[0].cues?.length) done(video.textTracks[0].cues.length);
  });
  video.play();
})
"""


@pytest.fixture(scope="module")
def host(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("with-a-video")
    content = write_files(folder / "content", RECORDS)
    still = content / "animals/dam/2024-05-01 feeding.jpg"
    Image.linear_gradient("L").resize((800, 600)).save(still)
    still.with_suffix(".mp4").write_bytes(small_video(2))
    still.with_suffix(".vtt").write_text("WEBVTT\n\n00:00.000 --> 00:01.900\nShe feeds.\n", "utf-8")
    done = run(folder, "build")
    assert done.returncode == 0, done.stderr
    handler = functools.partial(Host, directory=str(folder / "output"))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


def test_it_is_fetched_when_it_is_played_and_not_before(browser: Browser, host: str) -> None:
    page = browser.new_page(viewport={"width": 360, "height": 700})
    fetched: list[str] = []
    page.on("request", lambda request: fetched.append(Path(request.url).suffix))
    told: list[str] = []
    page.on("console", lambda message: told.append(message.text))
    page.goto(host + "animals/dam-pictures.html", wait_until="networkidle")
    assert not {".mp4", ".vtt"} & set(fetched)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert page.evaluate(PLAYED) == 1, "one cue was read"
    assert {".mp4", ".vtt"} <= set(fetched)
    assert told == []
    page.close()


def test_nobody_is_kept_out(browser: Browser, host: str) -> None:
    page = browser.new_page()
    page.goto(host + "animals/dam-pictures.html")
    assert [found["id"] for found in Axe().run(page).response["violations"]] == []
    page.close()
