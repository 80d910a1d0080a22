"""Pages of a built site, read strictly; the carried themes, and a theme of a few templates."""

from html.parser import HTMLParser
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

VOID = frozenset(
    {"meta", "link", "img", "source", "track", "br", "hr", "input", "path", "circle", "line", "polyline", "rect"}
)
CLOSED_IN_SVG = frozenset({"path", "circle", "line", "polyline", "rect"})


class ReadPage(HTMLParser):
    """A page, read; ``faults`` says what is wrong with its markup."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.faults: list[str] = []
        self.words: list[str] = []
        self.ids: list[str] = []
        self.scripts: list[tuple[dict[str, str], str]] = []
        self._open: list[str] = []
        self.feed(html)
        self.close()
        self.faults += [f"<{tag}> is never closed" for tag in self._open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        facts = {name: value or "" for name, value in attrs}
        if len(facts) != len(attrs):
            self.faults.append(f"<{tag}> has an attribute twice")
        self.elements.append((tag, facts))
        if "id" in facts:
            self.ids.append(facts["id"])
        if tag == "script":
            self.scripts.append((facts, ""))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in CLOSED_IN_SVG:
            self.faults.append(f"<{tag}/> is not how HTML closes")
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open[-1] != tag:
            self.faults.append(f"</{tag}> closes {self._open[-1:] or 'nothing'} at {self.getpos()}")
            return
        self._open.pop()

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] == "script":
            facts, text = self.scripts[-1]
            self.scripts[-1] = facts, text + data
        elif data.strip():
            self.words.append(data)

    def of(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every such element."""
        return [facts for name, facts in self.elements if name == tag]

    @property
    def text(self) -> str:
        """The words of the page."""
        return " ".join(" ".join(self.words).split())

    def links(self) -> list[str]:
        """Everything the page points to."""
        found = [facts[key] for _tag, facts in self.elements for key in ("href", "src") if facts.get(key)]
        for facts in self.of("source"):
            found += [candidate.split()[0] for candidate in facts["srcset"].split(", ")]
        return found


def leads_to(page: str, link: str, root: str = "/") -> tuple[str, str] | None:
    """Address from the site's root and fragment that a link of a page leads to; None when it leaves the site."""
    parts = urlsplit(link)
    if parts.scheme or parts.netloc:
        return None
    path = unquote(parts.path)
    if path.startswith("/"):
        return path.removeprefix(root), unquote(parts.fragment)
    address = normpath(join(dirname(page), path)) if path else page
    return address, unquote(parts.fragment)


THEMES = ("specimen-sheet", "picture-room")


def one_of_each_kind(site: Path) -> list[str]:
    """All pages of the top level, and of each folder one of each kind."""
    found = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    kinds: dict[str, str] = {}
    for path in found:
        folder, _, name = path.rpartition("/")
        parts = (
            folder.split("/")[0],
            folder.count("/"),
            name.removesuffix(".html").rpartition("-")[2] in ("paper", "pictures", "cards"),
        )
        kinds.setdefault(str(parts if folder else path), path)
    return list(kinds.values())


def theme_of(folder: Path, start: str, facts: str = "version: 3\n", **more: str) -> Path:
    """A theme of one template."""
    theme = folder / "mine"
    (theme / "templates").mkdir(parents=True)
    (theme / "assets").mkdir()
    (theme / "theme.yaml").write_text(facts, "utf-8")
    (theme / "assets/style.css").write_text("p { margin: 0 }", "utf-8")
    for name, text in {"start": start, **more}.items():
        (theme / f"templates/{name}.html").write_text(text, "utf-8")
    return folder
