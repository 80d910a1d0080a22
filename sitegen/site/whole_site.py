"""Every page of the site, in the order in which a reader would come to them."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import seasons_by_litter
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.site import FreePage
from sitegen.content.species import Species
from sitegen.content.texts import first_paragraph
from sitegen.findings import Place
from sitegen.genetics.loci import Locus
from sitegen.site.addresses import (
    AVAILABLE,
    COLLECTION,
    GENES,
    JOURNAL,
    LITTERS,
    NOT_FOUND,
    ODDS,
    PRICE_LIST,
    PROJECTS,
    SEARCH,
    START,
    Gene,
    Linker,
    colliding,
    free_address,
    gene_address,
    litter_address,
    project_address,
    root_path,
    season_address,
    tub_cards_address,
)
from sitegen.site.animal import animal_page
from sitegen.site.comparison import comparison_page
from sitegen.site.frame import absolute, animal_node, breeder_nodes, fallback_description, frame, full_title, head
from sitegen.site.genes import GenesPage, gene_page, genes_page
from sitegen.site.journal import (
    JournalNote,
    JournalWords,
    all_notes,
    journal_addresses,
    journal_page,
    newest_day,
    notes_of,
)
from sitegen.site.lists import AvailablePage, CollectionPage, available_page, collection_page
from sitegen.site.litter import LittersPage, litter_page, litters_page
from sitegen.site.material import (
    Folio,
    Material,
    animal_changed,
    anything_changed,
    folio,
    litter_changed,
    litters_changed,
    offers_changed,
    project_changed,
)
from sitegen.site.odds import odds_page
from sitegen.site.paper import paper_page
from sitegen.site.parts import Head, Line, Page, Prose, Span, text_of, words
from sitegen.site.plates import photographs_page, pictures_changed
from sitegen.site.price_list import price_list_page, price_list_title
from sitegen.site.projects import ProjectsPage, goal_sentence, project_page, projects_page
from sitegen.site.search import SearchPage, search_page, search_title
from sitegen.site.season import season_page
from sitegen.site.share import animal_share, gene_share, litter_share, project_share, share_picture, site_share
from sitegen.site.start_page import start_page
from sitegen.site.tub_cards import card_parts, tub_cards_page, tub_cards_title
from sitegen.words.label_line import LONGEST_IN_TITLE
from sitegen.words.labels import not_found_text
from sitegen.words.speech import _, capital, plain

Make = Callable[[], Page]
"""Makes a page; until it is called nothing of the page has been worked out."""


@dataclass(frozen=True, slots=True)
class FreePageView:
    """A page in the breeder's own words."""

    title: str
    text: Prose


@dataclass(frozen=True, slots=True)
class NotFoundPage:
    """The page for an address that is not there."""

    title: str
    text: Line
    links: tuple[Line, ...]


def every_page(material: Material) -> Mapping[str, Make]:
    """The address of every page, in the order in which a reader would come to them, to what makes it.

    Raises:
        ValueError: Two pages would stand at one address; ids are checked long before.
    """
    home, records, word = folio(material, START), material.collection, material.labels
    at, places = home.at, home.addresses
    pages: list[tuple[Folio, Callable[[Folio], Page]]] = [
        (home, _start),
        (at(AVAILABLE), partial(_listing, "available.html", available_page, word.available, offers_changed)),
        (at(COLLECTION), partial(_listing, "collection.html", collection_page, word.collection, anything_changed)),
        (at(LITTERS), partial(_listing, "litters.html", litters_page, word.litters, litters_changed)),
        (at(GENES), partial(_listing, "genes.html", genes_page, word.genes, None)),
        (at(ODDS), partial(_listing, "odds.html", odds_page, word.odds, None)),
    ]
    if records.projects:
        pages.append((at(PROJECTS), partial(_listing, "projects.html", projects_page, word.projects, None)))
    pages.append((at(SEARCH), partial(_listing, "search.html", search_page, search_title(), None)))
    pages += [(at(place), partial(_animal, records.animals[each])) for each, place in places.animals.items()]
    pages += [(at(place), partial(_paper, records.animals[each])) for each, place in places.papers.items()]
    pages += [(at(place), partial(_comparison, gene)) for gene, place in places.comparisons.items()]
    pages += [(at(litter_address(each.id)), partial(_litter, each)) for each in records.litters.values()]
    seasons = sorted({year for year in seasons_by_litter(records).values() if year})
    pages += [(at(season_address(year)), partial(_season, year)) for year in seasons]
    pages += [(at(place), partial(_photographs, records.animals[each])) for each, place in places.plates.items()]
    years, notes = journal_addresses(material), cache(lambda: all_notes(home))
    pages += [(at(place), partial(_journal, year, years, notes)) for place, year in years]
    for species in records.species.values():
        for locus in species.genome.loci:
            pages.append((at(gene_address(species.id, locus.id)), partial(_gene, species, locus)))
    pages += [(at(project_address(each.id)), partial(_project, each)) for each in records.projects.values()]
    pages += [(at(free_address(each.id)), partial(_free_page, each)) for each in records.pages.values()]
    pages.append((at(PRICE_LIST), partial(_for_print, "price_list.html", price_list_page, price_list_title())))
    for part, _sheets in enumerate(parts := card_parts(home), 1):
        view = partial(tub_cards_page, part, parts)
        pages.append((at(tub_cards_address(part)), partial(_for_print, "tub_cards.html", view, tub_cards_title())))
    pages.append((at(NOT_FOUND), _not_found))
    if twice := colliding(page.address for page, _make in pages):
        raise ValueError(f"two pages at one address: {', '.join(twice)}")
    return {page.address: partial(make, page) for page, make in pages}


