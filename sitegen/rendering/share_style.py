"""How a theme's share pictures look: its ``share.yaml``, or that of the theme it builds on, or of the default theme."""

import re
from pathlib import Path

import yaml

from sitegen.findings import ThemeError
from sitegen.photos.sharing import ShareStyle
from sitegen.rendering.themes import LARGEST_FILE, Theme, carried_themes

FILE = "share.yaml"
_FONTS = ("roman", "italic")
_COLOURS = ("paper", "card", "ink", "soft", "accent")
_COLOUR = re.compile(r"#[0-9a-f]{6}")


def share_style(theme: Theme) -> ShareStyle:
    """Fonts and colours of the share pictures of a theme.

    Raises:
        ThemeError: The file cannot be read, or names a font that the theme has not.
    """
    places = (*theme.folders, carried_themes() / "field-notes")
    folder = next(place for place in places if (place / FILE).is_file())
    where = f"{folder.name}/{FILE}"
    try:
        told = yaml.safe_load((folder / FILE).read_text("utf-8"))
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as error:
        raise ThemeError(f"{where}: cannot be read: {' '.join(str(error).split())}") from error
    if not isinstance(told, dict) or set(told) != {*_FONTS, *_COLOURS}:
        raise ThemeError(f"{where}: expected exactly the keys {', '.join((*_FONTS, *_COLOURS))}")
    for key in _COLOURS:
        if not isinstance(told[key], str) or not _COLOUR.fullmatch(told[key]):
            raise ThemeError(f'{where}: {key} is no colour; expected one such as "#25201a"')
    roman, italic = (_fonts(told[key], folder, where) for key in _FONTS)
    return ShareStyle(roman, italic, *(str(told[key]) for key in _COLOURS))


def _fonts(names: object, folder: Path, where: str) -> tuple[bytes, ...]:
    if not isinstance(names, list) or not names or not all(isinstance(name, str) for name in names):
        raise ThemeError(f"{where}: fonts are written as a list of files, such as [assets/fonts/text.woff2]")
    found = []
    for name in names:
        path = folder / name
        inside = not path.is_symlink() and path.resolve().is_relative_to(folder.resolve())
        if not inside or not path.is_file() or path.stat().st_size > LARGEST_FILE:
            raise ThemeError(f'{where}: there is no font file "{name}" in this theme')
        found.append(path.read_bytes())
    return tuple(found)
