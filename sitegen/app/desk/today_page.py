"""The first page: what the day asks, a sentence each, with the record that it is about."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.pages import Pages
from sitegen.findings import Place
from sitegen.plans.today import matters_of
from sitegen.words.today import DayWords


def routes(pages: Pages) -> list[Route]:
    """The page."""

    def today(request: Request) -> Response:
        standing, day = pages.desk.now(), pages.desk.today()
        if standing.collection is None:
            return pages.in_trouble(request, standing.stands.findings)
        words = DayWords(standing.collection, day)
        lines = [(line, form_of(place)) for line, place in words.lines(matters_of(standing.collection, day))]
        notices = [pages.told_finding(each) for each in standing.stands.findings]
        return pages.show(request, "today.html", lines=lines, notices=notices)

    return [Route("/", pages.reading(today))]


def form_of(place: Place | None) -> str:
    """The address of the form of the record in a file; empty where it has none."""
    kind, _, rest = (place.file if place else "").partition("/")
    record = rest.rpartition("/")[0]
    return f"/{kind}/{record}" if kind in ("animals", "litters", "projects") and record else ""