def _page(
    at: Folio, template: str, content: object, about: Head, *, record: Place | None = None,
    changed: dt.date | None = None, listed: bool = True,
) -> Page:  # fmt: skip
    """The page; ``changed`` is the newest day of what it tells."""
    file, day = record.file if record else "", changed.isoformat() if changed else ""
    return Page(at.address, template, frame(at), about, content, file, day, listed)


def _listing(
    template: str, view: Callable[[Folio], object], title: str, changed: Callable[[Material], dt.date | None] | None,
    at: Folio,
) -> Page:  # fmt: skip
    """A page of many records, of which machines are told nothing special."""
    content = view(at)
    match content:
        case AvailablePage() | CollectionPage() | GenesPage() | LittersPage():
            told = text_of(content.intro)
        case SearchPage():
            told = content.intro
        case ProjectsPage():
            told = f"{title}: " + ", ".join(each.name for each in at.collection.projects.values())
        case _:
            told = frame(at).evidence
    about = head(title, told or fallback_description(at), at, share_picture(site_share(at), at))
    return _page(at, template, content, about, changed=changed(at.material) if changed else None)


def _start(at: Folio) -> Page:
    site, content = at.collection.site, start_page(at)
    about = head(site.name, fallback_description(at), at, share_picture(site_share(at), at), breeder_nodes(at))
    return _page(at, "start.html", content, about, record=site.place, changed=anything_changed(at.material))


def _animal(animal: Animal, at: Folio) -> Page:
    """An animal's page, with its picture, and its offer for machines."""
    content, line = animal_page(animal, at), at.material.lines[animal.id]
    species, picture = at.collection.species[animal.species].name, content.lead.picture
    told = _("{species}: {names}").format(species=capital(species), names=plain(line.whole()))
    title = _("{name}: {line}").format(name=content.name, line=plain(line.within(LONGEST_IN_TITLE)))
    node = animal_node(animal, told, absolute(picture.src, at) if picture else "", at)
    share = share_picture(animal_share(animal, at), at)
    about = head(title, f"{content.name}. {told}", at, share or picture, (node,), crumb=content.name)
    changed = animal_changed(animal, at.material)
    return _page(at, "animal.html", content, about, record=animal.place, changed=changed)


def _photographs(animal: Animal, at: Folio) -> Page:
    content = photographs_page(animal, at)
    title = _("Pictures of {name}").format(name=content.name)
    told = f"{title}: {plain(at.material.lines[animal.id].whole())}. {content.intro}"
    about = head(title, told, at, share_picture(animal_share(animal, at), at))
    changed = pictures_changed(animal, at)
    return _page(at, "photographs.html", content, about, record=animal.place, changed=changed)


