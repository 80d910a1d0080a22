"""A theme of a few templates in a folder of themes, for tests."""

from pathlib import Path


def theme_of(folder: Path, start: str, facts: str = "version: 1\n", **more: str) -> Path:
    """A theme of one template."""
    theme = folder / "mine"
    (theme / "templates").mkdir(parents=True)
    (theme / "assets").mkdir()
    (theme / "theme.yaml").write_text(facts, "utf-8")
    (theme / "assets/style.css").write_text("p { margin: 0 }", "utf-8")
    for name, text in {"start": start, **more}.items():
        (theme / f"templates/{name}.html").write_text(text, "utf-8")
    return folder
