"""The server: to this machine alone, what was made and nothing else, and calm under load."""

import re
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.app.preview.made import Made
from sitegen.app.preview.server import MOST_AT_ONCE, Desk, PreviewServer
from sitegen.app.preview.workshop import Workshop
from sitegen.build import Order
from sitegen.photos.encode import KIND, store_key
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
def shown(tmp_path: Path) -> Iterator[tuple[PreviewServer, Workshop, Path, list[str]]]:
    content = write_files(tmp_path / "content", RECORDS)
    workshop, told = Workshop(Order(content, tmp_path / "output", THEMES)), list[str]()
    workshop.remake()
    server = PreviewServer(Desk(workshop, lambda finding: "the line", told.append))
    threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
    yield server, workshop, content, told
    workshop.close()
    server.shutdown()
    server.server_close()
    assert told == []


Shown = tuple[PreviewServer, Workshop, Path, list[str]]


def sent(server: PreviewServer, request: bytes) -> bytes:
    """All that comes back for these bytes."""
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=30) as line:
        line.sendall(request)
        line.shutdown(socket.SHUT_WR)
        found = b""
        while part := line.recv(65536):
            found += part
    return found


def get(server: PreviewServer, path: str, host: str = "", method: str = "GET") -> tuple[int, bytes, bytes]:
    host = host or f"127.0.0.1:{server.server_port}"
    head, _, body = sent(server, f"{method} {path} HTTP/1.1\r\nHost: {host}\r\n\r\n".encode()).partition(b"\r\n\r\n")
    return int(head.split()[1]), head, body


def test_links_of_the_page_not_found_lead_somewhere_when_the_public_address_has_a_path(shown: Shown) -> None:
    server, workshop, content, _ = shown
    (content / "site.yaml").write_text("name: A Collection\naddress: https://example.org/my/snakes/\n")
    workshop.remake()
    status, _, body = get(server, "/none/of/these.html")
    links = re.findall(rb'(?:href|src)="(/my/snakes/[^"#]*)', body)
    assert status == 404
    assert len(links) > 3
    assert {200} == {get(server, link.decode())[0] for link in links}
    assert get(server, "/my/snakes/none.html")[0] == 404


def test_a_link_that_leads_nowhere_is_told_once_when_its_page_is_looked_at(shown: Shown) -> None:
    server, workshop, content, told = shown
    record = content / "animals/juniper/animal.yaml"
    record.write_text(record.read_text() + 'about: "See [her mother](animals/hazle.html)."\n')
    workshop.remake()
    assert told == []
    for _ in range(2):
        assert get(server, "/animals/juniper.html")[0] == 200
    assert len(told) == 1
    assert told[0].startswith('animals/juniper/animal.yaml: notice: a text links to "animals/hazle.html"')
    told.clear()


def test_a_page_is_the_sites_own_but_for_one_line(shown: Shown) -> None:
    server, workshop, _, _ = shown
    status, _, body = get(server, "/animals/juniper.html")
    assert workshop.state.good is not None
    page = workshop.find(workshop.state.good, "animals/juniper.html")
    added = [line for line in body.split(b"\n") if b"/_preview/" in line]
    assert (status, len(added)) == (200, 1)
    assert page == body.replace(added[0] + b"\n", b"")
    assert get(server, "/")[2].count(b"A Collection") > 1


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example", "[::1]"])
def test_another_host_name_is_refused(shown: Shown, host: str) -> None:
    status, _, body = get(shown[0], "/", host)
    assert (status, body) == (421, b"Misdirected Request.\n")


def test_the_own_names_are_answered_and_several_or_none_are_not(shown: Shown) -> None:
    port = shown[0].server_port
    assert get(shown[0], "/", f"localhost:{port}")[0] == 200
    assert get(shown[0], "/", f"LOCALHOST:{port}")[0] == 200
    assert b" 421 " in sent(shown[0], b"GET / HTTP/1.0\r\n\r\n")
    twice = f"GET / HTTP/1.1\r\nHost: localhost:{port}\r\nHost: evil.example\r\n\r\n"
    assert b" 421 " in sent(shown[0], twice.encode())


def test_only_this_machine_can_connect(shown: Shown) -> None:
    assert shown[0].socket.getsockname()[0] == "127.0.0.1"


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


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "CONNECT", "TRACE", "get"])
def test_other_methods_are_refused(shown: Shown, method: str) -> None:
    status, head, _ = get(shown[0], "/", method=method)
    assert status == 405
    assert b"Allow: GET, HEAD" in head


def test_head_has_the_length_and_no_body(shown: Shown) -> None:
    status, head, body = get(shown[0], "/animals/juniper.html", method="HEAD")
    length = len(get(shown[0], "/animals/juniper.html")[2])
    assert (status, body) == (200, b"")
    assert f"Content-Length: {length}".encode() in head


