"""The diary: what happened, by day, the latest first, and a form that adds what happened to one or several animals."""

from itertools import groupby

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome
from sitegen.app.desk.pages import Pages
from sitegen.app.desk.today_page import page_of
from sitegen.content.events import EventKind
from sitegen.content.values import parse_date
from sitegen.keeper.noted import Noted, add_events
from sitegen.words.diary import diary_line, happenings
from sitegen.words.rounds import day_text
from sitegen.words.speech import animal_name

_LINES = 100
"""As many are shown, and the rest of the last of these days."""


def routes(pages: Pages) -> list[Route]:
    """The page, and where its form is sent."""

    def shown(request: Request, outcome: Outcome | None = None, sent: FormData | None = None) -> Response:
        standing = pages.desk.now()
        collection, asked = standing.collection, request.query_params
        if collection is None:
            return pages.in_trouble(request, standing.stands.findings)
        named, before = asked.get("animal", ""), parse_date(asked.get("before", ""))
        found = [each for each in happenings(collection, named) if before is None or each[1].date < before]
        last = found[:_LINES][-1][1].date if found else None
        lately = [each for each in found if last and each[1].date >= last]
        days = [
            (day_text(day, collection.site), [(*diary_line(*each, collection), page_of(each[0])) for each in own])
            for day, own in groupby(lately, lambda each: each[1].date)
        ]
        names = {each: animal_name(collection, each) for each in collection.animals}
        names |= {each.id: each.name for each in collection.litters.values()}
        return pages.show(
            request, "diary.html", 422 if outcome else 200, outcome=outcome, sent=sent or {"whose": named}, days=days,
            kinds=list(EventKind), names=names, named=named, today=pages.desk.today(),
            earlier=last if len(lately) < len(found) else None,
        )  # fmt: skip

    def added(request: Request, form: FormData) -> Response:
        on = parse_date(str(form.get("on", "")))
        said = {key: str(form.get(key, "")).strip() for key in ("whose", "what", "with", "note")}
        whose = [each.strip() for each in said["whose"].split(",") if each.strip()]
        if not whose or on is None or not on.day:
            outcome = Outcome("Say whose diary it is, and on which day.", is_refused=True)
        else:
            noted = [Noted(each, said["what"], on.earliest, said["with"]) for each in whose]
            outcome = pages.desk.save(lambda records: add_events(records, noted, said["note"]))
        return pages.answer(request, outcome, "/diary", lambda refused: shown(request, refused, form))

    return [Route("/diary", pages.reading(shown)), Route("/diary", pages.writing(added), methods=["POST"])]
