"""Text in XML. The standard library's own module for it imports everything about networks at each start."""

from html import escape as _escape


def escape(text: str) -> str:
    """Text between tags."""
    return _escape(text, quote=False)


def quoteattr(text: str) -> str:
    """A value with its quotes."""
    inside = escape(text).replace('"', "&quot;")
    return f'"{inside}"'