def _journal(
    year: int, pages: Sequence[tuple[str, int]], every_note: Callable[[], Sequence[JournalNote]], at: Folio
) -> Page:
    word, notes = JournalWords(), notes_of(year, every_note(), pages)
    title = word.title if at.address == JOURNAL else _("Journal {year}").format(year=year)
    told = word.intro if at.address == JOURNAL else f"{title}: {word.intro}"
    about = head(title, told, at, share_picture(site_share(at), at))
    return _page(at, "journal.html", journal_page(notes, pages, at), about, changed=newest_day(notes, at.material))


def _paper(animal: Animal, at: Folio) -> Page:
    """A buyer's paper. It is for print, so search engines are asked to pass it over."""
    content = paper_page(animal, at)
    title = _("Paper for {name}, {species}").format(name=content.name, species=content.species)
    told = plain(at.material.lines[animal.id].whole())
    about = replace(
        head(title, f"{title}: {told}", at, share_picture(animal_share(animal, at), at)),
        robots="noindex",
        structured="",
    )
    return _page(at, "paper.html", content, about, record=animal.place, listed=False)


def _for_print(template: str, view: Callable[[Folio], object], title: str, at: Folio) -> Page:
    """A page that the keeper prints: no page of the site links to it, and search engines are asked to pass it over."""
    return _page(at, template, view(at), Head(full_title(title, at), "", robots="noindex"), listed=False)


def _comparison(gene: Gene, at: Folio) -> Page:
    content, species = comparison_page(*gene, at), at.collection.species[gene[0]]
    title = _("{title}, {species}").format(title=content.name, species=species.name)
    locus = next(each for each in species.genome.loci if any(allele.id == gene[1] for allele in each.alleles))
    share = share_picture(gene_share(species, locus, at), at)
    about = head(title, " ".join(text_of(line) for line in content.intro), at, share)
    return _page(at, "comparison.html", content, about, record=species.place)


def _litter(litter: Litter, at: Folio) -> Page:
    content = litter_page(litter, at)
    told = text_of(content.kicker) + ": " + ", ".join(f"{f.label} {text_of(f.value)}" for f in content.label)
    about = head(litter.name, told, at, share_picture(litter_share(litter, at), at))
    return _page(at, "litter.html", content, about, record=litter.place, changed=litter_changed(litter, at.material))


def _season(year: int, at: Folio) -> Page:
    content = season_page(year, at)
    about = head(content.title, f"{content.title}: {content.intro}", at, share_picture(site_share(at), at))
    return _page(at, "season.html", content, about, changed=litters_changed(at.material))


def _gene(species: Species, locus: Locus, at: Folio) -> Page:
    content = gene_page(species, locus, at)
    title = _("{gene} in the {species}").format(gene=content.name, species=species.name)
    inherited = " ".join(dict.fromkeys(text_of(allele.inherited) for allele in content.alleles))
    about = head(title, f"{title}: {inherited}", at, share_picture(gene_share(species, locus, at), at))
    return _page(at, "gene.html", content, about, record=species.place)


def _project(project: Project, at: Folio) -> Page:
    content, told = project_page(project, at), plain(goal_sentence(project, at))
    share = share_picture(project_share(project, at), at)
    about = head(project.name, told, at, share, project=project)
    changed = project_changed(project, at.material)
    return _page(at, "project.html", content, about, record=project.place, changed=changed)


def _free_page(free: FreePage, at: Folio) -> Page:
    content, told = FreePageView(free.title, at.prose(free.text)), first_paragraph(free.text)
    about = head(free.title, told or fallback_description(at), at, share_picture(site_share(at), at))
    return _page(at, "free.html", content, about, record=free.place)


def _not_found(at: Folio) -> Page:
    """The page for an address that is not there; a host shows it anywhere, so its links start at the host's root."""
    rooted = Linker(NOT_FOUND, at.addresses.animals, root_path(at.collection.site.address))
    at, word = replace(at, linker=rooted), at.material.labels
    places = (
        (word.start, START), (word.available, AVAILABLE), (word.collection, COLLECTION), (word.genes, GENES),
        (search_title(), SEARCH),
    )  # fmt: skip
    links = tuple((Span(text, at.linker.to(address)),) for text, address in places)
    content = NotFoundPage(word.not_found, words(not_found_text()), links)
    about = Head(full_title(word.not_found, at), "", robots="noindex")
    return _page(at, "not_found.html", content, about, listed=False)
