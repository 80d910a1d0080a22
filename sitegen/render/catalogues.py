"""Catalogues of translated words: the program's own beside this module, a theme's own in its ``locale`` folder."""

import io
from collections.abc import Mapping
from gettext import GNUTranslations, NullTranslations
from importlib import resources
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from sitegen.findings import ThemeError
from sitegen.words.speech import THEME

_OWN = Path(str(resources.files("sitegen"))) / "words" / "locale"


def catalogue_of(language: str, theme_words: Mapping[str, bytes] | None = None) -> NullTranslations | None:
    """The words of the language; None for English, and where there is no catalogue for it.

    A country (``de-AT``) without a catalogue of its own takes the language's. ``theme_words`` are
    :attr:`sitegen.render.themes.Theme.words`; they are for the words of its templates and alter no word of the program.

    Raises:
        ThemeError: A theme's catalogue cannot be read.
    """
    names = (language, language.split("-")[0])
    own = next((path for name in names if (path := _OWN / f"{name}.po").is_file()), None)
    found: NullTranslations | None = _compiled(own.read_bytes(), own.name, names[1]) if own else None
    for name, content in reversed(list((theme_words or {}).items())):
        if name.rpartition("/")[2] in names:
            theme, _, code = name.rpartition("/")
            nearer = _compiled(content, f"{theme}/locale/{code}.po", names[1], THEME)
            if found is not None:
                nearer.add_fallback(found)
            found = nearer
    return found


def _compiled(content: bytes, place: str, language: str, context: str | None = None) -> GNUTranslations:
    try:
        catalogue = read_po(io.BytesIO(content), locale=language, abort_invalid=True)
        if context:
            own = Catalog(locale=language)
            for message in catalogue:
                if isinstance(message.id, str) and message.id and not message.fuzzy:
                    own.add(message.id, message.string, context=context)
            catalogue = own
        compiled = io.BytesIO()
        write_mo(compiled, catalogue)
        compiled.seek(0)
        return GNUTranslations(compiled)
    except Exception as error:  # what anybody wrote may fail in any way
        raise ThemeError(f"{place}: {' '.join(str(error).split())}") from error
