"""The carried themes, and one page of each kind of a site made with them."""

from pathlib import Path

THEMES = ("field-notes", "picture-room")


def one_of_each_kind(site: Path) -> list[str]:
    """All pages of the top level, and of each folder one of each kind."""
    found = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    kinds: dict[str, str] = {}
    for path in found:
        folder, _, name = path.rpartition("/")
        parts = (
            folder.split("/")[0],
            folder.count("/"),
            name.removesuffix(".html").rpartition("-")[2] in ("paper", "pictures"),
        )
        kinds.setdefault(str(parts if folder else path), path)
    return list(kinds.values())
