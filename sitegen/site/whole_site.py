"""Every page of the site, in the order in which a reader would come to them."""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.site import FreePage
from sitegen.content.species import Species
from sitegen.genetics.loci import Locus
from sitegen.site.addresses import (
    AVAILABLE,
    COLLECTION,
    GENES,
    JOURNAL,
    LITTERS,
    NOT_FOUND,
    ODDS,
    PROJECTS,
    SEARCH,
    START,
    Gene,
    colliding,
    free_address,
    gene_address,
    litter_address,
    project_address,
)
from sitegen.site.animal import animal_page
from sitegen.site.comparison import comparison_page
from sitegen.site.frame import absolute, animal_node, breeder_nodes, fallback_description, frame, head
from sitegen.site.genes import gene_page, genes_page
from sitegen.site.journal import journal_addresses, journal_of, journal_page, journal_words, newest_day, notes_of
from sitegen.site.lists import available_page, collection_page
from sitegen.site.litter import litter_page, litters_page
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
from sitegen.site.paper import paper_page, paper_title
from sitegen.site.parts import Line, Page, Prose, Span, text_of, words
from sitegen.site.plates import photographs_page, photographs_title, pictures_changed
from sitegen.site.projects import goal_sentence, project_page, projects_page
from sitegen.site.search import search_page, search_title
from sitegen.site.share import animal_share, project_share, share_picture
from sitegen.site.start import start_page
from sitegen.site.views import hidden_sentences, shows_sentence
from sitegen.words.labels import labels, not_found_text
from sitegen.words.speech import _, plain


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


Make = Callable[[], Page]
"""Makes a page; until it is called nothing of the page has been worked out."""


def whole_site(material: Material) -> tuple[Page, ...]:
    """Every page, each with its address, its template and all that the template can see.

    Raises:
        ValueError: Two pages would stand at one address; ids are checked long before.
    """
    return tuple(make() for make in every_page(material).values())


def every_page(material: Material) -> Mapping[str, Make]:
    """The address of every page, in the order of :func:`whole_site`, to what makes it.

    Raises:
        ValueError: Two pages would stand at one address; ids are checked long before.
    """
    pages: tuple[tuple[str, Make], ...] = (
        *_top_pages(material),
        *_animals(material),
        *_papers(material),
        *_comparisons(material),
        *_litters(material),
        *_photographs(material),
        *_journal(material),
        *_genes(material),
        *_projects(material),
        *_free_pages(material),
        (NOT_FOUND, partial(_not_found, material)),
    )
    if twice := colliding(address for address, _make in pages):
        raise ValueError(f"two pages at one address: {', '.join(twice)}")
    return dict(pages)


def _page(
    at: Folio, template: str, content: object, title: str, description: str = "", *, record: str = "",
    changed: dt.date | None = None,
) -> Page:  # fmt: skip
    """A page without a picture of its own for machines."""
    about = head(title, description or fallback_description(at), at)
    return Page(at.address, template, frame(at), about, content, record, _day(changed))


def _day(changed: dt.date | None) -> str:
    """A day as the site map writes it; empty when it is not known."""
    return changed.isoformat() if changed else ""


def _top_pages(material: Material) -> Iterator[tuple[str, Make]]:
    """The pages that the navigation names."""
    word = labels()
    yield START, partial(_start, material)
    yield AVAILABLE, partial(_available, material)
    yield (
        COLLECTION,
        lambda: _listing(
            material, COLLECTION, "collection.html", collection_page, word.collection, anything_changed(material)
        ),
    )
    yield (
        LITTERS,
        lambda: _listing(material, LITTERS, "litters.html", litters_page, word.litters, litters_changed(material)),
    )
    yield GENES, partial(_all_genes, material)
    yield ODDS, lambda: _listing(material, ODDS, "odds.html", odds_page, word.odds)
    if material.collection.projects:
        yield PROJECTS, lambda: _listing(material, PROJECTS, "projects.html", projects_page, word.projects)
    yield SEARCH, lambda: _listing(material, SEARCH, "search.html", search_page, search_title())


def _listing(
    material: Material, address: str, template: str, view: Callable[[Folio], object], title: str,
    changed: dt.date | None = None,
) -> Page:  # fmt: skip
    at = folio(material, address)
    return _page(at, template, view(at), title, changed=changed)


def _start(material: Material) -> Page:
    at, site = folio(material, START), material.collection.site
    content = start_page(at)
    picture = content.lead.picture if content.lead else None
    about = head(site.name, site.tagline, at, picture, breeder_nodes(at))
    return Page(START, "start.html", frame(at), about, content, site.place.file, _day(anything_changed(material)))


def _available(material: Material) -> Page:
    at = folio(material, AVAILABLE)
    content = available_page(at)
    changed = offers_changed(material)
    return _page(at, "available.html", content, labels().available, text_of(content.intro), changed=changed)


def _all_genes(material: Material) -> Page:
    at = folio(material, GENES)
    content = genes_page(at)
    return _page(at, "genes.html", content, labels().genes, text_of(content.intro))


def _animals(material: Material) -> Iterator[tuple[str, Make]]:
    for animal in material.collection.animals.values():
        yield material.places[animal.id], partial(_animal, animal, material)


def _animal(animal: Animal, material: Material) -> Page:
    """An animal's page, with its picture and its offer for machines."""
    at = folio(material, material.places[animal.id])
    content = animal_page(animal, at)
    said = _said_of_genes(animal, at)
    picture = content.lead.picture
    title = _("{name}, {species}").format(name=content.name, species=material.collection.species[animal.species].name)
    node = animal_node(animal, said, absolute(picture.src, at) if picture else "", at)
    share = share_picture(animal_share(animal, at), at) if material.collection.site.address else None
    about = head(title, said, at, picture, (node,), share=share, crumb=content.name)
    changed = _day(animal_changed(animal, material))
    return Page(at.address, "animal.html", frame(at), about, content, animal.place.file, changed)


