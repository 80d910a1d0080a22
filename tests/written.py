"""Small content folders from one text."""

from pathlib import Path


def split_files(text: str) -> dict[str, str]:
    """Path to contents of a text in which ``=== path`` stands before each file."""
    files: dict[str, list[str]] = {}
    path = ""
    for line in text.strip().splitlines():
        if line.startswith("=== "):
            path = line[4:].strip()
            files[path] = []
        else:
            files[path].append(line)
    return {name: "\n".join(lines).strip("\n") + "\n" for name, lines in files.items()}


def write_files(root: Path, text: str) -> Path:
    """Write those files below ``root``."""
    for path, contents in split_files(text).items():
        target = root / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(contents, encoding="utf-8")
    return root
