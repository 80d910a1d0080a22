"""The theme guide names every kind of page, every model and every field, as they are in the program."""

import dataclasses
import inspect
import re
import types
import typing
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from helpers.small_site import small_material, whole_site

from sitegen.render.themes import find_theme
from sitegen.site.parts import Line, Page

GUIDE = Path(__file__).parents[2] / "themes" / "README.md"
BEGIN, END = "<!-- page models: begin -->", "<!-- page models: end -->"


def written(kind: object) -> str:
    """A type in a few words: ``line``, ``list of Plate``, ``Plate or nothing``."""
    if kind == Line:
        return "line"
    if isinstance(kind, types.UnionType) or typing.get_origin(kind) is typing.Union:
        parts = [part for part in typing.get_args(kind) if part is not type(None)]
        words = " or ".join(written(part) for part in parts)
        return f"{words} or nothing" if len(parts) < len(typing.get_args(kind)) else words
    if typing.get_origin(kind) is tuple:
        inner = [part for part in typing.get_args(kind) if part is not ...]
        return f"list of {written(inner[0])}" if len(set(inner)) == 1 else " and ".join(written(part) for part in inner)
    if typing.get_origin(kind) is Mapping or typing.get_origin(kind) is dict:
        return "mapping"
    name = getattr(kind, "__name__", str(kind))
    return {"str": "text", "bool": "yes or no", "int": "number"}.get(name, name)


def models_within(kind: object) -> Iterator[type]:
    """Every model that a type holds."""
    if dataclasses.is_dataclass(kind) and isinstance(kind, type):
        yield kind
    for part in typing.get_args(kind):
        yield from models_within(part)


def reached(first: list[type]) -> list[type]:
    """The models that templates can come to, in the order in which they do."""
    found: dict[type, None] = dict.fromkeys(first)
    for model in (waiting := list(found)):
        for kind in typing.get_type_hints(model).values():
            for inner in models_within(kind):
                if inner not in found:
                    found[inner] = None
                    waiting.append(inner)
    return list(found)


def entry(model: type, template: str = "") -> str:
    about = inspect.getdoc(model) or ""
    sentence = about.split("\n\n")[0].replace("\n", " ").split(". ")[0].rstrip(".:").replace("``", "`")
    hints = typing.get_type_hints(model)
    fields = "; ".join(f"`{field.name}` {written(hints[field.name])}" for field in dataclasses.fields(model))
    made_by = f" (`{template}`)" if template else ""
    return f"- **{model.__name__}**{made_by}: {sentence}. {fields}."


def listing() -> str:
    pages: dict[type, str] = {}
    for page in whole_site(small_material()):
        pages.setdefault(type(page.content), page.template)
    around = [typing.get_type_hints(Page)[name] for name in ("frame", "head")]
    return "\n".join(
        ["Pages:", "", *(entry(model, pages[model]) for model in pages), "", "Around every page, and parts:", ""]
        + [entry(model) for model in reached([*around, *pages])[0:] if model not in pages]
    )


def test_the_guide_has_every_model_with_its_fields(request: pytest.FixtureRequest) -> None:
    text = GUIDE.read_text("utf-8")
    assert BEGIN in text
    head, _, rest = text.partition(BEGIN)
    told, _, foot = rest.partition(END)
    made = listing()
    if request.config.getoption("--rewrite-expected"):
        GUIDE.write_text(f"{head}{BEGIN}\n{made}\n{END}{foot}", "utf-8")
        told = f"\n{made}\n"
    assert told.strip() == made, "run pytest --rewrite-expected tests/docs/test_theme_guide.py"


def test_the_guide_has_every_filter_of_the_program() -> None:
    guide = GUIDE.read_text("utf-8")
    filters = {name for name in find_theme("specimen-sheet").environment.filters if name.strip() == name}
    assert {name for name in filters if f"`{name}`" not in guide} == set()


def test_the_examples_of_the_guide_are_whole(tmp_path: Path) -> None:
    """The example theme of the guide, written out as it stands there, makes every page."""
    guide = GUIDE.read_text("utf-8")
    blocks = re.findall(r"```\w*\n# (\S+)\n(.*?)```", guide, re.DOTALL)
    assert {"theme.yaml", "templates/animal.html", "assets/more.css"} <= {name for name, _ in blocks}
    for name, text in blocks:
        target = tmp_path / "themes/mine" / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
    from sitegen.render.pages import render_page  # noqa: PLC0415 - only here

    theme = find_theme("mine", tmp_path / "themes")
    made = {page.address: render_page(page, theme).decode() for page in whole_site(small_material())}
    assert "Born into our hands" in made["animals/juniper.html"]
