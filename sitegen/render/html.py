"""Text for inside of HTML, and pieces of HTML that are ready to print.

The same as ``markupsafe`` makes, whose ``Markup`` asks first of each text whether it is HTML already: that takes longer
than all the rest, and a page has hundreds of them.
"""

from markupsafe import Markup, escape


def escaped(text: str) -> str:
    """A plain text as it stands in HTML, between tags and within quotes."""
    if "&" in text or "<" in text or ">" in text or '"' in text or "'" in text:
        return str(escape(text))
    return text


def ready(html: str) -> Markup:
    """HTML that is printed as it is; every text in it was escaped when it was put together."""
    return str.__new__(Markup, html)


def printed(value: object) -> str:
    """A value as a template prints it: HTML as it is, everything else as an escaped text."""
    if type(value) is str:
        return escaped(value)
    return value if type(value) is Markup else escape(value)
