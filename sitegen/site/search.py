"""The page of search: everything that has a page of its own, by name. The list is the index; there is no other.

It holds what stands on the pages and nothing else. A script narrows it while one types; without scripts the list
stands whole, with its letters to jump to.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from unicodedata import combining, normalize

from sitegen.content.animals import Animal
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.site.addresses import free_address, gene_address, litter_address, project_address
from sitegen.site.material import Folio
from sitegen.site.parts import Line, words
from sitegen.words.claims import HIDDEN, SEEN, trade_words
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import offer_state
from sitegen.words.speech import _, capital, ngettext, plain, when_asked


@dataclass(frozen=True, slots=True)
class SearchEntry:
    """One thing that has a page: its name as a link, what it is, and what else it may be found by.

    ``find`` holds more words for the script to look in, in small letters; they are not printed.
    """

    name: Line
    kind: str
    about: str
    find: str


@dataclass(frozen=True, slots=True)
class SearchGroup:
    """The entries of one first letter, in order."""

    id: str
    letter: str
    entries: tuple[SearchEntry, ...]


@dataclass(frozen=True, slots=True)
class SearchPage:
    """Everything that has a page, by name. ``counted`` has the places ``{shown}`` and ``{all}``."""

    title: str
    intro: str
    field: str
    counted: str
    none: str
    groups: tuple[SearchGroup, ...]


search_title = when_asked("Search")


def folded(text: str) -> str:
    """The text as it is compared: small letters without accents.

    >>> folded("Sørén Großer Äther")
    'søren grosser ather'
    """
    return "".join(sign for sign in normalize("NFKD", text.casefold()) if not combining(sign))


def findable(text: str) -> str:
    """The same without signs, each word after a blank, so that words can be found by their beginning.

    >>> findable("Snow, 66% het hypo")
    ' snow 66 het hypo '
    """
    return re.sub(r"\W+", " ", f" {folded(text)} ")


def search_page(folio: Folio) -> SearchPage:
    """Everything that has a page of its own, by name."""
    entries = sorted(_entries(folio), key=_order)
    groups = tuple(
        SearchGroup(_anchor(letter), letter.upper() if letter else _("Numbers"), tuple(found))
        for letter, found in groupby(entries, key=_letter)
    )
    intro = ngettext(
        "One thing on this site that has a page of its own.",
        "All {count} things on this site that have a page of their own, by name.",
        len(entries),
    )
    return SearchPage(
        title=search_title(),
        intro=intro.format(count=len(entries)),
        field=_("Name, gene or look"),
        counted=_("{shown} of {all} found"),
        none=_("Nothing here has all of these words. A shorter word finds more."),
        groups=groups,
    )


def _name(entry: SearchEntry) -> str:
    return "".join(span.text for span in entry.name)


def _letter(entry: SearchEntry) -> str:
    """The first letter of the name, small and without accent; empty for a number or a sign."""
    first = folded(_name(entry))[:1]
    return first if first.isalpha() else ""


def _order(entry: SearchEntry) -> tuple[bool, tuple[str, ...], str]:
    """Letters before numbers; within a name numbers by their size."""
    return not _letter(entry), by_number(folded(_name(entry))), entry.about


def by_number(text: str) -> tuple[str, ...]:
    """The text as it is sorted: numbers in it by their size.

    >>> by_number("animal 9") < by_number("animal 10")
    True
    """
    return tuple(part.zfill(12) if part.isdigit() else part for part in re.split(r"(\d+)", text))


def _anchor(letter: str) -> str:
    """An id for a heading: ``by-a``; the number of its sign for a letter outside a to z."""
    if not letter:
        return "by-number"
    return f"by-{letter}" if letter.isascii() else f"by-{ord(letter)}"


def _entry(name: str, href: str, kind: str, about: str, *more: str) -> SearchEntry:
    return SearchEntry(words(name, href), kind, about, findable(" ".join([name, kind, about, *more])))


def _entries(folio: Folio) -> Iterator[SearchEntry]:
    records, link = folio.collection, folio.linker
    for animal in records.animals.values():
        yield _animal(animal, folio)
    for species in records.species.values():
        for locus in species.genome.loci:
            named = (*(allele.name for allele in locus.alleles), *(look.name for look in locus.looks))
            names = ", ".join(dict.fromkeys(named))
            href = link.to(gene_address(species.id, locus.id))
            shown = names if names != locus.name else ""
            about = _("{species}: {names}").format(species=species.name, names=shown) if shown else species.name
            yield _entry(capital(locus.name), href, _("gene"), about, species.scientific)
        for several in species.genome.combinations:
            looks = [species.genome.look(look) for look in several.looks]
            home = next(each for each in species.genome.loci if any(own.id == several.looks[0] for own in each.looks))
            about = _("{species}: {names}").format(species=species.name, names=", ".join(look.name for look in looks))
            yield _entry(
                capital(several.name), link.to(gene_address(species.id, home.id)), _("several genes together"), about
            )
    for litter in records.litters.values():
        species = records.species[litter.species]
        yield _entry(litter.name, link.to(litter_address(litter.id)), birth_words(species).litter, species.name)
    for project in records.projects.values():
        yield _entry(project.name, link.to(project_address(project.id)), _("project"), "")
    for page in records.pages.values():
        yield _entry(page.title, link.to(free_address(page.id)), _("page"), "")


def _animal(animal: Animal, folio: Folio) -> SearchEntry:
    """An animal by its label line; the parts of a combination and the trade's shorthand find it too."""
    voice, line = folio.voice, plain(folio.material.lines[animal.id].whole())
    about = _("{species}: {names}").format(species=folio.collection.species[animal.species].name, names=line)
    more = []
    for claim in folio.claims(animal.id):
        if claim.kind in SEEN:
            more.append(voice.gene(claim).text)
        if claim.allele and claim.kind in (*SEEN, *HIDDEN):
            names = dict.fromkeys((claim.allele, *voice.allele(claim).named))
            more += [f"{short} {name}" for name in names for short in ("", *_shorthand(claim, folio))]
    offer = folio.offer(animal)
    if offer is not None and offer.offered:
        about = f"{about}. {offer_state(offer.state)}."
    kind = _("young") if animal.litter and animal.name in ("", animal.number) else _("animal")
    return _entry(folio.name(animal), folio.linker.animal(animal.id), kind, about, *dict.fromkeys(more))


def _shorthand(claim: Claim, folio: Folio) -> Iterator[str]:
    """What the trade writes before the name of a hidden gene, to be found by: ``66% het``, ``poss het``."""
    het = trade_words(claim, claim.chance, folio.voice) if claim.kind in HIDDEN else ""
    if het:
        yield from (het, "het")
    if claim.kind is ClaimKind.MAY_CARRY:
        yield from ("poss het", "pos het")
