"""Themes: a folder of templates and assets, rendered in a sandbox that can run no code and read no file.

A theme is a folder with ``theme.yaml``, ``templates/`` and ``assets/``. It may build on another one
(``extends: field-notes`` in theme.yaml): what it does not have comes from there, and its templates can
refer to the other's as ``field-notes/animal.html``. Its ``assets/more.css`` goes on where the other's style sheet ends;
its ``assets/style.css`` stands instead of it.
"""

import hashlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path
from traceback import walk_tb
from types import TracebackType

import yaml
from jinja2 import TemplateError, TemplateNotFound, TemplateSyntaxError, pass_context
from jinja2.runtime import Context

from sitegen.findings import ThemeError, nearest
from sitegen.pages.parts import VERSION, Page
from sitegen.rendering.claims import draw_claim, draw_line
from sitegen.rendering.drawings import draw_icon_array, draw_weight_line
from sitegen.rendering.machine import data_block
from sitegen.rendering.pedigree import draw_pedigree, draw_pedigree_mark
from sitegen.rendering.prose import prose
from sitegen.rendering.qr import draw_qr
from sitegen.rendering.road_drawings import draw_chances, draw_road, draw_road_mark
from sitegen.rendering.sandbox import Sandbox, allowance, sandbox
from sitegen.wording.theme_words import theme_word

LARGEST_FILE = 4_000_000
"""Bytes of one file of a theme; fonts and pictures of a theme fit well."""
MOST_FILES = 500
_DEEPEST = 4
_STYLE, _SCRIPT, _MORE = "style.css", "script.js", "more.css"
_KEYS = ("name", "version", "extends", "about")


@dataclass(frozen=True, slots=True)
class Template:
    """The text of one template, and where it stands: ``field-notes/templates/start.html``."""

    text: str
    place: str


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme, read whole.

    Attributes:
        name: Its folder's name.
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


def _folder_of(name: str, themes: Path | None) -> Path:
    """The theme's folder: the user's own first.

    Raises:
        ThemeError: There is no such theme.
    """
    places = [place for place in (themes, carried_themes()) if place is not None and place.is_dir()]
    for place in places:
        folder = place / name
        if name and "/" not in name and not name.startswith(".") and (folder / "theme.yaml").is_file():
            return folder
    known = sorted({f.parent.name for place in places for f in place.glob("*/theme.yaml")})
    close = nearest(name, known)
    hint = f'; nearest: "{close}"' if close else ""
    there = ", ".join(known) or "none"
    raise ThemeError(f'there is no theme "{name}" (themes that there are: {there}){hint}')


def _facts(folder: Path) -> dict[str, str]:
    """What theme.yaml says.

    Raises:
        ThemeError: It cannot be read, has unknown keys, or was written for other page models.
    """
    where = f"{folder.name}/theme.yaml"
    try:
        written = yaml.safe_load((folder / "theme.yaml").read_text("utf-8"))
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as error:
        raise ThemeError(f"{where}: cannot be read: {' '.join(str(error).split())}") from error
    if not isinstance(written, dict):
        raise ThemeError(f'{where}: expected lines such as "version: {VERSION}"')
    facts = {str(key): str(value) for key, value in written.items()}
    for key in facts:
        if key not in _KEYS:
            raise ThemeError(f'{where}: unknown key "{key}"; expected one of {", ".join(_KEYS)}')
    if facts.get("version") != str(VERSION):
        raise ThemeError(f"{where}: version is {facts.get('version', 'missing')}; these pages need version: {VERSION}")
    return facts


def _files(folder: Path) -> dict[str, bytes]:
    """Every file below ``folder`` by its path, in fixed order; links are not followed, hidden files are passed over.

    Raises:
        ThemeError: A file is too large, or there are too many.
    """
    found: dict[str, bytes] = {}
    for path in sorted(folder.rglob("*")) if folder.is_dir() else []:
        name = path.relative_to(folder).as_posix()
        if path.is_symlink() or not path.is_file() or any(part.startswith(".") for part in name.split("/")):
            continue
        if path.stat().st_size > LARGEST_FILE:
            raise ThemeError(f"{folder.parent.name}/{folder.name}/{name}: larger than {LARGEST_FILE} bytes")
        found[name] = path.read_bytes()
        if len(found) > MOST_FILES:
            raise ThemeError(f"{folder.parent.name}/{folder.name}: more than {MOST_FILES} files")
    return found


