"""The preview's pages: what the records make and nothing else, and what is to be mended."""

import re
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.over_loopback import get
from helpers.videos import small_video
from PIL import Image

from sitegen.app.loopback import LoopbackServer
from sitegen.app.preview.live_site import LiveSite, SiteFiles
from sitegen.app.preview.pages import PreviewPages
from sitegen.build import Order
from sitegen.photos.encode import PICTURES, store_key
from sitegen.photos.store import Store

THEMES = Path(__file__).parents[4] / "themes"
RECORDS = """
=== site.yaml
name: A Collection
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
shows: [amel]
private: {notes: a secret}
"""


@pytest.fixture
def shown(tmp_path: Path) -> Iterator[tuple[LoopbackServer, LiveSite, Path, list[str]]]:
    content = write_files(tmp_path / "content", RECORDS)
    site, told = LiveSite(Order(content, tmp_path / "output", THEMES)), list[str]()
    site.remake()
    with LoopbackServer(PreviewPages(site, lambda finding: "the line", told.append).app(), told.append) as server:
        yield server, site, content, told
    assert told == []


Shown = tuple[LoopbackServer, LiveSite, Path, list[str]]


def test_links_of_the_page_not_found_lead_somewhere_when_the_public_address_has_a_path(shown: Shown) -> None:
    server, site, content, _ = shown
    (content / "site.yaml").write_text("name: A Collection\naddress: https://example.org/my/snakes/\n")
    site.remake()
    status, _, body = get(server, "/none/of/these.html")
    links = re.findall(rb'(?:href|src)="(/my/snakes/[^"#]*)', body)
    assert status == 404
    assert len(links) > 3
    assert {200} == {get(server, link.decode())[0] for link in links}
    assert get(server, "/my/snakes/none.html")[0] == 404


def test_a_link_that_leads_nowhere_is_told_once_when_its_page_is_looked_at(shown: Shown) -> None:
    server, site, content, told = shown
    record = content / "animals/juniper/animal.yaml"
    record.write_text(record.read_text() + 'about: "See [her mother](animals/hazle.html)."\n')
    site.remake()
    assert told == []
    for _ in range(2):
        assert get(server, "/animals/juniper.html")[0] == 200
    assert len(told) == 1
    assert told[0].startswith('animals/juniper/animal.yaml: notice: a text links to "animals/hazle.html"')
    told.clear()


def test_a_page_is_the_sites_own_but_for_one_line(shown: Shown) -> None:
    server, site, _, _ = shown
    status, _, body = get(server, "/animals/juniper.html")
    assert site.state.good is not None
    page = site.state.good.find("animals/juniper.html")
    added = [line for line in body.split(b"\n") if b"/_preview/" in line]
    assert (status, len(added)) == (200, 1)
    assert page == body.replace(added[0] + b"\n", b"")
    assert get(server, "/")[2].count(b"A Collection") > 1


@pytest.mark.parametrize(
    "path",
    [
        "/../content/site.yaml", "/..%2fcontent/site.yaml", "/%2e%2e/%2e%2e/etc/passwd", "//etc/passwd", "/etc/passwd",
        "/animals/../../content/animals/juniper/animal.yaml", "/content/animals/juniper/animal.yaml",
        "/animals/juniper/animal.yaml", "/animals", "/animals/", "/assets/", "/pictures/", "/data", "/_preview/",
        "/_preview/last-good/../../../etc/passwd", "/_preview/server.py", "/%00", "/animals/juniper.html%00",
        "/..\\..\\etc\\passwd", "/_preview/after/zz.js",
    ],
)  # fmt: skip
def test_nothing_is_listed_and_nothing_is_read_from_the_disk(shown: Shown, path: str) -> None:
    status, _, body = get(shown[0], path)
    assert status == 404
    assert b"secret" not in body
    assert b"root:" not in body
    assert b"juniper.html" not in body


