"""Every word the product says of its own (messages in the program, words in the templates of the themes), and how hard
a text is to read.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path

from jinja2 import Environment, nodes

from sitegen.words.written import paragraphs, written

ROOT = Path(__file__).parents[2]
Message = str | tuple[str, str]


def messages_of_program() -> set[Message]:
    """Every message given to ``_``, ``when_asked`` or ``ngettext`` in the program, and what its files of prose have."""
    found: set[Message] = set()
    for path in sorted((ROOT / "sitegen").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            texts = [arg.value for arg in node.args if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]
            if node.func.id in ("_", "when_asked") and texts:
                found.add(texts[0])
            elif node.func.id == "ngettext" and len(texts) == 2:
                found.add((texts[0], texts[1]))
    for part in (*written("method").values(), *written("cautions").values()):
        found.update(message for text in part.values() for message in paragraphs(text))
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


@dataclass(frozen=True)
class Literal:
    """Words that stand in a template as they are: where, and whether they go through ``say``.

    ``place`` is the element around them, ``aria-label`` or the like for an attribute, ``argument`` for what is given
    to a macro. ``otherwise`` is True in what is printed where something is not.
    """

    words: str
    place: str
    said: bool
    otherwise: bool


_SPOKEN = ("aria-label", "title", "alt", "placeholder", "label", "aria-description", "value")
_VOID = ("meta", "link", "img", "br", "source", "input", "path", "circle")
_TOKEN = re.compile("\ue000([0-9]+)\ue001")


class _Places(HTMLParser):
    """Reads a template's text with a token for each expression: what stands in which element."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.found: list[tuple[str, str]] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [(value or "", name if name in _SPOKEN else "") for name, value in attrs]
        if tag not in _VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in self.open:
            del self.open[len(self.open) - 1 - self.open[::-1].index(tag) :]

    def handle_data(self, data: str) -> None:
        self.found.append((data, self.open[-1] if self.open else "argument"))


def _stream(node: nodes.Node, *, otherwise: bool) -> Iterator[tuple[str | nodes.Expr, bool]]:
    """The text and the expressions of a template in their order; both ways of every choice."""
    if isinstance(node, nodes.Block) and node.name == "page_class":
        return
    if isinstance(node, nodes.TemplateData):
        yield node.data, otherwise
    elif isinstance(node, nodes.Expr):
        yield node, otherwise
    else:
        for name, value in node.iter_fields():
            for each in value if isinstance(value, list) else [value]:
                if isinstance(each, nodes.Node):
                    yield from _stream(each, otherwise=otherwise or name == "else_")


def literals(path: Path) -> list[Literal]:
    """Every literal text of a template that a reader may see or hear, by the language's own tree."""
    text, expressions = "", []
    for part, otherwise in _stream(Environment().parse(path.read_text("utf-8")), otherwise=False):
        if isinstance(part, str):
            text += part
        else:
            text += f"\ue000{len(expressions)}\ue001"
            expressions.append((part, otherwise))
    found: list[Literal] = []
    for data, place in _Places(text).found:
        plain = " ".join(_TOKEN.sub(" ", data).split())
        if place and re.search(r"[A-Za-z]{2,}", plain.replace("data-", "")):
            found.append(Literal(plain, place, said=False, otherwise=False))
        for token in _TOKEN.finditer(data):
            expression, otherwise = expressions[int(token[1])]
            said = [each for each in (expression, *expression.find_all(nodes.Filter)) if _says(each)]
            for each in said:
                words = str(each.node.value) if isinstance(each.node, nodes.Const) else ""
                where = place if each is expression else "argument"
                found.append(Literal(words, where, said=True, otherwise=otherwise))
            whole = {id(each.node) for each in said}
            for const in (expression, *expression.find_all(nodes.Const)):
                if isinstance(const, nodes.Const) and id(const) not in whole and _is_prose(const.value):
                    found.append(Literal(const.value, place or "argument", said=False, otherwise=otherwise))
    return found


def _says(node: nodes.Node) -> bool:
    return isinstance(node, nodes.Filter) and node.name == "say"


def _is_prose(value: object) -> bool:
    """True for words; false for names of files and classes, and for how wide a picture is."""
    unseen = r"[a-z-]*|[\w/-]+\.html|(\([a-z-]+: [\w.]+\) )?[\d.]+(rem|cm|vw).*"
    return isinstance(value, str) and not re.fullmatch(unseen, value)


SOURCE = ROOT / "sitegen"


def messages() -> Iterator[tuple[str, int, str]]:
    """File, line and text of every message that passes through ``_`` or ``ngettext``."""
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("_", "ngettext"):
                for argument in node.args:
                    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                        yield str(path.relative_to(SOURCE)), argument.lineno, argument.value


_WORD = re.compile(r"[A-Za-z’']+|\d[\d,./%]*")
_SENTENCE_END = re.compile(r"[.!?;:]+(?:\s|$|[”)])")


def syllables(word: str) -> int:
    """Syllables by groups of vowels; a silent e at the end does not count, a number counts as one."""
    letters = re.sub(r"’.*|[^a-z]", "", word.lower())
    if not letters:
        return 1
    groups = len(re.findall(r"[aeiouy]+", letters))
    silent = letters.endswith("e") and not letters.endswith(("le", "ee")) and groups > 1
    silent_ed = letters.endswith("ed") and not letters.endswith(("ted", "ded")) and groups > 1
    return max(1, groups - silent - silent_ed)


def n_words(text: str) -> int:
    """How many words a text has; a figure such as ``67`` or ``2/3`` is one."""
    return len(_WORD.findall(text))


def grade(text: str) -> float:
    """The school grade for which a text is written.

    Source: Kincaid JP, Fishburne RP, Rogers RL, Chissom BS (1975) Derivation of new readability formulas, Naval
    Technical Training Command research report 8-75: grade = 0.39 words/sentences + 11.8 syllables/words - 15.59
    (from memory).
    """
    words = _WORD.findall(text)
    sentences = max(1, len(_SENTENCE_END.findall(text)))
    return 0.39 * len(words) / sentences + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
