"""The lists of animals, litters and projects, and the short forms that begin a new one."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome
from sitegen.app.desk.forms import Sheet, controls, read
from sitegen.app.desk.pages import Pages
from sitegen.app.desk.record_pages import LISTED, NOTHING, UNREAD, marks_of, names_offered, sent_values, wrong_in
from sitegen.content.animals import ANIMAL
from sitegen.content.breeding_years import seasons_by_litter
from sitegen.content.declaration import RecordKey
from sitegen.content.litters import LITTER
from sitegen.content.projects import PROJECT
from sitegen.content.values import TEXTS, WHOLE
from sitegen.evidence.answers import Known
from sitegen.evidence.chains import chains_of
from sitegen.evidence.claims import claims_of_animal
from sitegen.evidence.reasons import reasons
from sitegen.findings import WrongUse
from sitegen.keeper.new_records import add_animal, add_litter, add_project
from sitegen.keeper.records import Proposal, Records
from sitegen.keeper.spots import Path
from sitegen.plans.readiness import is_there
from sitegen.site.material import with_litter_names
from sitegen.words.label_line import label_line
from sitegen.words.labels import project_state_text
from sitegen.words.speech import Voice, plain
from sitegen.words.today import litter_line


@dataclass(frozen=True, slots=True)
class Line:
    """A record in a list: where its form stands, its name, what is said of it, and whether it is still here."""

    address: str
    name: str
    line: str = ""
    is_here: bool = True


_GOAL = RecordKey("goal", "What the animal is to show that the project is after; what it carries can follow.", TEXTS)
_YOUNG = RecordKey("young", "How many living young are to be listed; each is described afterwards.", WHOLE)


@dataclass(frozen=True, slots=True)
class _New:
    """How a record begins: what is asked, and what makes it."""

    title: str
    keys: tuple[RecordKey, ...]
    make: Callable[[Records, dict[str, Any]], Proposal]
    of_species: bool = True


def _animal(records: Records, said: dict[str, Any]) -> Proposal:
    name, species = str(said.pop("name", "")), str(said.pop("species", ""))
    if not name.strip():
        raise WrongUse("an animal needs a name: what you call it")
    return add_animal(records, name, species, said)


def _litter(records: Records, said: dict[str, Any]) -> Proposal:
    said.pop("species")
    dam, sire, n_young = str(said.pop("dam", "")), said.pop("sire", ""), str(said.pop("young", "0"))
    if isinstance(sire, Mapping):
        raise WrongUse("name the possible sires alone; write their odds once the litter stands")
    if not n_young.isdecimal():
        raise WrongUse(f'"{n_young}" young: write how many there are, in digits')
    return add_litter(records, dam, [sire] if isinstance(sire, str) else sire, said, int(n_young))


def _project(records: Records, said: dict[str, Any]) -> Proposal:
    name, goal = str(said.get("name", "")), said.get("goal") or ()
    if not name.strip() or not goal:
        raise WrongUse("say what the project is called, and tick what the animal is to show that it is after")
    return add_project(records, name, goal, str(said["species"]))


def _keys(declared: Mapping[str, RecordKey], *names: str) -> tuple[RecordKey, ...]:
    return tuple(declared[each] for each in names)


_BEGINNINGS = {
    "animals": _New(
        "A new animal", _keys(ANIMAL.keys, "name", "sex", "born", "shows", "stated", "acquired"), _animal
    ),
    "litters": _New(
        "A new litter", (*_keys(LITTER.keys, "dam", "sire", "paired", "laid", "born", "eggs"), _YOUNG), _litter, False
    ),
    "projects": _New("A new project", (PROJECT.keys["name"], _GOAL), _project),
}  # fmt: skip


class RecordLists:
    """The lists and the short forms; their addresses come before those of single records."""

    def __init__(self, pages: Pages) -> None:
        """Share the desk with the other pages."""
        self.pages = pages

    def routes(self) -> list[Route]:
        """The pages, by address."""
        found = []
        for kind, lines in (("animals", _animals), ("litters", litter_lines), ("projects", _projects)):
            found.append(Route(f"/{kind}", self.pages.reading(partial(self._list, kind, lines))))
        for kind in _BEGINNINGS:
            found.append(Route(f"/{kind}/new", self.pages.reading(partial(self._new, kind)), methods=["GET"]))
            found.append(Route(f"/{kind}/new", self.pages.writing(partial(self._begin, kind)), methods=["POST"]))
        return found

    def _list(self, kind: str, lines: Callable[[Known, dt.date], list[Line]], request: Request) -> Response:
        standing = self.pages.desk.now()
        known, day = standing.stands.known, self.pages.desk.today()
        ids = getattr(standing.records.forms, kind)
        rows = lines(known, day) if known else [Line(f"/{kind}/{each}", each) for each in ids]
        title, new = kind.capitalize(), _BEGINNINGS[kind].title
        return self.pages.show(request, "records.html", title=title, rows=rows, kind=kind, new=new)

    def _new(self, kind: str, request: Request) -> Response:
        records, begun = self.pages.desk.now().records, _BEGINNINGS[kind]
        species = request.query_params.get("species", "")
        known = {each: form.name.value if form and form.name else each for each, form in records.forms.species.items()}
        if begun.of_species and species not in known and len(known) > 1:
            return self.pages.show(request, "which_species.html", title=begun.title, species=known.items())
        return self._form(kind, request, self._sheet(species or "".join([*known][:1]), {}, {}))

    def _sheet(self, species: str, sent: Mapping[str, Sequence[str]], wrong: Mapping[Path, Sequence[str]]) -> Sheet:
        looks = marks_of(self.pages.desk.now().records, species)["shows"]
        return Sheet(
            marks={"shows": looks, "goal": looks},
            nothing=NOTHING,
            listed=LISTED,
            sent={"species": [species], **sent},
            wrong=wrong,
        )

    def _form(self, kind: str, request: Request, sheet: Sheet, outcome: Outcome | None = None) -> Response:
        fields = [each.field() for each in controls(_BEGINNINGS[kind].keys, {}, sheet)]
        return self.pages.show(
            request, "new_record.html", 422 if outcome else 200, title=_BEGINNINGS[kind].title, fields=fields,
            lists=names_offered(self.pages.desk.now().records), species=sheet.typed("species", ""), outcome=outcome,
        )  # fmt: skip

    def _begin(self, kind: str, request: Request, form: FormData) -> Response:
        begun, made = _BEGINNINGS[kind], list[Proposal]()
        sheet = self._sheet(str(form.get("species", "")), sent_values(form), {})
        said = read(controls(begun.keys, {}, sheet), {})

        def propose(records: Records) -> Proposal:
            made.append(begun.make(records, said | {"species": sheet.typed("species", "")}))
            return made[-1]

        def again(told: Outcome) -> Response:
            shown = replace(sheet, wrong=wrong_in(self.pages, made, told, propose))
            return self._form(kind, request, shown, told)

        outcome = UNREAD if sheet.unread else self.pages.desk.save(propose)
        folder = made[-1].files[0].path.rpartition("/")[0] if made else ""
        return self.pages.answer(request, outcome, f"/{folder}", again)


def _animals(known: Known, day: dt.date) -> list[Line]:
    collection = known.collection
    chains = chains_of(known.asked.evidence, known.answers, partial(reasons, known.asked))
    voice = Voice(collection, known.answers, day)
    found = []
    for animal in collection.animals.values():
        if not animal.is_young:
            line = label_line(animal, claims_of_animal(chains, animal, day), voice)
            found.append(Line(f"/animals/{animal.id}", animal.name, plain(line.whole()), is_there(animal)))
    return found


def litter_lines(known: Known, day: dt.date) -> list[Line]:
    """The litters, the latest first."""
    collection = with_litter_names(known.collection)
    seasons = seasons_by_litter(collection)
    latest = sorted(collection.litters.values(), key=lambda litter: seasons[litter.id] or 0, reverse=True)
    return [Line(f"/litters/{each.id}", each.name, litter_line(each, collection.site)) for each in latest]


def _projects(known: Known, day: dt.date) -> list[Line]:
    projects = known.collection.projects.values()
    return [Line(f"/projects/{each.id}", each.name, project_state_text(each.state)) for each in projects]
