"""Where each page stands, and how one page names another.

Every page is a flat ``.html`` file and every link is relative, so that the site opens from a disk by double
click, from any folder of any host, and without a server. An address is written from the site's root, with
forward slashes and the characters of the ids as they are; only links are percent-encoded.
"""

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import quote, urlsplit

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.prices import OfferState
from sitegen.evidence.kinds import Claim, alleles_of
from sitegen.evidence.offers import standing
from sitegen.genetics.questions import AnimalId
from sitegen.words.speech import Link, Target

START = "index.html"
COLLECTION = "collection.html"
LITTERS = "litters.html"
AVAILABLE = "available.html"
GENES = "genes.html"
ODDS = "odds.html"
PROJECTS = "projects.html"
PRICE_LIST = "print/price-list.html"
TUB_CARDS = "print/tub-cards.html"
NOT_FOUND = "404.html"
SITEMAP = "sitemap.xml"
ROBOTS = "robots.txt"
DATA = "data/collection.json"
DATA_SCHEMA = "data/collection.schema.json"
PAPER_SCHEMA = "data/paper.schema.json"
JOURNAL = "journal.html"
SEARCH = "search.html"
JOURNAL_FEED = "journal.xml"
AVAILABLE_FEED = "available.xml"
OWN_PAGES = (START, COLLECTION, LITTERS, AVAILABLE, GENES, ODDS, PROJECTS, JOURNAL, SEARCH, NOT_FOUND)


def animal_address(animal: AnimalId, litter: str = "", number: str = "") -> str:
    """Where an animal's page stands.

    A young has its page under its litter, and keeps it when it is promoted: give its litter and number then.

    >>> animal_address("juniper"), animal_address("2026-x/03"), animal_address("sorrel", "2026-x", "03")
    ('animals/juniper.html', 'litters/2026-x/03.html', 'litters/2026-x/03.html')
    """
    if litter and number:
        return f"litters/{litter}/{number}.html"
    return f"litters/{animal}.html" if "/" in animal else f"animals/{animal}.html"


def litter_address(litter: str) -> str:
    """Where a litter's page stands."""
    return f"litters/{litter}.html"


def gene_address(species: str, locus: str) -> str:
    """Where a locus is explained.

    >>> gene_address("corn-snake", "amel")
    'genes/corn-snake/amel.html'
    """
    return f"genes/{species}/{locus}.html"


def season_address(year: int) -> str:
    """Where a season's page stands."""
    return f"seasons/{year}.html"


def project_address(project: str) -> str:
    """Where a project's page stands."""
    return f"projects/{project}.html"


def project_feed(project: str) -> str:
    """Where the feed of a project stands."""
    return f"projects/{project}.xml"


def journal_address(year: int) -> str:
    """Where the journal of an earlier year stands."""
    return f"journal/{year}.html"


def tub_cards_address(part: int) -> str:
    """Where a part of the tub cards stands, counted from 1: ``print/tub-cards-2.html``."""
    return TUB_CARDS if part == 1 else TUB_CARDS.replace(".html", f"-{part}.html")


def free_address(page: str) -> str:
    """Where a free page stands; one that would take the name of a page of ours gets ``page-`` before it.

    >>> free_address("about"), free_address("litters")
    ('about.html', 'page-litters.html')
    """
    own = f"{page}.html"
    return f"page-{own}" if own in OWN_PAGES or page.startswith("page-") else own


def relative(source: str, target: str) -> str:
    """The link from the page at ``source`` to ``target``, percent-encoded; a fragment is kept.

    >>> relative("animals/juniper.html", "litters/2026-x.html#young")
    '../litters/2026-x.html#young'
    """
    path, _, fragment = target.partition("#")
    if not path or (path == source and fragment):
        return f"#{quote(fragment)}"
    link = _from_folder(source.rpartition("/")[0], path)
    return f"{link}#{quote(fragment)}" if fragment else link


@lru_cache(maxsize=20_000)  # 83,000 links of 1,000 animals, most of them shared by the pages of a folder
def _from_folder(folder: str, path: str) -> str:
    here, there = folder.split("/") if folder else [], path.split("/")
    shared = 0
    while shared < min(len(here), len(there) - 1) and here[shared] == there[shared]:
        shared += 1
    return "../" * (len(here) - shared) + quote("/".join(there[shared:]))


