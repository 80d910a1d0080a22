"""A page for each record: a form made from its declaration, what would be written, and what came of it."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome, Propose
from sitegen.app.desk.forms import Field, Sheet, controls, read
from sitegen.app.desk.pages import Pages
from sitegen.content.animals import ANIMAL, YOUNG
from sitegen.content.collection import Collection
from sitegen.content.declaration import Group
from sitegen.content.litters import LITTER
from sitegen.content.projects import PROJECT
from sitegen.content.report import Report
from sitegen.content.site import SITE
from sitegen.content.species import bind_species
from sitegen.content.waiting import PERSON
from sitegen.content.wishes import WISHES, WISHES_FILE
from sitegen.content.yaml_tree import Entries, Items, Node, parse_tree
from sitegen.findings import ContentError, Finding, WrongUse
from sitegen.keeper.differences import caught_up, change_record, clashes, differences, entry_of
from sitegen.keeper.entries import add_update
from sitegen.keeper.lookup import find_animal, find_litter, find_number, find_project, find_species
from sitegen.keeper.new_records import species_of_origin
from sitegen.keeper.records import Proposal, RecordPlace, Records, unified_diff
from sitegen.keeper.spots import Path
from sitegen.keeper.waiting import find_person
from sitegen.words.speech import animal_name

NOTHING = {
    "shows": ("it was not judged", "it was looked at and shows none of these"),
    "public": ("what the site says of itself", "nothing of it"),
}
LISTED = {"dam": "animals", "sire": "animals", "with": "animals", "species": "species"}
UNREAD = Outcome("Something cannot be read as it is written; it is told beside the field.", is_refused=True)
_FIRST: Mapping[str, tuple[str, ...]] = {
    "animal": ("name", "sex", "born", "shows", "offer", "kept", "weights"),
    "litter": ("dam", "sire", "paired", "laid", "born", "eggs", "infertile", "stillborn", "failed", "name"),
    "project": ("name", "state", "goal", "decisions", "about"),
    "waiting": ("contact", "since", "wants", "species", "sex", "shows", "carries", "up_to", "offered", "done"),
    "plan": ("season", "last", "litters", "keep", "places", "goals"),
    "site": ("name", "tagline", "about", "contact", "cautions"),
}
"""Kind of record to what is asked for most; the rest is folded by subject."""
_FILES = {"/about": ("site.yaml", SITE), "/plan/wishes": (WISHES_FILE, WISHES)}
"""Address of a form to the one file that it is about, and what may stand there."""
_SUBJECTS = (
    ("Where it comes from", ("species", "from_litter", "dam", "sire", "mixed_sires", "acquired", "line", "locality")),
    ("What was judged, told and tested", ("unsure", "judged", "stated", "copies", "tests", "haplotypes", "markers")),
    ("Growth, meals and diary", ("expected", "lengths", "meals", "events", "quarantine", "died", "others")),
    ("The road", ("stages", "alternatives", "started", "horizon", "rest", "relatedness_limit", "welfare", "species")),
    ("On the site", ("on_site", "off_site", "public", "captions", "about", "reviewed", "confirmed")),
    ("For yourself alone", ("private",)),
)


@dataclass(frozen=True, slots=True)
class Part:
    """A record, or a part of one, that has a form: where it stands, what may stand there, and what does."""

    place: RecordPlace
    group: Group
    was: Mapping[str, Any]
    text: str

    @property
    def kind(self) -> str:
        """What is asked first in it."""
        return "animal" if self.place.keys[:1] == ("young",) else self.place.kind


@dataclass(slots=True)
class Sent:
    """What was sent of a form, and what is proposed by it."""

    part: Part
    was: Mapping[str, Any]
    sheet: Sheet
    wanted: dict[str, Any] = field(default_factory=dict)
    made: list[Proposal] = field(default_factory=list)

    def propose(self, records: Records) -> Proposal:
        """The change that was sent."""
        self.made.append(change_record(records, self.part.place, self.was, self.wanted))
        return self.made[-1]


class RecordPages:
    """The forms of animals, litters, young, projects and the site itself."""

    def __init__(self, pages: Pages) -> None:
        """Share the desk with the other pages."""
        self.pages = pages

    def routes(self) -> list[Route]:
        """The pages, by address."""
        addresses = (
            "/animals/{id}", "/litters/{id}/record", "/litters/{id}/{number}", "/projects/{id}", "/waiting/{id}",
            *_FILES,
        )  # fmt: skip
        found = [Route(each, self.pages.reading(self._page), methods=["GET"]) for each in addresses]
        found += [Route(each, self.pages.writing(self._send), methods=["POST"]) for each in addresses]
        return [*found, Route("/projects/{id}/update", self.pages.writing(self._add_update), methods=["POST"])]

    def _page(self, request: Request, outcome: Outcome | None = None) -> Response:
        standing = self.pages.desk.now()
        try:
            part = part_at(standing.records, request)
        except WrongUse as missing:
            return self.pages.show(request, "trouble.html", 404, findings=[], fault=f"{missing}")
        wrong = wrong_by_path(standing.stands.findings, part.text, part.place.file, part.place.keys)
        return self._form(request, part, part.was, sheet_of(standing.records, part, {}, wrong), outcome)

    def _form(
        self, request: Request, part: Part, was: Any, sheet: Sheet, outcome: Outcome | None = None, diff: str = ""
    ) -> Response:
        fields, now = [each.field() for each in controls(part.group.listed, was, sheet)], self.pages.desk.now()
        return self.pages.show(
            request, "record.html", 422 if outcome else 200, place=part.place, was=json.dumps(was), outcome=outcome,
            diff=diff, subjects=by_subject(part.kind, fields), top=sheet.wrong.get((), ()),
            name=name_of(now.collection, part), lists=names_offered(now.records),
        )  # fmt: skip

    def _send(self, request: Request, form: FormData) -> Response:
        records = self.pages.desk.now().records
        try:
            part, was = part_at(records, request), json.loads(str(form["was"]))
            sheet = sheet_of(records, part, sent_values(form), {})
            sent = Sent(part, was, sheet, read(controls(part.group.listed, was, sheet), was))
        except ContentError as error:
            return self.pages.in_trouble(request, error.findings)
        except (WrongUse, KeyError, ValueError, TypeError, AttributeError):
            return self.pages.show(request, "stale.html", 409)
        if sheet.unread:
            outcome = UNREAD
        elif "show" in form:
            outcome = self.pages.desk.consider(sent.propose)
            if not outcome.is_refused:
                return self._form(request, part, was, sheet, diff=unified_diff(sent.made[-1]) or outcome.told)
        else:
            outcome = self.pages.desk.save(sent.propose)
        return self.pages.answer(request, outcome, request.url.path, lambda told: self._again(request, sent, told))

    def _again(self, request: Request, sent: Sent, outcome: Outcome) -> Response:
        """The form as it was sent, with what is wrong beside it."""
        part, now = sent.part, sent.part.was
        clashed = clashes(now, sent.was, differences(sent.was, sent.wanted))
        was = caught_up(sent.was, now, clashed)
        wrong = wrong_in(self.pages, sent.made, outcome, sent.propose, part.place.keys)
        for path, stands in clashed.items():
            is_sure = not entry_of(was, path)
            then = "Save once more to put yours there" if is_sure else "Load the page again and write it there"
            wrong[path] = [f"the file says {stands} here by now. {then}"]
        sheet = sheet_of(self.pages.desk.now().records, part, sent.sheet.sent, wrong)
        sheet.unread.update(sent.sheet.unread)
        return self._form(request, part, was, sheet, outcome)

    def _add_update(self, request: Request, form: FormData) -> Response:
        named, today = request.path_params["id"], self.pages.desk.today()
        title, text = str(form.get("title", "")), str(form.get("text", ""))
        outcome = self.pages.desk.save(lambda records: add_update(records, named, title, text, today))
        return self.pages.answer(request, outcome, f"/projects/{named}", lambda told: self._page(request, told))


def part_at(records: Records, request: Request) -> Part:
    """What the form at an address is about.

    Raises:
        WrongUse: There is no such record.
        ContentError: Its record cannot be read.
    """
    kind, _, _ = request.url.path[1:].partition("/")
    file, of_file = _FILES.get(request.url.path, ("", SITE))
    named, number = request.path_params.get("id", ""), request.path_params.get("number", "")
    if file:
        place, group = RecordPlace(file, file), of_file
        if not records.exists(file):
            return Part(place, group, {}, "")
    elif kind == "waiting":
        place, group = find_person(records, named), PERSON
    elif number:
        litter, group = find_litter(records, named), YOUNG
        listed = find_number(records, litter.shown, number)
        if not listed:
            raise WrongUse(f'litter {litter.shown} lists no young "{number}"')
        place = RecordPlace(f"{litter.shown}/{listed}", litter.file, ("young", listed))
    else:
        find, group = {
            "animals": (find_animal, ANIMAL), "litters": (find_litter, LITTER), "projects": (find_project, PROJECT),
        }[kind]  # fmt: skip
        place = find(records, named)
    held = records.held(place)
    return Part(place, group, held if isinstance(held, dict) else {}, records.text(place.file))


def name_of(collection: Collection | None, part: Part) -> str:
    """What a record is called."""
    shown, held = part.place.shown, part.was.get("name")
    if collection and shown in collection.animals:
        return animal_name(collection, shown)
    if collection and shown in collection.litters:
        return collection.litters[shown].name
    return held if isinstance(held, str) else shown


def sent_values(form: FormData) -> dict[str, list[str]]:
    """The values of each field that was sent."""
    return {key: [str(value) for value in form.getlist(key)] for key in form}


def sheet_of(
    records: Records, part: Part, sent: Mapping[str, Sequence[str]], wrong: Mapping[Path, Sequence[str]]
) -> Sheet:
    """What the form of a record knows beside its declaration."""
    own = part.was.get("species")
    marks = marks_of(records, own if isinstance(own, str) else species_of_origin(records, part.place.shown))
    offered = marks if part.kind == "animal" else {f"goal.{key}": marks[key] for key in ("shows", "carries")}
    return Sheet(part.text, part.place.keys, offered, NOTHING, LISTED, sent, wrong)


def marks_of(records: Records, species: str) -> dict[str, list[tuple[str, str]]]:
    """What an animal of a species can show, carry, or not be judged for; nothing where the species cannot be read."""
    try:
        named = find_species(records, species)
    except WrongUse:
        named = ""
    form = records.forms.species.get(named)
    loci = bind_species(named, form, Report()).species.genome.loci if form else ()
    return {
        "shows": [(look.id, look.name) for locus in loci for look in locus.looks],
        "carries": [(allele.id, allele.name) for locus in loci for allele in locus.alleles],
        "unsure": [("all", "all but what it shows"), *((locus.id, locus.name) for locus in loci)] if loci else [],
    }


def names_offered(records: Records) -> dict[str, list[tuple[str, str]]]:
    """The names that fields offer, each with what it stands for."""
    forms = records.forms
    young = [(f"{litter}/{each}", "") for litter, form in forms.litters.items() if form for each in form.young or ()]
    named = [(each, form.name.value if form and form.name else "") for each, form in forms.animals.items()]
    return {"animals": named + young, "species": [(each, "") for each in forms.species]}


def by_subject(kind: str, fields: Sequence[Field]) -> list[tuple[str, list[Field]]]:
    """The fields under their headings; what no heading names comes last, so that a new key appears by itself."""
    left = {each.name: each for each in fields}
    found = [
        (heading, [left.pop(key) for key in keys if key in left]) for heading, keys in (("", _FIRST[kind]), *_SUBJECTS)
    ]
    return [(heading, some) for heading, some in (*found, ("More", list(left.values()))) if some]


def wrong_in(
    pages: Pages, made: Sequence[Proposal], outcome: Outcome, propose: Propose, at: Path = ()
) -> dict[Path, list[str]]:
    """What stands in the way of a change, by the names that lead to it in the record as it would be."""
    if not made or not made[-1].files:
        return {}
    file, after = made[-1].files[0], pages.desk.consider(propose).after
    told = {each.message for each in outcome.findings}
    findings = [each for each in after.all_findings if each.message in told] if after else []
    return wrong_by_path(findings, (file.after or b"").decode("utf-8-sig"), file.path, at)


def wrong_by_path(findings: Sequence[Finding], text: str, file: str, at: Path) -> dict[Path, list[str]]:
    """What findings tell of the part of a record at a path, by the names that lead from there to where it stands."""
    tree, _ = parse_tree(text, file)
    places = dict(_places(tree, ())) if tree else {}
    found: dict[Path, list[str]] = {}
    for each in findings:
        for place in (each.place, *each.others):
            spot = (place.line, place.column) if place and place.file == file else (0, 0)
            path = places.get((*spot, each.width > 0), places.get((*spot, each.width == 0)))
            if path is not None and path[: len(at)] == at:
                found.setdefault(path[len(at) :], []).append("; ".join(filter(None, (each.message, each.hint))))
    return found


def _places(node: Node, at: Path) -> Iterator[tuple[tuple[int, int, bool], Path]]:
    """Line, column, and whether one line holds it: of each name and value, to the path."""
    yield (node.place.line, node.place.column, node.width > 0), at
    if isinstance(node, Entries):
        for key, each in node.entries:
            yield (key.place.line, key.place.column, True), (*at, key.text)
            yield from _places(each, (*at, key.text))
    elif isinstance(node, Items):
        for position, each in enumerate(node.items):
            yield from _places(each, (*at, str(position)))
