"""Themes: a folder of templates and assets, rendered in a sandbox that can run no code and read no file.

A theme is a folder with ``theme.yaml``, ``templates/`` and ``assets/``. It may build on another one
(``extends: specimen-sheet`` in theme.yaml): what it does not have comes from there, and its templates can
refer to the other's as ``specimen-sheet/animal.html``. Its ``assets/more.css`` goes on where the other's style sheet
ends; its ``assets/style.css`` stands instead of it.
"""

import hashlib
import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path

from jinja2 import pass_context
from jinja2.runtime import Context

from sitegen.below import LeadsAway, entries_below, read_below
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, parse_tree
from sitegen.findings import ThemeError, nearest
from sitegen.photos.share_pictures import ShareStyle
from sitegen.render.drawings import (
    draw_dots,
    draw_icon_array,
    draw_qr,
    draw_staircase,
    draw_weight_line,
)
from sitegen.render.machine import data_block
from sitegen.render.pedigree import draw_pedigree, draw_pedigree_mark
from sitegen.render.prose import draw_claim, draw_line, draw_statement, prose
from sitegen.render.sandbox import Sandbox, sandbox
from sitegen.site.parts import VERSION
from sitegen.words.labels import theme_word

LARGEST_FILE = 4_000_000
"""Bytes of one file of a theme; fonts and pictures of a theme fit well."""
LARGEST_WHOLE = 20_000_000
"""Bytes of all assets of a theme."""
LARGEST_TEXT, LARGEST_TEXTS = 30_000, 100_000
"""Bytes of one template or catalogue of a theme, and of all templates; the carried themes need 10,000 and 55,000."""
LARGEST_FACTS = 20_000
"""Bytes of ``theme.yaml`` and of ``share.yaml``."""
MOST_FILES = 500
FACTS = "theme.yaml"
_DEEPEST = 4
_SHARE = "share.yaml"
_FONTS = ("roman", "italic")
_COLOURS = ("paper", "card", "ink", "soft", "accent")
_COLOUR = re.compile(r"#[0-9a-f]{6}")
_STYLE, _SCRIPT, _MORE = "style.css", "script.js", "more.css"
_KEYS = ("name", "version", "extends", "about")


@dataclass(frozen=True, slots=True)
class Template:
    """The text of one template, and where it stands: ``specimen-sheet/templates/start.html``."""

    text: str
    place: str


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme, read whole.

    Attributes:
        templates: By name, with those of the theme it builds on under ``BASE/NAME`` too.
        assets: Address below ``assets/`` to bytes; style sheet and script carry a hash of their content.
        style, script: Addresses of the two; ``script`` is empty when the theme has none.
        folders: Its folder and those of the themes it builds on, the nearest first.
        words: Catalogues of its own words, by theme and language (``my-theme/de``) in the same order.
    """

    name: str
    templates: Mapping[str, Template]
    assets: Mapping[str, bytes]
    style: str
    script: str
    environment: Sandbox = field(compare=False, repr=False)
    folders: tuple[Path, ...] = field(default=(), compare=False, repr=False)
    words: Mapping[str, bytes] = field(default_factory=dict, compare=False, repr=False)


def carried_themes() -> Path:
    """The folder of the themes that come with the program: in the package, or beside it in a checkout."""
    package = Path(str(resources.files("sitegen")))
    carried = package / "_themes"
    return carried if carried.is_dir() else package.parent / "themes"


@contextmanager
def _told(place: Path, path: str) -> Iterator[None]:
    """What cannot be opened below a folder of themes is told as the theme's fault."""
    try:
        yield
    except LeadsAway as error:
        raise ThemeError(f"in {place}: {error.strerror}") from error
    except OSError as error:
        raise ThemeError(f"{path}: {error.strerror or error}") from error


def _folder_of(name: str, themes: Path | None) -> Path:
    """The theme's folder: the user's own first.

    Raises:
        ThemeError: There is no such theme.
    """
    known = [found for place in (themes, carried_themes()) if place is not None for found in _themes_in(place)]
    for folder in known:
        if folder.name == name:
            return folder
    names = sorted({folder.name for folder in known})
    close = nearest(name, names)
    hint = f'; nearest: "{close}"' if close else ""
    there = ", ".join(names) or "none"
    raise ThemeError(f'there is no theme "{name}" (themes that there are: {there}){hint}')