def test_a_waiting_page_is_told_of_the_next_state_and_not_of_the_same(shown: Shown) -> None:
    server, site, content, _ = shown
    tag = get(server, "/")[2].split(b'data-state="')[1].split(b'"')[0].decode()
    found: list[bytes] = []
    waiting = threading.Thread(target=lambda: found.append(get(server, f"/_preview/after/{tag}.js")[2]))
    waiting.start()
    site.remake()
    time.sleep(0.2)
    assert found == []
    (content / "site.yaml").write_text("name: Another\n")
    site.remake()
    waiting.join(5)
    assert b'"changed"' in found[0]
    assert b"Another" in get(server, "/")[2]
    assert b'"changed"' in get(server, "/_preview/after/1.js")[2]


def test_trouble_is_shown_with_its_place_and_the_last_good_site_stays(shown: Shown) -> None:
    server, site, content, _ = shown
    record = content / "animals/juniper/animal.yaml"
    sound = record.read_text()
    record.write_text(sound.replace("shows: [amel]", "shows: [amle, <b>]"))
    site.remake()
    status, head, body = get(server, "/animals/juniper.html")
    assert status == 500
    assert b"content-security-policy: default-src 'none'" in head
    for told in (b"animals/juniper/animal.yaml:3:9", b"amle", b"nearest: amel", b"the line", b"&lt;b&gt;"):
        assert told in body
    assert b"<b>" not in body
    status, _, body = get(server, "/_preview/last-good/animals/juniper.html")
    assert status == 200
    assert b"Juniper" in body
    style = body.split(b'rel="stylesheet" href="')[1].split(b'"')[0].decode()
    assert get(server, f"/_preview/last-good/animals/{style}")[0] == 404  # a browser takes ../ out of the address
    assert get(server, f"/_preview/last-good/{style.removeprefix('../')}")[0] == 200
    record.write_text(sound)
    site.remake()
    assert get(server, "/animals/juniper.html")[0] == 200


def test_without_any_sound_state_there_is_trouble_and_no_last_good_site(tmp_path: Path) -> None:
    site = LiveSite(Order(tmp_path / "content", tmp_path / "output", THEMES))
    site.remake()
    pages = PreviewPages(site, lambda finding: "", lambda fault: None)
    with LoopbackServer(pages.app(), lambda fault: None) as server:
        status, _, body = get(server, "/")
        assert (status, b"there is no content folder here" in body) == (500, True)
        assert b"last-good" not in body
        assert get(server, "/_preview/last-good/")[0] == 404


def test_a_picture_is_made_when_it_is_asked_for_and_kept_for_the_build(
    shown: Shown, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PIL import Image  # noqa: PLC0415 - this test alone has photographs

    server, site, content, _ = shown
    monkeypatch.setenv("SITEGEN_CACHE", str(content.parent / "cache"))
    Image.new("RGB", (600, 400), "olive").save(content / "animals/juniper/2024-05-01.jpg")
    site.remake()
    made = site.state.good
    assert isinstance(made, SiteFiles)
    addresses = [address for address in made.photographs if address.endswith(".jpg")]
    assert get(server, "/animals/juniper.html")[0] == 200
    assert addresses
    keys, store = [store_key(address) for address in addresses], Store.of_user()
    assert [store.find(PICTURES, key) for key in keys] == [None] * len(keys)
    status, head, body = get(server, f"/{addresses[0]}")
    assert (status, body[:2], b"image/jpeg" in head) == (200, b"\xff\xd8", True)
    assert store.find(PICTURES, keys[0]) is not None
    assert not (content.parent / "output").exists()


def test_a_video_is_had_whole_and_in_parts(shown: Shown) -> None:
    server, site, content, _ = shown
    Image.linear_gradient("L").save(content / "animals/juniper/2024-05-01.jpg")
    (content / "animals/juniper/2024-05-01.mp4").write_bytes(small_video(1))
    site.remake()
    page = get(server, "/animals/juniper-pictures.html")[2].decode()
    address = re.findall(r'<video src="[.][.]([^"]*)', page)[0]
    status, head, whole = get(server, address)
    assert status == 200
    assert b"video/mp4" in head
    end = len(whole) - 1
    for part, first, last in (("0-1", 0, 1), ("10-", 10, end), ("5-999999", 5, end)):
        status, head, found = get(server, address, part=part)
        assert (status, found) == (206, whole[first : last + 1])
        assert f"bytes {first}-{last}/{len(whole)}".encode() in head
    assert get(server, address, part="999999-")[0] == 200
    assert get(server, "/animals/juniper.html", part="0-1")[0] == 200
