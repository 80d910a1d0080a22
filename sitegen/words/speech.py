"""How sentences are made: as runs of words and links, from templates that a catalogue can translate.

Every sentence of the product passes through :func:`_` or :func:`ngettext` with named places in braces, so that a
catalogue can turn the words around; without one the English stands. :func:`said` fills the places. Escaping and the
addresses of links come later, elsewhere.

Where a language bends nouns or splits genders, a translation turns the sentence so that a filled-in word stands by
itself, as the German catalogue does with ``{litter}`` in brackets.

A program makes one site at a time, and a site has one language; so the catalogue is set once, around the making of its
pages (:func:`spoken`), and is the same in every thread.
"""

import datetime as dt
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from gettext import NullTranslations

from sitegen.content.collection import Collection
from sitegen.content.off_site import is_off_site
from sitegen.content.species import Species
from sitegen.evidence.answers import Answers
from sitegen.evidence.gathered import Reason
from sitegen.evidence.kinds import Claim
from sitegen.genetics.loci import Allele, Locus, Sex
from sitegen.genetics.questions import AnimalId, Posterior

# Runs.


class Target(StrEnum):
    """What a link in a sentence leads to."""

    ANIMAL = "animal"
    LITTER = "litter"
    GENE = "gene"
    SPECIES = "species"
    METHOD = "method"
    PROJECT = "project"


@dataclass(frozen=True, slots=True)
class Text:
    """Plain words."""

    text: str


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead somewhere.

    ``id`` of a gene is ``SPECIES/LOCUS``; of the method page it is a section or empty; of a project a part of its page
    may follow: ``PROJECT#stage-first``.
    """

    text: str
    target: Target
    id: str


Run = Text | Link
Sentence = tuple[Run, ...]
Words = str | int | Fraction | Run | Sentence
"""What may be put into a sentence; a number stands in figures."""


def plain(sentence: Sentence) -> str:
    """The words alone."""
    return "".join([run.text for run in sentence])


# Translation.

THEME = "theme"
"""The context under which a theme's own words stand in a catalogue, so that they answer for no word of the program."""

_ENGLISH = NullTranslations()
_catalogues = [_ENGLISH]


@contextmanager
def spoken(catalogue: NullTranslations | None) -> Iterator[None]:
    """Within it every sentence is said by the catalogue; without one, in English."""
    _catalogues.append(catalogue or _ENGLISH)
    try:
        yield
    finally:
        _catalogues.pop()


def _(message: str) -> str:
    """The message in the language of the site."""
    return _catalogues[-1].gettext(message)


def when_asked(message: str) -> Callable[[], str]:
    """A function that gives the message in the language that is spoken when it is asked, not when a module is read."""
    return lambda: _(message)


def own_word(words: str) -> str:
    """A theme's own words by its own catalogue; as they are where it has none for them."""
    return _catalogues[-1].pgettext(THEME, words)


def ngettext(one: str, several: str, count: int) -> str:
    """The form that fits the count, in the language of the site."""
    return _catalogues[-1].ngettext(one, several, count)


# Sentences.

_PLACE = re.compile(r"\{(\w+)\}")


@lru_cache(maxsize=4096)
def _parts(template: str) -> tuple[str, ...]:
    """The words of a template, and between them the names of its places; kept because each template is used often."""
    return tuple(_PLACE.split(template))


def said(template: str, **places: Words) -> Sentence:
    """The template with its named places filled; neighbouring plain words become one run.

    Places that the template does not name are left out, so that one set of places can serve several templates.

    Raises:
        KeyError: The template has a place that is not given.
    """
    parts = _parts(template)
    return joined([places[part] if index % 2 else part for index, part in enumerate(parts)])


PRONOUNS = {
    Sex.FEMALE: {"he": when_asked("she"), "his": when_asked("her"), "him": when_asked("her")},
    Sex.MALE: {"he": when_asked("he"), "his": when_asked("his"), "him": when_asked("him")},
    Sex.UNKNOWN: {"he": when_asked("this one"), "his": when_asked("its"), "him": when_asked("this one")},
}
"""Places for an animal by its sex; "it" is then the gene. A translation may do without them; in German ``{his}`` is a
stem (``{his}e Mutter``), and ``{him}`` is not used."""


def said_of(animal: AnimalId, voice: "Voice", template: str, **places: Words) -> Sentence:
    """The template with ``{he}``, ``{his}`` and ``{him}`` as the sex of the animal has it."""
    pronouns = PRONOUNS[voice.collection.animals[animal].sex]
    return said(template, **{name: word() for name, word in pronouns.items()}, **places)


def joined(pieces: Sequence[Words]) -> Sentence:
    """The pieces one after the other, neighbouring plain words put together; empty ones leave nothing."""
    runs: list[Run] = []
    text = ""
    for piece in pieces:
        if isinstance(piece, str):
            text += piece
            continue
        if not isinstance(piece, (tuple, Text, Link)):
            text += str(piece)  # a number, in figures
            continue
        for run in piece if isinstance(piece, tuple) else (piece,):
            if isinstance(run, Text):
                text += run.text
                continue
            if text:
                runs.append(Text(text))
            runs.append(run)
            text = ""
    return (*runs, Text(text)) if text else tuple(runs)