def _themes_in(place: Path) -> list[Path]:
    """Every theme in a folder; a link counts, and is told when it is read."""
    found = []
    with _told(place, str(place)), suppress(FileNotFoundError, NotADirectoryError):
        for entry in entries_below(place):
            if entry.name.startswith(".") or not (entry.is_folder or entry.is_link):
                continue
            if entry.is_link or any(file.name == FACTS for file in entries_below(place, entry.name)):
                found.append(place / entry.name)
    return found


def written_facts(folder: Path, file: str) -> dict[str, str | tuple[str, ...]]:
    """What a theme says in a small YAML file of its own, read as records are: texts and lists of texts by name.

    Raises:
        ThemeError: It cannot be read, or is written otherwise.
    """
    where = f"{folder.name}/{file}"
    with _told(folder.parent, where):
        raw = read_below(folder.parent, where, LARGEST_FACTS)
    try:
        tree, findings = parse_tree(raw.decode("utf-8-sig"), where)
    except UnicodeDecodeError as error:
        raise ThemeError(f"{where}: cannot be read: {error}") from error
    if findings:
        raise ThemeError(f"{findings[0].place}: {findings[0].message}; {findings[0].hint}")
    if not isinstance(tree, Entries):
        raise ThemeError(f'{where}: expected lines such as "version: {VERSION}"')
    return {key.text: _text_or_list(value) for key, value in tree.entries}


def _text_or_list(node: Node) -> str | tuple[str, ...]:
    if isinstance(node, Scalar):
        return "" if node.blank else node.text
    items = node.items if isinstance(node, Items) else ()
    texts = tuple(item.text for item in items if isinstance(item, Scalar))
    if isinstance(node, Entries) or len(texts) < len(items):
        raise ThemeError(f"{node.place}: expected a text, or a list of texts")
    return texts


def _facts(folder: Path) -> dict[str, str]:
    """What theme.yaml says.

    Raises:
        ThemeError: It cannot be read, has unknown keys, or was written for other page models.
    """
    where = f"{folder.name}/{FACTS}"
    facts = {}
    for key, value in written_facts(folder, FACTS).items():
        if key not in _KEYS:
            raise ThemeError(f'{where}: unknown key "{key}"; expected one of {", ".join(_KEYS)}')
        if not isinstance(value, str):
            raise ThemeError(f"{where}: {key} is a list; expected a text")
        facts[key] = value
    version = facts.get("version", "missing")
    if version != str(VERSION):
        told = f"these pages need version: {VERSION}; themes/README.md tells what changed between the two"
        raise ThemeError(f"{where}: version is {version}; {told}")
    return facts


def _files(folder: Path, part: str, largest: int = LARGEST_FILE, most: int = LARGEST_WHOLE) -> dict[str, bytes]:
    """Every file in a ``part`` of a theme such as ``assets`` by its path there, in fixed order, without hidden ones.

    Raises:
        ThemeError: A link stands there, a file is larger than ``largest``, or all are larger than ``most``.
    """
    here, found, waiting = f"{folder.name}/{part}", dict[str, bytes](), [""]
    n_seen = 0
    while waiting:
        above = waiting.pop()
        with _told(folder.parent, f"{here}/{above}"):
            try:
                entries = entries_below(folder.parent, f"{here}/{above}".removesuffix("/"))
            except FileNotFoundError:
                if above:
                    raise
                return {}  # a theme need not have every part
        for entry in entries:
            name = above + entry.name
            if entry.name.startswith("."):
                continue
            n_seen += 1
            if n_seen > MOST_FILES:
                raise ThemeError(f"{here}: more than {MOST_FILES} files")
            if entry.is_folder:
                waiting.append(f"{name}/")
                continue
            with _told(folder.parent, f"{here}/{name}"):
                found[name] = read_below(folder.parent, f"{here}/{name}", largest)
            most -= len(found[name])
            if most < 0:
                raise ThemeError(f"{here}: its files are larger together than a site needs")
    return dict(sorted(found.items(), key=lambda item: item[0].split("/")))


