"""The whole flow: content, records, answers, claims with history, plans, pages as functions by address, output."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from functools import partial
from gettext import NullTranslations
from pathlib import Path

from sitegen.content.collection import latest_date
from sitegen.content.folder import Content, read_content
from sitegen.content.projects import Project
from sitegen.evidence.answers import Known, bound_of, known_of
from sitegen.evidence.asking import Asked
from sitegen.evidence.chains import chains_of
from sitegen.evidence.claims import claims_of_animal
from sitegen.evidence.fit import uneven_litters
from sitegen.evidence.joint import joints_of
from sitegen.evidence.kinds import Claim
from sitegen.evidence.off_site import for_the_site, has_whole_road, photos_of
from sitegen.evidence.reasons import reasons
from sitegen.evidence.staircase import replays_of
from sitegen.findings import Finding, Kind, Level, in_order
from sitegen.genetics.questions import AnimalId
from sitegen.lazily import Lazily
from sitegen.photos.encode import PICTURES, Encoded, Photograph, encode_pictures
from sitegen.photos.facts import TINY, read_all_facts
from sitegen.photos.share_pictures import SHARES, compose_shares
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan
from sitegen.photos.videos import VIDEOS, Videos, ready_videos
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.publish.release import File, ReleaseReport, check_output, publish
from sitegen.render.catalogues import catalogue_of
from sitegen.render.machine import machine_files
from sitegen.render.pages import render_page
from sitegen.render.prose import PageNote, broken_links, note_of
from sitegen.render.themes import Theme, find_theme, share_style, theme_files
from sitegen.site.addresses import SITEMAP
from sitegen.site.material import Material, told_changes, with_litter_names
from sitegen.site.outcomes import litter_pairing
from sitegen.site.share import every_share
from sitegen.site.whole_site import Make, every_page
from sitegen.words.audit.whole import audit
from sitegen.words.planning import plan_findings
from sitegen.words.speech import spoken
from sitegen.words.today import overdue_findings

Progress = Callable[[str], AbstractContextManager[Callable[[int, int], None]]]
"""A label to a context that gives a function to call with the number done and the number there are."""
FactsOf = Callable[[Mapping[str, Path], Store, int, Callable[[int, int], None]],
                   tuple[dict[str, PhotoFacts], tuple[Finding, ...]]]  # fmt: skip
"""Reads what photographs say of themselves; see :func:`sitegen.photos.facts.read_all_facts`."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be built, from where, to where.

    Attributes:
        content, output, themes: The three folders.
        date: The day of the statement; the latest date in the records if not given.
        today: The day it is, after which nothing can have happened; no page says it. Not looked at if not given.
        workers: Number of processes for pictures; 0 for one a processor.
    """

    content: Path
    output: Path
    themes: Path
    date: dt.date | None = None
    today: dt.date | None = None
    workers: int = 0


@dataclass(frozen=True, slots=True)
class SiteState:
    """The site as one state of the content folder makes it; nothing of it is worked out before it is asked for.

    Attributes:
        catalogue: The words of the site's language; None for English.
        pages: Address of every page to what makes it.
        photographs: Those that can be read, with the pictures that each becomes.
        encoded: Their pictures, if they were asked for.
        videos: Those that can be shown.
    """

    material: Material
    theme: Theme
    catalogue: NullTranslations | None
    pages: Mapping[str, Make]
    settings: PictureSettings
    photographs: tuple[Photograph, ...]
    encoded: Encoded | None
    videos: Videos


@dataclass(frozen=True, slots=True)
class Built:
    """What came of it. ``published`` is None when an error stood in the way; the output is then as it was.

    An error among the findings of a site that was published is a photo that was left out of it.
    """

    findings: tuple[Finding, ...]
    published: ReleaseReport | None = None
    n_pages: int = 0
    pictures_made: int = 0
    pictures_kept: int = 0


_LEFT_OUT = frozenset({Kind.PHOTO_UNREADABLE, Kind.VIDEO_UNREADABLE})


def _silent(label: str) -> AbstractContextManager[Callable[[int, int], None]]:
    return nullcontext(lambda done, total: None)


def site_of(
    order: Order, content: Content, reading: Sequence[Finding], progress: Progress = _silent, *,
    encode: bool = False, facts_of: FactsOf = read_all_facts, theme_of: Callable[[str, Path], Theme] = find_theme,
) -> tuple[SiteState | None, tuple[Finding, ...]]:  # fmt: skip
    """The site that what was read makes, with all that is wrong or doubtful; None when an error stands in its way.

    Args:
        order: What is to be built.
        content: What was read.
        reading: What was found while it was read.
        progress: Told how far it is.
        encode: Make the pictures too; a photograph of which one cannot be made is then left out. A photograph that
            cannot be read is told as an error, and is none that stands in the way.
        facts_of: Reads photographs.
        theme_of: Reads and compiles the theme of a name.

    Raises:
        ThemeError: The theme is at fault.
        SitegenError: Pictures cannot be kept.
    """
    # Records: what was read, bound to its forms, checked, and asked of heredity.
    collection, findings = bound_of(content, reading, order.today)
    if collection is None:
        return None, findings
    known, findings = known_of(content, collection, findings)

    # What is read against the true records: plans, and the breeder's own words. Nothing below tells of what is not
    # for the site, for which its evidence is asked again where anything is kept off it.
    public = for_the_site(collection)
    as_of = order.date or latest_date(public)
    claims = _claims(known, as_of)
    doubts = (*plan_findings(known.asked, as_of), *uneven_litters(known.asked))
    late = tuple(overdue_findings(collection, order.today)) if order.today else ()
    told = (*audit(collection, known.answers, claims, content.texts, as_of), *doubts)
    if public is not collection:
        known, _told_above = known_of(content, public, ())
        claims = _claims(known, as_of)
    asked, answers = known.asked, known.answers

    # Claims with their history, and roads: each is worked out when a page asks for it.
    litters, projects = public.litters, public.projects
    replays = replays_of(public)
    changes = told_changes(public, claims, replays)
    pairings = Lazily(litters, lambda litter: litter_pairing(asked, litters[litter]))
    whole = [key for key, project in projects.items() if has_whole_road(project, public, collection)]
    roads = Lazily(whole, lambda project: _roads(asked, projects[project], as_of))

    # Photographs: what they say of themselves, the pictures that each becomes, and, for a build, these made.
    store, wanted = Store.of_user(), collection.site.pictures
    settings = PictureSettings(wanted.widths, wanted.avif_quality, wanted.avif_speed, wanted.jpeg_quality)
    photos = tuple(photos_of(public))
    paths = {photo.path: order.content / photo.path for photo in photos}
    with progress("Photographs") as report:
        facts, unreadable = facts_of(paths, store, order.workers, report)
    moving = tuple(photo.video for photo in photos if photo.video)
    captions = {path: text for path, text in content.texts.items() if path.lower().endswith(".vtt")}
    with progress("Videos") if moving else _silent("") as report:
        videos = ready_videos(order.content, moving, captions, store, order.workers, report)
    findings = in_order([*findings, *told, *late, *unreadable, *videos.findings])
    if stand_in_the_way(findings):
        return None, findings
    photographs = tuple(Photograph(paths[file], file, each, plan(each, settings)) for file, each in facts.items())
    with progress("Pictures") as report:
        encoded = encode_pictures(photographs, settings, store, order.workers, report) if encode else None
    shown = {each.file: each.pictures for each in photographs if encoded is None or encoded.has_all(each.pictures)}

    # Pages: a function by address, in the site's language.
    theme = theme_of(collection.site.theme, order.themes)
    catalogue = catalogue_of(collection.site.language, theme.words)
    with spoken(catalogue):
        named = with_litter_names(public.published).listed
        tied = joints_of(asked)
        made_from = Material(
            named,
            answers,
            claims,
            shown,
            as_of,
            changes,
            pairings,
            roads,
            *tied,
            videos.shown,
            replays,
            collection.animals,
        )
        pages = every_page(made_from)
    findings = in_order([*findings, *(encoded.findings if encoded else ())])
    return SiteState(made_from, theme, catalogue, pages, settings, photographs, encoded, videos), findings


def _claims(known: Known, as_of: dt.date) -> Mapping[AnimalId, tuple[Claim, ...]]:
    """Animal to its claims, each worked out when it is asked for."""
    animals, asked = known.collection.animals, known.asked
    chains = chains_of(asked.evidence, known.answers, partial(reasons, asked))
    return Lazily(animals, lambda animal: claims_of_animal(chains, animals[animal], as_of))


def _roads(asked: Asked, project: Project, as_of: dt.date) -> ProjectRoads:
    # Here, because numpy takes a tenth of a second to load, and a check or a site without projects draws nothing.
    from sitegen.plans.roads.beside import roads_of

    return roads_of(asked, project, as_of)


def stand_in_the_way(findings: Sequence[Finding]) -> bool:
    """True when there is an error other than that of a photograph or video, which is left out."""
    return any(each.level is Level.ERROR and each.kind not in _LEFT_OUT for each in findings)


def build(order: Order, progress: Progress = _silent) -> Built:
    """Make the whole site, or change nothing. A photo that cannot be read is told, and left out.

    Raises:
        ThemeError: The theme is at fault.
        OutputRefused: The output folder is not ours to change, or cannot be written.
    """
    check_output(order.output, (order.content, order.themes))
    site, findings = site_of(order, *read_content(order.content), progress, encode=True)
    if site is None:
        return Built(findings)
    built = _published(site, order, progress)
    return replace(built, findings=in_order([*findings, *built.findings]))


def _published(site: SiteState, order: Order, progress: Progress) -> Built:
    """Everything rendered and published; the findings are of links alone."""
    encoded, store = site.encoded, Store.of_user()
    assert encoded is not None
    notes: dict[str, PageNote] = {}

    def rendered(address: str) -> bytes:
        page = site.pages[address]()
        notes[address] = note_of(page)
        return render_page(page, site.theme)

    def in_page_order() -> list[PageNote]:
        return [notes[address] for address in site.pages]

    with spoken(site.catalogue):
        with progress("Share pictures") as report:
            cards, style = every_share(site.material), share_style(site.theme)
            shares = compose_shares(cards, style, encoded.files, store, order.workers, report)
        files: dict[str, File] = {
            **theme_files(site.theme),
            **{address: partial(rendered, address) for address in site.pages},
            **machine_files(site.material, in_page_order),
            **encoded.files,
            **site.videos.files,
            **shares.files,
        }
        # The pages of one animal one after the other, and the site map, which is made from all pages, at the end.
        files = dict(sorted(files.items(), key=lambda file: (file[0] == SITEMAP, file[0])))
        with progress("Pages") as report:
            released = publish(files, order.output, (order.content, order.themes), tell=report)
    for kind in (PICTURES, SHARES, TINY, VIDEOS):
        store.prune(kind)
    n_kept = encoded.kept + len(shares.files) - shares.made
    return Built(broken_links(in_page_order(), files), released, len(notes), encoded.made + shares.made, n_kept)


def check(order: Order, progress: Progress = _silent) -> tuple[Finding, ...]:
    """Everything that is wrong or doubtful in the records, photographs and texts. Changes nothing."""
    site, findings = site_of(order, *read_content(order.content), progress)
    if site is None:
        return findings
    with spoken(site.catalogue):
        notes = [note_of(make()) for make in site.pages.values()]
        files = {**theme_files(site.theme), **machine_files(site.material, lambda: notes)}
    pictures = [each.file_name for photograph in site.photographs for each in photograph.pictures.variants]
    return in_order([*findings, *broken_links(notes, [*files, *pictures, *site.videos.files])])