def listed(items: Sequence[Words], *, either: bool = False, most: int = 0) -> Sentence:
    """``a``, ``a and b``, ``a, b and c``; with ``either``: ``a, b or c``; beyond ``most``: ``a, b and 4 more``."""
    rest = len(items) - most if most else 0
    if rest > 0:
        items = [*items[:most], ngettext("{count} more", "{count} more", rest).format(count=rest)]
    last = _(" or ") if either else _(" and ")
    pieces: list[Words] = []
    for index, item in enumerate(items):
        if index:
            pieces.append(last if index == len(items) - 1 else _(", "))
        pieces.append(item)
    return joined(pieces)


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def capitalised(sentence: Sentence) -> Sentence:
    """The sentence with a capital first letter; a link at its beginning is a name and stays as it is."""
    if not sentence or isinstance(sentence[0], Link):
        return sentence
    return (Text(capital(sentence[0].text)), *sentence[1:])


# Names.


@dataclass(frozen=True, slots=True)
class Voice:
    """What every sentence may look up: the records, the answers, and the day of the statement."""

    collection: Collection
    answers: Answers
    as_of: dt.date

    def species(self, species_id: str) -> Species:
        """The species of that id."""
        return self.collection.species[species_id]

    def locus(self, claim: Claim) -> Locus:
        """The locus that a claim is about."""
        return self.species(claim.species).genome.locus(claim.locus)

    def allele(self, claim: Claim) -> Allele:
        """The allele that a claim is about.

        Raises:
            KeyError: The claim names no allele.
        """
        return self.locus(claim).allele(claim.allele)

    def posterior(self, animal: AnimalId, locus: str) -> Posterior:
        """What is known of an animal at a locus; empty when nothing is."""
        return self.answers.posteriors.get(animal, {}).get(locus, {})

    def surely_has(self, animal: AnimalId, locus: str, allele: str) -> bool:
        """True when no record leaves open that an animal does not have an allele."""
        possible = self.answers.possible.get(animal, {}).get(locus, ())
        return bool(possible) and all(allele in genotype for genotype in possible)

    def animal(self, animal: AnimalId) -> Run:
        """The animal's name, leading to its page; plain words for one that is not shown."""
        name = animal_name(self.collection, animal)
        return Text(name) if is_off_site(animal) else Link(name, Target.ANIMAL, animal)

    def animals(self, animals: Sequence[AnimalId], *, either: bool = False, most: int = 0) -> Sentence:
        """The names of several animals, each leading to its page: ``a, b and c``; those not shown last, together."""
        shown = [self.animal(animal) for animal in animals if not is_off_site(animal)]
        count = len(animals) - len(shown)
        return listed([*shown, *([not_shown(count)] if count else [])], either=either, most=most)

    def of_kin(self, animals: Sequence[AnimalId]) -> Sentence:
        """The names behind a word for what they are, as in ``her dam Juniper``; in brackets where none is shown."""
        names = self.animals(animals)
        return said("({names})", names=names) if all(map(is_off_site, animals)) else names

    def litter(self, litter: str) -> Link:
        """The litter's name, leading to its page."""
        record = self.collection.litters.get(litter)
        return Link(record.name if record else litter, Target.LITTER, litter)

    def litter_behind(self, reason: Reason) -> Sentence:
        """The litter that a reason rests on, in brackets; empty when none is named."""
        if is_off_site(reason.litter):
            return said(_(" (not shown here)"))
        return said(_(" ({litter})"), litter=self.litter(reason.litter)) if reason.litter else ()

    def gene(self, claim: Claim) -> Link:
        """The name of what the claim is about, leading to the page of its gene."""
        return Link(claimed_name(self.locus(claim), claim), Target.GENE, f"{claim.species}/{claim.locus}")

    def gene_of(self, species: str, locus: str, allele: str) -> Link:
        """The name of an allele, leading to the page of its gene."""
        return Link(self.species(species).genome.locus(locus).allele(allele).name, Target.GENE, f"{species}/{locus}")


def animal_name(collection: Collection, animal: AnimalId) -> str:
    """An animal's name; a young without a name is told by its number and litter, one that is not shown by that."""
    if is_off_site(animal):
        return not_shown(1)
    record = collection.animals[animal]
    if record.name and record.name != record.number:
        return record.name
    litter = collection.litters.get(record.litter)
    if not record.number or litter is None:
        return record.name or animal
    return _("No. {number} of {litter}").format(number=record.number, litter=litter.name)


def not_shown(count: int) -> str:
    """So many animals that are kept off the site."""
    return ngettext("an animal not shown here", "{count} animals not shown here", count).format(count=count)


def claimed_name(locus: Locus, claim: Claim) -> str:
    """The name of what a claim is about: the look that is shown, else the allele, else the locus."""
    if claim.look:
        return locus.look(claim.look).name
    return locus.allele(claim.allele).name if claim.allele else locus.name