def _texts(folder: Path) -> dict[str, Template]:
    here = f"{folder.name}/templates"
    try:
        return {
            name: Template(content.decode("utf-8-sig"), f"{here}/{name}")
            for name, content in _files(folder, "templates", LARGEST_TEXT, LARGEST_TEXTS).items()
        }
    except UnicodeDecodeError as error:
        raise ThemeError(f"{here}: a template is not UTF-8 text: {error}") from error


def _gather(
    name: str, themes: Path | None, above: tuple[str, ...] = ()
) -> tuple[dict[str, Template], dict[str, bytes], tuple[Path, ...]]:
    """Templates and assets of a theme together with those of the theme it builds on, and the folders of all.

    Raises:
        ThemeError: A theme is missing or broken, or themes build on each other in a circle.
    """
    if name in above or len(above) >= _DEEPEST:
        raise ThemeError(f"themes build on each other in a circle or too deeply: {' -> '.join((*above, name))}")
    folder = _folder_of(name, themes)
    base = _facts(folder).get("extends", "")
    templates, assets, folders = _gather(base, themes, (*above, name)) if base else ({}, {}, ())
    if base:
        called = folders[0].name
        templates |= {f"{called}/{key}": text for key, text in templates.items() if "/" not in key}
    own = _files(folder, "assets")
    more = own.pop(_MORE, b"")
    assets |= own
    if more:
        assets[_STYLE] = b"\n".join(part for part in (assets.get(_STYLE, b""), more) if part)
    return templates | _texts(folder), assets, (folder, *folders)


def _named_by_content(assets: dict[str, bytes], file: str, theme: str) -> str:
    """Renames the file so that its name changes with its content; an empty string when there is none."""
    content = assets.pop(file, None)
    if content is None:
        return ""
    stem, _, ending = file.rpartition(".")
    name = f"{theme}-{stem}.{hashlib.sha256(content).hexdigest()[:10]}.{ending}"
    assets[name] = content
    return f"assets/{name}"


def find_theme(name: str, themes: Path | None = None) -> Theme:
    """The theme of that name, read whole and compiled; the user's own folder of themes is looked into first.

    Raises:
        ThemeError: There is no such theme, or it cannot be read.
    """
    templates, assets, folders = _gather(name, themes)
    name = folders[0].name
    style = _named_by_content(assets, _STYLE, name)
    if not style:
        raise ThemeError(f"{name}/assets/{_STYLE}: a theme needs a style sheet")
    script = _named_by_content(assets, _SCRIPT, name)
    words = {
        f"{folder.name}/{file.removesuffix('.po')}": content
        for folder in folders
        for file, content in _files(folder, "locale", LARGEST_TEXT).items()
        if file.endswith(".po")
    }
    return Theme(name, templates, dict(sorted(assets.items())), style, script, _environment(templates), folders, words)


@pass_context
def _say(_context: Context, words: str) -> str:
    """The theme's own words in the language of the site; with the context, so that no language is compiled in."""
    return theme_word(words)


def _environment(templates: Mapping[str, Template]) -> Sandbox:
    """The sandbox, over the theme's templates."""

    def load(name: str) -> tuple[str, str, Callable[[], bool]] | None:
        found = templates.get(name)
        return (found.text, found.place, lambda: True) if found else None

    filters: dict[str, Callable[..., object]] = {
        "prose": prose, "icon_array": draw_icon_array, "dots": draw_dots, "weight_line": draw_weight_line,
        "data_block": data_block, "pedigree": draw_pedigree, "pedigree_mark": draw_pedigree_mark, "qr": draw_qr,
        "say": _say, "line": draw_line, "claim": draw_claim, "statement": draw_statement,
        "staircase": draw_staircase,
    }  # fmt: skip
    return sandbox(load, filters)


def theme_files(theme: Theme) -> dict[str, bytes]:
    """Address to bytes of all that the theme brings along."""
    return {name if name.startswith("assets/") else f"assets/{name}": data for name, data in theme.assets.items()}


def share_style(theme: Theme) -> ShareStyle:
    """Fonts and colours of the share pictures of a theme.

    Raises:
        ThemeError: The file cannot be read, or names a font that the theme has not.
    """
    places = (*theme.folders, carried_themes() / "specimen-sheet")
    folder = next(place for place in places if os.path.lexists(place / _SHARE))
    where = f"{folder.name}/{_SHARE}"
    told = written_facts(folder, _SHARE)
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
