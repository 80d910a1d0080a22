"""Sentences as runs: words, and links to what they are about. Escaping and addresses come later, elsewhere."""

from dataclasses import dataclass
from enum import StrEnum


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
