"""The Markdown that a breeder's own words may use: one reader for the page and for whoever reads what it will say."""

from markdown_it import MarkdownIt

SCHEMES = ("http://", "https://", "mailto:", "tel:")


def _allowed(link: str) -> bool:
    """True for the schemes of ``SCHEMES`` and for links within the site."""
    if link.lower().startswith(SCHEMES):
        return True
    head = link.split("/", 1)[0].split("#", 1)[0].split("?", 1)[0]
    return (
        ":" not in head and not link.startswith("//") and not any(part in head.lower() for part in ("\\", "%5c", "%3a"))
    )


class Markdown(MarkdownIt):
    """CommonMark with tables and struck words, raw HTML and pictures off, and a short list of link schemes."""

    def __init__(self) -> None:
        super().__init__("commonmark", {"html": False, "linkify": False, "maxNesting": 20})
        self.enable(["table", "strikethrough"])
        self.disable(["html_block", "html_inline", "image"])

    def validateLink(self, url: str) -> bool:  # noqa: N802 - the name is the library's
        """True when a link may be written."""
        return _allowed(url)
