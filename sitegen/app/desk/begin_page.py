"""The first page of somebody who has no collection yet: three questions, and it begins."""

from collections.abc import Mapping
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome, refused
from sitegen.app.desk.pages import Pages
from sitegen.content.prices import currencies
from sitegen.content.writing import write
from sitegen.findings import SitegenError, WrongUse
from sitegen.keeper.new_collection import EXAMPLE, check_empty, new_collection
from sitegen.keeper.new_records import by_group

_USUAL = {"name": "", "currency": "EUR", "email": "", "place": "", "units": "metric", "language": "en"}


def routes(pages: Pages) -> list[Route]:
    """The questions, and what they are answered with."""
    folder = pages.desk.order.content.absolute().parent

    def asks(request: Request) -> Response:
        return _form(pages, request, folder, _USUAL)

    def begins(request: Request, form: FormData) -> Response:
        said = {key: str(form.get(key, usual)) for key, usual in _USUAL.items()}
        try:
            check_empty(folder)
            if not said["name"].strip():
                raise WrongUse("say what the collection is called")
            files = new_collection(folder, [str(form.get("species", ""))], said).files
            write(folder, [each for each in files if each.path != EXAMPLE])  # forms show how one is written
        except (SitegenError, WrongUse) as error:
            return _form(pages, request, folder, {**said, "species": form.get("species", "")}, refused(error))
        return RedirectResponse("/", 303)

    return [
        Route("/begin", pages.reading(asks), methods=["GET"]),
        Route("/begin", pages.writing(begins), methods=["POST"]),
    ]


def _form(
    pages: Pages, request: Request, folder: Path, said: Mapping[str, object],
    outcome: Outcome | None = None,
) -> Response:  # fmt: skip
    """The questions, in place of the way to a collection that is there already."""
    if (folder / "content" / "site.yaml").is_file():
        return RedirectResponse("/", 303)
    known = {"species": "", **said}
    species, money = by_group(), ("EUR", "GBP", "USD", *sorted(currencies()))
    return pages.show(
        request, "begin.html", 422 if outcome else 200, outcome=outcome, said=known, groups=species, folder=folder,
        currencies=list(dict.fromkeys(money)),
    )  # fmt: skip
