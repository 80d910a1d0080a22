"""The whole flow on one screen: content, records, answers, claims, pages, bytes, output."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from functools import partial

from sitegen.claims.changes import Change
from sitegen.claims.from_evidence import claims_of
from sitegen.claims.kinds import Claim
from sitegen.evidence.reasons import reasons
from sitegen.findings import Finding, has_errors, in_order
from sitegen.genetics.questions import AnimalId
from sitegen.inferred import FOLLOWING, Before, Inferred
from sitegen.known import Known, bound_of, known_of, read_known
from sitegen.lazily import Lazily
from sitegen.making import Beside, Making, page_notes
from sitegen.order import Built, Order, as_it_stands, state_of_order
from sitegen.pages.material import Material, material
from sitegen.pages.outcomes import litter_pairing
from sitegen.pages.road_answers import roads_of
from sitegen.pages.share import every_share
from sitegen.pages.whole_site import whole_site
from sitegen.photos.compose import KIND as SHARES
from sitegen.photos.compose import compose_shares
from sitegen.photos.encode import KIND, Encoded, Photograph, encode_pictures, store_key
from sitegen.photos.facts import read_all_facts
from sitegen.photos.remembered import forget_others
from sitegen.photos.variants import PictureSet, PictureSettings, plan
from sitegen.photos.workers import number_of_workers
from sitegen.publishing.again import keep
from sitegen.publishing.release import publish
from sitegen.reading.content import Content
from sitegen.reading.folder import read_content
from sitegen.records.latest import latest_date
from sitegen.records.site import Pictures
from sitegen.records.sound_part import first_told, sound_part
from sitegen.rendering.catalogues import catalogue_of
from sitegen.rendering.links import broken_links
from sitegen.rendering.machine import machine_files
from sitegen.rendering.share_style import share_style
from sitegen.rendering.themes import Theme, find_theme, take_compiled, theme_files
from sitegen.store import Store
from sitegen.uncollected import uncollected
from sitegen.wording.audit.whole import audit
from sitegen.wording.doubts import plan_findings
from sitegen.wording.speech import spoken

Progress = Callable[[str], AbstractContextManager[Callable[[int, int], None]]]
"""A label to a context that gives a function to call with the number done and the number there are."""


__all__ = ["Built", "Known", "Order", "build", "check", "read_known", "settings_of", "store_of"]


@dataclass(frozen=True, slots=True)
class _Run:
    """One build of sound records.

    Attributes:
        order: What is to be built.
        progress: Told how far it is.
        state: A name for all that it is built from; empty when nothing is certain.
        beside: What is done in other processes.
        before: What was inferred before from the same evidence.
        known: What is known.
    """

    order: Order
    progress: Progress
    state: str
    beside: Beside
    before: Before
    known: Known

    @property
    def store(self) -> Store:
        return store_of(self.order)

    @property
    def workers(self) -> int:
        return number_of_workers(self.order.workers)


@dataclass(frozen=True, slots=True)
class _Said:
    """What may be said as of a day, and what is wrong with what is said in free text and with plans."""

    as_of: dt.date
    claims: Mapping[AnimalId, tuple[Claim, ...]]
    findings: tuple[Finding, ...]
    doubts: tuple[Finding, ...]


def _silent(label: str) -> AbstractContextManager[Callable[[int, int], None]]:
    return nullcontext(lambda done, total: None)


def build(order: Order, progress: Progress = _silent) -> Built:
    """Make the whole site, or change nothing. A photo that cannot be read is told, and left out.

    Raises:
        ThemeError: The theme is at fault.
        OutputRefused: The output folder is not ours to change, or cannot be written.
    """
    state = state_of_order(order)
    if (stands := as_it_stands(order, state)) is not None:
        return stands
    read, reading = read_content(order.content)
    built = _built(order, progress, state, read, reading)
    return _rest_built(order, progress, read, built) if order.keep_going and built.published is None else built


def _rest_built(order: Order, progress: Progress, whole: Content, first: Built) -> Built:
    """The site of what is sound, told with all that is wrong and all that is missing."""
    told, left_out, rest = first.findings, set[str](), first
    content = whole
    while rest.published is None:
        part = sound_part(content, rest.findings)
        if part.why_not or part.content == content:
            why = part.why_not or "what is wrong is not in any one record"
            return replace(first, findings=in_order(told), why_not=why)
        content, left_out = part.content, left_out | {*part.left_out}
        rest = _built(order, progress, "", content, ())
        told += first_told(rest.findings) if rest.published is None else rest.findings
    return replace(rest, findings=in_order(told), left_out=tuple(sorted(left_out)))


def _built(order: Order, progress: Progress, state: str, read: Content, reading: Sequence[Finding]) -> Built:
    """The site made, whatever it was before."""
    with uncollected(), Beside(apart=number_of_workers(order.workers) > 1) as beside:
        collection, findings = bound_of(read, reading, order.today)
        if collection is None:
            return Built(findings)
        before = Before.of(collection, order.date or latest_date(collection), store_of(order))
        if before.inferred is None:
            beside.begin(collection, order.themes)
        answers = before.inferred.answers if before.inferred else None
        known, findings = known_of(read, collection, findings, answers)
        return _made(_Run(order, progress, state, beside, before, known), findings)


def _made(run: _Run, findings: Sequence[Finding]) -> Built:
    """The site made of what is known, which is not all sound perhaps."""
    if has_errors(findings):
        return Built(tuple(findings))
    said = _said(run.known, run.before.as_of, run.before)
    findings = in_order([*findings, *said.findings, *said.doubts])
    if has_errors(findings):
        return Built(findings)
    site = run.known.collection.site
    theme = find_theme(site.theme, run.order.themes)
    with spoken(catalogue_of(site.language, theme.words)):
        return _published(run, said, findings, theme)


def _published(run: _Run, said: _Said, findings: Sequence[Finding], theme: Theme) -> Built:
    """The site made and published, in its language."""
    known, before, store, output, progress = run.known, run.before, run.store, run.order.output, run.progress
    settings = settings_of(known.collection.site.pictures)
    photographs, unreadable = _photographs(known, run.order, store, settings, progress)
    with progress("Pictures") as report:
        encoded = encode_pictures(photographs, settings, store, run.order.workers, report)
    changes = before.inferred.changes if before.inferred else run.beside.changes(said.claims)
    made_from = _material(known, said, _complete(photographs, encoded), changes)
    with progress("Share pictures") as report:
        cards, style = every_share(made_from), share_style(theme)
        shares = compose_shares(cards, style, encoded.files, store, run.order.workers, report)
    making = Making.of(made_from, theme, output, before.inferred.marks if before.inferred else {}, run.workers)
    new = None
    if before.inferred is None:
        new = Inferred(known.answers, said.claims, changes)
        run.beside.pack(new)
    files = {**theme_files(theme), **making.files(), **encoded.files, **shares.files}
    take_compiled(theme, run.beside.templates())
    with progress("Pages") as report:
        released = publish(files, output, (run.order.content, run.order.themes), workers=run.workers, tell=report)
    store.prune(KIND, [store_key(name) for name in encoded.files])
    store.prune(SHARES, [path.name for path in shares.files.values()])
    forget_others([each.path for each in photographs], [each.facts for each in photographs], store)
    making.keep(released)
    if new is not None:
        new = replace(new, marks=making.ledger.marks_of(FOLLOWING))
    before.keep(new, said.doubts, store, run.beside.packed())
    notes = page_notes(released.notes)
    findings = in_order([*findings, *unreadable, *encoded.findings, *broken_links(notes, files)])
    n_made, n_kept = encoded.made + shares.made, encoded.kept + len(shares.files) - shares.made
    keep(run.state, output, findings, {"n_pages": len(notes), "pictures_made": 0, "pictures_kept": n_made + n_kept})
    return Built(findings, released, len(notes), n_made, n_kept)


def _complete(photographs: Sequence[Photograph], encoded: Encoded) -> dict[str, PictureSet]:
    """The photos of which every picture stands ready; a photo that cannot be decoded is not shown."""
    return {
        each.file: each.pictures
        for each in photographs
        if all(variant.file_name in encoded.files for variant in each.pictures.variants)
    }


def check(order: Order, progress: Progress = _silent) -> tuple[Finding, ...]:
    """Everything that is wrong or doubtful in the records, photographs and texts. Changes nothing."""
    known, findings = read_known(order.content, order.today)
    if known is None:
        return findings
    with progress("Photographs") as report:
        paths = {photo: order.content / photo for photo in known.photos}
        facts, unreadable = read_all_facts(paths, store_of(order), order.workers, report)
    settings = settings_of(known.collection.site.pictures)
    said = _said(known, order.date or latest_date(known.collection))
    pictures = {file: plan(each, settings) for file, each in facts.items()}
    made_from = _material(known, said, pictures, changes={})  # no link stands in what changed
    pages = whole_site(made_from)
    links = broken_links(pages, machine_files(made_from, lambda: pages))
    return in_order([*findings, *unreadable, *said.findings, *said.doubts, *links])


def store_of(order: Order) -> Store:
    """Where pictures are kept from build to build."""
    return Store(order.store or order.output.absolute().parent / ".sitegen")


def settings_of(wanted: Pictures) -> PictureSettings:
    """How the site wants its pictures made."""
    return PictureSettings(wanted.widths, wanted.avif_quality, wanted.avif_speed, wanted.jpeg_quality)


def _photographs(
    known: Known, order: Order, store: Store, settings: PictureSettings, progress: Progress
) -> tuple[list[Photograph], tuple[Finding, ...]]:
    """Every photo that can be read, with the pictures it is to become."""
    paths = {photo: order.content / photo for photo in known.photos}
    with progress("Photographs") as report:
        facts, unreadable = read_all_facts(paths, store, order.workers, report)
    return [Photograph(paths[file], file, each, plan(each, settings)) for file, each in facts.items()], unreadable


def _said(known: Known, as_of: dt.date, before: Before | None = None) -> _Said:
    """What may be said of every animal, and where the breeder's own words say more or less."""
    if before is not None and before.inferred is not None:
        claims = before.inferred.claims
    else:
        claims = claims_of(known.collection, known.answers, partial(reasons, known.asked), as_of)
    told = audit(known.collection, known.answers, claims, known.texts, as_of)
    doubts = before.doubts if before is not None else None
    if doubts is None:
        doubts = plan_findings(known.asked, as_of) if known.collection.projects else ()
    return _Said(as_of, claims, told, doubts)


def _material(
    known: Known,
    said: _Said,
    pictures: Mapping[str, PictureSet],
    changes: Mapping[str, tuple[Change, ...]] | None = None,
) -> Material:
    litters = known.collection.litters
    pairings = Lazily(litters, lambda litter: litter_pairing(known.asked, litters[litter]))
    projects = known.collection.projects
    roads = Lazily(projects, lambda project: roads_of(known.asked, projects[project], said.as_of))
    return material(known.collection, known.answers, said.claims, pictures, said.as_of, pairings, changes, roads)
