"""Every word the product says of its own: messages in the program, and words in the templates of the themes."""

import ast
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

from jinja2 import Environment, nodes

ROOT = Path(__file__).parent.parent
Message = str | tuple[str, str]


def messages_of_program() -> set[Message]:
    """Every message given to ``_`` or ``ngettext`` as it stands in the program."""
    found: set[Message] = set()
    for path in sorted((ROOT / "sitegen").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            texts = [arg.value for arg in node.args if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]
            if node.func.id in ("_", "N_") and texts:
                found.add(texts[0])
            elif node.func.id == "ngettext" and len(texts) == 2:
                found.add((texts[0], texts[1]))
    return found


def templates() -> Iterator[Path]:
    yield from sorted((ROOT / "themes").glob("*/templates/*.html"))


def messages_of_themes() -> set[Message]:
    """Every text that goes through ``say`` in a template."""
    found: set[Message] = set()
    for path in templates():
        tree = Environment().parse(path.read_text("utf-8"))
        for node in tree.find_all(nodes.Filter):
            if node.name == "say" and isinstance(node.node, nodes.Const):
                found.add(str(node.node.value))
    return found


class _Plain(HTMLParser):
    """Words between tags, and in attributes that are read aloud or shown."""

    SPOKEN = ("aria-label", "title", "alt", "placeholder", "label", "aria-description", "value")

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, _tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value or "" for name, value in attrs if name in self.SPOKEN]

    def handle_data(self, data: str) -> None:
        self.found.append(data)


def unspoken_words(path: Path) -> list[str]:
    """Words that stand in a template as they are and so can be said in one language only."""
    source = re.sub(r"{% block page_class %}.*?{% endblock", "{%", path.read_text("utf-8"))
    text = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", source, flags=re.DOTALL)
    return [
        " ".join(found.split())
        for found in _Plain(text).found
        if re.search(r"[A-Za-z]{2,}", found.replace('data-=""', ""))
    ]
