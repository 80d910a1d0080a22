"""Every message of the product that can be translated, read from its source."""

import ast
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).parent.parent / "sitegen"


def messages() -> Iterator[tuple[str, int, str]]:
    """File, line and text of every message that passes through ``_`` or ``ngettext``."""
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("_", "ngettext"):
                for argument in node.args:
                    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                        yield str(path.relative_to(SOURCE)), argument.lineno, argument.value
