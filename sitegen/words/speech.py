"""Sentences as runs: words, and links to what they are about. Escaping and addresses come later, elsewhere."""

import datetime as dt
import re
from collections.abc import Callable, Hashable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache, wraps
from gettext import NullTranslations
from typing import ParamSpec, TypeVar

from sitegen.content.collection import Collection
from sitegen.content.species import Species
from sitegen.evidence.answers import Answers
from sitegen.evidence.kinds import Claim
from sitegen.genetics.loci import Allele, Locus
from sitegen.genetics.questions import AnimalId, Posterior


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


def plain(sentence: Sentence) -> str:
    """The words alone."""
    return "".join([run.text for run in sentence])


P = ParamSpec("P")
T = TypeVar("T")

THEME = "theme"
"""The context under which a theme's own words stand in a catalogue, so that they answer for no word of the program."""

_ENGLISH = NullTranslations()
_catalogues = [_ENGLISH]
_PLACE = re.compile(r"\{(\w+)\}")

Words = str | Run | Sentence
"""What may be put into a sentence."""


@contextmanager
def spoken(catalogue: NullTranslations | None) -> Iterator[None]:
    """Within it every sentence is said by the catalogue; without one, in English."""
    _catalogues.append(catalogue or _ENGLISH)
    try:
        yield
    finally:
        _catalogues.pop()


def tongue() -> Hashable:
    """The language that is spoken now, to stand in the key of what is remembered in it."""
    return _catalogues[-1]


def once_a_language(make: Callable[[], T]) -> Callable[[], T]:
    """The same words, put together once for each catalogue. For functions whose words hang on nothing else."""
    known: dict[NullTranslations, T] = {}

    @wraps(make)
    def told() -> T:
        catalogue = _catalogues[-1]
        if catalogue not in known:
            known[catalogue] = make()
        return known[catalogue]

    return told


def told_alike(make: Callable[P, T]) -> Callable[P, T]:
    """What is told of the same things in the same words, put together once for each catalogue; the oldest is forgotten.

    For functions whose words hang on nothing but what they are given, such as on no record.
    """

    @lru_cache(maxsize=4096)
    def known(catalogue: NullTranslations, *args: P.args, **named: P.kwargs) -> T:
        return make(*args, **named)

    @wraps(make)
    def told(*args: P.args, **named: P.kwargs) -> T:
        return known(_catalogues[-1], *args, **named)  # type: ignore[arg-type]  # words hang on what can be hashed

    return told


def _(message: str) -> str:
    """The message in the language of the site."""
    return _catalogues[-1].gettext(message)


def own_word(words: str) -> str:
    """A theme's own words by its own catalogue; as they are where it has none for them."""
    return _catalogues[-1].pgettext(THEME, words)


def ngettext(one: str, several: str, count: int) -> str:
    """The form that fits the count, in the language of the site."""
    return _catalogues[-1].ngettext(one, several, count)


def runs_of(words: Words) -> Sentence:
    """Any words as runs."""
    if isinstance(words, str):
        return (Text(words),) if words else ()
    return words if isinstance(words, tuple) else (words,)


def said(template: str, **places: Words) -> Sentence:
    """The template with its named places filled; neighbouring plain words become one run.

    Raises:
        KeyError: The template has a place that is not given.
    """
    runs: list[Run] = []
    text = ""
    for index, part in enumerate(_parts(template)):
        given = places[part] if index % 2 else part
        if isinstance(given, str):
            text += given
            continue
        for run in given if isinstance(given, tuple) else (given,):
            if isinstance(run, Text):
                text += run.text
                continue
            if text:
                runs.append(Text(text))
            runs.append(run)
            text = ""
    if text:
        runs.append(Text(text))
    return tuple(runs)


@lru_cache(maxsize=4096)
def _parts(template: str) -> tuple[str, ...]:
    """The words of a template, and between them the names of its places."""
    return tuple(_PLACE.split(template))


def joined(runs: Sequence[Run]) -> Sentence:
    """The runs, neighbouring plain words put together."""
    together: list[Run] = []
    for run in runs:
        last = together[-1] if together else None
        if isinstance(run, Text) and isinstance(last, Text):
            together[-1] = Text(last.text + run.text)
        else:
            together.append(run)
    return tuple(together)


def listed(items: Sequence[Words], *, either: bool = False) -> Sentence:
    """``a``, ``a and b``, ``a, b and c``; with ``either``: ``a, b or c``."""
    if len(items) == 1 and not isinstance(items[0], tuple):
        return runs_of(items[0])
    last = _(" or ") if either else _(" and ")
    runs: list[Run] = []
    for index, item in enumerate(items):
        if index:
            runs.append(Text(last if index == len(items) - 1 else _(", ")))
        runs += runs_of(item)
    return joined(runs)


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def capitalised(sentence: Sentence) -> Sentence:
    """The sentence with a capital first letter."""
    if not sentence:
        return sentence
    first = sentence[0]
    return (type(first)(capital(first.text)) if isinstance(first, Text) else first, *sentence[1:])


@dataclass(frozen=True, slots=True)
class Voice:
    """Who speaks: the records, the answers, and the day of the statement."""

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

    def animal(self, animal: AnimalId) -> Link:
        """The animal's name, leading to its page."""
        return Link(animal_name(self.collection, animal), Target.ANIMAL, animal)

    def litter(self, litter: str) -> Link:
        """The litter's name, leading to its page."""
        record = self.collection.litters.get(litter)
        return Link(record.name if record else litter, Target.LITTER, litter)

    def gene(self, claim: Claim) -> Link:
        """The name of what the claim is about, leading to the page of its gene."""
        return Link(claimed_name(self.locus(claim), claim), Target.GENE, f"{claim.species}/{claim.locus}")


def animal_name(collection: Collection, animal: AnimalId) -> str:
    """An animal's name; a young without a name is told by its number and litter."""
    record = collection.animals[animal]
    if record.name and record.name != record.number:
        return record.name
    litter = collection.litters.get(record.litter)
    if not record.number or litter is None:
        return record.name or animal
    return _("No. {number} of {litter}").format(number=record.number, litter=litter.name)


def claimed_name(locus: Locus, claim: Claim) -> str:
    """The name of what a claim is about: the look that is shown, else the allele, else the locus."""
    if claim.look:
        return locus.look(claim.look).name
    return locus.allele(claim.allele).name if claim.allele else locus.name