def _texts(folder: Path) -> dict[str, Template]:
    here = f"{folder.name}/templates"
    try:
        return {
            name: Template(content.decode("utf-8"), f"{here}/{name}")
            for name, content in _files(folder / "templates").items()
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
        templates |= {f"{base}/{key}": text for key, text in templates.items() if "/" not in key}
    own = _files(folder / "assets")
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
    """The theme of that name, read whole and compiled.

    Args:
        name: The theme's folder name.
        themes: The user's folder of themes, looked into first; it need not exist.

    Raises:
        ThemeError: There is no such theme, or it cannot be read.
    """
    templates, assets, folders = _gather(name, themes)
    style = _named_by_content(assets, _STYLE, name)
    if not style:
        raise ThemeError(f"{name}/assets/{_STYLE}: a theme needs a style sheet")
    script = _named_by_content(assets, _SCRIPT, name)
    words = {
        f"{folder.name}/{file.removesuffix('.po')}": content
        for folder in folders
        for file, content in _files(folder / "locale").items()
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
        "prose": prose, "icon_array": draw_icon_array, "weight_line": draw_weight_line, "data_block": data_block,
        "pedigree": draw_pedigree, "pedigree_mark": draw_pedigree_mark, "qr": draw_qr, "say": _say,
        "line": draw_line, "claim": draw_claim,
        "road": draw_road, "road_mark": draw_road_mark, "chance_chart": draw_chances,
    }  # fmt: skip
    return sandbox(load, filters)


def _template_line(trace: TracebackType | None, theme: Theme) -> str:
    """Template and line of the last frame that lies in a template; empty when none does."""
    places = {template.place for template in theme.templates.values()}
    lines = [(frame.f_code.co_filename, line) for frame, line in walk_tb(trace)]
    return next((f"{file}:{line}" for file, line in reversed(lines) if file in places), "")


def render_page(page: Page, theme: Theme) -> bytes:
    """The page as bytes of HTML.

    Raises:
        ThemeError: A template is missing, broken, asks for what the page has not, or does what it may not;
            the message names template, line, page and record.
    """
    about = f"while making {page.address}" + (f" from {page.record}" if page.record else "")
    assets = {"style": page.frame.root + theme.style, "script": page.frame.root + theme.script if theme.script else ""}
    try:
        template = theme.environment.get_template(page.template)
        with allowance():
            html = template.render(page=page.content, frame=page.frame, head=page.head, assets=assets)
    except TemplateSyntaxError as error:
        raise ThemeError(f"{error.filename or page.template}:{error.lineno}: {error.message} ({about})") from error
    except TemplateNotFound as error:
        where = _template_line(error.__traceback__, theme) or f"{theme.name}/templates"
        raise ThemeError(f'{where}: there is no template "{error.name}" ({about})') from error
    except (
        TemplateError,
        TypeError,
        ValueError,
        ArithmeticError,
        LookupError,
        AttributeError,
        RecursionError,
    ) as error:
        where = _template_line(error.__traceback__, theme) or f"{theme.name}/templates/{page.template}"
        raise ThemeError(f"{where}: {error} ({about})") from error
    return html.encode("utf-8")


def compiled_templates(name: str, themes: Path | None = None) -> Mapping[str, bytes]:
    """The templates of a theme as code, for :func:`take_compiled` in another process of this build.

    What is wrong with a theme is left to whoever renders with it. Arguments as of :func:`find_theme`.
    """
    try:
        theme = find_theme(name, themes)
    except ThemeError:
        return {}
    for each in theme.templates:
        if "/" not in each:
            with suppress(TemplateError, RecursionError):
                theme.environment.get_template(each)
    return theme.environment.compiled.codes


def take_compiled(theme: Theme, codes: Mapping[str, bytes]) -> None:
    """Take over templates that were compiled elsewhere; those of another text are compiled anew."""
    theme.environment.compiled.codes.update(codes)


def theme_files(theme: Theme) -> dict[str, bytes]:
    """Address to bytes of all that the theme brings along."""
    return {name if name.startswith("assets/") else f"assets/{name}": data for name, data in theme.assets.items()}
