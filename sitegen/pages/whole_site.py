"""Every page of the site, in the order in which a reader would come to them."""

from collections.abc import Iterator
from dataclasses import replace

from sitegen.pages.addresses import (
    AVAILABLE,
    COLLECTION,
    GENES,
    LITTERS,
    NOT_FOUND,
    ODDS,
    PROJECTS,
    START,
    colliding,
    free_address,
    gene_address,
    litter_address,
    project_address,
)
from sitegen.pages.animal import animal_page
from sitegen.pages.claim_views import hidden_lines, shows_sentence
from sitegen.pages.frame import fallback_description, frame, head
from sitegen.pages.genes import gene_page, genes_page
from sitegen.pages.keeping import collection_page
from sitegen.pages.litter import litter_page, litters_page
from sitegen.pages.material import Folio, Material, folio
from sitegen.pages.models import FreePageView, NotFoundPage
from sitegen.pages.odds import odds_page
from sitegen.pages.offers import available_page
from sitegen.pages.paper import paper_page
from sitegen.pages.parts import Line, Page, Span, words
from sitegen.pages.projects import goal_sentence, project_page, projects_page
from sitegen.pages.start import start_page
from sitegen.pages.structured import animal_data
from sitegen.records.animals import Animal
from sitegen.wording.paper import paper_title
from sitegen.wording.runs import plain
from sitegen.wording.site import labels, not_found_text
from sitegen.wording.speech import _


def whole_site(material: Material) -> tuple[Page, ...]:
    """Every page, each with its address, its template and all that the template can see.

    Raises:
        ValueError: Two pages would stand at one address; ids are checked long before.
    """
    pages = (
        *_top_pages(material),
        *(_animal(animal, material) for animal in material.collection.animals.values()),
        *_papers(material),
        *_litters(material),
        *_genes(material),
        *_projects(material),
        *_free_pages(material),
        _not_found(material),
    )
    if twice := colliding(page.address for page in pages):
        raise ValueError(f"two pages at one address: {', '.join(twice)}")
    return pages


def _text(line: Line) -> str:
    return "".join(span.text for span in line)


def _page(
    at: Folio, template: str, content: object, title: str, description: str = "", *, record: str = "", changed: str = ""
) -> Page:
    """A page without a picture of its own for machines."""
    about = head(title, description or fallback_description(at), at)
    return Page(at.address, template, frame(at), about, content, record, changed)


def _top_pages(material: Material) -> Iterator[Page]:
    """The pages that the navigation names."""
    word, site = labels(), material.collection.site
    at = folio(material, START)
    start = start_page(at)
    picture = start.lead.picture if start.lead else None
    about = head(site.name, site.tagline, at, picture)
    yield Page(START, "start.html", frame(at), about, start, site.place.file)
    at = folio(material, AVAILABLE)
    available = available_page(at)
    yield _page(at, "available.html", available, word.available, _text(available.intro))
    at = folio(material, COLLECTION)
    yield _page(at, "collection.html", collection_page(at), word.collection)
    at = folio(material, LITTERS)
    yield _page(at, "litters.html", litters_page(at), word.litters)
    at = folio(material, GENES)
    genes = genes_page(at)
    yield _page(at, "genes.html", genes, word.genes, _text(genes.intro))
    at = folio(material, ODDS)
    yield _page(at, "odds.html", odds_page(at), word.odds)
    if material.collection.projects:
        at = folio(material, PROJECTS)
        yield _page(at, "projects.html", projects_page(at), word.projects)


def _animal(animal: Animal, material: Material) -> Page:
    """An animal's page, with its picture and its offer for machines."""
    at = folio(material, material.places[animal.id])
    content = animal_page(animal, at)
    said = " ".join([plain(shows_sentence(animal, at)), *(_text(line) for line in hidden_lines(animal, at))])
    picture = content.lead.picture if content.lead else None
    title = _("{name}, {species}").format(name=content.name, species=material.collection.species[animal.species].name)
    about = head(title, said, at, picture)
    data = animal_data(animal, said, picture, about.canonical, at)
    return Page(at.address, "animal.html", frame(at), head(title, said, at, picture, data), content, animal.place.file)


def _papers(material: Material) -> Iterator[Page]:
    """The buyers' papers. They are for print, so search engines are asked to pass them over."""
    for animal_id, address in material.papers.items():
        animal, at = material.collection.animals[animal_id], folio(material, address)
        content = paper_page(animal, at)
        picture = content.plate.picture if content.plate else None
        about = replace(
            head(paper_title(content.name, content.species), content.in_words, at, picture), robots="noindex"
        )
        yield Page(address, "paper.html", frame(at), about, content, animal.place.file, listed=False)


def _litters(material: Material) -> Iterator[Page]:
    for litter in material.collection.litters.values():
        at = folio(material, litter_address(litter.id))
        content = litter_page(litter, at)
        plate = content.lead or next(iter(content.parents), None)
        told = _text(content.kicker) + ": " + ", ".join(f"{f.label} {_text(f.value)}" for f in content.label)
        about = head(litter.name, told, at, plate.picture if plate else None)
        yield Page(at.address, "litter.html", frame(at), about, content, litter.place.file)


def _genes(material: Material) -> Iterator[Page]:
    for species in material.collection.species.values():
        for locus in species.genome.loci:
            at = folio(material, gene_address(species.id, locus.id))
            content = gene_page(species, locus, at)
            title = _("{gene} in the {species}").format(gene=content.name, species=species.name)
            told = " ".join(_text(allele.inherited) for allele in content.alleles)
            yield _page(at, "gene.html", content, title, told, record=species.place.file)


def _projects(material: Material) -> Iterator[Page]:
    for project in material.collection.projects.values():
        at = folio(material, project_address(project.id))
        content = project_page(project, at)
        told = plain(goal_sentence(project, at))
        about = head(project.name, told, at, content.lead.picture if content.lead else None)
        yield Page(at.address, "project.html", frame(at), about, content, project.place.file)


def _free_pages(material: Material) -> Iterator[Page]:
    for free in material.collection.pages.values():
        at = folio(material, free_address(free.id))
        content = FreePageView(free.title, at.prose(free.text))
        yield _page(at, "free.html", content, free.title, record=free.place.file)


def _not_found(material: Material) -> Page:
    """The page for an address that is not there; a host shows it anywhere, so its links start at the host's root."""
    at = folio(material, NOT_FOUND, rooted=True)
    word = labels()
    places = ((word.start, START), (word.available, AVAILABLE), (word.collection, COLLECTION), (word.genes, GENES))
    links = tuple((Span(text, at.linker.to(address)),) for text, address in places)
    content = NotFoundPage(word.not_found, words(not_found_text()), links)
    about = head(word.not_found, "", at, found=False)
    return Page(at.address, "not_found.html", frame(at), about, content, listed=False)
