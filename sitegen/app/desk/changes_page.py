"""What was changed: each change that can be taken back, what it replaced, and the way to take it back or forget all."""

from itertools import islice

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome
from sitegen.app.desk.pages import Pages
from sitegen.keeper.undo import change_diff, undo_proposal, with_undone
from sitegen.keeper.undo_record import changes_of, forget

_ON_ONE_PAGE = 100


class ChangesPage:
    """The list, one change, and what is done with it."""

    def __init__(self, pages: Pages) -> None:
        """For a desk."""
        self.pages = pages

    def routes(self) -> list[Route]:
        """Forgetting asks once more on a page of its own."""
        reading, writing = self.pages.reading, self.pages.writing
        return [
            Route("/changes", reading(self._list)),
            Route("/changes/forget", reading(self._asks), methods=["GET"]),
            Route("/changes/forget", writing(self._forget), methods=["POST"]),
            Route("/changes/{number:int}", reading(self._one)),
            Route("/changes/{number:int}/undo", writing(self._undo), methods=["POST"]),
        ]

    def _list(self, request: Request) -> Response:
        return self._listed(request)

    def _listed(self, request: Request, outcome: Outcome | None = None) -> Response:
        until = request.query_params.get("before", "")
        found = with_undone(changes_of(self.pages.desk.order.content))
        older = (each for each in found if not until.isdigit() or each[0].number < int(until))
        shown = list(islice(older, _ON_ONE_PAGE))
        more = shown[-1][0].number if next(older, None) else 0
        status = 422 if outcome else 200
        return self.pages.show(request, "changes.html", status, changes=shown, more=more, outcome=outcome)

    def _one(self, request: Request) -> Response:
        number = request.path_params["number"]
        changes = with_undone(changes_of(self.pages.desk.order.content))
        change, undone = next((each for each in changes if each[0].number == number), (None, 0))
        if change is None:
            return RedirectResponse("/changes", 303)
        diff = change_diff(change)
        return self.pages.show(request, "change.html", change=change, undone=undone, diff=diff)

    def _undo(self, request: Request, form: FormData) -> Response:
        number = request.path_params["number"]
        outcome = self.pages.desk.save(lambda records: undo_proposal(records, number))
        return self.pages.answer(request, outcome, "/changes", lambda refused: self._listed(request, refused))

    def _asks(self, request: Request) -> Response:
        count, _ = forget(self.pages.desk.order.content, dry_run=True)
        return self.pages.show(request, "forget.html", count=count)

    def _forget(self, request: Request, form: FormData) -> Response:
        forget(self.pages.desk.order.content)
        return RedirectResponse("/changes", 303)
