"""The site as the records make it now, at the desk: each page of a record leads to the form of that record."""

from html import escape

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.pages import Pages
from sitegen.app.preview.live_site import PreviewState
from sitegen.app.preview.pages import PreviewPages
from sitegen.findings import Finding
from sitegen.site.addresses import START

_RECORDS = ("animals", "litters", "projects")


def routes(pages: Pages, preview: PreviewPages) -> list[Route]:
    """The site below ``/site/``; its links are relative, so that one can read on in it."""

    def shown(request: Request) -> Response:
        address, state = request.path_params["address"] or START, pages.desk.site()
        if state.good is None or not state.is_sound:
            return pages.in_trouble(request, state.trouble, state.fault)
        return preview.asked(request, address, state)

    return [Route("/site/{address:path}", pages.reading(shown))]


def way_back(address: str, state: PreviewState) -> str:
    """The end of a page of the site: the way to the desk, and to the form of the record that the page is about."""
    kind, _, rest = address.partition("/")
    record = rest.removesuffix(".html").removesuffix("/index")
    form = f' <a href="/{escape(kind)}/{escape(record)}">Change this record</a>' if kind in _RECORDS and record else ""
    form = ' <a href="/about">Change what the site says of itself</a>' if address == START else form
    return f'<nav aria-label="The desk"><p><a href="/">Back to the desk</a>{form}</p></nav>\n'


def no_excerpt(finding: Finding) -> str:
    """The desk shows findings on a page of its own."""
    return ""
