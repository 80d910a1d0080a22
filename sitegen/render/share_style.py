"""How a theme's share pictures look: its ``share.yaml``, or that of the theme it builds on, or of the default theme."""

import os
import re
from pathlib import Path

from sitegen.below import read_below
from sitegen.findings import ThemeError
from sitegen.photos.share_pictures import ShareStyle
from sitegen.render.themes import LARGEST_FILE, Theme, carried_themes, written_facts

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
    folder = next(place for place in places if os.path.lexists(place / FILE))
    where = f"{folder.name}/{FILE}"
    told = written_facts(folder, FILE)
    if set(told) != {*_FONTS, *_COLOURS}:
        raise ThemeError(f"{where}: expected exactly the keys {', '.join((*_FONTS, *_COLOURS))}")
    for key in _COLOURS:
        if not _COLOUR.fullmatch(str(told[key])):
            raise ThemeError(f'{where}: {key} is no colour; expected one such as "#25201a"')
    roman, italic = (_fonts(told[key], folder, where) for key in _FONTS)
    return ShareStyle(roman, italic, *(str(told[key]) for key in _COLOURS))


def _fonts(names: str | tuple[str, ...], folder: Path, where: str) -> tuple[bytes, ...]:
    if isinstance(names, str) or not names:
        raise ThemeError(f"{where}: fonts are written as a list of files, such as [assets/fonts/text.woff2]")
    found = []
    for name in names:
        try:
            found.append(read_below(folder.parent, f"{folder.name}/{name}", LARGEST_FILE))
        except OSError as error:
            raise ThemeError(f'{where}: there is no font file "{name}" in this theme: {error.strerror}') from error
    return tuple(found)
