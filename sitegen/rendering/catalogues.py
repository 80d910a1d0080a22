"""Catalogues of translated words: the program's own beside this module, a theme's own in its ``locale`` folder."""

import io
from gettext import GNUTranslations, NullTranslations
from importlib import resources
from pathlib import Path

from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileError, read_po

from sitegen.findings import ThemeError

_OWN = Path(str(resources.files("sitegen"))) / "wording" / "locale"


def languages() -> tuple[str, ...]:
    """The languages that every word of the program can be said in."""
    return ("en", *sorted(path.stem for path in _OWN.glob("*.po")))


def catalogue_of(language: str, theme_folders: tuple[Path, ...] = ()) -> NullTranslations | None:
    """The words of the language; None for English, and where there is no catalogue for it.

    Args:
        language: A code such as ``de`` or ``de-AT``; a country without a catalogue of its own takes the language's.
        theme_folders: The theme's folder and those it builds on, the nearest first; each may bring ``locale/de.po``.

    Raises:
        ThemeError: A theme's catalogue cannot be read.
    """
    names = [language, language.split("-")[0]]
    places = [_OWN, *(folder / "locale" for folder in reversed(theme_folders))]
    found: NullTranslations | None = None
    for place in places:
        path = next((place / f"{name}.po" for name in names if (place / f"{name}.po").is_file()), None)
        if path is not None:
            nearer = _read(path)
            if found is not None:
                nearer.add_fallback(found)
            found = nearer
    return found


def _read(path: Path) -> GNUTranslations:
    try:
        with path.open("rb") as file:
            catalogue = read_po(file, locale=path.stem.replace("-", "_"), abort_invalid=True)
    except (OSError, UnicodeDecodeError, ValueError, PoFileError) as error:
        raise ThemeError(f"{path.parent.parent.name}/{path.parent.name}/{path.name}: {error}") from error
    compiled = io.BytesIO()
    write_mo(compiled, catalogue)
    compiled.seek(0)
    return GNUTranslations(compiled)
