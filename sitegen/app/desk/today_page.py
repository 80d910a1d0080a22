"""The first page: what the day asks, a sentence each, with the record that it is about."""

from collections.abc import Sequence
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.door import Door
from sitegen.app.desk.pages import Pages
from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.findings import Place
from sitegen.plans.today import Asks, Matter, matters_of
from sitegen.words.today import DayWords


def routes(pages: Pages, door: Door | None = None) -> list[Route]:
    """The page; with the way in for a phone, where there is one."""

    def today(request: Request) -> Response:
        standing, day = pages.desk.now(), pages.desk.today()
        if standing.collection is None:
            return pages.in_trouble(request, standing.stands.findings)
        words = DayWords(standing.collection, day)
        matters = matters_of(standing.collection, day)
        lines = [(words.sentence(*group), _form_of_sentence(group)) for group in words.groups(matters)]
        if not standing.collection.animals:
            lines = [(words.none_yet(), "/animals/new")]
        notices = [pages.told_finding(each) for each in standing.stands.findings]
        return pages.show(request, "today.html", lines=lines or [(words.nothing(), "")], notices=notices, door=door)

    return [Route("/", pages.reading(today))]


def _form_of_sentence(matters: Sequence[Matter]) -> str:
    """Where what a sentence asks is done: the round of those to be weighed, the outcome of a litter, or a record."""
    first = matters[0]
    if first.what is Asks.WEIGH:
        return "/round?" + urlencode({"what": "weights", "of": [each.id for each in matters]}, doseq=True)
    form = form_of(first.place) if len({each.place.file for each in matters}) == 1 else ""
    return f"{form}#outcome" if first.what is Asks.OVERDUE else form


def form_of(place: Place | None) -> str:
    """The address of the form of the record in a file; empty where it has none."""
    kind, _, rest = (place.file if place else "").partition("/")
    record = rest.rpartition("/")[0]
    return f"/{kind}/{record}" if kind in ("animals", "litters", "projects") and record else ""


def page_of(record: Animal | Litter) -> str:
    """The address of an animal's or a young's form, or of a litter."""
    return f"/{'litters' if isinstance(record, Litter) or record.is_young else 'animals'}/{record.id}"