def _said_of_genes(animal: Animal, at: Folio) -> str:
    """What an animal shows and carries, in short sentences."""
    return " ".join(plain(each) for each in (shows_sentence(animal, at), *hidden_sentences(animal, at)))


def _photographs(material: Material) -> Iterator[tuple[str, Make]]:
    for animal, address in material.plates.items():
        yield address, partial(_photographs_of, material.collection.animals[animal], address, material)


def _photographs_of(animal: Animal, address: str, material: Material) -> Page:
    """The photographs of an animal in full size."""
    at = folio(material, address)
    content = photographs_page(animal, at)
    title = photographs_title(content.name)
    about = head(title, content.intro, at, content.plates[-1].plate.picture)
    changed = _day(pictures_changed(animal, at))
    return Page(address, "photographs.html", frame(at), about, content, animal.place.file, changed)


def _journal(material: Material) -> Iterator[tuple[str, Make]]:
    for address, year in journal_addresses(material):
        yield address, partial(_journal_of, address, year, material)


def _journal_of(address: str, year: int, material: Material) -> Page:
    """The journal, or one year of it."""
    at, word = folio(material, address), journal_words()
    title = word.title if address == JOURNAL else journal_of(str(year))
    changed = newest_day(notes_of(year, material), material)
    return _page(at, "journal.html", journal_page(year, at), title, word.intro, changed=changed)


def _papers(material: Material) -> Iterator[tuple[str, Make]]:
    for animal, address in material.papers.items():
        yield address, partial(_paper, material.collection.animals[animal], address, material)


def _paper(animal: Animal, address: str, material: Material) -> Page:
    """A buyer's paper. It is for print, so search engines are asked to pass it over."""
    at = folio(material, address)
    content = paper_page(animal, at)
    picture = content.plate.picture
    about = head(paper_title(content.name, content.species), content.in_words, at, picture)
    about = replace(about, robots="noindex", structured="")
    return Page(address, "paper.html", frame(at), about, content, animal.place.file, listed=False)


def _comparisons(material: Material) -> Iterator[tuple[str, Make]]:
    for gene, address in material.comparisons.items():
        yield address, partial(_comparison, gene, material)


def _comparison(gene: Gene, material: Material) -> Page:
    at = folio(material, material.comparisons[gene])
    content = comparison_page(*gene, at)
    species = material.collection.species[gene[0]]
    title = _("{title}, {species}").format(title=content.name, species=species.name)
    told = " ".join(text_of(line) for line in content.intro)
    return _page(at, "comparison.html", content, title, told, record=species.place.file)


def _litters(material: Material) -> Iterator[tuple[str, Make]]:
    for litter in material.collection.litters.values():
        yield litter_address(litter.id), partial(_litter, litter, material)


def _litter(litter: Litter, material: Material) -> Page:
    at = folio(material, litter_address(litter.id))
    content = litter_page(litter, at)
    plate = content.lead or next(iter(content.parents), None)
    told = text_of(content.kicker) + ": " + ", ".join(f"{f.label} {text_of(f.value)}" for f in content.label)
    about = head(litter.name, told, at, plate.picture if plate else None)
    changed = _day(litter_changed(litter, material))
    return Page(at.address, "litter.html", frame(at), about, content, litter.place.file, changed)


def _genes(material: Material) -> Iterator[tuple[str, Make]]:
    for species in material.collection.species.values():
        for locus in species.genome.loci:
            yield gene_address(species.id, locus.id), partial(_gene, species, locus, material)


def _gene(species: Species, locus: Locus, material: Material) -> Page:
    at = folio(material, gene_address(species.id, locus.id))
    content = gene_page(species, locus, at)
    title = _("{gene} in the {species}").format(gene=content.name, species=species.name)
    told = " ".join(text_of(allele.inherited) for allele in content.alleles)
    return _page(at, "gene.html", content, title, told, record=species.place.file)


def _projects(material: Material) -> Iterator[tuple[str, Make]]:
    for project in material.collection.projects.values():
        yield project_address(project.id), partial(_project, project, material)


def _project(project: Project, material: Material) -> Page:
    at = folio(material, project_address(project.id))
    content = project_page(project, at)
    told = plain(goal_sentence(project, at))
    share = share_picture(project_share(project, at), at) if material.collection.site.address else None
    about = head(project.name, told, at, share=share, project=project)
    changed = _day(project_changed(project, material))
    return Page(at.address, "project.html", frame(at), about, content, project.place.file, changed)


def _free_pages(material: Material) -> Iterator[tuple[str, Make]]:
    for free in material.collection.pages.values():
        yield free_address(free.id), partial(_free_page, free, material)


def _free_page(free: FreePage, material: Material) -> Page:
    at = folio(material, free_address(free.id))
    content = FreePageView(free.title, at.prose(free.text))
    return _page(at, "free.html", content, free.title, record=free.place.file)


def _not_found(material: Material) -> Page:
    """The page for an address that is not there; a host shows it anywhere, so its links start at the host's root."""
    at = folio(material, NOT_FOUND, rooted=True)
    word = labels()
    places = (
        (word.start, START), (word.available, AVAILABLE), (word.collection, COLLECTION), (word.genes, GENES),
        (search_title(), SEARCH),
    )  # fmt: skip
    links = tuple((Span(text, at.linker.to(address)),) for text, address in places)
    content = NotFoundPage(word.not_found, words(not_found_text()), links)
    about = head(word.not_found, "", at, found=False)
    return Page(at.address, "not_found.html", frame(at), about, content, listed=False)