@pytest.mark.parametrize(
    "request_bytes",
    [
        b"\r\n\r\n", b"\x00\x01\x02\r\n\r\n", b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"GET / FTP/1.0\r\n\r\n", b"",
        b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n\r\n", b"GET / HTTP/1.1\r\nHost\r\n\r\n",
        b"GET http:// HTTP/1.1\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 500 + b"\r\n", b"GET /%ff%fe HTTP/1.1\r\nHost: HERE\r\n\r\n",
        b"GET [ HTTP/1.1\r\nHost: HERE\r\n\r\n", b"GET //[ HTTP/1.1\r\nHost: HERE\r\n\r\n",
    ],
)  # fmt: skip
def test_a_malformed_request_is_refused_and_the_next_is_answered(shown: Shown, request_bytes: bytes) -> None:
    here = f"127.0.0.1:{shown[0].server_port}".encode()
    reply = sent(shown[0], request_bytes.replace(b"HERE", here))
    assert b" 200 " not in reply[:40]
    assert b"Traceback" not in reply
    assert get(shown[0], "/")[0] == 200


def test_two_hundred_clients_at_once_are_all_answered_by_few_threads(shown: Shown) -> None:
    server = shown[0]
    statuses: list[int] = []
    most = [0]

    def ask() -> None:
        statuses.append(get(server, "/animals/juniper.html")[0])
        at_work = sum("process_request_thread" in thread.name for thread in threading.enumerate())
        most[0] = max(most[0], at_work)

    clients = [threading.Thread(target=ask) for _ in range(200)]
    for client in clients:
        client.start()
    for client in clients:
        client.join(60)
    assert statuses == [200] * 200
    assert most[0] <= MOST_AT_ONCE + 1


def test_a_waiting_page_is_told_of_the_next_state_and_not_of_the_same(shown: Shown) -> None:
    server, workshop, content, _ = shown
    tag = get(server, "/")[2].split(b'data-state="')[1].split(b'"')[0].decode()
    found: list[bytes] = []
    waiting = threading.Thread(target=lambda: found.append(get(server, f"/_preview/after/{tag}.js")[2]))
    waiting.start()
    workshop.remake()
    time.sleep(0.2)
    assert found == []
    (content / "site.yaml").write_text("name: Another\n")
    workshop.remake()
    waiting.join(5)
    assert b'"changed"' in found[0]
    assert b"Another" in get(server, "/")[2]
    assert b'"changed"' in get(server, "/_preview/after/00000000-1.js")[2]


def test_trouble_is_shown_with_its_place_and_the_last_good_site_stays(shown: Shown) -> None:
    server, workshop, content, _ = shown
    record = content / "animals/juniper/animal.yaml"
    sound = record.read_text()
    record.write_text(sound.replace("shows: [amel]", "shows: [amle, <b>]"))
    workshop.remake()
    status, head, body = get(server, "/animals/juniper.html")
    assert status == 500
    assert b"Content-Security-Policy: default-src 'none'" in head
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
    workshop.remake()
    assert get(server, "/animals/juniper.html")[0] == 200


def test_without_any_sound_state_there_is_trouble_and_no_last_good_site(tmp_path: Path) -> None:
    workshop = Workshop(Order(tmp_path / "content", tmp_path / "output", THEMES))
    workshop.remake()
    desk = Desk(workshop, lambda finding: "", lambda fault: None)
    page = desk.answer("")
    assert (page.status, b"there is no content folder here" in page.body) == (500, True)
    assert b"last-good" not in page.body
    assert desk.answer("_preview/last-good/").status == 404


def test_a_picture_is_made_when_it_is_asked_for_and_kept_for_the_build(
    shown: Shown, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PIL import Image  # noqa: PLC0415 - this test alone has photographs

    server, workshop, content, _ = shown
    monkeypatch.setenv("SITEGEN_CACHE", str(content.parent / "cache"))
    Image.new("RGB", (600, 400), "olive").save(content / "animals/juniper/2024-05-01.jpg")
    workshop.remake()
    made = workshop.state.good
    assert isinstance(made, Made)
    addresses = [address for address in made.photographs if address.endswith(".jpg")]
    assert get(server, "/animals/juniper.html")[0] == 200
    assert addresses
    keys, store = [store_key(address) for address in addresses], Store.of_user()
    assert [store.find(KIND, key) for key in keys] == [None] * len(keys)
    status, head, body = get(server, f"/{addresses[0]}")
    assert (status, body[:2], b"image/jpeg" in head) == (200, b"\xff\xd8", True)
    assert store.find(KIND, keys[0]) is not None
    assert not (content.parent / "output").exists()