class Linker:
    """Writes the links of one page.

    Args:
        source: The page's address.
        places: Animal to the address of its page.
        rooted: Write links from the root of the host instead, below this path (for the page "not found",
            which a host may show at any address). None for relative links.
    """

    def __init__(self, source: str, places: Mapping[AnimalId, str], rooted: str | None = None) -> None:
        self.source = source
        self._places = places
        self.rooted = rooted
        self.here = self.to(source)
        """The link to the page itself."""

    def to(self, target: str) -> str:
        """The link to an address."""
        if self.rooted is None:
            return relative(self.source, target)
        path, _, fragment = target.partition("#")
        return self.rooted + quote(path) + (f"#{quote(fragment)}" if fragment else "")

    def animal(self, animal: AnimalId) -> str:
        """The link to an animal's page, or an empty string when it has none."""
        place = self._places.get(animal)
        return self.to(place) if place is not None else ""

    def run(self, link: Link) -> str:
        """The link of a run, or an empty string when what it names has no page."""
        match link.target:
            case Target.ANIMAL:
                return self.animal(link.id)
            case Target.LITTER:
                return self.to(litter_address(link.id))
            case Target.GENE:
                species, _, locus = link.id.partition("/")
                return self.to(gene_address(species, locus))
            case Target.SPECIES:
                return self.to(f"{GENES}#{link.id}")
            case Target.METHOD:
                return self.to(f"{ODDS}#{link.id}" if link.id else ODDS)
            case Target.PROJECT:
                project, _, part = link.id.partition("#")
                return self.to(project_address(project) + (f"#{part}" if part else ""))


def root_path(address: str) -> str:
    """The path part of the site's public address, with a slash at both ends.

    >>> root_path("https://example.org/snakes/"), root_path("")
    ('/snakes/', '/')
    """
    path = urlsplit(address).path.strip("/")
    return f"/{path}/" if path else "/"


def colliding(addresses: Iterable[str]) -> tuple[str, ...]:
    """Addresses that are taken more than once, also when only upper and lower case differ."""
    seen: dict[str, int] = {}
    for address in addresses:
        seen[address.casefold()] = seen.get(address.casefold(), 0) + 1
    return tuple(address for address, count in seen.items() if count > 1)


OPEN = (OfferState.AVAILABLE, OfferState.ON_HOLD)


def can_be_had(animal: Animal) -> bool:
    """True while an animal is available or on hold."""
    return standing(animal) in OPEN


Gene = tuple[str, str]
"""Species and allele."""


@dataclass(frozen=True, slots=True)
class Addresses:
    """Where the pages stand whose addresses hang on the records.

    Attributes:
        moved: Addresses that a breeder would write for a promoted young, to where its page stands.
        papers: Animal that is or was offered for sale to its buyer's paper.
        plates: Animal with a photo that is shown to the page that shows its photographs in full size.
        comparisons: Species and allele of every gene in play among the animals on offer to the page that compares
            them by it.
    """

    animals: Mapping[AnimalId, str]
    moved: Mapping[str, str]
    papers: Mapping[AnimalId, str]
    plates: Mapping[AnimalId, str]
    comparisons: Mapping[Gene, str]


def addresses_of(
    collection: Collection, claims: Mapping[AnimalId, tuple[Claim, ...]], pictures: Container[str]
) -> Addresses:
    """Where the pages of a collection stand; ``pictures`` are the paths of the photos that are shown."""
    animals = collection.animals
    places = {each.id: animal_address(each.id, each.litter, each.number) for each in animals.values()}
    offered = [each.id for each in animals.values() if standing(each) not in (None, OfferState.NOT_FOR_SALE)]
    shown = [each.id for each in animals.values() if any(photo.path in pictures for photo in each.photos)]
    return Addresses(
        places,
        {animal_address(animal): place for animal, place in places.items() if animal_address(animal) != place},
        _beside(offered, places, "-paper"),
        _beside(shown, places, "-pictures"),
        _comparisons(collection, claims),
    )


def _beside(animals: Iterable[AnimalId], places: Mapping[AnimalId, str], ending: str) -> dict[AnimalId, str]:
    """Addresses beside the pages of some animals: ``litters/2026-x/03-paper.html``; none that another page has."""
    taken = {place.casefold() for place in places.values()}
    found = {}
    for animal in animals:
        address = places[animal]
        # An animal may be called "fern-paper": then Fern's paper stands at fern-paper-paper.html. Compared without
        # regard to capitals, since on some disks two such files would be one.
        while address.casefold() in taken:
            address = address.removesuffix(".html") + ending + ".html"
        found[animal] = address
        taken.add(address.casefold())
    return found


def _comparisons(collection: Collection, claims: Mapping[AnimalId, tuple[Claim, ...]]) -> dict[Gene, str]:
    """Every gene that an animal on offer shows, carries or may carry, to its page; in the order of the species files.

    Ids that differ only in capitals would share a file on some disks, so the later one gets a number.
    """
    found: set[Gene] = set()
    for animal in collection.animals.values():
        if can_be_had(animal):
            genome = collection.species[animal.species].genome
            for claim in claims.get(animal.id, ()):
                found |= {(animal.species, allele) for allele in alleles_of(claim, genome.locus(claim.locus))}
    addresses: dict[Gene, str] = {}
    taken: set[str] = set()
    for species in collection.species.values():
        for gene in [(species.id, allele.id) for locus in species.genome.loci for allele in locus.alleles]:
            if gene in found:
                stem, number = f"available/{gene[0]}/{gene[1]}", 1
                while (address := f"{stem}-{number}.html" if number > 1 else f"{stem}.html").casefold() in taken:
                    number += 1
                addresses[gene] = address
                taken.add(address.casefold())
    return addresses
